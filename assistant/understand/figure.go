package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// figures takes numbers that are no part of a part.
type figures struct{ *walk }

// takeQuantity takes a figure that is not part of a part.
func (s figures) takeQuantity(i int) int {
	it := s.Item(i)
	q := it.Qty
	if q == nil {
		return 0
	}
	if n := s.beforeMove(i); n > 0 {
		return n
	}
	if n := s.takeRange(i); n > 0 {
		return n
	}
	if q.Dim == quantity.Years {
		if s.Item(i).Used {
			return 1
		}
		return s.practice(i)
	}
	if q.Dim == quantity.Mass && measure.Mass(q.Value).Grams() <= 2 && s.weighs(i) { // a balance good to 0.1 g
		s.add(reading.Take{Path: facts.BenchScale, Value: !s.neg, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
		return 1
	}
	if (q.Dim == quantity.Mass || q.Dim == quantity.Length) && s.Minus(i) && s.Ctx.Asked == "" { // -2 g
		path := factOf(q.Dim)
		s.Out.Moves = append(s.Out.Moves, reading.Move{Path: path, By: -mover(s).amount(path, q), Unit: unitOf(q.Dim), Text: s.Said(i, i+1)})
		s.changed = true
		return 1
	}
	if last := mover(s).lastFigure(); s.bound == "" && last != nil && (last.Bound == "most" || last.Bound == "least") && s.Is(i-1, "nor", "or", "and") && s.Item(i-2).Qty != nil {
		s.bound = last.Bound // not past 30 g nor 42 mm
	}
	if s.neg && s.besideDenial(i) { // 28, not 82
		s.content, s.neg = true, false
		return 1
	}
	behind := 0
	if s.bound == "" {
		s.bound, behind = s.boundAfter(i + 1) // 35 g max
	}
	path, to := s.figureFor(i)
	if path == "" {
		if q.Spelt && q.Value == 1 || s.Is(i, "2", "4") && (s.Subject(i+1) || s.Item(i+1).Any("plain") || q.Dim == quantity.Plain && s.Is(i+1, "make", "heavy", "hard", "soft")) {
			return 1 // one the pronoun, 2 the preposition
		}
		return 0
	}
	v, guess := s.inUnit(path, q)
	if math.IsNaN(v) {
		return 0
	}
	if s.clause.End == "?" && s.standsAlone(i) && s.At(s.Item(i).To).Is("?") { // 20 grams?
		s.Doubt(path, s.Said(i, i+1))
		s.changed = true
		return 1
	}
	if path == "want.softness" && s.Minus(i) {
		v = -v
	}
	if n := s.takeSpread(i, to, path, v); n > 0 {
		return n
	}
	bound := s.bound
	if behind > 0 {
		to = max(to, i+1+behind)
	} else if b, n := s.boundAfter(to); bound == "" && n > 0 { // 35 mm across max
		bound, to = b, to+n
	}
	if bound == "" && (path == "want.budget" || path == "want.total_budget") && s.HasWord(s.clause.From, s.clause.To, "only", "just") {
		bound = "most"
	}
	a := reading.Take{Path: path, Value: v, Bound: bound, Degree: 1, Text: s.Said(i, i+1), Sure: 1}
	if guess {
		a.Sure = 0.8
	}
	switch path {
	case "player.level":
		a.Value = []string{"first", "some", "many"}[min(2, int(math.Ceil(v/4)))]
	case "player.minor":
		a.Value = v < 18
	case "player.mallets":
		if v == 2 && s.Ctx.Asked != "player.mallets" {
			s.add(reading.Take{Path: "player.grip", Value: "two", Degree: 1, Text: a.Text, Sure: 1})
			return 1
		}
	}
	s.add(a)
	s.bound, s.topic = "", ""
	return to - i
}

// weighs reports whether what weighs stands beside item i.
func (s figures) weighs(i int) bool {
	for j := i - 5; j <= i+3; j++ {
		if j >= s.clause.From && j < s.clause.To && (s.Starts(j, "balance", "scale", "scales") || s.Item(j).Has(facts.BenchScale) != nil) {
			return true
		}
	}
	return false
}

// practice takes "for 10 years": of making mallets, it is experience. Ages are
// read by package harm.
func (s figures) practice(i int) int {
	if s.HasWord(s.clause.From, s.clause.To, "made", "making", "make", "building", "wrapping", "wrap", "wrapped") && s.HasWord(s.clause.From, s.clause.To, "for", "since") && !s.Answered("player.level") && !s.At(s.Item(i).To).Is("ago") {
		level := "some"
		if s.Item(i).Qty.Value >= 3 {
			level = "many"
		}
		s.add(reading.Take{Path: "player.level", Value: level, Degree: 1, Text: s.Said(i, i+1), Sure: 0.8})
		return 1
	}
	return 0
}

// besideDenial reports whether the number at item i is what was denied, with
// nothing but fillers between.
func (s figures) besideDenial(i int) bool {
	for j := s.deniedAt + 1; j < i; j++ {
		if !s.Filler(j) {
			return false
		}
	}
	return s.bound == ""
}

// boundAfter returns the bound said behind a figure, which ends before item i,
// and how many items that takes: 35 g max, thirty is the absolute maximum, 20 or
// less, 24 g up.
func (s figures) boundAfter(i int) (bound string, n int) {
	if x := s.Item(i).Has("span"); x != nil && x.Value == "up" {
		return "least", 1
	}
	j := i
	for j < s.clause.To && j < i+5 && (s.Filler(j) || s.Item(j).Has("join") != nil && !s.Is(j, "but") || s.Is(j, "or", "and", "absolute", "upper", "real", "very", "about", "hard", "a", "per", "pair") || s.Item(j).Has("share") != nil) {
		j++
	}
	x := s.Item(j).Has("bound")
	if j >= s.clause.To || x == nil || !s.boundEnds(j+1) {
		return "", 0
	}
	return x.Value, j + 1 - i
}

// boundEnds reports whether a bound that ends before item i closes what is said of
// its figure: the clause ends, or it is told for whom.
func (s figures) boundEnds(i int) bool {
	return i >= s.clause.To || s.ClauseEnds(i) || s.Item(i).Any("share", "join", "count") || s.Is(i, "for", "or", "and", "on", "with") || s.Item(i).Has("bound") != nil
}

// takeSpread takes the figure of type path at item i that ends before item to with
// how far it may be out: 26 g, plus or minus 2 g.
func (s figures) takeSpread(i, to int, path string, v float64) int {
	j := to
	for s.Item(j).Mark == "," || s.Filler(j) {
		j++
	}
	j += s.plusMinus(j)
	q := s.Item(j).Qty
	if j == to || q == nil || !s.fits(path, q) || s.plusMinus(j-1)+s.plusMinus(j-2)+s.plusMinus(j-3) == 0 {
		return 0
	}
	by, _ := s.inUnit(path, q)
	if q.Dim == quantity.Plain {
		by = q.Value
	}
	if math.IsNaN(by) || by <= 0 || by >= v/2 {
		return 0
	}
	for _, t := range []struct {
		v     float64
		bound string
	}{{v, "about"}, {v - by, "least"}, {v + by, "most"}} {
		s.add(reading.Take{Path: path, Value: t.v, Bound: t.bound, Degree: 1, Text: s.Said(i, j+1), Sure: 1})
	}
	s.bound, s.topic = "", ""
	return j + 1 - i
}

// plusMinus returns how many items from i on say plus or minus.
func (s figures) plusMinus(i int) int {
	switch {
	case s.HasWord(i, i+1, "±", "+/-") || s.Starts(i, "plus") && s.Starts(i+1, "minus"), s.Starts(i, "give") && s.HasWord(i, i+1, "take"):
		if s.Starts(i, "plus") {
			return 2
		}
		return 1
	case s.Starts(i, "plus") && s.Is(i+1, "or") && s.Starts(i+2, "minus"):
		return 3
	case s.Is(i, "+") && s.Is(i+1, "/") && s.Is(i+2, "-"), s.Item(i).Mark == "+" && s.Item(i+1).Mark == "/" && s.Item(i+2).Mark == "-":
		return 3
	}
	return 0
}

// takeCount takes how many pairs are wanted and how many learn: four pairs, 24
// students, a class of 30.
func (s figures) takeCount(i int) int {
	q := s.Item(i).Qty
	if s.past() || s.Starts(i-1, "year", "yr", "grade", "std", "standard", "klasse", "form", "aged", "age") {
		return 0
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && s.Answered("want.pairs") && s.Starts(i+1, "for", "on") && !s.Item(i+1).Any("act") { // 3 pair for me and 2 for her
		return s.pairs(i, q.Value)
	}
	if s.forPair(i) { // 10 a pair
		return 0
	}
	if q != nil && q.Dim == quantity.Pieces && q.Form == "pair" && !s.ofPartSoon(i+1) && !s.neg && s.Ctx.Asked != "want.budget" {
		return s.pairs(i, q.Value)
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 1 && !s.neg {
		for j := i + 1; j <= i+3 && j < s.clause.To; j++ {
			x := s.Item(j).Has("count")
			if x == nil {
				if s.Item(j).Qty != nil && !s.ordinal(j) || s.Item(j).Any("kind", "form", "unit", "holding", "join", "instrument.kind") || s.Is(j, "of") {
					return 0
				}
				continue
			}
			if x.Value == "want.pairs" {
				s.pairs(j, q.Value)
				return j + 1 - i
			}
			if q.Value < 2 && x.Value == "class.size" {
				return 0
			}
			s.add(reading.Take{Path: x.Value, Value: q.Value, Degree: 1, Text: s.Said(i, j+1), Sure: 1})
			return j + 1 - i
		}
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 2 && s.Is(i+1, "of") && s.Is(i+2, "them", "us") || q != nil && q.Whole && q.Value >= 2 && s.Starts(i+1, "of") && s.HasWord(i+1, i+2, "them", "us") {
		if s.group() && !s.Answered("class.size") && s.after != afterPart {
			s.add(reading.Take{Path: "class.size", Value: q.Value, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
			return 2
		}
	}
	if x := s.Item(i).Has("count"); x != nil && s.Starts(i, "class", "group", "classes") && (s.Is(i+1, "of", "is", "size") || s.Item(i+1).Has("filler") != nil && s.Starts(i+1, "of")) {
		j := i + 2
		for s.Is(j, "about", "is", "around") {
			j++
		}
		if n := s.Item(j).Qty; n != nil && n.Dim == quantity.Plain && n.Whole && x.Value == "class.size" && !s.Is(j+1, "year", "mm") {
			s.add(reading.Take{Path: x.Value, Value: n.Value, Degree: 1, Text: s.Said(i, j+1), Sure: 1})
			return j + 1 - i
		}
	}
	return 0
}

// group reports whether the line speaks of people who learn together.
func (s figures) group() bool {
	return s.HasWord(0, len(s.Items), "class", "kids", "students", "pupils", "children", "camp", "club", "band", "ensemble", "section", "graders", "boys", "girls", "year", "school", "reception", "lot", "learners", "teach")
}

// forPair reports whether item i is a price: 10 a pair.
func (s figures) forPair(i int) bool {
	it := s.Item(i)
	return it.Qty != nil && it.Qty.Form == "pair" && it.To-it.From > 2 && s.At(it.To-2).Is("a")
}

// past reports whether the clause tells of what is over: sold 8 pairs last year.
func (s figures) past() bool {
	return s.HasWord(s.clause.From, s.clause.To, "last", "ago", "sold", "borrowed", "previous", "previously", "yesterday", "years", "batch")
}

// ordinal reports whether the quantity at item i is an order: sixth graders.
func (s figures) ordinal(i int) bool { return s.Item(i).Qty != nil && s.Item(i).Qty.Frac }

// ofPartSoon reports whether a part follows: two pairs of nylon balls.
func (s figures) ofPartSoon(i int) bool {
	p := parter(s)
	return s.OfPart(i) || s.Starts(i, "of") && p.OfPart(i+1) || s.Filler(i) && s.Item(i).To-s.Item(i).From > 1 && p.OfPart(i+1)
}

// pairs takes a number of pairs, and adds it to those of another head.
func (s figures) pairs(i int, n float64) int {
	if old := s.SaidOf("want.pairs"); old != nil && !s.Out.Corrects {
		v, _ := old.Value.(float64)
		if s.counted += n; s.counted <= v && s.total { // two pair: one hard, one soft
			return 1
		}
		old.Value = v + n
		old.Text += " … " + s.Said(i, i+1)
		s.Doubt("want.pairs", old.Text)
		return 1
	}
	if s.Item(i+1).Has("share") != nil && s.Starts(i+1, "each", "ea", "apiece") || s.Is(i+1, "ea") {
		n *= float64(max(1, s.Kinds()))
	}
	s.total = n > 1 && i+1 >= s.clause.To
	s.add(reading.Take{Path: "want.pairs", Value: n, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
	return 1
}

// pairsAsked takes the number of pairs that a question is put for: how much
// yarn for 30 pairs?
func (s figures) pairsAsked(i int) {
	q := s.Item(i).Qty
	if q == nil || q.Dim != quantity.Pieces || q.Form != "pair" || s.ofPartSoon(i+1) || !s.Is(i-1, "for", "make", "making") && !s.Starts(i-1, "for") {
		return
	}
	s.pairs(i, q.Value)
}

// takeRange takes "30 to 35 g": about the middle, or, of money, at most the
// upper end.
func (s figures) takeRange(i int) int {
	low, high := s.Item(i).Qty, s.Item(i+2).Qty
	if high == nil || high.Unit == 0 && high.Dim != quantity.Plain || low.Dim != quantity.Plain && low.Dim != high.Dim || low.Value >= high.Value && low.Dim == high.Dim || s.OfPart(i+3) {
		return 0
	}
	link := s.Item(i + 1)
	between := s.Item(i-1).Has("span") != nil
	if to := link.Has("span"); link.Mark != "-" && (to == nil || to.Value != "to") && (link.Has("join") == nil || !between) {
		return 0
	}
	path, _ := s.figureFor(i + 2)
	if path != "want.mass_g" && path != "want.diameter_mm" && path != "want.budget" && path != "want.softness" {
		return 0
	}
	b, guess := s.inUnit(path, high)
	from := *low
	if low.Dim == quantity.Plain && high.Dim != quantity.Plain { // the unit is of both
		from.Dim, from.Value = high.Dim, low.Value*high.Unit
	}
	a, _ := s.inUnit(path, &from)
	if math.IsNaN(a) || math.IsNaN(b) || a >= b {
		return 0
	}
	answer := reading.Take{Path: path, Value: (a + b) / 2, Bound: "about", Degree: 1, Text: s.Said(i, i+3), Sure: 1}
	if path == "want.budget" {
		answer.Value, answer.Bound = b, "most"
	} else if s.between || between && s.Starts(i-1, "between") || path != "want.softness" && s.Ctx.Asked != path { // both are limits
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
	if x := s.Item(i + 1).Has("move"); x != nil && mover(s).moves(x.Value, s.Item(i).Qty) {
		return 1
	}
	return 0
}

// figureFor returns the fact that the figure at item i settles, or "", and
// where the words for it end.
func (s figures) figureFor(i int) (path string, to int) {
	q := s.Item(i).Qty
	to = i + 1
	role := s.Item(to).Has("role")
	switch {
	case s.topic != "" && s.fits(s.topic, q):
		if s.topic == "want.budget" {
			return s.purse(i), to
		}
		return s.topic, to
	case q.Dim == quantity.Mass && !s.likely("want.mass_g", q):
		return "", to // 0.1 g scale
	case q.Dim == quantity.Mass:
		return "want.mass_g", to
	case s.forPair(i):
		return "want.budget", to
	case q.Dim == quantity.Money:
		return s.purse(i), to
	case q.Dim == quantity.Newtons:
		return "player.tension_n", to
	case s.Ctx.Asked != "" && s.fits(s.Ctx.Asked, q) && !s.Answered(s.Ctx.Asked) && (q.Dim != quantity.Plain && q.Dim != quantity.Pieces || s.standsAlone(i)) && s.likely(s.Ctx.Asked, q):
		if role != nil {
			to++
		}
		return s.Ctx.Asked, to
	case q.Dim == quantity.Plain && (q.Value == 2 || q.Value == 4) && s.Item(s.PastFiller(to)).Has("player.grip") != nil:
		return "player.mallets", to // four, independent grip
	case q.Dim == quantity.Notches:
		return "want.softness", to
	case q.Dim == quantity.Length && role != nil && role.Value == "across":
		return "want.diameter_mm", to + 1
	case q.Dim == quantity.Length && role != nil && role.Value == "outer" && s.after != afterPart && s.likely("want.diameter_mm", q):
		return "want.diameter_mm", to + 1
	case q.Dim == quantity.Length && s.bound != "" && s.bound != "about" && s.after != afterPart && s.likely("want.diameter_mm", q):
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.Out.Corrects && s.after != afterPart && s.likely("want.diameter_mm", q) && !s.partsBefore():
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.headBeside(i):
		return "want.diameter_mm", to
	case (q.Dim == quantity.Length || q.Dim == quantity.Plain && q.Frac) && s.standsAlone(i) && s.likely("want.diameter_mm", q) && s.Ctx.Asked == "" && s.spoken():
		return "want.diameter_mm", to
	case q.Dim == quantity.Plain && (s.Out.Corrects || s.calls(i)) && s.Ctx.Asked == "":
		return s.corrected(q), to
	}
	return "", to
}

// partsBefore reports whether parts were spoken of before.
func (s figures) partsBefore() bool { return len(s.Ctx.Before.Parts) > 0 }

// calls reports whether the figure at item i is named as the one meant: call it
// 22, make it 22.
func (s figures) calls(i int) bool {
	return s.Is(i-1, "it", "its", "meant", "mean") || s.Is(i-2, "make", "call") || s.Starts(i-1, "make", "call")
}

// spoken reports whether something else of a head was taken.
func (s figures) spoken() bool { return len(s.Out.Takes) > 0 }

// purse returns what a sum of money at item i is for: one pair, or all.
func (s figures) purse(i int) string {
	if n := s.Item(i + 2).Qty; s.Starts(i+1, "for") && n != nil && n.Form == "pair" && n.Value > 1 { // 25 for 2 pair
		return "want.total_budget"
	}
	share, far := "", len(s.Items)
	from, to := s.sumSpan(i)
	for j := from; j < to; j++ {
		x := s.Item(j).Has("share")
		value := ""
		switch {
		case x != nil:
			value = x.Value
		case s.forAll(j):
			value = "total"
		}
		if d := max(j-i, i-j); value != "" && d < far {
			share, far = value, d
		}
	}
	if share == "total" {
		return "want.total_budget"
	}
	return "want.budget"
}

// sumSpan returns the items among which it is told what the sum at item i is for:
// those of its sentence that are nearer to it than to another sum.
func (s figures) sumSpan(i int) (from, to int) {
	stop := func(j int) bool {
		q := s.Item(j).Qty
		return j < 0 || j >= len(s.Items) || s.Item(j).Mark != "" && strings.Contains(".;!?", s.Item(j).Mark) || q != nil && q.Dim == quantity.Money
	}
	from, to = i, i+1
	for from > s.clause.From && !stop(from-1) {
		from--
	}
	for !stop(to) && to < i+12 {
		to++
	}
	return from, to
}

// forAll reports whether item i begins words for all of them: for all six, between
// the two, for the six of us.
func (s figures) forAll(i int) bool {
	if !s.HasWord(i, i+1, "for", "between", "among", "amongst") {
		return false
	}
	for j := i; j < i+3; j++ {
		if s.HasWord(j, j+1, "all", "us", "them", "both") {
			return true
		}
		if q := s.Item(j).Qty; q != nil {
			return q.Dim == quantity.Plain && q.Whole && q.Value > 1 && !s.Starts(j+1, "year", "years", "and", "to") && s.Item(j+1).Mark != "-"
		}
	}
	return false
}

// corrected returns the fact of the last number that was said before, if q can
// stand in its place.
func (s figures) corrected(q *quantity.Quantity) string {
	all := append(slices.Clone(s.Ctx.Before.Takes), s.Out.Takes...)
	for i := len(all) - 1; i >= 0; i-- {
		t := all[i]
		if t.Path == "player.minor" && q.Value >= 3 && q.Value < 100 {
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
	for j := s.clause.From; j < s.clause.To; j++ {
		it := s.Item(j)
		if j == i || s.Filler(j) || it.Any("bound", "reply", "alone", "social", "mend", "degree", "join", "role", "unit", "asked") || s.Is(j, "maybe", "like", "say", "lets", "um", "uh", "er", "call", "make", "try", "go") {
			continue
		}
		return false
	}
	return true
}

// likely reports whether a bare figure lies where answers to a fact lie.
func (s figures) likely(path string, q *quantity.Quantity) bool {
	v, _ := s.inUnit(path, q)
	if q.Dim == quantity.Length && path == "want.diameter_mm" {
		v = measure.Length(q.Value).MM()
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
	for j := max(s.clause.From, i-8); j <= i+2; j++ {
		for k := s.Item(j).From; k < s.Item(j).To; k++ {
			if t := s.At(k).Text; t == "head" || t == "heads" || t == "mallet" || t == "mallets" {
				return true
			}
		}
	}
	return false
}

// fits reports whether a fact can be settled by a quantity.
func (s figures) fits(path string, q *quantity.Quantity) bool {
	switch path {
	case "want.mass_g":
		return q.Dim == quantity.Mass || q.Dim == quantity.Plain
	case "want.diameter_mm":
		return q.Dim == quantity.Length || q.Dim == quantity.Plain
	case "want.budget", "want.total_budget":
		return q.Dim == quantity.Money || q.Dim == quantity.Plain || q.Dim == quantity.Pieces && q.Form == "pair" // 15 a pair
	case "want.softness":
		return q.Dim == quantity.Notches || q.Dim == quantity.Plain
	case "player.level", "player.mallets", "player.hand_n", "want.pairs", "class.size":
		return (q.Dim == quantity.Plain || q.Dim == quantity.Pieces) && q.Whole
	case "player.tension_n":
		return q.Dim == quantity.Newtons || q.Dim == quantity.Plain
	case "instrument.low_hz", "instrument.high_hz":
		return q.Dim == quantity.Plain && q.Value > 20
	case "player.grip":
		return q.Dim == quantity.Plain && q.Value == 2
	}
	return false
}

// inUnit returns a quantity in the fact's unit, and whether that was a guess;
// NaN when it can't be meant.
func (s figures) inUnit(path string, q *quantity.Quantity) (v float64, guess bool) {
	v = q.Value
	switch path {
	case "want.mass_g":
		if q.Dim == quantity.Mass {
			v = measure.Mass(v).Grams()
		}
		v = math.Round(v*1e6) / 1e6
	case "want.diameter_mm":
		unit := 1.0
		if q.Dim == quantity.Plain {
			unit, guess = quantity.GuessUnit(*q), true
		}
		v = math.Round(measure.Length(v*unit).MM()*1e6) / 1e6
	case "want.budget", "want.total_budget":
		if q.Dim != quantity.Money {
			v *= 100
		}
		v = math.Round(v)
	}
	if v < 0 || v > 1e6 {
		return math.NaN(), false
	}
	return v, guess
}
