package hand

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Unknown is a clause that says that the catalogue has no part as one was described, and
// which of its own come nearest in size.
func Unknown(cat *knowledge.Catalogue, p reading.Part) string {
	words := reply.In(cat)
	says := fmt.Sprintf("nothing in the catalogue fits “%s”", p.Text)
	switch near := nearest(cat, p); len(near) {
	case 0:
		return says
	case 1:
		return fmt.Sprintf("%s; the nearest is: %s", says, words.Part(near[0]))
	default:
		return fmt.Sprintf("%s; the nearest are: %s; and %s. Name the one to go by", says, words.Part(near[0]), words.Part(near[1]))
	}
}

// within is how far a ball may be from one that was described to stand in for it.
// Common practice, no source: a sixteenth of an inch.
const within = 1.6 * measure.Millimetre

// standIn returns the balls that are computed in place of a ball on hand whose size
// nobody sells: those nearest in size of its material and hardness, none where none is
// near enough.
func standIn(cat *knowledge.Catalogue, p reading.Part) (ids []string) {
	if p.Kind != "core" || p.Diameter == 0 || p.Material == "" {
		return nil
	}
	least := within
	for _, c := range cat.Cores {
		m, _ := cat.Material(c.Material)
		off := measure.Length(math.Abs(float64(c.Diameter - p.Diameter)))
		if p.Material != m.ID && p.Material != m.Family || p.Durometer > 0 && p.Durometer != c.DurometerA && p.Durometer != c.DurometerD || off > least+0.01*measure.Millimetre {
			continue
		}
		if off < least-0.01*measure.Millimetre {
			ids, least = nil, off
		}
		ids = append(ids, c.ID)
	}
	return ids
}

// sized is a part with how much larger it is than what was described.
type sized struct {
	id    string
	off   float64 // in metres, wall counting like bore
	usual float64
}

// nearest returns the parts of a kind and material that are nearest in size to one
// that was described, of those sold in the same units: the nearest that is smaller and
// the nearest that is not, the more usual of equals. None where no size was said.
func nearest(cat *knowledge.Catalogue, p reading.Part) []string {
	of := func(id string) bool {
		m, _ := cat.Material(id)
		return p.Made == "" && (p.Material == "" || p.Material == id || p.Material == m.Family)
	}
	var all []sized
	supply := "inch"
	for _, l := range []measure.Length{p.Diameter, p.Bore} {
		if mm := l.MM(); l > 0 && math.Abs(mm-math.Round(mm)) < 1e-6 {
			supply = "metric"
		}
	}
	add := func(id, material string, usual float64, said, is [2]measure.Length) {
		if s := cat.Supply(id); s != "" && s != supply {
			return
		}
		x := sized{id: id, usual: usual}
		wide := 0.0
		for k := range said {
			if said[k] > 0 {
				x.off += float64(is[k] - said[k])
				wide += math.Abs(float64(is[k] - said[k]))
			}
		}
		if said[0]+said[1] > 0 && of(material) {
			x.off = math.Copysign(wide, x.off)
			all = append(all, x)
		}
	}
	switch p.Kind {
	case "core":
		for _, c := range cat.Cores {
			if p.Durometer == 0 || p.Durometer == c.DurometerA || p.Durometer == c.DurometerD {
				add(c.ID, c.Material, c.Usual, [2]measure.Length{p.Diameter}, [2]measure.Length{c.Diameter})
			}
		}
	case "tube":
		for _, t := range cat.Tubing {
			add(t.ID, t.Material, t.Usual, [2]measure.Length{p.Bore, p.Wall}, [2]measure.Length{t.Bore, t.Wall})
		}
	case "shaft":
		for _, s := range cat.Shafts {
			add(s.ID, s.Material, s.Usual, [2]measure.Length{p.Diameter}, [2]measure.Length{s.Diameter})
		}
	}
	var out []string
	for _, side := range []float64{-1, 1} {
		best := slices.DeleteFunc(slices.Clone(all), func(x sized) bool { return x.off*side < 0 || x.off == 0 && side < 0 })
		slices.SortStableFunc(best, func(a, b sized) int {
			return cmp.Or(cmp.Compare(math.Abs(a.off), math.Abs(b.off)), cmp.Compare(b.usual, a.usual))
		})
		if len(best) > 0 && !slices.Contains(out, best[0].id) {
			out = append(out, best[0].id)
		}
	}
	return out
}
