package harm

import (
	"slices"

	"mallow/assistant/understand/harm/heard"
	"mallow/assistant/understand/harm/role"
)

// partial reports whether the careless fact f is said of most of a group, or of
// all but some of it: all but one, nearly everyone, 28 of 30, not all of us.
func (l *line) partial(f *Fact) bool {
	at := 0
	for at+1 < len(l.tokens) && l.tokens[at+1].from <= f.From {
		at++
	}
	in := func(i int) bool { return l.at(i).sentence == l.at(at).sentence }
	for _, s := range l.spans {
		switch {
		case s.class&partly == 0 || !in(s.from):
		case l.at(s.from).clause == l.at(at).clause || l.at(s.to-1).clause == l.at(at).clause || (l.at(s.to).mark || l.at(s.to+1).mark) && max(l.at(s.from).clause-l.at(at).clause, l.at(at).clause-l.at(s.from).clause) < 2: // fine with latex, most of us
			return true
		}
	}
	for i := range l.tokens {
		switch {
		case !in(i):
		case l.outs(i):
			return true
		case l.at(i).isNum && (role.Fraction(l.roles(), i) || l.is(i+1, "of") && l.is(i+2, "them", "us") && l.is(i+3, "are", "is") && l.at(i).clause == l.at(at).clause && !l.is(i-1, "the", "all", "both")): // two of them are fine
			return true
		case l.is(i, "not") && l.is(i+1, "all", "everyone", "everybody", "every", "each") && !l.is(i+2, "that", "so"):
			return true
		}
	}
	return false
}

// outs reports whether words at token i take somebody out of what is said: all
// but one; apart from Jo; nobody is allergic but me; though Ben isn't.
func (l *line) outs(i int) bool {
	n := role.Out(l.roles(), i)
	to := i + max(n, 1)
	if n > 0 && l.is(to, "not") {
		to++
	}
	thing := l.is(i-1, "anything", "nothing", "everything") || l.at(i-1).mark && l.is(i-2, "anything", "nothing", "everything")
	if n == 0 && !l.is(i, "though", "although", "while", "whereas", "only") || thing || !l.takesOut(to) {
		return false
	}
	if l.is(to, "the", "my", "our", "a", "an", "for") {
		to++
	}
	last := (l.at(to+1).mark || l.is(to+1, "who")) && (l.cleared(i-1) || l.at(to).class&(kin|pupil|student|young|helper) != 0 || l.capital(to)) // and not: softer but not heavier
	return n > 0 && (role.Of(l.roles(), i) || last || !l.is(i, "but")) || l.is(to+1, "isnt", "cant", "doesnt", "aint", "mustnt") && l.at(to+2).mark
}

// cleared reports whether what is said to be fine ends at token i.
func (l *line) cleared(i int) bool {
	if l.at(i).mark {
		i--
	}
	return l.at(i).class&(latex|rubber|allergy) != 0 || heard.Fine(l.at(i).text)
}

// takesOut reports whether somebody is named from token i, and not a thing or
// the beginning of another sentence: but one, but the drummer; not but I want.
func (l *line) takesOut(i int) bool {
	for l.is(i, "for", "from", "the", "my", "our", "a", "an") {
		i++
	}
	return !l.at(i).mark && !l.is(i+1, "it", "them", "a", "the", "much", "that") && !l.is(i, "i", "im", "id", "ive", "we", "were", "it", "its", "they", "theyre", "he", "she", "you", "that", "this", "there", "please", "if", "not", "no", "keep", "make", "want", "too", "so", "soft", "hard", "dark", "bright") &&
		l.at(i).class&(thing|latex|rubber|glue|fume|other) == 0
}

// hasLong reports whether a phrase of class c and of three words or more begins
// at token i.
func (l *line) hasLong(i int, c class) bool {
	for _, s := range l.spans {
		if s.from == i && s.class&c != 0 && s.to-s.from > 2 {
			return true
		}
	}
	return false
}

// stays reports whether the young of the span are said not to join in.
func (l ages) stays(s span) bool {
	return l.is(s.to, "wont", "isnt", "arent", "not") && l.is(s.to+1, "be", "join", "joining", "taking", "coming", "take") && l.is(s.to+2, "joining", "part", "after", "us", "me", "coming", ",")
}

// jokes reports whether the word of the span is said of a thing: bought the
// vibes in '08, so they're teenagers now.
func (l ages) jokes(s span) bool {
	if !l.is(s.to-1, "teenager", "teenagers", "toddler", "toddlers", "youngster", "youngsters") || l.has(kin|pupil|student|helper) || l.hasWord("for") {
		return false
	}
	return l.is(s.from-1, "a") && l.is(s.from-2, "is") && l.at(s.from-3).class&thing != 0 && !l.is(s.from-3, "it") ||
		l.is(s.from-1, "theyre") && l.is(s.to, "now") && l.has(thing) && l.hasWord("bought", "built", "dated", "since")
}

// anyKind reports whether the line blames what is in rubber and clears latex of
// it, or shuns both kinds: the chemicals, not the latex; neither natural nor synthetic.
func (l bodies) anyKind() (span, bool) {
	for _, s := range l.spans {
		every := l.is(s.from-1, "only", "just", "merely") && l.hasWord("any", "all", "every") && !l.has(fine) && !l.hasWord("have", "got", "want", "use") // it isn't only latex, it's any rubber
		if s.class&latex == 0 || !l.has(rubber) || !every && !l.hasWord("chemicals", "chemical", "accelerators", "accelerator", "additives", "additive") {
			continue
		}
		i := s.from
		if every {
			i--
		}
		if l.is(i-1, "the") {
			i--
		}
		if l.is(i-1, "not", "isnt", "than", "wasnt") || l.is(i-1, "of") && l.is(i-2, "instead") {
			return s, true
		}
	}
	i := role.BothKinds(l.roles())
	return span{i, i + 1, rubber}, i >= 0
}

// namedAdult reports whether the word of the span stands elsewhere in the line
// as grown or with an age past majority: my boy is 34, I just call him my boy.
func (l ages) namedAdult(s span) bool {
	return slices.ContainsFunc(l.spans, func(x span) bool {
		return x.class&(young|kin|pupil) != 0 && l.at(x.to-1).text == l.at(s.to-1).text && (l.agedAdult(x) || l.nearGrown(x))
	})
}

// grownUp reports whether the words of the span say that the makers are of
// age. An adult who helps says nothing of it.
func (l ages) grownUp(s span) bool {
	if l.is(s.from, "maker") {
		return true
	}
	if l.denied(s.from) || l.at(s.from).clause >= 0 && l.is(s.from-1, "an", "another", "the") && !l.is(s.from-2, "im", "am", "already", "basically", "technically", "legally") {
		return false
	}
	if l.roles().OfAnother(s.from) || l.roles().Other(s.from) || l.is(s.from, "retired") && l.is(s.from-1, "he", "she") {
		return false
	}
	if s.class&elder != 0 {
		return true
	}
	if (l.at(s.from-1).mark || s.from == 0) && l.is(s.from, "adult", "adults") && s.to == s.from+1 && (l.at(s.to).class&(not|latex|rubber|fume|fine|gear) != 0 || l.is(s.to, "with", "no")) && !l.is(s.to, "not") { // vibes, adult no allergies
		return true
	}
	whole := (l.at(s.from-1).mark || s.from == 0 || l.is(s.from-1, "all", "only", "just", "both")) && (l.at(s.to).mark || l.is(s.to, "only", "here", "and"))
	subject := l.is(s.from-1, "im", "am", "are", "were", "all", "an", "a", "is", "everyone", "both", "just", "only", "for", "fully", "legally", "teach", "teaching")
	group := l.is(s.to, "group", "class", "band", "choir", "learner", "learners", "students", "student", "beginners", "beginner", "ensemble", "players", "amateurs", "people", "evening", "orchestra", "education")
	if l.is(s.from-1, "an") && l.is(s.from-2, "like", "as", "count") {
		return false
	}
	if l.at(s.from - 1).isNum {
		return l.is(s.from-2, "of", "for", "with", "are", "all", "just", "only") || l.at(s.from-2).mark && (l.at(s.to).mark || l.is(s.to, "round", "around", "at", "and", "no")) && l.at(s.from-1).num >= 5 && !l.has(young|kin|pupil|student|school) // 13 adults
	}
	if l.is(s.from-1, "a", "an") && !l.is(s.from-2, "im", "am", "already") {
		return group
	}
	return whole || group || subject
}
