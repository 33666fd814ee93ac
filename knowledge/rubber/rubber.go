// Package rubber holds the laws of soft rubber that more than one model
// needs: the modulus that goes with a durometer reading, and the stress in
// rubber that is stretched far.
package rubber

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
