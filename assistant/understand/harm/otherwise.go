package harm

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/role"
)

// Ages that are told otherwise than by years of somebody: by a birthday, a
// decade, a limit that all are above, or the youngest of a group.

// birthday takes "my tenth birthday" at its number.
func (l ages) birthday(i int, f *finding) {
	t := l.at(i)
	if t.isNum && t.num >= 3 && l.is(i+1, "candles") && (l.hasWord("blew", "blow", "blown") || l.inClause(i, person)) && !l.hasWord("wrapped", "years", "when") && l.inSentence(i, person) {
		l.sayAge(i, i+2, t.num < majority, f) // I blew out sixteen candles
		return
	}
	if t.isNum && t.ordinal && t.num >= 5 && t.num <= majority && l.is(i-1, "my", "his", "her") && l.is(i+1, "is", "comes") && l.is(i+2, "next", "this", "in", "on", "coming", "tomorrow") { // my eighteenth is next year
		f.add(l.line, t.num < majority, t.num == majority, i, i+1)
		return
	}
	if !t.isNum || !t.ordinal || t.num < 3 || t.num > 110 || !l.is(i+1, "birthday", "bday", "birthdays") && !(l.is(i+1, "b") && l.is(i+2, "day")) {
		return
	}
	if p := l.at(i - 1); p.class&thing != 0 || p.short && p.class&(person|young|kin) == 0 && strings.HasSuffix(p.text, "s") {
		return // the marimba's tenth birthday
	}
	recent := false
	for j := range l.tokens {
		if l.at(j).sentence != t.sentence {
			continue
		}
		recent = recent || l.is(j, "yesterday", "today", "just", "tomorrow") || l.is(j, "last", "this", "next") && l.at(j+1).class&calendar != 0 || l.is(j+1, "friday", "monday", "tuesday", "wednesday", "thursday", "saturday", "sunday")
		if l.is(j, "ago", "remember", "given", "then", "gave") || l.is(j, "got") && j < i {
			return // a story of once
		}
	}
	if l.past(i) && !recent {
		return
	}
	if t.num == majority { // it may be still to come
		f.add(l.line, true, true, i, i+1)
		return
	}
	l.sayAge(i, i+2, t.num < majority, f)
}

// decade takes "in our late fifties", "in his 40s".
func (l ages) decade(i int) bool {
	text := l.at(i).text
	tens := l.at(i).isNum && (l.is(i+1, "s") || strings.HasSuffix(text, "s")) && l.at(i).num >= 20 && l.at(i).num <= 90
	switch text {
	case "twenties", "thirties", "forties", "fifties", "sixties", "seventies", "eighties", "nineties":
		tens = true
	}
	j := i - 1
	if l.is(j, "early", "mid", "middle", "late") {
		j--
	}
	if tens && (l.is(i-1, "over") && l.has(person|work|gear) && !l.is(i-2, "just", "well") || l.is(j+1, "early", "mid", "middle", "late") && (l.asked == Minor || l.is(j, "in"))) {
		return true // the over-sixties; late twenties
	}
	return tens && l.is(j, "my", "our", "his", "her", "their") && l.is(j-1, "in") && !l.is(j-2, "man", "woman", "chap", "lady", "bloke", "guy", "fellow", "someone", "somebody", "gentleman")
}

// limit takes an age that all of a group are above, or none is: 30 or older,
// nobody under 20. It reports whether the number at token i is one.
func (l ages) limit(i int, f *finding) bool {
	t := l.at(i)
	if over := l.is(i-1, "over", "above") || l.is(i-1, "than") && l.is(i-2, "older") || l.is(i-1, "of") && l.is(i-2, "age"); over && t.num <= majority && t.num >= 5 && role.NoneBefore(l.roles(), i) && l.ends(i+1) && l.inClause(i, person|young|not) {
		f.add(l.line, true, false, i-1, i) // nobody over 14
		return true
	}
	if l.is(i-1, "under", "below") || l.is(i-1, "than") && l.is(i-2, "younger") {
		if t.num < majority || t.num > 100 || l.sized(i+1) || !role.NoneBefore(l.roles(), i) {
			return false
		}
		f.add(l.line, false, false, i-1, i)
		return true
	}
	plus := strings.HasSuffix(t.text, "+") && (l.is(i-1, "strictly", "only", "all", "aged", "are", "is", "were") || l.is(i+1, "only", "here"))
	up := l.is(i+1, "or", "and") && l.is(i+2, "older", "over", "up", "above", "upwards") && l.ends(i+3) && (l.inSentence(i, person|grown) || l.is(i-1, "strictly", "all", "aged")) && !l.at(i-1).hasUnit()
	if !plus && !up || t.num > 100 || t.num < 5 || role.Measured(l.roles(), i) && !l.is(i-1, "are", "is", "aged", "all") {
		return false
	}
	f.add(l.line, t.num < majority, t.num < majority, i, i+2) // 16 and over may be of age or not
	return true
}

// partly reports whether what is said of all is said of most of them only.
func (l *line) partly(age *Fact) bool {
	at := slices.IndexFunc(l.tokens, func(t token) bool { return t.to > age.From })
	return slices.ContainsFunc(l.spans, func(s span) bool {
		if d := l.at(s.from).clause - l.at(at).clause; at >= 0 && (d < -1 || d > 1 || d == 1 && l.at(s.from-1).clause == l.at(s.from).clause) {
			return false
		}
		return s.class&partly != 0 && l.at(s.to).class&(thing|gear) == 0 && l.at(s.to+1).class&(thing|gear) == 0 || s.class&grown != 0 && l.is(s.from-1, "only") && l.is(s.from-2, "the") || // the only adult
			s.class&except != 0 && l.is(s.from, "except", "apart", "aside", "other") && !l.is(s.to, "all", "were", "we") && (l.at(s.to).class|l.at(s.to+1).class)&(thing|latex|rubber|fume|glue|other) == 0
	})
}

// aside reports whether the young of the line are said to be kept out of it, or
// what is made to be the speaker's alone.
func (l *line) aside() bool { return l.has(aside) || l.roles().ForSelf() }

// speaksAsAdult reports whether the speaker shows to be one: a parent or a
// teacher.
func (l ages) speaksAsAdult() bool {
	for _, s := range l.spans {
		if s.class&(kin|young|pupil|student) != 0 && l.is(s.from-1, "my", "our", "meine") && !l.is(s.from, "little", "lil", "kid", "baby", "younger", "small", "my", "our", "the") {
			return true
		}
		if s.class&(kin) != 0 && l.is(s.from, "my") {
			return true
		}
	}
	return role.Teaches(l.roles())
}

// notForAll reports whether, after token i, somebody is taken out of what was
// said to be fine: but my stand partner isn't, only not for my wife.
func (l bodies) notForAll(i int) bool {
	turn := false
	for j := i; j < len(l.tokens) && l.at(j).sentence == l.at(i-1).sentence && j < i+14; j++ {
		t := l.at(j)
		switch {
		case l.is(j, "but", "though", "although", "only", "just", "however", "yet") || t.mark:
			turn = true
		case t.class&except != 0:
			if turn = true; l.is(j, "except", "apart", "aside", "other") && !l.is(j+2, "that", "this", "it") && l.at(j+2).class&(thing|glue|fume|other) == 0 && l.at(j+1).class&(thing|glue|fume|other) == 0 {
				return true
			}
		case !turn:
		case t.class&(thing|glue|fume|other) != 0 && t.class&(person|kin|young) == 0 && !l.is(j, "it", "its"):
			return false
		case t.class&(person|kin|young|pupil|student|helper) != 0 && !l.is(j, "i", "im", "we", "my", "our", "you", "it"):
			if l.refuses(j, i) {
				return true
			}
		}
	}
	return false
}

// refuses reports whether the person at token j, who is named after token i, is
// the one for whom it is not so: she can't; not for my wife. Nobody under age,
// no children, says nothing of it.
func (l bodies) refuses(j, i int) bool {
	for k := j + 1; k <= j+3; k++ { // my stand partner isn't
		if l.at(k).class&(not|cant) == 0 || l.is(k, "no", "nobody", "none", "noone") || l.fineAt(k) {
			continue
		}
		if next := l.at(k + 1); next.mark || k+1 >= len(l.tokens) || l.is(k+1, "and", "though", "tho", "sadly") || role.Bears(l.roles(), k+1, k+2) && !l.touchesOther(k+2) {
			return true
		}
	}
	for k := j - 1; k >= max(i, j-3); k-- {
		if l.is(k, "for", "with") && l.at(k-1).class&(not|except) != 0 && k > i {
			return true
		}
	}
	return false
}
