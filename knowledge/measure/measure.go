// Package measure parses and prints the quantities that a maker writes down:
// lengths in inches and millimetres, masses, money, and note names.
//
// Values are held in SI units; people's units appear only where text is read
// or written. Every parser bounds its input, accepts the whole text or
// nothing, and never yields an infinite or undefined value.
package measure

// Length is a distance in metres.
type Length float64

// Units of length.
const (
	Millimetre Length = 1e-3
	Centimetre Length = 1e-2
	Inch       Length = 25.4e-3 // exact since the 1959 international yard and pound agreement
	Foot       Length = 12 * Inch
	Yard       Length = 36 * Inch
	Metre      Length = 1
)

// MM returns l in millimetres.
func (l Length) MM() float64 { return float64(l / Millimetre) }

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Mass is a mass in kilograms.
type Mass float64

// Units of mass.
const (
	Gram     Mass = 1e-3
	Kilogram Mass = 1
	Ounce    Mass = 28.349523125e-3 // avoirdupois, exact
	Pound    Mass = 16 * Ounce
)

// Gravity is what a scale takes to pull a kilogram, m/s2: the standard one
// (CGPM 1901, from memory).
const Gravity = 9.80665

// Newtons returns what m weighs.
func (m Mass) Newtons() float64 { return float64(m) * Gravity }

// Grams returns m in grams.
func (m Mass) Grams() float64 { return float64(m / Gram) }

// Money is an amount in hundredths of the catalogue's currency.
type Money int64

// Note is a pitch as a number of equal-tempered semitones above C-1, so that
// A4 is 69.
type Note int
