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

// The coefficients of Dimitriadis et al., Biophysical Journal 82 (2002) 2798,
// eq. 12 (bonded) and eq. 11 (not bonded), for ν = ½. Second-hand: open
// microscopy code that cites the paper.
var (
	bonded   = [4]float64{1.133, 1.283, 0.769, 0.0975}
	unbonded = [4]float64{0.884, 0.781, 0.386, 0.0048}
)

// thinReach is the χ up to which the two series may be trusted.
const thinReach = 1

// Bonded returns the factor by which a layer bonded to a rigid base is
// stiffer than a thick one, for χ = contact radius over thickness. It is
// good to 10 % up to χ = 0.5 and to 20 % at 1. Past that it is an
// extrapolation, which keeps the χ³ growth of an incompressible film that
// can't slip (3π/8·χ³, derived from its lubrication limit).
func Bonded(chi float64) float64 { return thin(&bonded, chi) }

// Unbonded is Bonded for a layer that slides freely on its base. Past χ = 1
// the series would go on as χ³, but a thin film that slips gives way sideways:
// at the softest it is columns that spread freely, F = π·E·R·d²/h or a factor
// of 9π/16·χ (derived). From there the factor bends smoothly to that slope.
func Unbonded(chi float64) float64 {
	if chi <= thinReach {
		return thin(&unbonded, chi)
	}
	const slope = 9 * math.Pi / 16
	c := &unbonded
	more := c[0] + 2*c[1] + 3*c[2] + 4*c[3] - slope
	x := chi - thinReach
	return thin(c, thinReach) + slope*x + more*x/(1+x)
}

func thin(c *[4]float64, x float64) float64 {
	return 1 + x*(c[0]+x*(c[1]+x*(c[2]+x*c[3])))
}

// stiffening is the factor for a layer held with grip g, from 0, free to
// slide, to 1, bonded.
func stiffening(chi, g float64) float64 {
	f := Unbonded(chi)
	if g > 0 {
		f += g * (Bonded(chi) - f)
	}
	return f
}

// grip is how a stretched slice is held by what it lies on. It is not glued,
// it is short, and its cut ends are free, so it is taken to slide; with the
// bonded factor a layer of tubing would hardly soften a head, against common
// practice. gripTol carries the doubt.
const grip, gripTol = 0, 0.15

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

// VanWyk returns the pressure in pascals that squeezes a fibre assembly by
// strain: k·((1−strain)⁻³ − 1), with k = K·E·φ³ for van Wyk's constant K, the
// fibre's modulus E and the fibre volume fraction φ at rest.
//
// Source: van Wyk, Journal of the Textile Institute 37 (1946) T285 (form seen
// second-hand; K from memory). Empirical: it was disputed in 2021, and fails
// at very light pressure.
func VanWyk(strain, k float64) float64 {
	s := 1 - strain
	return k * (1/(s*s*s) - 1)
}

// VanWykSphere returns the force on a layer of yarn of thickness t over a
// sphere of radius r, squeezed by d at the middle by a flat, when nothing
// below yields: 2π·r·t·k·(½((1−ε)⁻² − 1) − ε), ε = d/t. It is VanWyk
// integrated over the patch.
func VanWykSphere(d, r, t, k float64) float64 {
	e := d / t
	return 2 * math.Pi * r * t * k * (0.5*(1/((1-e)*(1-e))-1) - e)
}

// wykStrain returns the strain at the middle of the patch, and its slope,
// for a mean pressure of q·k over the patch. It inverts
// q = ε(3/2 − ε)/(1−ε)², which is VanWykSphere over π·a².
func wykStrain(q float64) (strain, slope float64) {
	root := math.Sqrt(2.25 + 2*q)
	den := 1.5 + 2*q + root
	both := 1 / (den * root) // one division for the two
	inv := both * root
	strain = 2 * q * inv
	slope = 2 * inv * (1 - q*inv*(2+both*den))
	return strain, slope
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
	for range 3 {
		f := -lossSpeed(-z) - e*lossSpeed(z)
		const h = 1e-4
		g := (-lossSpeed(-z-h) - e*lossSpeed(z+h) - f) / h
		z -= f / g
	}
	return max(z, 0)
}
