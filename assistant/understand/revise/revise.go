// Package revise finds what a figure that corrects something was said of before,
// and puts it in its place: 25, not 28, of the acetal balls of 28 mm. It reads no
// text itself, and changes nothing but the one thing that is corrected.
package revise

import (
	"math"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Figure is a figure that corrects, and what is said of it.
type Figure struct {
	New  quantity.Quantity
	Old  *quantity.Quantity // what it replaces, where that was said
	Kind string             // of the part it is said of, or ""
	Role string             // wall, bore, outer, across or long, or ""
}

// Revised is what a correction makes of what was said before: an answer, or a part.
type Revised struct {
	Take *reading.Take
	Part *reading.Part
}

// slot is a place that a figure was said for.
type slot struct {
	dim   quantity.Dim
	value float64   // in SI, or as it is
	units []float64 // what one of a bare number may be
	kind  string    // of part, or ""
	role  string
	set   func(v float64) Revised
}

// bare are the units that a bare size may be in.
var bare = []float64{float64(measure.Millimetre), float64(measure.Inch)}

// Find returns what the figure makes of what was said before. Where the figure it
// replaces was said, only what had that figure can be meant; else it must lie near
// what it replaces.
func Find(before reading.Reading, f Figure) (Revised, bool) {
	var best Revised
	score := 0.0
	for _, s := range slots(before) {
		if f.Kind != "" && s.kind != f.Kind || f.Role != "" && s.kind != "" && s.role != f.Role {
			continue
		}
		for _, unit := range s.units {
			v, ok := value(f.New, s.dim, unit)
			if !ok || v <= 0 {
				continue
			}
			fit := near(v, s.value)
			if f.Old != nil {
				old, ok := value(*f.Old, s.dim, unit)
				if !ok || math.Abs(old-s.value) > 0.02*s.value {
					continue
				}
				fit = max(fit, 0.3) + 1
			}
			if fit > 0.3 && fit >= score {
				best, score = s.set(v), fit
			}
		}
	}
	return best, score > 0
}

// near returns how near two figures lie, 1 for equal, 0 for far apart.
func near(a, b float64) float64 { return min(a, b) / max(a, b) }

// value returns a quantity as a figure of dim, a bare one in unit.
func value(q quantity.Quantity, dim quantity.Dim, unit float64) (float64, bool) {
	switch {
	case q.Dim == quantity.Plain:
		return q.Value * unit, true
	case q.Dim == dim, q.Dim == quantity.Pieces && dim == quantity.Plain:
		return q.Value, true
	}
	return 0, false
}

// slots lists what figures were said for, in order.
func slots(before reading.Reading) []slot {
	var out []slot
	for _, t := range before.Takes {
		v, ok := t.Value.(float64)
		if !ok || t.Not {
			continue
		}
		s := slot{dim: quantity.Plain, value: v, units: []float64{1}}
		back := 1.0 // from SI to the fact's unit
		switch t.Path {
		case facts.WantMassG:
			s.dim, s.value, s.units, back = quantity.Mass, v/1000, []float64{0.001}, 1000
		case facts.WantDiameterMM:
			s.dim, s.value, s.units, back = quantity.Length, v/1000, bare, 1000
		case facts.WantBudgetCents, "want.total_budget":
			s.dim, s.units = quantity.Money, []float64{100}
		case facts.PlayerTensionN:
			s.dim = quantity.Newtons
		case "instrument.octaves":
			s.dim = quantity.Octaves
		case "want.pairs", "class.size", facts.PlayerMallets:
		default:
			continue
		}
		s.set = func(v float64) Revised {
			t := t
			t.Value, t.Sure, t.Head = math.Round(v*back*1e6)/1e6, 1, 0
			return Revised{Take: &t}
		}
		out = append(out, s)
	}
	for _, p := range before.Parts {
		for _, f := range []struct {
			v    measure.Length
			role string
			at   func(*reading.Part) *measure.Length
		}{
			{p.Diameter, "across", func(p *reading.Part) *measure.Length { return &p.Diameter }},
			{p.Bore, "bore", func(p *reading.Part) *measure.Length { return &p.Bore }},
			{p.Wall, "wall", func(p *reading.Part) *measure.Length { return &p.Wall }},
			{p.Outer, "outer", func(p *reading.Part) *measure.Length { return &p.Outer }},
			{p.Length, "long", func(p *reading.Part) *measure.Length { return &p.Length }},
		} {
			if f.v > 0 {
				out = append(out, slot{quantity.Length, float64(f.v), bare, p.Kind, f.role, func(v float64) Revised {
					p := p
					*f.at(&p) = measure.Length(v)
					return Revised{Part: &p}
				}})
			}
		}
		if p.Amount > 0 {
			dim, units := quantity.Plain, []float64{1}
			switch p.Unit {
			case "m":
				dim, units = quantity.Length, []float64{1, float64(measure.Foot), 0.01}
			case "kg":
				dim, units = quantity.Mass, []float64{0.001}
			}
			out = append(out, slot{dim, p.Amount, units, p.Kind, "", func(v float64) Revised {
				p := p
				p.Amount = v
				return Revised{Part: &p}
			}})
		}
	}
	return out
}

// Reach returns the end of a correction that begins at item i and ends before item to,
// and the item of its figure, or -1: a part or what a size is of, then a figure, with
// fillers between. Other tells whether the figure at an item may be of something else.
func (f *Figure) Reach(m *cover.Chart, i, to int, other func(int) bool) (end, at int) {
	for j := i; j < to; j++ {
		it := m.Item(j)
		switch {
		case it.Qty != nil && it.Harm, it.ID != "", it.Note != nil:
			return i, -1
		case it.Qty != nil:
			switch it.Qty.Dim {
			case quantity.Plain, quantity.Length, quantity.Mass, quantity.Money, quantity.Octaves:
			default:
				return i, -1
			}
			if f.Kind == "" && other(j) {
				return i, -1
			}
			return j + 1, j
		case it.Has("role") != nil:
			f.Role = it.Has("role").Value
			if f.Kind == "" && (f.Role == "wall" || f.Role == "bore") {
				f.Kind = "tube"
			}
		case it.Has("kind") != nil:
			f.Kind = it.Has("kind").Value
		case it.Has("material") != nil:
			f.Kind = it.Has("material").Material().Kind
		case m.Filler(j) && j > i, m.Is(j, "=", "is"), it.Mark == "=":
		default:
			return i, -1
		}
	}
	return i, -1
}
