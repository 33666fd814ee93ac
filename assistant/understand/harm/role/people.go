package role

// What is said of the young of a line besides their age.

// Opines reports whether somebody named before word i is there only with an opinion
// or a favour: my son drew the plan.
func Opines(l Line, i int) bool {
	return l.is(i, "told", "thinks", "think", "drew", "reckons", "laughs", "hates", "lent", "paid", "pays", "ordered", "sent", "recommended", "suggested", "complains", "complained", "showed", "introduced", "typed", "mocks", "calls")
}

// Gives reports whether words from..to-1 name somebody who only gave a thing:
// calipers my son gave me.
func Gives(l Line, from, to int) bool {
	return l.is(to, "pressed", "spilled", "spilt", "typed", "knocked") || l.is(to, "gave", "bought", "sent", "lent", "left", "got", "made", "found", "printed") && l.is(to+1, "me", "us", "it", "them") ||
		l.is(from-3, "present", "gift", "hand") && l.is(from-2, "from")
}

// InTrade reports whether somebody named before word i is said to have a trade, and so
// is grown: my daughter who is a surgeon, my son the plumber.
func InTrade(l Line, i int) bool {
	for l.is(i, ",", "who", "is", "whos", "works", "as", "a", "an", "the", "now", "also") || l.at(i).Is&Owner != 0 && l.is(i, "whos") {
		i++
	}
	return l.at(i).Is&Trade != 0
}

// NotFor reports whether what is made is said not to be for whom word i names: it
// isn't for kids.
func NotFor(l Line, i int) bool {
	first := l.First(i)
	if l.is(first-1, "not") && l.is(first, "the", "my", "our") && l.at(i+1).Is&Mark != 0 && !l.is(first-2, "why", "if") { // the teachers, not the children
		return true
	}
	return l.is(first-1, "for") && (l.at(first-2).Is&Not != 0 || l.is(first-2, "isnt", "arent", "not", "never"))
}

// KeptOff reports whether those whom words from..to-1 name are only kept off something:
// no kids with the glue; no children near the knife.
func KeptOff(l Line, from, to int) bool {
	return l.is(from-1, "no") && l.is(to, "with", "near", "at", "on", "touching", "using", "handling", "anywhere") && (l.is(to+1, "the", "that", "a", "any", "my", "near") || l.at(to+1).Is&(Fume|Gear) != 0) &&
		!l.is(to+2, "house", "home", "class", "group", "band", "premises", "moment", "time")
}

// Introduces reports whether word i ends a clause that only says who somebody is:
// vibes player, 19.
func Introduces(l Line, i int) bool {
	if !l.is(i, "player", "drummer", "percussionist", "vibraphonist", "marimbist", "xylophonist", "musician", "maker", "student", "undergrad", "teacher", "amateur", "hobbyist", "woman", "man", "guy", "male", "female") {
		return false
	}
	j := i
	for l.at(j-1).Is&Mark == 0 {
		j--
	}
	return i-j < 4
}

// AdultRange reports whether a range of ages that are all past majority begins at word
// i: thirty to sixty, 25 to 70.
func AdultRange(l Line, i int) bool {
	from, to := l.at(i), l.at(i+2)
	if l.is(i-1, "between") && l.is(i+1, "and") && l.is(i-2, "all", "are", "aged", "everyone", "us") && from.Num >= Majority && to.Num > from.Num && to.Num < 100 && l.stops(i+3) && l.at(i+3).Is&Unit == 0 {
		return true // all between 19 and 23
	}
	return from.Num >= Majority && l.is(i+1, "to", "through") && to.Is&Number != 0 && to.Num > from.Num+4 && to.Num < 100 && l.stops(i+3) && l.at(i+3).Is&Unit == 0 &&
		(l.is(i-1, "aged", "ages", "from") && l.sentence(i, Person) || l.at(i-1).Is&Mark != 0 && l.is(i-2, "leaders", "adults", "adult", "parents", "members", "people", "women", "men", "ladies", "teachers", "volunteers", "staff", "players", "us", "grown"))
}

// LooseSchool reports whether words from..to-1 are a word of school that is as often one
// of something else: primary, reception.
func LooseSchool(l Line, from, to int) bool {
	return to-from == 1 && l.is(from, "primary", "elementary", "nursery", "reception", "comprehensive", "secondary") && l.at(to).Is&(Mark|Number|Young|Student|School|Helper) == 0 &&
		!l.is(from-1, "in", "at", "from", "to", "teach", "teaching") && !l.is(to, "and", "music", "band", "class", "kids", "orchestra", "general", "one", "group")
}
