package figure

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// Pairs counts the pairs that a line tells apart: a soft pair and a hard pair,
// one pair for the vibes and one for the bells.
func Pairs(c *cover.Chart) int {
	n := 0
	for i := range c.Items {
		q := c.Item(i).Qty
		switch {
		case q != nil && q.Form == "pair":
			if !c.Is(i-1, "per") && !c.At(c.Item(i).To-2).Is("a") && !(Place{Chart: c, To: clauseEnd(c, i)}).Made(i) {
				n += int(q.Value)
			}
		case n > 0 && c.Says(i, "another", "other") && !c.HasWord(i, i+3, "pair", "hand", "day", "thing", "half") && joined(c, i),
			n > 0 && q != nil && q.Value == 1 && q.Spelt && joined(c, i) && (c.Starts(i+1, "for") || c.Item(i+1).Fact() != nil && !c.HasWord(i+1, i+5, "pair")),
			n > 0 && q == nil && c.Says(i, "second", "third", "fourth") && !c.HasWord(i, min(i+3, len(c.Items)), "time", "hand", "go", "try", "thoughts", "thought", "layer", "slice"):
			n++
		case c.Says(i, "pair") && q == nil && !c.HasWord(i-1, i+1, "second", "third", "fourth", "per", "each", "every", "this", "that", "the", "my", "last", "old") && one(c, i):
			n++
		}
	}
	if n == 0 && c.HasWord(0, len(c.Items), "mine") && Apart(c) {
		return 2
	}
	return n
}

// Sums counts the sums of money that a line names.
func Sums(c *cover.Chart) int {
	n := 0
	for i := range c.Items {
		if q := c.Item(i).Qty; q != nil && q.Dim == quantity.Money {
			n++
		}
	}
	return n
}

// clauseEnd returns the item that ends the clause in which item i stands.
func clauseEnd(c *cover.Chart, i int) int {
	for i < len(c.Items) && (c.Item(i).Mark == "" || c.Item(i).Mark == "-") {
		i++
	}
	return i
}

// Each returns how many there are of those who get a pair each, or of the things that
// get one, 0 where that is not said: a pair each for three of us, me and my sister want
// a pair each, both of us, a pair apiece for the trio.
func Each(c *cover.Chart) int {
	pair := false
	for i := range c.Items {
		pair = pair || c.Says(i, "pair", "one", "set", "couple") && (c.HasWord(i, min(i+4, len(c.Items)), "each", "apiece") || c.HasWord(max(0, i-2), i, "each"))
	}
	if !pair {
		return 0
	}
	pair = c.HasWord(0, len(c.Items), "pair", "pairs", "set", "sets", "mallets")
	for i := range c.Items {
		q := c.Item(i).Qty
		for n, words := range together {
			if pair && c.Says(i, words...) {
				return n + 2
			}
		}
		switch {
		case pair && q != nil && q.Whole && q.Value > 1 && q.Value < 40 && c.HasWord(i+1, min(i+3, len(c.Items)), "us", "them", "people", "friends", "players"):
			return int(q.Value)
		case c.Says(i, "both"), c.Says(i, "me") && c.Is(i+1, "and") && c.Starts(i+2, "my", "the", "a"), c.Is(i, "i") && c.Is(i+1, "and"):
			return 2
		}
	}
	return 0
}

// together are words for so many people who play together, from two on.
var together = [][]string{
	{"duo", "duet", "twosome", "twins"}, {"trio", "threesome", "triplets"}, {"quartet", "quartette", "foursome"}, {"quintet", "fivesome"}, {"sextet", "sixsome"}, {"septet"}, {"octet"},
}

// Answers reports whether the figure at item i can answer what was asked: its clause says
// nothing else that it could be of. Twenty-five is all I've got; I'd go for thirty.
func Answers(s Place, i int) bool {
	if s.StandsAlone(i) {
		return true
	}
	if q := s.Item(i).Qty; s.Open == facts.WantSoftness || q.Spelt && q.Value == 1 || s.Unknown(i+1) || s.Item(i+1).Any("unit", "form") || s.Says(i-1, "room", "page", "line", "bus", "number", "chapter", "aged", "age", "year", "grade", "verse", "floor") {
		return false
	}
	strange := 0
	for j := s.From; j < s.To; j++ {
		it := s.Item(j)
		switch {
		case j == i:
		case it.Qty != nil && !(it.Qty.Spelt && it.Qty.Value == 1), it.Note != nil, it.ID != "", it.Any("kind", "material", "instrument.kind", "move", "wish", "role", "count", "form", "thing", "withdraw", "act"), it.Fact() != nil:
			return false
		case s.Unknown(j) && it.Has("plain") == nil:
			strange++
		}
	}
	return strange < 2 && !s.HasWord(s.From, s.To, "not", "was", "were", "used", "wallet", "purse", "price", "cost", "costs", "shaft", "stick", "ago", "old", "last", "years", "minutes", "hours", "weeks", "days", "months", "if", "people", "times", "why", "how")
}

// joined reports whether a word that goes on with a list stands before item i.
func joined(c *cover.Chart, i int) bool {
	return c.Item(i-1).Mark == "," || c.Item(i-1).Has("join") != nil || c.Filler(i-1) && c.Item(i-2).Has("join") != nil
}

// one reports whether the pair at item i is one of those wished for: a soft pair,
// xylophone pair.
func one(c *cover.Chart, i int) bool {
	if c.Starts(i, "a", "one") && c.Item(i).To-c.Item(i).From > 1 {
		q := c.Item(i - 1).Qty
		return q == nil && !c.HasWord(i+1, min(i+2, len(c.Items)), "each", "apiece") // a pair for me; not 20 dollars a pair
	}
	for j := i - 1; j >= max(0, i-5); j-- {
		it := c.Item(j)
		switch {
		case c.Says(j, "a", "one", "another", "1") || it.Has("instrument.kind") != nil && j == i-1:
			return it.Qty == nil || it.Qty.Dim == quantity.Plain
		case it.Mark != "" || it.Has("join") != nil || it.Qty != nil:
			return false
		}
	}
	return false
}

// People returns where the words end that make the number at item i a number of
// people who learn or play together, 0 where none do: nine of us, 26 strong, we're
// seven, thirty-two Year 8s.
func (s Place) People(i int) (to int) {
	q := s.Item(i).Qty
	if q == nil || q.Dim != quantity.Plain || !q.Whole || q.Value < 2 {
		return 0
	}
	switch {
	case s.Starts(i+1, "of") && (s.Is(i+2, "us") || s.Says(i+1, "us")) && !Part(s, i) && (q.Value > 3 || !s.HasWord(0, len(s.Items), "each", "apiece", "between")):
		return i + 2
	case s.Is(i-1, "of") && s.Says(i-2, "class", "group", "choir", "band") && s.Item(i-2).To-s.Item(i-2).From > 1 && s.Item(i-2).Has("share") != nil && s.ClauseEnds(i+1): // 200 for the class of ten
		return i + 1
	case s.Is(i-1, "of") && s.Says(i-2, "workshop", "course", "class", "club", "troop", "batch") && s.ClauseEnds(i+1) && !s.HasWord(s.From, i, "played", "audience"): // a workshop of eight
		return i + 1
	case q.Value < 61 && makers(s, i):
		return i + 2
	case s.Is(i+1, "strong"):
		return i + 2
	case s.Is(i+1, "year", "yr", "grade") && s.Item(i+2).Qty != nil && s.At(s.Item(i+2).To).Is("s"):
		return i + 4
	case s.Says(i-1, "were", "are") && (s.HasWord(s.From, i, "we") || i-1 == s.From) && (i+1 >= s.To || s.HasWord(i+1, s.To, "group", "class", "band", "section", "club", "ensemble", "all", "altogether", "total", "people")):
		return i + 1
	}
	return 0
}

// makers reports whether the number at item i counts people who will make mallets, and no
// audience: eight blokes; I lead twenty women over 60, all want to make their own.
func makers(s Place, i int) bool {
	return s.Says(i+1, "people", "women", "men", "persons", "blokes", "guys", "residents", "beginners", "homeschoolers", "grandchildren", "trebles", "folks", "mums", "dads", "parents", "choirboys") &&
		s.HasWord(0, len(s.Items), "workshop", "course", "class", "each", "every", "make", "making", "build", "building", "wind", "winding", "want", "evening", "lead", "teach", "residence", "pairs", "coach", "club") &&
		!s.HasWord(s.From, i, "for", "hall", "gym", "church", "audience", "concert", "seats", "crowd", "to", "playing", "before") && !Part(s, i)
}

// Part reports whether the number at item i is of some of a group, of whom something is
// told: three of them children, two of us react; there are nine of us is of all.
func Part(s Place, i int) bool {
	to := i + 2
	if s.Is(i+2, "us", "them") {
		to = i + 3
	}
	return !s.HasWord(max(s.From, i-3), i, "there", "theres", "were", "all") && s.HasWord(to, min(to+1, len(s.Items)), "children", "kids", "girls", "boys", "adults", "pupils", "teenagers", "seniors", "are", "is", "have", "has", "cant", "get", "gets", "react", "reacts", "wear", "dont", "never", "allergic", "under", "over", "who", "use", "hold", "play")
}

// Made reports whether the pairs at item i are told to have been made, so that they
// are none to build: I've wound some two hundred pairs; made a few, maybe six pairs.
func (s Place) Made(i int) bool {
	from, _ := s.Sentence(i, i)
	if s.HasWord(from, s.To, "want", "wants", "need", "needs", "like", "please", "make", "get", "should", "would", "id", "now", "order", "looking") || s.HasWord(from, s.To, "so") && !s.HasWord(i, s.To, "years") {
		return false
	}
	for j := from; j < s.To; j++ {
		if s.Says(j, "made", "wound", "wrapped", "built", "did", "done", "turned") && (s.HasWord(from, j+1, "i", "ive", "we", "weve", "already", "have", "id") || j == i+1 && s.ClauseEnds(j+1)) {
			return true
		}
	}
	return false
}

// SumAgain reports whether a bare figure is a sum of money that was said before: so 800
// should be for all four.
func SumAgain(before reading.Reading, v float64) bool {
	return v >= 5 && slices.ContainsFunc(before.Takes, func(t reading.Take) bool {
		return (t.Path == facts.WantBudgetCents || t.Path == "want.total_budget") && t.Value == 100*v
	})
}

// ClassOf returns how many learn where item i begins words for a class and its size, and
// where those end: class of 30; the group is about 12.
func ClassOf(s Place, i int) (n float64, to int) {
	x := s.Item(i).Has("count")
	if x == nil || x.Value != "class.size" || !s.Starts(i, "class", "group", "classes") || !s.Is(i+1, "of", "is", "size") && !(s.Item(i+1).Has("filler") != nil && s.Starts(i+1, "of")) {
		return 0, i
	}
	j := i + 2
	for s.Is(j, "about", "is", "around") {
		j++
	}
	if q := s.Item(j).Qty; q != nil && q.Dim == quantity.Plain && q.Whole && !s.Is(j+1, "year", "mm") {
		return q.Value, j + 1
	}
	return 0, i
}

// Last returns which of a head's figures was told last, its mass where none was: a
// limit without a unit is of that.
func Last(takes ...[]reading.Take) string {
	for _, list := range slices.Backward(takes) {
		for _, t := range slices.Backward(list) {
			if t.Path == facts.WantBudgetCents || t.Path == facts.WantMassG || t.Path == facts.WantDiameterMM || t.Path == facts.HeadMassG || t.Path == facts.HeadDiameterMM {
				return strings.Replace(t.Path, "head.", "want.", 1)
			}
		}
	}
	return facts.WantMassG
}
