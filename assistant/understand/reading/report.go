package reading

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Report is a reading as it is printed: every list is there, units are in the
// names, and what is small beside the sense of the text is left out.
type Report struct {
	Acts      []Act        `json:"acts"`
	Takes     []TakeReport `json:"takes"`
	Moves     []MoveReport `json:"moves"`
	Parts     []PartReport `json:"parts"`
	Keeps     []string     `json:"keeps"`
	Withdraws []string     `json:"withdraws"`
	About     []string     `json:"about"`
	Asks      []AskReport  `json:"asks"`
	Missed    []string     `json:"missed"`
	Grades    int          `json:"grades,omitempty"` // of a graded set that is asked for
}

// TakeReport is a fact that would be taken; Value is in the fact's own unit.
type TakeReport struct {
	Path  string `json:"path"`
	Value any    `json:"value"`
	Not   bool   `json:"not"`
	Bound string `json:"bound"` // most, least, about or empty
}

// MoveReport is a relative wish; a positive By is softer, heavier, larger,
// brighter or more blended.
type MoveReport struct {
	Path string  `json:"path"`
	By   float64 `json:"by"`
	Unit string  `json:"unit"`
}

// PartReport is a part that was named; what was not said is zero.
type PartReport struct {
	Kind       string   `json:"kind"`
	Holding    Holding  `json:"holding"`
	IDs        []string `json:"ids"`
	Material   string   `json:"material"`
	DiameterMM float64  `json:"diameter_mm"`
	BoreMM     float64  `json:"bore_mm"`
	WallMM     float64  `json:"wall_mm"`
	LengthMM   float64  `json:"length_mm"`
	Durometer  string   `json:"durometer"` // with the letter of its Shore scale, where that was said
	Amount     float64  `json:"amount"`
	Unit       string   `json:"unit"`
}

// AskReport is a fact that would be asked before anything depends on it.
type AskReport struct {
	Path string `json:"path"`
}

// Report returns the reading as it is printed.
func (r Reading) Report() Report {
	mm := func(l measure.Length) float64 { return math.Round(1000*l.MM()) / 1000 }
	out := Report{
		Acts: slices.Clone(r.Acts), Keeps: slices.Clone(r.Keeps), Withdraws: slices.Clone(r.Withdraws), Missed: slices.Clone(r.Missed), Grades: r.Grades,
		Takes: []TakeReport{}, Moves: []MoveReport{}, Parts: []PartReport{}, About: []string{}, Asks: []AskReport{},
	}
	for _, list := range []*[]string{&out.Keeps, &out.Withdraws, &out.Missed} {
		if *list == nil {
			*list = []string{}
		}
	}
	if out.Acts == nil {
		out.Acts = []Act{}
	}
	if len(r.Withdraws) > 0 && len(r.Takes)+len(r.Parts)+len(r.Moves) == 0 { // a change to nothing takes back
		for i, a := range out.Acts {
			if a == Change {
				out.Acts[i] = Undo
			}
		}
	}
	for _, t := range r.Takes {
		out.Takes = append(out.Takes, TakeReport{t.Path, t.Value, t.Not, t.Bound})
	}
	two := slices.ContainsFunc(r.Takes, func(t Take) bool { return t.Path == facts.PlayerGrip && t.Value == "two" && !t.Not })
	if two && !slices.ContainsFunc(r.Takes, func(t Take) bool { return t.Path == facts.PlayerMallets }) {
		out.Takes = append(out.Takes, TakeReport{Path: facts.PlayerMallets, Value: 2.0})
	}
	for _, m := range r.Moves {
		out.Moves = append(out.Moves, MoveReport{m.Path, m.By, m.Unit})
	}
	for _, p := range slices.Concat(r.Parts, r.Supposed.Parts) {
		ids := slices.Clone(p.IDs)
		if ids == nil {
			ids = []string{}
		}
		if p.Kind == "tube" && p.Unit == "m" && p.Length == 0 {
			p.Length = measure.Length(p.Amount)
		}
		out.Parts = append(out.Parts, PartReport{p.Kind, p.Holding, ids, cmp.Or(p.Made, p.Material), mm(max(p.Diameter, p.Outer)), mm(p.Bore), mm(p.Wall), mm(p.Length), p.hardness(), p.Amount, p.Unit})
	}
	for _, t := range r.About {
		name := t.ID
		switch t.Kind {
		case "text":
			name = t.Text
		case "fact", "term":
		default:
			name = t.Kind
			if t.ID != "" {
				name += " " + t.ID
			}
		}
		out.About = append(out.About, name)
	}
	for _, d := range r.Asks {
		out.Asks = append(out.Asks, AskReport{d.Path})
	}
	return out
}
