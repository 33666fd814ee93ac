package strike

import "math"

// The layer laws. Each takes and returns SI units and is valid alone; series
// puts them over one shared patch of contact.

// Hertz returns the force in newtons that presses an elastic sphere of radius
// r metres d metres into a rigid flat, modulus e in pascals, Poisson's ratio
// nu: F = (4/3)·e/(1−nu²)·√r·d^(3/2).
//
// Source: Hertz 1882, as in Johnson, Contact Mechanics, 1985, ch. 4 (from
// memory). Good for contact radii well below r; see hertzReach.
func Hertz(d, r, e, nu float64) float64 {
	return 4.0 / 3 * e / (1 - nu*nu) * math.Sqrt(r) * d * math.Sqrt(d)
}

// hertzReach is the contact radius over the sphere's radius past which a
// stroke is called beyond Hertz. From memory: compressed rubber balls follow
// Hertz to within some 10 % up to a fifth of the radius, which is this patch.
const hertzReach = 0.45

// Sliding returns the factor by which an incompressible layer that slides
// freely on a rigid base is stiffer than a thick one, for χ = √(R·d)/thickness.
//
// It is fitted within 0.2 % up to χ = 5 to the exact solution of a ball on a
// layered half-space (testdata/model/layers.py), and ends in the thin film's own
// 3π/4·χ. The published series for a layer that is not bonded (Dimitriadis et
// al., Biophysical Journal 82 (2002) 2798, eq. 11, second-hand) is 5 to 27 %
// above it for χ of 0.35 to 1.2.
func Sliding(chi float64) float64 {
	x := chi
	return 1 + x*(0.8011+x*(0.7584+0.75*math.Pi*1.6604*x))/(1+x*(0.9729+1.6604*x))
}

// Bonded is Sliding for a layer that is glued to its base, fitted within 1 %.
// (Dimitriadis et al., eq. 12, is 10 to 17 % below it from χ = 0.6 to 1.5.)
func Bonded(chi float64) float64 {
	x := chi
	return 1 + x*(0.9517+x*(2.4515+x*(0.6522-0.0094*x)/(1-0.0582*x)))
}

// bondedReach is the χ past which Bonded's fit turns bad.
const bondedReach = 6

// stiffening is the factor for a layer held in part: hold is 0 where it
// slides, 1 where it is bonded. A layer whose base holds it back by a shear
// spring lies between the two by the same share at every χ, within 3 %
// (testdata/model/layers.py).
func stiffening(chi, hold float64) float64 {
	f := Sliding(chi)
	if hold > 0 {
		f = (1-hold)*f + hold*Bonded(min(chi, bondedReach)) // in this form it never falls with χ by rounding
	}
	return f
}

// slipReach is Slip's dependence on the thickness.
func slipReach(thick float64) float64 {
	if math.IsInf(thick, 1) {
		return 1.059
	}
	y := math.Pow(thick, 1.617)
	return 1.059 * y / (y + 0.815)
}

func slip(chi, reach float64) float64 { return reach / (1 + chi*(0.209+0.678*chi)) }

// squeezed turns the compression lin that a layer of thickness h would take
// if it stayed as soft as at the start into the one it takes, which never
// reaches h, and returns its slope against lin. The load follows a block of
// rubber of one shear modulus in plain compression, λ = 1 − d/h:
//
//	lin/h = (λ⁻² − λ)/3
//
// Source: the neo-Hookean block, as in Treloar, The Physics of Rubber
// Elasticity, ch. 4 (from memory).
func squeezed(lin, h float64) (d, slope float64) {
	// λ³ + 3uλ² = 1 by one step of Newton, from a guess fitted to 0.5 %.
	u := lin / h
	l := (1 + u*(11.27+2.87*u)) / (1 + u*(12.27+u*(14.54+0.625*u)))
	r := 1 / (l * (l + 2*u))
	return h * (1 - l + (l*l*(l+3*u)-1)*r/3), l * l * r
}

// Wound yarn. At rest the pressure between the fibres rises evenly, turn by
// turn, from rest at the outside to rest + press next to the rubber (see
// head.Press), and a layer's thickness is that of its fibres over
// their packing (head.Packing). A pressure q on the outside adds to all of
// them, so what is left of a wall t of yarn is
//
//	t(q) = t·((r+p+q)^⅔ − (r+q)^⅔) / ((r+p)^⅔ − r^⅔)
//
// in closed form, with r for rest and p for press (derived from van Wyk's law).
// The outside gives way first and the inside hardly: soft strokes stay in the
// outer turns.

// Give returns by how much a wall of wound yarn is squeezed by a pressure of q
// Pa, in metres.
func (y Yarn) Give(q float64) float64 {
	w := y.wound()
	g, _ := w.give(q)
	return g
}

// wound is a Yarn made ready.
type wound struct {
	wall, rest, press float64
	c                 float64 // the wall over the difference of its roots
	s0                float64 // 0.6·c·((r+p)^(5/3) − r^(5/3))
}

func (y Yarn) wound() (w wound) {
	if y.Wall <= 0 {
		return w
	}
	w.wall, w.rest, w.press = y.Wall, y.Rest, max(y.Press, 1e-4*y.Rest)
	in, out := math.Cbrt(w.rest+w.press), math.Cbrt(w.rest)
	w.c = w.wall / (in*in - out*out)
	w.s0 = 0.6 * w.c * (in*in*(w.rest+w.press) - out*out*w.rest)
	return w
}

// give returns what the yarn gives under the pressure q, and its slope.
func (w *wound) give(q float64) (g, slope float64) {
	in, out := cbrt(w.rest+w.press+q), cbrt(w.rest+q)
	return w.wall - w.c*(in*in-out*out), 2.0 / 3 * w.c * (1/out - 1/in)
}

// patch returns, for a patch pressed by a ball so that the pressure in its middle
// is q, what the yarn gives there, the mean pressure over the patch, and the
// slopes of both. What a ball presses in falls off as the square of the
// distance from the middle, so the mean is (1/g)·∫₀ᵍ q dg.
func (w *wound) patch(q float64) (g, slope, mean, meanSlope float64) {
	a, b := w.rest+w.press+q, w.rest+q
	in, out := cbrt(a), cbrt(b)
	in2, out2 := in*in, out*out
	g = w.wall - w.c*(in2-out2)
	slope = 2.0 / 3 * w.c * (in - out) / (in * out)
	work := w.wall*q - (0.6*w.c*(in2*a-out2*b) - w.s0) // ∫ g dq
	inv := 1 / g
	return g, slope, q - work*inv, work * slope * inv * inv
}

// cbrt returns the cube root of x, which is above zero and finite, to 1e-14: a
// guess from the exponent, within 6 %, and two of Halley's steps.
func cbrt(x float64) float64 {
	r := math.Float64frombits(math.Float64bits(x)/3 + 0x2a9f7893782da1ce)
	c := r * r * r
	r *= (c + 2*x) / (2*c + x)
	c = r * r * r
	return r * (c + 2*x) / (2*c + x)
}

// shaftStiffens returns the factor by which a ball of rubber is stiffer under
// a blow to its side for the rigid shaft in it, for the shaft's diameter over
// the ball's: 1.1 for the usual ones. The shaft reaches three quarters through and
// the rubber is bonded to it. Fitted to finite elements
// (testdata/model/shaft.py) for ratios of 0.15 to 0.41, within 0.05 for patches of
// 0.3 to 0.45 of the radius; a wider patch feels it more.
func shaftStiffens(ratio float64) float64 { return 1 + 1.51*math.Pow(ratio, 2.14) }

// Moving returns the mass in kg of the part of the rod outside the ball that
// moves with the ball in a stroke of t seconds: the real part of what a long
// bending rod puts against a sideways push at its end, at the frequency
// 1/(2t), when the ball of that moment of inertia (kg·m²) turns with the end.
// With k⁴ = m·ω²/EI and x = J·ω²/(EI·k) it is
//
//	(m/k)·(1 − (1−x)/((1−x)² + 1))
//
// half of m/k for a light ball that turns freely and m/k for one that does not
// turn (derived from the bending waves of a half-infinite rod; what comes back
// from the hand arrives after the stroke).
func (r Rod) Moving(inertia, t float64) float64 {
	if r.KgM <= 0 || r.Nm2 <= 0 || t <= 0 {
		return 0
	}
	w := math.Pi / t
	k := math.Sqrt(math.Sqrt(r.KgM * w * w / r.Nm2))
	x := inertia * w * w / (r.Nm2 * k)
	return r.KgM / k * (1 - (1-x)/((1-x)*(1-x)+1))
}

// The stroke with loss, after Hunt and Crossley, Journal of Applied
// Mechanics 42 (1975) 440 (form from memory): F·(1 + c·v) with F the elastic
// force and v the speed of approach. Dividing out the force leaves an
// equation between speed and stored energy W that no longer holds the shape
// of the law:
//
//	y − ln(1+y) = ζ²/2,  y = c·v,  ζ = ±z·√(1 − W/Wmax)
//
// with + on the way in, − on the way out, and z fixed by the speed of
// approach. Its solution is lossSpeed.

// lossSpeed returns y for ζ: the series of the root of y − ln(1+y) = ζ²/2,
// good to 1e-4 for |ζ| ≤ 1.5, derived.
func lossSpeed(z float64) float64 {
	return z * (1 + z*(1.0/3+z*(1.0/36+z*(-1.0/270+z*(1.0/4320+z/17010)))))
}

// lossRoot returns z for a ball that loses the share loss of its energy, so
// that it comes back with the speed ratio √(1−loss).
func lossRoot(loss float64) float64 {
	e := math.Sqrt(1 - min(max(loss, 0), 0.9))
	z := 3 * (1 - e) / (1 + e)
	for range 2 {
		f := -lossSpeed(-z) - e*lossSpeed(z)
		const h = 1e-4
		g := (-lossSpeed(-z-h) - e*lossSpeed(z+h) - f) / h
		z -= f / g
	}
	return max(z, 0)
}
