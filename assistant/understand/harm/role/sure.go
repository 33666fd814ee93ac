package role

// How surely and how strongly something is said.

// KnownOf reports whether the clause says "that I know of", "known".
func KnownOf(l Line, i int) bool {
	for j := max(0, i-6); j < i+8; j++ {
		if l.is(j, "know", "knowledge", "aware", "known", "heard") && l.at(j).Sentence == l.at(i).Sentence {
			return true
		}
	}
	return false
}

// Firm reports whether the doubt before word i is of something else: I don't
// think it matters but I am allergic.
func Firm(l Line, i int) bool {
	return (l.is(i-1, "im", "am", "is", "shes", "hes") || l.is(i-2, "im", "am")) && !l.is(i-2, "if", "whether", "sure", "think", "maybe") && !l.is(i-3, "if", "whether", "sure", "think") && !l.is(i-4, "if", "sure", "whether", "think")
}

// Bears reports whether touch, wear or the like stands in words from..to:
// who may not use rubber may only have none.
func Bears(l Line, from, to int) bool {
	for j := from; j < to; j++ {
		if l.is(j, "touch", "touches", "wear", "wears", "handle", "handles", "tolerate", "tolerates", "stand", "near", "around", "bear", "hold", "contact", "take", "cope") {
			return true
		}
	}
	return false
}

// Badly reports whether a word like bad stands in the clause of word i.
func Badly(l Line, i int) bool {
	for j := i; j < i+6; j++ {
		if l.is(j, "bad", "badly", "not", "poorly") {
			return true
		}
	}
	return false
}

// Anything reports whether words from i say anything but something: allergic to
// anything except cats.
func Anything(l Line, i int) bool {
	any := false
	for j := i; j < i+7 && l.at(j).Sentence == l.at(i).Sentence; j++ {
		any = any || l.is(j, "anything")
		if any && l.is(j, "except", "xcept", "but", "bar", "besides") && l.at(j+1).Is&(Person|Fume) == 0 {
			return true
		}
	}
	return false
}

// Near reports whether words from i say that something is to be kept off somebody: near
// me, anywhere near her, on my hands.
func Near(l Line, i int) bool {
	for j := i; j < i+5 && l.at(j).Clause == l.at(i).Clause; j++ {
		if l.is(j, "near", "around", "touching") && l.is(j+1, "me", "him", "her", "us", "them", "my") {
			return true
		}
	}
	return false
}
