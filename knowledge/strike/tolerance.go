package strike

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
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
	if a := cmp.Or(core.DurometerA, m.DurometerA.Value); a > 0 {
		x.Core.Modulus = modulus(m, a+cmp.Or(m.DurometerA.Tol, durometerTol))
		try("hardness of core "+core.ID, x)
	} else {
		x.Core.Modulus *= 1 + share(m.ModulusPa)
		try("stiffness of "+m.ID, x)
	}
	x = b
	x.Core.Modulus *= 1 + share(m.Impact)
	try("stiffness in a blow of core "+core.ID, x)

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
			x.Rubber[i].Modulus = modulus(m, m.DurometerA.Value+cmp.Or(m.DurometerA.Tol, durometerTol))
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
		x.Grip += gripTol
		try("grip between slices", x)
	}
	if w := h.Stack.Wrap; w != nil && b.Yarn.Wall > 0 {
		for _, q := range []struct {
			part string
			q    knowledge.Quantity
		}{
			{"stiffness of " + w.Fibre.ID, w.Fibre.ModulusPa},
			{"stiffness in a blow of " + w.Fibre.ID, w.Fibre.Impact},
			{"springiness of " + w.Yarn.ID, w.Yarn.VanWyk},
		} {
			x = b
			x.Yarn.Pressure *= 1 + share(q.q)
			try(q.part, x)
		}
		x = b
		tight := 1 + share(w.Yarn.Wound)
		x.Yarn.Pressure *= tight * tight * tight
		x.Radius -= b.Yarn.Wall * (1 - 1/tight)
		x.Yarn.Wall /= tight
		try("packing of "+w.Yarn.ID, x)
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
