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
	Turns      int
	TensionN   float64
	TensionTol float64        // as a share of it
	Wall       measure.Length // thickness at the equator
	WallTol    measure.Length
	RestPa     float64        // pressure between the fibres at rest, at the outside
	PressPa    float64        // what all the turns add to that, next to the rubber
	Cover      float64        // how many times over the yarn covers the equator, laid side by side
	Length     measure.Length // yarn to wind
	Mass       measure.Mass
	MassTol    measure.Mass
}

// Press returns the pressure in Pa that turns of yarn, pulled with tension
// newtons round a ball of radius r metres, put on what lies under them all. A
// turn at tension T pulls inwards with T/r along each metre of itself, 2πT in
// all, over the ball's 4πr² (derived).
//
// Turns already wound lose tension as later ones squeeze what is under them:
// of 140 turns, 24 % where the hand's pull stretched the yarn by 2 %, 6 % where by
// 10 (testdata/model/slack.py), a tenth of a notch at most. It is left out, and
// the tension's tolerance, of over half, holds it.
func Press(turns int, tension, r float64) float64 {
	return float64(turns) * tension / (2 * r * r)
}

// Packing returns the share of space that fibres fill under a pressure of p Pa
// at rest: (p/crush)^(1/3).
//
// Source: van Wyk, Journal of the Textile Institute 37 (1946) T285 (form seen
// second-hand): p = K·E·(φ³ − φ₀³), here with the pressure counted from the
// loose fibres' own K·E·φ₀³. Empirical, disputed in 2021; it fails at very
// light pressure and holds for yarn that has been struck often.
func Packing(p, crush float64) float64 { return math.Cbrt(p / crush) }

// bulk returns how much more room the fibres of a wrap take than they fill,
// on average over the turns, when the pressure between them rises evenly from
// rest at the outside to rest + press under all the turns: the mean of
// 1/Packing.
func bulk(rest, press, crush float64) float64 {
	c := math.Cbrt(crush)
	if press < 1e-6*rest {
		return c / math.Cbrt(rest)
	}
	in, out := math.Cbrt(rest+press), math.Cbrt(rest)
	return 1.5 * c * (in*in - out*out) / press
}

// tensionTol returns by what share a tension may be off: as the word says that
// stands for it, or as one that was read off a spring balance. Zero newtons are the
// ordinary.
func tensionTol(n float64, lim *knowledge.Limits) float64 {
	if n == 0 {
		n = lim.TensionN.Value
	}
	for _, word := range []knowledge.Quantity{lim.TensionN, lim.TensionLooseN, lim.TensionFirmN} {
		if n == word.Value && n > 0 {
			return word.Tol / n
		}
	}
	return lim.TensionTold.Value
}

// Wind winds a wrap over rubber, or the bare core, of a diameter at the
// equator.
//
// Each turn is a great circle past the shaft and over the crown, so it
// crosses the equator twice, and the wound yarn there fills a ring: the
// section of 2·turns yarns, each tex/(density·packing), where the packing
// follows from the tension and the turns that lie further out. The way round is
// taken as half over the rubber and half over the bare core, at the middle of
// the yarn.
func (w *Wrap) Wind(bare, core measure.Length, lim *knowledge.Limits) Wound {
	o := Wound{Turns: w.Turns, TensionN: w.TensionN}
	if o.Turns == 0 {
		o.Turns = PlainTurns(w.Yarn, bare)
	}
	if o.TensionN == 0 {
		o.TensionN = lim.TensionN.Value
	}
	o.TensionTol = tensionTol(w.TensionN, lim)
	tex, density := w.Yarn.Tex, w.Fibre.DensityKgM3
	crush, loose := w.Yarn.CrushPa.Value, w.Yarn.Loose.Value
	perMetre := tex.Value * 1e-6 // kg/m
	fibre := perMetre / density.Value
	d := float64(bare)
	o.RestPa = crush * loose * loose * loose
	ring, wall := 0.0, 0.05*d
	for range 3 { // the pressure hangs on the radius, and that on the pressure: settled to 0.1 %
		o.PressPa = Press(o.Turns, o.TensionN, (d+wall)/2)
		ring = 8 / math.Pi * float64(o.Turns) * fibre * bulk(o.RestPa, o.PressPa, crush)
		wall = (math.Sqrt(d*d+ring) - d) / 2
	}
	outer := d + 2*wall
	o.Wall = measure.Length(wall)
	// Near enough a third of the pressure's errors each; a looser yarn is
	// squeezed more.
	ringTol := rss(tex.Tol/tex.Value, density.Tol/density.Value,
		w.Yarn.Loose.Tol/loose*0.5, w.Yarn.CrushPa.Tol/crush/4, o.TensionTol/4)
	o.WallTol = measure.Length(ring / (4 * outer) * ringTol)
	o.Cover = 2 * float64(o.Turns) * math.Sqrt(ring/(2*float64(o.Turns))) / (math.Pi * d)
	way := (bare+core)/2 + o.Wall
	o.Length = measure.Length(float64(o.Turns)*math.Pi) * way
	o.Mass = measure.Mass(float64(o.Length) * perMetre)
	o.MassTol = o.Mass * measure.Mass(tex.Tol/tex.Value)
	return o
}

// wind computes the yarn.
func (h *Head) wind(lim *knowledge.Limits) {
	var o Wound
	if w := h.Stack.Wrap; w != nil {
		o = w.Wind(h.Bare, h.Stack.Core.Diameter, lim)
	}
	h.Turns, h.YarnWall, h.YarnWallTol = o.Turns, o.Wall, o.WallTol
	h.YarnCover, h.YarnLength, h.YarnMass, h.YarnMassTol = o.Cover, o.Length, o.Mass, o.MassTol
	h.TensionN, h.TensionTol, h.RestPa, h.PressPa = o.TensionN, o.TensionTol, o.RestPa, o.PressPa
}

// Rod is the stick that a head is on, as a stroke meets it.
type Rod struct {
	KgM      float64        // mass of a metre
	Nm2      float64        // resistance to bending
	Diameter measure.Length // in the ball
	Depth    measure.Length // of the bore
}

// rodOf returns the shaft of a stack, or a usual one that fits its bore.
func rodOf(s Stack, lim *knowledge.Limits) Rod {
	r := Rod{
		KgM: lim.RodKgM.Value, Nm2: lim.RodNm2.Value, Diameter: measure.Length(lim.RodM.Value),
		Depth: s.Core.Diameter * measure.Length(min(max(lim.BoreDepth.Value, 0), 1)),
	}
	if sh := s.Shaft; sh != nil {
		r.KgM, r.Diameter = float64(sh.Mass)/float64(sh.Length), sh.Diameter
		if sh.BendingNm2 > 0 {
			r.Nm2 = sh.BendingNm2
		}
	} else if s.Core.Bore > 0 {
		r.Diameter = s.Core.Bore
	}
	r.Diameter = min(r.Diameter, s.Core.Diameter/2)
	return r
}

// PullN returns what the shaft has to hold the head with, in newtons: the head
// of mass m swings round the hand at the fastest speed v of a stroke, m/s, at a
// distance r, which pulls with m v²/r (circular motion), times the limits'
// margin. It is zero without a shaft.
func (h Head) PullN(v float64, lim *knowledge.Limits) float64 {
	sh := h.Stack.Shaft
	if sh == nil {
		return 0
	}
	core := float64(h.Stack.Core.Diameter)
	r := float64(sh.Length) - min(max(lim.BoreDepth.Value, 0), 1)*core + core/2 - lim.HandM.Value
	return lim.PullMargin.Value * float64(h.Mass) * v * v / r
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
