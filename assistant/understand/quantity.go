package understand

import (
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
	"lb": {mass, float64(measure.Pound)}, "money": {money, 100}, "cent": {money, 1},
	"notch": {notches, 1}, "octave": {octaves, 1}, "year": {years, 1}, "shore": {shore, 1},
}

// at returns the token at i, or an empty one past the end.
func (s *sentence) at(i int) token {
	if i < 0 || i >= len(s.tokens) {
		return token{kind: mark}
	}
	return s.tokens[i]
}

// skip returns i past tokens that are one of words.
func (s *sentence) skip(i int, words ...string) int {
	for _, w := range words {
		if s.at(i).is(w) {
			i++
		}
	}
	return i
}

// slotAt returns the sense of slot that the phrase at i has, and its length.
func (s *sentence) slotAt(i int, slot string) (*sense, int) {
	senses, n := s.r.words.longestPhrase(s.tokens, i)
	for _, x := range senses {
		if x.slot == slot {
			return x, n
		}
	}
	return nil, 0
}

// numberAt reads a number at token i: 3, 1.125, 1/8, 1-1/8, 1 and 1/8, three
// quarters, four and a third. It returns the tokens it takes, 0 for none. Loose
// is set for a bare "quarter", which is a number only with a unit.
func (s *sentence) numberAt(i int) (q quantity, n int, loose bool) {
	t := s.at(i)
	switch t.kind {
	case fraction:
		return quantity{value: t.value, frac: true}, s.fractionEnd(i) - i, false
	case word:
		if f, n := s.fractionWord(i); n > 0 {
			return quantity{value: 1 / f, frac: true, spelt: true}, n, true
		}
		return q, 0, false
	case mark:
		return q, 0, false
	case number:
	default:
		return q, 0, false
	}
	q = quantity{value: t.value, whole: t.whole, spelt: t.spelt}
	if !t.whole {
		return q, 1, false
	}
	j := s.skip(i+1, "-")
	// 1 1/8, 1-1/8; but "two 3/4" is two of something.
	if f := s.at(j); f.kind == fraction && !t.spelt && f.value < 1 {
		return quantity{value: t.value + f.value, frac: true}, s.fractionEnd(j) - i, false
	}
	// three quarters
	if den, n := s.fractionWord(j); n > 0 && t.value < 32 && !s.ordinalAt(j) {
		return quantity{value: t.value / den, frac: true, spelt: true}, j + n - i, false
	}
	// one and an eighth
	if v, n := s.andFraction(i + 1); n > 0 {
		return quantity{value: t.value + v, frac: true, spelt: t.spelt}, n + 1, false
	}
	return q, 1, false
}

// fractionEnd returns the token after the fraction at i, which may be written
// 1/8th.
func (s *sentence) fractionEnd(i int) int {
	if t := s.at(i + 1); t.near && (t.is("th") || t.is("ths") || t.is("nd") || t.is("nds")) {
		return i + 2
	}
	return i + 1
}

// ordinalAt reports whether "third" or "fourth" at i counts something off:
// "two third layers" is not two thirds.
func (s *sentence) ordinalAt(i int) bool {
	_, n := s.slotAt(i, "topic")
	return n > 1
}

// fractionWord reads half, quarter, eighths and the like.
func (s *sentence) fractionWord(i int) (den float64, n int) {
	if x, n := s.slotAt(i, "fraction"); x != nil {
		return x.num, n
	}
	return 0, 0
}

// andFraction reads "and an eighth" or "and 1/8" at i.
func (s *sentence) andFraction(i int) (v float64, n int) {
	j := s.skip(i, "-")
	if !s.at(j).is("and") {
		return 0, 0
	}
	j = s.skip(j+1, "-", "a", "an", "-")
	if t := s.at(j); t.kind == fraction && t.value < 1 {
		return t.value, j + 1 - i
	}
	q, k, _ := s.numberAt(j)
	if k > 0 && q.frac && q.value < 1 {
		return q.value, j + k - i
	}
	return 0, 0
}

// unitAt reads a unit at i. A quote is an inch only straight after a number.
func (s *sentence) unitAt(i int, q quantity) (unit string, n int) {
	t := s.at(i)
	switch {
	case t.is(`"`) && t.near:
		return "in", 1
	case t.is("'") && t.near:
		return "ft", 1
	case t.is("-"):
		if u, n := s.unitAt(i+1, q); n > 0 && !s.at(i+1).is(`"`) {
			return u, n + 1
		}
		return "", 0
	case t.is("a") && q.whole && (t.near || s.text[t.from] == 'A' && q.value >= 20 && q.value <= 100):
		return "shore", 1
	}
	x, n := s.slotAt(i, "unit")
	if x == nil {
		return "", 0
	}
	if t.is("in") && n == 1 && !q.frac && q.whole { // "4 in a cross grip"
		switch after := s.at(i + 1); after.text {
		case "a", "an", "the", "my", "each", "one", "1", "total", "all", "both", "cross":
			return "", 0
		}
	}
	if x.value == "shore" && s.at(i+n).is("a") {
		n++
	}
	if t.is("in") && s.at(i+1).is(".") && s.at(i+1).near && i+2 < len(s.tokens) {
		n++ // "in." within a sentence
	}
	return x.value, n
}

// quantityAt reads a number with its unit at token i, or a pair of lengths,
// and returns the tokens it takes, 0 for none.
func (s *sentence) quantityAt(i int) (quantity, int) {
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
func (s *sentence) singleAt(i int) (quantity, int) {
	if t := s.at(i); t.kind == mark && (t.text == "$" || t.text == "€" || t.text == "£") {
		if q, n, loose := s.numberAt(i + 1); n > 0 && !loose {
			q.dim, q.value, q.unit = money, q.value*100, 100
			return q, n + 1
		}
		return quantity{}, 0
	}
	if q, n := s.unitFirst(i); n > 0 {
		return q, n
	}
	if x, n := s.slotAt(i, "unit"); x != nil && x.value == "shore" { // shore 60
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
		q.dim, q.form = pieces, x.value
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
func (s *sentence) unitFirst(i int) (quantity, int) {
	j := s.skip(i, "a", "an")
	article := j > i
	t := s.at(j)
	if t.kind != word || t.is("in") || len(t.text) < 2 {
		return quantity{}, 0
	}
	x, n := s.slotAt(j, "unit")
	if x == nil || x.value == "shore" || x.value == "year" || x.value == "money" {
		return quantity{}, 0
	}
	size := unitSizes[x.value]
	if v, k := s.andFraction(j + n); k > 0 {
		return quantity{dim: size.dim, value: (1 + v) * size.size, frac: true, spelt: true}, j + n + k - i
	}
	if article || x.value == "in" && s.partWord(j+n) {
		return quantity{dim: size.dim, value: size.size, whole: true, spelt: true}, j + n - i
	}
	return quantity{}, 0
}

// partWord reports whether a word for a part or a material is at token i.
func (s *sentence) partWord(i int) bool {
	kind, _ := s.slotAt(i, "kind")
	material, _ := s.slotAt(i, "material")
	return kind != nil || material != nil
}

// by reports whether token i joins two lengths.
func (s *sentence) by(i int) bool {
	t := s.at(i)
	return t.is("x") || t.is("by") || t.is("*")
}

// pairAt reads "by" and a wall after a first length that took n tokens at i.
func (s *sentence) pairAt(i int, bore quantity, n int) (quantity, int) {
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
func (s *sentence) endsInInches(i, n int) bool {
	t := s.at(i + n - 1)
	if t.is(`"`) {
		return true
	}
	for j := i; j < i+n; j++ {
		if x, _ := s.slotAt(j, "unit"); x != nil && x.value == "in" {
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
