// Package rubber holds the laws of soft rubber that more than one model
// needs: the modulus that goes with a durometer reading, and the stress in
// rubber that is stretched far.
package rubber

import "math"

// ReadableLow and ReadableHigh bound the Shore A readings for which Modulus
// is trustworthy.
const (
	ReadableLow  = 20
	ReadableHigh = 80
)

// Modulus returns Young's modulus at rest, in Pa, of a rubber that reads
// shoreA on a type A durometer.
//
// Gent, A. N. (1958), On the relation between indentation hardness and
// Young's modulus, as given by three public programs. It serves from
// about ReadableLow to ReadableHigh; the reading is taken as 1 below 1 and as
// 98 above 98, where the formula runs away.
func Modulus(shoreA float64) float64 {
	s := min(max(shoreA, 1), 98)
	return 1e6 * 0.0981 * (56 + 7.62336*s) / (0.137505 * (254 - 2.54*s))
}

// Moulded returns Young's modulus at rest, in Pa, of a moulded ball of filled
// rubber that reads shoreA: 1.3 times Modulus.
//
// Published for natural rubber filled with black: 5.72 MPa at 65 and 9.24 MPa at 75
// (second-hand: a note that quotes the book "Designing with rubber"), 29 and
// 31 % over Gent; and a mount maker's page has the stiffness of five points more
// as 1.205 times, which is Gent's slope (seen). Nothing was seen above 75.
func Moulded(shoreA float64) float64 { return 1.3 * Modulus(shoreA) }

// HardD returns Young's modulus at rest, in Pa, of a material that reads
// shoreD on a type D durometer: the geometric mean of two relations that lie
// up to 25 % to either side, the one after Qi, Joyce and Boyce 2003 as public
// code has it, u = (100 − D)/20, E = (781.88 − 156.376·u)/u² MPa (second-hand), and
// log10 E = 0.0235·(D + 50) − 0.6403 (seen). For readings of 30 to 75.
func HardD(shoreD float64) float64 {
	d := min(max(shoreD, 10), 95)
	u := (100 - d) / 20
	qi := (781.88 - 156.376*u) / (u * u)
	return 1e6 * math.Sqrt(qi*math.Pow(10, 0.0235*(d+50)-0.6403))
}

// Shear returns the shear modulus at rest in Pa, a third of Young's because
// rubber keeps its volume.
func Shear(shoreA float64) float64 { return Modulus(shoreA) / 3 }

// The two terms of the stress law, fitted by least squares to Treloar's
// uniaxial points up to a stretch of 3.1 as shares of their sum; the fit is
// repeated by the tests. The law follows measured natural rubber up to about
// a stretch of 4; the first term alone, with the same modulus at rest, is a
// quarter too stiff at 2.
const (
	firstTerm  = 0.612
	secondTerm = 1 - firstTerm
)

// Difference returns the true stress along direction a less the true stress
// along direction b, in units of the shear modulus, in rubber stretched by a,
// b and c along three directions at right angles, a·b·c = 1.
//
// Mooney–Rivlin law, with the shares of its two terms from Treloar's points
// of 1944 for natural rubber, as a public program gives them.
func Difference(a, b, c float64) float64 {
	return (a*a - b*b) * (firstTerm + secondTerm*c*c)
}

// Nominal returns the force over the unstretched section of a strip pulled to
// a stretch, in units of the shear modulus.
func Nominal(stretch float64) float64 {
	return (stretch - 1/(stretch*stretch)) * (firstTerm + secondTerm/stretch)
}
