// Written by go test ./rules/facts -update from the struct Facts.

package facts

// Paths of Player.
const (
	PlayerGrip      Path = "player.grip"
	PlayerMallets   Path = "player.mallets"
	PlayerLevel     Path = "player.level"
	PlayerMinor     Path = "player.minor"
	PlayerOfAge     Path = "player.of_age"
	PlayerLatexOK   Path = "player.latex_ok"
	PlayerRubberOK  Path = "player.rubber_ok"
	PlayerSolventOK Path = "player.solvent_ok"
	PlayerSmall     Path = "player.small_hands"
	PlayerHandN     Path = "player.hand_n"
	PlayerTensionN  Path = "player.tension_n"
	PlayerEasyG     Path = "player.easy_g"
	PlayerMostG     Path = "player.most_g"
	PlayerMostMM    Path = "player.most_mm"
)

// Paths of Want.
const (
	WantSoftness    Path = "want.softness"
	WantMassG       Path = "want.mass_g"
	WantDiameterMM  Path = "want.diameter_mm"
	WantLeastG      Path = "want.least_g"
	WantLeastMM     Path = "want.least_mm"
	WantColour      Path = "want.colour"
	WantUtmost      Path = "want.utmost"
	WantAttack      Path = "want.attack"
	WantOpening     Path = "want.opening"
	WantRegister    Path = "want.register"
	WantLoudest     Path = "want.loudest"
	WantBall        Path = "want.ball"
	WantSliced      Path = "want.sliced"
	WantWound       Path = "want.wound"
	WantFewTurns    Path = "want.few_turns"
	WantBudgetCents Path = "want.budget"
)

// Paths of Instrument.
const (
	InstrumentKind     Path = "instrument.kind"
	InstrumentBars     Path = "instrument.bars"
	InstrumentLowHz    Path = "instrument.low_hz"
	InstrumentHighHz   Path = "instrument.high_hz"
	InstrumentMediumDB Path = "instrument.medium_db"
)

// Paths of Bench.
const (
	BenchDrill      Path = "bench.drill"
	BenchScale      Path = "bench.scale"
	BenchCaliper    Path = "bench.caliper"
	BenchVentilated Path = "bench.ventilated"
	BenchUnits      Path = "bench.units"
	BenchSupervised Path = "bench.supervised"
)

// Paths of Head.
const (
	HeadCore         Path = "head.core"
	HeadMaterial     Path = "head.material"
	HeadCoreMM       Path = "head.core_mm"
	HeadCoreA        Path = "head.core_a"
	HeadDrilled      Path = "head.drilled"
	HeadBoreMM       Path = "head.bore_mm"
	HeadLayers       Path = "head.layers"
	HeadTubings      Path = "head.tubings"
	HeadRubberMM     Path = "head.rubber_mm"
	HeadLatex        Path = "head.latex"
	HeadChemicals    Path = "head.chemicals"
	HeadKeyed        Path = "head.keyed"
	HeadEnd          Path = "head.end"
	HeadFibre        Path = "head.fibre"
	HeadYarnMM       Path = "head.yarn_mm"
	HeadTurns        Path = "head.turns"
	HeadTensionN     Path = "head.tension_n"
	HeadMassG        Path = "head.mass_g"
	HeadMassTolG     Path = "head.mass_tol_g"
	HeadDiameterMM   Path = "head.diameter_mm"
	HeadCostCents    Path = "head.cost"
	HeadPackCents    Path = "head.packs"
	HeadHandN        Path = "head.hand_n"
	HeadLeastGrip    Path = "head.least_grip"
	HeadSoftness     Path = "head.softness"
	HeadSoftnessTol  Path = "head.softness_tol"
	HeadMoreSoftness Path = "head.more_softness"
	HeadLessSoftness Path = "head.less_softness"
	HeadCutoffPHz    Path = "head.cutoff_p"
	HeadCutoffMFHz   Path = "head.cutoff_mf"
	HeadCutoffFHz    Path = "head.cutoff_f"
	HeadCutoffFFHz   Path = "head.cutoff_ff"
	HeadOpensUp      Path = "head.opens_up"
	HeadContactMS    Path = "head.contact_ms"
	HeadPeakN        Path = "head.peak_n"
	HeadYarnShareP   Path = "head.yarn_share_p"
	HeadYarnShareF   Path = "head.yarn_share_ff"
	HeadCoreShareP   Path = "head.core_share_p"
	HeadCoreShareF   Path = "head.core_share_ff"
	HeadLowHz        Path = "head.low_hz"
	HeadHighHz       Path = "head.high_hz"
	HeadBrightDB     Path = "head.bright_db"
	HeadSqueezeMM    Path = "head.squeeze_mm"
	HeadSqueezeN     Path = "head.squeeze_n"
	HeadSqueezeTolN  Path = "head.squeeze_tol_n"
	HeadSolvent      Path = "head.solvent"
	HeadGlued        Path = "head.glued"
	HeadShaft        Path = "head.shaft"
	HeadShaftMM      Path = "head.shaft_mm"
	HeadShaftLong    Path = "head.shaft_long_mm"
	HeadInertiaGM2   Path = "head.inertia"
)

// Paths of Layer.
const (
	LayerIndex     Path = "layer.index"
	LayerOn        Path = "layer.on"
	LayerLatex     Path = "layer.latex"
	LayerChemicals Path = "layer.chemicals"
	LayerRubber    Path = "layer.rubber"
	LayerBoreMM    Path = "layer.bore_mm"
	LayerWallMM    Path = "layer.wall_mm"
	LayerFitWallMM Path = "layer.fit_wall_mm"
	LayerUnderMM   Path = "layer.under_mm"
	LayerOuterMM   Path = "layer.outer_mm"
	LayerStretch   Path = "layer.stretch"
	LayerUsable    Path = "layer.usable"
	LayerHandN     Path = "layer.hand_n"
	LayerGripKPa   Path = "layer.grip_kpa"
	LayerCutMM     Path = "layer.cut_mm"
	LayerCutMaxMM  Path = "layer.cut_max_mm"
	LayerSpanMM    Path = "layer.span_mm"
	LayerCoverage  Path = "layer.coverage"
	LayerMassG     Path = "layer.mass_g"
	LayerVerdict   Path = "layer.verdict"
)
