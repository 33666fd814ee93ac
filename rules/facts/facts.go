// Package facts holds the one set of facts that rules see. The field docs in
// the tags are the rule writers' reference: `mallow rules facts` prints them.
//
// Every quantity is a float64 in the unit its tag names, every choice a
// string out of the words its tag lists; there are no methods, so that expr
// can use a value of the struct directly. A quantity's range is what any head
// or player could come to, drawn wide: a rule is proved to fire or not over
// that range.
package facts

// Facts is all that a rule may read.
type Facts struct {
	Player     Player     `expr:"player"`
	Want       Want       `expr:"want"`
	Instrument Instrument `expr:"instrument"`
	Bench      Bench      `expr:"bench"`
	Head       Head       `expr:"head"`
	Layer      Layer      `expr:"layer"`
}

// Player is who will make and hold the mallets.
type Player struct {
	Grip      string  `expr:"grip" oneof:"two|cross|independent" doc:"how the mallets are held"`
	Mallets   float64 `expr:"mallets" range:"0..6" doc:"mallets held at once"`
	Level     string  `expr:"level" oneof:"first|some|many" doc:"sets of mallets made before: none, some, many"`
	Minor     bool    `expr:"minor" doc:"the maker is a minor, or may be one: nobody said otherwise"`
	OfAge     bool    `expr:"of_age" doc:"it was said that everybody who makes them is of age"`
	LatexOK   bool    `expr:"latex_ok" doc:"nobody who makes or holds the mallets has to avoid natural rubber latex"`
	RubberOK  bool    `expr:"rubber_ok" doc:"nobody who makes or holds the mallets reacts to rubber of any kind: to what cures and protects it, as in gloves"`
	SolventOK bool    `expr:"solvent_ok" doc:"solvent-based glue is allowed, with ventilation"`
	Small     bool    `expr:"small_hands" doc:"small or light hands will play: those of a child up to about twelve, or of somebody who says so"`
	HandN     float64 `expr:"hand_n" range:"20..250" unit:"N" doc:"opening force the maker's hands manage"`
	TensionN  float64 `expr:"tension_n" range:"0.1..100" unit:"N" doc:"pull of the maker's hand on the yarn as it is wound, the ordinary where nobody said"`
	EasyG     float64 `expr:"easy_g" range:"10..100" unit:"g" doc:"head mass that stays comfortable in this grip"`
	MostG     float64 `expr:"most_g" range:"15..150" unit:"g" doc:"head mass past which this grip tires at once"`
	MostMM    float64 `expr:"most_mm" range:"20..80" unit:"mm" doc:"head diameter past which heads meet in this grip"`
}

// Want is the sound and the head asked for.
type Want struct {
	Softness    float64 `expr:"softness" range:"-40..30" unit:"notches" doc:"softness asked for; higher is softer, 0 is medium"`
	MassG       float64 `expr:"mass_g" range:"0..150" unit:"g" doc:"head mass asked for"`
	DiameterMM  float64 `expr:"diameter_mm" range:"0..80" unit:"mm" doc:"head diameter asked for"`
	LeastG      float64 `expr:"least_g" range:"0..150" unit:"g" doc:"least head mass asked for, 0 for none"`
	LeastMM     float64 `expr:"least_mm" range:"0..80" unit:"mm" doc:"least head diameter asked for, 0 for none"`
	Colour      string  `expr:"colour" oneof:"dark|even|bright" doc:"colour asked for at a loud stroke"`
	Utmost      bool    `expr:"utmost" doc:"the colour was asked for as far as it goes: as bright as can be, the most brilliant there is"`
	Attack      string  `expr:"attack" oneof:"clear|even|blended" doc:"articulation asked for"`
	Opening     string  `expr:"opening" oneof:"steady|even|opens" doc:"whether the head should brighten from soft to loud"`
	Register    string  `expr:"register" oneof:"low|middle|high|whole" doc:"where on the instrument it will mostly be played"`
	Loudest     string  `expr:"loudest" oneof:"p|mf|f|ff" doc:"loudest dynamic it must serve"`
	Ball        string  `expr:"ball" oneof:"any|plastic|rubber|wood|metal" doc:"family of the ball that was asked for by name"`
	Sliced      bool    `expr:"sliced" doc:"tubing was asked for by name"`
	Wound       bool    `expr:"wound" doc:"yarn was asked for by name"`
	FewTurns    bool    `expr:"few_turns" doc:"few turns of yarn were asked for, or little winding"`
	BudgetCents float64 `expr:"budget" range:"0..100000" unit:"cents" doc:"most to spend on the parts of one pair, 0 for no limit"`
}

// Instrument is what will be played.
type Instrument struct {
	Kind   string  `expr:"kind" oneof:"marimba|vibraphone|xylophone|bells" doc:"instrument"`
	Bars   string  `expr:"bars" oneof:"wood|synthetic|metal" doc:"what the bars are made of"`
	LowHz  float64 `expr:"low_hz" range:"20..5000" unit:"Hz" doc:"lowest note the head must serve"`
	HighHz float64 `expr:"high_hz" range:"20..8000" unit:"Hz" doc:"highest note the head must serve"`
	// MediumDB is what tells dark from bright: the second partial's level
	// falls steeply from low bars to high ones, whatever the head.
	MediumDB float64 `expr:"medium_db" range:"-120..-0.1" unit:"dB" doc:"head.bright_db of a medium head on the same bar"`
}

// Bench is what the maker has to work with.
type Bench struct {
	Drill      bool   `expr:"drill" doc:"a drill press, or a drill with a jig that holds a ball"`
	Scale      bool   `expr:"scale" doc:"a scale that reads 0.1 g"`
	Caliper    bool   `expr:"caliper" doc:"a caliper"`
	Ventilated bool   `expr:"ventilated" doc:"a place to work with moving outside air"`
	Units      string `expr:"units" oneof:"inch|metric" doc:"the sizes that balls and tubing are bought in"`
	Supervised bool   `expr:"supervised" doc:"a responsible adult works alongside"`
}

// Head is the head under consideration.
type Head struct {
	Core         string  `expr:"core" oneof:"plastic|wood|rubber|metal" doc:"family of the core's material"`
	Material     string  `expr:"material" doc:"material of the core, by its id in the catalogue"`
	CoreMM       float64 `expr:"core_mm" range:"0..60" unit:"mm" doc:"core diameter"`
	CoreA        float64 `expr:"core_a" range:"0..100" unit:"Shore A" doc:"hardness of a rubber core, 0 for others"`
	Drilled      bool    `expr:"drilled" doc:"the core comes with a bore for the shaft"`
	BoreMM       float64 `expr:"bore_mm" range:"0..20" unit:"mm" doc:"bore of the core, 0 when it is not drilled"`
	Layers       float64 `expr:"layers" range:"0..6" doc:"rubber layers"`
	Tubings      float64 `expr:"tubings" range:"0..6" doc:"sizes and kinds of tubing that the layers are cut from"`
	RubberMM     float64 `expr:"rubber_mm" range:"0..40" unit:"mm" doc:"nominal wall of all rubber layers together, unstretched"`
	Latex        bool    `expr:"latex" doc:"any part contains natural rubber latex"`
	Chemicals    bool    `expr:"chemicals" doc:"any part may hold what cures and protects rubber, which some react to without any latex"`
	Keyed        bool    `expr:"keyed" doc:"no glue holds the shaft in this core, so that its end has to by its shape"`
	End          string  `expr:"end" doc:"how the end of the shaft is made, by its id in the catalogue: roughened for glue, barbed, pinned; empty without a shaft, or where nothing holds"`
	Fibre        string  `expr:"fibre" doc:"fibre of the yarn, by its id in the catalogue; empty without yarn"`
	YarnMM       float64 `expr:"yarn_mm" range:"0..15" unit:"mm" doc:"thickness of the wound yarn"`
	Turns        float64 `expr:"turns" range:"0..600" doc:"turns of yarn"`
	TensionN     float64 `expr:"tension_n" range:"0..100" unit:"N" doc:"pull on the yarn that the head is worked out for, 0 without yarn"`
	MassG        float64 `expr:"mass_g" range:"0..200" unit:"g" doc:"mass without the shaft"`
	MassTolG     float64 `expr:"mass_tol_g" range:"0..30" unit:"g" doc:"half-width of the expected spread of the mass"`
	DiameterMM   float64 `expr:"diameter_mm" range:"0..100" unit:"mm" doc:"diameter over the yarn"`
	CostCents    float64 `expr:"cost" range:"0..20000" unit:"cents" doc:"cost of the parts of one head, packs shared out"`
	PackCents    float64 `expr:"packs" range:"0..50000" unit:"cents" doc:"price of a pack of each part of the head that is not on hand"`
	HandN        float64 `expr:"hand_n" range:"0..1000" unit:"N" doc:"hardest layer's opening force"`
	LeastGrip    float64 `expr:"least_grip" range:"0..2000" unit:"kPa" doc:"least grip pressure of any layer, 0 without layers"`
	Softness     float64 `expr:"softness" range:"-60..40" unit:"notches" doc:"softness; higher is softer, 0 is medium"`
	SoftnessTol  float64 `expr:"softness_tol" range:"0..10" unit:"notches" doc:"half-width of the expected spread of the softness"`
	MoreSoftness float64 `expr:"more_softness" range:"-5..20" unit:"notches" doc:"what another slice like the outermost would add to the softness, 0 without slices"`
	LessSoftness float64 `expr:"less_softness" range:"-5..40" unit:"notches" doc:"what leaving the outermost slice out would take off the softness, 0 without slices"`
	CutoffPHz    float64 `expr:"cutoff_p" range:"10..50000" unit:"Hz" doc:"cut-off of the force spectrum at p"`
	CutoffMFHz   float64 `expr:"cutoff_mf" range:"0..50000" unit:"Hz" doc:"cut-off at mf"`
	CutoffFHz    float64 `expr:"cutoff_f" range:"10..50000" unit:"Hz" doc:"cut-off at f"`
	CutoffFFHz   float64 `expr:"cutoff_ff" range:"10..50000" unit:"Hz" doc:"cut-off at ff"`
	OpensUp      float64 `expr:"opens_up" range:"-1..6" unit:"octaves" doc:"move of the cut-off from p to ff"`
	ContactMS    float64 `expr:"contact_ms" range:"0.01..50" unit:"ms" doc:"contact time at mf"`
	PeakN        float64 `expr:"peak_n" range:"0..20000" unit:"N" doc:"peak force at f"`
	YarnShareP   float64 `expr:"yarn_share_p" range:"0..1" doc:"share of the squeeze taken by the yarn at p, 0 to 1"`
	YarnShareF   float64 `expr:"yarn_share_ff" range:"0..1" doc:"share of the squeeze taken by the yarn at ff, 0 to 1"`
	CoreShareP   float64 `expr:"core_share_p" range:"0..1" doc:"share of the squeeze taken by the core at p, 0 to 1"`
	CoreShareF   float64 `expr:"core_share_ff" range:"0..1" doc:"share of the squeeze taken by the core at ff, 0 to 1"`
	LowHz        float64 `expr:"low_hz" range:"5..10000" unit:"Hz" doc:"lowest note the head serves"`
	HighHz       float64 `expr:"high_hz" range:"5..20000" unit:"Hz" doc:"highest note the head serves"`
	BrightDB     float64 `expr:"bright_db" range:"-120..60" unit:"dB" doc:"second partial against the fundamental at f, in the asked register"`
	SqueezeMM    float64 `expr:"squeeze_mm" range:"0..10" unit:"mm" doc:"how much narrower the squeeze test presses the head between scale and block, 0 for a head too hard for it"`
	SqueezeN     float64 `expr:"squeeze_n" range:"0..200" unit:"N" doc:"push that this takes, 0 for a head too hard for it"`
	SqueezeTolN  float64 `expr:"squeeze_tol_n" range:"0..200" unit:"N" doc:"half-width of the expected spread of that push"`
	Solvent      bool    `expr:"solvent" doc:"the build uses a solvent-based glue"`
	Glued        bool    `expr:"glued" doc:"a slice is glued down"`
	Shaft        string  `expr:"shaft" doc:"material of the shaft, by its id in the catalogue; empty without one"`
	ShaftMM      float64 `expr:"shaft_mm" range:"0..15" unit:"mm" doc:"diameter of the shaft, 0 without one"`
	ShaftLong    float64 `expr:"shaft_long_mm" range:"0..600" unit:"mm" doc:"length of the shaft, 0 without one"`
	InertiaGM2   float64 `expr:"inertia" range:"0..20" unit:"g m2" doc:"moment of inertia about the hand, with the shaft; 0 without one"`
}

// Layer is the rubber layer under consideration.
type Layer struct {
	Index     float64 `expr:"index" range:"0..6" doc:"1 for the layer on the core"`
	On        string  `expr:"on" oneof:"plastic|wood|rubber|metal" doc:"what it lies on: the core's family, or rubber"`
	Latex     bool    `expr:"latex" doc:"natural rubber latex"`
	Chemicals bool    `expr:"chemicals" doc:"may hold what cures and protects rubber"`
	Rubber    string  `expr:"rubber" doc:"material of the tubing, by its id in the catalogue"`
	BoreMM    float64 `expr:"bore_mm" range:"1..60" unit:"mm" doc:"unstretched bore"`
	WallMM    float64 `expr:"wall_mm" range:"0.1..15" unit:"mm" doc:"unstretched wall"`
	FitWallMM float64 `expr:"fit_wall_mm" range:"0.05..15" unit:"mm" doc:"stretched wall"`
	UnderMM   float64 `expr:"under_mm" range:"5..80" unit:"mm" doc:"diameter it is slipped over"`
	OuterMM   float64 `expr:"outer_mm" range:"5..100" unit:"mm" doc:"diameter over it"`
	Stretch   float64 `expr:"stretch" range:"0.2..20" doc:"stretch at the bore, 1 is none"`
	Usable    float64 `expr:"usable" range:"1.1..10" doc:"largest stretch that leaves the rubber a margin"`
	HandN     float64 `expr:"hand_n" range:"0..1000" unit:"N" doc:"force to open it over what lies below"`
	GripKPa   float64 `expr:"grip_kpa" range:"0..2000" unit:"kPa" doc:"pressure on what lies below"`
	CutMM     float64 `expr:"cut_mm" range:"0..100" unit:"mm" doc:"slice length to cut"`
	CutMaxMM  float64 `expr:"cut_max_mm" range:"0..100" unit:"mm" doc:"longest slice that grips over its whole length"`
	SpanMM    float64 `expr:"span_mm" range:"0..120" unit:"mm" doc:"from end to end of the fitted slice, shorter than the cut because it is stretched round"`
	Coverage  float64 `expr:"coverage" range:"0..1" doc:"share of the strike zone covered, 0 to 1"`
	MassG     float64 `expr:"mass_g" range:"0..100" unit:"g" doc:"mass of the slice"`
	Verdict   string  `expr:"verdict" oneof:"slack|loose|good|hard|over" doc:"fit in one word"`
}
