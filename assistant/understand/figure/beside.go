package figure

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Siblings reports whether the children counted at item i, named at item j, are told
// one by one by their ages, as those of a family are and not a class: three kids, 7, 9
// and 12.
func (s Place) Siblings(i, j int) bool {
	n := 0
	for k := j + 1; k < len(s.Items) && k < j+10; k++ {
		switch it := s.Item(k); {
		case s.At(it.From).Kind == lexis.Number:
			n++
		case it.Mark == "." || it.Mark == ";":
			return false
		}
		if n > 1 && n == int(s.Item(i).Qty.Value) {
			return s.HasWord(i, j+1, "kids", "children", "boys", "girls") && !s.HasWord(0, len(s.Items), "class", "group", "club")
		}
	}
	return false
}

// Calls reports whether the figure at item i is named as the one meant: call it
// 22, make it 22.
func (s Place) Calls(i int) bool {
	return s.Is(i-1, "it", "its", "meant", "mean") || s.Is(i-2, "make", "call") || s.Starts(i-1, "make", "call")
}

// StandsAlone reports whether nothing else that counts is said in the clause of
// the figure at item i.
func (s Place) StandsAlone(i int) bool {
	for j := s.From; j < s.To; j++ {
		it := s.Item(j)
		if j == i || s.Filler(j) || it.Any("bound", "span", "reply", "alone", "social", "mend", "degree", "join", "role", "unit", "asked") || s.Is(j, "maybe", "like", "say", "lets", "um", "uh", "er", "call", "make", "try", "go") {
			continue
		}
		return false
	}
	return true
}

// Edge returns -1 where the clause of item i speaks of the lowest bar, 1 where of
// the highest, whichever stands nearest before it, else 0.
func (s Place) Edge(i int) int {
	for _, step := range []int{-1, 1} {
		for j := i + step; j >= s.From && j < s.To && j >= i-6 && j <= i+3; j += step {
			switch {
			case s.Says(j, "lowest", "bottom", "low", "begins", "begin", "starts", "start", "starting", "deepest", "left"):
				return -1
			case s.Says(j, "highest", "top", "high", "ends", "end", "finish", "finishes", "goes", "runs", "stops", "stop", "tops"), s.Says(j, "right") && !s.HasWord(j-1, j+1, "is", "its", "was"):
				return 1
			}
		}
	}
	return 0
}

// Valued reports whether a figure for the topic at item j follows: hold the
// diameter at 1 3/8.
func (s Place) Valued(j int) bool {
	for k := j + 1; k < j+4 && k < s.To; k++ {
		if s.Says(k, "within") {
			return false // hold mass within half a gram
		}
		if s.Item(k).Qty != nil {
			return true
		}
	}
	return false
}

// Wished returns the way in which a word for more of something at item i, which goes by,
// moves a head: the other way where it is said to be more than is wished for, or half as
// much: bigger than I'd like; half as heavy.
func Wished(s Place, i int, by float64) float64 {
	if s.Is(i-1, "as") && s.Says(i-2, "half") {
		return -by
	}
	j := i + 1
	if !s.Starts(j, "than", "then") {
		return by
	}
	who := s.HasWord(j, min(j+3, s.To), "i", "id", "we", "wed", "he", "hed", "she", "shed", "my", "our", "they", "theyd")
	if who && s.HasWord(j, min(j+6, s.To), "like", "likes", "want", "wanted", "hoped", "expected", "needed", "need", "meant", "asked", "planned", "bargained", "handle", "manage", "bear", "stand", "wished", "intended", "fancy") ||
		s.HasWord(j, min(j+4, s.To), "should", "necessary", "needed", "ideal", "wanted", "expected", "hoped", "intended", "planned") {
		return -by
	}
	return by
}

// Was reports whether item i tells how something was, and not how it is to be: mine was
// softer before.
func Was(s Place, i int) bool {
	return s.HasWord(s.From, i, "was", "were", "used") && !s.HasWord(s.From, s.To, "wish", "if", "better", "would", "want", "should", "need", "rather", "hoping", "wondering", "id", "make", "please") &&
		s.HasWord(i+1, s.To, "before", "earlier", "originally", "when", "once", "then", "first", "until", "till") || s.HasWord(s.From, i, "used") && s.HasWord(s.From, i, "to") && s.HasWord(s.From, i, "be")
}

// LeftAlone reports whether the clause of item i says to leave something as it
// is: leave the yarn alone.
func (s Place) LeftAlone(i int) bool {
	return s.HasWord(i, s.To, "alone", "be", "untouched", "is", "was", "are", "same", "unchanged", "exactly")
}

// SizeOf reports whether the clause goes on, from item i, with the size that a part
// is to keep: the ball must stay the same size.
func (s Place) SizeOf(i int) bool {
	for ; i < s.To; i++ {
		if s.Is(i, "size") {
			s.Item(i).Used = true
			return true
		}
		if !s.Filler(i) && s.Item(i).Keeps(true) == nil && s.Item(i).Keeps(false) == nil && !s.Is(i, "the", "same", "in") {
			return false
		}
	}
	return false
}

// BarsSaid returns what the sentence says the bars are made of, or "".
func (s Place) BarsSaid() string {
	for i := range s.Items {
		if x := s.Items[i].Has("instrument.bars"); x != nil {
			return x.Value
		}
	}
	return ""
}

// Beside reports whether the number at item i is what was denied at item from, with
// nothing but fillers between.
func (s Place) Beside(from, i int) bool {
	for j := from + 1; j < i; j++ {
		if !s.Filler(j) {
			return false
		}
	}
	return true
}

// Names reports whether the clause names no more, from item i on, than parts or what
// can be settled: and the tubing.
func (s Place) Names(i int) bool {
	n := 0
	for ; i < s.To; i++ {
		switch {
		case s.Item(i).Any("kind", "topic", "material"):
			n++
		case s.Filler(i), s.Item(i).Has("join") != nil:
		default:
			return false
		}
	}
	return n > 0
}

// Again reports whether the word at item i is said twice in a row.
func (s Place) Again(i int) bool {
	return s.Item(i+1).From >= 0 && s.Item(i+1).Mark == "" && s.Word(i) == s.Word(i+1)
}

// BesideOther reports whether something else that the figure at item j may be of
// stands beside it.
func (s Place) BesideOther(j int) bool {
	near := func(it *cover.Item) bool {
		return it.Any("kind", "material", "count", "role", "instrument.kind", "unit", "form", "move", "wish", "bound", "topic", "share")
	}
	return near(s.Item(j+1)) || s.Item(j+1).Qty != nil || s.Starts(j+1, "of")
}

// Gone reports whether the figure before item i counts those who came or went.
func (s Place) Gone(i int) bool {
	return s.HasWord(i, min(i+3, len(s.Items)), "left", "joined", "dropped", "leaving", "gone") && s.Item(i).Mark == ""
}

// EvenMore returns how many items from i on say that more of the fact at path, on one
// side, is as good, 0 where none do: medium soft, softer even.
func (s Place) EvenMore(i int, path string) int {
	j := i
	for s.Item(j).Mark == "," {
		j++
	}
	x := s.Item(j).Has("move")
	if x == nil || x.Value != path || !s.Says(j+1, "even", "welcome", "fine", "ok", "okay", "good", "great", "better", "too", "also") {
		return 0
	}
	return j + 2 - i
}

// Groups returns the size of a class that is told by its groups at item i, and where the
// words for it end: six tables of four children.
func Groups(s Place, i int) (n float64, to int) {
	q, each := s.Item(i).Qty, s.Item(i+3).Qty
	if q == nil || each == nil || !q.Whole || !each.Whole || each.Dim != quantity.Plain || q.Value < 2 || !s.Is(i+2, "of") ||
		!s.Says(i+1, "tables", "lots", "groups", "rows", "classes", "sections", "batches", "teams", "bands", "shifts", "sessions", "rounds", "benches") {
		return 0, i
	}
	if x := s.Item(i + 4).Has("count"); x == nil || x.Value != "class.size" {
		return 0, i
	}
	return q.Value * each.Value, i + 5
}

// OneFigure reports whether the clause says one figure and little else.
func OneFigure(s Place) bool {
	figures := 0
	for i := s.From; i < s.To; i++ {
		switch it := s.Item(i); {
		case it.Qty != nil:
			figures++
		case s.Filler(i), it.Any("join", "mend", "kind", "material", "role"), s.Is(i, "only", "now", "really"):
		default:
			return false
		}
	}
	return figures == 1
}

// By reports whether the figure at item i, alone in a later clause of its sentence, says by
// how much the fact at path that was moved before it moves: softer, two steps; lighter, 3 g.
func By(s Place, i int, path string) bool {
	q := s.Item(i).Qty
	if bound, _ := s.BoundAfter(i + 1); bound != "" || s.Item(i).Limit != "" { // lighter, 12 g at most
		return false
	}
	return q != nil && Moves(path, q) && s.Item(s.From-1).Mark == "," && s.StandsAlone(i) &&
		(q.Dim == quantity.Notches && path == facts.WantSoftness || q.Dim == quantity.Mass && q.Value <= float64(12*measure.Gram) || q.Dim == quantity.Length && q.Value <= float64(8*measure.Millimetre))
}
