package role

// Whose signs of the body those of a line are, and what is none.

// AtLarge reports whether the sign at word i is that of people in general, or of whoever
// took part in another year: some folks get a rash; last year's class had one.
func AtLarge(l Line, i int) bool {
	earlier := false
	for j := i - 1; j >= 0 && l.at(j).Clause == l.at(i).Clause; j-- {
		switch {
		case l.is(j, "i", "im", "ive", "me", "my", "we", "us", "our", "he", "she", "hes", "shes", "his", "her", "of"):
			return false
		case l.is(j, "people", "folk", "folks", "persons"):
			return l.at(j-1).Is&Number == 0 && !l.is(j-1, "these", "those", "two", "three", "our", "my", "the") && !l.is(j+1, "here", "in", "who")
		}
		earlier = earlier || l.is(j, "last") && l.is(j+1, "years", "terms", "seasons")
	}
	return earlier
}

// NoSkin reports whether words from..to-1, which may be a sign of the body, are none where
// they stand: hives with bees; I hate how rubber looks; the balls swelled; bad for the bars.
func NoSkin(l Line, from, to int) bool {
	switch {
	case l.is(from, "hives"):
		for j := range l {
			if l.is(j, "bee", "bees", "beeswax", "honey", "swarm", "swarms", "apiary", "beekeeper") {
				return true
			}
		}
	case l.is(from, "hate", "hates"):
		return l.is(to, "how", "when", "what", "to", "it", "that")
	case l.is(from, "swell", "swells", "swelled", "swollen", "crack", "cracks", "cracked"):
		return l.at(from-1).Is&Thing != 0 && l.at(from-1).Is&Sign == 0 && !l.clause(from, Person)
	case l.is(from, "bad") && l.is(to-1, "for"):
		for j := to; j < to+3 && l.at(j).Is&Mark == 0; j++ {
			if l.at(j).Is&(Thing|Gear) != 0 || l.is(j, "rosewood", "padauk", "wood", "bars", "wooden", "metal") {
				return true
			}
		}
	}
	return false
}

// NoBirth reports whether words from..to-1 speak of something else than of a child to
// come: expecting wonders; months along with a build; a baby of a vibraphone.
func NoBirth(l Line, from, to int) bool {
	switch {
	case l.is(to-1, "expecting"):
		return l.at(to).Is&(Mark|Young|Person) == 0 && !l.is(to, "a", "and", "but", "in", "again", "twins", "triplets", "our", "my", "this", "so", "soon", "at", "next", "number", "mother", "mum", "mom", "the", "with", "here", "now", "or", "for", "to", "baby", "any") || l.at(to).Is&Number != 0
	case l.is(to-1, "along"):
		return l.is(to, "with") && (l.at(to+1).Is|l.at(to+2).Is|l.at(to+3).Is)&(Thing|Gear|Work) != 0
	case l.is(to-1, "baby"):
		return l.is(to, "of")
	}
	return false
}

// outsider reports whether the sign at word i is somebody's who is not of the house, and of
// whom it is not said that they are there: my teacher has asthma, so choir is off.
func outsider(l Line, i int) bool {
	out := false
	for j, w := range l {
		if w.Sentence != l.at(i).Sentence {
			continue
		}
		if l.is(j, "i", "im", "ive", "me", "we", "us", "here", "with", "around", "help", "helps", "helping", "beside", "room", "workshop", "near", "class", "group") || w.Is&(Gear|Work) != 0 {
			return false
		}
		out = out || j < i && w.Clause == l.at(i).Clause && l.is(j, "teacher", "neighbour", "neighbor", "landlord", "landlady", "boss", "conductor", "postman", "dentist", "ex", "vicar")
	}
	return out
}
