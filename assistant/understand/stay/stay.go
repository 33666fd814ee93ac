// Package stay finds what is said to stay as it is where that is not named beside the
// words for staying: by a word that points at it, by an exception, by what is denied.
// It knows items of a line, and keeps nothing.
package stay

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/rules/facts"
)

// Clause is a clause of a text, From..To.
type Clause struct {
	*cover.Chart
	From, To int
}

// Referent returns the item that words for staying at item i are said of, where
// nothing is named in their own clause and what was named last stands in the same or
// the last sentence: I love the sticks, they're staying; rubber sleeve: no change. It
// returns -1 where there is none.
func (c Clause) Referent(i int) int {
	if i > c.From && !c.Filler(c.From) && !c.Starts(c.From, "it", "they", "that", "those", "these", "its", "theyre", "thats") || c.From == 0 {
		return -1
	}
	for j := c.From; j < c.To; j++ {
		if j != i && c.thing(j) {
			return -1
		}
	}
	for j := c.From - 1; j >= 0 && j > c.From-14; j-- {
		if c.thing(j) {
			return j
		}
	}
	return -1
}

// AsNow reports whether the quality at item i is to be as it is: as soft as now.
func (c Clause) AsNow(i int) bool {
	return c.Is(i-1, "as") && c.Is(i+1, "as") && c.Is(i+2, "now", "before", "today", "ever", "currently")
}

// Allowed reports whether the comparative at item i only may come about: a little
// lighter is ok, bigger would be fine.
func (c Clause) Allowed(i int) bool {
	j := i + 1
	for c.Is(j, "is", "would", "be", "are", "will", "its", "thats", "quite", "also", "perfectly") || c.Filler(j) && c.Says(j, "is", "be") {
		j++
	}
	return j > i+1 && (c.Is(j, "ok", "okay", "fine", "alright", "acceptable", "allowed") || c.Is(j, "no") && c.Is(j+1, "problem", "matter", "trouble")) &&
		(c.ClauseEnds(j+1) || c.ClauseEnds(j+2)) && !c.HasWord(c.From, i, "not", "if", "why", "isnt")
}

// Liked reports whether item i is a measure that is liked as it is: I love how soft
// they are.
func (c Clause) Liked(i int) bool {
	return c.Starts(i, "how") && i > c.From && c.Says(i-1, "like", "love", "adore", "enjoy", "treasure") &&
		!c.HasWord(c.From, i, "dont", "not", "never", "would", "id", "didnt", "if")
}

// LeavesQuality reports whether the clause ends with a quality that is left: leave the
// softness.
func (c Clause) LeavesQuality(i int) bool {
	n := c.To - 1
	for n > i && c.Filler(n) {
		n--
	}
	return n > i && n <= i+2 && c.Item(n).Has("topic") != nil
}

// thing reports whether item j names something that can stay.
func (c Clause) thing(j int) bool {
	return c.Item(j).Any("topic", "kind", "material")
}

// Excepted reports whether all but what is named after item i may change: everything
// except the yarn may change.
func (c Clause) Excepted(i int) bool {
	if !c.Starts(i, "everything", "anything", "all", "whatever", "any") || c.Item(i).Has("holding") == nil || !c.Says(i, "but", "except", "bar", "save", "apart", "other", "aside", "excluding", "minus") {
		return false
	}
	return c.HasWord(i+1, c.To, "may", "can", "could", "might", "is", "will", "are", "has") &&
		c.HasWord(i+1, c.To, "change", "changed", "move", "moved", "vary", "go", "negotiable", "flexible", "different", "altered", "swapped", "differ", "shift", "adjusted", "adjust")
}

// Denied reports whether the clause ends at item j in a verb of which only the denial
// is said: whatever changes, the size mustn't.
func (c Clause) Denied(j int) bool {
	return c.Is(j, "mustnt", "shouldnt", "cant", "wont", "doesnt", "dont", "maynt", "cannot") && c.ClauseEnds(j+1) &&
		c.HasWord(0, len(c.Items), "whatever", "change", "changes", "changing", "move", "moves", "else", "vary", "alter")
}

// Kept reports whether the clause ends at item j in words for keeping that stand behind
// what is kept: but the hardness I keep.
func (c Clause) Kept(j int) bool {
	keep := c.At(c.Item(j).To-1).Is("keep") && (c.Says(j, "i", "we", "ill", "id") || c.Starts(j-1, "i", "we", "ill", "id"))
	return (keep || c.Is(j, "leave", "retain") && c.Is(j-1, "i", "we")) && c.ClauseEnds(j+1)
}

// Refused reports whether the comparative at item i is refused by what stands behind
// it: harder by no means; heavier never.
func (c Clause) Refused(i int) bool {
	switch {
	case c.wrong(i), c.threat(i):
		return true
	case c.Says(i+1, "means") && c.Says(i+1, "no"):
		return c.ClauseEnds(i + 2)
	case c.Is(i+1, "by") && c.Is(i+2, "no") && c.Is(i+3, "means"):
		return c.ClauseEnds(i + 4)
	}
	return c.Is(i+1, "never", "not") && !c.Dropped(i+1) && c.ClauseEnds(i+2)
}

// threat reports whether the comparative at item i is what somebody would not put up with:
// I'll drop it if it gets any heavier; but if you fatten it I'll cry.
func (c Clause) threat(i int) bool {
	if !c.HasWord(max(0, i-6), i, "if", "unless", "once") {
		return false
	}
	from, to := c.Sentence(i, i)
	return c.HasWord(max(from, i-6), i, "if", "unless", "once") && c.HasWord(from, to, "ill", "will", "id", "wont", "shall", "cant") &&
		c.HasWord(from, to, "drop", "cry", "scream", "quit", "weep", "sulk", "refuse", "complain", "faint", "die", "kill", "return", "bin", "manage", "cope", "lift", "hate", "hold")
}

// wrong reports whether what stands behind the comparative at item i is a verdict
// against it: harder would be wrong. Words that judge more than that end the clause.
func (c Clause) wrong(i int) bool {
	end := min(i+5, c.To)
	if !c.HasWord(i+1, i+4, "would", "is", "be", "are") || c.HasWord(i+1, end, "not", "wouldnt", "isnt", "nothing") {
		return false
	}
	for j := i + 1; j < end; j++ {
		if c.Says(j, "bad", "overkill", "unwelcome", "nonsense") && c.ClauseEnds(j+1) {
			return true
		}
	}
	return c.HasWord(i+1, end, "wrong", "worse", "mistake", "silly", "pointless", "awful", "terrible", "stupid", "daft", "useless")
}

// Alone returns the kinds of part that alone may change, where item i is the first of
// them, and where the words for that end: softer by the yarn alone; only the yarn and
// the tubing may change. It returns none where more or less may.
func (c Clause) Alone(i int) (kinds []string, end int) {
	only := c.onlyBefore(i)
	for end = i; end < c.To; end++ {
		switch it := c.Item(end); {
		case it.Has("kind") != nil:
			kinds = append(kinds, it.Has("kind").Value)
		case only && c.mayChange(end):
			return kinds, c.To
		case c.Filler(end) || c.Is(end, "and", "or", "the") || it.Has("join") != nil && it.Has("join").Value != "but":
		case only && c.ClauseEnds(end):
			return kinds, c.To
		case c.Is(end, "alone", "only") && (c.ClauseEnds(end+1) || c.mayChange(end+1)):
			return kinds, c.To
		default:
			return nil, i
		}
	}
	if only {
		return kinds, end
	}
	return nil, i
}

// onlyBefore reports whether "only" stands before item i, or "nothing but".
func (c Clause) onlyBefore(i int) bool {
	for i--; i >= c.From; i-- {
		switch {
		case c.Says(i, "only", "just", "solely", "purely") || c.Is(i, "but") && c.Is(i-1, "nothing"):
			return true
		case c.Filler(i) || c.Is(i, "but", "the", "by", "with", "through", "in", "change", "changing", "via"):
		default:
			return false
		}
	}
	return false
}

// mayChange reports whether item i begins leave to change, or an order to.
func (c Clause) mayChange(i int) bool {
	return c.Says(i, "may", "can", "could", "might", "should", "is", "are", "to") &&
		c.HasWord(i, c.To, "change", "changed", "changes", "move", "moved", "vary", "altered", "differ", "touched")
}

// RestStays reports whether item i begins words for leaving the rest as it is:
// everything else constant.
func (c Clause) RestStays(i int) bool {
	if c.Starts(i, "nothing", "nowt", "none") && c.HasWord(i, i+3, "else", "other") {
		return c.HasWord(i+1, c.To, "move", "moves", "moved", "change", "changes", "changed", "changing", "touched", "budge", "budges", "shift", "shifts", "alter", "altered", "different", "alters", "differs") &&
			!c.HasWord(i, c.To, "matters", "if", "when", "unless")
	}
	if c.Starts(i, "everything", "all") && c.Item(i+1).Keeps(true) != nil && (c.ClauseEnds(i+2) || c.Says(i+2, "except", "but", "bar", "save", "apart")) {
		return true // everything stays except the weight
	}
	if !c.Starts(i, "everything", "all", "rest") || !c.HasWord(i, i+2, "else", "rest", "other", "others") {
		return false
	}
	for j := i + 1; j < i+9 && j < c.To; j++ {
		if c.Item(j).Keeps(true) != nil || c.Says(j, "constant", "same", "unchanged", "equal", "is", "be") && c.ClauseEnds(j+1) {
			return true
		}
	}
	return false
}

// Except reports whether the fact or the kind of part called id is named as what may
// change, behind item i: everything stays but the yarn.
func (c Clause) Except(i int, id string) bool {
	for but := false; i < len(c.Items) && !c.SentenceEnds(i); i++ {
		it := c.Item(i)
		but = but || c.Says(i, "except", "but", "bar", "save", "apart")
		if but && (it.Has("topic") != nil && it.Has("topic").Topic[0].ID == id || it.Has("kind") != nil && it.Has("kind").Value == id) {
			it.Used = true
			return true
		}
	}
	return false
}

// ItemBefore returns the item before item i, past fillers that deny nothing.
func (c Clause) ItemBefore(i int) int {
	for i--; i > c.From && c.Filler(i) && !c.Item(i).Any("not", "reply"); i-- {
	}
	return i
}

// AsItIs returns the fact that item i begins to keep as it is, "" for none, and where the
// words for that end: as soft as it is; just as heavy as they are now.
func (c Clause) AsItIs(i int) (path string, end int) {
	if !c.At(c.Item(i).To-1).Is("as") || !c.Starts(i+2, "as") || c.HasWord(c.From, i, "not", "never", "isnt", "no", "nothing", "twice", "half") {
		return "", i
	}
	x := c.Item(i + 1)
	switch f := x.Fact(); {
	case f != nil && strings.HasPrefix(f.Slot, "want."):
		path = f.Slot
	case x.Has("wish") != nil:
		path = x.Has("wish").Value
	case x.Has("move") != nil:
		path = x.Has("move").Value
	}
	if path == "" || !c.Says(i+2, "is", "are", "was", "now") && !c.Starts(i+3, "it", "its", "they", "theyre", "now", "before", "this", "these", "is", "at") || c.HasWord(i+2, c.To, "possible", "can", "gets", "get", "goes", "go", "come", "comes", "likes", "like") {
		return "", i
	}
	return path, c.To
}

// Named reports whether item j is a wish spoken of as a thing: that clarity, the dark
// tone.
func (c Clause) Named(j int) bool {
	f := c.Item(j).Fact()
	return f != nil && c.Item(j+1).Has("after") == nil && (c.Lex.OneOf(f.Slot) != nil || f.Slot == facts.WantSoftness) && strings.HasPrefix(f.Slot, "want.") && slices.Contains([]string{"the", "that", "this", "its", "my", "your", "their", "as", "equally"}, c.At(c.Item(j).From-1).Text) || f != nil && j > 0 && strings.HasPrefix(f.Slot, "want.") && strings.HasSuffix(strings.ReplaceAll(c.Said(j-1, j), "’", "'"), "'s") && c.Item(j-1).Any("topic", "about") // the tone's warmth
}
