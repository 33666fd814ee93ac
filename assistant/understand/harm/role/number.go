package role

import "slices"

// What the numbers of a line are, and whom an age is told of.

// Pretends reports whether the line plays at being of age rather than saying so.
func Pretends(l Line) bool {
	for i, w := range l {
		if w.Is&Grown == 0 {
			continue
		}
		if l.is(i+1, "now") {
			return true
		}
		for j := i - 1; j >= i-5 && j >= 0; j-- {
			if l.is(j, "pretend", "say", "imagine", "act", "treat", "count", "basically", "practically", "nearly", "almost", "lets") {
				return true
			}
		}
	}
	return false
}

// Fraction reports whether the number at word i counts some of those that
// follow: 28 of 30, nine out of ten.
func Fraction(l Line, i int) bool {
	j := i + 1
	for l.is(j, "of", "out", "in", "from", "the", "my", "our") {
		j++
	}
	return j > i+1 && l.at(j).Is&Number != 0 && l.at(i).Num < l.at(j).Num && l.at(j).Num < 1000 && (l.at(j+1).Is|l.at(j+2).Is)&Thing == 0 && !l.is(j+1, "mallets", "heads", "pairs")
}

// YoungBefore reports whether the clause before the mark at word i-1 is of
// somebody who learns or is young: one student from Kerala, 17.
func YoungBefore(l Line, i int) bool {
	for j := i - 2; j >= 0 && l.at(j).Is&Mark == 0; j-- {
		if l.at(j).Is&(Young|Student) != 0 {
			return true
		}
	}
	return false
}

// Measured reports whether the number at word i is said of a limit, of money or of
// weight, or of what somebody would have, and no age: the ceiling for me is 24, my
// budget is 30, for me 40 is too heavy, what I want is 34.
func Measured(l Line, i int) bool {
	if l.is(i-1, "im", "am", "aged", "turned") {
		return false
	}
	for j := max(0, i-8); j < i+5; j++ {
		if l.at(j).Clause == l.at(i).Clause && (l.at(j).Is&Figure != 0 || j < i && l.is(j, "what") && l.is(i-1, "is", "was")) {
			return true
		}
	}
	return false
}

// adultAge reports whether word i is a whole number past majority and within a life.
func adultAge(l Line, i int) bool {
	w := l.at(i)
	return w.Is&Number != 0 && w.Num >= Majority && w.Num < 100 && l.at(i+1).Is&Unit == 0
}

// AllOver reports whether the number at word i is an age past majority that all those of
// the line are above or have, however that is put: the over-35s; 22 and up; men of thirty
// plus; the youngest is 18; 19 or 20; twenty-one to twenty-five; in the forties.
func AllOver(l Line, i int) bool {
	if !adultAge(l, i) || Measured(l, i) {
		return false
	}
	people := l.sentence(i, Person|Young|Student|Helper|Grown) && !l.clause(i, Thing|Gear) || l.is(i-1, "all", "aged", "ages")
	switch {
	case l.is(i-1, "over", "above") && l.is(i+1, "s"), l.is(i-1, "over", "above") && l.is(i-2, "all", "both", "everyone", "everybody", "are", "well", "way", "makers", "were") && l.stops(i+1):
		return true
	case l.is(i+1, "plus") && l.stops(i+2), l.is(i+1, "or", "and") && l.is(i+2, "more", "up", "upward", "upwards", "older", "over", "above") && l.stops(i+3):
		return people
	case l.is(i+1, "something", "somethings", "odd") && !l.is(i+2, "mm", "grams"):
		return people || l.is(i+1, "somethings")
	}
	for j := i - 1; j > i-8 && l.at(j).Sentence == l.at(i).Sentence && l.at(j).Is&Number == 0; j-- {
		if l.is(j, "youngest") && !l.clause(i, Gear) {
			return l.stops(i+1) || l.is(i+1, "in", "here", "of")
		}
	}
	second := 0
	switch {
	case adultAge(l, i+1) && l.at(i+1).Num > l.at(i).Num: // 21-25
		second = i + 1
	case l.is(i+1, "to", "or", "and", "n", "through", ",") && adultAge(l, i+2) && !l.is(i-1, "and", "n"):
		second = i + 2
	}
	if second == 0 || !l.stops(second+1) && !l.is(second+1, "do", "years", "who", "make", "respectively") || l.clause(i, Fume|Unit) {
		return false
	}
	return l.is(i-1, "aged", "ages", "age", "are", "all", "both", "just", "me", "were", "theyre", "between", "im", "adults") && !l.is(i-2, "what", "it") ||
		l.at(i-1).Is&Mark != 0 && slices.ContainsFunc(l[:i], func(w Word) bool { return w.Is&(Person|Student|Helper|Grown) != 0 && w.Sentence == l.at(i).Sentence }) && !l.sentence(i, Thing|Gear)
}

// Mixed reports whether two numbers that begin at word i are the ages of those named before
// them, and one of these is under age: my cousins and me, 20 and 13.
func Mixed(l Line, i int) bool {
	a, b := l.at(i), l.at(i+2)
	return a.Is&Number != 0 && l.is(i+1, "and", "n") && b.Is&Number != 0 && l.at(i-1).Is&Mark != 0 && l.stops(i+3) && min(a.Num, b.Num) >= 5 && min(a.Num, b.Num) < Majority && max(a.Num, b.Num) < 100 &&
		!l.sentence(i, Thing|Gear|Unit|Figure) && l.sentence(i-1, Person|Student|Helper|Grown) && l.at(i-1).Sentence == l.at(i).Sentence
}

// JustGrown reports whether the number at word i, which is that of majority, is said to be
// reached: 18 finally; completed 18 last month; bang on eighteen; it was my eighteenth.
func JustGrown(l Line, i int) bool {
	w := l.at(i)
	if w.Is&Number == 0 || w.Num != Majority || l.at(i+1).Is&Unit != 0 && !l.is(i+1, "in") || l.is(i-1, "nearly", "almost", "under", "not", "be", "turning", "turn", "turns", "til", "till", "until", "before", "yet", "quite") || l.pair("not", "yet", "quite") {
		return false
	}
	past := l.is(i+1, "finally", "already", "yesterday", "today") || l.is(i+1, "last", "this") && l.is(i+2, "week", "month", "year", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday") && !l.is(i-1, "hes", "shes", "im", "is", "turns") && l.is(i+1, "last") ||
		l.is(i+1, "birthday") && l.is(i+2, "last", "yesterday", "today") || l.is(i+1, "on") && l.is(i-2, "had") || l.is(i+1, "today")
	return past || l.is(i-1, "completed", "on", "turned", "exactly", "just") && !l.is(i-2, "nearly", "almost", "on", "is") && (l.is(i-1, "completed", "exactly") || l.is(i-1, "turned") || l.is(i-2, "bang")) ||
		l.is(i-1, "my", "his", "her") && l.is(i-2, "was", "had") && !l.is(i-3, "when", "before")
}

// Nearing reports whether the number at word i is an age, majority or less, that somebody
// is about to have: pushing eighteen.
func Nearing(l Line, i int) bool {
	w := l.at(i)
	return w.Is&Number != 0 && w.Num >= 7 && w.Num <= Majority && l.is(i-1, "pushing", "approaching", "rising", "nearing") && l.stops(i+1) && !l.clause(i, Unit|Gear|Figure)
}

// SignsOff reports whether the number at word i stands by itself as the age of whoever
// tells of a trade: fishmonger, 41, makes his own. Asked is set where ages were asked for.
func SignsOff(l Line, i int, asked bool) bool {
	if OfBystander(l, i) || !adultAge(l, i) || l.at(i).Num <= Majority || l.at(i-1).Is&Mark == 0 || l.at(i+1).Is&Mark == 0 || l.is(i-1, "(", ":", "-") {
		return false
	}
	if asked {
		return i > 0 && !l.has(Unit|Figure)
	}
	for j := i + 2; j < i+5 && l.at(j).Is&Mark == 0; j++ {
		if l.at(j).Is&Trade != 0 {
			return true
		}
	}
	for j := i - 2; j > i-8 && l.at(j).Is&Mark == 0; j-- {
		if l.at(j).Is&(Trade|Thing|Unit|Gear) != 0 {
			return l.at(j).Is&Trade != 0 && l.at(j).Is&Thing == 0
		}
	}
	return false
}
