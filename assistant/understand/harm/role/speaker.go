package role

// What the speakers say of themselves.

// Majority is the age from which one answers for oneself. Local rules may draw
// the line elsewhere.
const Majority = 18

// ForSelf reports whether the line says that what is made is for the speaker
// alone: these are just mine.
func (l Line) ForSelf() bool {
	for i := range l {
		switch {
		case l.is(i, "for") && l.is(i+1, "me", "myself") && (l.is(i+2, "alone", "only", "and") || l.at(i+2).Is&Mark != 0 || i+2 >= len(l)) && (l.is(i-1, "just", "only", "all", "are", "is", "pair", "set", "one", "these") || l.is(i+2, "alone", "only")):
			return !l.is(i+2, "and")
		case l.is(i, "mine") && (l.is(i-1, "just", "only", "all", "are") || l.is(i+1, "alone", "only")):
			return true
		case l.is(i, "my") && l.is(i+1, "own", "personal", "private") && l.is(i+2, "use", "hobby", "pleasure", "fun", "vice", "enjoyment", "amusement", "indulgence"):
			return true
		}
	}
	return false
}

// OfAnother reports whether the sentence of word i is, up to there, about one
// other person: there's a chap in my class, retired.
func (l Line) OfAnother(i int) bool {
	other := false
	for j := i - 1; j >= 0 && l.at(j).Sentence == l.at(i).Sentence; j-- {
		switch {
		case l.is(j, "i", "im", "ive", "we", "weve", "all", "everyone", "everybody", "both") || l.is(j, "were") && l.at(j).Is&Short != 0:
			return false
		case l.is(j, "chap", "man", "woman", "lady", "bloke", "guy", "fellow", "fella", "gentleman", "neighbour", "neighbor", "friend", "colleague", "uncle", "aunt", "he", "hes", "she", "shes", "someone", "somebody"):
			other = true
		}
	}
	return other
}

// Another reports whether word j is one person other than the speaker.
func (l Line) Another(j int) bool {
	if l.at(j).Is&Owner != 0 && l.is(j, "sisters", "brothers", "cousins", "friends", "wifes", "husbands", "partners", "neighbours", "flatmates") { // my brother's 19
		return true
	}
	return l.is(j, "sister", "brother", "cousin", "friend", "wife", "husband", "partner", "girlfriend", "boyfriend", "neighbour", "neighbor", "colleague", "flatmate", "roommate")
}

// AtAge reports whether the number at word i is an age past majority at which
// the speaker came to this: took it up at fifty. Whoever was of age then is now.
func (l Line) AtAge(i int) bool {
	t := l.at(i)
	if !l.is(i-1, "at") || t.Num < 25 || t.Num > 99 || !l.stops(i+1) || l.clause(i, Figure) {
		return false
	}
	begun := false
	for j, w := range l {
		if w.Sentence != t.Sentence {
			continue
		}
		if l.Another(j) || w.Is&(Helper|Young) != 0 && w.Is&Grown == 0 && j < i || l.is(j, "he", "she", "they", "who", "bpm", "tempo", "plays", "sits", "stands", "weighs") {
			return false
		}
		begun = begun || l.is(j, "start", "started", "took", "taken", "taking", "back", "begin", "began", "beginning", "retire", "retired", "learn", "learning", "why", "still", "begun", "go", "picked", "come", "came", "new", "age")
	}
	return begun
}

// stops reports whether a number before word i is complete without a unit.
func (l Line) stops(i int) bool {
	return l.at(i).Is&Mark != 0 || l.is(i, "and", "but", "so", "or", "why", "i", "im", "ive", "id", "ill", "we", "were", "its", "now", "with", "this", "next", "last", "years", "yrs", "year", "yo", "if", "because", "then", "already", "still", "my", "when", "over")
}

// LeastAge reports whether the number at word i is the least age that is let in:
// the minimum age for our workshop is 21, you have to be 18 to join.
func (l Line) LeastAge(i int) bool {
	t, least, age := l.at(i), false, false
	if t.Num < 5 || t.Num > 99 || l.at(i+1).Is&Unit != 0 {
		return false
	}
	for j := i - 1; j >= 0 && j > i-12 && l.at(j).Sentence == t.Sentence; j-- {
		least = least || l.is(j, "minimum", "min", "lowest", "least", "lower", "limit", "entry", "youngest")
		age = age || l.is(j, "age", "aged", "ages")
	}
	return least && age && !l.is(i-1, "under", "below", "not") ||
		l.is(i-1, "be") && l.is(i-2, "to", "must", "gotta") && l.is(i+1, "to", "or") && l.is(i+2, "join", "enter", "attend", "come", "play", "sign", "enrol", "over", "older")
}

// Adult reports whether the speaker says to be of age: I'm 51, I'm an adult.
func (l Line) Adult() bool {
	for i, w := range l {
		switch {
		case w.Is&Number != 0 && w.Num >= Majority && w.Num < 100 && l.stops(i+1):
			if l.is(i-1, "im", "tengo", "tenho", "bin", "me", "myself") || l.is(i-1, "am") && l.is(i-2, "i") || l.is(i-1, "turned") && l.is(i-2, "i", "ive", "just") || l.AtAge(i) {
				return true
			}
		case w.Is&Grown != 0 && w.Is&Not == 0 && (l.is(i, "im") || l.is(l.First(i)-1, "im", "am") || l.is(i-1, "already", "fully", "legally") && l.is(i-2, "im", "am")):
			return true
		}
	}
	return false
}

// OfOther reports whether the age at word i is of him or her who stands by:
// my sister is here, she's 22.
func (l Line) OfOther(i int) bool {
	if !l.is(i-1, "hes", "shes") && !(l.is(i-1, "is") && l.is(i-2, "he", "she")) {
		return false
	}
	for j := i - 2; j >= 0; j-- {
		if l.Another(j) || l.at(j).Is&Helper != 0 {
			return true
		}
	}
	return false
}

// Own reports whether the clause of word i is about the speaker.
func Own(l Line, i int) bool {
	for j, w := range l {
		if w.Clause == l.at(i).Clause && l.is(j, "i", "im", "ill", "id", "ive", "me", "my", "myself") {
			return true
		}
	}
	return false
}

// Teaches reports whether the speaker is a teacher or a parent: I teach; I'm their dad; my
// ten year old.
func Teaches(l Line) bool {
	for i := range l {
		if l.is(i, "i") && l.is(i+1, "teach", "supervise") || l.is(i, "im") && l.is(i+1, "their", "his", "her", "the") && l.is(i+2, "teacher", "dad", "mum", "mom", "parent") ||
			l.is(i, "im", "as") && l.is(i+1, "a") && (l.is(i+2, "teacher", "parent", "dad", "mum", "mom", "father", "mother") || l.is(i+3, "teacher")) ||
			l.at(i).Is&Number != 0 && l.is(i+1, "year", "yo", "yr") && l.is(i-1, "my", "our") {
			return true
		}
	}
	return false
}
