package harm

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/role"
)

// What somebody may not breathe.

// lungs reads who must not breathe solvent.
func (l bodies) lungs() *Fact {
	f := &finding{path: SolventOK}
	if l.asked == SolventOK {
		switch {
		case l.saysYes() || role.Assents(l.roles()):
			f.add(l.line, false, false, 0, 1)
		case l.is(0, "no", "not") && l.fineAt(0), l.is(0, "no") && l.at(1).class&lungs != 0 && l.denied(1) && !l.has(except|unsure):
			f.add(l.line, false, false, 0, 1) // no worries; no wheeze
		case l.no() && l.has(lungs) && !slices.ContainsFunc(l.spans, func(s span) bool { return s.class&lungs != 0 && !l.denied(s.from) }):
			f.touch(l.line, 0, 1, false) // no I'm not pregnant
		case (l.no() || l.is(0, "rather", "never", "not")) && !l.is(1, "problem"):
			f.add(l.line, true, false, 0, 1)
		}
	}
	healed := span{}
	for _, s := range l.spans {
		i := s.from
		switch {
		case s.class&lungs != 0:
			switch {
			case l.ofMachine(s) || l.roles().Show(i) || role.NoBirth(l.roles(), s.from, s.to): // expecting twelve people
			case !l.denied(i) && (l.once(i) || ages(l).past(i) || l.roles().Had(i)) && l.hasWord("better", "recovered", "fine", "grew", "outgrew", "outgrown", "gone", "cured", "cleared", "over", "healed", "passed"):
				healed = s
			case l.denied(i) || l.undone(i):
				if role.Otherwise(l.roles(), s.to-1) { // I haven't asthma, my sister has
					f.add(l.line, true, true, i, s.to-1)
					continue
				}
				if l.has(undo) || (role.NoneBefore(l.roles(), i) || l.roles().AnswersNo(i) || l.at(i+1).mark) && !l.has(young|kin|pupil|school) && !l.has(except) { // nobody here has asthma
					f.add(l.line, false, false, i, s.to-1)
				}
			default:
				short := l.is(s.to-1, "breath", "gasp", "gasps", "gasping", "puff") && !l.inSentence(i, fume|glue|latex|rubber) // and perhaps no wind
				if role.General(l.roles(), i, l.asks(i)) || ages(l).past(i) || l.roles().Absent(i) || short || l.once(i) || l.roles().Formerly(i) || (l.roles().Had(i) || strings.HasSuffix(l.text[:l.at(s.to-1).to], "ed")) && !l.inSentence(i, fume|glue|latex|rubber) {
					f.touch(l.line, i, s.to-1, false)
					continue
				}
				f.add(l.line, true, l.doubted(i) && !role.Firm(l.roles(), i) && l.has(iffy), i, s.to-1)
			}
		case s.class&baby != 0 && !l.is(s.to, "of") && l.inSentence(i, person) && !l.denied(i) && !l.is(i-1, "hit", "hits") && !l.is(s.to, "brother", "sister", "cousin", "brothers", "sisters"):
			f.add(l.line, true, false, i, s.to-1)
		case s.class&bird != 0 && !l.has(fume|glue|air|noair) && !l.hasWord("room", "workshop", "kitchen", "indoors", "here", "cage", "house"):
			f.touch(l.line, i, s.to-1, false)
		case s.class&bird != 0:
			f.add(l.line, true, true, i, s.to-1)
		case s.class&(fume|glue) != 0:
			l.breathed(s, f)
		}
	}
	if healed.to > 0 { // which a word on how it is with glue outweighs
		f.touch(l.line, healed.from, healed.to-1, true)
	}
	return f.result()
}

// ofMachine reports whether what wheezes at span s is an organ or a pump.
func (l bodies) ofMachine(s span) bool {
	if l.is(s.to-1, "asthma", "inhaler") {
		return false
	}
	for j := s.to; j < s.to+3 && !l.at(j).mark; j++ { // an asthmatic old organ
		if l.at(j).class&machine != 0 {
			return true
		}
	}
	for j := s.from - 1; j >= s.from-5 && !l.at(j).mark; j-- {
		if l.at(j).class&machine != 0 {
			return true
		}
		if l.at(j).class&(person|young|kin|pupil|student|helper) != 0 {
			return false
		}
	}
	return false
}

// undone reports whether what stands at token i is taken back: forget the
// asthma.
func (l bodies) undone(i int) bool {
	for _, s := range l.spans {
		if s.class&undo != 0 && s.to <= i && i-s.to < 6 && l.is(s.from, "forget", "scratch", "ignore", "disregard", "strike", "take", "never", "nevermind", "cancel", "drop", "delete", "remove", "just", "joking", "only") {
			return true
		}
	}
	return false
}

// breathed reads fumes or glue that are to be avoided or are fine.
func (l bodies) breathed(s span, f *finding) {
	i := s.from
	f.touched = role.General(l.roles(), i, l.asks(i))
	if l.overlaps(s, latex|rubber) || l.is(i, "whiff") && l.is(i+1, "of") && l.at(i+2).class&latex != 0 {
		return
	}
	isGlue := s.class&fume == 0
	if l.is(i, "contact", "rubber") || isGlue && (l.is(i, "superglue", "super", "ca", "cyanoacrylate", "epoxy")) && l.inClause(i, lungs|cant) {
		isGlue = false
	}
	question := l.question(i) && !l.inSentence(i, lungs)
	water := l.is(i, "water")
	for _, x := range l.spans {
		if l.at(x.from).clause != l.at(i).clause || x.from == s.from || x.class&fine != 0 && l.overlaps(x, avoid|cant) {
			continue
		}
		switch {
		case s.to-i > 1 && l.is(s.to-1, "free"):
		case x.class&fine != 0 && !isGlue && !water:
			near := x.from >= s.to && x.from-s.to < 6 || x.from < i && i-x.to < 4
			if near && !l.deniedFine(x) && !question && !l.doubted(i) {
				f.add(l.line, false, false, i, x.to-1)
			} else if near && l.deniedFine(x) {
				f.add(l.line, true, false, i, x.to-1)
			}
			return
		case x.class&(cant|avoid) != 0 && !isGlue && (x.from < i && i-x.from < 8 || x.from >= s.to) && !water:
			f.add(l.line, true, question, i, x.to-1)
		case x.class&not != 0 && x.from < i && i-x.to < 4 && !isGlue && !l.between(x.to, i, allergy|reaction|lungs|latex) && l.is(x.from, "no", "without", "not", "never", "dont", "doesnt", "wont", "isnt", "nothing", "none", "none of", "zero", "kein", "keine", "pas") && !water:
			f.add(l.line, true, question, i, x.to-1)
		case x.class&not != 0 && !isGlue && x.from >= s.to && x.from-s.to < 2 && ages(l).ends(x.to): // solvent glue not
			f.add(l.line, true, question, i, x.to-1)
		case x.class&(reaction|allergy) != 0 && !l.denied(x.from):
			f.add(l.line, true, l.doubted(x.from), i, x.to-1)
		case x.class&weak != 0 && l.inSentence(i, person) && (!isGlue || l.strongWeak(x.from)):
			switch {
			case l.denied(x.from):
				f.add(l.line, false, false, i, x.to-1)
			case l.is(x.from, "for", "problem", "problems", "agree", "support") && question:
			default:
				f.add(l.line, true, question && !l.is(x.from, "sick", "headache", "headaches"), i, x.to-1)
			}
		}
	}
	free := l.is(i, "low", "zero", "odourless", "odorless", "fumeless", "non") || s.to-i > 1 && l.is(s.to-1, "free")
	if water && (l.is(s.to, "only", "glue", "please", "glues") || l.is(i-1, "only")) || free {
		if !question {
			f.add(l.line, true, false, i, s.to-1)
		}
	}
}

// strongWeak reports whether the word at i is a sign even beside mere glue.
func (l bodies) strongWeak(i int) bool {
	return l.is(i, "headache", "headaches", "migraine", "migraines", "dizzy", "cough", "coughs", "coughing", "choke", "chokes", "sick", "nausea", "nauseous", "faint", "bad", "giddy", "lightheaded", "light", "woozy", "queasy", "splitting", "pounding", "head", "spinning", "throw", "throws", "puke", "pukes", "gag", "gags", "gagging", "retch", "pass", "passes", "unwell", "poorly", "funny", "vomit", "vomits", "makes", "catches", "headachy") && !l.is(i+1, "for")
}
