package understand

import (
	"math"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// dim is what a quantity is a quantity of.
type dim byte

const (
	plainNumber dim = iota
	length
	pair // bore by wall
	mass
	money
	notches
	octaves
	years
	shore
	newtons
	span   // of time
	pieces // with a form: piece, pair, skein, dozen
)

// quantity is a number with what was said of its unit.
type quantity struct {
	dim   dim
	value float64 // m, kg, cents, or as it is
	wall  float64 // of a pair, m
	guess bool    // the unit was guessed
	frac  bool    // written with a fraction
	form  string  // of pieces
	unit  float64 // the size of one, as it was written
	whole bool
	spelt bool
}

// unitSizes are units in SI, or in hundredths of the currency.
var unitSizes = map[string]struct {
	dim  dim
	size float64
}{
	"in": {length, float64(measure.Inch)}, "ft": {length, float64(measure.Foot)}, "yd": {length, float64(measure.Yard)},
	"mm": {length, float64(measure.Millimetre)}, "cm": {length, float64(measure.Centimetre)}, "m": {length, float64(measure.Metre)},
	"g": {mass, float64(measure.Gram)}, "kg": {mass, float64(measure.Kilogram)}, "oz": {mass, float64(measure.Ounce)},
	"lb": {mass, float64(measure.Pound)}, "tenner": {money, 1000}, "fiver": {money, 500}, "money": {money, 100}, "cent": {money, 1},
	"notch": {notches, 1}, "octave": {octaves, 1}, "year": {years, 1}, "shore": {shore, 1},
	"newton": {newtons, 1}, "time": {span, 1},
}

// words is a text in tokens. Its methods read the numbers and sizes in it.
type words struct {
	lex    *lexis.Lexicon
	text   string
	tokens []lexis.Token
}

// at returns the token at i, or an empty one past the end.
func (s words) at(i int) lexis.Token {
	if i < 0 || i >= len(s.tokens) {
		return lexis.Token{Kind: lexis.Mark}
	}
	return s.tokens[i]
}

// skip returns i past tokens that are one of words.
func (s words) skip(i int, words ...string) int {
	for _, w := range words {
		if s.at(i).Is(w) {
			i++
		}
	}
	return i
}

// slotAt returns the sense of slot that the phrase at i has, and its length.
func (s words) slotAt(i int, slot string) (*lexis.Sense, int) {
	senses, n := s.lex.LongestPhrase(s.tokens, i)
	for _, x := range senses {
		if x.Slot == slot {
			return x, n
		}
	}
	return nil, 0
}

// numberAt reads a number at token i: 3, 1.125, 1/8, 1-1/8, 1 and 1/8, three
// quarters, four and a third. It returns the tokens it takes, 0 for none. Loose
// is set for a bare "quarter", which is a number only with a unit.
func (s words) numberAt(i int) (q quantity, n int, loose bool) {
	t := s.at(i)
	switch t.Kind {
	case lexis.Fraction:
		return quantity{value: t.Value, frac: true}, s.fractionEnd(i) - i, false
	case lexis.Word:
		if f, n := s.fractionWord(i); n > 0 {
			return quantity{value: 1 / f, frac: true, spelt: true}, n, true
		}
		return q, 0, false
	case lexis.Mark:
		return q, 0, false
	case lexis.Number:
	default:
		return q, 0, false
	}
	q = quantity{value: t.Value, whole: t.Whole, spelt: t.Spelt}
	if t.Spelt && t.Value >= 20 && t.Value < 100 && math.Mod(t.Value, 10) == 0 { // thirty-seven
		j := s.skip(i+1, "-")
		if u := s.at(j); u.Kind == lexis.Number && u.Spelt && u.Value < 10 && u.Value > 0 {
			q.value += u.Value
			return q, j + 1 - i, false
		}
	}
	if !t.Whole {
		return q, 1, false
	}
	j := s.skip(i+1, "-")
	// 1 1/8, 1-1/8; but "two 3/4" is two of something.
	if f := s.at(j); f.Kind == lexis.Fraction && !t.Spelt && f.Value < 1 {
		return quantity{value: t.Value + f.Value, frac: true}, s.fractionEnd(j) - i, false
	}
	// three quarters
	if den, n := s.fractionWord(j); n > 0 && t.Value < 32 && !s.ordinalAt(j) {
		return quantity{value: t.Value / den, frac: true, spelt: true}, j + n - i, false
	}
	// one and an eighth
	if v, n := s.andFraction(i + 1); n > 0 {
		return quantity{value: t.Value + v, frac: true, spelt: t.Spelt}, n + 1, false
	}
	return q, 1, false
}

// fractionEnd returns the token after the fraction at i, which may be written
// 1/8th.
func (s words) fractionEnd(i int) int {
	if t := s.at(i + 1); t.Near && (t.Is("th") || t.Is("ths") || t.Is("nd") || t.Is("nds")) {
		return i + 2
	}
	return i + 1
}

// ordinalAt reports whether "third" or "fourth" at i counts something off:
// "two third layers" is not two thirds.
func (s words) ordinalAt(i int) bool {
	_, n := s.slotAt(i, "topic")
	return n > 1
}

// fractionWord reads half, quarter, eighths and the like.
func (s words) fractionWord(i int) (den float64, n int) {
	if x, n := s.slotAt(i, "fraction"); x != nil {
		return x.Num, n
	}
	return 0, 0
}

// andFraction reads "and an eighth" or "and 1/8" at i.
func (s words) andFraction(i int) (v float64, n int) {
	j := s.skip(i, "-")
	if !s.at(j).Is("and") {
		return 0, 0
	}
	j = s.skip(j+1, "-", "a", "an", "-")
	if t := s.at(j); t.Kind == lexis.Fraction && t.Value < 1 {
		return t.Value, j + 1 - i
	}
	q, k, _ := s.numberAt(j)
	if k > 0 && q.frac && q.value < 1 {
		return q.value, j + k - i
	}
	return 0, 0
}

// unitAt reads a unit at i. A quote is an inch only straight after a number.
func (s words) unitAt(i int, q quantity) (unit string, n int) {
	t := s.at(i)
	switch {
	case t.Is(`"`) && t.Near:
		return "in", 1
	case t.Is("'") && t.Near:
		return "ft", 1
	case t.Is("-"):
		if u, n := s.unitAt(i+1, q); n > 0 && !s.at(i+1).Is(`"`) {
			return u, n + 1
		}
		return "", 0
	case t.Is("n") && s.text[t.From] == 'N' && !q.spelt:
		return "newton", 1
	case t.Is("a") && q.whole && (t.Near || s.text[t.From] == 'A' && q.value >= 20 && q.value <= 100):
		return "shore", 1
	}
	x, n := s.slotAt(i, "unit")
	if x == nil {
		return "", 0
	}
	if t.Is("in") && n == 1 && !q.frac && q.whole { // "4 in a cross grip"
		switch after := s.at(i + 1); after.Text {
		case "a", "an", "the", "my", "each", "one", "1", "total", "all", "both", "cross":
			return "", 0
		}
	}
	if x.Value == "shore" && s.at(i+n).Is("a") {
		n++
	}
	if t.Is("in") && s.at(i+1).Is(".") && s.at(i+1).Near && i+2 < len(s.tokens) {
		n++ // "in." within a sentence
	}
	return x.Value, n
}

// quantityAt reads a number with its unit at token i, or a pair of lengths,
// and returns the tokens it takes, 0 for none.
func (s words) quantityAt(i int) (quantity, int) {
	q, n := s.singleAt(i)
	if n == 0 {
		return q, 0
	}
	if p, m := s.pairAt(i, q, n); m > 0 {
		return p, m
	}
	return q, n
}

// singleAt reads one number with its unit.
func (s words) singleAt(i int) (quantity, int) {
	if t := s.at(i); t.Kind == lexis.Mark && (t.Text == "$" || t.Text == "€" || t.Text == "£") {
		if q, n, loose := s.numberAt(i + 1); n > 0 && !loose {
			q.dim, q.value, q.unit = money, q.value*100, 100
			return q, n + 1
		}
		return quantity{}, 0
	}
	if q, n := s.unitFirst(i); n > 0 {
		return q, n
	}
	if x, n := s.slotAt(i, "unit"); x != nil && x.Value == "shore" { // shore 60
		j := s.skip(i+n, "a", "-")
		if q, m, _ := s.numberAt(j); m > 0 && q.whole {
			q.dim = shore
			return q, j + m - i
		}
	}
	q, n, loose := s.numberAt(i)
	if n == 0 {
		return q, 0
	}
	j := i + n
	if q.frac { // half an inch, a quarter of an inch
		j = s.skip(j, "of", "a", "an")
	}
	if unit, m := s.unitAt(j, q); m > 0 {
		size := unitSizes[unit]
		q.dim, q.value, q.unit = size.dim, q.value*size.size, size.size
		if unit == "in" { // 1 inch and 1/8
			v, k := s.andFraction(j + m)
			if k > 0 && q.spelt && q.value > 1.5*size.size {
				return quantity{value: q.value / size.size, whole: true, spelt: true}, n // four inch-and-a-quarter balls
			}
			if k > 0 {
				q.value += v * size.size
				q.frac = true
				m += k
				if u, k := s.unitAt(j+m, q); u == "in" {
					m += k
				}
			}
		}
		if unit == "ft" { // 1 ft 6 in
			if more, k := s.singleAt(j + m); k > 0 && more.dim == length && more.unit == float64(measure.Inch) {
				q.value += more.value
				m += k
			}
		}
		return q, j + m - i
	}
	if x, m := s.slotAt(s.skip(i+n, "-"), "form"); x != nil && !q.frac {
		q.dim, q.form = pieces, x.Value
		return q, s.skip(i+n, "-") + m - i
	}
	if loose {
		// a bare quarter: before "by" or a role it is a length in inches
		after := i + n
		if !s.by(after) {
			if x, _ := s.slotAt(s.skip(after, "-"), "role"); x == nil {
				return quantity{}, 0
			}
		}
	}
	return q, n
}

// unitFirst reads "inch and an eighth", "an inch", "a foot", "a notch".
func (s words) unitFirst(i int) (quantity, int) {
	j := s.skip(i, "a", "an")
	article := j > i
	t := s.at(j)
	if t.Kind != lexis.Word || t.Is("in") || len(t.Text) < 2 {
		return quantity{}, 0
	}
	x, n := s.slotAt(j, "unit")
	if x == nil || x.Value == "shore" || x.Value == "year" || x.Value == "money" {
		return quantity{}, 0
	}
	size := unitSizes[x.Value]
	if v, k := s.andFraction(j + n); k > 0 {
		return quantity{dim: size.dim, value: (1 + v) * size.size, frac: true, spelt: true}, j + n + k - i
	}
	if article || x.Value == "in" && s.partWord(j+n) {
		return quantity{dim: size.dim, value: size.size, whole: true, spelt: true}, j + n - i
	}
	return quantity{}, 0
}

// partWord reports whether a word for a part or a material is at token i.
func (s words) partWord(i int) bool {
	kind, _ := s.slotAt(i, "kind")
	material, _ := s.slotAt(i, "material")
	return kind != nil || material != nil
}

// by reports whether token i joins two lengths.
func (s words) by(i int) bool {
	t := s.at(i)
	return t.Is("x") || t.Is("by") || t.Is("*")
}

// pairAt reads "by" and a wall after a first length that took n tokens at i.
func (s words) pairAt(i int, bore quantity, n int) (quantity, int) {
	if !s.by(i+n) || bore.dim != length && bore.dim != plainNumber {
		return quantity{}, 0
	}
	j := s.skip(i+n+1, "a", "an")
	wall, m := s.singleAt(j)
	if m == 0 {
		wall, m, _ = s.numberAt(j) // by eighth
	}
	if m == 0 || wall.dim != length && wall.dim != plainNumber {
		return quantity{}, 0
	}
	p := quantity{dim: pair, frac: bore.frac || wall.frac}
	switch {
	case bore.dim == length && wall.dim == length:
		p.value, p.wall = bore.value, wall.value
	case bore.dim == length: // 3/4" by 1/8
		unit := float64(measure.Millimetre)
		if wall.frac || bore.frac {
			unit = float64(measure.Inch)
		}
		p.value, p.wall = bore.value, wall.value*unit
	case wall.dim == length: // 19 by 3 mm: the unit is of both
		unit := float64(measure.Millimetre)
		if wall.frac || bore.frac || s.endsInInches(j, m) {
			unit = float64(measure.Inch)
		}
		p.value, p.wall = bore.value*unit, wall.value
	default:
		unit := guessUnit(bore)
		p.value, p.wall, p.guess = bore.value*unit, wall.value*unit, true
	}
	if !plausibleTube(p.value, p.wall) {
		return quantity{}, 0
	}
	return p, j + m - i
}

// endsInInches reports whether the last unit of the n tokens at i is inches.
func (s words) endsInInches(i, n int) bool {
	t := s.at(i + n - 1)
	if t.Is(`"`) {
		return true
	}
	for j := i; j < i+n; j++ {
		if x, _ := s.slotAt(j, "unit"); x != nil && x.Value == "in" {
			return true
		}
	}
	return false
}

// plausibleTube reports whether bore and wall, in metres, could be tubing's.
// It tells "19 x 3" from "2 x 28 mm", two balls.
func plausibleTube(bore, wall float64) bool {
	return bore >= 3e-3 && bore <= 60e-3 && wall >= 0.4e-3 && wall <= 13e-3 && wall <= bore
}

// guessUnit returns the unit of a length written without one: fractions and
// small numbers are inches, the rest millimetres.
func guessUnit(q quantity) float64 {
	if q.frac || q.value < 4 {
		return float64(measure.Inch)
	}
	return float64(measure.Millimetre)
}
