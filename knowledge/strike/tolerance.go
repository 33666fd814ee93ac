package strike

import (
	"cmp"
	"fmt"
	"math"

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
		if s := stepsPerOctave * math.Log2(at/hz(&b)); s != 0 {
			out = append(out, Error{part, s})
		}
	}

	core := h.Stack.Core
	x := b
	if a := cmp.Or(core.DurometerA, h.Stack.Material.DurometerA.Value); a > 0 {
		x.Core.Modulus = modulus(h.Stack.Material, a+cmp.Or(h.Stack.Material.DurometerA.Tol, durometerTol))
		try("hardness of core "+core.ID, x)
	} else {
		x.Core.Modulus += h.Stack.Material.ModulusPa.Tol
		try("stiffness of core material "+h.Stack.Material.ID, x)
	}

	// Slices of one rubber are wrong together, and so are slices of one tube.
	done := map[string]bool{}
	for _, l := range h.Layers {
		m := l.Slice.Rubber
		if part := "hardness of " + m.ID; !done[part] && m.DurometerA.Value > 0 {
			done[part] = true
			x := b
			x.Rubber = append([]Rubber(nil), b.Rubber...)
			for i := range x.Rubber {
				if h.Layers[i].Slice.Rubber.ID == m.ID {
					x.Rubber[i].Modulus = modulus(m, m.DurometerA.Value+cmp.Or(m.DurometerA.Tol, durometerTol))
				}
			}
			try(part, x)
		}
		if part := "wall of " + l.Slice.Tube.ID; !done[part] {
			done[part] = true
			x := b
			x.Rubber = append([]Rubber(nil), b.Rubber...)
			for i := range x.Rubber {
				if h.Layers[i].Slice.Tube.ID == l.Slice.Tube.ID {
					x.Rubber[i].Wall += float64(h.Layers[i].WallTol)
					x.Radius += float64(h.Layers[i].WallTol)
				}
			}
			try(part, x)
		}
	}
	if len(b.Rubber) > 0 {
		x := b
		x.Grip += gripTol
		try("grip between slices", x)
	}
	if w := h.Stack.Wrap; w != nil && b.Yarn.Wall > 0 {
		x := b
		x.Yarn.Pressure *= 1 + w.Fibre.ModulusPa.Tol/w.Fibre.ModulusPa.Value
		try("stiffness of fibre "+w.Fibre.ID, x)
		x = b
		x.Yarn.Pressure *= 1 + w.Yarn.VanWyk.Tol/w.Yarn.VanWyk.Value
		try("springiness of yarn "+w.Yarn.ID, x)
		x = b
		tight := 1 + w.Yarn.Wound.Tol/w.Yarn.Wound.Value
		x.Yarn.Pressure *= tight * tight * tight
		x.Radius -= b.Yarn.Wall * (1 - 1/tight)
		x.Yarn.Wall /= tight
		try("packing of yarn "+w.Yarn.ID, x)
	}
	x = b
	x.Mass += float64(h.MassTol)
	try(fmt.Sprintf("mass of %s and what is on it", core.ID), x)
	return out
}

// durometerTol is the tolerance of a hardness that gives none, in points
// Shore A. Common practice.
const durometerTol = 5

// spread adds independent errors.
func spread(es []Error) float64 {
	sum := 0.0
	for _, e := range es {
		sum += e.Steps * e.Steps
	}
	return math.Sqrt(sum)
}

// AboutSame reports whether two heads can't be told apart by their softness:
// what is uncertain allows the difference. An error that both share moves
// them together and counts only as far as it moves them differently.
func AboutSame(a, b Report) bool {
	left := map[string]float64{}
	for _, e := range a.Errors {
		left[e.Part] += e.Steps
	}
	for _, e := range b.Errors {
		left[e.Part] -= e.Steps
	}
	sum := 0.0
	for _, e := range left {
		sum += e * e
	}
	return math.Abs(a.Steps-b.Steps) <= math.Sqrt(sum)
}
