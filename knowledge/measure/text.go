package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// exactInch is how near to a 64th of an inch a length must be to be printed
// as one without a word of warning: 0.0005 in, half of what a caliper reads.
const exactInch = 0.0005

// IsFraction reports whether l is a 64th of an inch to within 0.0005 in.
func (l Length) IsFraction() bool {
	in := l.Inches()
	return math.Abs(in-math.Round(in*64)/64) <= exactInch
}

// Fraction returns l in inches to the nearest 64th, such as "1 1/8", and
// whether l is that fraction to within 0.0005 in.
func (l Length) Fraction() (text string, exact bool) {
	in := l.Inches()
	n := math.Round(in * 64)
	if math.IsNaN(n) || math.Abs(n) > 1e12 {
		return strconv.FormatFloat(in, 'g', 6, 64), false
	}
	exact = l.IsFraction()
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, top, bottom := int64(n)/64, int64(n)%64, int64(64)
	for top != 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return fmt.Sprintf("%s%d", sign, whole), exact
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, top, bottom), exact
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, top, bottom), exact
}

// IsMetric reports whether l is a size in millimetres: a whole number of halves, and not
// exactly a 64th of an inch. A computed length hardly ever is.
func (l Length) IsMetric() bool {
	half, part := l.MM()*2, l.Inches()*64
	return l > 0 && math.Abs(half-math.Round(half)) < 1e-6 && math.Abs(part-math.Round(part)) > 1e-6
}

// Sold returns a size as it is sold: in millimetres when it is one of theirs, from a
// metre up in metres, else as In does.
func (l Length) Sold() string {
	switch {
	case !l.IsMetric():
		return l.In()
	case l >= Metre:
		return decimal(float64(l), 2) + " m"
	}
	return l.Mm()
}

// In returns l in inches: "1 1/8 in" when it is a 64th to within 0.0005 in,
// else a decimal such as "1.34 in" or "0.098 in".
func (l Length) In() string {
	if text, exact := l.Fraction(); exact {
		return text + " in"
	}
	places := 2
	if math.Abs(l.Inches()) < 0.5 {
		places = 3
	}
	return decimal(l.Inches(), places) + " in"
}

// Mm returns l in millimetres to 0.1 mm, or to 0.01 mm below 10 mm: "28.6 mm".
func (l Length) Mm() string {
	places := 1
	if math.Abs(l.MM()) < 10 {
		places = 2
	}
	return decimal(l.MM(), places) + " mm"
}

// Rule returns l as a rule on the bench shows it: the nearest sixteenth of an
// inch and the nearest whole millimetre, "1 1/8 in (29 mm)"; what is under
// 3 mm, or a size in millimetres, in millimetres alone.
func (l Length) Rule() string {
	mm := fmt.Sprintf("%.0f mm", math.Round(l.MM())+0)
	if math.Abs(l.MM()) < 3 || l.IsMetric() {
		return mm
	}
	text, _ := (Length(math.Round(l.Inches()*16)/16) * Inch).Fraction()
	return text + " in (" + mm + ")"
}

// String returns l in both units, "1 1/8 in (28.6 mm)", and a size in millimetres
// in these alone.
func (l Length) String() string {
	if l.IsMetric() {
		return l.Sold()
	}
	return l.In() + " (" + l.Mm() + ")"
}

// String returns m in grams to 0.1 g, or to 0.01 g below 1 g.
func (m Mass) String() string {
	places := 1
	if math.Abs(m.Grams()) < 1 {
		places = 2
	}
	return decimal(m.Grams(), places) + " g"
}

// String returns the amount with two decimals: "4.50".
func (m Money) String() string {
	sign := ""
	n := uint64(m)
	if m < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%02d", sign, n/100, n%100)
}

// decimal prints v to a number of places, halves away from zero, without
// trailing zeros.
func decimal(v float64, places int) string {
	const half = 1 + 1e-12 // 1/8 in is 3.175 mm, a hair less in binary
	s := strconv.FormatFloat(v*half, 'f', places, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// MarshalText writes l so that UnmarshalText reads the same value back: as an
// inch fraction when it is one, else in millimetres or metres. Lengths below
// a nanometre are written as 0; lengths below zero or past MaxLength are an
// error.
func (l Length) MarshalText() ([]byte, error) {
	if !(l >= 0 && l <= MaxLength) {
		return nil, fmt.Errorf("a length of %g m can't be written", float64(l))
	}
	if l < 1e-9 {
		return []byte("0 in"), nil
	}
	fraction, _ := l.Fraction()
	for _, text := range []string{
		fraction + " in",
		strconv.FormatFloat(l.Inches(), 'f', 4, 64) + " in",
		strconv.FormatFloat(l.MM(), 'f', -1, 64) + " mm",
	} {
		if back, err := ParseLength(text, 0); err == nil && back == l {
			return []byte(text), nil
		}
	}
	return []byte(strconv.FormatFloat(float64(l), 'f', -1, 64) + " m"), nil
}

// UnmarshalText reads a length with its unit.
func (l *Length) UnmarshalText(text []byte) (err error) {
	*l, err = ParseLength(string(text), 0)
	return err
}

// UnmarshalYAML reads a length with its unit; the error carries the line.
func (l *Length) UnmarshalYAML(node *yaml.Node) error { return scalar(node, l.UnmarshalText) }

// MarshalText writes m so that UnmarshalText reads the same value back.
// Masses below a nanogram are written as 0; masses below zero or past MaxMass
// are an error.
func (m Mass) MarshalText() ([]byte, error) {
	if !(m >= 0 && m <= MaxMass) {
		return nil, fmt.Errorf("a mass of %g kg can't be written", float64(m))
	}
	if m < 1e-12 {
		return []byte("0 g"), nil
	}
	text := strconv.FormatFloat(m.Grams(), 'f', -1, 64) + " g"
	if back, err := ParseMass(text, 0); err == nil && back == m {
		return []byte(text), nil
	}
	return []byte(strconv.FormatFloat(float64(m), 'f', -1, 64) + " kg"), nil
}

// UnmarshalText reads a mass with its unit.
func (m *Mass) UnmarshalText(text []byte) (err error) {
	*m, err = ParseMass(string(text), 0)
	return err
}

// UnmarshalYAML reads a mass with its unit; the error carries the line.
func (m *Mass) UnmarshalYAML(node *yaml.Node) error { return scalar(node, m.UnmarshalText) }

// MarshalText writes m with two decimals; below zero or past MaxMoney is an
// error.
func (m Money) MarshalText() ([]byte, error) {
	if m < 0 || m > MaxMoney {
		return nil, fmt.Errorf("an amount of %s can't be written", m)
	}
	return []byte(m.String()), nil
}

// UnmarshalText reads an amount.
func (m *Money) UnmarshalText(text []byte) (err error) {
	*m, err = ParseMoney(string(text))
	return err
}

// UnmarshalYAML reads an amount; the error carries the line.
func (m *Money) UnmarshalYAML(node *yaml.Node) error { return scalar(node, m.UnmarshalText) }

// MarshalText writes the note's name; a note without a name is an error.
func (n Note) MarshalText() ([]byte, error) {
	if n < LowestNote || n > HighestNote {
		return nil, fmt.Errorf("note %d has no name", int(n))
	}
	return []byte(n.String()), nil
}

// UnmarshalText reads a note name.
func (n *Note) UnmarshalText(text []byte) (err error) {
	*n, err = ParseNote(string(text))
	return err
}

// UnmarshalYAML reads a note name; the error carries the line.
func (n *Note) UnmarshalYAML(node *yaml.Node) error { return scalar(node, n.UnmarshalText) }

// scalar hands the text of a scalar node to read. Its error is a
// *yaml.TypeError, so that the decoder goes on and reports every bad value of
// a document and not just the first.
func scalar(node *yaml.Node, read func([]byte) error) error {
	err := fmt.Errorf("want a single value here, not a list or a map")
	if node.Kind == yaml.ScalarNode {
		err = read([]byte(node.Value))
	}
	if err != nil {
		return &yaml.TypeError{Errors: []string{fmt.Sprintf("line %d: %v", node.Line, err)}}
	}
	return nil
}
