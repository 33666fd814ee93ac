package harm

// Numbers that are the ages of things, times of the year, or no ages at all.

// ofThing reports whether the age at token i is of a thing: my mallets are 12
// years old, a 10 year old marimba.
func (l ages) ofThing(i, after int) bool {
	if l.is(i+2, "olds") || l.is(i+1, "yos") {
		return false
	}
	if l.at(after).class&thing != 0 && l.at(after).clause == l.at(i).clause {
		return true
	}
	if (l.is(after, "old") || !l.at(after).mark && l.at(after).class&(person|young|kin|pupil|student) == 0 && l.is(after, "rosewood", "padauk", "wooden", "metal", "steel", "brass", "second", "secondhand", "school", "student", "concert")) && l.at(after+1).class&thing != 0 {
		return true
	}
	for j := i - 1; j >= i-6; j-- {
		t := l.at(j)
		if t.mark || t.clause != l.at(i).clause || l.is(j, "and") {
			break
		}
		if l.at(j).class&owns != 0 && l.is(j-1, "i", "we", "ive", "weve") { // the tubing I have is 6 years old
			j--
			continue
		}
		if t.class&(young|kin|pupil|student|helper) != 0 || l.is(j, "im", "he", "she", "i", "hes", "shes", "a", "an", "for", "my", "our", "her", "his", "their", "who") {
			return false
		}
		if t.class&thing != 0 {
			return true
		}
	}
	return false
}

// grouped reports whether the number at token i is one of the groups of digits of a
// larger one: 30,000.
func (l ages) grouped(i int) bool {
	group := func(i int) bool {
		a, b, c := l.at(i), l.at(i+1), l.at(i+2)
		return a.isNum && b.text == "," && a.to == b.from && b.to == c.from && c.isNum && c.to-c.from == 3
	}
	return group(i) || group(i-2)
}

// calendar reports whether a time of the year or of school stands at token i.
func (l ages) calendar(i int) bool {
	if l.is(i, "the", "a", "two", "three", "this", "my") {
		i++
		if l.is(i, "few", "couple") {
			i++
		}
	}
	return l.at(i).class&calendar != 0 || l.at(i).isNum && l.is(i+1, "months", "month", "weeks", "week", "days")
}
