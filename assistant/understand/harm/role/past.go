package role

import "strings"

// What was so, and what is only inquired after.

// Formerly reports whether the sentence of word i tells of a time long past: we
// once had a player, in the school band decades ago, used to teach.
func (l Line) Formerly(i int) bool {
	had, once := false, false
	for j, w := range l {
		if w.Sentence != l.at(i).Sentence {
			continue
		}
		switch {
		case l.is(j, "used") && l.is(j+1, "to") && !l.is(j-1, "is", "are", "am", "im", "get", "got", "gets", "getting", "be") && j < i && w.Clause == l.at(i).Clause,
			l.is(j, "decades", "ages") && l.is(j+1, "ago", "back"), l.is(j, "back") && l.is(j+1, "then"), l.is(j, "long") && l.is(j+1, "ago"),
			l.is(j, "years") && l.is(j+1, "ago", "back") && (l.at(j-1).Is&Number == 0 || l.at(j-1).Num >= 10) && !l.is(j-1, "few", "couple"),
			l.is(j, "in") && l.is(j+1, "the") && l.is(j+2, "fifties", "sixties", "seventies", "eighties", "nineties"),
			l.is(j, "days") && l.is(j-1, "those", "school") && l.is(j-2, "in", "my", "our"):
			return true
		}
		had = had || l.is(j, "had") && !l.is(j-1, "have", "ive", "has", "hes", "shes", "weve") && l.is(j+1, "a", "an", "one") && (l.at(j+2).Is|l.at(j+3).Is)&(Person|Student) != 0 || l.is(j, "did", "tried", "made", "ran", "built", "taught") && l.is(j-1, "i", "we")
		once = once || l.is(j, "once") && !l.is(j-1, "at", "more", "never") && !l.is(j+1, "a", "the", "per")
	}
	return had && once // we once had a player
}

// Had reports whether the sign at word i is one that somebody had, and not has:
// my late husband had bad lungs.
func (l Line) Had(i int) bool {
	for j := i - 1; j >= i-3 && l.at(j).Is&Mark == 0; j-- {
		if l.is(j, "had", "was", "were") && l.at(j).Is&Short == 0 {
			return !l.is(j-1, "have", "ive", "has", "hes", "shes", "weve", "just") && !l.is(i+1, "attack", "attacks") && !l.is(i+2, "attack", "attacks")
		}
	}
	return false
}

// Inquires reports whether the clause of word i begins like a question of which
// no mark tells: can latex give people a rash.
func (l Line) Inquires(i int) bool {
	for i > 0 && l.at(i-1).Clause == l.at(i).Clause && l.at(i-1).Is&Mark == 0 {
		i--
	}
	return l.is(i, "is", "are", "does", "do", "can", "could", "would", "will", "should", "has", "have", "did") && l.at(i+1).Is&(Mark|Not) == 0 && !l.is(i+1, "it", "that", "this", "the", "be", "you", "u", "ya") ||
		l.is(i, "what", "whats", "why", "how", "which", "where", "who", "whos", "whose") && l.at(i+1).Is&Mark == 0
}

// General reports whether the sign at word i is asked after in general, or is that of people
// at large: do fumes bother most people? Asks is set where its clause is the one that asks.
func General(l Line, i int, asks bool) bool {
	return (asks || l.Inquires(i)) && !l.Somebody(i) && !l.Answered(i) && !l.pair("for", "myself", "me", "yours", "us") || AtLarge(l, i)
}

// Answered reports whether the question that word i is in is answered by the
// speaker: allergic to latex? me, yes.
func (l Line) Answered(i int) bool {
	for l.at(i).Is&Mark == 0 {
		i++
	}
	for l.at(i).Is&Mark != 0 && i < len(l) {
		i++
	}
	return l.is(i, "yes", "yeah", "yep", "yup", "aye", "me", "i", "im", "its", "thats", "my", "one", "we", "our", "he", "hes", "she", "shes", "two", "sadly", "unfortunately", "no", "none", "nobody", "noone", "nope", "nah", "not", "never")
}

// Somebody reports whether the sentence of word i names somebody in particular,
// and not people at large.
func (l Line) Somebody(i int) bool {
	for j, w := range l {
		if w.Sentence != l.at(i).Sentence {
			continue
		}
		first := l.First(j)
		named := first < j && !l.is(first, "a", "an", "another", "any", "many", "more", "older", "young", "little", "big", "small") || l.at(j).Is&Owner != 0
		if w.Is&(Young|Student) != 0 && named || l.is(j, "i", "im", "ive", "me", "my", "we", "us", "our", "he", "hes", "his", "him", "she", "shes", "her", "hers", "one") || w.Is&Person != 0 && strings.HasSuffix(w.Text, "friend") {
			return true
		}
	}
	return false
}

// Range returns the word after a range of numbers that begins at word i and goes
// beyond twenty or so: 12 to 60; 0 where there is none.
func (l Line) Range(i int) int {
	if l.at(i).Num < 4 || l.at(i-1).Is&Number != 0 {
		return 0
	}
	j := i + 1
	for l.is(j, "to", "up", "through", "till", "about", "around", "until", "years") {
		j++
	}
	if j > i+1 && l.at(j).Is&Number != 0 && l.at(j).Num > l.at(i).Num && l.at(j).Num >= Majority && l.at(j).Num < 100 && l.stops(j+1) {
		return j + 1
	}
	return 0
}

// AnswersSign reports whether word i begins the answer to a question after a
// sign: asthma? no one here.
func (l Line) AnswersSign(i int) bool {
	return l.is(i-1, "?", "-", ",") && l.clause(i-1, Sign) && !l.clause(i-1, Person)
}

// At reports whether the clause of word i says that the speaker or the work is
// where it says.
func (l Line) At(i int) bool {
	if l.clause(i, Young|Outside) && !l.clause(i, Work) {
		return false
	}
	for j, w := range l {
		if w.Clause == l.at(i).Clause && l.is(j, "i", "im", "ill", "id", "ive", "we", "well", "my", "our", "work", "working", "set", "glue", "do", "make", "bench", "with", "have", "got", "use") {
			return true
		}
	}
	return l.words(func(w Word) bool { return w.Sentence == l.at(i).Sentence }) < 5
}

// LongAgo reports whether a year of the last century follows from word i: third
// form, 1961.
func (l Line) LongAgo(i int) bool {
	for j := i; j < i+6; j++ {
		if t := l.at(j); t.Is&Number != 0 {
			return t.Num >= 1900 && t.Num < 2000 || l.is(j-1, "of") && l.is(j-2, "class") && t.Num >= 40 && t.Num < 100
		} else if t.Is&Mark == 0 && !l.is(j, "in", "of", "back", "about", "around", "the", "class") {
			return false
		}
	}
	return false
}

// PutsBack reports whether the no that begins the line undoes what was done and
// answers nothing: no, put that back.
func PutsBack(l Line) bool {
	return l.is(0, "no") && l.at(1).Is&Mark != 0 && (l.is(2, "put", "undo", "revert", "restore", "wait") ||
		l.is(2, "go", "take", "change", "bring") && (l.is(3, "back") || l.is(4, "back")))
}

// NoneSuch reports whether what was named before word i is said not to be there, as
// on a form: kids: none.
func NoneSuch(l Line, i int) bool {
	return l.is(i, ":", "-", "=", "?") && l.is(i+1, "none", "no", "zero", "nil", "nope") && (i+2 >= len(l) || l.at(i+2).Is&Mark != 0)
}
