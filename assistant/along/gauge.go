package along

import (
	"errors"
	"fmt"
	"math"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/propose"
)

// unit is what a quantity is read in.
type unit int

const (
	length unit = iota
	mass
	force
	hold // in words: whether a slice holds
)

// quantity is something that can be measured on a head, in SI.
type quantity struct {
	name string
	unit unit
	// each says that it is asked for every layer at a step of the whole head,
	// and uncut that the slices are still to be cut there.
	each, uncut bool
	// fits reports whether a head has it.
	fits func(h head.Head, layer int) bool
	// of returns what is expected, and the half-width of its spread.
	of func(h head.Head, layer int) (x, tol float64)
	// scale changes the part that a difference is put down to by a factor.
	scale func(s *head.Stack, layer int, by float64)
	// or changes more, for what the part alone can't come to; nil for nothing.
	or func(s *head.Stack, layer int, by float64)
	// rest is how far past all that scale comes to a figure may still be, as
	// yarn that was laid on loosely stands off.
	rest float64
	// at returns the quantity as it is read on a head, where that differs from
	// head to head, and how, in words.
	at func(h head.Head) (quantity, string)
	by float64 // m that it is read at, of a squeeze
}

// The least differences that a bench scale, a caliper and a kitchen scale under
// a press tell on a head.
const (
	leastMass   = 0.1 * measure.Gram
	leastLength = 0.2 * measure.Millimetre
	leastForce  = 1.0 // N
)

// quantities are what a gauge may ask for. A difference in mass is put down to
// density where nothing else is known, one in size to the wall or to how
// tightly the yarn lies, one in what it takes to squeeze a head to all that is
// soft in it.
func quantities(cat *knowledge.Catalogue) map[string]quantity {
	always := func(head.Head, int) bool { return true }
	sliced := func(h head.Head, _ int) bool { return len(h.Layers) > 0 }
	onLayer := func(h head.Head, layer int) bool { return layer > 0 && layer <= len(h.Layers) }
	core := func(s *head.Stack, _ int, by float64) { s.Material.DensityKgM3.Value *= by }
	wall := func(s *head.Stack, layer int, by float64) { s.Slices[layer-1].Tube.Wall *= measure.Length(by) }
	bore := func(s *head.Stack, layer int, by float64) { s.Slices[layer-1].Tube.Bore *= measure.Length(by) }
	rubber := func(s *head.Stack, layer int, by float64) { s.Slices[layer-1].Rubber.DensityKgM3.Value *= by }
	last := func(do func(*head.Stack, int, float64)) func(*head.Stack, int, float64) {
		return func(s *head.Stack, _ int, by float64) {
			if n := len(s.Slices); n > 0 {
				do(s, n, by)
				return
			}
			core(s, 0, by)
		}
	}
	return map[string]quantity{
		"bore": {name: "bore", each: true, uncut: true, fits: onLayer, scale: bore,
			of: func(h head.Head, n int) (float64, float64) {
				t := h.Layers[n-1].Slice.Tube
				return float64(t.Bore), float64(t.BoreTol)
			}},
		"wall": {name: "wall", each: true, uncut: true, fits: onLayer, scale: wall,
			of: func(h head.Head, n int) (float64, float64) {
				t := h.Layers[n-1].Slice.Tube
				return float64(t.Wall), float64(t.WallTol)
			}},
		"hold": {name: "fit", unit: hold, fits: onLayer, scale: bore,
			of: func(h head.Head, n int) (float64, float64) { return h.Layers[n-1].Stretch, 0 }},
		"core_mass": {name: "ball", unit: mass, fits: always, scale: core,
			of: func(h head.Head, _ int) (float64, float64) { return float64(h.CoreMass), float64(h.CoreMassTol) }},
		"slice_mass": {name: "slice", unit: mass, fits: onLayer, scale: wall,
			of: func(h head.Head, n int) (float64, float64) {
				return float64(h.Layers[n-1].Mass), float64(h.Layers[n-1].MassTol)
			}},
		"over_layer": {name: "over the slice", fits: onLayer, scale: wall,
			of: func(h head.Head, n int) (float64, float64) {
				return float64(h.Layers[n-1].Outer), float64(h.Layers[n-1].OuterTol)
			}},
		"so_far": {name: "so far", unit: mass, fits: onLayer, scale: rubber,
			of: func(h head.Head, n int) (float64, float64) {
				m, square := h.CoreMass, h.CoreMassTol*h.CoreMassTol
				for _, l := range h.Layers[:n] {
					m, square = m+l.Mass, square+l.MassTol*l.MassTol
				}
				return float64(m), math.Sqrt(float64(square))
			}},
		"bare_mass": {name: "without yarn", unit: mass, fits: always, scale: last(rubber),
			of: func(h head.Head, _ int) (float64, float64) { return float64(h.BareMass), float64(h.BareMassTol) }},
		"bare_over": {name: "over the rubber", fits: sliced, scale: last(wall),
			of: func(h head.Head, _ int) (float64, float64) { return float64(h.Bare), float64(h.BareTol) }},
		"head_mass": {name: "head", unit: mass, fits: always,
			of: func(h head.Head, _ int) (float64, float64) { return float64(h.Mass), float64(h.MassTol) },
			scale: func(s *head.Stack, n int, by float64) {
				if s.Wrap == nil {
					last(rubber)(s, n, by)
					return
				}
				s.Wrap.Yarn.Tex.Value *= by
			},
			or: func(s *head.Stack, _ int, by float64) {
				s.Material.DensityKgM3.Value *= by
				for i := range s.Slices {
					s.Slices[i].Rubber.DensityKgM3.Value *= by
				}
				if s.Wrap != nil {
					s.Wrap.Yarn.Tex.Value *= by
				}
			}},
		"diameter": {name: "across", rest: 0.002, fits: func(h head.Head, _ int) bool { return h.Stack.Wrap != nil },
			of: func(h head.Head, _ int) (float64, float64) { return float64(h.Diameter), float64(h.DiameterTol) },
			scale: func(s *head.Stack, _ int, by float64) {
				s.Wrap.TensionN /= by * by * by // a hard pull packs the yarn
			}},
		"squeeze": {at: func(h head.Head) (quantity, string) { return squeeze(h, cat.Scale.Doubt) }},
	}
}

// squeeze is what a kitchen scale shows under a head that is pressed narrower
// by as much as reads best on h.
func squeeze(h head.Head, doubt []knowledge.Doubt) (quantity, string) {
	best, _, err := strike.SqueezeTest(h, doubt)
	narrower := best.NarrowerM
	q := quantity{name: fmt.Sprintf("squeezed %g mm at", 1000*narrower), unit: force, by: narrower,
		fits: func(head.Head, int) bool { return err == nil && best.ForceN > 0 },
		of: func(h head.Head, _ int) (float64, float64) {
			n, err := strike.SqueezeN(h, narrower)
			if err != nil {
				n = math.NaN()
			}
			return n, best.TolN
		},
		// Pull and fibres by one factor leave the yarn as thick as it is.
		scale: func(s *head.Stack, _ int, by float64) {
			if s.Wrap != nil {
				s.Wrap.TensionN *= by
				s.Wrap.Yarn.CrushPa.Value *= by
			}
			for i := range s.Slices {
				s.Slices[i].Rubber.DurometerA.Value *= math.Sqrt(by) // about by in modulus
			}
		}}
	return q, fmt.Sprintf("at %g mm narrower", 1000*narrower)
}

// expect is what a head should show, and how far off is no difference.
func (q quantity) expect(h head.Head, layer int) (x, tol float64) {
	x, tol = q.of(h, layer)
	least := map[unit]float64{length: float64(leastLength), mass: float64(leastMass), force: leastForce}
	return x, max(tol, least[q.unit])
}

// errFar says that a figure can't be of this head.
var errFar = errors.New("that is too far from what this head could show")

// measured returns the stack that shows x in place of what it should: the part
// that the difference is put down to is changed until it does.
func (q quantity) measured(s head.Stack, layer int, x float64, g *Guide) (head.Stack, error) {
	at := func(by float64) (head.Stack, float64) {
		t := copied(s)
		q.scale(&t, layer, by)
		if t.Check() != nil {
			return t, math.NaN()
		}
		y, _ := q.of(head.New(t, g.cat.Limits), layer)
		return t, y - x
	}
	low, high := 0.3, 3.0
	_, a := at(low)
	_, b := at(high)
	for a != a && low < 1 { // sizes that no part has
		low = math.Sqrt(low)
		if low > 0.99 {
			break
		}
		_, a = at(low)
	}
	for b != b && high > 1.01 {
		high = math.Sqrt(high)
		_, b = at(high)
	}
	if !(a*b <= 0) {
		if q.or != nil {
			q.scale, q.or = q.or, nil
			return q.measured(s, layer, x, g)
		}
		if t, y := at(low); math.Abs(y) <= q.rest { // as far as the pull goes; the rest is loft
			return t, nil
		}
		if t, y := at(high); math.Abs(y) <= q.rest {
			return t, nil
		}
		return s, errFar
	}
	for range 50 {
		mid := (low + high) / 2
		_, m := at(mid)
		if m != m {
			return s, errFar
		}
		if (m < 0) == (a < 0) {
			low = mid
		} else {
			high = mid
		}
	}
	t, _ := at((low + high) / 2)
	return t, nil
}

// copied returns a stack that shares nothing that is changed here. What was
// cut and wound stays as it is.
func copied(s head.Stack) head.Stack {
	s.Slices = append([]head.Slice(nil), s.Slices...)
	if s.Wrap != nil {
		w := *s.Wrap
		s.Wrap = &w
	}
	return s
}

// settledStack is a candidate's stack with its cuts and turns written out, so
// that they stay when a part turns out otherwise.
func settledStack(c propose.Candidate) head.Stack {
	s := copied(c.Stack)
	for i := range s.Slices {
		s.Slices[i].Cut = c.Head.Layers[i].Cut
	}
	if s.Wrap != nil {
		s.Wrap.Turns, s.Wrap.TensionN = c.Head.Turns, c.Head.TensionN
	}
	return s
}

// wound returns a stack with other turns.
func wound(s head.Stack, turns int) head.Stack {
	s = copied(s)
	s.Wrap.Turns = turns
	return s
}

// The turns between which a wrap is a wrap: common practice, no source.
const leastTurns, mostTurns = 30, 260

// turnsFor returns the turns at which get comes nearest to want; get has to
// rise or fall with the turns.
func (g *Guide) turnsFor(q propose.Request, s head.Stack, want float64, get func(propose.Candidate) float64) (int, propose.Candidate, bool) {
	at := func(n int) (propose.Candidate, float64, bool) {
		c, err := g.finder.Consider(wound(s, n), q)
		return c, get(c) - want, err == nil
	}
	low, high := leastTurns, mostTurns
	c, x, ok := at(low)
	d, y, ok2 := at(high)
	if !ok || !ok2 || x*y > 0 {
		return 0, propose.Candidate{}, false
	}
	for high-low > 1 {
		mid := (low + high) / 2
		between, m, ok := at(mid)
		if !ok {
			return 0, propose.Candidate{}, false
		}
		if (m < 0) == (x < 0) {
			low, c, x = mid, between, m
		} else {
			high, d, y = mid, between, m
		}
	}
	if math.Abs(y) < math.Abs(x) {
		return high, d, true
	}
	return low, c, true
}
