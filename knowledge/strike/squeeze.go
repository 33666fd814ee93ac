package strike

import (
	"math"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/rubber"
)

// Squeezed is one point of the squeeze test: a head laid on its side on a
// kitchen scale and pressed with a flat block until it is narrower by so much
// pushes back with so much.
type Squeezed struct {
	NarrowerM float64
	ForceN    float64
	TolN      float64 // half-width of about 95 %; 0 on a curve
}

// The kitchen scale of the test takes 5 kg and is best read past half a kilogram; the
// caliper shows half a millimetre plainly.
const (
	leastScaleN, mostScaleN = 5.0, 42.0
	wantedScaleN            = 25.0
	leastNarrowerM          = 0.5e-3
	mostNarrowerM           = 4e-3
)

// SqueezeTest returns the point that a kitchen scale and a caliper read best,
// in half millimetres, and the curve in steps of a quarter. The point is zero for
// a head too hard for the test. Between two flats a head gives on both sides, and fibres and
// rubber have the time to give way.
func SqueezeTest(h head.Head, doubt []knowledge.Doubt) (best Squeezed, curve []Squeezed, err error) {
	b, err := Slow(h)
	if err != nil {
		return best, nil, err
	}
	press := newPress(&b)
	for mm := 0.25; mm <= mostNarrowerM*1e3; mm += 0.25 {
		s := Squeezed{NarrowerM: mm / 1e3, ForceN: press(mm / 1e3)}
		if s.ForceN > 2*mostScaleN || math.IsNaN(s.ForceN) {
			break
		}
		curve = append(curve, s)
		half := math.Mod(mm, 0.5) == 0
		if half && s.ForceN >= leastScaleN && s.ForceN <= mostScaleN && math.Abs(s.ForceN-wantedScaleN) < math.Abs(best.ForceN-wantedScaleN) {
			best = s
		}
	}
	if best.ForceN > 0 {
		best.TolN = squeezeTol(h, b, best, doubt)
	}
	return best, curve, nil
}

// SqueezeN returns the force in newtons that makes a head narrower by so many
// metres between two flats.
func SqueezeN(h head.Head, narrower float64) (float64, error) {
	b, err := Slow(h)
	if err != nil {
		return 0, err
	}
	return newPress(&b)(narrower), nil
}

// newPress returns the force that makes a body narrower by some metres, or NaN
// past what is computed.
func newPress(b *Body) func(narrower float64) float64 {
	const joules = 0.12 // 80 N over 3 mm, and room
	var c curve
	c.fill(b, 0, joules, 40)
	return func(narrower float64) float64 {
		d := narrower / 2
		if d > c.d[c.n-1] {
			return math.NaN()
		}
		return c.force(d, new(float64))
	}
}

// squeezeTol is how far the force may be off: in each open direction of the
// model, with the rubber's hardness at the top of its tolerance, with a tenth of a
// millimetre on the caliper.
func squeezeTol(h head.Head, b Body, at Squeezed, doubt []knowledge.Doubt) float64 {
	sum := 0.0
	add := func(n float64) {
		if !math.IsNaN(n) {
			sum += (n - at.ForceN) * (n - at.ForceN)
		}
	}
	if w := h.Stack.Wrap; w != nil {
		slow := *w
		slow.Fibre.Impact.Value = 1
		h.Stack.Wrap = &slow
	}
	for _, d := range toldTension(h, doubt) {
		d.FibreBlow, d.RubberBlow, d.LatexBlow = 0, 0, 0
		x := doubted(h, b, d)
		add(newPress(&x)(at.NarrowerM))
	}
	x := b
	x.Rubber = append([]Rubber(nil), b.Rubber...)
	for i, l := range h.Layers {
		hard := l.Slice.Rubber.DurometerA
		x.Rubber[i].Modulus *= rubber.Modulus(hard.Value+hard.Tol) / rubber.Modulus(hard.Value)
	}
	if h.Stack.Material.Family == "rubber" {
		x.Core.Modulus *= 1.2 // five points of durometer, and the table
	}
	add(newPress(&x)(at.NarrowerM))
	add(newPress(&b)(at.NarrowerM + 1e-4))
	return math.Sqrt(sum)
}
