// Package clause cuts a covered text into clauses and settles what each does:
// tell, ask, order, take back or chat. It never takes anything from them.
package clause

import (
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/reading"
)

// Clause is a stretch of items with one act.
type Clause struct {
	From, To int // items, the mark that ends it not among them
	End      string
	Act      reading.Act
	TopicAt  int  // where what is asked or ordered is named
	request  bool // put as a question and meant as a wish: could you make it softer?
	First    bool // of its sentence
	Heading  bool // it asks what the next one answers: how hard? middling
}

// cutter cuts a chart into clauses.
type cutter struct{ *cover.Chart }

// Cut cuts a covered text into clauses and settles what each does.
func Cut(c *cover.Chart) []Clause { return cutter{c}.clauses() }

// clauses cuts the items at marks and before words that begin a clause, and
// settles what each clause does.
func (c cutter) clauses() []Clause {
	var out []Clause
	from, first := 0, true
	cut := func(to int, end string) {
		if to > from {
			out = append(out, Clause{From: from, To: to, End: end, First: first})
			first = false
		}
		if end == "." || end == "!" || end == "?" || end == ";" {
			first = true
		}
	}
	for i := range c.Items {
		it := c.Item(i)
		switch {
		case it.Mark == "-" && c.dash(i), strings.Contains(".,;:!?()", it.Mark) && it.Mark != "":
			end := it.Mark
			if end == ":" || end == "(" || end == ")" || end == "-" {
				end = ","
			}
			cut(i, end)
			from = i + 1
		case i > from && (c.opens(i) || (joiner{c}).runsOn(i, from)):
			cut(i, "")
			from = i
		}
	}
	cut(len(c.Items), ".")
	for k := range out {
		out[k].First = out[k].First || k > 0 && c.leads(out[k-1].From, "opener") && out[k-1].To == out[k-1].From+1
		var before *Clause
		if k > 0 && !out[k].First {
			before = &out[k-1]
		}
		end, last := c.sentenceEnd(out, k)
		c.classify(&out[k], before, end, last)
	}
	joiner{c}.headings(out)
	joiner{c}.choices(out)
	joiner{c}.tails(out)
	joiner{c}.hindsight(out)
	joiner{c}.verdicts(out)
	return out
}

// dash reports whether the hyphen at item i stands between two clauses, with
// spaces round it, and not between numbers.
func (c cutter) dash(i int) bool {
	t := c.At(c.Item(i).From)
	next := c.At(c.Item(i).To)
	return !t.Near && !next.Near && c.Item(i-1).Qty == nil && c.Item(i-1).Note == nil
}

// sentenceEnd returns the mark that ends the sentence of clause k, and whether
// the clause is its last.
func (c cutter) sentenceEnd(all []Clause, k int) (end string, last bool) {
	j := k
	for j+1 < len(all) && !all[j+1].First {
		j++
	}
	return all[j].End, j == k
}

// opens reports whether item i begins a clause without a mark before it: but it
// is dark, because she is 9, and can you …
func (c cutter) opens(i int) bool {
	switch {
	case c.Is(i, "so") && c.questionWord(i+1) && c.Starts(i+1, "what", "which", "how", "why", "where", "is", "are", "do", "does", "can", "could", "should", "will", "would"):
		return true
	case c.Is(i, "but", "because", "cos", "cause", "so", "since", "although", "though", "however", "while", "whereas", "unless"):
		if c.Is(i, "so") && (c.Item(i+1).Fact() != nil || c.Item(i+1).Any("move", "wish", "topic") || c.Is(i+1, "that", "much", "far", "on", "called")) || c.Is(i-1, "or") {
			return false
		}
		if c.Is(i, "since") && c.Item(i+1).Qty != nil {
			return false
		}
		return c.Item(i).Any("join", "filler", "plain") || len(c.Item(i).Senses) == 0
	case c.Is(i, "and") && c.between(i):
		return false
	case c.Is(i, "and", "or", "n", "then"), c.andThen(i):
		j := i + 1
		for c.Is(j, "then", "also", "please", "just") {
			j++
		}
		if c.Subject(j) && c.verbish(j+1) || c.questionWord(j) && (!c.Is(j, "which", "who", "where", "when", "how") || c.Is(i, "and")) && c.inverts(j) {
			return true
		}
		if c.asksBy(j) && c.Starts(j, "tell", "explain", "remind", "let", "say", "give") {
			return true // softer and tell me what it costs
		}
		return c.Starts(i, "and", "then") && c.Item(j).Any("act") && (c.Item(j).To-c.Item(j).From > 1 || c.Is(j, "show", "save", "print", "undo", "compare", "quit", "exit", "leave", "close"))
	case c.Is(i, "if", "when") && i > 0:
		return false
	}
	return false
}

// between reports whether the "and" at item i joins the two that something lies
// between: between the medium and the hard.
func (c cutter) between(i int) bool {
	const near = 7
	for j := i - 1; j >= max(0, i-near) && c.Item(j).Mark == "" && !c.Is(j, "and"); j-- {
		if c.Says(j, "between") {
			return true
		}
	}
	return false
}

// verbish reports whether item i goes on a clause after its subject.
func (c cutter) verbish(i int) bool {
	return !c.Is(i, "and", "or", "for", "of", "with", "at", "on") && c.Item(i).Mark == ""
}

// questionWord reports whether item i may begin a question.
func (c cutter) questionWord(i int) bool {
	return c.Starts(i, "what", "whats", "wat", "wats", "which", "who", "whos", "whose", "where", "wheres", "when", "whens", "why", "whys", "how", "hows", "wot", "wots",
		"is", "are", "am", "was", "do", "does", "did", "can", "could", "would", "will", "should", "shud", "cud", "wud", "shall", "may", "might", "has", "isnt", "arent",
		"doesnt", "dont", "wouldnt", "couldnt", "cant", "wont", "shouldnt", "didnt", "any")
}

// inverts reports whether the question word at item i is followed by what makes
// it one: does the winding change, how long. "Can be had" is no question.
func (c cutter) inverts(i int) bool {
	switch {
	case c.Item(i).Has("mend") != nil && !c.asked(i):
		return false // should read 28
	case c.Starts(i, "is", "are", "am", "was", "do", "does", "did", "can", "could", "would", "will", "should", "shud", "cud", "wud", "shall", "may", "might", "has"):
		if c.Item(i).To-c.Item(i).From > 1 && !c.Item(i).Any("act", "filler") {
			return c.Starts(i, "is", "are") && !c.Item(i).Any("holding", "not", "want.softness", "too")
		}
		if c.Starts(i, "do", "does", "did", "has") && !c.asked(i) && !c.Subject(i+1) && !(c.Starts(i, "does") && c.OfPart(i+1)) && !c.Is(i+1, "these", "those", "mallets", "u", "yarn", "all", "both", "anyone", "anybody", "everyone", "everybody", "people") {
			return false
		}
		if c.Is(i, "do") && c.Is(i+1, "that", "this", "it", "them", "so") && c.ClauseEnds(i+2) {
			return false // so do that
		}
		if goesOnVerb(c, i) || c.Starts(i, "would", "wud") && c.Is(i+1, "hate", "love", "like", "prefer", "rather", "appreciate", "welcome", "suit") {
			return false // would hate to buy more
		}
		if c.Is(i+1, "be", "not", "have", "get", "also", "never", "always", "only", "do", "go", "take", "fit", "come", "at", "for", "too", "so", "fine", "ok") {
			return false
		}
		if c.Starts(i, "should", "must", "might", "may") && !c.asked(i) && (wisher{c}).leavesOutSubject(i+1) {
			return false // should blossom when I push
		}
		if c.Starts(i, "could", "can") && !c.asked(i) && c.Starts(i+1, "use", "do", "stand", "bear") && c.HasWord(i+1, i+7, "more", "less", "some", "bit", "touch", "extra") {
			return false // could use a bit more weight
		}
		if c.Starts(i, "can", "could", "would", "will", "might", "may") && !c.asked(i) && c.Starts(i+1, "cut", "buy", "hate", "love", "prefer", "borrow", "order", "bring", "spare", "lend", "find", "ask", "measure", "weigh", "saw", "sand", "unravel", "part", "rather") {
			return false // can cut rings from it; would hate to buy more
		}
		return c.Item(i+1).Mark == ""
	case c.Starts(i, "dont", "cant", "wont", "isnt", "arent", "doesnt", "wouldnt", "couldnt", "shouldnt", "didnt"):
		return c.Item(i).To-c.Item(i).From == 1 && c.Is(i+1, "you", "they", "we", "it", "that", "this", "the", "i", "he", "she")
	case c.Starts(i, "any"):
		return c.Is(i+1, "good", "chance", "idea", "ideas", "tips", "advice", "way", "point", "use", "difference", "risk")
	case c.Starts(i, "when", "where", "who", "whose"):
		return c.Is(i+1, "is", "are", "do", "does", "did", "will", "can", "should")
	case c.Starts(i, "how", "what", "which") && c.Is(i+1, "i", "you", "we", "he", "she", "they", "it"):
		return false // what you showed me
	case c.Starts(i, "what") && c.Item(i+1).Has("holding") != nil && c.Starts(i+1, "i", "we", "im", "id", "were", "she", "he", "they") && c.HasWord(i+2, i+4, "is", "are"):
		return false // what I want is dark
	case c.Starts(i, "what") && c.Is(i+1, "with"):
		return false // what with the roof leaking
	}
	return true
}

// asked reports whether the sentence of item i ends in a question mark.
func (c cutter) asked(i int) bool {
	for ; i < len(c.Items); i++ {
		if c.SentenceEnds(i) {
			return c.Item(i).Mark == "?"
		}
	}
	return false
}

// opener skips what may stand before the first word of a clause that counts:
// joins, greetings, politeness.
func (c cutter) opener(from, to int) int {
	i := from
	for i < to {
		it := c.Item(i)
		switch {
		case it.Has("social") != nil && i+1 < to && !c.Subject(i+1) && !c.chats(i) && !c.Starts(i, "my", "our", "his", "her", "the") && !(c.Is(i, "wife", "husband", "grandkids", "kids", "mum", "dad") && c.Starts(i+1, "is", "are", "was", "has", "will", "can", "does")): // my cat is …
		case (c.andThen(i) || c.leads(i, "opener") || c.Item(i).Any("mend") && (wisher{c}).ordersOnly(i+1, to)) && i+1 < to:
		case c.Is(i, "and", "but", "so", "or", "well", "um", "uh", "er", "erm", "ok", "okay", "oh", "ooh", "hi", "hello", "hey", "please", "pls", "plz", "also", "then", "now", "hmm", "hm",
			"right", "anyway", "yo", "actually", "actualy", "just", "maybe", "perhaps", "lol", "kindly", "ah", "aha", "n", "roughly", "sir", "madam", "mallow", "precisely", "because", "cos", "though", "however", "wait", "sorry", "quick", "question", "like", "really", "about", "dear", "good", "day", "yes", "no", "nah", "nope", "yep", "yeah", "sure"):
			if c.Is(i, "good", "like", "really", "about", "just") && i+1 >= to || c.Is(i, "well") && strings.ContainsAny(c.Said(i, i+1), "'’") { // we'll do the marimba
				return i
			}
			if c.Is(i, "yes", "no", "nah", "nope", "yep", "yeah", "sure", "right") && i+1 >= to {
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
func (c cutter) classify(x *Clause, before *Clause, end string, last bool) {
	at := c.opener(x.From, x.To)
	x.TopicAt = at
	if (wisher{c}).led(x, at, end) || c.bareAsks(x, at, end) || (commander{c}).command(x, at) || c.asking(x, at, end, last) || c.goesOn(x, before, at) {
		return
	}
	x.Act = reading.Tell
	if before != nil && IsQuestion(before.Act) && (!c.tells(at) || end == "?" && c.Is(x.From, "if", "when", "because", "since")) && !(c.Is(x.From, "but")) {
		x.Act = before.Act // how long, realistically?
		return
	}
	if last && end == "?" && !x.request && (!c.tells(at) || c.Is(at, "one") && c.Open != "") && (c.Open == "" || !mayAnswer(c, x)) && before == nil && !c.echoes(x) && !(wisher{c}).hedges(x) {
		x.Act = reading.Ask
	}
}

// echoes reports whether a clause of a word only repeats what was asked, before its
// answer: Me? Forty-four.
func (c cutter) echoes(x *Clause) bool {
	next := x.To + 1
	if x.First && c.namesOnly(x) && (c.Item(next).Any("held", "holding") && c.Item(x.From).Any("bench.drill", "bench.scale", "bench.caliper") || c.Subject(next) && (c.Item(next).Any("holding") || c.Item(next+1).Any("holding") || c.Item(next+2).Any("holding"))) && c.Item(next).Has("act") == nil && !c.questionWord(next) { // drill? no
		return true
	}
	return x.To-x.From == 1 && (c.Is(x.From, "me", "us", "you", "him", "her", "them") || c.Item(x.From).Has("topic") != nil) && !c.questionWord(x.From) && next < len(c.Items) && !c.questionWord(next)
}

// IsQuestion reports whether an act asks.
func IsQuestion(a reading.Act) bool {
	switch a {
	case reading.Why, reading.WhyNot, reading.WhatIf, reading.Compare, reading.Define, reading.Ask:
		return true
	}
	return false
}

// tells reports whether a clause that begins at item i tells something: it has
// a subject of its own, or a wish.
func (c cutter) tells(i int) bool {
	return c.Subject(i) || c.Item(i).Any("holding", "mend", "withdraw") || c.Item(i).Has("keep") != nil && !c.Is(i, "same") || c.Is(i, "please", "make", "want", "need", "keep", "use", "nothing", "nobody", "no", "not", "never")
}

// asking settles whether a clause that begins at item i asks, and what.
func (c cutter) asking(x *Clause, i int, end string, last bool) bool {
	it := c.Item(i)
	act := it.Has("act")
	if act != nil {
		switch a := reading.Act(act.Value); a {
		case reading.Why, reading.WhyNot, reading.WhatIf, reading.Compare, reading.Define:
			if a == reading.WhatIf && !c.Starts(i, "what", "how", "would", "could", "can", "suppose", "supposing", "imagine", "imagining", "pretend", "say", "lets", "hypothetically") && !(end == "?" || c.HasWord(x.From, x.To, "happens", "becomes", "become") || c.supposes(x, last)) {
				return false
			}
			if a == reading.Define && !c.definable(x, i) {
				a = reading.Ask
			}
			x.Act, x.TopicAt = a, i+1
			if a == reading.Why && c.Is(i+1, "not", "cant", "dont") {
				x.Act = reading.WhyNot
			}
			if a == reading.Define && (c.HasWord(x.From, x.To, "difference", "vs", "versus", "better", "than", "compared", "against") || c.choiceOfTwo(x)) {
				x.Act = reading.Compare
			}
			return true
		case reading.Show:
			if c.Starts(i, "how") {
				x.Act, x.TopicAt = reading.Ask, i
				return true
			}
		}
	}
	if (wisher{c}).offers(x, x.From) || c.Starts(i, "can", "could") && it.Has("about") != nil && (wisher{c}).requests(x, i) {
		x.request = true
		return false // can it be darker
	}
	if c.bareAbout(x.From, x) {
		x.Act, x.TopicAt = reading.Ask, i
		return true
	}
	if c.Is(i, "y") && c.Is(i+1, "does", "is", "are", "do", "did", "not", "r", "isnt", "so") {
		x.Act, x.TopicAt = reading.Why, i+1
		return true
	}
	if c.asksBy(i) {
		x.Act, x.TopicAt = reading.Ask, i
		return true
	}
	if c.Is(i, "if") && (end == "?" || c.supposes(x, last)) {
		x.Act, x.TopicAt = reading.WhatIf, i+1
		return true
	}
	if c.HasWord(x.From, x.To, "vs", "versus", "difference", "compare", "compared") {
		x.Act = reading.Compare
		return true
	}
	if t := c.Item(i).Has("term"); t != nil && end == "?" && c.ends(i+1, x) && x.To+1 >= len(c.Items) && x.First && c.Open == "" && c.Item(i).Fact() == nil {
		x.Act, x.TopicAt = reading.Define, i // kerf?
		return true
	}
	if c.tag(x, i) || end != "?" && c.noSubject(x, i) {
		return false
	}
	if c.Starts(i, "what", "how", "whit", "wat") && x.First && end == "?" && c.HasWord(x.From, x.To, "mean", "means") {
		x.Act, x.TopicAt = reading.Define, i+1
		return true // what it means, blended?
	}
	if h := c.Item(i).Has("holding"); h != nil && h.Value == "have" && c.Item(i).To-c.Item(i).From > 2 && c.Starts(i, "what") {
		return false // what I have is a rubber ball
	}
	if !c.questionWord(i) || !c.inverts(i) && !c.verbs(i, x) && !(end == "?" && last && c.Starts(i, "how", "what", "which", "who", "when", "where")) {
		return false
	}
	if !x.First && end != "?" && (c.Starts(i, "who", "which", "where", "when") && !c.whichOf(i, x) || c.Item(x.From-1).Mark == ")") {
		return false // my grandson, who is six
	}
	if (wisher{c}).requests(x, i) {
		x.request = true
		return false
	}
	if c.Open != "" && c.Item(i).Fact() != nil {
		return false
	}
	x.Act = reading.Ask
	switch {
	case c.Starts(i, "why", "whys") && c.Is(i+1, "not", "cant", "dont"):
		x.Act = reading.WhyNot
	case c.Starts(i, "why", "whys"):
		x.Act = reading.Why
	case c.HasWord(x.From, x.To, "better", "or") && c.choiceOfTwo(x) || c.HasWord(x.From, x.To, "better") && c.HasWord(x.From, x.To, "than"):
		x.Act = reading.Compare
	case c.HasWord(x.From, x.To, "mean", "means", "meaning") && c.Starts(i, "what", "whats", "wat", "does"):
		x.Act = reading.Define
	case c.Starts(i, "what") && c.Is(i+1, "if"):
		x.Act = reading.WhatIf
	case c.Starts(i, "what") && end != "?" && !last && c.Subject(i+1):
		return false // what I want is …
	}
	x.TopicAt = i + 1
	return true
}

// choiceOfTwo reports whether the clause names two things joined by or.
func (c cutter) choiceOfTwo(x *Clause) bool {
	for j := x.From + 1; j < x.To-1; j++ {
		if c.Is(j, "or") && !c.Item(j-1).Empty() && !c.Item(j+1).Empty() && c.Item(j+1).Has("move") == nil { // medium or harder is a limit
			return true
		}
	}
	return false
}

// commander settles clauses that order something: back, undo, show the sheet.
type commander struct{ cutter }

// command settles whether a clause that begins at item i orders something, and what;
// a yes, a no or the like counts as that.
func (c commander) command(x *Clause, i int) bool {
	j := i
	for k := 0; k < 4; k++ { // could we, let's, I want to
		switch {
		case c.Is(j, "can", "could", "may", "might", "lets", "let", "please", "we", "i", "you", "us", "me", "want", "wanna", "to", "just", "now", "go", "like", "id", "would", "need", "pls", "plz", "kindly", "then", "should", "ok", "must", "have", "gotta", "im", "gonna", "going", "do", "so") &&
			!c.Item(j).Any("act"):
			j++
			continue
		case c.Item(j).Any("filler") && !c.Item(j).Any("act") && c.Starts(j, "id", "i", "can", "could", "have", "need", "to", "let", "we", "want", "would"):
			j++
			continue
		}
		break
	}
	it := c.Item(j)
	act := it.Has("act")
	if act == nil {
		if k := c.wanted(x, j); k > 0 {
			x.Act, x.TopicAt = reading.Act(c.Item(k).Has("act").Value), k+1
			return true
		}
		return !c.neither(x) && c.replies(x, i)
	}
	a := reading.Act(act.Value)
	if it.Slips > 0 && it.To-it.From == 1 && !c.ends(j+1, x) {
		return false
	}
	switch a {
	case reading.Why, reading.WhyNot, reading.WhatIf, reading.Compare, reading.Define:
		return false
	case reading.Show:
		if c.Starts(j, "how") {
			return false
		}
		if !c.topicOrEnd(j+1, x) && !c.shown(j+1, x) || c.Is(j, "see") && c.Starts(j+1, "where", "how", "if", "whether") || c.Starts(j, "give") && c.wishIn(j+1, x) || c.Is(j, "show") && c.HasWord(j+1, x.To, "want", "wants", "need", "needs", "like", "likes") {
			return false
		}
	case reading.Change:
		if j+1 < x.To && !c.hasTopic(j+1, x) {
			return false
		}
	case reading.Back:
		if it.To-it.From == 1 && !c.topicOrEnd(j+1, x) {
			return false
		}
	case reading.Restart:
		if it.To-it.From == 1 && !c.ends(j+1, x) {
			return false
		}
	case reading.Undo, reading.Help, reading.Lesson, reading.Save, reading.Leave, reading.Skip, reading.More:
		if a == reading.More && c.asksBy(j) && j+1 < x.To && c.asked(j) {
			return false // what else sticks?
		}
		if a == reading.Save && (c.Is(j+1, "much", "many", "possible") || c.Starts(j, "keep") && c.Says(j, "as") && c.HasWord(j+1, x.To, "as")) {
			return false // save as much as you can; keep it as soft as it is
		}
		if a == reading.Save && c.Starts(j, "keep") && (c.Item(j+1).Fact() != nil || c.Item(j+1).Any("move")) && c.HasWord(j+2, x.To, "as") {
			return false // keep it as soft as it is now
		}
		if !c.ends(j+1, x) && !(it.To-it.From > 1 && !c.tellsIn(j+1, x)) && !(a == reading.Help && x.To-j <= 5 && !c.tellsIn(j+1, x)) && !(a == reading.Save && (c.Says(j, "as") || c.hasTopic(j+1, x) && !c.tellsIn(j+1, x))) { // save as vib2
			return false
		}
		if a == reading.Leave && (it.To-it.From == 1 && c.ends(j+1, x) && !c.polite(j+1, x) || !x.First && c.Starts(j, "thats") && (c.HasWord(j+1, x.To, "until", "till") || c.Says(j, "me") && !c.HasWord(max(0, j-6), j, "done", "finished", "off", "enough", "thanks", "ok", "okay", "right", "good"))) {
			return false // leave as before; twenty pounds, and that's me done until the new year
		}
		if a == reading.Leave && c.Starts(j, "thats") && (c.Subject(j+1) || c.Says(j, "me") && !c.ends(j+1, x) && !c.HasWord(j, j+2, "done", "finished", "off", "sorted", "away")) {
			return false // peanuts, that's all I react to
		}
		if j > i && it.To-it.From == 1 && c.Is(i, "i", "im", "we") && !c.Is(i+1, "want", "need", "must", "have", "gotta") && !c.Is(j-1, "to") {
			return false
		}
	}
	if it.Any("holding", "withdraw", "mend") && c.hasTopic(j+1, x) {
		return false // forget about the budget
	}
	x.Act, x.TopicAt = a, j+1
	return true
}

// neither reports whether the either that ends a clause only goes with its denial: and no
// bigger either.
func (c commander) neither(x *Clause) bool {
	return c.Is(x.To-1, "either") && x.To-x.From > 2 && c.HasWord(x.From, x.To, "no", "not", "nor", "never")
}

// wanted returns the item that names what is wanted of mallow where a clause asks
// for it by name, else 0: can I have that as a lesson plan.
func (c commander) wanted(x *Clause, j int) int {
	if !c.Is(j, "have", "get", "do", "see", "run", "make", "turn", "a", "the", "start") && !c.Starts(j, "have", "get", "make") {
		return 0
	}
	for k := j + 1; k < x.To && k < j+6; k++ {
		if a := c.Item(k).Has("act"); a != nil && reading.Act(a.Value) == reading.Lesson && !c.tellsIn(k+1, x) && !c.tellsIn(j, &Clause{From: j, To: k}) {
			return k
		}
		if !c.Filler(k) && c.Item(k).Has("join") == nil && c.Item(k).Has("act") == nil {
			return 0
		}
	}
	return 0
}

// replies settles whether a clause that begins at item i is a yes, a no or the
// like, and nothing else.
func (c cutter) replies(x *Clause, i int) bool {
	for i > x.From && c.Item(i-1).Any("reply") {
		i--
	}
	it := c.Item(i)
	r := it.Has("reply")
	if r == nil {
		for !it.Any("alone") && c.Filler(i) && i+1 < x.To {
			i++
			it = c.Item(i)
		}
		r = it.Has("alone")
	}
	if r == nil || c.Asked(it.Senses) && c.ends(i+1, x) {
		return false
	}
	if reading.Act(r.Value) == reading.Unsure && c.Starts(i+1, "about", "if", "whether", "which", "what", "how") {
		x.Act, x.TopicAt = reading.Unsure, i+1
		return true
	}
	if !c.ends(i+1, x) || c.Starts(i, "what", "huh") && i+1 < x.To || c.Starts(i, "how", "where", "who") && c.Open == "" {
		return false
	}
	x.Act, x.TopicAt = reading.Act(r.Value), i+1
	if x.Act == reading.Skip && c.Open == "" && (c.Is(i, "skip") || c.Starts(i, "next", "continue", "carry", "go", "move", "later")) {
		x.Act = reading.More
	}
	return true
}

// ends reports whether nothing that counts stands in the clause from item i on.
func (c cutter) ends(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		it := c.Item(i)
		if a := it.Has("act"); a != nil && i > x.From && c.Word(i) == c.Word(i-1) {
			continue // undo undo
		}
		if it.Has("topic") != nil || !c.Filler(i) && !it.Any("social", "reply", "alone") && !c.Is(i, "please", "pls", "plz", "now", "then", "it", "this", "that", "here", "so", "far", "all", "the", "for", "today", "thanks", "and", "lol", "mallow", "a", "me", "again", "instead", "bit", "step", "up") {
			return false
		}
	}
	return true
}

// topicOrEnd reports whether nothing follows, or something that can be shown or
// gone back to.
func (c commander) topicOrEnd(i int, x *Clause) bool { return c.ends(i, x) || c.hasTopic(i, x) }

// hasTopic reports whether something that can be asked about or changed stands
// in the clause from item i on.
func (c cutter) hasTopic(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		if c.Item(i).Any("topic", "kind", "material", "term", "about") || c.Item(i).Fact() != nil || c.Item(i).ID != "" || c.Item(i).Qty != nil {
			return true
		}
	}
	return false
}

// tellsIn reports whether the clause from item i on settles something.
func (c cutter) tellsIn(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		if c.Item(i).Fact() != nil || c.Item(i).Any("move", "kind", "material") || c.Item(i).Qty != nil {
			return true
		}
	}
	return false
}
