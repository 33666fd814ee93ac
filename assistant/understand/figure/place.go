package figure

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// Place is the clause that a figure stands in, From..To.
type Place struct {
	*cover.Chart
	From, To int
}

// HeadBeside reports whether a head or mallet is spoken of beside item i.
func (s Place) HeadBeside(i int) bool {
	for j := max(s.From, i-8); j <= i+2; j++ {
		for k := s.Item(j).From; k < s.Item(j).To; k++ {
			if t := s.At(k).Text; t == "head" || t == "heads" || t == "mallet" || t == "mallets" {
				return true
			}
		}
	}
	return false
}

// Purse returns what a sum of money at item i is for: one pair, or all.
func (s Place) Purse(i int) string {
	if n := s.Item(i + 2).Qty; s.Starts(i+1, "for") && n != nil && n.Form == "pair" && n.Value > 1 || s.Open == "want.total_budget" && !s.HasWord(i, s.To, "each", "per", "apiece") { // 25 for 2 pair
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

// Priced reports whether the sum at item i is what other mallets are sold for: shop
// ones cost 40 a pair; the sticks they want are 60.
func (s Place) Priced(i int) bool {
	for j := i - 1; j >= s.From && j > i-4; j-- {
		if s.Says(j, "are", "were", "cost", "costs", "charge", "charges", "sell", "sells") {
			return s.HasWord(s.From, j, "ones", "sticks", "shop", "shops", "store", "stores", "mallets", "beaters", "they", "online", "pairs") &&
				!s.HasWord(s.From, i, "must", "should", "can", "may", "not", "cant", "shouldnt", "mustnt", "max", "if", "keep", "under", "below", "no")
		}
	}
	return false
}

// ofThing reports whether the length or weight at item i is of a thing that somebody
// has and that has no name here: got heatshrink up to 25 mm.
func ofThing(s Place, i int) bool {
	if q := s.Item(i).Qty; q == nil || q.Dim != quantity.Length && q.Dim != quantity.Mass {
		return false
	}
	j := i - 1
	for j > s.From && (s.Item(j).Has("bound") != nil || s.Filler(j)) {
		j--
	}
	return j > s.From && s.Unknown(j) && s.Says(j-1, "got", "have", "ive", "found", "theres", "some")
}

// Others reports whether the figure at item i is told of something that is no head to
// come: of mallets that others have or sell, or of a thing on hand. Hers are 31 g; my
// teacher spends 80 a pair.
func Others(s Place, i int) bool {
	if ofThing(s, i) {
		return true
	}
	if s.HasWord(s.From, i, "want", "like", "should", "must", "make", "need", "please", "keep", "under", "than", "max", "most") {
		return false
	}
	if q := s.Item(i).Qty; q != nil && q.Dim != quantity.Money && !s.HasWord(s.From, s.To, "mind", "hoped", "thought", "thinking", "meant", "id", "wish", "if", "could", "can", "would") &&
		(s.HasWord(s.From, i, "own", "owned") || s.HasWord(s.From, i, "ever", "ive", "i", "weve", "we") && s.HasWord(s.From, i, "played", "had", "held", "used", "tried", "borrowed", "owned")) {
		return true // the heaviest I ever played was 36 g
	}
	for j := i - 1; j >= s.From && j > i-5; j-- {
		if s.Says(j, "spends", "spend", "spent", "charges", "charge", "sells", "sell", "paid", "asks") || s.Says(j, "wants", "takes") && s.HasWord(s.From, j, "shop", "store", "website", "dealer", "maker", "seller") {
			return s.HasWord(s.From, j, "my", "the", "a", "her", "his", "he", "she", "they", "shops", "stores", "people") && !s.HasWord(s.From, j, "i", "we", "ive", "weve", "school", "band", "id", "ill", "wed", "to", "us", "can", "could", "might", "budget", "most", "least")
		}
		if s.Says(j, "are", "is", "weigh", "weighs", "cost", "costs", "measure", "measures") {
			return s.HasWord(s.From, j, "hers", "theirs", "friends", "teachers", "shop", "store", "factory", "bought") && s.HasWord(s.From, j, "hers", "theirs", "ones", "mallets", "sticks", "beaters", "friends", "teachers")
		}
	}
	return false
}

// Sum returns what the bare number at item i is a sum for, if it is one: 90 in the
// kitty, at 20 each; else "".
func (s Place) Sum(i int) string {
	j := i + 1
	for s.Item(j).Has("share") == nil && (s.Filler(j) || s.Starts(j, "to", "spend")) && j < i+5 { // 60 to spend altogether
		j++
	}
	x := s.Item(j).Has("share")
	before := i - 1
	for s.Filler(before) || s.Item(before).Has("bound") != nil || s.Item(before).Mark == ":" {
		before--
	}
	if y := s.Item(before).Has("share"); x == nil && y != nil && y.Value == "total" && s.Item(i).Qty.Value >= 20 && s.ClauseEnds(i+1) { // total 45; for the whole lot no more than 100
		return "want.total_budget"
	}
	switch {
	case x == nil || s.Item(i).Qty.Value < 5 || s.Item(i+1).Mark != "":
	case x.Value == "total" && s.Item(i).Qty.Value >= 20:
		return "want.total_budget"
	case x.Value == "each" && s.Item(i-1).Has("bound") != nil && (s.Starts(j, "for", "the", "pair") || s.Starts(j, "for", "a", "pair")): // at most 20 for the pair
		return "want.budget"
	case x.Value == "each" && (s.Is(i-1, "at", "for", "@") || s.Says(j, "per", "each", "apiece") && Pairs(s.Chart) > 1):
		return "want.budget"
	}
	return ""
}

// sumSpan returns the items among which it is told what the sum at item i is for:
// those of its sentence that are nearer to it than to another sum.
func (s Place) sumSpan(i int) (from, to int) {
	stop := func(j int) bool {
		q := s.Item(j).Qty
		return s.SentenceEnds(j) || q != nil && q.Dim == quantity.Money
	}
	from, to = i, i+1
	for from > s.From && !stop(from-1) {
		from--
	}
	for !stop(to) && to < i+12 {
		to++
	}
	return from, to
}

// forAll reports whether item i begins words for all of them: for all six, between
// the two, for the six of us.
func (s Place) forAll(i int) bool {
	if !s.Says(i, "for", "between", "among", "amongst") {
		return false
	}
	for j := i; j < i+3; j++ {
		if s.Says(j, "all", "us", "them", "both") {
			return true
		}
		if q := s.Item(j).Qty; q != nil {
			return q.Dim == quantity.Plain && q.Whole && q.Value > 1 && !s.Starts(j+1, "year", "years", "and", "to") && s.Item(j+1).Mark != "-"
		}
	}
	return false
}

// BoundAfter returns the bound said behind a figure, which ends before item i,
// and how many items that takes: 35 g max, thirty is the absolute maximum, 20 or
// less, 24 g up.
func (s Place) BoundAfter(i int) (bound string, n int) {
	if x := s.Item(i).Has("span"); x != nil && x.Value == "up" {
		return "least", 1
	}
	j := i
	for j < s.To && j < i+5 && (s.Filler(j) || s.Item(j).Has("join") != nil && !s.Is(j, "but") || s.Is(j, "or", "and", "absolute", "upper", "real", "very", "about", "hard", "a", "per", "pair") || s.Item(j).Has("share") != nil) {
		j++
	}
	x := s.Item(j).Has("bound")
	if up := s.Item(j).Has("span"); x == nil && j > i && j < s.To && up != nil && up.Value == "up" { // 30 g and upwards
		return "least", j + 1 - i
	}
	if j >= s.To || x == nil || !s.boundEnds(j+1) {
		return "", 0
	}
	return x.Value, j + 1 - i
}

// boundEnds reports whether a bound that ends before item i closes what is said of
// its figure: the clause ends, or it is told for whom.
func (s Place) boundEnds(i int) bool {
	return i >= s.To || s.ClauseEnds(i) || s.Item(i).Any("share", "join", "count") || s.Is(i, "for", "or", "and", "on", "with") || s.Item(i).Has("bound") != nil
}

// PlusMinus returns how many items from i on say plus or minus.
func (s Place) PlusMinus(i int) int {
	switch {
	case s.Says(i, "±") || s.Starts(i, "plus") && s.Starts(i+1, "minus"), s.Starts(i, "give") && s.Says(i, "take"):
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

// Group reports whether the line speaks of people who learn together.
func (s Place) Group() bool {
	return s.HasWord(0, len(s.Items), "class", "kids", "students", "pupils", "children", "camp", "club", "band", "ensemble", "section", "graders", "boys", "girls", "year", "school", "reception", "lot", "learners", "teach", "scouts", "guides", "cubs", "brownies", "troop", "beginners", "choir", "orchestra", "workshop", "members", "residents", "players")
}

// Past reports whether the clause tells of what is over: sold 8 pairs last year.
func (s Place) Past() bool {
	return s.HasWord(s.From, s.To, "last", "ago", "sold", "borrowed", "previous", "previously", "yesterday", "years", "batch") || s.HasWord(s.From, s.To, "did", "once") && s.HasWord(s.From, s.To, "wrap", "make", "wind", "build")
}

// Own reports whether the figure at item i tells what a head that somebody has comes to,
// and not what one is to: mine weigh about 18 g; my pair is 24 g and 38 mm.
func Own(s Place, i int) bool {
	of := s.HasWord(s.From, i, "mine") || s.HasWord(s.From, i, "these", "those", "they") && s.HasWord(s.From, i, "weigh", "measure") ||
		s.HasWord(s.From, i, "my", "our") && s.HasWord(s.From, i, "pair", "pairs", "mallets", "mallet", "heads", "head", "ones", "sticks", "beaters", "set")
	return of && s.HasWord(s.From, i, "weigh", "weighs", "weighing", "are", "is", "come", "comes", "measure", "measures") &&
		!s.HasWord(s.From, s.To, "want", "wants", "should", "must", "need", "needs", "like", "be", "under", "over", "than", "no", "not", "if", "would", "can", "could", "most", "make", "max", "limit", "only", "wrists", "for") &&
		!slices.ContainsFunc(s.Items[s.From:i], func(it cover.Item) bool { return it.Any("kind", "material") })
}

// Practised reports whether the clause only tells what somebody has done with parts:
// I've drilled balls before.
func (s Place) Practised() bool {
	return s.Is(s.To-1, "before", "already", "once", "yet") && s.HasWord(s.From, s.To, "ive", "weve", "have", "has", "had", "hes", "shes", "never") &&
		s.HasWord(s.From, s.To, "drilled", "turned", "sawn", "cut", "wrapped", "wound", "used", "glued", "stretched", "bored", "sanded", "tried", "worked", "handled") &&
		!slices.ContainsFunc(s.Items[s.From:s.To], func(it cover.Item) bool { return it.Qty != nil || it.Any("player.level", "bound") })
}

// Players returns how many people the sentence counts before item i, 1 where it counts
// none: four vibe players, two pairs each.
func Players(s Place, i int) float64 {
	for j := i - 1; j >= 0 && j > i-9 && !s.SentenceEnds(j); j-- {
		if q := s.Item(j).Qty; q != nil {
			if q.Dim == quantity.Plain && q.Whole && q.Value > 1 && s.HasWord(j+1, min(j+4, i), "players", "people", "kids", "pupils", "students", "us", "girls", "boys", "friends", "children", "drummers", "members") {
				s.Item(j).Used = true
				return q.Value
			}
			return 1
		}
	}
	return 1
}

// Ones returns how many pairs the heads counted at item i make, 0 for none: need 4 hard
// ones. An odd number makes no pairs.
func (s Place) Ones(i int) float64 {
	q := s.Item(i).Qty
	if q == nil || q.Dim != quantity.Plain || !q.Whole || int(q.Value)%2 != 0 || q.Value < 2 {
		return 0
	}
	if s.Open == "want.pairs" && s.Says(i+1, "sticks", "mallets", "beaters", "heads") { // eight sticks altogether
		return q.Value / 2
	}
	if !s.HasWord(s.From, i, "need", "want", "needs", "wants", "make", "making", "order", "after", "take") {
		return 0
	}
	j := i + 1
	for s.Item(j).Has("want.softness") != nil || s.Item(j).Any("degree", "want.colour", "want.attack") {
		j++
	}
	switch {
	case j > i+1 && s.Is(j, "ones"):
	case s.Says(j-1, "ones"): // one phrase: soft ones
		j--
	default:
		return 0
	}
	if !s.ClauseEnds(j+1) && s.Item(j+1).Has("join") == nil {
		return 0
	}
	return q.Value / 2
}

// ForPair reports whether item i is a price: 10 a pair.
func (s Place) ForPair(i int) bool {
	it := s.Item(i)
	return it.Qty != nil && it.Qty.Form == "pair" && it.To-it.From > 2 && s.At(it.To-2).Is("a")
}

// Ordinal reports whether the quantity at item i is an order: sixth graders.
func (s Place) Ordinal(i int) bool { return s.Item(i).Qty != nil && s.Item(i).Qty.Frac }

// BeforePart reports whether a part follows: two pairs of nylon balls.
func (s Place) BeforePart(i int) bool {
	return s.OfPart(i) || s.Starts(i, "of") && s.OfPart(i+1) || s.Filler(i) && s.Item(i).To-s.Item(i).From > 1 && s.OfPart(i+1)
}

// Weighs reports whether what weighs stands beside item i.
func (s Place) Weighs(i int) bool {
	for j := i - 5; j <= i+3; j++ {
		if j >= s.From && j < s.To && (s.Starts(j, "balance", "scale", "scales") || s.Item(j).Has(facts.BenchScale) != nil) {
			return true
		}
	}
	return false
}

// OfMine reports whether the size of a part at item i is told of one that there is:
// my cores are an inch; not "make my core an inch".
func (s Place) OfMine(i int) bool {
	return s.HasWord(max(s.From, i-1), i+1, "my", "our", "the", "these", "those") &&
		(s.HasWord(i, s.To, "is", "are", "measure", "measures", "says", "reads", "has", "came", "come") || strings.Contains(s.Said(i, min(i+2, s.To)), "'s")) &&
		!s.HasWord(s.From, s.To, "make", "change", "swap", "use", "keep", "should", "can", "want", "must", "if", "better", "too", "would", "be")
}

// Mine reports whether the instrument at item i is said to be the speaker's own:
// would it hurt the bars of my rosewood marimba?
func Mine(s Place, i int) bool {
	for s.Item(i-1).Any(facts.InstrumentKind, facts.InstrumentBars) {
		i--
	}
	return s.Starts(i-1, "my", "our") || s.Starts(i, "my", "our")
}

// Alone reports whether item i stands alone in the text.
func Alone(s Place, i int) bool {
	for j := range s.Items {
		if j != i && !s.Items[j].Empty() {
			return false
		}
	}
	return true
}

// Spread returns how far the figure of type path that ends before item i may be out,
// and where the words for that end: plus or minus 2 g. It is 0 where nothing says so.
func Spread(s Place, i int, path string) (by float64, end int) {
	j := i
	for s.Item(j).Mark == "," || s.Filler(j) {
		j++
	}
	j += s.PlusMinus(j)
	q := s.Item(j).Qty
	if j == i || q == nil || !Fits(path, q) || s.PlusMinus(j-1)+s.PlusMinus(j-2)+s.PlusMinus(j-3) == 0 {
		return 0, i
	}
	if q.Dim == quantity.Plain {
		return q.Value, j + 1
	}
	by, _ = In(path, q)
	return by, j + 1
}
