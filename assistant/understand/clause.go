package understand

import (
	"slices"
	"strings"
)

// clause is a stretch of items with one act.
type clause struct {
	from, to int // items, the mark that ends it not among them
	end      string
	act      Act
	topicAt  int  // where what is asked or ordered is named
	request  bool // put as a question and meant as a wish: could you make it softer?
	first    bool // of its sentence
}

// clauses cuts the items at marks and before words that begin a clause, and
// settles what each clause does.
func (c *chart) clauses() []clause {
	var out []clause
	from, first := 0, true
	cut := func(to int, end string) {
		if to > from {
			out = append(out, clause{from: from, to: to, end: end, first: first})
			first = false
		}
		if end == "." || end == "!" || end == "?" || end == ";" {
			first = true
		}
	}
	for i := range c.items {
		it := c.item(i)
		switch {
		case it.mark == "-" && c.dash(i), strings.Contains(".,;:!?()", it.mark) && it.mark != "":
			end := it.mark
			if end == ":" || end == "(" || end == ")" || end == "-" {
				end = ","
			}
			cut(i, end)
			from = i + 1
		case i > from && c.opens(i):
			cut(i, "")
			from = i
		}
	}
	cut(len(c.items), ".")
	for k := range out {
		var before *clause
		if k > 0 && !out[k].first {
			before = &out[k-1]
		}
		end, last := c.sentenceEnd(out, k)
		c.classify(&out[k], before, end, last)
	}
	return out
}

// dash reports whether the hyphen at item i stands between two clauses, with
// spaces round it, and not between numbers.
func (c *chart) dash(i int) bool {
	t := c.at(c.item(i).from)
	next := c.at(c.item(i).to)
	return !t.Near && !next.Near && c.item(i-1).qty == nil && c.item(i-1).note == nil
}

// sentenceEnd returns the mark that ends the sentence of clause k, and whether
// the clause is its last.
func (c *chart) sentenceEnd(all []clause, k int) (end string, last bool) {
	j := k
	for j+1 < len(all) && !all[j+1].first {
		j++
	}
	return all[j].end, j == k
}

// opens reports whether item i begins a clause without a mark before it: but it
// is dark, because she is 9, and can you …
func (c *chart) opens(i int) bool {
	switch {
	case c.is(i, "but", "because", "cos", "cause", "so", "since", "although", "though", "however", "while", "whereas", "unless"):
		if c.is(i, "so") && (c.item(i+1).fact() != nil || c.item(i+1).any("move", "wish", "topic") || c.is(i+1, "that", "much", "far", "on", "called")) || c.is(i-1, "or") {
			return false
		}
		if c.is(i, "since") && c.item(i+1).qty != nil {
			return false
		}
		return c.item(i).any("join", "filler", "plain") || len(c.item(i).senses) == 0
	case c.is(i, "and", "or", "n", "then", "or,"):
		j := i + 1
		for c.is(j, "then", "also", "please", "just") {
			j++
		}
		if c.subject(j) && c.verbish(j+1) || c.questionWord(j) && (!c.is(j, "which", "who", "where", "when", "how") || c.is(i, "and")) && c.inverts(j) {
			return true
		}
		return c.is(i, "and", "then") && c.item(j).any("act") && c.item(j).to-c.item(j).from > 1
	case c.is(i, "if", "when") && i > 0:
		return false
	}
	return false
}

// subject reports whether item i may be the subject of a clause.
func (c *chart) subject(i int) bool {
	return c.starts(i, "i", "im", "ive", "ill", "id", "we", "weve", "were", "he", "hes", "she", "shes", "they", "theyre", "theyd", "you", "its", "it", "my", "our", "the", "this", "that", "there", "theres", "his", "her", "one")
}

// verbish reports whether item i goes on a clause after its subject.
func (c *chart) verbish(i int) bool {
	return !c.is(i, "and", "or") && c.item(i).mark == ""
}

// questionWord reports whether item i may begin a question.
func (c *chart) questionWord(i int) bool {
	return c.starts(i, "what", "whats", "wat", "wats", "which", "who", "whos", "whose", "where", "wheres", "when", "whens", "why", "whys", "how", "hows", "wot", "wots",
		"is", "are", "am", "was", "do", "does", "did", "can", "could", "would", "will", "should", "shud", "cud", "wud", "shall", "may", "might", "has", "isnt", "arent",
		"doesnt", "dont", "wouldnt", "couldnt", "cant", "wont", "shouldnt", "didnt", "any")
}

// inverts reports whether the question word at item i is followed by what makes
// it one: does the winding change, how long. "Can be had" is no question.
func (c *chart) inverts(i int) bool {
	switch {
	case c.starts(i, "is", "are", "am", "was", "do", "does", "did", "can", "could", "would", "will", "should", "shud", "cud", "wud", "shall", "may", "might", "has"):
		if c.item(i).to-c.item(i).from > 1 && !c.item(i).any("act", "filler") {
			return c.starts(i, "is", "are") && !c.item(i).any("holding", "not", "want.softness")
		}
		if c.starts(i, "do", "does", "did", "has") && !c.subject(i+1) && !c.is(i+1, "these", "those", "mallets", "u", "yarn", "all", "both") {
			return false
		}
		if c.is(i+1, "be", "not", "have", "get", "also", "never", "always", "only", "do", "go", "take", "fit", "come", "at", "for", "too", "so", "fine", "ok") {
			return false
		}
		return c.item(i+1).mark == ""
	case c.starts(i, "dont", "cant", "wont", "isnt", "arent", "doesnt", "wouldnt", "couldnt", "shouldnt", "didnt"):
		return c.item(i).to-c.item(i).from == 1 && c.is(i+1, "you", "they", "we", "it", "that", "this", "the", "i", "he", "she")
	case c.starts(i, "any"):
		return c.is(i+1, "good", "chance", "idea", "ideas", "tips", "advice", "way", "point", "use", "difference", "risk")
	case c.starts(i, "when", "where", "who", "whose"):
		return c.is(i+1, "is", "are", "do", "does", "did", "will", "can", "should")
	case c.starts(i, "how", "what", "which") && c.is(i+1, "i", "you", "we", "he", "she", "they", "it"):
		return false // what you showed me
	}
	return true
}

// opener skips what may stand before the first word of a clause that counts:
// joins, greetings, politeness.
func (c *chart) opener(from, to int) int {
	i := from
	for i < to {
		it := c.item(i)
		switch {
		case it.has("social") != nil && it.to-it.from >= 1 && i+1 < to && !c.subject(i+1):
		case c.is(i, "and", "but", "so", "or", "well", "um", "uh", "er", "erm", "ok", "okay", "oh", "ooh", "hi", "hello", "hey", "please", "pls", "plz", "also", "then", "now", "hmm", "hm",
			"right", "anyway", "yo", "actually", "actualy", "just", "maybe", "perhaps", "lol", "kindly", "ah", "aha", "n", "roughly", "sir", "madam", "mallow", "precisely", "because", "cos", "though", "however", "wait", "sorry", "quick", "question", "like", "really", "about", "dear", "good", "day", "yes", "no", "nah", "y"):
			if c.is(i, "good", "like", "really", "about", "just") && i+1 >= to {
				return i
			}
			if c.is(i, "y") && !c.is(i+1, "not", "is", "are", "do") {
				return i
			}
			if c.is(i, "y") {
				return i
			}
			if c.is(i, "yes", "no", "nah", "right") && i+1 >= to {
				return i
			}
		default:
			return i
		}
		i++
	}
	return from
}

// classify settles what a clause does. Before is the clause before it in its
// sentence, or nil; end is the mark of its sentence, last whether it is the
// sentence's last.
func (c *chart) classify(x *clause, before *clause, end string, last bool) {
	at := c.opener(x.from, x.to)
	x.topicAt = at
	if c.command(x, at) || c.asking(x, at, end, last) {
		return
	}
	x.act = Tell
	if before != nil && isQuestion(before.act) && !c.tells(at) && !(c.is(x.from, "but")) {
		x.act = before.act // how long, realistically?
		return
	}
	if last && end == "?" && !c.tells(at) && c.ctx.Asked == "" && before == nil {
		x.act = Ask
	}
}

// isQuestion reports whether an act asks.
func isQuestion(a Act) bool {
	switch a {
	case Why, WhyNot, WhatIf, Compare, Define, Ask:
		return true
	}
	return false
}

// tells reports whether a clause that begins at item i tells something: it has
// a subject of its own, or a wish.
func (c *chart) tells(i int) bool {
	return c.subject(i) || c.item(i).any("holding", "mend", "withdraw") || c.item(i).has("keep") != nil && !c.is(i, "same") || c.is(i, "please", "make", "want", "need", "keep", "use", "nothing", "nobody", "no", "not", "never")
}

// asking settles whether a clause that begins at item i asks, and what.
func (c *chart) asking(x *clause, i int, end string, last bool) bool {
	it := c.item(i)
	act := it.has("act")
	if act != nil {
		switch a := Act(act.Value); a {
		case Why, WhyNot, WhatIf, Compare, Define:
			if a == WhatIf && !c.starts(i, "what", "how", "would", "could", "can") && !(end == "?" || c.hasWord(x, "happens", "becomes", "become")) {
				return false
			}
			if a == Define && !c.definable(x, i) {
				a = Ask
			}
			x.act, x.topicAt = a, i+1
			if a == Why && c.is(i+1, "not", "cant", "dont") {
				x.act = WhyNot
			}
			if a == Define && (c.hasWord(x, "difference", "vs", "versus", "better", "than") || c.choiceOfTwo(x)) {
				x.act = Compare
			}
			return true
		case Show:
			if c.starts(i, "how") {
				x.act, x.topicAt = Ask, i
				return true
			}
		}
	}
	if it.has("about") != nil && it.has("about").Value == "question" {
		x.act, x.topicAt = Ask, i
		return true
	}
	if c.is(i, "if") && end == "?" {
		x.act, x.topicAt = WhatIf, i+1
		return true
	}
	if c.hasWord(x, "vs", "versus", "difference", "compare", "compared") {
		x.act = Compare
		return true
	}
	if t := c.item(i).has("term"); t != nil && end == "?" && c.ends(i+1, x) && x.to+1 >= len(c.items) && x.first && c.ctx.Asked == "" && c.item(i).fact() == nil {
		x.act, x.topicAt = Define, i // kerf?
		return true
	}
	if !c.questionWord(i) || !c.inverts(i) && !(end == "?" && last && c.starts(i, "how", "what", "which", "who", "when", "where")) {
		return false
	}
	if !x.first && end != "?" && (c.starts(i, "who", "which", "where", "when") || c.item(x.from-1).mark == ")") {
		return false // my grandson, who is six
	}
	if c.requests(x, i) {
		x.request = true
		return false
	}
	if c.ctx.Asked != "" && c.item(i).fact() != nil {
		return false
	}
	x.act = Ask
	switch {
	case c.starts(i, "why", "whys") && c.is(i+1, "not", "cant", "dont"):
		x.act = WhyNot
	case c.starts(i, "why", "whys"):
		x.act = Why
	case c.hasWord(x, "better", "or") && c.choiceOfTwo(x) || c.hasWord(x, "better") && c.hasWord(x, "than"):
		x.act = Compare
	case c.hasWord(x, "mean", "means", "meaning") && c.starts(i, "what", "whats", "wat", "does"):
		x.act = Define
	case c.starts(i, "what") && c.is(i+1, "if"):
		x.act = WhatIf
	case c.starts(i, "what") && end != "?" && !last && c.subject(i+1):
		return false // what I want is …
	}
	x.topicAt = i + 1
	return true
}

// definable reports whether the rest of the clause, from item i+1, is a word to
// be explained rather than a question about something.
func (c *chart) definable(x *clause, i int) bool {
	n := 0
	for j := i + 1; j < x.to; j++ {
		switch it := c.item(j); {
		case it.any("about") || it.has("topic") != nil && c.is(j, "cost", "price", "weight"):
			return false
		case !c.filler(j):
			n++
		}
	}
	return n > 0 && n <= 6
}

// choiceOfTwo reports whether the clause names two things joined by or.
func (c *chart) choiceOfTwo(x *clause) bool {
	for j := x.from + 1; j < x.to-1; j++ {
		if c.is(j, "or") && !c.item(j-1).empty() && !c.item(j+1).empty() {
			return true
		}
	}
	return false
}

// hasWord reports whether one of words stands in the clause.
func (c *chart) hasWord(x *clause, words ...string) bool {
	for k := c.item(x.from).from; k < c.item(x.to-1).to; k++ {
		if slices.Contains(words, c.at(k).Text) {
			return true
		}
	}
	return false
}

// requests reports whether the clause that begins with can, could or the like
// at item i is a wish: could we go a bit softer?
func (c *chart) requests(x *clause, i int) bool {
	if !c.starts(i, "can", "could", "would", "will", "may", "might", "cud", "wud", "shall", "do", "dont", "cant", "couldnt", "wont") {
		return false
	}
	if c.starts(i, "would", "will", "do") && !c.is(i+1, "you", "u", "it", "we") {
		return false
	}
	if c.hasWord(x, "take", "hurt", "damage", "cost", "break", "last", "matter", "happen", "long", "still", "enough", "without", "use", "instead") && !c.hasWord(x, "make") {
		return false
	}
	if c.hasWord(&clause{from: i, to: min(i+4, x.to)}, "make") && c.is(i+1, "you", "u", "we", "it") {
		return c.is(i+1, "you", "u") && c.hasWord(&clause{from: i, to: min(i+5, x.to)}, "it", "this", "that", "them", "these", "one")
	}
	for j := i + 1; j < x.to; j++ {
		it := c.item(j)
		if x := it.has("move"); x != nil || it.any("keep") && j > i+1 {
			return true
		}
		if it.fact() != nil && (c.is(i+1, "you", "u", "we") || c.hasWord(&clause{from: i, to: j + 1}, "make", "have", "be", "get")) && !it.any("bench.drill") {
			return c.starts(i, "can", "could", "would", "may", "might", "cud") && c.hasWord(&clause{from: i, to: x.to}, "make", "made", "have", "get", "do", "be", "want", "go")
		}
	}
	return false
}

// strongCommand lists single words that are commands wherever they begin a
// clause by themselves, with no more than politeness after them.
func (c *chart) command(x *clause, i int) bool {
	j := i
	for k := 0; k < 4; k++ { // could we, let's, I want to
		switch {
		case c.is(j, "can", "could", "may", "might", "lets", "let", "please", "we", "i", "you", "us", "me", "want", "wanna", "to", "just", "now", "go", "like", "id", "would", "need", "pls", "plz", "kindly", "then", "should", "ok", "must", "have", "gotta", "im", "gonna", "going", "do", "so") &&
			!c.item(j).any("act"):
			j++
			continue
		case c.item(j).any("filler") && !c.item(j).any("act") && c.starts(j, "id", "i", "can", "could", "have", "need", "to", "let", "we", "want", "would"):
			j++
			continue
		}
		break
	}
	it := c.item(j)
	act := it.has("act")
	if act == nil {
		return c.replies(x, i)
	}
	a := Act(act.Value)
	if it.slips > 0 && it.to-it.from == 1 && !c.ends(j+1, x) {
		return false
	}
	switch a {
	case Why, WhyNot, WhatIf, Compare, Define:
		return false
	case Show:
		if c.starts(j, "how") {
			return false
		}
		if !c.topicOrEnd(j+1, x) || c.starts(j, "give") && c.wishIn(j+1, x) {
			return false
		}
	case Change:
		if j+1 < x.to && !c.hasTopic(j+1, x) {
			return false
		}
	case Back:
		if it.to-it.from == 1 && !c.topicOrEnd(j+1, x) {
			return false
		}
	case Restart:
		if it.to-it.from == 1 && !c.ends(j+1, x) {
			return false
		}
	case Undo, Help, Lesson, Save, Leave, Skip, More:
		if !c.ends(j+1, x) && !(it.to-it.from > 1 && c.leads(j+1, x)) && !(a == Help && x.to-j <= 5 && !c.tellsIn(j+1, x)) && !(a == Save && c.hasTopic(j+1, x) && !c.tellsIn(j+1, x)) {
			return false
		}
		if a == Leave && it.to-it.from == 1 && c.ends(j+1, x) && !c.polite(j+1, x) {
			return false // leave as before
		}
		if j > i && it.to-it.from == 1 && c.is(i, "i", "im", "we") && !c.is(i+1, "want", "need", "must", "have", "gotta") && !c.is(j-1, "to") {
			return false
		}
	}
	if it.any("holding", "withdraw", "mend") && c.hasTopic(j+1, x) {
		return false // forget about the budget
	}
	x.act, x.topicAt = a, j+1
	return true
}

// replies settles whether a clause that begins at item i is a yes, a no or the
// like, and nothing else.
func (c *chart) replies(x *clause, i int) bool {
	for i > x.from && c.item(i-1).any("reply") {
		i--
	}
	it := c.item(i)
	r := it.has("reply")
	if r == nil {
		for !it.any("alone") && c.filler(i) && i+1 < x.to {
			i++
			it = c.item(i)
		}
		r = it.has("alone")
	}
	if r == nil || c.asked(it.senses) && c.ends(i+1, x) {
		return false
	}
	if Act(r.Value) == Unsure && c.starts(i+1, "about", "if", "whether", "which", "what", "how") {
		x.act, x.topicAt = Unsure, i+1
		return true
	}
	if !c.ends(i+1, x) || c.starts(i, "what", "huh") && i+1 < x.to {
		return false
	}
	x.act, x.topicAt = Act(r.Value), i+1
	if x.act == Skip && c.ctx.Asked == "" {
		x.act = More
	}
	return true
}

// ends reports whether nothing that counts stands in the clause from item i on.
func (c *chart) ends(i int, x *clause) bool {
	for ; i < x.to; i++ {
		it := c.item(i)
		if a := it.has("act"); a != nil && i > x.from && c.word(i) == c.word(i-1) {
			continue // undo undo
		}
		if it.has("topic") != nil || !c.filler(i) && !it.any("social", "reply", "alone") && !c.is(i, "please", "pls", "plz", "now", "then", "it", "this", "that", "here", "so", "far", "all", "the", "for", "today", "thanks", "and", "lol", "mallow", "a", "me", "again", "instead", "bit", "step", "up") {
			return false
		}
	}
	return true
}

// wishIn reports whether the clause from item i on holds a wish for a head.
func (c *chart) wishIn(i int, x *clause) bool {
	for ; i < x.to; i++ {
		if f := c.item(i).fact(); f != nil && strings.HasPrefix(f.Slot, "want.") || c.item(i).any("move", "wish") {
			return true
		}
	}
	return false
}

// polite reports whether no more than politeness follows in the clause from item
// i on.
func (c *chart) polite(i int, x *clause) bool {
	for ; i < x.to; i++ {
		if !c.item(i).any("social") && !c.is(i, "please", "pls", "plz", "now", "then", "thanks", "mallow", "here", "and") {
			return false
		}
	}
	return true
}

// leads reports whether what follows a command of several words from item i on
// doesn't make it another sentence.
func (c *chart) leads(i int, x *clause) bool {
	return !c.tellsIn(i, x)
}

// topicOrEnd reports whether nothing follows, or something that can be shown or
// gone back to.
func (c *chart) topicOrEnd(i int, x *clause) bool { return c.ends(i, x) || c.hasTopic(i, x) }

// hasTopic reports whether something that can be asked about or changed stands
// in the clause from item i on.
func (c *chart) hasTopic(i int, x *clause) bool {
	for ; i < x.to; i++ {
		if c.item(i).any("topic", "kind", "material", "term", "about") || c.item(i).fact() != nil || c.item(i).id != "" || c.item(i).qty != nil {
			return true
		}
	}
	return false
}

// tellsIn reports whether the clause from item i on settles something.
func (c *chart) tellsIn(i int, x *clause) bool {
	for ; i < x.to; i++ {
		if c.item(i).fact() != nil || c.item(i).any("move", "kind", "material") || c.item(i).qty != nil {
			return true
		}
	}
	return false
}
