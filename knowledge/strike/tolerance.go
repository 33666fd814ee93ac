package strike

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/rubber"
)

// errorsOf moves every uncertain figure of a head to the top of its tolerance,
// one at a time, and returns how far the softness moves at speed v.
func errorsOf(h head.Head, b Body, v float64) []Error {
	ref := Reference()
	buf := make([]Reduced, 0, 1)
	hz := func(b *Body) float64 { return Quick(buf[:0], b, &ref, []float64{v})[0].CutoffHz }
	at := hz(&b)
	var out []Error
	try := func(part string, b Body) {
		if s := notchesPerOctave * math.Log2(at/hz(&b)); s != 0 {
			out = append(out, Error{part, s})
		}
	}

	core, m := h.Stack.Core, h.Stack.Material
	x := b
	if a := cmp.Or(core.DurometerA, m.DurometerA.Value); a > 0 && core.DurometerD == 0 {
		x.Core.Modulus *= rubber.Moulded(a+cmp.Or(m.DurometerA.Tol, durometerTol)) / rubber.Moulded(a)
		try("hardness of core "+core.ID, x)
	} else if core.DurometerD == 0 {
		x.Core.Modulus *= 1 + share(m.ModulusPa)
		try("stiffness of "+m.ID, x)
	}
	x = b
	x.Core.Modulus *= 1 + share(m.Impact)
	try("stiffness in a blow of "+m.ID, x)

	// Slices of one rubber are wrong together, and so are slices of one tube.
	each := func(part string, is func(head.Slice) bool, change func(*Body, int, head.Layer)) {
		if slices.ContainsFunc(out, func(e Error) bool { return e.Part == part }) {
			return
		}
		x := b
		x.Rubber = slices.Clone(b.Rubber)
		for i, l := range h.Layers {
			if is(l.Slice) {
				change(&x, i, l)
			}
		}
		try(part, x)
	}
	for _, l := range h.Layers {
		m, tube := l.Slice.Rubber, l.Slice.Tube
		sameRubber := func(s head.Slice) bool { return s.Rubber.ID == m.ID }
		each("hardness of "+m.ID, sameRubber, func(x *Body, i int, _ head.Layer) {
			a := m.DurometerA.Value
			x.Rubber[i].Modulus *= rubber.Modulus(a+cmp.Or(m.DurometerA.Tol, durometerTol)) / rubber.Modulus(a)
		})
		each("stiffness in a blow of "+m.ID, sameRubber, func(x *Body, i int, _ head.Layer) {
			x.Rubber[i].Modulus *= 1 + share(m.Impact)
		})
		each("wall of "+tube.ID, func(s head.Slice) bool { return s.Tube.ID == tube.ID }, func(x *Body, i int, l head.Layer) {
			x.Rubber[i].Wall += float64(l.WallTol)
			x.Radius += float64(l.WallTol)
		})
	}
	if len(b.Rubber) > 0 {
		x = b
		x.Hold = min(x.Hold+h.SliceHoldTol, 1)
		try("how slices are held", x)
	}
	if w := h.Stack.Wrap; w != nil && b.Yarn.Wall > 0 {
		wind := func(part string, change func(*head.Wrap)) {
			y := *w
			y.Turns, y.TensionN = h.Turns, h.TensionN
			change(&y)
			o := y.Wind(h.Bare, core.Diameter, &knowledge.Limits{})
			x := b
			x.Radius += float64(o.Wall) - b.Yarn.Wall
			x.Yarn = YarnOf(y.Fibre, float64(o.Wall), o.RestPa, o.PressPa)
			try(part, x)
		}
		wind("stiffness in a blow of "+w.Fibre.ID, func(y *head.Wrap) { y.Fibre.Impact.Value *= 1 + share(y.Fibre.Impact) })
		wind("springiness of "+w.Yarn.ID, func(y *head.Wrap) { y.Yarn.CrushPa.Value *= 1 + share(y.Yarn.CrushPa) })
		wind("packing of "+w.Yarn.ID, func(y *head.Wrap) { y.Yarn.Loose.Value += y.Yarn.Loose.Tol })
		wind("tex of "+w.Yarn.ID, func(y *head.Wrap) { y.Yarn.Tex.Value += y.Yarn.Tex.Tol })
		wind("tension of the winding", func(y *head.Wrap) { y.TensionN *= 1 + h.TensionTol })
	}
	x = b
	x.Mass += float64(h.MassTol)
	try("mass of "+core.ID+" and what is on it", x)
	return out
}

// share returns a tolerance as a share of its quantity, 0 for one not given.
func share(q knowledge.Quantity) float64 {
	if q.Value == 0 {
		return 0
	}
	return q.Tol / q.Value
}

// durometerTol is the tolerance of a hardness that gives none, in points
// Shore A. Common practice.
const durometerTol = 5

// spread adds independent errors.
func spread(es []Error) float64 {
	sum := 0.0
	for _, e := range es {
		sum += e.Softness * e.Softness
	}
	return math.Sqrt(sum)
}

// AboutSame reports whether two heads can't be told apart by their softness:
// what is uncertain allows the difference. An error that both share moves
// them together and counts only as far as it moves them differently.
func AboutSame(a, b Report) bool {
	left := map[string]float64{}
	for _, e := range a.Errors {
		left[e.Part] += e.Softness
	}
	for _, e := range b.Errors {
		left[e.Part] -= e.Softness
	}
	sum := 0.0
	for _, e := range left {
		sum += e * e
	}
	return math.Abs(a.Softness-b.Softness) <= math.Sqrt(sum)
}
