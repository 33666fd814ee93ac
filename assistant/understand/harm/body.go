package harm

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/role"
)

// bodies reads what skin and lungs of the people of a line can bear.
type bodies struct{ *line }

// skin reads what somebody has to avoid touching: natural latex, and rubber of
// any kind.
func (l bodies) skin() [2]*Fact {
	la, ru := &finding{path: LatexOK}, &finding{path: RubberOK}
	l.askedSkin(la, ru)
	if back := l.withdraws(latex | rubber | allergy); back {
		return [2]*Fact{{Path: LatexOK, Value: true, TakesBack: true, Text: l.words(0, 0)}, nil}
	}
	for _, s := range l.spans {
		la.touched, ru.touched = false, false // until the span is read
		switch {
		case s.class&(allergy|reaction|weak) != 0:
			l.sign(s, la, ru)
		case s.class&lungs != 0 && l.inClause(s.from, latex|rubber) && !l.denied(s.from) && !l.inClause(s.from, glue): // rubber makes me wheeze
			l.sign(span{s.from, s.to, reaction}, la, ru)
		case s.class&marks != 0 && l.onBody(s):
			l.sign(span{s.from, s.to, reaction}, la, ru)
		case s.class&(latex|rubber) != 0:
			l.shunned(s, la, ru)
		}
	}
	if s, ok := l.anyKind(); ok {
		ru.add(l.line, true, false, s.from, s.to-1)
	}
	if i := role.OnlyNatural(l.roles()); i >= 0 && l.has(rubber|allergy|reaction|weak) { // it's just the tree kind
		l.add(la, ru, true, false, true, false, span{i, i + 1, 0})
	}
	if i := role.Barred(l.roles()); i >= 0 { // nobody in the house may touch rubber
		l.add(la, ru, l.at(i).class&latex != 0, l.at(i).class&latex == 0, true, false, span{i, i + 1, 0})
	}
	out := [2]*Fact{la.result(), ru.result()}
	for _, f := range out {
		if f != nil && f.Value && l.partial(f) {
			f.Value = false
		}
	}
	if out[0] != nil && !out[0].Value && out[1] != nil && out[1].Value {
		out[1] = nil // who reacts to one rubber is not said to stand all others
	}
	for i := 0; out[0] == nil && i < len(l.tokens); i++ { // all but me can use latex
		if n := role.Out(l.roles(), i); n > 0 && role.Of(l.roles(), i) && l.takesOut(i+n) && l.inSentence(i, latex) {
			out[0] = &Fact{Path: LatexOK, Doubt: true, Text: l.words(i, i+n)}
		}
	}
	// Who reacts to rubber has to avoid natural rubber too.
	if r := out[1]; r != nil && !r.Value && (out[0] == nil || out[0].Value && !l.latexFine()) {
		out[0] = &Fact{Path: LatexOK, Doubt: r.Doubt, Faint: r.Faint, Text: r.Text}
	}
	if r := out[1]; r != nil && r.Value && out[0] == nil && l.anyRubber() {
		out[0] = &Fact{Path: LatexOK, Value: true, Text: r.Text}
	}
	return out
}

// anyRubber reports whether rubber is named by the word for all of it, and no
// kind of it apart: rubber's fine is said of latex too, nitrile's fine is not.
func (l bodies) anyRubber() bool {
	named := false
	for _, s := range l.spans {
		if s.class&rubber != 0 {
			if !l.is(s.to-1, "rubber", "gummi", "gomma", "goma", "caucho", "caoutchouc", "kautschuk", "guma", "borracha", "rubbers") {
				return false
			}
			named = true
		}
	}
	return named
}

// withdraws reports whether the line takes back what was said of a word of
// class c: scratch that about latex, she's clear.
func (l bodies) withdraws(c class) bool {
	for _, s := range l.spans {
		if s.class&c == 0 {
			continue
		}
		for _, x := range l.spans {
			if x.class&undo != 0 && x.to <= s.from && s.from-x.to < 4 && l.at(x.from).clause == l.at(s.from).clause &&
				l.is(x.from, "forget", "scrub", "rub", "scratch", "ignore", "disregard", "strike", "take") {
				return !l.denied(s.from)
			}
		}
	}
	return false
}

// latexFine reports whether the line says of latex itself that it is fine.
func (l bodies) latexFine() bool {
	for _, s := range l.spans {
		if s.class&latex != 0 && l.inClause(s.from, fine|not) && !l.inClause(s.from, rubber) {
			return true
		}
	}
	return false
}

// askedSkin reads a bare yes or no to the question whether anybody has to avoid
// latex. Yes I have no problem is a no.
func (l bodies) askedSkin(la, ru *finding) {
	if l.asked != LatexOK && l.asked != RubberOK {
		return
	}
	f := la
	if l.asked == RubberOK {
		f = ru
	}
	skin := func(s span) bool {
		return s.class&(allergy|reaction|weak|latex|rubber) != 0 && !l.is(s.from, "ill")
	}
	if by := (&finding{path: Supervised}); !slices.ContainsFunc(l.spans, skin) {
		if rooms(l).stays(by, true); by.careless != nil { // yes, I'll be sitting with them
			return
		}
	}
	denies := l.has(fine) || l.has(not) && l.has(allergy|reaction|weak)
	switch {
	case len(l.tokens) == 0 || l.is(1, "lets", "build", "go", "start", "show", "make", "next", "continue", "ready", "do") && len(l.tokens) < 6 && !l.has(latex|rubber|allergy|reaction|weak|fine): // ok build it
	case l.saysYes() || l.is(0, "sadly", "unfortunately"):
		f.add(l.line, !denies, false, 0, 1)
	case l.is(0, "no") && l.has(unsure) && !l.at(1).mark && !l.has(glue|fume): // no idea
		f.add(l.line, true, true, 0, 1)
	case l.saysNo():
		if none := l.is(0, "none", "nobody", "noone"); none && l.has(weak|reaction|allergy) && l.deniedPast(0) && !l.has(except|unsure|iffy) {
			f.add(l.line, false, false, 0, 1) // nobody here minds latex
		} else if l.has(weak|reaction|allergy) && !l.has(fine) && !l.deniedPast(map[bool]int{true: 0, false: 1}[l.is(0, "none", "nobody", "noone")]) {
			f.add(l.line, true, true, 0, 1)
		} else if len(l.tokens) > 1 && (l.has(latex) && !l.has(fine) || l.has(allergy|reaction) && !l.denied(len(l.tokens)-1) && l.has(except)) {
			f.add(l.line, true, true, 0, 1)
		} else {
			f.add(l.line, false, false, 0, 1)
		}
	case l.has(cant) && l.hasWord("near") && !l.has(fine): // she can't have it anywhere near her
		f.add(l.line, true, false, 0, len(l.tokens)-1)
	case l.asked == RubberOK && l.has(rubber) && l.hasWord("any", "all", "every") && !l.has(fine|not|unsure) && !l.question(0): // it's any rubber at all
		f.add(l.line, true, false, 0, 1)
	case len(l.tokens) <= 2 && l.at(0).class&(latex|rubber) != 0:
		f.add(l.line, true, false, 0, 1)
	case role.Names(l.roles()) || role.SomeOf(l.roles()) && !l.has(fine): // the wife is; all but Jonas
		f.add(l.line, true, false, 0, 1)
	case role.Nobody(l.roles()) || l.has(other) && l.hasWord("only", "just") && !l.has(latex|rubber|not|glue|fume): // not a soul; only peanuts
		f.add(l.line, false, false, 0, 1)
	case l.is(0, "not") && l.has(unsure) && role.KnownOf(l.roles(), 0): // not as far as I've heard
		f.touch(l.line, 0, 1, false)
	case l.has(unsure) && !l.has(glue|fume|fine):
		f.add(l.line, true, true, 0, 1)
	case l.allFine():
		f.add(l.line, false, false, 0, len(l.tokens)-1)
	}
}

// allFine reports whether the line says no more than that all is well: we're all
// good on that front.
func (l bodies) allFine() bool {
	if l.has(not|cant|avoid|except|allergy|reaction|weak|unsure|iffy|glue|fume) || len(l.tokens) > 9 || len(l.tokens) > 0 && l.question(len(l.tokens)-1) {
		return false
	}
	return slices.ContainsFunc(l.spans, func(s span) bool {
		return s.class&fine != 0 && (s.from > 0 && l.inClause(s.from, person) || s.from == 0 && s.to == len(l.tokens) && l.hasWord("clear", "clean") || l.is(s.to, "on") && l.is(s.to+1, "that"))
	})
}

// deniedPast reports whether a word of reaction is denied by another word than
// the first i tokens, or there is none beyond them.
func (l bodies) deniedPast(i int) bool {
	for _, s := range l.spans {
		if s.class&(weak|reaction|allergy) == 0 || s.from < i {
			continue
		}
		if !l.between(i, s.from, not) && !l.is(s.from-1, "no") && l.between(i, s.from, person|bear) {
			return false
		}
	}
	return true
}

// sign reads a word of allergy or reaction at span s.
func (l bodies) sign(s span, la, ru *finding) {
	i := s.from
	if l.is(i, "ill") && !l.is(i-1, "me", "feel", "feels", "get", "gets", "got", "is", "am", "im", "was", "him", "her", "felt", "quite", "very", "violently", "fell", "really", "so", "us", "made", "makes") {
		return // I'll
	}
	if s.class&weak != 0 && s.class&(allergy|reaction) == 0 && (s.class&fine != 0 || l.fineAt(i)) {
		l.fineWith(i, la, ru)
		return
	}
	if role.NoSkin(l.roles(), i, s.to) {
		return
	}
	if l.is(i, "doctor") && l.inClause(i, fine) || s.class&allergy != 0 && (l.is(s.to, "to") && l.disliked(s.to+1) || l.at(i-2).class&taste != 0 && l.is(i-1, "is", "are")) || l.roles().Show(i) { // he cleared me
		return
	}
	toLatex, toRubber, toOther, toFume := l.objects(s)
	denied := l.denied(i) || l.is(s.to, "to") && l.is(s.to+1, "nothing", "none")
	if l.negative(s) {
		denied = true
	}
	if denied && (l.is(i-1, "without") || l.is(i-2, "without")) && l.is(l.notBefore(i-2), "never", "cant", "not", "dont") { // never a balloon without an itch
		denied = false
	}
	strong := s.class&allergy != 0
	if s.class&(allergy|reaction) == 0 { // weak
		isBad := l.is(i, "problem", "issue", "trouble", "bad") && (l.is(i-1, "a", "an", "is", "are") && l.inClause(i, latex|rubber))
		if denied && !toLatex && !toRubber && !toOther && !toFume && l.is(i, "react", "reacts", "reacted", "reaction", "reactions") && !l.doubted(i) {
			if l.is(s.to, "to") && l.is(s.to+1, "anything", "any", "nothing") || l.is(i-1, "any", "a") && l.asked == "" && l.inClause(i, person) { // none of us reacts to anything
				la.add(l.line, false, false, s.from, s.to)
			}
			return
		}
		if !toLatex && !toRubber || !l.inSentence(i, person|young|kin|pupil|student|helper) && !isBad && !denied && !(l.is(s.to, "to") && l.is(i, "sensitive", "reacts", "reacting", "reaction", "sensitivity")) && !(l.is(i, "positive") && toRubber) || toFume && !toLatex {
			return
		}
		if l.is(i, "agree", "agrees", "suit", "suits", "get", "gets", "sit", "sits", "likes") { // what does not agree with somebody
			if denied = !denied; denied {
				return
			}
		} else if l.is(i, "problem", "problems", "issue", "issues", "trouble", "troubles") && (l.is(i-1, "no") || denied) {
			denied = true
		} else if l.is(i, "support", "supports") { // bear badly, in more languages than one
			denied = !l.inClause(i, weak) || !role.Badly(l.roles(), i)
		}
	}
	if denied && toFume && !l.is(s.to, "to") && (l.inClause(i, fine) || l.at(s.to).mark || l.is(s.to, "no")) { // no allergies solvent ok; no allergies, no solvents
		toFume = false
	}
	if denied && toOther && role.Anything(l.roles(), s.to) {
		l.add(la, ru, false, false, false, false, s)
		return
	}
	if toOther && !toLatex && !toRubber || toFume && !toLatex && !toRubber {
		return
	}
	if toLatex && toRubber && !l.inClause(i, latex) && l.latexFine() { // carbamates positive, latex negative
		toLatex = false
	}
	past := ages(l).past(i) || strong && l.once(i) || l.roles().Formerly(i)
	asks := l.asks(i)
	general := role.General(l.roles(), i, asks)
	gone := l.roles().Absent(i) // whose it is has no part in this
	doubt := l.doubted(i) && !role.Firm(l.roles(), i) || past || general || gone
	la.touched = past || general || asks || gone
	ru.touched = la.touched
	switch {
	case denied && l.has(except) && l.excepted(i):
		l.add(la, ru, toLatex, toRubber, true, false, s)
	case denied && role.Otherwise(l.roles(), s.to-1):
		l.add(la, ru, toLatex, toRubber, true, true, s)
	case denied && doubt && !role.KnownOf(l.roles(), i):
		l.add(la, ru, toLatex, toRubber, true, true, s)
	case denied && role.KnownOf(l.roles(), i) && l.has(unsure):
		l.add(la, ru, toLatex, toRubber, true, true, s)
	case denied && l.is(i-1, "never") && l.has(unsure):
		l.add(la, ru, toLatex, toRubber, true, true, s)
	case denied:
		l.add(la, ru, toLatex, toRubber, false, false, s)
	case toLatex || toRubber:
		l.add(la, ru, toLatex, toRubber, true, doubt, s)
	case strong:
		la.add(l.line, true, l.asked != LatexOK || doubt, s.from, s.to-1)
	case l.asked == LatexOK || l.asked == RubberOK:
		la.add(l.line, true, doubt || l.question(i) || ages(l).past(i), s.from, s.to-1)
	case l.inSentence(i, person) && !l.inSentence(i, lungs):
		la.touch(l.line, s.from, s.to-1, false)
	}
}

// disliked reports whether what somebody claims to be allergic to, from token i,
// is nothing that touches anybody: shrill, early mornings, paying more.
func (l bodies) disliked(i int) bool {
	if l.inClause(i, latex|rubber|fume|glue|other|body) {
		return false
	}
	for j := i; j < i+4 && l.at(j).clause == l.at(i).clause && !l.at(j).mark; j++ {
		if t := l.at(j); t.class&taste != 0 || strings.HasSuffix(t.text, "ing") && len(t.text) > 5 && !l.is(j, "tubing", "tubings", "coating", "sizing", "casing", "stuffing", "lining", "padding", "dressing", "everything", "anything", "something") {
			return true
		}
	}
	return false
}

// once reports whether the allergy at token i is said to have been: I used to
// be allergic, my ex was. Whether it still is has to be asked.
func (l bodies) once(i int) bool {
	return ages(l).was(i-1) || l.is(i-1, "be") && l.is(i-2, "to") && l.is(i-3, "used")
}

// negative reports whether the test at span s found nothing: patch-tested negative.
func (l bodies) negative(s span) bool {
	for j := s.to; s.class&allergy != 0 && j < s.to+5 && !l.at(j).mark; j++ {
		if l.is(j, "negative", "clean", "clear") && !l.hasWord("positive") && !l.is(j-1, "not", "isnt", "wasnt") {
			return true
		}
	}
	return false
}

// notBefore returns the last word like not in the clause before token i, -1
// where there is none.
func (l bodies) notBefore(i int) int {
	for j := i; j >= 0 && l.at(j).clause == l.at(i).clause; j-- {
		if l.at(j).class&(not|cant) != 0 && !l.is(j, "without") {
			return j
		}
	}
	return -1
}

// onBody reports whether the marks at span s are on somebody, beside rubber or
// latex: rubber bands make spots on my arms.
func (l bodies) onBody(s span) bool {
	near := slices.ContainsFunc(l.spans, func(x span) bool { // in the sentence, or a question just before it: gloves? my wrists were raw
		d := l.at(s.from).sentence - l.at(x.from).sentence
		return x.class&(latex|rubber) != 0 && (d == 0 || d == 1 && l.question(x.from))
	})
	if !near || l.denied(s.from) {
		return false
	}
	if l.inClause(s.from, body) {
		return true
	}
	for j := s.to; j < s.to+3; j++ {
		if l.is(j, "on", "for", "to", "over") && l.is(j+1, "me", "him", "her", "them", "us") {
			return true
		}
	}
	return false
}

// add puts what is said of latex, of rubber, or of an allergy to nothing named.
func (l bodies) add(la, ru *finding, toLatex, toRubber, careful, doubt bool, s span) {
	if toRubber {
		ru.add(l.line, careful, doubt, s.from, s.to-1)
	}
	if toLatex || !toRubber || careful {
		la.add(l.line, careful, doubt, s.from, s.to-1)
	}
}

// objects returns what the sign at span s may be to: what its clause names,
// else its sentence, else the line.
func (l bodies) objects(s span) (toLatex, toRubber, toOther, toFume bool) {
	look := func(in func(x span) bool) bool {
		for _, x := range l.spans {
			if !in(x) {
				continue
			}
			if x.class&rubber != 0 && (l.overlaps(x, latex) || l.is(x.to, "that", "which", "off", "from") && l.between(x.to, x.to+4, latex) || l.is(x.from-1, "latex") && x.from > 0) {
				x.class &^= rubber // latex gloves
			}
			toLatex = toLatex || x.class&latex != 0
			toRubber = toRubber || x.class&rubber != 0
			toOther = toOther || x.class&other != 0
			toFume = toFume || x.class&(fume|glue) != 0
		}
		return toLatex || toRubber || toOther || toFume
	}
	if l.is(s.to, "to", "against", "from", "with", "of", "off", "au", "à", "gegen", "al", "a", "by") { // allergic to X
		end := s.to
		for !l.at(end).mark && l.at(end).clause == l.at(s.from).clause && !l.is(end, "so", "is", "are") {
			end++
		}
		if look(func(x span) bool { return x.from >= s.to && x.from < end }) {
			return
		}
	}
	c := l.at(s.from)
	if look(func(x span) bool { return l.at(x.from).clause == c.clause }) ||
		look(func(x span) bool {
			return l.at(x.from).clause == c.clause-1 && l.at(x.from).sentence == c.sentence && x.class&(other|glue) == 0 && s.class&reaction != 0
		}) ||
		look(func(x span) bool {
			return l.at(x.from).sentence == c.sentence && !(x.class&other != 0 && l.denied(s.from))
		}) { // no allergies, bright heads
		return
	}
	if s.class&(allergy|reaction) != 0 {
		look(func(x span) bool { return x.class&(latex|rubber|fume) != 0 && x.class&person == 0 })
	}
	return
}

// overlaps reports whether a longer phrase of class c covers span x.
func (l bodies) overlaps(x span, c class) bool {
	return slices.ContainsFunc(l.spans, func(y span) bool {
		return y.class&c != 0 && y.from <= x.from && x.to <= y.to && y.to-y.from > x.to-x.from
	})
}

// excepted reports whether something is taken out of the denial before token i.
func (l bodies) excepted(i int) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool {
		return s.class&except != 0 && s.from > i && l.at(s.from).sentence == l.at(i).sentence && !l.is(s.from, "only", "besides") &&
			((l.at(s.to).class|l.at(s.to+1).class)&other == 0 || l.between(s.to, s.to+4, latex|rubber))
	})
}

// fineAt reports whether token i begins a phrase that says something is fine.
func (l bodies) fineAt(i int) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool { return s.class&fine != 0 && s.from <= i && i < s.to })
}

// fineWith takes "no problem with latex or rubber".
func (l bodies) fineWith(i int, la, ru *finding) {
	if l.question(i) || l.doubted(i) {
		return
	}
	for _, x := range l.spans {
		if l.at(x.from).clause != l.at(i).clause {
			continue
		}
		if x.class&latex != 0 {
			la.add(l.line, false, false, i, x.to-1)
		}
		if x.class&rubber != 0 && !l.overlaps(x, latex) {
			ru.add(l.line, false, false, i, x.to-1)
		}
	}
}

// shunned reads latex or rubber that is to be avoided or is fine, without a
// word of a reaction: no latex please, can't touch rubber.
func (l bodies) shunned(s span, la, ru *finding) {
	if s.class&rubber != 0 && l.overlaps(s, latex) || l.overlaps(s, glue) {
		return
	}
	i := s.from
	stock := l.is(s.to, "tubing", "tube", "tubes", "left", "here", "slices", "band", "bands") || l.is(s.to, "on") && (l.at(s.to+1).class|l.at(s.to+2).class)&thing != 0 || l.is(s.to, "at") && l.is(s.to+1, "the", "all") || l.is(i-2, "have", "got", "of", "ran")
	f := la
	if s.class&latex == 0 {
		f = ru
	}
	general := role.General(l.roles(), i, false) || l.roles().Absent(i)
	supposed := l.doubted(i) || l.question(i) || general
	la.touched = general || l.asks(i)
	ru.touched = la.touched
	if f == la && l.is(s.to, "?") && (l.is(s.to+1, "no", "never", "nope", "not", "nah") && (l.at(s.to+2).mark || s.to+2 >= len(l.tokens) || l.is(s.to+2, "thanks", "way", "please", "for", "a")) || l.is(s.to+1, "absolutely", "definitely", "certainly", "please", "better") && l.is(s.to+2, "not", "no")) { // latex? no!
		l.add(la, ru, true, false, true, false, s)
	}
	if l.is(s.to, "?") && l.fineAt(s.to+1) && !l.doubted(s.to+1) && !l.question(s.to+1) { // latex? no trouble
		l.add(la, ru, f == la, f == ru, false, false, s)
		return
	}
	if j := s.to + 1; f == la && l.is(s.to, "?") && l.at(j).class&cant != 0 && (j+1 >= len(l.tokens) || l.at(j+1).mark || l.is(j+1, "sorry", "have", "touch", "use", "do")) {
		l.add(la, ru, true, false, true, false, s) // latex? can't, sorry
		return
	}
	if l.is(s.to, "isnt", "arent", "not", "aint", "isn") && (l.at(s.to+1).mark || s.to+1 == len(l.tokens)) && l.inSentence(i, fine) && !supposed { // rubber's fine, latex isn't
		l.add(la, ru, f == la, f == ru, true, false, s)
		return
	}
	if f == la && l.at(s.to).mark && l.is(s.to+1, "its", "thats", "it", "that", "theyre") && l.at(s.to).text != "?" && (l.fineAt(s.to+2) || l.is(s.to+2, "is") && l.fineAt(s.to+3)) && !supposed { // use latex, it's fine
		l.add(la, ru, true, false, false, false, s)
	}
	for _, x := range l.spans {
		if l.at(x.from).clause != l.at(i).clause || x.class&fine != 0 && l.overlaps(x, avoid|cant) || x.class&not != 0 && l.overlaps(x, fine) { // keep clear, don't worry about
			continue
		}
		switch {
		case x.class&cant != 0 && x.from >= s.to && role.Bears(l.roles(), x.to, x.to+2) && !l.between(s.to, x.from, not) && !l.touchesOther(x.to): // rubber is something she can't touch
			l.add(la, ru, f == la, f == ru, true, l.question(i) && !l.inClause(i, person) || general, x)
		case x.class&cant != 0 && x.from < i && (l.between(x.to, i, bear) || x.class&avoid != 0 || i-x.to < 3) && !l.between(x.to, i, not):
			if f == ru && !role.Bears(l.roles(), x.to, i) && !role.Beside(l.roles(), s.to) {
				continue
			}
			l.add(la, ru, f == la, f == ru, true, l.question(i) && !l.is(i, "latex") || general, x)
		case x.class&avoid != 0 && (x.from < i && i-x.to < 4 || x.from >= s.to && x.from-s.to < 3) && x.class&cant == 0 && f == la:
			passive := l.is(x.to-1, "avoided", "used", "go", "option", "table") // seams must be avoided when winding latex
			if l.denied(x.from) || passive && (x.from < s.to || !l.at(x.to).mark && !l.is(x.to, "here", "by", "for", "and", "in", "please")) {
				continue
			}
			l.add(la, ru, true, false, true, supposed, x)
		case x.class&avoid != 0 && f == ru && (l.is(x.from, "avoid", "avoids", "stay", "stays", "keep", "steer", "has") && x.from < i):
			l.add(la, ru, false, true, true, supposed || !l.inClause(i, cant), x)
		case x.class&fine != 0 && f == la && (x.from >= s.to && x.from-s.to < 5 || x.from < i && i-x.to < 4) && !supposed:
			if l.deniedFine(x) || l.notForAll(max(x.to, s.to)) {
				l.add(la, ru, true, false, true, false, x)
			} else {
				l.add(la, ru, true, false, false, false, x)
			}
		case x.class&fine != 0 && f == ru && x.from >= s.to && x.from-s.to < 4 && !supposed && !l.is(i, "gloves", "glove"):
			if !l.deniedFine(x) && !l.notForAll(max(x.to, s.to)) {
				l.add(la, ru, false, true, false, false, x)
			}
		case x.class&avoid != 0 && f == ru && x.from >= s.to && x.from-s.to < 3 && l.is(x.to, "for", "to") && l.is(x.to+1, "me", "us", "her", "him", "them", "my"): // rubber is out for me
			l.add(la, ru, false, true, true, supposed, x)
		case x.class&not != 0 && f == ru && x.from < i && i-x.to < 3 && l.is(x.from, "no", "nothing", "without", "none") && (l.inClause(i, body) && l.between(i, len(l.tokens), body) || role.Near(l.roles(), s.to)): // no rubber next to my skin
			l.add(la, ru, false, true, true, supposed, x)
		case x.class&not != 0 && l.is(x.from-1, "why"):
		case x.class&not != 0 && x.from < i && i-x.to < 3 && f == la && l.is(x.from, "no", "without", "not", "never", "kein", "keine", "pas", "zero", "dont", "nothing") && !l.is(x.to, "but", "except") && !stock && x.class&cant == 0:
			end := s.to
			for l.is(end, "or", "and", "nor") && l.at(end+1).class&(latex|rubber|other) != 0 { // no latex or wool trouble
				end += 2
			}
			if l.is(end, "trouble", "troubles", "problem", "problems", "issue", "issues", "worries", "worry", "concerns", "hassle", "drama", "bother") && !supposed {
				l.add(la, ru, true, false, l.is(x.from, "not", "never"), false, x) // no latex trouble
				continue
			}
			if l.is(s.to, "allergy", "allergies", "reaction", "reactions", "sensitivity", "intolerance") || l.inClauseAfter(s.to, allergy|reaction) || l.between(x.to, i, allergy|reaction|weak) || supposed {
				continue
			}
			l.add(la, ru, true, false, !l.toOther(i), false, x)
		}
	}
}

// toOther reports whether the sentence of token i has, before it, an allergy to
// something that is no rubber: allergic to wool, not latex.
func (l bodies) toOther(i int) bool {
	allergic := -1
	for _, s := range l.spans {
		if s.from >= i || l.at(s.from).sentence != l.at(i).sentence {
			continue
		}
		if s.class&(allergy|reaction) != 0 {
			allergic = s.from
		}
		if s.class&(other|glue) != 0 && allergic >= 0 && (s.from-allergic < 5 || l.between(allergic, s.from, thing) || l.is(s.from, "glue") && s.from-allergic < 9) {
			return true
		}
	}
	return false
}

// between reports whether a word of class c begins in tokens from..to.
func (l bodies) between(from, to int, c class) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool { return s.class&c != 0 && s.from >= from && s.from < to })
}

// inClauseAfter reports whether a word of class c follows token i in its clause.
func (l bodies) inClauseAfter(i int, c class) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool {
		return s.class&c != 0 && s.from >= i && l.at(s.from).clause == l.at(i-1).clause
	})
}

// touchesOther reports whether what may not be touched is named after token i,
// and so is not what stood before it.
func (l bodies) touchesOther(i int) bool {
	for j := i; !l.at(j).mark && l.at(j).clause == l.at(i).clause; j++ {
		if l.at(j).class&(thing|latex|rubber|fume|glue|other) != 0 {
			return true
		}
	}
	return false
}

// deniedFine reports whether a phrase like "is fine" is denied: is not fine.
func (l bodies) deniedFine(x span) bool {
	for j := x.from - 1; j >= x.from-2; j-- {
		if l.is(j, "not", "isnt", "arent", "never", "aint", "wouldnt", "nobody", "noone", "hardly", "dont", "doesnt", "didnt", "hasnt", "havent") {
			return true
		}
	}
	return false
}
