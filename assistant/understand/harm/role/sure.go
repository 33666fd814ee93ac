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

// Beside reports whether words from i say that somebody or somewhere people live
// has it about: who can't have rubber near her, or in the house.
func Beside(l Line, i int) bool {
	for l.is(i, "anywhere", "at", "all", "of", "any", "kind", "sort") {
		i++
	}
	switch {
	case l.is(i, "near", "around", "about", "against", "on"):
		return l.is(i+1, "me", "us", "him", "her", "them", "my", "our", "his", "their", "skin")
	case l.is(i, "in", "inside"):
		return l.is(i+1, "the", "our", "my", "this", "her", "his") && l.is(i+2, "house", "home", "room", "classroom", "flat", "building", "school", "workshop", "ward", "hospital")
	}
	return false
}

// Barred returns the word latex or rubber that nobody of a sentence may touch, -1
// where there is none: nobody in the house may touch rubber.
func Barred(l Line) int {
	for i := range l {
		if !l.is(i, "latex", "rubber", "rubbers") {
			continue
		}
		nobody, may := false, false
		for j := i - 1; j >= 0 && l[j].Is&Mark == 0; j-- {
			switch {
			case l.is(j, "touch", "handle", "wear") && i-j < 4:
				may = l.is(j-1, "may", "can", "should", "must", "could") || l.is(j-1, "to") && l.is(j-2, "allowed")
			case l.is(j, "nobody", "noone") || l.is(j, "none") && l.is(j+1, "of") || l.is(j, "no") && l.is(j+1, "one"):
				nobody = true
			}
		}
		if nobody && may {
			return i
		}
	}
	return -1
}

// BothKinds returns the word rubber of a sentence that shuns it and names both of
// its kinds, natural and synthetic, -1 where there is none. Who shuns one kind alone
// does not shun the other.
func BothKinds(l Line) int {
	for i := range l {
		if !l.is(i, "rubber", "rubbers") {
			continue
		}
		natural, other, shuns := false, false, false
		for j := range l {
			switch {
			case l[j].Sentence != l[i].Sentence:
			case l.is(j, "natural"):
				natural = true
			case l.is(j, "synthetic", "synthetics", "artificial", "manmade") || l.is(j, "man") && l.is(j+1, "made"):
				other = true
			case l[j].Is&Not != 0, l.is(j, "no", "not", "cant", "cannot", "neither", "never", "avoid", "avoids", "away", "off", "out", "without", "allergic", "allergy", "reacts", "react"):
				shuns = true
			case l.is(j, "fine", "ok", "okay", "but", "only", "just", "except", "problem", "problems", "trouble", "issue", "bars", "?") || l.is(j, "can") && l.is(j+1, "handle", "touch", "use", "take", "bear", "stand", "wear"):
				return -1
			}
		}
		if natural && other && shuns {
			return i
		}
	}
	return -1
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
// me, anywhere near her.
func Near(l Line, i int) bool {
	for j := i; j < i+5 && l.at(j).Clause == l.at(i).Clause; j++ {
		if l.is(j, "near", "around", "touching") && l.is(j+1, "me", "him", "her", "us", "them", "my") {
			return true
		}
	}
	return false
}

// Nobody reports whether the line answers that there is none: not a soul, not one of
// us, not to my knowledge.
func Nobody(l Line) bool {
	if !l.is(0, "not") || len(l) > 8 {
		return false
	}
	return l.is(1, "a") && l.is(2, "soul", "single", "one") || l.is(1, "one", "anyone", "anybody") && !l.is(2, "is", "does", "but") || l.is(1, "to") && l.is(2, "my", "our") && l.is(3, "knowledge")
}

// OnlyNatural returns the word of a line that says that it is natural rubber alone which
// somebody can't bear, -1 where there is none: just the tree kind; only the natural stuff.
func OnlyNatural(l Line) int {
	for i := range l {
		if !l.is(i, "natural", "tree", "latex") || !l.is(i+1, "kind", "stuff", "sort", "one", "ones", "type", "rubber") && !(l.is(i+1, "rubber") && l.is(i+2, "kind", "stuff", "sort")) {
			continue
		}
		j := i - 1
		for l.is(j, "the", "that", "from", "real", "milky", "sappy") {
			j--
		}
		if l.is(j, "only", "just", "strictly", "purely", "merely") && !l.is(j-1, "not", "isnt", "have", "got", "use", "using", "want", "buy") && !l.is(i+2, "i", "ive", "we", "left", "here", "please") {
			return i
		}
	}
	return -1
}
