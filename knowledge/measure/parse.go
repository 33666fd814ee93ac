package measure

import (
	"cmp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// MaxText is the longest text, in bytes, that any parser here looks at.
const MaxText = 64

// The largest values that the parsers accept: far past any mallet, small
// enough that no product of a few of them overflows.
const (
	MaxLength Length = 10_000 * Metre
	MaxMass   Mass   = 1_000 * Kilogram
	MaxMoney  Money  = 1_000_000_00
)

// ParseError says what is wrong with a text and what would be valid.
type ParseError struct {
	Text string // as given, shortened to MaxText bytes
	What string // what is wrong
	Try  string // a valid example, or ""
}

func (e *ParseError) Error() string {
	msg := Quote(e.Text) + ": " + e.What
	if e.Try != "" {
		msg += "; try " + e.Try
	}
	return msg
}

// Quote returns text fit for a message: as it is when it is short, printable
// and not blank, else quoted with what is not printable escaped.
func Quote(text string) string {
	short := text
	if len(short) > MaxText {
		short = short[:MaxText]
		for !utf8.ValidString(short) && len(short) > MaxText-utf8.UTFMax {
			short = short[:len(short)-1]
		}
		short += "…"
	}
	plain := strings.TrimSpace(short) != ""
	for _, r := range short {
		plain = plain && unicode.IsPrint(r) && r != utf8.RuneError
	}
	if plain {
		return short
	}
	return strconv.Quote(short)
}

// lengthUnit returns the length that a name or sign stands for, zero when it
// is none. Two apostrophes do for an inch sign, as they do on old keyboards.
func lengthUnit(name string) Length {
	switch name {
	case "in", "inch", "inches", `"`, "″", "”", "“", "''":
		return Inch
	case "ft", "foot", "feet", "'", "′", "’":
		return Foot
	case "yd", "yard", "yards":
		return Yard
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre
	case "m", "metre", "metres", "meter", "meters":
		return Metre
	}
	return 0
}

// massUnit returns the mass that a name stands for, zero when it is none.
func massUnit(name string) Mass {
	switch name {
	case "g", "gram", "grams", "gramme", "grammes":
		return Gram
	case "kg", "kilo", "kilos", "kilogram", "kilograms":
		return Kilogram
	case "oz", "ounce", "ounces":
		return Ounce
	case "lb", "lbs", "pound", "pounds":
		return Pound
	}
	return 0
}

// ParseLength reads a length such as 1-1/8", 1 1/8 in, 1.125, ⅛ in, 28.6 mm,
// 2,9 cm or 2 ft. A number without a unit is in unit; with a unit of zero it
// is an error, except for 0 itself. The error is a *ParseError.
func ParseLength(text string, unit Length) (Length, error) {
	return quantity(text, lengthUnit, unit, MaxLength, `1-1/8 in, 1.125" or 28.6 mm`)
}

// ParseMass reads a mass such as 22 g, 0.05 kg or 1 1/2 oz. A number without
// a unit is in unit; with a unit of zero it is an error, except for 0 itself.
// The error is a *ParseError.
func ParseMass(text string, unit Mass) (Mass, error) {
	return quantity(text, massUnit, unit, MaxMass, "22 g or 3/4 oz")
}

// LikelyLength is ParseLength for what a person measured and knows to lie
// between least and most: a number without a unit is in whichever of
// millimetres and inches puts it there. Where both do, the error asks.
func LikelyLength(text string, least, most Length) (Length, error) {
	return likely(text, ParseLength, least, most, Millimetre, Inch, "mm", "in")
}

// LikelyMass is LikelyLength in grams and ounces.
func LikelyMass(text string, least, most Mass) (Mass, error) {
	return likely(text, ParseMass, least, most, Gram, Ounce, "g", "oz")
}

func likely[Q ~float64](text string, parse func(string, Q) (Q, error), least, most, unit, other Q, name, otherName string) (Q, error) {
	if q, err := parse(text, 0); err == nil {
		return q, nil
	}
	q, err := parse(text, unit)
	if err != nil {
		return 0, err
	}
	in := func(q Q) bool { return q >= least && q <= most }
	swapped := q / unit * other
	switch {
	case in(q) && in(swapped):
		short := strings.TrimSpace(text)
		return 0, &ParseError{Text: clip(text), What: "has no unit, and could be " + name + " or " + otherName, Try: short + " " + name + " or " + short + " " + otherName}
	case in(swapped):
		return swapped, nil
	}
	return q, nil
}

// quantity reads one number with an optional unit that named knows.
func quantity[Q ~float64](text string, named func(string) Q, unit, most Q, try string) (Q, error) {
	fail := func(what, try string) (Q, error) {
		return 0, &ParseError{Text: clip(text), What: what, Try: try}
	}
	if len(text) > MaxText {
		return fail("too long to be a measure", try)
	}
	v, rest, f := number(strings.TrimSpace(text))
	if f != nil {
		return fail(f.what, cmp.Or(f.try, try))
	}
	name := strings.ToLower(strings.TrimSpace(trimHyphen(rest)))
	name = strings.TrimSuffix(name, ".")
	if name != "" {
		if unit = named(name); unit == 0 {
			return fail(Quote(name)+" is not a unit known here", try)
		}
	}
	if unit == 0 && v != 0 {
		return fail("needs a unit", try)
	}
	q := Q(v) * unit
	if q > most {
		return fail("too large to be meant", try)
	}
	return q, nil
}

// fault is what is wrong with a number, and how it might be written.
type fault struct{ what, try string }

// number reads a number, not below zero, from the start of s: a decimal, a
// fraction, or a whole number with a fraction after a space or hyphen. It
// returns what follows the number.
func number(s string) (v float64, rest string, _ *fault) {
	if s == "" {
		return 0, "", &fault{what: "nothing written"}
	}
	if r, n := utf8.DecodeRuneInString(s); isHyphen(r) && n < len(s) {
		return 0, s, &fault{what: "can't be below zero"}
	}
	if v, n := glyph(s); n > 0 {
		return v, s[n:], nil
	}
	whole, rest := digits(s)
	if rest != "" && (rest[0] == '.' || rest[0] == ',') {
		places, after := digits(rest[1:])
		if whole == "" && places == "" {
			return 0, s, &fault{what: "doesn't start with a number"}
		}
		if rest[0] == ',' && len(places) == 3 && whole != "" && whole != "0" {
			return 0, s, &fault{
				what: "the comma may mark decimals or thousands",
				try:  whole + "." + places + " or " + whole + places,
			}
		}
		if rest[0] == '.' || places != "" {
			v, err := strconv.ParseFloat(cmp.Or(whole, "0")+"."+cmp.Or(places, "0"), 64)
			if err != nil { // can't be: digits only, and few
				return 0, s, &fault{what: "isn't a number"}
			}
			return v, after, nil
		}
	}
	if whole == "" {
		return 0, s, &fault{what: "doesn't start with a number"}
	}
	v, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		return 0, s, &fault{what: "isn't a number"}
	}
	if after, ok := cutSlash(strings.TrimLeftFunc(rest, unicode.IsSpace)); ok {
		return fraction(v, after, s)
	}
	// A whole number may be followed by a fraction: 1 1/8, 1-1/8, 1⅛, 1-⅛.
	next := strings.TrimLeftFunc(trimHyphen(strings.TrimLeftFunc(rest, unicode.IsSpace)), unicode.IsSpace)
	if part, n := glyph(next); n > 0 {
		return v + part, next[n:], nil
	}
	if second, after := digits(next); second != "" {
		under, ok := cutSlash(strings.TrimLeftFunc(after, unicode.IsSpace))
		if !ok {
			return 0, s, &fault{what: "reads as two numbers"}
		}
		top, err := strconv.ParseFloat(second, 64)
		if err != nil {
			return 0, s, &fault{what: "isn't a number"}
		}
		part, rest, f := fraction(top, under, s)
		if f != nil {
			return 0, s, f
		}
		if part >= 1 {
			return 0, s, &fault{what: "the fraction after a whole number must be below 1", try: "1-1/8"}
		}
		return v + part, rest, nil
	}
	return v, rest, nil
}

// fraction reads the bottom of a fraction whose top and slash were read.
func fraction(top float64, s, all string) (v float64, rest string, _ *fault) {
	under, rest := digits(strings.TrimLeftFunc(s, unicode.IsSpace))
	if under == "" {
		return 0, all, &fault{what: "the fraction has no bottom", try: "1/8"}
	}
	bottom, err := strconv.ParseFloat(under, 64)
	if err != nil {
		return 0, all, &fault{what: "isn't a number"}
	}
	if bottom == 0 {
		return 0, all, &fault{what: "a fraction's bottom can't be 0", try: "1/8"}
	}
	if _, again := cutSlash(rest); again || strings.HasPrefix(rest, ".") && rest != "." {
		return 0, all, &fault{what: "isn't a fraction", try: "1/8"}
	}
	return top / bottom, rest, nil
}

// digits splits leading ASCII digits off s.
func digits(s string) (number, rest string) {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return s[:n], s[n:]
}

// cutSlash cuts one leading slash of any kind.
func cutSlash(s string) (rest string, ok bool) {
	r, n := utf8.DecodeRuneInString(s)
	if r == '/' || r == '⁄' || r == '∕' {
		return s[n:], true
	}
	return s, false
}

// trimHyphen cuts one leading hyphen or dash, as in 3/4-inch.
func trimHyphen(s string) string {
	if r, n := utf8.DecodeRuneInString(s); isHyphen(r) {
		return s[n:]
	}
	return s
}

func isHyphen(r rune) bool {
	switch r {
	case '-', '‐', '‑', '‒', '–', '—', '−':
		return true
	}
	return false
}

// glyph reads one vulgar-fraction character such as ⅛; n is its size in bytes,
// or 0 when s starts with anything else.
func glyph(s string) (v float64, n int) {
	r, n := utf8.DecodeRuneInString(s)
	if r < utf8.RuneSelf {
		return 0, 0
	}
	top, bottom, ok := strings.Cut(norm.NFKD.String(string(r)), "⁄")
	a, err1 := strconv.Atoi(top)
	b, err2 := strconv.Atoi(bottom)
	if !ok || err1 != nil || err2 != nil || b == 0 {
		return 0, 0
	}
	return float64(a) / float64(b), n
}

// ParseMoney reads an amount such as 4, 4.50 or $4.50 as hundredths. A
// currency sign is accepted and not converted: all amounts are in the
// catalogue's one currency. The error is a *ParseError.
func ParseMoney(text string) (Money, error) {
	fail := func(what string) (Money, error) {
		return 0, &ParseError{Text: clip(text), What: what, Try: "4.50"}
	}
	if len(text) > MaxText {
		return fail("too long to be an amount")
	}
	s := strings.TrimSpace(text)
	for _, sign := range []string{"$", "€", "£"} {
		if rest, ok := strings.CutPrefix(s, sign); ok {
			s = strings.TrimSpace(rest)
			break
		}
		if rest, ok := strings.CutSuffix(s, sign); ok {
			s = strings.TrimSpace(rest)
			break
		}
	}
	if r, _ := utf8.DecodeRuneInString(s); isHyphen(r) {
		return fail("an amount can't be below zero")
	}
	whole, rest := digits(s)
	if whole == "" {
		return fail("isn't an amount")
	}
	cents := "00"
	if rest != "" {
		var after string
		cents, after = digits(rest[1:])
		if (rest[0] != '.' && rest[0] != ',') || cents == "" || after != "" {
			return fail("isn't an amount")
		}
		if len(cents) > 2 {
			return fail("amounts go down to hundredths")
		}
		cents = (cents + "0")[:2]
	}
	n, err := strconv.ParseInt(whole+cents, 10, 64)
	if err != nil || Money(n) > MaxMoney {
		return fail("too large to be meant")
	}
	return Money(n), nil
}

// clip shortens a text kept in an error.
func clip(text string) string {
	if len(text) > MaxText+1 {
		return text[:MaxText+1]
	}
	return text
}
