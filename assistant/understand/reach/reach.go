// Package reach reads how far words for having, lacking, needing and avoiding
// reach over a list: "missing: shafts, glue", "wool we have, glue we must buy",
// "scale yes, drill none". It never reads what a part is, and takes nothing.
package reach

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/reading"
)

// Reach is how the person stands to what each item of a line names.
type Reach struct {
	// Of holds, by item, the holding that words about it give; empty where none
	// does and the walk has to judge by what stands before.
	Of []reading.Holding
	// Spent marks, by item, the words that did.
	Spent []bool
	// Rest is how the person stands to every kind of part that the line does not
	// name: everything but the glue, the rest is here.
	Rest reading.Holding
	// Whence marks, by item, the words that say where parts came from.
	Whence []bool
	// Inventory is set where the line does nothing but list parts.
	Inventory bool
}

// At returns the holding of the part that items from..to describe, or "".
func (r *Reach) At(from, to int) reading.Holding {
	for i := from; i < to && i < len(r.Of); i++ {
		if r.Of[i] != "" {
			return r.Of[i]
		}
	}
	return ""
}

// AllSpent reports whether every item from..to that counts was such a word.
func (r *Reach) AllSpent(c *cover.Chart, from, to int) bool {
	any := false
	for i := from; i < to; i++ {
		any = any || r.Spent[i]
		if !r.Spent[i] && (!c.Filler(i) || r.Of[i] != "") {
			return false
		}
	}
	return any
}

// segment is a stretch between commas, colons and joins.
type segment struct {
	from, to int
	link     string // what stands before it: a mark or a join
	colon    bool   // a colon ends it
	question bool
}

// reader reads one line.
type reader struct {
	*cover.Chart
	Reach
	segs  []segment
	all   []segment // of the whole line
	set   []bool    // by segment: its parts have a holding of their own
	carry reading.Holding
	whole bool // carry is a heading's, and reaches to the end of the sentence
	none  bool // the list began with no or neither

	gave    reading.Holding // the last given
	lacking bool            // something is lacked or had already
}

// Read reads the reach of holdings over the clauses of a line.
func Read(c *cover.Chart, all []clause.Clause) Reach {
	r := reader{Chart: c, Reach: Reach{Of: make([]reading.Holding, len(c.Items)), Spent: make([]bool, len(c.Items)), Whence: whence(c)}}
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && (!all[to].First || r.echoed(&all[to-1], &all[to])) { // contact cement? I'd sooner avoid it
			to++
		}
		r.sentence(all[from:to])
		r.all = append(r.all, r.segs...)
		from = to
	}
	r.kept()
	r.nothing()
	r.Inventory = r.inventory(all)
	return r.Reach
}

// echoed reports whether clause x only repeats what was asked and y answers it.
func (r *reader) echoed(x, y *clause.Clause) bool {
	return x.End == "?" && x.Act == reading.Tell && (r.tool(x.From) || y.To-y.From > 1)
}

// sentence reads one sentence.
func (r *reader) sentence(all []clause.Clause) {
	r.segs, r.carry, r.whole, r.none, r.gave = r.segs[:0], "", false, false, ""
	for k := range all {
		x := &all[k]
		link := r.Item(x.From - 1).Mark
		if link == "." {
			link = ""
		}
		at := x.From
		for i := x.From; i <= x.To; i++ {
			if i < x.To && !r.joins(i) {
				continue
			}
			if i > at {
				r.segs = append(r.segs, segment{from: at, to: i, link: link, question: clause.IsQuestion(x.Act)})
			}
			if i < x.To {
				link = r.Word(i)
			}
			at = i + 1
		}
		if n := len(r.segs); n > 0 && r.Item(x.To).Mark == ":" {
			r.segs[n-1].colon = true
		}
	}
	r.set = make([]bool, len(r.segs))
	for k := range r.segs {
		r.segment(k)
	}
}

// joins reports whether item i only joins what stands beside it: not at the end, no tube
// yet.
func (r *reader) joins(i int) bool {
	if r.Is(i, "yet", "though") && r.ClauseEnds(i+1) {
		return false
	}
	return r.Item(i).Has("join") != nil && r.Item(i).Qty == nil && !r.Is(i, "with", "w/", "only") || r.Is(i, "nor") || r.Is(i, "only") && r.Item(i-1).Any("kind") && r.Item(i+1).Any("kind")
}

// names reports whether item i names a part, or a tool of the bench.
func (r *reader) names(i int) bool {
	it := r.Item(i)
	return it.Any("kind", "material") && !r.Is(i, "wrapping", "wrap", "wraps") || it.ID != "" || r.tool(i) || Sticks(r.Chart, i)
}

// Sticks reports whether item i is the everyday word for shafts, which also means
// whole mallets.
func Sticks(c *cover.Chart, i int) bool { return c.Is(i, "stick", "sticks") }

// tool reports whether item i names a tool of the bench.
func (r *reader) tool(i int) bool {
	return r.Item(i).Any("bench.drill", "bench.scale", "bench.caliper")
}

// holder returns the holding that a word at item i gives to what stands beside it,
// and whether only to what stands before it; "" for none.
func (r *reader) holder(i int, s segment) (h reading.Holding, behind bool) {
	it := r.Item(i)
	if r.Whence[i] {
		return "", false
	}
	if r.Is(i, "than") && r.names(r.PastFiller(i+1)) && r.HasWord(s.from, i, "rather", "sooner", "prefer") { // rather wool than any acrylic
		return reading.Avoid, false
	}
	if r.Is(i, "out") && r.Is(i+1, "of") && r.opens(i, s) { // out of cores
		return reading.Lack, false
	}
	if x := it.Has("holding"); x != nil {
		h = reading.Holding(x.Value)
		if h == "want" || r.Is(i-1, "you", "as", "he", "she") || OfAll(r.Chart, i) { // as you have them now
			return "", false
		}
		if h == reading.Have && (r.denied(i, s) || r.none && (r.begins(s) || r.namesIn(s.from, i))) { // not: no bite, and I have a ball
			h = reading.Lack
		}
		return h, false
	}
	if x := it.Has("held"); x != nil && x.Value != theirs && r.ends(i+1, s) {
		if h = reading.Holding(x.Value); h == reading.Have && (r.none || r.denied(i, s)) { // zero tubing here
			h = reading.Lack
		}
		return h, true
	}
	return "", false
}

// OfAll reports whether the words at item i only end a superlative: the hardest bells
// mallets there are.
func OfAll(c *cover.Chart, i int) bool {
	if !c.Starts(i, "there") {
		return false
	}
	for j := i - 1; j >= 0 && j > i-8 && c.Item(j).Mark != "."; j-- {
		for _, t := range c.Tokens[c.Item(j).From:c.Item(j).To] {
			if strings.HasSuffix(t.Text, "est") && len(t.Text) > 4 {
				return true
			}
		}
	}
	return false
}

// rather reports whether segment k begins a list of what there is to be instead: no
// plastic, wood or rubber only.
func (r *reader) rather(k int) bool {
	for ; k < len(r.segs); k++ {
		if s := r.segs[k]; r.Is(s.to-1, "only", "please") && r.HasWord(s.from, s.to, "only") && !r.begins(s) {
			return true
		}
		if k+1 < len(r.segs) && r.segs[k+1].link != "or" && r.segs[k+1].link != "and" {
			return false
		}
	}
	return false
}

// opens reports whether nothing that counts stands before item i in its segment.
func (r *reader) opens(i int, s segment) bool {
	for j := s.from; j < i; j++ {
		if !r.Filler(j) && !r.Item(j).Any("social", "degree") {
			return false
		}
	}
	return true
}

// denied reports whether the word for having at item i is denied: is not here.
func (r *reader) denied(i int, s segment) bool {
	for j := i - 1; j >= s.from && j >= i-3; j-- {
		if r.Item(j).Any("not") {
			return true
		}
		if !r.Filler(j) {
			return false
		}
	}
	return false
}

// ends reports whether nothing that counts stands from item i to the end of a
// segment.
func (r *reader) ends(i int, s segment) bool {
	for ; i < s.to; i++ {
		if !r.Filler(i) && !r.Item(i).Any("held", "social", "holding") && !r.Is(i, "yet", "now", "also", "too", "already", "still", "sir", "so", "far", "either", "though") {
			return false
		}
	}
	return true
}

// segment gives the parts of segment k their holding.
func (r *reader) segment(k int) {
	s := r.segs[k]
	if s.question {
		r.carry = ""
		return
	}
	if s.link == "but" || s.link == "yet" || s.link == "though" || s.link == "however" {
		r.carry = ""
	}
	if (r.carry == reading.Avoid || r.carry == reading.Lack) && r.rather(k) {
		r.carry = ""
	}
	if r.answered(k) {
		r.carry = ""
		return
	}
	r.none = r.none && (s.link == "or" || s.link == "nor" || s.link == "and") || r.begins(s)
	first, last, holdAt := -1, -1, -1
	var hold reading.Holding
	behind := false
	for i := s.from; i < s.to; i++ {
		if h, b := r.holder(i, s); h != "" && (holdAt < 0 || b || first < 0) && !(b && holdAt >= 0 && first > holdAt) {
			hold, holdAt, behind = h, i, b
		}
		if r.names(i) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	r.rest(s, hold, holdAt)
	switch {
	case holdAt < 0 && first >= 0 && r.cameFrom(first, last, s):
		r.give(k, reading.Have, s.from, s.to)
		r.carry = reading.Have
	case holdAt < 0 && first < 0:
		if r.states(s) && !r.whole {
			r.carry = ""
		}
	case holdAt < 0 && s.link == "but" && k > 0 && r.begins(r.segs[k-1]): // no glue but epoxy
		r.give(k, reading.Have, s.from, s.to)
		r.carry = reading.Have
	case holdAt < 0 && s.link == "but" && k > 0 && last == s.to-1 && r.HasWord(r.segs[k-1].from, r.segs[k-1].to, "any", "every", "whatever"): // any yarn but acrylic
		r.give(k, reading.Avoid, s.from, s.to)
	case holdAt < 0 && first >= 0 && r.begins(s) && r.HasWord(s.from, s.to, "left", "remaining", "whatsoever", "anymore", "yet", "more"): // no mohair left
		r.give(k, reading.Lack, s.from, s.to)
		r.carry = reading.Lack
	case holdAt < 0 && first >= 0 && r.begins(s) && k+1 < len(r.segs) && r.HasWord(r.segs[k+1].from, r.segs[k+1].to, "none"): // no tubing, the shop had none
		r.give(k, reading.Lack, s.from, s.to)
		r.carry = reading.Lack
	case holdAt < 0 && r.begins(s) && r.bare(s) && (r.lacking || r.nary(s.from) || r.nary(s.from+1) || r.alsoNone(k) || r.HasWord(s.from, s.to, "anywhere", "nearby", "left", "here", "around") || Sticks(r.Chart, first) || r.Item(first).Has("kind").Value == "core" || r.Item(first).Has("kind").Value == "shaft"): // no balls, no tube
		r.give(k, reading.Lack, s.from, s.to)
		r.carry = reading.Lack
	case holdAt < 0 && first >= 0 && (r.begins(s) || r.none) && r.ownsLater(k): // neither wool nor cotton, I only own polyester
		r.give(k, reading.Lack, s.from, s.to)
	case holdAt < 0 && s.link == "only" && k > 0 && r.begins(r.segs[k-1]): // no yarn only tubes
		r.give(k-1, reading.Lack, r.segs[k-1].from, r.segs[k-1].to)
		r.give(k, reading.Have, s.from, s.to)
	case holdAt < 0 && k > 0 && r.gave == reading.Lack && r.HasWord(s.from, s.to, "only", "just"): // superglue I have not, only contact cement
		r.give(k, reading.Have, s.from, s.to)
	case holdAt < 0:
		r.list(k, first, last)
	case first < 0 && s.colon, first < 0 && k == 0 && !behind && k+1 < len(r.segs) && s.to-s.from <= 3: // missing: shafts, glue
		r.carry, r.whole = hold, s.colon
		r.Spent[holdAt] = r.Spent[holdAt] || behind
	case first < 0 && r.pronoun(s) && hold != reading.Have && hold != reading.Allow && r.before(k, hold, holdAt): // I did have tube. Gave it away.
	case first < 0:
		if r.ends(s.from, s) || r.counted(s) && hold != reading.Allow {
			r.back(k, hold, holdAt)
		}
		r.carry = ""
	case behind, holdAt > last && r.tail(last+1, s): // wool we have
		if r.back(k+1, hold, holdAt) {
			r.carry, r.whole = "", false
		}
	case holdAt > last:
		r.carry = ""
	case hold == reading.Avoid && r.Starts(holdAt, "except", "apart", "other", "besides", "bar", "aside") && r.lackAfter(first, s) > 0: // except for one ball I have no cores
		at := r.lackAfter(first, s)
		r.give(k, reading.Have, s.from, at)
		r.give(k, reading.Lack, at, s.to)
		r.Spent[holdAt] = true
		r.carry = reading.Lack
	case hold == reading.Have && insteadIn(r.Chart, first, s) < s.to: // use up my acrylic in place of the wool
		at := insteadIn(r.Chart, first, s)
		r.give(k, hold, s.from, at)
		r.give(k, reading.Avoid, at, s.to)
		r.Spent[at] = true
		r.carry = ""
	case hold == reading.Lack && r.exceptIn(first, s) < s.to: // no glue except a glue stick
		at := r.exceptIn(first, s)
		r.give(k, hold, s.from, at)
		r.give(k, reading.Have, at, s.to)
		r.Spent[at] = true
		r.carry = reading.Have
	case first < holdAt && hold != reading.Have && r.Starts(holdAt, "is", "are", "isnt", "arent"): // latex is out so silicone it is
		r.give(k, hold, s.from, holdAt)
		r.carry = ""
	case hold == reading.Avoid && r.Starts(holdAt, "instead", "in", "rather", "except", "minus"): // cotton instead of wool
		for i := holdAt; i < s.to; i++ {
			if r.names(i) {
				r.give(k, hold, i, i+1)
				break
			}
		}
		r.carry = ""
	case first < holdAt && hold != reading.Have:
		r.give(k, hold, holdAt, s.to)
		r.carry, r.whole = hold, false
	case hold == reading.Have && r.without(holdAt, s) > 0: // got a drill no scale
		at := r.without(holdAt, s)
		r.give(k, reading.Have, s.from, at)
		r.give(k, reading.Lack, at, s.to)
		r.carry, r.whole = "", false
	case hold == reading.Have && r.exceptIn(first, s) < s.to && first < r.exceptIn(first, s): // oddments of every yarn except wool
		at := r.exceptIn(first, s)
		r.give(k, hold, s.from, at)
		r.give(k, reading.Lack, at, s.to)
		r.carry, r.whole = "", false
	default:
		r.give(k, hold, s.from, s.to)
		r.carry, r.whole = hold, false
		if hold == reading.Lack && r.Item(holdAt).To-r.Item(holdAt).From > 1 && r.Starts(holdAt, "everything", "all", "the") && !part.Tool(r.Chart, first) {
			r.Rest = reading.Have
			if s.colon { // everything but the yarn: cores, hose
				r.carry, r.whole = reading.Have, true
			}
		}
	}
}

// cameFrom reports whether a segment says nothing but where the parts that it names
// came from, so that they are here: bouncy balls from the vending machine.
func (r *reader) cameFrom(first, last int, s segment) bool {
	if r.begins(s) || r.none {
		return false
	}
	told := false
	for i := s.from; i < s.to; i++ {
		it := r.Item(i)
		if told = told || i > last && r.Whence[i]; r.Whence[i] {
			continue
		}
		if it.Any("holding", "not", "move", "keep", "withdraw", "mend", "topic", "act", "too", "more") || it.Fact() != nil && it.Has("weak") == nil && !r.tool(i) || r.Is(i, verbs...) {
			return false
		}
	}
	return told
}

// begins reports whether a segment begins by saying that there is none of what it
// names: no balls, neither shafts, zero cores.
func (r *reader) begins(s segment) bool {
	for i := s.from; i < s.to; i++ {
		it := r.Item(i)
		switch {
		case r.Is(i, "no", "neither", "zero", "nor", "0", "nae"), r.nary(i), r.tool(i) && r.Starts(i, "no"), it.Qty != nil && it.Qty.Value == 0:
			return true
		case !r.Filler(i) && !it.Any("social", "degree") && (it.Has("holding") == nil || it.Has("holding").Value != "have"):
			return false
		}
	}
	return false
}

// namesIn reports whether an item of from..to names a part.
func (r *reader) namesIn(from, to int) bool {
	for i := from; i < to; i++ {
		if r.names(i) {
			return true
		}
	}
	return false
}

// alsoNone reports whether another segment beside segment k begins by saying that
// there is none of a part or a tool: no glue, no drill.
func (r *reader) alsoNone(k int) bool {
	for _, j := range []int{k - 1, k + 1} {
		if j >= 0 && j < len(r.segs) && r.begins(r.segs[j]) && r.namesIn(r.segs[j].from, r.segs[j].to) {
			return true
		}
	}
	return false
}

// bare reports whether a segment names kinds of part and says no more of them.
func (r *reader) bare(s segment) bool {
	kinds := 0
	for i := s.from; i < s.to; i++ {
		it := r.Item(i)
		if it.Any("material") || it.Qty != nil && !r.nary(i-1) || r.tool(i) {
			return false
		}
		if it.Any("kind") || Sticks(r.Chart, i) {
			kinds++
		}
	}
	return kinds == 1
}

// tail reports whether nothing from item i on says anything but who has what.
func (r *reader) tail(i int, s segment) bool {
	for ; i < s.to; i++ {
		it := r.Item(i)
		if it.Fact() != nil || it.Any("move", "wish", "topic", "act", "bound") || r.Is(i, "so", "that", "which", "because", "if", "when", "for", "to") {
			return false
		}
	}
	return true
}

// counted reports whether a segment holds nothing but words for having and an
// amount: have eight.
func (r *reader) counted(s segment) bool {
	for i := s.from; i < s.to; i++ {
		it := r.Item(i)
		if it.Qty == nil && !it.Any("held", "holding", "not", "form", "role") && !r.Filler(i) {
			return false
		}
	}
	return true
}

// states reports whether a segment says something of its own.
func (r *reader) states(s segment) bool {
	for i := s.from; i < s.to; i++ {
		if r.Unknown(i) || r.Item(i).Fact() != nil || r.Item(i).Any("move", "wish", "topic") {
			return true
		}
	}
	return false
}

// list gives the parts of a segment without a word for having that of the list it
// goes on with.
func (r *reader) list(k, first, last int) {
	s := r.segs[k]
	if r.Starts(s.from, "so", "because", "cos", "since") {
		r.carry = ""
	}
	amount := false
	for i := s.from; i < s.to; i++ {
		amount = amount || r.Item(i).Qty != nil
		if r.Item(i).Any("not", "keep", "withdraw", "mend") || r.Item(i).Has("reply") != nil || r.Subject(i) && i < first && !r.Starts(i, "the", "my", "our", "this", "his", "her", "one") {
			if !r.whole {
				r.carry = ""
			}
			return
		}
	}
	switch r.carry {
	case reading.Have, reading.Need:
		r.give(k, r.carry, s.from, s.to)
	case reading.Lack, reading.Avoid:
		if r.HasWord(s.from, s.to, "plenty", "loads", "lots", "heaps", "tons", "oodles", "masses") && !r.whole { // no tube, plenty of cores
			r.carry = reading.Have
			r.give(k, r.carry, s.from, s.to)
			return
		}
		if amount && !r.whole || r.HasWord(s.from, s.to, "only", "just") {
			r.carry = ""
			return
		}
		r.give(k, r.carry, s.from, s.to)
	}
}

// give gives a holding to everything named in the items from..to of segment k.
func (r *reader) give(k int, h reading.Holding, from, to int) {
	for i := from; i < to; i++ {
		if r.names(i) {
			r.Of[i] = h
			r.lacking = r.lacking || h == reading.Lack || h == reading.Have
		}
	}
	r.set[k], r.gave = true, h
}

// back gives a holding to what the segments before k name that have none, as far
// back as they go on with one another, and reports whether there was any.
func (r *reader) back(k int, h reading.Holding, at int) bool {
	found := false
	for j := k - 1; j >= 0 && !r.set[j]; j-- {
		s := r.segs[j]
		named, pure := false, true
		for i := s.from; i < s.to; i++ {
			it := r.Item(i)
			named = named || r.names(i)
			if it.Any("not") && i != at && r.Item(at).Has("held") == nil && !r.none || r.Subject(i) && j < k-1 && !r.Starts(i, "the", "my", "our") {
				pure = false
			}
		}
		if !named && (found || !r.counted(s)) || !pure {
			break
		}
		if named {
			r.give(j, h, s.from, s.to)
			found = true
		}
		if j > 0 && (s.link == "but" || s.link == "") {
			break
		}
	}
	if found {
		r.Spent[at] = true
	}
	return found
}

// before gives a holding to what was named last before segment k, and reports
// whether there was any.
func (r *reader) before(k int, h reading.Holding, at int) bool {
	past := append(slices.Clone(r.all), r.segs[:k]...)
	for j := len(past) - 1; j >= 0; j-- {
		found := false
		for i := past[j].from; i < past[j].to && !past[j].question; i++ {
			if r.names(i) {
				if found = true; r.Of[i] == reading.Avoid {
					return false
				}
				r.Of[i], r.Spent[at] = h, true
			}
		}
		if found {
			return true
		}
	}
	return false
}
