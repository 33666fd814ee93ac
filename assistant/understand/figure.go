package understand

import (
	"math"
	"slices"

	"mallow/knowledge/measure"
)

// figures takes numbers that are no part of a part.
type figures struct{ *walk }

// takeQuantity takes a figure that is not part of a part.
func (s figures) takeQuantity(i int) int {
	it := s.item(i)
	q := it.qty
	if q == nil {
		return 0
	}
	if n := s.beforeMove(i); n > 0 {
		return n
	}
	if n := s.takeRange(i); n > 0 {
		return n
	}
	if q.dim == years {
		return s.practice(i)
	}
	if (q.dim == mass || q.dim == length) && s.minus(i) && s.ctx.Asked == "" { // -2 g
		path := map[dim]string{mass: "want.mass_g", length: "want.diameter_mm"}[q.dim]
		s.out.Moves = append(s.out.Moves, Move{Path: path, By: -s.amount(path, q), Unit: map[dim]string{mass: "g", length: "mm"}[q.dim], Text: s.said(i, i+1)})
		s.changed = true
		return 1
	}
	if s.neg && s.besideDenial(i) { // 28, not 82
		s.content, s.neg = true, false
		return 1
	}
	path, to := s.figureFor(i)
	if path == "" {
		if q.spelt && q.value == 1 || s.is(i, "2", "4") && (s.subject(i+1) || s.item(i+1).any("plain") || q.dim == plainNumber && s.is(i+1, "make", "heavy", "hard", "soft")) {
			return 1 // one the pronoun, 2 the preposition
		}
		return 0
	}
	v, guess := s.inUnit(path, q)
	if math.IsNaN(v) {
		return 0
	}
	if s.clause.end == "?" && s.standsAlone(i) && s.at(s.item(i).to).Is("?") { // 20 grams?
		s.doubt(path, s.said(i, i+1))
		s.changed = true
		return 1
	}
	if path == "want.softness" && s.minus(i) {
		v = -v
	}
	bound := s.bound
	if b, n := s.boundAfter(to); bound == "" && n > 0 { // 35 g max
		bound, to = b, to+n
	}
	if bound == "" && (path == "want.budget" || path == "want.total_budget") && s.hasWord(s.clause, "only", "just") {
		bound = "most"
	}
	a := Take{Path: path, Value: v, Bound: bound, Degree: 1, Text: s.said(i, i+1), Sure: 1}
	if guess {
		a.Sure = 0.8
	}
	switch path {
	case "player.level":
		a.Value = []string{"first", "some", "many"}[min(2, int(math.Ceil(v/4)))]
	case "player.minor":
		a.Value = v < 18
	case "player.mallets":
		if v == 2 && s.ctx.Asked != "player.mallets" {
			s.add(Take{Path: "player.grip", Value: "two", Degree: 1, Text: a.Text, Sure: 1})
			return 1
		}
	}
	s.add(a)
	s.bound, s.topic = "", ""
	return to - i
}

// practice takes "for 10 years": of making mallets, it is experience. Ages are
// read by package harm.
func (s figures) practice(i int) int {
	if s.hasWord(s.clause, "made", "making", "make", "building", "wrapping", "wrap", "wrapped") && s.hasWord(s.clause, "for", "since") && !s.answered("player.level") && !s.at(s.item(i).to).Is("ago") {
		level := "some"
		if s.item(i).qty.value >= 3 {
			level = "many"
		}
		s.add(Take{Path: "player.level", Value: level, Degree: 1, Text: s.said(i, i+1), Sure: 0.8})
		return 1
	}
	return 0
}

// besideDenial reports whether the number at item i is what was denied, with
// nothing but fillers between.
func (s figures) besideDenial(i int) bool {
	for j := s.deniedAt + 1; j < i; j++ {
		if !s.filler(j) {
			return false
		}
	}
	return s.bound == ""
}

// boundAfter returns the bound said behind a figure, which ends before item i,
// and how many items that takes: 35 g max, thirty is the maximum, 20 or less.
func (s figures) boundAfter(i int) (bound string, n int) {
	j := i
	for j < s.clause.to && j < i+3 && (s.filler(j) || s.is(j, "or", "and") || s.item(j).has("join") != nil && !s.is(j, "but")) {
		j++
	}
	x := s.item(j).has("bound")
	if j >= s.clause.to || x == nil || !s.clauseEnds(j+1) && j+1 < s.clause.to {
		return "", 0
	}
	return x.Value, j + 1 - i
}

// takeCount takes how many pairs are wanted and how many learn: four pairs, 24
// students, a class of 30.
func (s figures) takeCount(i int) int {
	q := s.item(i).qty
	if s.past() || s.starts(i-1, "year", "yr", "grade", "std", "standard", "klasse", "form", "aged", "age") {
		return 0
	}
	if q != nil && q.dim == plainNumber && q.whole && s.answered("want.pairs") && s.starts(i+1, "for", "on") && !s.item(i+1).any("act") { // 3 pair for me and 2 for her
		return s.pairs(i, q.value)
	}
	if s.forPair(i) { // 10 a pair
		return 0
	}
	if q != nil && q.dim == pieces && q.form == "pair" && !s.ofPartSoon(i+1) && !s.neg && s.ctx.Asked != "want.budget" {
		return s.pairs(i, q.value)
	}
	if q != nil && q.dim == plainNumber && q.whole && q.value >= 1 && !s.neg {
		for j := i + 1; j <= i+3 && j < s.clause.to; j++ {
			x := s.item(j).has("count")
			if x == nil {
				if s.item(j).qty != nil && !s.ordinal(j) || s.item(j).any("kind", "form", "unit", "holding", "join", "instrument.kind") || s.is(j, "of") {
					return 0
				}
				continue
			}
			if x.Value == "want.pairs" {
				s.pairs(j, q.value)
				return j + 1 - i
			}
			if q.value < 2 && x.Value == "class.size" {
				return 0
			}
			s.add(Take{Path: x.Value, Value: q.value, Degree: 1, Text: s.said(i, j+1), Sure: 1})
			return j + 1 - i
		}
	}
	if x := s.item(i).has("count"); x != nil && s.starts(i, "class", "group", "classes") && (s.is(i+1, "of", "is", "size") || s.item(i+1).has("filler") != nil && s.starts(i+1, "of")) {
		j := i + 2
		for s.is(j, "about", "is", "around") {
			j++
		}
		if n := s.item(j).qty; n != nil && n.dim == plainNumber && n.whole && x.Value == "class.size" && !s.is(j+1, "year", "mm") {
			s.add(Take{Path: x.Value, Value: n.value, Degree: 1, Text: s.said(i, j+1), Sure: 1})
			return j + 1 - i
		}
	}
	return 0
}

// forPair reports whether item i is a price: 10 a pair.
func (s figures) forPair(i int) bool {
	it := s.item(i)
	return it.qty != nil && it.qty.form == "pair" && it.to-it.from > 2 && s.at(it.to-2).Is("a")
}

// past reports whether the clause tells of what is over: sold 8 pairs last year.
func (s figures) past() bool {
	return s.hasWord(s.clause, "last", "ago", "sold", "borrowed", "previous", "previously", "yesterday", "years", "batch")
}

// ordinal reports whether the quantity at item i is an order: sixth graders.
func (s figures) ordinal(i int) bool { return s.item(i).qty != nil && s.item(i).qty.frac }

// ofPartSoon reports whether a part follows: two pairs of nylon balls.
func (s figures) ofPartSoon(i int) bool {
	p := parter(s)
	return s.ofPart(i) || s.starts(i, "of") && p.ofPart(i+1) || s.filler(i) && s.item(i).to-s.item(i).from > 1 && p.ofPart(i+1)
}

// pairs takes a number of pairs, and adds it to those of another head.
func (s figures) pairs(i int, n float64) int {
	if old := s.saidOf("want.pairs"); old != nil && !s.out.Corrects {
		v, _ := old.Value.(float64)
		old.Value = v + n
		old.Text += " … " + s.said(i, i+1)
		s.doubt("want.pairs", old.Text)
		return 1
	}
	if s.item(i+1).has("share") != nil && s.starts(i+1, "each", "ea", "apiece") || s.is(i+1, "ea") {
		n *= float64(max(1, s.kinds()))
	}
	s.add(Take{Path: "want.pairs", Value: n, Degree: 1, Text: s.said(i, i+1), Sure: 1})
	return 1
}

// pairsAsked takes the number of pairs that a question is put for: how much
// yarn for 30 pairs?
func (s figures) pairsAsked(i int) {
	q := s.item(i).qty
	if q == nil || q.dim != pieces || q.form != "pair" || s.ofPartSoon(i+1) || !s.is(i-1, "for", "make", "making") && !s.starts(i-1, "for") {
		return
	}
	s.pairs(i, q.value)
}

// takeRange takes "30 to 35 g": about the middle, or, of money, at most the
// upper end.
func (s figures) takeRange(i int) int {
	low, high := s.item(i).qty, s.item(i+2).qty
	if high == nil || high.unit == 0 && high.dim != plainNumber || low.dim != plainNumber && low.dim != high.dim || low.value >= high.value && low.dim == high.dim || s.ofPart(i+3) {
		return 0
	}
	link := s.item(i + 1)
	between := s.item(i-1).has("span") != nil
	if to := link.has("span"); link.mark != "-" && (to == nil || to.Value != "to") && (link.has("join") == nil || !between) {
		return 0
	}
	path, _ := s.figureFor(i + 2)
	if path != "want.mass_g" && path != "want.diameter_mm" && path != "want.budget" && path != "want.softness" {
		return 0
	}
	b, guess := s.inUnit(path, high)
	from := *low
	if low.dim == plainNumber && high.dim != plainNumber { // the unit is of both
		from.dim, from.value = high.dim, low.value*high.unit
	}
	a, _ := s.inUnit(path, &from)
	if math.IsNaN(a) || math.IsNaN(b) || a >= b {
		return 0
	}
	answer := Take{Path: path, Value: (a + b) / 2, Bound: "about", Degree: 1, Text: s.said(i, i+3), Sure: 1}
	if path == "want.budget" {
		answer.Value, answer.Bound = b, "most"
	} else if s.between || between && s.starts(i-1, "between") { // both are limits
		low := answer
		low.Value, low.Bound = a, "least"
		s.add(low)
		answer.Value, answer.Bound = b, "most"
		s.between = false
	}
	if guess {
		answer.Sure = 0.8
	}
	s.add(answer)
	s.bound, s.topic = "", ""
	return 3
}

// beforeMove lets "5 g lighter" be taken by its move.
func (s figures) beforeMove(i int) int {
	if x := s.item(i + 1).has("move"); x != nil && s.moves(x.Value, s.item(i).qty) {
		return 1
	}
	return 0
}

// figureFor returns the fact that the figure at item i settles, or "", and
// where the words for it end.
func (s figures) figureFor(i int) (path string, to int) {
	q := s.item(i).qty
	to = i + 1
	role := s.item(to).has("role")
	switch {
	case s.topic != "" && s.fits(s.topic, q):
		if s.topic == "want.budget" {
			return s.purse(i), to
		}
		return s.topic, to
	case q.dim == mass && !s.likely("want.mass_g", q):
		return "", to // 0.1 g scale
	case q.dim == mass:
		return "want.mass_g", to
	case s.forPair(i):
		return "want.budget", to
	case q.dim == money:
		return s.purse(i), to
	case q.dim == newtons:
		return "player.tension_n", to
	case s.ctx.Asked != "" && s.fits(s.ctx.Asked, q) && !s.answered(s.ctx.Asked) && (q.dim != plainNumber && q.dim != pieces || s.standsAlone(i)) && s.likely(s.ctx.Asked, q):
		if role != nil {
			to++
		}
		return s.ctx.Asked, to
	case q.dim == plainNumber && (q.value == 2 || q.value == 4) && s.names(s.item(s.pastFiller(to)), "player.grip"):
		return "player.mallets", to // four, independent grip
	case q.dim == notches:
		return "want.softness", to
	case q.dim == length && role != nil && role.Value == "across":
		return "want.diameter_mm", to + 1
	case q.dim == length && s.headBeside(i):
		return "want.diameter_mm", to
	case (q.dim == length || q.dim == plainNumber && q.frac) && s.standsAlone(i) && s.likely("want.diameter_mm", q) && s.ctx.Asked == "" && s.spoken():
		return "want.diameter_mm", to
	case q.dim == plainNumber && (s.out.Corrects || s.calls(i)) && s.ctx.Asked == "":
		return s.corrected(q), to
	}
	return "", to
}

// calls reports whether the figure at item i is named as the one meant: call it
// 22, make it 22.
func (s figures) calls(i int) bool {
	return s.is(i-1, "it", "its", "meant", "mean") || s.is(i-2, "make", "call") || s.starts(i-1, "make", "call")
}

// spoken reports whether something else of a head was taken.
func (s figures) spoken() bool { return len(s.out.Takes) > 0 }

// purse returns what a sum of money at item i is for: one pair, or all.
func (s figures) purse(i int) string {
	for j := s.clause.from; j < min(s.clause.to+6, len(s.items)); j++ {
		if x := s.item(j).has("share"); x != nil && (j < s.clause.to || s.item(s.clause.to).mark == ",") {
			if x.Value == "total" {
				return "want.total_budget"
			}
			return "want.budget"
		}
	}
	return "want.budget"
}

// corrected returns the fact of the last number that was said before, if q can
// stand in its place.
func (s figures) corrected(q *quantity) string {
	all := append(slices.Clone(s.ctx.Before.Takes), s.out.Takes...)
	for i := len(all) - 1; i >= 0; i-- {
		t := all[i]
		if t.Path == "player.minor" && q.value >= 3 && q.value < 100 {
			return t.Path
		}
		if _, ok := t.Value.(float64); ok && s.fits(t.Path, q) && s.likely(t.Path, q) {
			return t.Path
		}
	}
	return ""
}

// standsAlone reports whether nothing else that counts is said in the clause of
// the figure at item i.
func (s figures) standsAlone(i int) bool {
	for j := s.clause.from; j < s.clause.to; j++ {
		it := s.item(j)
		if j == i || s.filler(j) || it.any("bound", "reply", "alone", "social", "mend", "degree", "join", "role", "unit", "asked") || s.is(j, "maybe", "like", "say", "lets", "um", "uh", "er", "call", "make", "try", "go") {
			continue
		}
		return false
	}
	return true
}

// likely reports whether a bare figure lies where answers to a fact lie.
func (s figures) likely(path string, q *quantity) bool {
	v, _ := s.inUnit(path, q)
	if q.dim == length && path == "want.diameter_mm" {
		v = measure.Length(q.value).MM()
	}
	lo, hi := 0.0, math.Inf(1)
	switch path {
	case "want.mass_g":
		lo, hi = 4, 100
	case "want.diameter_mm":
		lo, hi = 15, 65
	case "want.softness":
		lo, hi = -12, 12
	case "want.budget", "want.total_budget":
		lo, hi = 100, 100000
	case "want.pairs":
		lo, hi = 1, 500
	case "class.size":
		lo, hi = 1, 400
	case "player.mallets":
		lo, hi = 1, 6
	case "player.tension_n":
		lo, hi = 0.5, 20
	case "instrument.low_hz", "instrument.high_hz":
		lo, hi = 25, 8000
	}
	return v >= lo && v <= hi
}

// headBeside reports whether a head or mallet is spoken of beside item i.
func (s figures) headBeside(i int) bool {
	for j := i - 3; j <= i+2; j++ {
		for k := s.item(j).from; k < s.item(j).to; k++ {
			if t := s.at(k).Text; t == "head" || t == "heads" || t == "mallet" || t == "mallets" {
				return true
			}
		}
	}
	return false
}

// fits reports whether a fact can be settled by a quantity.
func (s figures) fits(path string, q *quantity) bool {
	switch path {
	case "want.mass_g":
		return q.dim == mass || q.dim == plainNumber
	case "want.diameter_mm":
		return q.dim == length || q.dim == plainNumber
	case "want.budget", "want.total_budget":
		return q.dim == money || q.dim == plainNumber || q.dim == pieces && q.form == "pair" // 15 a pair
	case "want.softness":
		return q.dim == notches || q.dim == plainNumber
	case "player.level", "player.mallets", "player.hand_n", "want.pairs", "class.size":
		return (q.dim == plainNumber || q.dim == pieces) && q.whole
	case "player.tension_n":
		return q.dim == newtons || q.dim == plainNumber
	case "instrument.low_hz", "instrument.high_hz":
		return q.dim == plainNumber && q.value > 20
	case "player.grip":
		return q.dim == plainNumber && q.value == 2
	}
	return false
}

// inUnit returns a quantity in the fact's unit, and whether that was a guess;
// NaN when it can't be meant.
func (s figures) inUnit(path string, q *quantity) (v float64, guess bool) {
	v = q.value
	switch path {
	case "want.mass_g":
		if q.dim == mass {
			v = measure.Mass(v).Grams()
		}
		v = round(v, 6)
	case "want.diameter_mm":
		unit := 1.0
		if q.dim == plainNumber {
			unit, guess = guessUnit(*q), true
		}
		v = round(measure.Length(v*unit).MM(), 6)
	case "want.budget", "want.total_budget":
		if q.dim != money {
			v *= 100
		}
		v = math.Round(v)
	}
	if v < 0 || v > 1e6 {
		return math.NaN(), false
	}
	return v, guess
}
