package role

import "slices"

// Whether outside air reaches the place of work: by a window, a door or a fan that is
// open or runs, or because the place has no walls.

// Draught is what words From..To-1 say of the air: that it moves, or does not.
type Draught struct {
	From, To int
	Moves    bool
}

// Draughts returns what a line says of its windows and the like, and of places in the open.
// Asked is set where that was asked: then a place alone is the answer.
func Draughts(l Line, asked bool) []Draught {
	var out []Draught
	for i, w := range l {
		switch {
		case w.Is&Opening != 0 && !Played(l, i, i+1) && !l.is(i+1, "of", "on", "seat", "cleaner", "frame") && !l.is(i-1, "front", "next"):
			if d, ok := opening(l, i, asked); ok {
				out = append(out, d)
			}
		case w.Is&Open != 0 && l.is(i-1, "everything", "all") && (asked || l.is(i-2, "keep", "keeps", "leave", "have")):
			out = append(out, Draught{i - 1, i + 1, true})
		case w.Is&Outdoors != 0 && outdoors(l, i, asked):
			out = append(out, Draught{i, i + 1, !no(l, i)})
		}
	}
	return out
}

// opening reads the state of the window, door or fan at word i: behind it, before it, or by
// the verb that is done to it. With none said, it is only whether there is one.
func opening(l Line, i int, asked bool) (d Draught, ok bool) {
	first := adjectives(l, i)
	for j := i - 6; j < i+8; j++ { // a door to the hallway lets no air in; what once was or would be open is not
		if l.at(j).Sentence == l.at(i).Sentence && l.is(j, "hallway", "corridor", "hall", "landing", "stairwell", "inside", "indoors", "barely", "hardly", "inch", "crack", "used", "would", "if", "unless", "wish", "could", "should", "looks", "faces", "onto", "painting", "picture") {
			return d, false
		}
	}
	fan := l.is(i, "fan", "fans", "extractor", "extraction", "hood", "ventilator", "vent", "vents")
	for j := i + 1; j < i+7 && l.at(j).Sentence == l.at(i).Sentence; j++ {
		switch w := l.at(j); {
		case w.Is&(Open|Shut) != 0 && !(l.is(j, "on", "off", "up", "wide", "out", "down", "running") && l.at(j+1).Is&(Mark|Open|Shut) == 0 && !l.is(j+1, "all", "and", "in", "at", "when", "while", "but", "now", "most")):
			opens := w.Is&Open != 0 && !(fan && l.is(j, "off", "out", "up", "missing"))
			return Draught{first, j + 1, opens != (no(l, first) != nots(l, i+1, j))}, true
		case w.Is&Opening != 0 && !l.is(j-1, "and", "or"), l.is(j, "but", "if", "until", "till") && w.Is&Open == 0:
			j = i + 7
		}
	}
	for j := i - 1; j >= i-5 && j >= 0 && l.at(j).Clause == l.at(i).Clause; j-- {
		switch w := l.at(j); {
		case w.Is&(Open|Shut) != 0 && !l.is(j, "on", "off", "up", "out", "going", "wide") && (j >= first || l.is(j, "open", "opens", "opened", "opening", "prop", "propped", "shut", "shuts", "close", "closes", "closed", "locked", "sealed", "run", "runs", "running") && !l.is(i-1, "like") && !l.is(i-2, "like")):
			return Draught{j, i + 1, (w.Is&Open != 0) != no(l, j)}, true
		case w.Is&Opening != 0:
			j = -1
		}
	}
	switch {
	case no(l, first) && !fan && !l.is(first-1, "are", "is") && !l.sentence(i, Sign|Fume):
		return Draught{first - 1, i + 1, false}, l.stops(i+1) || l.is(i+1, "in", "here", "at", "that", "which", "to")
	case asked && fan && !l.has(Not|Shut) && !l.is(0, "no", "can", "do", "is", "what", "which", "how", "why") && l.at(len(l)-1).Text != "?" && !slices.ContainsFunc(l, func(w Word) bool {
		return slices.Contains([]string{"only", "tiny", "small", "little", "hallway", "corridor", "just", "inside", "internal", "cellar", "basement", "without", "toilet", "loo", "but", "wish", "used"}, w.Text)
	}):
		return Draught{first, i + 1, true}, len(l) < 9
	}
	return d, false
}

// outdoors reports whether the work is at the place in the open at word i.
func outdoors(l Line, i int, asked bool) bool {
	first := l.First(i)
	if l.is(i, "outside") && l.is(i-1, "the") || l.is(i+1, "of", "diameter") || slices.ContainsFunc(l, func(w Word) bool {
		return w.Sentence == l.at(i).Sentence && slices.Contains([]string{"play", "plays", "played", "playing", "perform", "performing", "sound", "sounds", "gig", "gigs", "parade", "concert", "had", "saturday"}, w.Text)
	}) {
		return false
	}
	for l.at(first-1).Is&(Outdoors|Thing) != 0 || l.is(first-1, "fire", "flat", "mango", "apple", "oak", "car", "open", "side", "covered") {
		first--
	}
	return asked && !l.clause(i, Young) && !l.is(first-1, "to", "towards", "from", "facing", "near") ||
		l.is(first-1, "in", "on", "under", "beneath", "at", "onto", "out", "off", "underneath") && l.At(i) && !l.clause(i, Hearer)
}

// adjectives returns where the words begin that go with the noun at word i, such as say how it
// is: the two big back windows.
func adjectives(l Line, i int) int {
	for l.at(i-1).Is&(Mark|Work|Not) == 0 && (l.at(i-1).Is&(Number|Open|Shut|Owner|Outdoors|Thing|Opening) != 0 || l.is(i-1, "a", "an", "the", "my", "our", "his", "her", "their", "both", "all", "any", "one", "single", "only", "big", "large", "small", "tiny", "little", "high", "back", "front", "side",
		"garage", "shed", "barn", "stable", "workshop", "kitchen", "attic", "roof", "bathroom", "cellar", "room", "exhaust", "ceiling", "extractor", "sash", "sliding", "double", "roller", "patio", "old", "good", "proper", "decent", "some", "every", "either", "many", "that", "this", "enough", "real", "main")) {
		i--
	}
	return i
}

// no reports whether a word like no or without stands right before word i.
func no(l Line, i int) bool {
	j := i - 1
	for l.is(j, "any", "a", "an", "the", "got", "have", "one", "single", "my", "our", "all", "be", "ever") {
		j--
	}
	return l.at(j).Is&Not != 0 || l.is(j, "no", "not", "never", "without", "hardly", "isnt", "arent", "dont", "doesnt", "cant", "wont", "cannot", "nor", "lack", "lacks")
}

// nots reports whether an odd number of words like not stands in words from..to-1.
func nots(l Line, from, to int) bool {
	n := 0
	for j := from; j < to; j++ {
		if l.at(j).Is&Not != 0 && !l.is(j, "without") || l.is(j, "cant", "cannot", "nobody", "wont", "never", "dont", "doesnt", "isnt", "arent", "hardly", "not", "hasnt", "havent") {
			n++
		}
	}
	return n%2 == 1
}
