package strike

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/rubber"
)

// errorsOf moves every uncertain figure of a head to the top of its tolerance,
// one at a time, and returns how far the softness moves at speed v. What the
// calibration of the model left open moves as the directions of doubt say; a
// part's own figures move alone.
func errorsOf(h head.Head, b Body, v float64, doubt []knowledge.Doubt) []Error {
	ref := Reference()
	buf := make([]Reduced, 0, 1)
	hz := func(b *Body) float64 { return Quick(buf[:0], b, &ref, []float64{v})[0].CutoffHz }
	at := hz(&b)
	var out []Error
	add := func(part string, model bool, b Body) {
		if s := notchesPerOctave * math.Log2(at/hz(&b)); s != 0 {
			out = append(out, Error{Part: part, Model: model, Softness: s})
		}
	}
	try := func(part string, b Body) { add(part, false, b) }
	for i, d := range doubt {
		add(fmt.Sprintf("the model, direction %d", i+1), true, doubted(h, b, d))
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
		each("wall of "+tube.ID, func(s head.Slice) bool { return s.Tube.ID == tube.ID }, func(x *Body, i int, l head.Layer) {
			x.Rubber[i].Wall += float64(l.WallTol)
			x.Radius += float64(l.WallTol)
		})
	}
	if w := h.Stack.Wrap; w != nil && b.Yarn.Wall > 0 {
		try("tex of "+w.Yarn.ID, rewound(h, b, func(y *head.Wrap) { y.Yarn.Tex.Value += y.Yarn.Tex.Tol }))
		if w.Yarn.Loose.Source != calibrated { // a yarn of one's own
			try("packing of "+w.Yarn.ID, rewound(h, b, func(y *head.Wrap) { y.Yarn.Loose.Value += y.Yarn.Loose.Tol }))
			try("springiness of "+w.Yarn.ID, rewound(h, b, func(y *head.Wrap) { y.Yarn.CrushPa.Value *= 1 + share(y.Yarn.CrushPa) }))
		}
	}
	x = b
	x.Mass += float64(h.MassTol)
	try("mass of "+core.ID+" and what is on it", x)
	return out
}

// calibrated is the source of figures whose doubt the directions hold.
const calibrated = "calibration"

// rewound returns the body with its yarn wound anew after a change.
func rewound(h head.Head, b Body, change func(*head.Wrap)) Body {
	y := *h.Stack.Wrap
	y.Turns, y.TensionN = h.Turns, h.TensionN
	change(&y)
	o := y.Wind(h.Bare, h.Stack.Core.Diameter, &knowledge.Limits{})
	b.Radius += float64(o.Wall) - b.Yarn.Wall
	b.Yarn = YarnOf(y.Fibre, float64(o.Wall), o.RestPa, o.PressPa)
	return b
}

// toldTension returns the open directions that are left once the tension of a
// head's winding was told: what they say together, given that the tension is
// known to the head's TensionTol. Each loses what it shares with the tension,
// as in any least-squares fit (the covariance C becomes C − (1−k²)·c·cᵀ/C_TT,
// with c its column of the tension and k the spread that is left of it).
func toldTension(h head.Head, doubt []knowledge.Doubt) []knowledge.Doubt {
	if h.Stack.Wrap == nil || h.Stack.Wrap.TensionN == 0 {
		return doubt
	}
	var with knowledge.Doubt // Σ direction · its tension
	for _, d := range doubt {
		with = plus(with, d, d.Tension)
	}
	k := h.TensionTol / math.Sqrt(with.Tension)
	if !(k < 1) {
		return doubt
	}
	left := make([]knowledge.Doubt, len(doubt))
	for i, d := range doubt {
		left[i] = plus(d, with, -(1-k)*d.Tension/with.Tension)
	}
	return left
}

// plus returns a + by·b.
func plus(a, b knowledge.Doubt, by float64) knowledge.Doubt {
	return knowledge.Doubt{
		Tension: a.Tension + by*b.Tension, Loose: a.Loose + by*b.Loose, Crush: a.Crush + by*b.Crush,
		FibreBlow: a.FibreBlow + by*b.FibreBlow, RubberBlow: a.RubberBlow + by*b.RubberBlow, LatexBlow: a.LatexBlow + by*b.LatexBlow,
		Hold: a.Hold + by*b.Hold, Loss: a.Loss + by*b.Loss, Plastic: a.Plastic + by*b.Plastic,
	}
}

// doubted returns the body with the model off in one direction of doubt.
func doubted(h head.Head, b Body, d knowledge.Doubt) Body {
	switch h.Stack.Material.Family {
	case "rubber":
		b.Core.Modulus *= 1 + d.RubberBlow
	case "plastic":
		b.Core.Modulus *= 1 + d.Plastic
	}
	b.Rubber = slices.Clone(b.Rubber)
	for i := range b.Rubber {
		b.Rubber[i].Modulus *= 1 + d.LatexBlow
	}
	b.Hold = min(max(b.Hold+d.Hold, 0), 1)
	if h.Stack.Wrap == nil || b.Yarn.Wall == 0 {
		return b
	}
	return rewound(h, b, func(y *head.Wrap) {
		y.TensionN *= 1 + d.Tension
		y.Yarn.Loose.Value += d.Loose
		y.Yarn.CrushPa.Value *= 1 + d.Crush
		y.Fibre.Impact.Value *= 1 + d.FibreBlow
		y.Fibre.LossFactor.Value *= 1 + d.Loss
	})
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
