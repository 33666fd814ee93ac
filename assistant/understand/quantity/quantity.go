// Package quantity reads numbers, sizes and amounts with their units, as people
// write and speak them. It knows no fact that they could settle, and guesses a
// unit only where it says so.
package quantity

import (
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// Dim is what a quantity is a quantity of.
type Dim byte

const (
	Plain Dim = iota
	Length
	Pair // bore by wall
	Mass
	Money
	Notches
	Octaves
	Years
	Shore
	Newtons
	span   // of time
	Pitch  // in hertz
	Pieces // with a form: piece, pair, skein, dozen
)

// Quantity is a number with what was said of its unit.
type Quantity struct {
	Dim   Dim
	Value float64 // m, kg, cents, or as it is
	Wall  float64 // of a pair, m
	Times float64 // the second number of a pair as written, if it is whole and has no unit
	Guess bool    // the unit was guessed
	Frac  bool    // written with a fraction
	Form  string  // of pieces
	Scale string  // of a durometer: A or D, where the letter was said
	Unit  float64 // the size of one, as it was written
	Whole bool
	Spelt bool
}

// SetUnit makes a bare number one of dim, in a unit of that size in SI, or in hundredths
// of the currency.
func (q *Quantity) SetUnit(dim Dim, size float64) {
	q.Dim, q.Value, q.Unit = dim, q.Value*size, size
}

// unitSizes are units in SI, or in hundredths of the currency.
var unitSizes = map[string]struct {
	dim  Dim
	size float64
}{
	"in": {Length, float64(measure.Inch)}, "ft": {Length, float64(measure.Foot)}, "yd": {Length, float64(measure.Yard)},
	"mm": {Length, float64(measure.Millimetre)}, "cm": {Length, float64(measure.Centimetre)}, "m": {Length, float64(measure.Metre)},
	"g": {Mass, float64(measure.Gram)}, "kg": {Mass, float64(measure.Kilogram)}, "oz": {Mass, float64(measure.Ounce)},
	"lb": {Mass, float64(measure.Pound)}, "tenner": {Money, 1000}, "fiver": {Money, 500}, "money": {Money, 100}, "cent": {Money, 1},
	"notch": {Notches, 1}, "octave": {Octaves, 1}, "year": {Years, 1}, "shore": {Shore, 1}, "shore A": {Shore, 1}, "shore D": {Shore, 1},
	"newton": {Newtons, 1}, "hz": {Pitch, 1}, "khz": {Pitch, 1000}, "time": {span, 1},
}

// Unit returns what a unit of the word list measures, and its size in SI; Plain for
// one that there is not.
func Unit(name string) (Dim, float64) {
	u := unitSizes[name]
	return u.dim, u.size
}

// Words is a text in tokens. Its methods read the numbers and sizes in it.
type Words struct {
	Lex    *lexis.Lexicon
	Text   string
	Tokens []lexis.Token
}

// At returns the token at i, or an empty one past the end.
func (s Words) At(i int) lexis.Token {
	if i < 0 || i >= len(s.Tokens) {
		return lexis.Token{Kind: lexis.Mark}
	}
	return s.Tokens[i]
}

// skip returns i past tokens that are one of words.
func (s Words) skip(i int, words ...string) int {
	for _, w := range words {
		if s.At(i).Is(w) {
			i++
		}
	}
	return i
}

// SlotAt returns the sense of slot that the phrase at i has, and its length.
func (s Words) SlotAt(i int, slot string) (*lexis.Sense, int) {
	senses, n := s.Lex.LongestPhrase(s.Tokens, i)
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
func (s Words) numberAt(i int) (q Quantity, n int, loose bool) {
	if v, n := s.dozens(i); n > 0 {
		return Quantity{Value: v, Whole: true, Spelt: true}, n, false
	}
	if v, n := s.decade(i); n > 0 {
		return Quantity{Value: v, Whole: true, Spelt: true, Form: "decade"}, n, false
	}
	if n := s.couple(i); n > 0 {
		return Quantity{Value: 2, Whole: true, Spelt: true}, n, false
	}
	t := s.At(i)
	switch t.Kind {
	case lexis.Fraction:
		return Quantity{Value: t.Value, Frac: true}, s.fractionEnd(i) - i, false
	case lexis.Word:
		if f, n := s.fractionWord(i); n > 0 {
			return Quantity{Value: 1 / f, Frac: true, Spelt: true}, n, true
		}
		return q, 0, false
	case lexis.Mark:
		return q, 0, false
	case lexis.Number:
	default:
		return q, 0, false
	}
	q = Quantity{Value: t.Value, Whole: t.Whole, Spelt: t.Spelt}
	if t.Spelt && t.Value >= 20 && t.Value < 100 && math.Mod(t.Value, 10) == 0 { // thirty-seven
		j := s.skip(i+1, "-")
		if u := s.At(j); u.Kind == lexis.Number && u.Spelt && u.Value < 10 && u.Value > 0 {
			q.Value += u.Value
			return q, j + 1 - i, false
		}
	}
	if !t.Whole {
		return q, 1, false
	}
	if u := s.At(i + 2); s.At(i+1).Is("point") && u.Kind == lexis.Number && u.Whole && u.Value < 10 { // four point three
		return Quantity{Value: t.Value + u.Value/10}, 3, false
	}
	if v, n := s.hundreds(i); n > 0 {
		q.Value = v
		return q, n, false
	}
	j := s.skip(i+1, "-")
	// 1 1/8, 1-1/8; but "two 3/4" is two of something.
	if f := s.At(j); f.Kind == lexis.Fraction && !t.Spelt && f.Value < 1 {
		return Quantity{Value: t.Value + f.Value, Frac: true}, s.fractionEnd(j) - i, false
	}
	// three quarters
	if den, n := s.fractionWord(j); n > 0 && t.Value < 32 && !s.ordinalAt(j) {
		return Quantity{Value: t.Value / den, Frac: true, Spelt: true}, j + n - i, false
	}
	// one and an eighth
	if v, n := s.andFraction(i + 1); n > 0 {
		return Quantity{Value: t.Value + v, Frac: true, Spelt: t.Spelt}, n + 1, false
	}
	return q, 1, false
}

// dozens reads dozens: a dozen, half a dozen, two dozen, a dozen and a half.
func (s Words) dozens(i int) (v float64, n int) {
	j, v := i, 1.0
	switch t := s.At(i); {
	case t.Is("half"):
		j, v = s.skip(i+1, "a", "-"), 0.5
	case t.Is("a"):
		j = i + 1
	case t.Kind == lexis.Number && t.Whole && t.Value > 0 && t.Value < 50:
		j, v = i+1, t.Value
	}
	if s.At(j).Is("score") && s.At(j+1).Is("of") {
		return 20 * v, j + 1 - i
	}
	if t := s.At(j); !t.Is("dozen") && !t.Is("doz") && !t.Is("dz") && !t.Is("dozens") || t.Is("dozens") && v == 1 {
		return 0, 0
	}
	return 12 * v, j + 1 - i
}

// decade reads ten numbers as about their middle, or where in them it says: the twenties,
// low thirties.
func (s Words) decade(i int) (v float64, n int) {
	j, add := i, 5.0
	switch t := s.At(j); {
	case t.Is("low"), t.Is("lower"), t.Is("early"):
		j, add = j+1, 2
	case t.Is("mid"), t.Is("middle"):
		j++
	case t.Is("high"), t.Is("upper"), t.Is("late"):
		j, add = j+1, 8
	}
	j = s.skip(j, "-")
	at := slices.Index([]string{"twenties", "thirties", "forties"}, s.At(j).Text)
	if at < 0 {
		return 0, 0
	}
	j++
	if x, _ := s.SlotAt(j+1, "unit"); s.At(j).Is("of") && x != nil {
		j++
	}
	return float64(20+10*at) + add, j - i
}

// couple returns how many tokens at i say two of a unit: a couple of grams.
func (s Words) couple(i int) int {
	j := s.skip(i, "a")
	if !s.At(j).Is("couple") {
		return 0
	}
	j = s.skip(j+1, "of")
	if x, _ := s.SlotAt(j, "unit"); x == nil || x.Value == "year" || x.Value == "time" {
		return 0
	}
	return j - i
}

// hundreds reads a spelt number of hundreds: two hundred, a hundred and fifty.
func (s Words) hundreds(i int) (v float64, n int) {
	t := s.At(i)
	j := i + 1
	if t.Value == 100 && t.Spelt {
		v = 100
	} else if h := s.At(j); h.Kind == lexis.Number && h.Spelt && h.Value == 100 && t.Value >= 1 && t.Value < 10 {
		v = 100 * t.Value
		j++
	} else {
		return 0, 0
	}
	k := s.skip(j, "and")
	if u := s.At(k); u.Kind == lexis.Number && u.Spelt && u.Value < 100 && u.Whole {
		v += u.Value
		k++
		if u.Value >= 20 && math.Mod(u.Value, 10) == 0 {
			m := s.skip(k, "-")
			if w := s.At(m); w.Kind == lexis.Number && w.Spelt && w.Value < 10 && w.Value > 0 {
				v += w.Value
				k = m + 1
			}
		}
		return v, k - i
	}
	return v, j - i
}

// fractionEnd returns the token after the fraction at i, which may be written
// 1/8th.
func (s Words) fractionEnd(i int) int {
	if t := s.At(i + 1); t.Near && (t.Is("th") || t.Is("ths") || t.Is("nd") || t.Is("nds")) {
		return i + 2
	}
	return i + 1
}

// ordinalAt reports whether "third" or "fourth" at i counts something off:
// "two third layers" is not two thirds.
func (s Words) ordinalAt(i int) bool {
	_, n := s.SlotAt(i, "topic")
	return n > 1 || s.At(i+1).Is("graders") || s.At(i+1).Is("grader") || s.At(i+1).Is("grade") || s.At(i+1).Is("formers") || s.At(i+1).Is("years") || s.At(i+1).Is("form")
}

// fractionWord reads half, quarter, eighths and the like.
func (s Words) fractionWord(i int) (den float64, n int) {
	if x, n := s.SlotAt(i, "fraction"); x != nil {
		return x.Num, n
	}
	return 0, 0
}

// andFraction reads "and an eighth" or "and 1/8" at i.
func (s Words) andFraction(i int) (v float64, n int) {
	j := s.skip(i, "-")
	j = s.skip(j, ",")
	if !s.At(j).Is("and") && !s.At(j).Is("&") && !s.At(j).Is("n") && !s.At(j).Is("an") && !s.At(j).Is("plus") || s.At(j-1).Is(",") && !s.At(j).Is("plus") {
		return 0, 0
	}
	j = s.skip(j+1, "then", "-", "a", "an", "another", "-")
	if t := s.At(j); t.Kind == lexis.Fraction && t.Value < 1 {
		return t.Value, j + 1 - i
	}
	q, k, _ := s.numberAt(j)
	if k > 0 && q.Frac && q.Value < 1 {
		return q.Value, j + k - i
	}
	return 0, 0
}

// unitAt reads a unit at i. A quote is an inch only straight after a number.
func (s Words) unitAt(i int, q Quantity) (unit string, n int) {
	t := s.At(i)
	switch {
	case t.Is(`"`) && t.Near:
		return "in", 1
	case t.Is("'") && t.Near:
		return "ft", 1
	case t.Is("-"):
		if u, n := s.unitAt(i+1, q); n > 0 && !s.At(i+1).Is(`"`) {
			return u, n + 1
		}
		return "", 0
	case t.Is("n") && s.Text[t.From] == 'N' && !q.Spelt:
		return "newton", 1
	case s.gradeOn(i):
		return "notch", 1
	case t.Is("a") && q.Whole && (t.Near || s.Text[t.From] == 'A' && q.Value >= 20 && q.Value <= 100):
		return "shore A", 1
	case t.Is("d") && q.Whole && (t.Near || s.Text[t.From] == 'D') && q.Value >= 20 && q.Value <= 100:
		return "shore D", 1
	}
	x, n := s.SlotAt(i, "unit")
	if x == nil {
		return "", 0
	}
	if t.Is("in") && n == 1 && !q.Frac && q.Whole { // "4 in a cross grip"
		if q.Spelt && q.Value == 1 && s.At(i+1).Kind == lexis.Word && !s.PartWord(i+1) && !s.At(i+1).Is("and") && !s.At(i+1).Is("by") && !s.At(i+1).Is("x") {
			return "", 0 // she has one in kitchen
		}
		switch after := s.At(i + 1); after.Text {
		case "a", "an", "the", "my", "each", "one", "1", "total", "all", "both", "cross":
			return "", 0
		}
	}
	if x.Value == "shore" {
		scale, k := s.shoreScale(i, n)
		return scale, k
	}
	if t.Is("in") && s.At(i+1).Is(".") && s.At(i+1).Near && i+2 < len(s.Tokens) && !s.At(i+3).Is(":") {
		n++ // "in." within a sentence
	}
	return x.Value, n
}

// shoreScale returns the unit that the n tokens at i for a durometer are, with the
// letter of its scale where that is in them or behind, and the tokens of both.
func (s Words) shoreScale(i, n int) (unit string, k int) {
	for j := i; j <= i+n; j++ {
		for _, scale := range []string{"A", "D"} {
			if s.At(j).Is(strings.ToLower(scale)) {
				return "shore " + scale, max(n, j+1-i)
			}
		}
	}
	return "shore", n
}

// scaleOf returns the letter of the scale of a unit of durometers.
func scaleOf(unit string) string {
	scale, ok := strings.CutPrefix(unit, "shore ")
	if !ok {
		return ""
	}
	return scale
}

// QuantityAt reads a number with its unit at token i, or a pair of lengths,
// and returns the tokens it takes, 0 for none.
func (s Words) QuantityAt(i int) (Quantity, int) {
	if p, n := s.outsideAt(i); n > 0 {
		return p, n
	}
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
func (s Words) singleAt(i int) (Quantity, int) {
	if t := s.At(i); t.Kind == lexis.Mark && (t.Text == "$" || t.Text == "€" || t.Text == "£") {
		if q, n, loose := s.numberAt(i + 1); n > 0 && !loose {
			q.SetUnit(Money, 100)
			return q, n + 1
		}
		return Quantity{}, 0
	}
	if q, n := s.unitFirst(i); n > 0 {
		return q, n
	}
	if q, n := s.note(i); n > 0 {
		return q, n
	}
	if x, n := s.SlotAt(i, "unit"); x != nil && x.Value == "shore" { // shore 60
		scale, k := s.shoreScale(i, n)
		j := s.skip(i+k, "-")
		if q, m, _ := s.numberAt(j); m > 0 && q.Whole {
			if u, k := s.unitAt(j+m, q); k == 1 && strings.HasPrefix(u, "shore ") { // durometer 70A
				scale, m = u, m+k
			}
			q.Dim, q.Scale = Shore, scaleOf(scale)
			return q, j + m - i
		}
	}
	if t := s.At(i + 1); (s.At(i).Is("a") || s.At(i).Is("d")) && t.Kind == lexis.Number && t.Near && t.Whole && t.Value >= 20 && t.Value < 100 { // A60 rubber
		return Quantity{Dim: Shore, Value: t.Value, Scale: strings.ToUpper(s.At(i).Text), Unit: 1, Whole: true}, 2
	}
	q, n, loose := s.numberAt(i)
	if n == 0 {
		return q, 0
	}
	j := i + n
	if q.Frac { // half an inch, a quarter of an inch
		if s.At(j).Is("of") && q.Value < 1 {
			k := s.skip(j+1, "a")
			if of, m, _ := s.numberAt(k); m > 0 && of.Whole && of.Value >= 10 { // a quarter of a hundred
				q.Value, q.Frac, n = q.Value*of.Value, false, k+m-i
				j = k + m
			}
		}
		j = s.skip(j, "of", "a", "an")
	}
	if unit, m := s.unitAt(j, q); m > 0 && !(s.At(j-1).Is("dozen") && unit == "in") { // a dozen inch balls
		size := unitSizes[unit]
		q.SetUnit(size.dim, size.size)
		q.Scale = scaleOf(unit)
		if unit == "in" { // 1 inch and 1/8
			v, k := s.andFraction(j + m)
			if q.Frac && v >= q.Value/size.size {
				k = 0 // half-inch and five-eighths
			}
			if k > 0 && q.Spelt && q.Value > 1.5*size.size {
				return Quantity{Value: q.Value / size.size, Whole: true, Spelt: true}, n // four inch-and-a-quarter balls
			}
			if k > 0 {
				q.Value += v * size.size
				q.Frac = true
				m += k
				if u, k := s.unitAt(j+m, q); u == "in" {
					m += k
				}
			}
		}
		if unit == "money" {
			v, k := s.cents(j + m)
			q.Value += v
			m += k
		}
		if unit == "octave" { // 4 octaves and a third
			v, k := s.andFraction(j + m)
			q.Value += v
			m += k
		}
		if unit == "ft" { // 1 ft 6 in
			if more, k := s.singleAt(j + m); k > 0 && more.Dim == Length && more.Unit == float64(measure.Inch) {
				q.Value += more.Value
				m += k
			}
		}
		return q, j + m - i
	}
	if t := s.At(i + n + 1); s.At(i+n).Is("off") && q.Whole && !q.Frac && t.Kind != lexis.Mark && !t.Is("the") && !t.Is("it") && !t.Is("its") && !t.Is("my") { // 6 off nylon balls
		q.Dim, q.Form = Pieces, "piece"
		return q, n + 1
	}
	at := s.skip(i+n, "-")
	if x, _ := s.SlotAt(at, "form"); x == nil && q.Frac { // half a hank
		at = s.skip(at, "a", "an")
	}
	if x, m := s.SlotAt(at, "form"); x != nil && (!q.Frac || x.Value == "skein" || x.Value == "vessel") && (x.Value != "skein" || !s.At(at).Is("balls") || s.ofYarn(at+m)) {
		q.Dim, q.Form = Pieces, x.Value
		if v, k := s.andFraction(at + m); k > 0 && (x.Value == "skein" || x.Value == "vessel") { // one skein and a half
			q.Value += v
			m += k
		}
		return q, at + m - i
	}
	if loose {
		// a bare quarter: before "by" or a role it is a length in inches
		after := i + n
		if !s.By(after) {
			if x, _ := s.SlotAt(s.skip(after, "-"), "role"); x == nil && !s.afterRole(i) {
				return Quantity{}, 0
			}
		}
	}
	return q, n
}

// afterRole reports whether what is measured is named just before token i: wall's
// an eighth.
func (s Words) afterRole(i int) bool {
	at := i
	for i--; s.At(i).Is("a") || s.At(i).Is("an") || s.At(i).Is("is") || s.At(i).Is("of"); i-- {
	}
	if i < 0 {
		return false
	}
	for _, slot := range []string{"role", "kind"} {
		if x, n := s.SlotAt(i, slot); x != nil && i+n <= at {
			return true
		}
	}
	return false
}

// ofYarn reports whether a word for yarn stands at token i or right after it.
func (s Words) ofYarn(i int) bool {
	for k := i; k < i+2; k++ {
		for _, slot := range []string{"material", "kind", "weight"} {
			if x, _ := s.SlotAt(k, slot); x != nil && (slot == "weight" || x.Value == "yarn" || x.Material().Kind == "yarn") {
				return true
			}
		}
	}
	return false
}

// gradeOn reports whether token i is a grade to go on by, and no grade at school: one
// grade softer.
func (s Words) gradeOn(i int) bool {
	x, _ := s.SlotAt(i+1, "move")
	return x != nil && s.At(i).Is("grade")
}

// unitFirst reads "inch and an eighth", "an inch", "a foot", "a notch".
func (s Words) unitFirst(i int) (Quantity, int) {
	j := s.skip(i, "a", "an")
	article := j > i
	if !article && (s.At(i-1).Is("half") || s.At(i-1).Is("-") && s.At(i-2).Is("half")) {
		return Quantity{}, 0
	}
	t := s.At(j)
	if t.Kind != lexis.Word || t.Is("in") || len(t.Text) < 2 {
		return Quantity{}, 0
	}
	if article && s.gradeOn(j) {
		return Quantity{Dim: Notches, Value: 1, Whole: true, Spelt: true}, j + 1 - i
	}
	if x, n := s.SlotAt(j, "form"); x != nil && (article || s.At(i-1).Is("a")) && (x.Value == "skein" || x.Value == "vessel") { // a skein and a half
		if v, k := s.andFraction(j + n); k > 0 {
			return Quantity{Dim: Pieces, Form: x.Value, Value: 1 + v, Frac: true, Spelt: true}, j + n + k - i
		}
	}
	x, n := s.SlotAt(j, "unit")
	if x == nil || x.Value == "shore" || x.Value == "year" || x.Value == "money" && !(t.Is("pound") && s.At(s.skip(j+1, "or", "so")).Is("of")) {
		return Quantity{}, 0
	}
	size := unitSizes[x.Value]
	if v, k := s.andFraction(j + n); k > 0 {
		return Quantity{Dim: size.dim, Value: (1 + v) * size.size, Frac: true, Spelt: true}, j + n + k - i
	}
	role, _ := s.SlotAt(j+n, "role")
	if article || x.Value == "in" && (s.PartWord(j+n) || role != nil && (role.Value == "bore" || role.Value == "wall")) || x.Value == "yd" && role != nil && role.Value == "long" {
		return Quantity{Dim: size.dim, Value: size.size, Whole: true, Spelt: true}, j + n - i
	}
	return Quantity{}, 0
}

// PartWord reports whether a word for a part or a material is at token i.
func (s Words) PartWord(i int) bool {
	kind, _ := s.SlotAt(i, "kind")
	material, _ := s.SlotAt(i, "material")
	return kind != nil || material != nil
}

// By reports whether token i joins two lengths.
func (s Words) By(i int) bool {
	t := s.At(i)
	return t.Is("x") || t.Is("by") || t.Is("*")
}
