package clause

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// supposes reports whether a clause that begins with if, the only one of its
// sentence, says what could be and not when: and if it was 28 grams?
func (c cutter) supposes(x *Clause, last bool) bool {
	return x.First && last && !c.HasWord(x.From, x.To, "possible", "can", "please", "you") &&
		c.HasWord(x.From, x.To, "was", "were", "had", "got", "used", "went", "took", "swapped", "made", "left", "added", "doubled", "halved", "skipped", "dropped", "weighed")
}

// verbs reports whether the sentence that begins at item i is a question by the
// verb before its subject, with or without its mark: does wool fray; do hard ones
// crack bars; isn't rubber heavier.
func (c cutter) verbs(i int, x *Clause) bool {
	if !x.First || x.To-i < 3 {
		return false
	}
	switch {
	case c.Is(i, "does") && c.Is(i+1, "a", "some", "any"):
		return c.HasWord(i+2, x.To, "beat", "sound", "need", "work", "fit", "matter", "feel", "weigh", "cost", "help", "ring", "last", "hurt", "play", "make", "give", "break", "crack", "hold")
	case c.Is(i, "does", "duz", "dose"):
		return !c.Is(i+1, "not", "it", "mostly", "a", "some")
	case c.Is(i, "do"):
		return !c.Starts(i+1, "not", "it", "that", "this", "the", "a", "some", "please") && c.HasWord(i+2, x.To, "crack", "hurt", "break", "wear", "last", "sound", "need", "smell", "shrink", "stretch", "work", "fit", "matter", "count",
			"feel", "have", "weigh", "cost", "help", "ring", "click", "stay", "fall", "mean", "use", "damage", "dent", "fade", "fray", "rot", "go", "come", "get", "make", "play", "tire", "stick", "hold", "melt", "swell", "harm")
	case c.Is(i, "isnt", "arent", "wont", "wouldnt", "shouldnt", "doesnt"):
		return c.OfPart(i+1) && c.wishIn(i+2, x)
	}
	return false
}

// bareAbout reports whether the clause from item i on names what is asked about
// and nothing else: and the cost; time needed.
func (c cutter) bareAbout(i int, x *Clause) bool {
	named := false
	for j := i; j < x.To; j++ {
		switch it := c.Item(j); {
		case c.Is(j, "no", "not", "without") || c.Starts(j, "something", "anything", "sth") || it.Any("wish", "move"): // please something easy
			return false
		case it.Has("about") != nil && !strings.Contains(it.Has("about").Value, "."):
			named = true
		case c.Filler(j), it.Any("join", "social"), c.Is(j, "needed", "involved", "roughly", "approximately", "required", "estimate", "total", "please", "again", "then", "so", "far"):
		default:
			return false
		}
	}
	return named && c.Open == ""
}

// whichOf reports whether which at item i asks, and does not go on about what
// stands before it: which tubing then; my grandson, which is six.
func (c cutter) whichOf(i int, x *Clause) bool {
	return c.Starts(i, "which") && (c.Item(i+1).Any("kind", "topic", "material") || c.Is(i+1, "one", "ones", "should", "would", "do", "size", "way", "sort", "kind", "type") || c.choiceBefore(x))
}

// leavesOutSubject reports whether item i, behind should or may, is a verb and no
// subject: should wake up when I dig in.
func (c wisher) leavesOutSubject(i int) bool {
	w := c.Word(i)
	plural := strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss")
	return !plural && !c.Subject(i) && !c.OfPart(i) && !c.Item(i).Any("topic", "instrument.kind", "instrument.bars", "bench.drill", "bench.scale", "bench.caliper") &&
		!c.Starts(i, "u", "me", "us", "people", "children", "both", "all", "any", "anyone", "anybody", "everyone", "everybody", "somebody", "someone", "each", "every", "these", "those", "a", "an", "what", "glue", "epoxy")
}

// hedges reports whether a clause with a question mark gives an answer that somebody is
// not sure of, and asks nothing: medium hard i guess?
func (c wisher) hedges(x *Clause) bool {
	if !c.HasWord(x.From, x.To, "guess", "suppose", "maybe", "perhaps", "probably", "prob", "think", "dunno", "ish", "reckon", "please", "pls") || c.questionWord(x.From) {
		return false
	}
	return slices.ContainsFunc(c.Items[x.From:x.To], func(it cover.Item) bool { f := it.Fact(); return f != nil })
}

// choiceBefore reports whether the clause just before names two things joined by
// or, and nothing is said of them: wool or acrylic, which lasts.
func (c cutter) choiceBefore(x *Clause) bool {
	from := x.From - 1
	for from > 0 && c.Item(from-1).Mark == "" {
		from--
	}
	return (joiner{c}).bareChoice(&Clause{From: from, To: x.From - 1})
}

// joiner settles clauses by those beside them in their sentence.
type joiner struct{ cutter }

// bareChoice reports whether a clause is two or more parts joined by or, and
// nothing else.
func (c joiner) bareChoice(x *Clause) bool {
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
func (c joiner) choices(all []Clause) {
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
	for k := range len(all) - 1 { // if I only had cotton, what then
		x, next := &all[k], &all[k+1]
		if x.Act == reading.Tell && x.First && !next.First && IsQuestion(next.Act) && c.bareList(x) {
			x.Act = reading.Compare
		}
		if x.Act == reading.Tell && x.First && !next.First && IsQuestion(next.Act) &&
			(c.Is(x.From, "if") && (c.supposes(x, true) || c.wishIn(x.From, x)) || c.Is(x.From, "with", "without", "using") && c.HasWord(x.From, x.To, "instead")) {
			x.Act, next.Act = reading.WhatIf, reading.WhatIf
		}
	}
}

// bareList reports whether a clause is two or more wishes joined and nothing else: soft
// and medium soft, …
func (c joiner) bareList(x *Clause) bool {
	n := 0
	for j := x.From; j < x.To; j++ {
		f := c.Item(j).Fact()
		switch {
		case f != nil && strings.HasPrefix(f.Slot, "want.") && c.Item(j).Qty == nil:
			n++
		case !c.Is(j, "and", "or", "vs", "versus", "between") && !c.Filler(j):
			return false
		}
	}
	return n > 1 && c.Open == ""
}

// headings finds questions that a person asks and answers: how hard? middling.
func (c joiner) headings(all []Clause) {
	for k := range len(all) - 1 {
		x, next := &all[k], &all[k+1]
		if IsQuestion(x.Act) && x.First && (next.Act == reading.Tell || next.Act == reading.Yes || next.Act == reading.No) && c.Heading(x.From, x.To) != "" {
			x.Act, x.Heading, next.Act = reading.Tell, true, reading.Tell
		}
		if x.Act == reading.Tell && x.First && IsQuestion(next.Act) && c.isThatWhere(next) && !c.HasWord(x.From, x.To, "i", "im", "we", "my", "our", "want", "need", "please") {
			x.Act, next.Act = reading.Define, reading.Define
		}
	}
}

// isThatWhere reports whether a clause asks whether what was named just before is
// what somebody takes it for: is that the one where they cross?
func (c joiner) isThatWhere(x *Clause) bool {
	w := c.words(x.From, x.To)
	return len(w) > 3 && slices.Contains([]string{"is", "isnt"}, w[0]) && slices.Contains([]string{"that", "it", "this"}, w[1]) &&
		slices.ContainsFunc(w[2:], func(s string) bool { return s == "where" || s == "when" || s == "called" || s == "meaning" })
}

// tails makes questions of clauses that end in words that ask whether they are
// so: too big for vibes or what; I was told epoxy is weak, true?
func (c joiner) tails(all []Clause) {
	for k := range all {
		x := &all[k]
		lastOf := k+1 == len(all) || all[k+1].First
		strong, weak := c.tail(x)
		if !lastOf || !strong && !weak || x.request {
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
		act := reading.Ask
		if t := c.Item(x.To - 1).Has("tail"); t != nil && t.Value == "define" {
			act = reading.Define
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
				all[j].Act = act
			}
		}
	}
	for k := range all { // so soft ones are always heavier then
		x := &all[k]
		if x.Act == reading.Tell && x.First && c.Is(x.From, "so") && (c.Is(x.To-1, "then") && c.general(x.From, x.To) || c.HasWord(x.From, x.To, "needed", "required", "necessary", "break", "hurt", "damage", "crack", "ruin")) {
			x.Act = reading.Ask
		}
	}
}

// tail reports whether a clause ends in words that ask for assent, and whether
// they do so whatever stands before them.
func (c joiner) tail(x *Clause) (strong, weak bool) {
	i := x.To - 1
	for i > x.From && c.Is(i, "then", "lol", "please", "haha") {
		i--
	}
	if t := c.Item(i).Has("tail"); t != nil {
		return t.Value != "weak" && t.Value != "verdict", t.Value == "weak"
	}
	if x.End == "?" && x.To-x.From == 1 && c.Is(i, "yes", "no", "yeah", "huh", "eh", "ok", "okay") {
		return false, true
	}
	w := c.words(x.From, x.To)
	if n := len(w); n > 4 && (w[n-1] == "it" || w[n-1] == "they") && slices.Contains([]string{"would", "does", "do", "will"}, w[n-2]) && !c.questionWord(x.From) && w[n-3] != "what" && w[n-3] != "how" {
		return true, false // so fifteen would cover that would it
	}
	return c.Is(i, "or") && i > x.From, false
}

// general reports whether the items from..to speak of heads or parts at large and
// not of what somebody wants.
func (c joiner) general(from, to int) bool {
	return c.HasWord(from, to, "ones", "always", "usually", "normally", "generally", "supposed", "better", "best", "should", "safe", "mallets", "heads", "means", "mean", "makes") &&
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

// leads reports whether item i is a lead of this kind.
func (c cutter) leads(i int, kind string) bool {
	s := c.Item(i).Has("lead")
	return s != nil && s.Value == kind
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

// tag reports whether the clause from item i only asks for assent to what was
// told: isn't it?
func (c cutter) tag(x *Clause, i int) bool {
	return !x.First && x.To-i <= 3 && c.Starts(i, "isnt", "arent", "doesnt", "dont", "wont", "wouldnt", "couldnt", "cant", "didnt", "wasnt", "havent", "hasnt", "right", "innit", "is", "does", "do") &&
		(x.To-i == 1 || c.Is(i+1, "it", "they", "he", "she", "i", "we", "you"))
}

// goesOnVerb reports whether the auxiliary at item i only goes on with what was said of
// somebody before and or but, and asks nothing: he is a nurse and will help.
func goesOnVerb(c cutter, i int) bool {
	return (c.Starts(i-1, "and", "n", "but", "or") || c.Item(i-1).Mark == ",") && c.Starts(i, "can", "could", "would", "will", "should", "may", "might", "has", "was", "did") && !c.asked(i) && !c.Subject(i+1) && !c.OfPart(i+1) &&
		!c.Starts(i+1, "a", "an", "any", "some", "these", "those", "mallets", "u", "anyone", "anybody", "everyone", "people", "someone", "smaller", "larger", "softer", "harder")
}

// mayAnswer reports whether a clause put as a question may be a try at the answer to the
// open one: medium? about twenty?
func mayAnswer(c cutter, x *Clause) bool {
	counts := strings.HasPrefix(c.Open, "want.") || c.Open == "class.size" || c.Open == facts.PlayerMallets || c.Open == facts.PlayerMinor || c.Open == facts.PlayerLevel
	for i := x.From; i < x.To; i++ {
		switch it := c.Item(i); {
		case it.Has(c.Open) != nil, c.Asked(it.Senses), it.Any("reply", "alone", "holding", "not", "kind", "material"), it.Note != nil:
			return true
		case it.Qty != nil && counts:
			return true
		}
	}
	return x.To-x.From < 2
}

// verdicts makes questions of clauses that only ask what is thought of what stands before
// them: I have a skein of mohair, any use? … too big?
func (c joiner) verdicts(all []Clause) {
	for k := 1; k < len(all); k++ {
		if x := &all[k]; !x.First && x.End == "?" && c.Open == "" && (x.Act == reading.Tell || x.Act == reading.Yes) && all[k-1].Act == reading.Tell && c.judges(x) {
			x.Act = reading.Ask
		}
	}
}

// judges reports whether a clause holds nothing but a verdict: any use, too big, accurate
// enough.
func (c joiner) judges(x *Clause) bool {
	said := false
	measured := x.To-x.From < 4 && c.HasWord(x.From, x.To, "too", "enough") && !c.Is(x.From, "i", "we", "but", "and", "not")
	for i := x.From; i < x.To; i++ {
		it := c.Item(i)
		t := it.Has("tail")
		verdict := t != nil && t.Value == "verdict"
		if !verdict && !c.Filler(i) && !(measured && it.Qty == nil && !it.Any("kind", "material", "social", "holding")) {
			return false
		}
		said = said || verdict || measured
	}
	return said
}

// shown reports whether the clause from item i on only names what is shown in other words:
// show me what we have so far, the list.
func (c commander) shown(i int, x *Clause) bool {
	for ; i < x.To; i++ {
		a := c.Item(i).Has("act")
		if !c.Filler(i) && !c.Item(i).Any("reply", "alone") && (a == nil || a.Value != string(reading.Show)) {
			return false
		}
	}
	return true
}
