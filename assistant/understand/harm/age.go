package harm

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/role"
)

// ages reads how old the people of a line are.
type ages struct{ *line }

// majority is the age from which one answers for oneself.
const majority = role.Majority

// age reads whether somebody is under age.
func (l ages) age() *Fact {
	f := &finding{path: Minor}
	if l.asked == Minor {
		l.answerAge(f)
	}
	for i := range l.tokens {
		l.ageAt(i, f)
		l.birthday(i, f)
		l.schoolYear(i, f)
		if l.decade(i) {
			l.sayAge(i, i+1, false, f)
		}
	}
	for _, s := range l.spans {
		l.youngAt(s, f)
	}
	if f.careful == nil && f.careless == nil && l.has(helper) && l.asked != Supervised { // my dad helps me
		for _, s := range l.spans {
			if s.class&helper != 0 && l.at(s.from).class&grown == 0 && l.inSentence(s.from, beside|away|supervise) &&
				(l.is(s.from-1, "my", "me", "mi", "meine", "with", "and", "n") || l.at(s.from-1).mark && l.inClause(s.from, person)) && !l.is(s.to, "has", "is allergic", "had") && !l.is(s.from-1, "old") {
				f.touch(l.line, s.from, s.to, false)
			}
		}
	}
	if f.result() == nil && role.AtUni(l.roles(), l.question) || role.GrownMake(l.roles()) {
		f.careful, f.doubt, f.faint = nil, nil, nil
		f.add(l.line, false, false, 0, len(l.tokens)-1)
	}
	fact := f.result()
	if fact != nil && fact.Value && (role.OwnWork(l.roles()) || role.OnlyPlays(l.roles())) { // I make them for my son
		fact.Doubt, fact.Faint = true, true
	}
	return fact
}

// answerAge reads a bare yes, no or number as the answer.
func (l ages) answerAge(f *finding) {
	switch first := l.at(0); {
	case first.isNum && !first.ordinal && (l.at(1).mark || l.is(1, "and", "but", "years", "yo", "so", "here", "now")):
		f.add(l.line, first.num < majority, false, 0, 1)
	case l.saysNo() && (l.at(1).mark || !l.has(allergy|reaction|latex|rubber|fume|glue) || l.has(young|kin|pupil|student|grown)): // and not: no allergies, no trouble with latex
		f.add(l.line, false, false, 0, 1)
	case l.saysYes():
		if !l.roles().Adult() || l.has(young|kin|pupil|student|school) { // and not: yes, I'm an adult
			f.add(l.line, true, false, 0, 1)
		}
	case role.SomeOf(l.roles()): // two of the eight
		f.add(l.line, true, false, 0, 1)
	case l.is(0, "not", "just") && l.is(1, "me", "sure", "really"):
		if l.is(1, "sure") {
			f.add(l.line, true, true, 0, 2)
		}
	}
}

// past reports whether token i is in a clause about how things once were.
func (l ages) past(i int) bool {
	if l.is(i-1, "im", "am") { // I was 12 and now I'm 13
		return false
	}
	return slices.ContainsFunc(l.spans, func(s span) bool {
		return s.class&once != 0 && l.at(s.from).clause == l.at(i).clause && s.from < i+3
	}) || l.was(i-1) || l.was(i-2) && !l.is(i-1, "he", "she") && !(l.is(i-1, "both", "all", "only") && !l.is(i-3, "we", "they", "who", "you"))
}

// was reports whether token i is a was or were, not a we're.
func (l ages) was(i int) bool { return l.is(i, "was", "were") && !role.WeAre(l.roles(), i) }

// ageAt reads a number that is an age.
func (l ages) ageAt(i int, f *finding) {
	t := l.at(i)
	if role.BornLong(l.roles(), i) {
		f.add(l.line, false, false, i, i)
	}
	if !t.isNum || t.ordinal || t.num < 2 || t.num > 110 || l.grouped(i) || role.NoAge(l.roles(), i) {
		return
	}
	if l.limit(i, f) || l.is(i+2, "older", "younger") || l.is(i+3, "older", "younger") && l.is(i+2, "years") {
		return
	}
	underage := t.num < majority
	if who := l.roles(); role.AllOver(who, i) || role.JustGrown(who, i) || role.SignsOff(who, i, l.asked == Minor) && !strings.HasPrefix(l.asked, "want.") {
		f.add(l.line, false, false, i, i)
		return
	} else if mixed := role.Mixed(who, i); mixed || role.Nearing(who, i) {
		f.add(l.line, true, mixed, i, i)
		return
	}
	switch least := l.roles().LeastAge(i); {
	case least && underage:
		f.touch(l.line, i, i, false)
		return
	case least || l.roles().AtAge(i):
		f.add(l.line, false, false, i, i)
		return
	}
	if !underage && !strings.HasPrefix(l.asked, "want.") && role.AdultRange(l.roles(), i) && !role.Measured(l.roles(), i) {
		f.add(l.line, false, false, i, i) // all leaders, thirty to sixty
		return
	}
	if up := role.UpFrom(l.roles(), i); up > 0 { // from 17 to retired, from eighteen upward
		f.add(l.line, underage, false, i, up)
		return
	}
	if l.past(i) || l.is(i-1, "since", "for", "over") && l.is(i+1, "years", "year", "yrs") && !l.is(i+2, "old") {
		return
	}
	end := i + 1
	if l.is(end, "1") && l.at(end+1).text == "/" || l.is(end, "and") && l.is(end+1, "a", "three") && l.is(end+2, "half", "quarter", "quarters") {
		end += 3
	}
	if l.is(end, "1") && !l.at(end).isNum { // 11 1/2
		end++
	}
	second := end // 8 to 11
	if to := l.roles().Range(i); to > 0 && underage && (l.asked == Minor || l.hasWord("mixed", "ages", "aged") || l.inSentence(i, gear|partly) && l.hasWord("group", "class", "ensemble", "choir", "band", "club", "members", "us", "people")) && !l.at(to).hasUnit() {
		f.add(l.line, true, false, i, to-1) // a mixed group, 12 to 60
		return
	}
	if (l.is(end, "to", "or", "and", "through", "-")) && l.at(end+1).isNum {
		second = end + 2
	} else if l.at(end).isNum && !l.at(end).ordinal && l.at(end).num > t.num && l.at(end).num < 20 { // 8-12
		second = end + 1
	}
	switch {
	case l.is(i-1, "under", "below", "u") && (t.num == majority || t.num == 16 || t.num == 21 || l.is(i-1, "u") && t.num >= 8 || strings.HasSuffix(t.text, "s") || l.is(end, "years", "year", "s")) && !l.at(end).hasUnit():
		if t.num == majority && (l.denied(i-1) || l.is(i-2, "not", "no", "nobody")) {
			f.add(l.line, false, false, i-1, i)
		} else if t.num <= majority {
			if role.General(l.roles(), i, l.asks(i)) {
				f.touch(l.line, i-1, i, false)
			} else {
				f.add(l.line, true, false, i-1, i)
			}
		}
		return
	case l.is(i-1, "over", "above", "past") && l.at(i-2).hasUnit() && !l.is(i-2, "year", "years", "yrs", "month", "months"): // not a gram past 20
		return
	case l.is(i-1, "over", "above", "past") && t.num >= majority && t.num < 100 && !l.at(end).hasUnit() &&
		(t.num <= 21 && !l.is(end, "of") && !role.Counted(l.roles(), i) || l.ends(end) && (l.is(i-2, "all", "both", "well", "way", "is", "are", "im", "am", "everyone", "everybody", "now", "were", "just", "residents", "people", "members", "adults", "players", "ladies", "men", "women", "folk", "folks", "participants", "singers", "pensioners") || l.is(i-2, "bit") && l.inClause(i, person))):
		if l.denied(i-1) || l.is(i-2, "not", "isnt", "arent", "just") {
			f.add(l.line, true, false, i-1, i)
		} else {
			f.add(l.line, false, false, i-1, i)
		}
		return
	case t.num == majority && !l.sized(end) && (l.is(i-1, "turn", "turning", "turnin", "turns", "be", "nearly", "bout", "almost", "til", "till", "until") || l.is(i-1, "yet", "quite") && (l.denied(i) || l.is(i-2, "not"))):
		if l.is(i-1, "be") && l.question(i) { // do I have to be 18?
			f.touch(l.line, i-1, i, false)
			return
		}
		f.add(l.line, true, false, i-1, i)
		return
	}
	oldAt := second
	if y := l.at(oldAt).text; y[0] == 'y' && len(y) < 6 && l.is(oldAt+1, "old", "olds") { // ten-yer-old
		l.tokens[oldAt].text = "year"
	}
	if l.is(oldAt, "years", "year", "yrs", "yr", "yo", "yos", "y", "anni", "ans", "jahre", "anos", "años", "jahren", "letnia", "lat", "år", "jaar", "roku") {
		named := l.is(oldAt, "yo", "yos") || l.is(oldAt, "y") && l.is(oldAt+1, "o") || l.is(oldAt+1, "old", "olds", "of", "alt", "young") && !l.is(oldAt+2, "experience", "playing", "teaching", "making", "practice", "study") ||
			l.is(oldAt, "ans", "anni", "anos", "años", "jahre", "år", "jaar")
		have := l.is(i-1, "have", "has", "having", "got") && !l.is(oldAt+1, "of", "experience", "in", "playing", "teaching", "making", "under", "behind", "left")
		am := l.is(i-1, "of") && l.is(i-2, "adult", "person", "man", "woman", "lady", "boy", "girl", "child") || l.is(i-1, "im", "am", "is", "are", "hes", "shes", "theyre", "turned", "aged", "only", "just") && !l.is(oldAt+1, "of", "in", "into", "experience")
		if !named && !have && !am {
			if l.bare(i, oldAt+1) && l.asked == "" {
				f.add(l.line, underage, underage && !l.is(oldAt+2, "male", "female", "m", "f"), i, oldAt)
			}
			return
		}
		if l.ofThing(i, oldAt+2) || l.is(i-1, "a", "any") && l.is(oldAt+2, "could", "can", "would") && l.hasWord("easy", "simple", "even", "so") {
			return // so easy a ten year old could do it
		}
		l.sayAge(i, second, underage, f)
		return
	}
	if role.Told(l.roles(), i, second) {
		l.sayAge(i, second, underage, f)
		return
	}
	next := l.at(end)
	if l.is(end, "f", "m") && next.from == t.to && t.num >= 5 && (i == 0 || l.at(i-1).mark || l.is(i-1, "im", "am", "i", "a")) && l.ends(end+1) { // 13F
		f.add(l.line, underage, underage && l.is(end, "m"), i, end)
		return
	}
	if l.is(end, "in") && l.calendar(end+1) { // 16 in the summer, no inches
		next = token{text: "."}
	}
	if next.hasUnit() || next.isNum && !next.ordinal && second == end {
		return
	}
	before := l.at(i - 1)
	switch {
	case underage && t.num >= 5 && l.ends(second) && l.is(i-1, "is", "turns") && l.at(i-2).class&(thing|gear|figure) == 0 && l.capital(i-2) && i > 2 && !strings.HasPrefix(l.asked, "want."): // only Ben is 16
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "aged", "ages", "age", "geb") && !l.is(i-2, "at", "since", "from"):
		l.sayAge(i, second, underage, f)
	case l.is(i-1, ":", "-", "=") && (l.is(i-2, "age", "aged", "ages") || t.num >= 5 && l.is(i-2, "me", "maker")) && l.ends(second): // age: 14
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "nearly", "almost", "barely") && (i == 1 || l.at(i-2).mark) && t.num >= 5 && l.ends(second) && !strings.HasPrefix(l.asked, "want."): // nearly 17, does that matter
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "both") && l.ends(second) && l.inSentence(i, person) && t.num >= 5 && !strings.HasPrefix(l.asked, "want."): // my boyfriend and I, both 15
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "gone") && l.is(i-2, "just", "only", "ive", "shes", "hes") && l.ends(second) && t.num >= 3 && // she's just gone seven
		!(l.is(i-3, "its", "it", "has") && !l.is(i-4, "he", "she")) && (l.asked == Minor || l.inClause(i, person|young|kin|pupil|student)):
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "at") && l.is(i-2, "aged"):
	case l.is(i-1, "turns", "turned", "turning", "is") && l.at(i-2).class&thing != 0 && !l.is(i-2, "it", "its") || l.is(i-2, "make", "makes") && l.is(i-1, "me", "us", "him", "her"): // my marimba turns 10
	case l.is(i-1, "turns", "turning", "turned", "turn") && l.is(end, "in", "this", "next", "on", "today", "tomorrow", "last", "over", "during", "before", "after", "yesterday", "recently", "just", "back"):
		l.sayAge(i, second, underage, f)
	case l.ends(second) && l.is(i-1, "bin", "ist", "im", "am", "me", "hes", "shes", "turning", "turned", "turn", "turns", "just", "only", "nearly", "almost", "theyre", "are", "is", "m"):
		if !l.person(i) || l.is(i-1, "me") && !role.MeAlone(l.roles(), i-1) {
			return
		}
		l.sayAge(i, second, underage, f)
	case l.ends(second) && (l.at(i-1).mark || l.is(i-1, "of")) && (l.at(l.back(i)).class&(young|kin|pupil|student) != 0 || l.at(l.back(i)).class&grown != 0 && !l.is(l.back(i), "grandfather", "grandmother", "father", "mother")):
		l.sayAge(i, second, underage, f)
	case before.class&(young|kin) != 0 && l.ends(second):
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "?") && l.at(second).mark && t.num >= 5 && l.is(i-2, "me", "us", "him", "her", "age", "old"): // me? 13
		l.sayAge(i, second, underage, f)
	case l.is(i-1, ",") && l.at(second).mark && t.num >= 5 && t.num < 100 && role.YoungBefore(l.roles(), i):
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "(") && l.is(second, ")") && t.num >= 3 && (underage || l.is(i-2, "i", "me", "myself")) && l.at(i-2).class&(person|young|kin|pupil|student) != 0 && !l.at(i-2).mark: // my cousin (7)
		l.sayAge(i, second, underage, f)
	case l.is(i-1, ",") && l.is(i-2, "i", "me", "myself") && l.is(i-3, "(") && l.is(second, ")"): // (me, seventy-three)
		l.sayAge(i, second, underage, f)
	case underage && l.asked == Minor && t.num >= 5 && l.at(second).mark && l.is(i-1, "a", "young", "tall", "big", "mature", "old", "grown", "strapping", "sensible"): // do you count a tall fifteen
		f.add(l.line, true, true, i, i)
	case l.ends(second) && l.is(i-1, "tengo", "tenho") && (l.asked == Minor || l.has(grown)):
		l.sayAge(i, second, underage, f)
	case l.ends(second) && t.num >= 4 && role.Lives(l.roles(), i):
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "im", "hes", "shes", "theyre", "ur", "youre", "yr") && t.num >= 5 && next.class&thing == 0 &&
		!l.is(second, "out", "short", "behind", "down", "away", "off", "over", "stone", "into", "deep", "up", "more", "less", "th", "per", "of", "and", "months", "weeks"): // im eleven an mums out
		l.sayAge(i, second, underage, f)
	case l.is(i-1, "ur", "youre", "yr") && t.num >= 5 && t.num < 100 && next.class&thing == 0 && l.is(second, "and", "n", "but", "an"): // if ur 15 and ur parents r out
		l.sayAge(i, second, underage, f)
	case t.num >= majority && t.num < 100 && l.is(i-1, "at") && (l.at(i-2).mark && l.is(i-3, "i", "im", "me") || l.is(i-2, "i", "im", "me", "and")) && l.ends(second): // while I, at 78, look on
		l.sayAge(i, second, underage, f)
	case before.mark && l.at(second).mark && t.num >= majority && t.num < 100 && (role.Introduced(l.roles(), i) || role.Introduces(l.roles(), i-2)):
		l.sayAge(i, second, false, f)
	case before.mark && l.at(second).mark && t.num >= 5 && t.num < 100 && (l.is(i-3, "im", "am") || l.is(i-2, "here") && l.at(i-4).mark) && l.at(i-2).class&thing == 0: // I'm Priya, 12, Leo here, 9
		l.sayAge(i, second, underage, f)
	case before.mark && t.num >= 5 && t.num < 100 && l.is(second, "if") && l.is(second+2, "matters", "helps", "counts"): // 16 if that matters
		l.sayAge(i, second, underage, f)
	case i == 0 && t.num >= majority && t.num < 100 && l.is(second, "and", "but") && l.is(second+1, "still", "never", "retired", "new", "only", "just", "learning", "not", "counting", "proud"): // 68 and still learning
		l.sayAge(i, second, false, f)
	case (before.mark || i == 0) && l.endsHard(second) && t.num >= 5 && t.num < 90 && l.otherSigns(i) && (l.asked == "" || !strings.HasPrefix(l.asked, "want.")):
		l.sayAge(i, second, underage, f)
	}
}

// bare reports whether the years at token i stand alone in their clause, or
// beside a word for a boy or a girl: 14 yrs, male.
func (l ages) bare(i, end int) bool {
	return (i == 0 || l.at(i-1).mark) && (l.at(end).mark || l.at(end).class&young != 0 || l.is(end, "male", "female", "m", "f"))
}

// sayAge takes the age at i, of the group or of an adult beside it.
func (l ages) sayAge(i, end int, young bool, f *finding) {
	if young && role.OfPassing(l.roles(), i) || young && role.IfAsked(l.roles(), i) && l.question(i) {
		f.touch(l.line, i, end-1, l.asked != Minor)
		return
	}
	doubt := false
	if l.doubted(i) && !l.is(i-1, "im", "am") {
		doubt = young
	}
	if !young && (!l.ownAge(i) || role.Measured(l.roles(), i) || l.roles().OfOther(i) || l.asked != Minor && role.OfBystander(l.roles(), i)) {
		return // how old a helper is says nothing of the maker, nor does a limit
	}
	if young && l.at(i-1).class&not != 0 {
		return // not 13, 31
	}
	if young && l.question(i) && !l.roles().Somebody(i) && l.is(i-1, "a", "an", "any") { // should a 10 year old drill?
		f.touch(l.line, i, end-1, false)
		return
	}
	doubt = doubt || young && !l.ownAge(i) && l.aside()
	if doubt && !l.has(iffy) && !l.aside() {
		doubt = false
	}
	f.add(l.line, young, doubt, i, end-1)
}

// ownAge reports whether the age at i is of the speaker or of all.
func (l ages) ownAge(i int) bool {
	for j := i - 1; j >= i-6 && l.at(j).sentence == l.at(i).sentence; j-- {
		t := l.at(j)
		if t.class&(helper|kin|young) != 0 && t.class&grown == 0 || l.roles().Another(j) {
			return false
		}
		if l.is(j, "i", "we", "both", "all", "im") {
			break
		}
		if t.mark {
			break
		}
	}
	return true
}

// person reports whether the subject before token i is somebody: not "it is 12".
func (l ages) person(i int) bool {
	if l.is(i-1, "bin", "im", "am", "me", "hes", "shes", "turning", "turned", "turns", "m") {
		return true
	}
	for j := i - 1; j >= i-5; j-- {
		t := l.at(j)
		if t.mark && j < i-1 || t.clause < 0 {
			break
		}
		if t.class&thing != 0 && !l.is(j, "it", "its") {
			return false
		}
		if l.at(i).num >= majority && l.is(j, "my", "our", "his", "her", "their", "your") && !l.capital(j+1) { // my savings are 80
			continue
		}
		if t.class&(person|young|kin|pupil|student|helper) != 0 {
			return true
		}
	}
	return false
}

// back returns the token before i past one mark, an "is" or an "of".
func (l ages) back(i int) int {
	j := i - 1
	for k := 0; k < 2 && (l.at(j).mark || l.is(j, "is", "of", "are", "whos", "who")); k++ {
		j--
	}
	return j
}

func (t token) hasUnit() bool { return t.class&unit != 0 }

// ends reports whether what a number at token i-1 says is complete.
func (l ages) ends(i int) bool {
	return l.at(i).mark || l.is(i, "and", "but", "so", "or", "with", "next", "this", "who", "now", "too", "lol", "haha", "if", "because",
		"cos", "making", "my", "i", "we", "home", "then", "btw", "tho", "though", "going", "at", "in", "today", "years", "yrs", "yo", "year",
		"yesterday", "tomorrow", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", "soon", "already", "still", "is", "she", "he", "they", "want", "wanna", "not", "just", "im", "basically", "n", "when", "on", "wrists", "und", "et", "y", "och", "og", "aber", "pero", "mais")
}

// endsHard is ends without words that may go on with a size.
func (l ages) endsHard(i int) bool {
	return l.at(i).mark || l.is(i, "and", "but", "here", "so", "btw", "years", "lol", "turning", "im", "going", "n") && !l.at(i+1).isNum || l.is(i, "next", "this") && l.is(i+1, "week", "month", "birthday", "year", "summer")
}

// otherSigns reports whether the line speaks of harm otherwise, so that a bare
// number may be an age.
func (l ages) otherSigns(i int) bool {
	return l.asked == Minor && l.at(i-1).mark || l.has(alone|helper|latex|allergy|lungs|young|school|fume) || l.is(i+1, "here", "turning", "going") || l.is(i+1, "next", "this") && l.is(i+2, "week", "month", "birthday") || l.is(i+2, "turning", "going", "almost")
}

// youngAt reads a word for somebody young, or for an adult.
func (l ages) youngAt(s span, f *finding) {
	i := s.from
	switch {
	case l.past(i):
		return
	case s.class&(grown|elder) != 0:
		if l.grownUp(s) {
			f.add(l.line, false, false, i, s.to-1)
		}
		return
	case s.class&school != 0:
		switch {
		case l.inClause(i, college|uni) && !l.is(s.to, "students"):
			return
		case role.Lends(l.roles(), s.to):
			f.touch(l.line, i, s.to-1, true)
			return
		case l.is(i-1, "after") && l.is(s.to, "ended") || l.roles().LongAgo(s.to):
			if l.is(l.roles().First(i)-1, "sat", "left", "finished", "did", "took", "passed", "from") && role.Own(l.roles(), i) {
				f.add(l.line, false, false, i, s.to-1) // we sat our A levels in 1979
			}
			return
		case l.is(i-1, "since") || l.roles().Formerly(i):
			f.touch(l.line, i, s.to-1, true)
			return
		case l.is(s.to, "teacher", "director", "teachers") && l.roles().ForSelf() && !l.has(young|pupil|kin):
			return // by trade, and not at work
		case l.is(s.to, "teacher", "director", "teachers") && !l.inSentence(i, young|pupil|student):
			f.add(l.line, true, true, i, s.to-1)
			return
		}
		if l.inGeneral(i) {
			f.touch(l.line, i, s.to-1, false)
			return
		}
		f.add(l.line, true, l.supposed(i) || role.LooseSchool(l.roles(), s.from, s.to), i, s.to-1)
	case s.class&(young|pupil) != 0:
		if role.KeptOff(l.roles(), i, s.to) || l.asked == Minor && l.roles().Asked(i) && l.hasWord("question", "questions") { // no kids with the glue
			f.touch(l.line, i, s.to-1, true)
			return
		}
		if role.Aside(l.roles(), i, s.to) {
			f.touch(l.line, i, s.to-1, true)
			return
		}
		if role.NoneSuch(l.roles(), s.to) || l.is(i-1, "no", "without", "zero") && !l.at(s.to-1).short || l.is(i-1, "any") && l.denied(i) {
			f.add(l.line, false, false, i-1, s.to-1)
			return
		}
		if role.NotFor(l.roles(), i) || f.careless != nil && l.is(s.to-1, "troop", "troops") && l.hasWord("leaders", "parents", "adults") {
			return
		}
		if l.is(i, "child") && l.is(i-1, "with") && l.is(i-2, "is", "am", "im", "shes") { // expecting one
			return
		}
		if l.is(i, "under", "underage", "minors") && role.NoneBefore(l.roles(), i) && l.is(i-1, "nobody", "noone", "one", "none", "is", "us", "here", "no") { // nobody under age
			f.add(l.line, false, false, i-1, s.to-1)
			return
		}
		if l.is(i-1, "a", "an") && l.is(i-2, "not", "isnt", "arent", "longer", "hardly", "aint") || l.is(i-1, "longer") && l.is(i-2, "no") {
			return
		}
		if l.nearGrown(s) || l.agedAdult(s) {
			if l.asked == Minor || l.roles().Part(i, s.to) == role.Takes { // and not: my physio, lovely girl, 26
				f.add(l.line, false, false, i, s.to)
			}
			return
		}
		if l.stays(s) && f.careless != nil || l.jokes(s) || role.Gives(l.roles(), s.from, s.to) || l.is(s.to-1, "freshman", "freshmen", "sophomore", "sophomores", "junior", "juniors", "senior", "seniors") && l.inClause(i, college|uni) || l.namedAdult(s) {
			return
		}
		if f.careless != nil && l.is(s.to-1, "centre", "center", "club", "hostel", "theatre") { // a group of 19 and up, at the youth centre
			return
		}
		if l.mentioned(s, f) {
			return
		}
		if l.inGeneral(i) {
			f.touch(l.line, i, s.to-1, false)
			return
		}
		f.add(l.line, true, l.supposed(i) || l.aside() || role.Opines(l.roles(), s.to) || l.inClause(i, college|uni) && l.is(s.to, "are", "is", "at", "off") || l.doubted(i) && !l.is(i-1, "my", "the", "our") && l.is(i-1, "a", "any"), i, s.to-1)
	case s.class&kin != 0 && role.InLaw(l.roles(), s.to):
	case s.class&kin != 0:
		if l.is(s.to, "of") && l.is(s.to+1, "us") && l.agedAdult(s) { // the youngest of us is 44
			f.add(l.line, false, false, i, s.to+1)
			return
		}
		if role.InTrade(l.roles(), s.to) { // my daughter who is a surgeon
			f.touch(l.line, i, s.to-1, true)
			return
		}
		if l.stays(s) && f.careless != nil || l.nearGrown(s) || l.agedAdult(s) || role.Gives(l.roles(), s.from, s.to) || l.inClause(i, college|uni) || l.namedAdult(s) {
			return
		}
		if l.inSentence(i, college|uni) { // my niece wants a pair, she studies medicine
			f.touch(l.line, i, s.to-1, false)
			return
		}
		if l.mentioned(s, f) {
			return
		}
		f.add(l.line, true, l.aside() || role.Opines(l.roles(), s.to), i, s.to-1)
	case s.class&student != 0 && (l.agedAdult(s) || l.nearGrown(s)):
		f.add(l.line, false, false, i, s.to-1)
	case s.class&student != 0 && !l.inSentence(i, college|uni|grown) && !strings.Contains(strings.ToLower(l.text), "adult people"):
		f.touch(l.line, i, s.to-1, false)
	}
}

// mentioned takes the young of the span where they are only mentioned: it isn't
// said that they make, hold or play, nor outright that they are under age.
func (l ages) mentioned(s span, f *finding) bool {
	if part := l.roles().Part(s.from, s.to); l.asked == Minor && (part == role.Passing || part == role.Unsaid && l.at(s.from-1).class&person == 0) && !l.is(s.from, "is", "are") {
		f.touch(l.line, s.from, s.to-1, false)
		return true
	}
	if l.asked == Minor || l.is(s.from, "im", "am", "is", "are", "not", "minderjährig", "minderjaehrig", "mineur", "mineure", "menor", "minorenne", "minors", "underage", "under", "nearly", "almost") {
		return false
	}
	part := l.roles().Part(s.from, s.to)
	if part != role.Takes {
		f.touch(l.line, s.from, s.to-1, part == role.Passing)
	}
	return part != role.Takes
}

// supposed reports whether the young of token i are asked about in general: is
// it safe for a child? Whose child is named is somebody in the room.
func (l ages) supposed(i int) bool {
	return l.question(i) && !l.is(i-1, "my", "our", "his", "her", "im", "am", "meine", "mein", "these", "this", "the", "those", "some") && !l.is(i, "my", "our", "im") && !l.is(i-2, "my", "our", "im", "am")
}

// inGeneral reports whether the very clause of token i asks about such young.
func (l ages) inGeneral(i int) bool {
	return l.supposed(i) && l.asks(i) || role.Elsewheres(l.roles(), i) && (l.question(i) || l.roles().Inquires(i))
}

// nearGrown reports whether a child of the span is said to be grown: my kids
// are grown and gone, my adult son.
func (l ages) nearGrown(s span) bool {
	if l.is(s.from-1, "grown", "adult", "grownup", "married") {
		return true
	}
	for j := s.to; j < s.to+4 && !l.at(j).mark; j++ {
		if l.is(j, "grown", "adults", "married") || l.is(j, "adult") && !l.is(j+1, "supervises", "helps", "will") {
			return !l.is(s.to, "and", "with")
		}
		if l.hasLong(j, grown) { // my kids have long since left home
			return true
		}
	}
	return false
}

// agedAdult reports whether an age past majority is given of the span: my
// daughter is 24.
func (l ages) agedAdult(s span) bool {
	for j := s.to; j < s.to+6; j++ {
		t := l.at(j)
		if l.decade(j) {
			return true
		}
		if t.isNum && !t.ordinal && t.num >= majority && t.num < 100 && !l.at(j+1).hasUnit() && !(l.is(s.to-1, "class", "classes") && (l.is(s.to, "of") || l.at(s.to).mark)) && (l.ends(j+1) || l.is(j+1, "years")) {
			return true
		}
		if t.mark && t.text != "," && t.text != "(" || t.isNum || t.class&gear == 0 &&
			!t.mark && !l.is(j, "is", "are", "who", "whos", "now", "aged", "both", "all", "turned", "hes", "shes", "he", "she", "theyre", "already", "just", "over", "about", "age", "at", "i", "should", "say", "and", "of", "mine", "ages", "us", "in", "the", "band", "group", "their", "his", "her", "my", "early", "mid", "late", "member", "player", "one", "here", "turning", "past") {
			break
		}
	}
	return role.LaterAdult(l.roles(), s.to)
}
