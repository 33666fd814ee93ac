package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/taken"
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
	if n := len(s.Out.Moves); n > 0 && !s.neg && s.bound == "" && figure.By(s.place(), i, s.Out.Moves[n-1].Path) { // softer, two steps
		m := &s.Out.Moves[n-1]
		m.By, m.Unit, m.Text, s.changed = math.Copysign(figure.Amount(m.Path, q), m.By), figure.Unit(q.Dim), m.Text+", "+s.Said(i, i+1), true
		return 1
	}
	if it.Limit != "" {
		s.bound, s.boundAt = it.Limit, i
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
	if q.Dim == quantity.Mass && measure.Mass(q.Value).Grams() <= 2 && s.place().Weighs(i) { // a balance good to 0.1 g
		s.add(reading.Take{Path: facts.BenchScale, Value: !s.neg, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
		return 1
	}
	if (q.Dim == quantity.Mass || q.Dim == quantity.Length) && s.Minus(i) && s.Ctx.Asked == "" { // -2 g
		path := figure.Of(q.Dim)
		s.Out.Moves = append(s.Out.Moves, reading.Move{Path: path, By: -figure.Amount(path, q), Unit: figure.Unit(q.Dim), Text: s.Said(i, i+1)})
		s.changed = true
		return 1
	}
	if last := s.LastFigure(); s.bound == "" && last != nil && (last.Bound == "most" || last.Bound == "least") && s.Is(i-1, "nor", "or", "and") && s.Item(i-2).Qty != nil {
		s.bound = last.Bound // not past 30 g nor 42 mm
	}
	if s.neg && s.bound == "" && s.place().Beside(s.deniedAt, i) { // 28, not 82
		s.content, s.neg = true, false
		return 1
	}
	behind := 0
	if s.bound == "" {
		s.bound, behind = s.place().BoundAfter(i + 1) // 35 g max
	}
	path, to := s.figureFor(i)
	if n := s.takeOwn(i, to, path); n > 0 {
		return n
	}
	if path == "" {
		if q.Spelt && q.Value == 1 || s.Is(i, "2", "4") && (s.Subject(i+1) || s.Item(i+1).Any("plain") || q.Dim == quantity.Plain && s.Is(i+1, "make", "heavy", "hard", "soft")) {
			return 1 // one the pronoun, 2 the preposition
		}
		return 0
	}
	if (strings.HasPrefix(path, "want.") || path == "class.size") && (it.Limit == "" && (s.guard().Report(i) || figure.Others(s.place(), i)) || !s.Out.Corrects && figure.Elsewhere(s.place(), i)) { // the old ones were 31 g
		it.Lost, s.content = true, true
		return 1
	}
	v, guess := figure.In(path, q)
	if math.IsNaN(v) {
		return 0
	}
	if s.clause.End == "?" && s.place().StandsAlone(i) && s.At(s.Item(i).To).Is("?") { // 20 grams?
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
	} else if b, n := s.place().BoundAfter(to); bound == "" && n > 0 { // 35 mm across max
		bound, to = b, to+n
	}
	if bound == "" && (path == "want.budget" || path == "want.total_budget") && s.HasWord(s.clause.From, s.clause.To, "only", "just") || bound == "about" && path == "want.budget" && s.HasWord(s.clause.From, i, "have", "weve", "ive", "got", "only", "spare", "afford", "scrape", "manage", "stretch") {
		bound = "most"
	}
	a := reading.Take{Path: path, Value: v, Bound: it.Turn(bound), Degree: 1, Text: s.Said(i, i+1), Sure: 1}
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

// takeOwn takes what the head that somebody has comes to.
func (s figures) takeOwn(i, to int, path string) int {
	q := s.Item(i).Qty
	if path == "" && q.Dim == quantity.Length && figure.Likely(facts.WantDiameterMM, q) {
		path = facts.WantDiameterMM
	}
	of := map[string]string{facts.WantMassG: facts.HeadMassG, facts.WantDiameterMM: facts.HeadDiameterMM}[path]
	if of == "" || s.Ctx.Asked == path || s.bound != "" && s.bound != "about" || s.clause.Act != reading.Tell || !figure.Own(s.place(), i) {
		return 0
	}
	v, _ := figure.In(path, q)
	s.add(reading.Take{Path: of, Value: v, Degree: 1, Text: s.Said(i, to), Sure: 1})
	s.bound, s.topic = "", ""
	return to - i
}

// practice takes "for 10 years": of making mallets, it is experience. Ages are
// read by package harm.
func (s figures) practice(i int) int {
	if level := figure.For(s.place(), i); level != "" && !s.Answered("player.level") {
		s.add(reading.Take{Path: "player.level", Value: level, Degree: 1, Text: s.Said(i, i+1), Sure: 0.8})
		return 1
	}
	return 0
}

// takeSpread takes the figure of type path at item i that ends before item to with
// how far it may be out: 26 g, plus or minus 2 g.
func (s figures) takeSpread(i, to int, path string, v float64) int {
	by, end := figure.Spread(s.place(), to, path)
	if by <= 0 || by >= v/2 {
		return 0
	}
	for k, bound := range []string{"about", limit.Least, limit.Most} {
		s.add(reading.Take{Path: path, Value: v + []float64{0, -by, by}[k], Bound: bound, Degree: 1, Text: s.Said(i, end), Sure: 1})
	}
	s.bound, s.topic = "", ""
	return end - i
}

// takeCount takes how many pairs are wanted and how many learn: four pairs, 24
// students, a class of 30.
func (s figures) takeCount(i int) int {
	q := s.Item(i).Qty
	if s.over || s.once || s.Starts(i-1, "year", "yr", "grade", "std", "standard", "klasse", "form", "aged", "age") {
		return 0
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && s.Answered("want.pairs") && (s.Starts(i+1, "for", "on") || s.Is(i+1, "at", "of") && s.Item(i+2).Qty != nil && s.Item(i+2).Qty.Unit > 0) && !s.Item(i+1).Any("act") { // 3 pair for me and 2 for her
		return s.pairs(i, q.Value)
	}
	if s.place().ForPair(i) { // 10 a pair
		return 0
	}
	if n, to := figure.Groups(s.place(), i); n > 0 {
		s.add(reading.Take{Path: "class.size", Value: n, Degree: 1, Text: s.Said(i, to), Sure: 1})
		return to - i
	}
	if old := s.SaidOf("want.pairs"); old != nil && s.Says(i, "another") && (s.HasWord(i, i+2, "pair") || s.Item(i+1).Mark == ",") && !s.total {
		if v, ok := old.Value.(float64); ok { // one pair soft and another pair hard
			old.Value = v + 1
			s.changed = true
			return 1
		}
	}
	if q != nil && q.Dim == quantity.Pieces && q.Form == "pair" && !s.place().BeforePart(i+1) && !s.neg && (s.Ctx.Asked != "want.budget" || q.Value > 1 && s.Item(i-1).Qty == nil && figure.Sums(s.Chart) > 0) {
		return s.pairs(i, q.Value)
	}
	if n := s.place().Ones(i); n > 0 && len(s.Out.Parts)+len(s.Ctx.Before.Parts) == 0 && s.Ctx.Asked != AskParts { // need 4 hard ones
		return s.pairs(i, n)
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 1 && !s.neg {
		for j := i + 1; j <= i+3 && j < s.clause.To; j++ {
			x := s.Item(j).Has("count")
			if s.Is(i+1, "of") && s.Is(i+2, "them", "us") {
				break
			}
			if x == nil {
				if s.Item(j).Qty != nil && !s.place().Ordinal(j) || s.Item(j).Any("kind", "form", "unit", "holding", "join", "instrument.kind") || s.Is(j, "of") {
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
			if old := s.SaidOf(x.Value); old != nil && x.Value == "class.size" && s.Says(j, "girls", "boys") && s.HasWord(s.clause.From, i, "girls", "boys") { // 14 girls and 12 boys
				n, _ := old.Value.(float64)
				old.Value, s.changed = n+q.Value, true
				return j + 1 - i
			}
			if x.Value == "class.size" && s.place().Siblings(i, j) {
				s.content, s.changed = true, true
				return j + 1 - i
			}
			s.add(reading.Take{Path: x.Value, Value: q.Value, Degree: 1, Text: s.Said(i, j+1), Sure: 1})
			if slices.ContainsFunc(s.Items[i+1:j], func(it cover.Item) bool { return it.Fact() != nil }) { // four soft mallets
				return 1
			}
			return j + 1 - i
		}
	}
	if to := s.place().People(i); to > 0 && !s.Answered("class.size") && s.after != afterPart {
		s.add(reading.Take{Path: "class.size", Value: q.Value, Degree: 1, Text: s.Said(i, min(to, len(s.Items))), Sure: 1})
		return min(to, s.clause.To) - i
	}
	if q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 2 && s.Is(i+1, "of") && s.Is(i+2, "them", "us") || q != nil && q.Whole && q.Value >= 2 && s.Starts(i+1, "of") && s.Says(i+1, "them", "us") {
		if s.place().Group() && !figure.Part(s.place(), i) && !s.Answered("class.size") && s.after != afterPart {
			s.add(reading.Take{Path: "class.size", Value: q.Value, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
			return 2
		}
	}
	if n, to := figure.ClassOf(s.place(), i); n > 0 {
		s.add(reading.Take{Path: "class.size", Value: n, Degree: 1, Text: s.Said(i, to), Sure: 1})
		return to - i
	}
	return 0
}

// pairs takes a number of pairs, and adds it to those of another head.
func (s figures) pairs(i int, n float64) int {
	if s.Ctx.Asked != "want.pairs" && s.place().Made(i) || n == 1 && (s.Ctx.Asked == facts.PlayerMallets || s.Ctx.Asked == facts.PlayerGrip) { // just the pair, one each hand
		s.changed = true
		return 1
	}
	if s.Item(i).Limit == "most" && s.Item(i-2).Limit == "least" && s.Item(i-2).Qty.Form == "pair" { // two or three pairs
		s.add(reading.Take{Path: "want.pairs", Value: n, Bound: "most", Degree: 1, Text: s.Said(i-2, i+1), Sure: 1})
		return 1
	}
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
	if s.Item(i+1).Has("share") != nil && s.Starts(i+1, "each", "ea", "apiece") || s.Is(i+1, "ea") || s.HasWord(i+1, i+3, "each") && s.HasWord(i+1, i+3, "for") {
		n *= max(float64(max(1, s.Kinds())), figure.Players(s.place(), i))
	}
	s.total = n > 1 && i+1 >= s.clause.To
	s.add(reading.Take{Path: "want.pairs", Value: n, Bound: s.Item(i).Turn(s.Item(i).Limit), Degree: 1, Text: s.Said(i, i+1), Sure: 1})
	return 1
}

// pairsAsked takes the number of pairs that a question is put for: how much
// yarn for 30 pairs?
func (s figures) pairsAsked(i int) {
	q := s.Item(i).Qty
	if q == nil || q.Dim != quantity.Pieces || q.Form != "pair" || s.place().BeforePart(i+1) || !s.Is(i-1, "for", "make", "making") && !s.Starts(i-1, "for") {
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
	switch {
	case path != "":
	case s.Ctx.Asked != "" && s.Ctx.Asked != facts.WantSoftness && figure.Fits(s.Ctx.Asked, high) && figure.Likely(s.Ctx.Asked, high) && s.ClauseEnds(i+3): // 20 to 30
		path = s.Ctx.Asked
	case high.Dim == quantity.Length && figure.Likely("want.diameter_mm", high) && s.after != afterPart && len(s.Out.Parts) == 0 && !slices.ContainsFunc(s.Items, func(it cover.Item) bool { return it.Any("kind", "material") }):
		path = "want.diameter_mm"
	}
	if path != "want.mass_g" && path != "want.diameter_mm" && path != "want.budget" && path != "want.softness" {
		return 0
	}
	b, guess := figure.In(path, high)
	from := *low
	if low.Dim == quantity.Plain && high.Dim != quantity.Plain { // the unit is of both
		from.Dim, from.Value = high.Dim, low.Value*high.Unit
	}
	a, _ := figure.In(path, &from)
	if math.IsNaN(a) || math.IsNaN(b) || a >= b {
		return 0
	}
	answer := reading.Take{Path: path, Value: (a + b) / 2, Bound: "about", Degree: 1, Text: s.Said(i, i+3), Sure: 1}
	if s.between || between && s.Starts(i-1, "between", "from") || path != "want.softness" && (s.Ctx.Asked != path || !s.ClauseEnds(i+3)) { // both are limits
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
	if x := s.Item(i + 1).Has("move"); x != nil && figure.Moves(x.Value, s.Item(i).Qty) {
		return 1
	}
	return 0
}

// figureFor returns the fact that the figure at item i settles, or "", and
// where the words for it end.
func (s figures) figureFor(i int) (path string, to int) {
	it, q := s.Item(i), s.Item(i).Qty
	to = i + 1
	role := s.Item(to).Has("role")
	switch {
	case it.Of != "":
		return it.Of, to
	case s.listed && q.Dim != quantity.Money && q.Dim != quantity.Newtons:
		return "", to
	case q.Dim == quantity.Plain && q.Value <= 1 && !q.Spelt && s.place().Weighs(i): // a scale that does 0.1
		return "", to
	case s.topic == facts.WantSoftness && q.Dim == quantity.Plain && !s.ClauseEnds(to): // any softness but the two extremes
		return "", to
	case s.topic != "" && figure.Fits(s.topic, q):
		if s.topic == "want.budget" {
			return s.place().Purse(i), to
		}
		return s.topic, to
	case q.Dim == quantity.Mass && (!figure.Likely("want.mass_g", q) || s.Says(to, "steps", "increments", "divisions", "resolution", "jumps", "precision", "accuracy")):
		return "", to // 0.1 g scale
	case q.Dim == quantity.Mass:
		return "want.mass_g", to
	case s.place().ForPair(i):
		return "want.budget", to
	case q.Dim == quantity.Money && s.Ctx.Asked == "" && s.topic == "" && (s.parts.Prices(i, s.clause.From, s.clause.To) || s.place().Priced(i)):
		s.changed = true
		return "", to
	case q.Dim == quantity.Money && s.Starts(i-1, "another", "extra"): // she'll throw in another tenner
		return "", to
	case q.Dim == quantity.Money:
		if s.hold == reading.Have && s.Starts(i+1, "for") {
			s.walk.hold = reading.Named // I have 25 dollars for everything, shafts too
		}
		return s.place().Purse(i), to
	case q.Dim == quantity.Length && s.Several() && s.Is(to, "one", "ones", "pair", "head") && s.after != afterPart && figure.Likely("want.diameter_mm", q):
		return "want.diameter_mm", to
	case q.Dim == quantity.Plain && q.Whole && figure.SumAgain(s.Ctx.Before, q.Value) && s.Ctx.Asked == "":
		return s.place().Purse(i), to
	case q.Dim == quantity.Plain && q.Whole && s.place().Sum(i) != "":
		return s.place().Sum(i), to
	case q.Dim == quantity.Newtons:
		return "player.tension_n", to
	case q.Spelt && q.Value == 1 && s.Is(i-1, "that", "this", "which", "usual", "other"): // usually that one
		return "", to
	case s.Ctx.Asked != "" && figure.Fits(s.Ctx.Asked, q) && (!s.Answered(s.Ctx.Asked) || it.Limit != "" && s.SaidOf(s.Ctx.Asked).Bound != "") && (q.Dim != quantity.Plain && q.Dim != quantity.Pieces || figure.Answers(s.place(), i)) && figure.Likely(s.Ctx.Asked, q):
		if role != nil {
			to++
		}
		if s.Ctx.Asked == facts.WantSoftness && q.Dim == quantity.Plain && !s.Minus(i) && !s.Is(i-1, "+") && s.Item(i-1).Mark != "+" {
			s.Doubt(facts.WantSoftness, s.Said(i, i+1)) // two may be of anything
			s.changed = true
			return "", to
		}
		return s.Ctx.Asked, to
	case q.Dim == quantity.Plain && (q.Value == 2 || q.Value == 4) && s.Item(s.PastFiller(to)).Has("player.grip") != nil:
		return "player.mallets", to // four, independent grip
	case q.Dim == quantity.Notches && figure.Likely(facts.WantSoftness, q):
		return "want.softness", to
	case q.Dim == quantity.Length && role != nil && role.Value == "across" && it.Limit == "" && s.HasWord(s.clause.From, i, "bars", "bar", "keys", "hand", "hands", "gap", "resonators", "marimba", "table", "case"):
		return "", to // the bars are 40 mm wide
	case (q.Dim == quantity.Length || q.Dim == quantity.Plain && q.Frac && s.bound != "") && role != nil && role.Value == "across":
		return "want.diameter_mm", to + 1
	case q.Dim == quantity.Length && role != nil && role.Value == "outer" && s.after != afterPart && figure.Likely("want.diameter_mm", q):
		return "want.diameter_mm", to + 1
	case q.Dim == quantity.Length && s.bound != "" && s.bound != "about" && (s.after != afterPart || s.Item(i).Limit != "") && figure.Likely("want.diameter_mm", q):
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.Out.Corrects && s.after != afterPart && figure.Likely("want.diameter_mm", q) && len(s.Ctx.Before.Parts) == 0:
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.after != afterPart && s.Several() && figure.Likely("want.diameter_mm", q) && (s.Is(i-1, "one", "other", "others", "second", "pair", "about", "at") || s.Is(i-2, "other", "one")):
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.wants && !s.neg && s.Ctx.Asked != AskParts && taken.SizeAlone(s.Line, s.clause.From, i):
		return "want.diameter_mm", to
	case q.Dim == quantity.Length && s.place().HeadBeside(i):
		return "want.diameter_mm", to
	case (q.Dim == quantity.Length || q.Dim == quantity.Plain && q.Frac) && s.place().StandsAlone(i) && figure.Likely("want.diameter_mm", q) && s.Ctx.Asked == "" && len(s.Out.Takes) > 0:
		return "want.diameter_mm", to
	case q.Dim == quantity.Plain && (s.Out.Corrects || s.place().Calls(i)) && s.Ctx.Asked == "":
		return s.corrected(q), to
	case q.Dim == quantity.Length && s.Ctx.Asked == "" && len(s.Ctx.Before.Parts) == 0 && figure.OfHead(s.place(), i):
		return facts.WantDiameterMM, to
	case (s.bound == limit.Most || s.bound == limit.Least) && s.Ctx.Asked == "" && figure.Capped(s.place(), i):
		return figure.Last(s.Ctx.Before.Takes, s.Out.Takes), to
	}
	return "", to
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
		if _, ok := t.Value.(float64); ok && figure.Fits(t.Path, q) && figure.Likely(t.Path, q) {
			return t.Path
		}
	}
	return ""
}
