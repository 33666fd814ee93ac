package role

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/heard"
)

// What the speaker is, and what a line of a few words answers.

// Before reports whether the clause of word i tells of an earlier time: I made five
// heads last year with my uncle.
func Before(l Line, i int) bool {
	for j, w := range l {
		if w.Clause == l.at(i).Clause && (l.is(j, "ago", "ever") || l.is(j, "last") && l.is(j+1, "year", "summer", "term", "spring", "autumn", "winter", "christmas")) {
			return true
		}
	}
	return false
}

// OwnParent reports whether a parent is named as a child would: my mum, dad.
func OwnParent(l Line) bool {
	for i, w := range l {
		if w.Is&Helper != 0 && l.is(i, "dad", "dads", "mum", "mums", "mom", "moms", "mam", "mummy", "mommy", "daddy", "mama", "papa", "parents", "gran", "nan", "grandma", "grandpa") &&
			(l.is(i-1, "my", "ma", "me", "mi", "our") || l.at(i-1).Is&Mark != 0 || l.is(i-1, "cos", "cause", "because", "so", "and", "but", "an", "n", "when", "while", "if")) {
			return true
		}
	}
	return false
}

// SpeakerYoung reports whether the speaker is the young one of the line.
func SpeakerYoung(l Line) bool {
	for i, w := range l {
		switch {
		case w.Is&Number != 0 && w.Num < Majority && (l.is(i-1, "im", "am", "me") || l.is(i-1, "only", "just", "turned", "nearly", "both", "all", "turning", "are") && l.is(i-2, "i", "im", "we", "am", "just", "ive") || WeAre(l, i-1)) && l.at(i+1).Is&Unit == 0,
			w.Is&Helper != 0 && l.is(i-1, "my", "me", "ma", "mi"),
			l.is(i, "i", "we") && l.is(i+1, "go", "attend", "study") && (l.at(i+2).Is|l.at(i+3).Is|l.at(i+4).Is)&School != 0,
			l.is(i, "im", "am") && (l.at(i+1).Is&School != 0 || l.is(i+1, "in", "a") && l.at(i+2).Is&(School|Young) != 0):
			return true
		}
	}
	return false
}

// Assents reports whether a line is an okay to the question that is open and
// nothing else: ok, fine by me. An okay that leads to something else is none: ok
// let's build it.
func Assents(l Line) bool {
	if !l.is(0, "ok", "okay", "sure") {
		return false
	}
	about := slices.ContainsFunc(l, func(w Word) bool {
		return strings.HasPrefix(w.Text, "solvent") || strings.HasPrefix(w.Text, "fume") || strings.HasPrefix(w.Text, "glue")
	}) && !slices.ContainsFunc(l, func(w Word) bool { // ok no glue; ok, but is the glue safe
		return slices.Contains([]string{"no", "not", "dont", "without", "never", "but", "what", "which", "how", "why", "?"}, w.Text)
	})
	return about || !slices.ContainsFunc(l[1:], func(w Word) bool {
		return w.Is&Mark == 0 && !heard.Fine(w.Text) && !slices.Contains([]string{"yes", "yeah", "yep", "sure", "no", "problem", "problems", "thing", "me", "by", "thats", "is", "its", "for", "thanks", "thank", "you", "please", "then", "why", "not", "may", "can"}, w.Text)
	})
}

// GoesOn reports whether what follows the first word of the line, and no dash, is an
// order to go on: let's build it.
func GoesOn(l Line) bool {
	i := 1
	for i < len(l) && l.at(i).Is&Mark != 0 && !l.is(i, "-") {
		i++
	}
	return l.is(i, "lets", "build", "start")
}

// SomeOf reports whether the line answers that some of a group are: some, a few are,
// two of the eight.
func SomeOf(l Line) bool {
	if len(l) == 0 || len(l) > 7 || l.has(Not|Grown) {
		return false
	}
	switch {
	case l.is(0, "some", "most", "half", "several", "many", "mostly"):
		return l.at(1).Is&Mark != 0 || l.is(1, "of", "are", "is", "do", "does", "have", "yes")
	case l.is(0, "a"):
		return l.is(1, "few", "couple") && (l.at(2).Is&Mark != 0 || l.is(2, "of", "are", "is", "do"))
	}
	return l[0].Is&Number != 0 && l.is(1, "of") && l.is(2, "them", "us", "the", "my", "our") || l.is(0, "one") && l.is(1, "is", "does", "has")
}

// Names reports whether the line only names somebody who is, does or has: the wife is;
// one pupil; me, sadly; everyone but Jo.
func Names(l Line) bool {
	if len(l) == 0 || len(l) > 6 {
		return false
	}
	some := false
	for i := range len(l) - 1 {
		if Out(l, i) > 0 && Of(l, i) {
			return !l.has(Sign | Fume)
		}
	}
	for i, w := range l {
		switch {
		case w.Is&Not != 0, l.is(i, "i", "you", "it", "good", "fine", "ok", "happy"):
			return false
		case w.Is&(Person|Young|Student|Helper) != 0 && !l.is(i, "my", "our", "his", "her", "their", "your", "skin", "hands", "hand", "everyone", "everybody", "all", "anyone", "anybody", "nobody", "noone", "none", "we", "who"), l.is(i, "me"):
			some = true
		case w.Is&(Mark|Number) != 0, l.is(i, "my", "our", "the", "a", "of", "one", "them", "us", "both", "just", "only", "eldest", "youngest", "sadly", "unfortunately", "yes", "yeah", "afraid", "is", "does", "has", "do", "are", "am", "did", "and", "his", "her", "their"):
		default:
			return false
		}
	}
	return some
}

// NamesHelper reports whether the line only names a grown-up: their dad; my shop
// teacher; an aide is always there.
func NamesHelper(l Line) bool {
	helper := false
	for i, w := range l {
		switch {
		case w.Is&Helper != 0, l.is(i, "aide", "assistant", "supervisor", "grandmother", "grandfather", "staff"):
			helper = true
		case w.Is&Mark != 0, l.is(i, "my", "our", "the", "a", "an", "their", "his", "her", "one", "each", "every", "time", "always", "is", "are", "will", "be", "there", "here", "and", "shop", "music", "class", "band", "school", "whole", "of", "parent", "at", "all", "times", "in", "charge", "room", "both", "me", "yes"):
		default:
			return false
		}
	}
	return helper && len(l) < 9
}

// Place reports whether the line only says which place it is: it's a cellar.
func Place(l Line) bool {
	return len(l) > 0 && len(l) < 6 && (l.is(0, "its", "just", "a", "an", "the", "in", "my", "our", "only", "small", "tiny") || len(l) < 3)
}

// BornLong reports whether word i is the year, of the last century, in which somebody
// here was born: I was born in 1958.
func BornLong(l Line, i int) bool {
	w := l.at(i)
	return w.Num >= 1910 && w.Num < 2000 && (l.is(i-1, "born") || l.is(i-1, "in") && l.is(i-2, "born")) && (Own(l, i) || l.is(0, "born") || l.is(0, "we", "were", "both", "all")) && !l.sentence(i, Young)
}

// Otherwise reports whether, after word i of what is denied, somebody else is said to
// all the same, in a verb that stands for it: I'm not allergic but my wife is.
func Otherwise(l Line, i int) bool {
	for j := i + 2; j < len(l); j++ {
		if !l.is(j, "is", "are", "am", "does", "do", "has", "have") {
			continue
		}
		next := j + 1
		for l.is(next, "though", "tho", "too", "so", "one", "some", "both", "sadly", "unfortunately") {
			next++
		}
		who := l.at(j - 1)
		if l.at(next).Is&Mark == 0 && !l.is(next, "and", "which") || who.Is&(Person|Young|Student|Helper|Grown) == 0 ||
			l.is(j-1, "nobody", "noone", "none", "who", "everyone", "everybody", "all", "neither") {
			continue
		}
		for k := i + 1; k < j; k++ {
			if l.at(k).Is&Mark != 0 || l.is(k, "but", "though", "although", "however", "whereas", "while", "yet", "only") {
				return true
			}
		}
	}
	return false
}
