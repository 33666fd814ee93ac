package head

import (
	"math"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// coreMass returns the mass of the ball less its bore, and its tolerance. The
// bore is the one it is sold with, or drilled for the shaft if that is thicker.
func coreMass(s Stack, lim *knowledge.Limits) (mass, tol measure.Mass) {
	bore := s.Core.Bore
	if s.Shaft != nil {
		bore = max(bore, s.Shaft.Diameter)
	}
	d := float64(s.Core.Diameter)
	b := min(float64(bore), d)
	// A hole right through a ball leaves the volume of a ball as wide as
	// the hole is long.
	through := math.Pi / 6 * (d*d*d - math.Pow(d*d-b*b, 1.5))
	volume := math.Pi/6*d*d*d - through*min(max(lim.BoreDepth.Value, 0), 1)
	density := s.Material.DensityKgM3
	mass = measure.Mass(volume * density.Value)
	return mass, mass * rss(measure.Mass(3*s.Core.Tol/s.Core.Diameter), measure.Mass(density.Tol/density.Value))
}

// plainAt is the diameter of the head that Yarn.Wraps is given for.
const plainAt = 1.25 * measure.Inch

// PlainTurns returns the yarn's plain wrap for a head of a bare diameter.
func PlainTurns(y knowledge.Yarn, bare measure.Length) int {
	return max(1, int(math.Round(float64(y.Wraps.Plain)*float64(bare/plainAt))))
}

// Wound is a wrap as wound on a head.
type Wound struct {
	Turns   int
	Wall    measure.Length // thickness at the equator
	WallTol measure.Length
	Cover   float64        // how many times over the yarn covers the equator, laid side by side
	Length  measure.Length // yarn to wind
	Mass    measure.Mass
	MassTol measure.Mass
}

// Wind winds a wrap over rubber, or the bare core, of a diameter at the
// equator.
//
// Each turn is a great circle past the shaft and over the crown, so it
// crosses the equator twice, and the wound yarn there fills a ring: the
// section of 2·turns yarns, each tex/(density·packing). The way round is
// taken as half over the rubber and half over the bare core, at the middle of
// the yarn.
func (w *Wrap) Wind(bare, core measure.Length) Wound {
	o := Wound{Turns: w.Turns}
	if o.Turns == 0 {
		o.Turns = PlainTurns(w.Yarn, bare)
	}
	tex, wound, density := w.Yarn.Tex, w.Yarn.Wound, w.Fibre.DensityKgM3
	perMetre := tex.Value * 1e-6 // kg/m
	section := perMetre / (density.Value * wound.Value)
	d := float64(bare)
	ring := 8 * float64(o.Turns) * section / math.Pi
	outer := math.Sqrt(d*d + ring)
	o.Wall = measure.Length(outer-d) / 2
	sectionTol := rss(tex.Tol/tex.Value, wound.Tol/wound.Value, density.Tol/density.Value)
	o.WallTol = measure.Length(ring / (4 * outer) * sectionTol)
	o.Cover = 2 * float64(o.Turns) * math.Sqrt(4*section/math.Pi) / (math.Pi * d)
	way := (bare+core)/2 + o.Wall
	o.Length = measure.Length(float64(o.Turns)*math.Pi) * way
	o.Mass = measure.Mass(float64(o.Length) * perMetre)
	o.MassTol = o.Mass * measure.Mass(tex.Tol/tex.Value)
	return o
}

// wind computes the yarn.
func (h *Head) wind() {
	var o Wound
	if w := h.Stack.Wrap; w != nil {
		o = w.Wind(h.Bare, h.Stack.Core.Diameter)
	}
	h.Turns, h.YarnWall, h.YarnWallTol = o.Turns, o.Wall, o.WallTol
	h.YarnCover, h.YarnLength, h.YarnMass, h.YarnMassTol = o.Cover, o.Length, o.Mass, o.MassTol
}

// Swing is how a head feels in the hand on its shaft, zero without a shaft.
type Swing struct {
	Mass        measure.Mass   // head and shaft
	Balance     measure.Length // centre of mass from the butt
	InertiaKgM2 float64        // about the hand
	FromButt    measure.Length // where the hand is taken to be
}

// SwingAt returns how the head swings about a hand that holds the shaft at a
// distance from its butt. The shaft is an even rod that ends at the bottom of
// the bore; the layers turn with the core's centre.
func (h Head) SwingAt(fromButt measure.Length, lim *knowledge.Limits) Swing {
	sh := h.Stack.Shaft
	if sh == nil {
		return Swing{}
	}
	rod, ball := float64(sh.Mass), float64(h.Mass)
	long, core, hand := float64(sh.Length), float64(h.Stack.Core.Diameter), float64(fromButt)
	depth := min(max(lim.BoreDepth.Value, 0), 1) * core
	centre := long - depth + core/2 // of the ball
	// About their own centres: a solid ball, rings about their diameter, a
	// shell of yarn.
	own := 0.4 * float64(h.CoreMass) * core * core / 4
	for i := range h.Layers {
		l := &h.Layers[i]
		r := float64(l.Under+l.Wall) / 2
		own += float64(l.Mass) * r * r / 2
	}
	r := float64(h.Bare+h.YarnWall) / 2
	own += float64(h.YarnMass) * r * r * 2 / 3
	return Swing{
		Mass:        measure.Mass(rod + ball),
		Balance:     measure.Length((rod*long/2 + ball*centre) / (rod + ball)),
		InertiaKgM2: rod*long*long/12 + rod*(long/2-hand)*(long/2-hand) + own + ball*(centre-hand)*(centre-hand),
		FromButt:    fromButt,
	}
}
