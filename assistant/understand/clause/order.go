package clause

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/tune"
)

// wisher settles clauses that are put as questions and wish.
type wisher struct{ cutter }

// led settles what a clause does that begins with words for a wish put as a
// question (would you mind …), for something heard (I was told …) or for
// something not known (no idea what … is), at item i.
func (c wisher) led(x *Clause, i int, end string) bool {
	if c.chats(i) {
		x.Act, x.TopicAt = reading.Social, i+1
		return true
	}
	lead := c.Item(i).Has("lead")
	if lead == nil {
		return false
	}
	x.TopicAt = i + 1
	switch lead.Value {
	case "order", "commission":
		switch {
		case c.changes(i+1, x) || lead.Value == "commission" && c.commissions(i+1, x):
			x.Act, x.request = reading.Tell, true
		case commander(c).command(x, i+1):
		default:
			x.Act = reading.Ask
		}
		return true
	case "opener":
		x.TopicAt = i
		return false
	case "check", "yousaid", "asked": // of what mallow said, nothing is told
		x.Act = reading.Ask
		return true
	case "hearsay":
		x.Act = reading.Ask
		return end == "?" || strings.HasPrefix(c.Said(i, i+1), "is ")
	}
	switch {
	case c.Is(i+1, "that", "this", "it") && c.Open != "":
		x.Act = reading.Unsure
	case c.Says(i, "wonder", "wondering", "curious") && c.Open == "":
		x.Act = reading.Ask
	case c.HasWord(x.To-1, x.To, "is", "are", "means", "mean", "meant", "does"):
		x.Act = reading.Define
	case c.Open == "" && c.HasWord(i+1, x.To, "to", "should") && i+1 < x.To:
		x.Act = reading.Ask
	default:
		x.Act = reading.Unsure
	}
	return true
}

// commissions reports whether the clause from item i on names the instrument or
// how the head shall be, and asks nothing else: can you make me soft ones for
// vibes; what would you recommend for chorales on marimba.
func (c wisher) commissions(i int, x *Clause) bool {
	if c.HasWord(i, x.To, "or", "safe", "without", "too", "when", "while", "if", "cost", "long", "difference", "instead", "child", "kids", "beginner", "beginners", "same") && i < x.To {
		return false
	}
	for j := i; j < x.To; j++ {
		if f := c.Item(j).Fact(); f != nil && (strings.HasPrefix(f.Slot, "want.") || strings.HasPrefix(f.Slot, "instrument.")) {
			return true
		}
	}
	return false
}

// chats reports whether item i begins a question that only chats: are you even
// listening?
func (c cutter) chats(i int) bool {
	s := c.Item(i).Has("social")
	return s != nil && s.Value == "chat" && c.questionWord(i)
}

// changes reports whether the clause from item i on holds something to change or
// to keep: a bit lighter, down to 25 g, with the same ball. A question whether it
// is too much changes nothing.
func (c wisher) changes(i int, x *Clause) bool {
	if c.HasWord(i, x.To, "too", "enough", "damage", "hurt", "break", "crack", "happen") && i < x.To {
		return false
	}
	for j := i; j < x.To; j++ {
		it := c.Item(j)
		switch f := it.Fact(); {
		case it.Any("move", "wish"), f != nil && strings.HasPrefix(f.Slot, "want."):
			return true
		case it.Qty != nil && (c.Is(j-1, "to") || it.From > 0 && c.At(it.From-1).Is("to")):
			return true
		case it.Any("withdraw") || it.Has("holding") != nil && it.Has("holding").Value == string(reading.Avoid):
			return c.keepsSomething(j, x)
		}
	}
	return false
}

// swaps reports whether the clause that begins with can or could at item i asks
// to leave a part out: could we lose the wool and use acrylic?
func (c wisher) swaps(i int, x *Clause) bool {
	if !c.Is(i+1, "you", "u", "we", "please", "pls") && !c.HasWord(i, x.To, "please", "pls", "plz") {
		return false
	}
	for j := i + 1; j < min(i+5, x.To); j++ {
		if c.Says(j, "lose", "drop", "ditch", "bin", "swap", "replace", "scrap", "dump", "chuck", "remove") && c.keepsSomething(j, x) {
			return true
		}
	}
	return false
}

// requests reports whether the clause that begins with can, could or the like
// at item i is a wish: could we go a bit softer?
func (c wisher) requests(x *Clause, i int) bool {
	if !c.Starts(i, "can", "could", "would", "will", "may", "might", "cud", "wud", "shall", "do", "dont", "cant", "couldnt", "wont") {
		return false
	}
	if c.Starts(i, "would", "will", "do") && !c.Is(i+1, "you", "u", "it", "we") {
		return false
	}
	if c.swaps(i, x) || c.sheds(i, x) || c.lowers(i, x) || c.spares(i, x) || slices.ContainsFunc(c.Items[i:x.To], func(it cover.Item) bool { return it.Has(reading.GradedSet) != nil }) {
		return true
	}
	if c.Is(i+1, "you", "u", "we") && (c.HasWord(i+2, min(i+6, x.To), "up", "down") && c.Says(i+2, "bring", "get", "take", "turn", "dial", "tone", "push", "put", "go", "knock") ||
		c.HasWord(i+2, min(i+4, x.To), "do", "make", "get", "give", "sort", "build", "wrap") && slices.ContainsFunc(c.Items[i:x.To], func(it cover.Item) bool {
			return it.Qty != nil && it.Qty.Form == "pair" || it.Has("count") != nil && it.Has("count").Value == "want.pairs"
		})) {
		return true // can you bring that down; could you do me five pairs
	}
	if c.Is(i+1, "the", "her", "his", "my", "their", "our") && !c.Item(i+2).Any("kind", "move") &&
		!c.Is(i+2, "head", "heads", "mallet", "mallets", "sound", "tone", "attack", "thing", "whole", "pair", "ones", "weight", "size", "price", "core", "ball", "slice", "tubing", "new", "next", "second", "first") {
		return false // can the grips be thinner?
	}
	if c.Is(i+1, "you", "u", "we") && (c.HasWord(i, x.To, "use") && c.HasWord(i, x.To, "instead") || c.weighs(i+2, x)) {
		return true // could you use nylon instead; can we try 28 g
	}
	if c.HasWord(x.From, x.To, "take", "hurt", "damage", "cost", "break", "last", "matter", "happen", "long", "still", "enough", "use", "instead") && !c.HasWord(x.From, x.To, "make") {
		return false
	}
	if c.tunes(i, x) {
		return true
	}
	if c.HasWord(i, min(i+4, x.To), "make") && c.Is(i+1, "you", "u", "we", "it") {
		return !c.HasWord(i, x.To, "when", "while", "if", "without") && c.Is(i+1, "you", "u") && c.HasWord(i, min(i+5, x.To), "it", "this", "that", "them", "these", "one")
	}
	for j := i; j < x.To; j++ {
		it := c.Item(j)
		if c.Says(j, "without") && it.Has("keep") == nil {
			return false
		}
		if y := it.Has("move"); y != nil || it.Any("keep") && j > i+1 && c.keepsSomething(i+1, x) {
			return true
		}
		if j == i {
			continue
		}
		if it.Fact() != nil && (c.Is(i+1, "you", "u", "we") || c.HasWord(i, j+1, "make", "have", "be", "get")) && !it.Any("bench.drill") {
			return c.Starts(i, "can", "could", "would", "may", "might", "cud") && c.HasWord(i, x.To, "make", "made", "have", "get", "do", "be", "want", "go")
		}
	}
	return false
}

// offers reports whether the clause from item i on asks for no more than a head that lies
// further one way: is there a softer one; have you got anything a bit lighter.
func (c wisher) offers(x *Clause, i int) bool {
	first, next := c.At(c.Item(i).From), c.At(c.Item(i).From+1)
	switch {
	case (first.Is("is") || first.Is("isnt")) && next.Is("there"), (first.Is("do") || first.Is("have") || first.Is("havent")) && (next.Is("you") || next.Is("we")):
	case first.Is("is") && c.Is(x.To-1, "possible", "available"), first.Is("any") && x.End == "?":
	default:
		return false
	}
	named := ""
	for j := i; j < x.To; j++ {
		if j == i && c.Item(j).To-c.Item(j).From > 1 { // is there a
			continue
		}
		if m := c.Item(j).Has("move"); m != nil && named == "" {
			named = m.Value
		} else if m == nil && !c.Filler(j) && c.Item(j).Has("degree") == nil && !c.Is(j, "is", "isnt", "there", "do", "have", "havent", "you", "we", "got", "any", "some", "something", "anything", "one", "1", "ones", "head", "pair", "version", "option", "possible", "available", "please") {
			return false
		}
	}
	return strings.HasPrefix(named, "want.") && c.HasWord(i, x.To, "one", "1", "ones", "head", "pair", "version", "option", "something", "anything")
}

// tunes reports whether what can or could at item i asks for is that the sound or the
// head be changed: can you make the tone darker, could the sound lose some sparkle.
func (c wisher) tunes(i int, x *Clause) bool {
	if c.HasWord(i, x.To, "when", "while", "if", "without", "still", "enough") {
		return false
	}
	head := []string{"head", "heads", "mallets", "sound", "tone", "attack", "pair", "timbre", "colour", "beaters"}
	j := i + 1
	made := c.Is(j, "you", "u", "we") && c.Is(j+1, "make", "get", "have")
	if made {
		j += 2
	}
	if !c.Is(j, "the", "my", "our", "their") || !c.Is(j+1, head...) {
		return false
	}
	if made {
		k := j + 2
		for c.Item(k).Has("degree") != nil || c.Filler(k) {
			k++
		}
		return c.Item(k).Has("move") != nil && c.ends(k+1, x)
	}
	return tune.At(c.Chart, j+2, x.To).Path != ""
}

// keepsSomething reports whether the clause from item i on names what may be kept.
func (c wisher) keepsSomething(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		if c.Item(i).Any("topic", "kind", "material") || c.Item(i).Fact() != nil && strings.HasPrefix(c.Item(i).Fact().Slot, "want.") {
			return true
		}
	}
	return false
}

// weighs reports whether the clause from item i on names a weight or a size to
// come to, and nothing else: try 28 g, do it at 25 grams.
func (c wisher) weighs(i int, x *Clause) bool {
	if !c.HasWord(i, min(i+1, x.To), "do", "try", "get", "go", "manage", "hit", "reach", "aim", "make") || c.HasWord(i, x.To, "with", "from", "out", "of") {
		return false
	}
	for j := i; j < x.To; j++ {
		if q := c.Item(j).Qty; q != nil && q.Dim == quantity.Mass {
			return true
		}
	}
	return false
}

// polite reports whether no more than politeness follows in the clause from item
// i on.
func (c commander) polite(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		if !c.Item(i).Any("social") && !c.Is(i, "please", "pls", "plz", "now", "then", "thanks", "mallow", "here", "and") {
			return false
		}
	}
	return true
}

// wishIn reports whether the clause from item i on holds a wish for a head.
func (c cutter) wishIn(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		if f := c.Item(i).Fact(); f != nil && strings.HasPrefix(f.Slot, "want.") || c.Item(i).Any("move", "wish") || c.Item(i).Qty != nil && c.Item(i).Qty.Unit > 0 {
			return true
		}
	}
	return false
}

// ordersOnly reports whether an order and nothing that is told stands in the items
// from..to: oops, can we go back a step.
func (c wisher) ordersOnly(from, to int) bool {
	rest := &Clause{From: from, To: to}
	for j := from; j < to; j++ {
		if a := c.Item(j).Has("act"); a != nil && reading.Act(a.Value) == reading.Back {
			return !c.tellsIn(from, rest)
		}
	}
	return false
}

// lowers reports whether the clause that begins with can or could at item i asks to
// bring something down or up that was spoken of: can you bring that down?
func (c wisher) lowers(i int, x *Clause) bool {
	return c.Is(i+1, "you", "u", "we") && c.Says(i+2, "bring", "get", "take", "knock", "nudge", "push", "turn", "pull") && c.HasWord(i+2, i+5, "it", "this", "that", "them") &&
		c.HasWord(i+3, x.To, "down", "up") && !c.HasWord(x.From, x.To, "when", "if", "off", "without")
}

// sheds reports whether the clause that begins with can or could at item i asks that
// the head comes to so much less or more: can it lose three grams?
func (c wisher) sheds(i int, x *Clause) bool {
	if !c.Starts(i, "can", "could", "cud") || c.HasWord(x.From, x.To, "when", "if", "while") || c.HasWord(x.From, x.To, "without") && !c.unmoved(x) {
		return false
	}
	thing := []string{"head", "heads", "mallet", "mallets", "weight", "size", "mass", "diameter", "thing", "pair", "both"}
	verb := i + 1
	if c.Is(verb, "it", "they", "these", "you", "we") {
		verb++ // else they are one with can
	} else if c.Starts(verb, "the") { // could the head go down by 2 mm
		for verb < i+4 && (c.Says(verb, "the", "whole") || c.Says(verb, thing...)) {
			verb++
		}
	}
	if !c.Starts(verb, "lose", "shed", "drop", "gain", "add", "shave", "trim", "knock", "take", "go", "come") || !c.HasWord(i, verb, "it", "they", "these", "you", "we") && !c.HasWord(i, verb, thing...) {
		return false
	}
	for j := verb + 1; j < min(verb+5, x.To); j++ {
		if q := c.Item(j).Qty; q != nil && (q.Dim == quantity.Mass || q.Dim == quantity.Length) {
			return c.ClauseEnds(j+1) || c.Says(j+1, "off", "so") || c.Starts(j+1, "without")
		}
	}
	return false
}

// unmoved reports whether what follows without in a clause is a comparative: without
// getting harder or softer.
func (c wisher) unmoved(x *Clause) bool {
	for j := x.From; j < x.To; j++ {
		if c.Says(j, "without") {
			return c.Item(j+1).Has("move") != nil || c.Is(j+1, "getting", "going", "becoming", "turning", "growing", "being", "making") && (c.Item(j+2).Has("move") != nil || c.Item(j+3).Has("move") != nil)
		}
	}
	return false
}

// spares reports whether the clause that begins with could or might at item i asks to
// leave out a part of the head, and not to do without a tool: could you do it without
// the second tube?
func (c wisher) spares(i int, x *Clause) bool {
	if !c.Starts(i, "can", "could", "might", "would", "cud") || !c.Is(i+1, "you", "u", "we") || !c.Says(i+2, "try", "do", "make", "build", "have", "go", "get") ||
		c.HasWord(i, x.To, "glue", "drill", "scale", "caliper") {
		return false
	}
	for j := i + 3; j < x.To; j++ {
		if c.Says(j, "without") {
			return c.HasWord(j, j+3, "the", "that", "any", "this") && c.keepsSomething(j, x)
		}
	}
	return false
}
