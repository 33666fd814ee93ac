package role

// Who is taken out of a group.

// Out returns how many words that take somebody out of a group begin at token
// i: but, bar, apart from.
func Out(l Line, i int) int {
	switch {
	case l.is(i, "but", "bar", "except", "save", "minus", "excepting", "barring", "excluding", "besides"):
		return 1
	case l.is(i, "apart", "aside", "other") && l.is(i+1, "from", "than"):
		return 2
	}
	return 0
}

// Of reports whether a word for the whole of a group stands before word i: all
// of us but one.
func Of(l Line, i int) bool {
	for l.is(i-1, "us", "them", "class", "group", "band", "of", "the", "my", "our") || l.at(i-1).Is&(Young|Student) != 0 {
		i--
	}
	return l.is(i-1, "all", "everyone", "everybody", "anyone", "anybody", "nobody", "noone", "none", "every", "each") || l.is(i-1, "one") && l.is(i-2, "no", "every", "any")
}

// NoneBefore reports whether the clause says, before word i, that there is none such:
// none of us, nobody.
func NoneBefore(l Line, i int) bool {
	for j := i - 1; j >= 0 && l.at(j).Clause == l.at(i).Clause; j-- {
		if l.is(j, "nobody", "none", "noone", "nobodys", "neither", "no", "soul") {
			return true
		}
	}
	return false
}
