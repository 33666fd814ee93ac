package clause

import (
	"slices"

	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
)

// supposes reports whether a clause that begins with if, the only one of its
// sentence, says what could be and not when: and if it was 28 grams?
func (c cutter) supposes(x *Clause, last bool) bool {
	return x.First && last && !c.HasWord(x.From, x.To, "possible", "can", "please", "you") &&
		c.HasWord(x.From, x.To, "was", "were", "had", "got", "used", "went", "took", "swapped", "made", "left", "added", "doubled", "halved", "skipped", "dropped", "weighed")
}

// does reports whether item i begins a sentence of several words with does: it is
// a question with or without its mark.
func (c cutter) does(i int, x *Clause) bool {
	return x.First && x.To-i > 2 && c.Is(i, "does", "duz", "dose") && !c.Is(i+1, "not", "it", "mostly", "a", "some")
}

// whichOf reports whether which at item i asks, and does not go on about what
// stands before it: which tubing then; my grandson, which is six.
func (c cutter) whichOf(i int, x *Clause) bool {
	return c.Starts(i, "which") && (c.Item(i+1).Any("kind", "topic", "material") || c.Is(i+1, "one", "ones", "should", "would", "do", "size", "way", "sort", "kind", "type") || c.choiceBefore(x))
}

// choiceBefore reports whether the clause just before names two things joined by
// or, and nothing is said of them: wool or acrylic, which lasts.
func (c cutter) choiceBefore(x *Clause) bool {
	from := x.From - 1
	for from > 0 && c.Item(from-1).Mark == "" {
		from--
	}
	return c.bareChoice(&Clause{From: from, To: x.From - 1})
}

// bareChoice reports whether a clause is two or more parts joined by or, and
// nothing else.
func (c cutter) bareChoice(x *Clause) bool {
	parts := 0
	for j := x.From; j < x.To; j++ {
		switch it := c.Item(j); {
		case it.Any("holding", "not", "bound", "reply", "keep", "move"), it.Qty != nil, it.Mark != "", c.Subject(j):
			return false
		case c.OfPart(j):
			parts++
		case c.Is(j, "or", "versus", "vs", "and"), c.Filler(j), it.Empty():
		default:
			return false
		}
	}
	return parts > 1 && c.choiceOfTwo(x)
}

// choices makes one question of parts joined by or and what is asked of them, and
// a question of parts joined by or alone: birch or rattan shafts.
func (c cutter) choices(all []Clause) {
	for k := range all {
		x := &all[k]
		if x.Act != reading.Tell || !c.bareChoice(x) {
			continue
		}
		switch {
		case k+1 < len(all) && !all[k+1].First && IsQuestion(all[k+1].Act):
			x.Act, all[k+1].Act = reading.Compare, reading.Compare
		case len(all) == 1 && c.Open == "":
			x.Act = reading.Compare
		}
	}
}

// tails makes questions of clauses that end in words that ask whether they are
// so: too big for vibes or what; I was told epoxy is weak, true?
func (c cutter) tails(all []Clause) {
	for k := range all {
		x := &all[k]
		lastOf := k+1 == len(all) || all[k+1].First
		strong, weak := c.tail(x)
		if !lastOf || !strong && !weak {
			continue
		}
		first := k
		for first > 0 && !all[first].First {
			first--
		}
		from, heard := k, false
		if x.To-x.From == 1 && k > first {
			from--
		}
		for j := first; j <= k; j++ {
			if l := c.Item(c.opener(all[j].From, all[j].To)).Has("lead"); l != nil && l.Value == "hearsay" {
				from, heard = j, true
				break
			}
		}
		if weak && !heard && !c.general(all[from].From, x.To) {
			continue
		}
		for j := from; j <= k; j++ {
			if all[j].Act == reading.Tell || all[j].Act == reading.Yes {
				all[j].Act = reading.Ask
			}
		}
	}
	for k := range all { // so soft ones are always heavier then
		x := &all[k]
		if x.Act == reading.Tell && x.First && c.Is(x.From, "so") && c.Is(x.To-1, "then") && c.general(x.From, x.To) {
			x.Act = reading.Ask
		}
	}
}

// tail reports whether a clause ends in words that ask for assent, and whether
// they do so whatever stands before them.
func (c cutter) tail(x *Clause) (strong, weak bool) {
	i := x.To - 1
	for i > x.From && c.Is(i, "then", "lol", "please", "haha") {
		i--
	}
	if t := c.Item(i).Has("tail"); t != nil {
		return t.Value == "ask", t.Value == "weak"
	}
	return c.Is(i, "or") && i > x.From, false
}

// general reports whether the items from..to speak of heads or parts at large and
// not of what somebody wants.
func (c cutter) general(from, to int) bool {
	return c.HasWord(from, to, "ones", "always", "usually", "normally", "generally", "supposed", "better", "best", "should", "safe", "mallets", "heads") &&
		!c.HasWord(from, to, "i", "im", "id", "ill", "we", "my", "our", "mine", "want", "need", "please", "me", "us")
}

// goesOn reports whether a clause that tells nothing only goes on with what was
// ordered before it, and then does the same: teach me how they work, from nothing.
func (c cutter) goesOn(x, before *Clause, i int) bool {
	if before == nil || !slices.Contains([]reading.Act{reading.Lesson, reading.Help, reading.Social}, before.Act) || c.tells(i) || c.Item(i).Any("instrument.kind", "kind", "move") {
		return false
	}
	x.Act = before.Act
	return true
}

// asksBy reports whether item i is one of the ways in which questions begin.
func (c cutter) asksBy(i int) bool {
	return slices.ContainsFunc(c.Item(i).Senses, func(s *lexis.Sense) bool { return s.Slot == "about" && s.Value == "question" })
}

// andThen reports whether item i is words that join a clause to the one before:
// save that and then get me out.
func (c cutter) andThen(i int) bool {
	a := c.Item(i).Has("act")
	return a != nil && c.Starts(i, "and") && reading.Act(a.Value) == reading.More
}
