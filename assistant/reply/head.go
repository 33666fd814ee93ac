package reply

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// Head is a computed head as `mallow head --json` writes it. Layers and
// shares run from the inside out.
type Head struct {
	Stack         string     `json:"stack"`
	MassG         float64    `json:"mass_g"`
	MassTolG      float64    `json:"mass_tol_g"`
	DiameterMM    float64    `json:"diameter_mm"`
	DiameterTolMM float64    `json:"diameter_tol_mm"`
	Core          Core       `json:"core"`
	Layers        []Layer    `json:"layers"`
	Yarn          *Yarn      `json:"yarn,omitempty"`
	Swing         *Swing     `json:"swing,omitempty"`
	Instrument    string     `json:"instrument"` // whose medium softness and grade count from
	Softness      float64    `json:"softness"`
	SoftnessTol   float64    `json:"softness_tol"`
	WithinTol     float64    `json:"softness_within_tol"` // against a head of the same kind of core and yarn
	Grade         string     `json:"grade"`
	OpensUp       float64    `json:"opens_up_octaves"`
	Serves        []string   `json:"serves"` // lowest and highest note; empty when none
	FadesDB       float64    `json:"octave_above_fades_db"`
	Squeeze       *Squeeze   `json:"squeeze,omitempty"` // of the squeeze test, for a kitchen scale and a caliper
	SqueezeCurve  []Squeeze  `json:"squeeze_curve"`
	Strokes       []Stroke   `json:"strokes"`
	Registers     []Register `json:"registers"`
}

// Squeeze is what it takes to make a head narrower between two flats.
type Squeeze struct {
	NarrowerMM float64 `json:"narrower_mm"`
	ForceN     float64 `json:"force_n"`
	TolN       float64 `json:"tol_n,omitempty"`
}

func newSqueeze(s strike.Squeezed) Squeeze {
	return Squeeze{Round(s.NarrowerM*1e3, 2), Round(s.ForceN, 1), Round(s.TolN, 1)}
}

// Core is the ball of a head.
type Core struct {
	Part       string  `json:"part"`
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
}

// Layer is one fitted slice.
type Layer struct {
	Part      string  `json:"part"`
	Stretch   float64 `json:"stretch"`
	WallMM    float64 `json:"wall_mm"`
	OuterMM   float64 `json:"outer_mm"`
	HandN     float64 `json:"hand_force_n"`
	GripKPa   float64 `json:"grip_kpa"`
	CutMaxMM  float64 `json:"cut_max_mm"`
	CutMM     float64 `json:"cut_mm"`
	Coverage  float64 `json:"coverage"`
	MassG     float64 `json:"mass_g"`
	MassTolG  float64 `json:"mass_tol_g"`
	VerdictIs string  `json:"verdict"`
}

// Yarn is the wrap of a head.
type Yarn struct {
	Part     string  `json:"part"`
	Turns    int     `json:"turns"`
	TensionN float64 `json:"tension_n"`
	LengthM  float64 `json:"length_m"`
	WallMM   float64 `json:"wall_mm"`
	MassG    float64 `json:"mass_g"`
}

// Swing is how the mallet feels in the hand.
type Swing struct {
	Shaft      string  `json:"shaft"`
	MassG      float64 `json:"mass_g"`
	BalanceMM  float64 `json:"balance_mm"`
	InertiaGM2 float64 `json:"inertia_g_m2"`
}

// Register is the strokes on one bar.
type Register struct {
	Name    string   `json:"name"`
	Note    string   `json:"note"`
	Strokes []Stroke `json:"strokes"`
}

// Stroke is one stroke at one dynamic.
type Stroke struct {
	Dynamic    string    `json:"dynamic"`
	SpeedMS    float64   `json:"speed_ms"`
	ContactMS  float64   `json:"contact_ms"`
	PeakN      float64   `json:"peak_n"`
	ImpulseNMS float64   `json:"impulse_n_ms"`
	CutoffHz   float64   `json:"cutoff_hz"`
	Share      []float64 `json:"share"` // core, each layer, yarn; sums to 1
	PartialsDB []float64 `json:"partials_db"`
	Beyond     bool      `json:"beyond_model"` // a layer law was used past its range
}

// NewHead gathers what is shown of a head.
func NewHead(h head.Head, r strike.Report) Head {
	v := Head{
		Stack: Text(h),
		MassG: Round(h.Mass.Grams(), 2), MassTolG: Round(h.MassTol.Grams(), 2),
		DiameterMM: Round(h.Diameter.MM(), 2), DiameterTolMM: Round(h.DiameterTol.MM(), 2),
		Core:   Core{h.Stack.Core.ID, Round(h.CoreMass.Grams(), 2), Round(h.Stack.Core.Diameter.MM(), 2)},
		Layers: []Layer{}, Serves: []string{},
		Instrument: r.Instrument,
		Softness:   Round(r.Softness, 2), SoftnessTol: Round(r.SoftnessTol, 2), WithinTol: Round(r.WithinTol, 2),
		Grade: r.Grade, OpensUp: Round(r.OpensUp, 3), FadesDB: Round(r.FadesDB, 1), SqueezeCurve: []Squeeze{},
		Strokes: strokes(r.Reference), Registers: []Register{},
	}
	for _, l := range h.Layers {
		v.Layers = append(v.Layers, Layer{
			Part: l.Slice.Tube.ID, Stretch: Round(l.Stretch, 3),
			WallMM: Round(l.Wall.MM(), 3), OuterMM: Round(l.Outer.MM(), 2),
			HandN: Round(l.HandN, 1), GripKPa: Round(l.GripPa/1e3, 1),
			CutMaxMM: Round(l.CutMax.MM(), 2), CutMM: Round(l.Cut.MM(), 2), Coverage: Round(l.Coverage, 3),
			MassG: Round(l.Mass.Grams(), 2), MassTolG: Round(l.MassTol.Grams(), 2),
			VerdictIs: string(l.Verdict),
		})
	}
	if w := h.Stack.Wrap; w != nil {
		v.Yarn = &Yarn{w.Yarn.ID, h.Turns, Round(h.TensionN, 2), Round(float64(h.YarnLength), 2), Round(h.YarnWall.MM(), 2), Round(h.YarnMass.Grams(), 2)}
	}
	if s := h.Stack.Shaft; s != nil {
		v.Swing = &Swing{s.ID, Round(h.Swing.Mass.Grams(), 1), Round(h.Swing.Balance.MM(), 1), Round(h.Swing.InertiaKgM2*1e3, 3)}
	}
	if r.High > 0 {
		v.Serves = []string{r.Low.String(), r.High.String()}
	}
	if r.Squeeze.ForceN > 0 {
		s := newSqueeze(r.Squeeze)
		v.Squeeze = &s
	}
	for _, s := range r.SqueezeCurve {
		v.SqueezeCurve = append(v.SqueezeCurve, newSqueeze(s))
	}
	for _, reg := range r.Registers {
		v.Registers = append(v.Registers, Register{reg.Name, reg.Note.String(), strokes(reg.Strokes)})
	}
	return v
}

func strokes(in []strike.Stroke) []Stroke {
	out := []Stroke{}
	for _, s := range in {
		v := Stroke{
			Dynamic: s.Dynamic, SpeedMS: s.SpeedMS,
			ContactMS: Round(s.ContactS*1e3, 3), PeakN: Round(s.PeakN, 1), ImpulseNMS: Round(s.ImpulseNS*1e3, 2),
			CutoffHz: Round(s.CutoffHz, 1), Beyond: s.Beyond,
		}
		for _, x := range s.Share {
			v.Share = append(v.Share, Round(x, 4))
		}
		for _, x := range s.PartialsDB {
			v.PartialsDB = append(v.PartialsDB, Round(x, 1))
		}
		out = append(out, v)
	}
	return out
}

// Round keeps places decimals; digits past what a figure can be trusted for
// only mislead.
func Round(x float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(x*p)/p + 0 // no -0
}

// Trouble says what keeps a head from being built, or from holding, as it is.
func (v Head) Trouble() []string {
	var list []string
	for _, l := range v.Layers {
		if x := head.Verdict(l.VerdictIs); x == head.Slack || x == head.Over {
			list = append(list, l.warning())
		}
	}
	return list
}

// Page is the head for people.
func (v Head) Page() page.Page {
	p := page.Page{page.Heading{Level: 1, Text: v.Stack}}
	for _, t := range v.Trouble() {
		p = append(p, page.Para("Don't build this as it is. "+t))
	}
	p = append(p,
		page.Para(fmt.Sprintf("%s: %s. %.1f ± %.1f g, %s over everything.",
			Capital(v.Grade), softness(v.Softness, v.SoftnessTol), v.MassG, v.MassTolG, both(v.DiameterMM))),
		v.layerTable(), v.strokeTable())
	for _, l := range v.Layers {
		if say := l.warning(); say != "" && !slices.Contains(v.Trouble(), say) {
			p = append(p, page.Para(say))
		}
	}
	if len(v.Serves) == 2 {
		say := fmt.Sprintf("It serves %s to %s. Loud strokes are brighter than soft ones: from p to ff it opens up by %.2f octaves.", v.Serves[0], v.Serves[1], v.OpensUp)
		if v.FadesDB > 0 {
			say += fmt.Sprintf(" Above %s notes still sound but lose weight, an octave up by %.0f dB more.", v.Serves[1], v.FadesDB)
		}
		p = append(p, page.Para(say))
	}
	if s := v.Squeeze; s != nil {
		p = append(p, page.Para(fmt.Sprintf("To check it: laid on its side on a kitchen scale under a flat block, it is %g mm narrower at %.1f ± %.1f kg. `mallow built … --squeeze '%g mm at … kg'` learns from what you read.",
			s.NarrowerMM, s.ForceN/measure.Gravity, s.TolN/measure.Gravity, s.NarrowerMM)))
	}
	if s := v.Swing; s != nil {
		p = append(p, page.Para(fmt.Sprintf("On %s the mallet comes to %.0f g, balances %s from the butt, and resists turning about the hand with %.2f g·m².",
			s.Shaft, s.MassG, both(s.BalanceMM), s.InertiaGM2)))
	}
	return append(p, page.Para("Order and difference between heads can be trusted. Absolute figures are estimates until you have weighed and measured a built head; `mallow built` then corrects them."))
}

// softness says a number of notches in words.
func softness(notches, tol float64) string {
	side := "softer"
	if notches < 0 {
		side = "harder"
	}
	if math.Abs(notches) < 0.05 {
		return fmt.Sprintf("on the medium mark (± %.1f notches)", tol)
	}
	return fmt.Sprintf("%.1f notches %s than the medium mark (± %.1f)", math.Abs(notches), side, tol)
}

func both(mm float64) string { return (measure.Length(mm) * measure.Millimetre).String() }

// cut says a slice's length as the rule on the bench shows it.
func cut(mm float64) string {
	l := measure.Length(mm) * measure.Millimetre
	if text, exact := l.Fraction(); exact && !l.IsMetric() {
		return text + " in"
	}
	return l.Mm()
}

// Capital makes the first letter of a sentence one.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (v Head) layerTable() page.Table {
	t := page.Table{
		Title: "From the inside out",
		Head:  []string{"part", "cut", "stretch", "wall mm", "over it mm", "mass g", "pull N", "fit"},
		Right: []bool{false, true, true, true, true, true, true, false},
		Rows:  [][]string{{v.Core.Part, "", "", "", fmt.Sprintf("%.1f", v.Core.DiameterMM), fmt.Sprintf("%.1f", v.Core.MassG), "", ""}},
	}
	for _, l := range v.Layers {
		t.Rows = append(t.Rows, []string{
			l.Part, cut(l.CutMM), fmt.Sprintf("%.2f", l.Stretch), fmt.Sprintf("%.2f", l.WallMM),
			fmt.Sprintf("%.1f", l.OuterMM), fmt.Sprintf("%.1f", l.MassG), fmt.Sprintf("%.0f", l.HandN), l.VerdictIs,
		})
	}
	if y := v.Yarn; y != nil {
		t.Rows = append(t.Rows, []string{
			y.Part, fmt.Sprintf("%d turns, %.1f m", y.Turns, y.LengthM), "", fmt.Sprintf("%.2f", y.WallMM),
			fmt.Sprintf("%.1f", v.DiameterMM), fmt.Sprintf("%.1f", y.MassG), "", "",
		})
	}
	return t
}

func (v Head) strokeTable() page.Table {
	t := page.Table{
		Title: "Strokes on the reference bar: what is heard reaches up to the cut-off, what is squeezed (core / rubber / yarn), and how loud the overtones are against the note (partials)",
		Head:  []string{"dynamic", "m/s", "contact ms", "peak N", "cut-off Hz", "squeezed %", "partials dB"},
		Right: []bool{false, true, true, true, true, true, true},
	}
	for _, s := range v.Strokes {
		core, rubber, yarn := v.shares(s)
		mark := ""
		if s.Beyond {
			mark = " *"
		}
		t.Rows = append(t.Rows, []string{
			s.Dynamic, fmt.Sprintf("%.1f", s.SpeedMS), fmt.Sprintf("%.2f", s.ContactMS), fmt.Sprintf("%.0f", s.PeakN),
			fmt.Sprintf("%.0f%s", s.CutoffHz, mark),
			fmt.Sprintf("%.0f / %.0f / %.0f", 100*core, 100*rubber, 100*yarn), decibels(s.PartialsDB),
		})
	}
	for _, s := range v.Strokes {
		if s.Beyond {
			t.Title += "; * squeezes a layer further than its law was checked: less sure"
			break
		}
	}
	return t
}

// shares adds up a stroke's shares of the squeeze by kind of layer.
func (v Head) shares(s Stroke) (core, rubber, yarn float64) {
	for i, x := range s.Share {
		switch {
		case i == 0:
			core = x
		case i <= len(v.Layers):
			rubber += x
		default:
			yarn += x
		}
	}
	return core, rubber, yarn
}

func decibels(db []float64) string {
	var out []string
	for i, x := range db {
		if i > 0 {
			out = append(out, fmt.Sprintf("%.0f", x))
		}
	}
	return strings.Join(out, ", ")
}

// warning says what is wrong with a fit, or nothing.
func (l Layer) warning() string {
	switch head.Verdict(l.VerdictIs) {
	case head.Slack:
		return fmt.Sprintf("%s is slack: at a stretch of %.2f it does not grip, and would slap against what lies under it. A smaller bore would hold.", l.Part, l.Stretch)
	case head.Loose:
		return fmt.Sprintf("%s is loose: a stretch of %.2f grips with only %.0f kPa. It needs glue, or a smaller bore.", l.Part, l.Stretch, l.GripKPa)
	case head.Hard:
		return fmt.Sprintf("%s is hard to pull on: opening it takes about %.0f N. Soapy water, a shorter cut and a second pair of hands help.", l.Part, l.HandN)
	case head.Over:
		return fmt.Sprintf("%s can't go on: a stretch of %.2f, or the %.0f N it takes, is past the rubber or past hands. A larger bore would fit.", l.Part, l.Stretch, l.HandN)
	}
	return ""
}
