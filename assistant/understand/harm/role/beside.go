package role

// Who stands by, and what is done for others.

// Stays returns where, after the subject at word i, a verb of staying by
// or of doing the work stands, -1 where none does.
func (l Line) Stays(i int) int {
	for j := i + 1; j <= i+6 && l.at(j).Clause == l.at(i).Clause; j++ {
		switch {
		case l.is(j, "with", "beside", "alongside") && l.is(i, "im", "ill", "id") && j == i+1 && l.WithThem(j, true) == j+1:
			return j
		case j == i+1 && l.is(i, "im", "ill") && l.is(j, "there", "present", "around", "at") && l.at(j+1).Is&Mark == 0:
			return j
		case l.is(j, "sit", "sitting", "sat", "stand", "standing", "stood", "stay", "staying", "watch", "watching", "hover", "hovering", "cut", "cutting", "drill", "drilling", "glue", "gluing", "handle", "handling", "supervise", "do", "doing", "be", "am", "run", "use", "manage", "help", "helping", "assist", "assisting", "hold", "guide", "teach", "show", "on", "in", "within", "right"):
			return j
		case l.at(j).Is&Not != 0 || l.is(j, "want", "like", "think", "need", "have", "must", "cant", "wont", "wouldnt", "dont", "cannot", "couldnt"):
			return -1
		}
	}
	return -1
}

// WithThem returns the last token of words that say whom the verb at word i
// is done with or for, or that it is the dangerous work; -1 where there are none.
func (l Line) WithThem(i int, ofYoung bool) int {
	them := func(j int) bool {
		return l.is(j, "them", "her", "him", "em", "each") || l.at(j).Is&Young != 0 || l.at(j+1).Is&Young != 0 && l.is(j, "the", "my", "our", "these", "both")
	}
	for j := i; j <= i+7 && l.at(j).Sentence == l.at(i).Sentence; j++ {
		switch {
		case j == i && l.is(j, "help", "helping", "assist", "assisting") && them(j+1) && l.is(j+2, "all", "the", "throughout", "every", "always"): // I will help him all the time
			return j + 1
		case l.is(j, "over") && l.is(j+1, "the") && l.is(j+2, "whole", "entire", "job") && ofYoung:
			return j + 2
		case l.is(j, "with", "beside", "by", "over", "near", "alongside", "behind", "between") && them(j+1):
			return j + 1
		case l.is(j, "next", "close") && l.is(j+1, "to") && (them(j+2) || l.is(j+2, "it") && l.has(Young|School)):
			return j + 2
		case l.is(j, "elbow", "side", "shoulder") && l.is(j-1, "her", "his", "their"):
			return j
		case !ofYoung:
		case j == i && l.is(j, "help", "helping", "assist", "assisting") && (l.at(j+1).Is&Mark != 0 || them(j+1)):
			return j
		case l.is(j, "next", "same", "near") && l.is(j+1, "bench", "room", "table", "desk", "door") || l.is(j, "arms", "arm") && l.is(j+1, "reach", "length") || l.is(j, "earshot", "sight"):
			return j + 1
		case l.is(j, "cut", "cutting", "drill", "drilling", "knife", "knives", "blade", "glue", "gluing", "sharp", "dangerous") && l.is(i, "do", "doing", "be", "handle", "handling", "cut", "cutting", "drill", "drilling", "glue", "gluing", "use", "manage"):
			return j
		case l.is(j, "all") && (l.is(j+1, "of") && l.is(j+2, "that", "it") || l.is(j+1, "that")) && l.is(i, "do", "doing", "handle"):
			return j + 1
		case l.is(j, "there", "around") && l.is(i, "be", "am", "stay", "sit", "stand", "sat", "stood") && l.is(j+1, "all", "the", "throughout", "every", "with", "beside", "watching"):
			return j
		case j == i+1 && l.is(i, "be", "am", "stay", "sit") && l.is(j, "in") && l.is(j+1, "the") && l.is(j+2, "room", "classroom", "workshop") && (l.at(j+3).Text == "" || l.at(j+3).Is&Mark != 0 || l.is(j+3, "from", "with", "throughout", "all", "till", "until", "every", "always", "and")):
			return j + 2 // kids are 9, I'll be in the room
		case l.is(j, "whole", "entire") && l.is(j+1, "time"):
			return j + 1
		}
	}
	return -1
}

// StandBy reports whether the speaker says to stand by young ones: with me at
// the table.
func (l Line) StandBy() bool {
	for i := range l {
		if l.is(i, "with") && l.is(i+1, "me") && l.is(i+2, "standing", "watching", "there", "beside", "right", "at", "next", "in", "supervising") && l.has(Young|School|Student) {
			return true
		}
	}
	return false
}

// Makes reports whether the clause of word i is about making.
func (l Line) Makes(i int) bool {
	for j := max(0, i-8); j < i; j++ {
		if l.is(j, "making", "make", "building", "build", "doing", "do", "project", "wrapping", "winding", "wind", "working", "work") {
			return true
		}
	}
	return false
}

// Apart reports whether the verb at word i is done with somebody who need
// not be there for the work: checked with every parent, lives with.
func (l Line) Apart(i int) bool {
	return l.is(i, "live", "living", "lives", "lived", "play", "plays", "playing", "played", "perform", "performing", "sing", "singing", "jam", "gig", "tour", "duet", "lesson", "lessons", "study", "studies", "argue", "argued", "spoke", "spoken", "talked", "check", "checked", "confirmed", "agreed", "cleared", "discussed", "chatted")
}

// AsksNeed reports whether the clause asks whether an adult is needed.
func (l Line) AsksNeed(i int) bool {
	for j := max(0, i-6); j < i; j++ {
		if l.is(j, "need", "needs", "must", "should", "have", "does", "do") {
			return true
		}
	}
	return false
}

// NotLeft reports whether the line says that somebody is not left alone: they
// won't be left alone.
func (l Line) NotLeft() bool {
	for i := range l {
		if !l.is(i, "left", "leave") {
			continue
		}
		not := false
		for j := i - 1; j > i-5 && l.at(j).Is&Mark == 0; j-- {
			not = not || l.at(j).Is&Not != 0 || l.is(j, "wont", "never", "not", "cant", "dont")
		}
		if not && (l.is(i+1, "alone", "unattended", "unsupervised") || l.is(i+2, "alone", "unattended", "unsupervised", "own") || l.is(i+3, "own", "alone") || l.is(i+4, "own") || l.at(i+1).Is&Mark != 0) {
			return true
		}
	}
	return false
}

// Elsewhere reports whether what is said at words from..to-1 of somebody named
// before word after is not being there for the work: watches telly, sounds dull
// next to me, stands next to the vibes.
func Elsewhere(l Line, after, from, to int) bool {
	for j := after; j < from; j++ {
		if l.is(j, "sound", "sounds", "sounding", "plays", "played", "sings") {
			return true
		}
	}
	next := to
	for l.is(next, "next", "to", "beside", "by", "alongside") {
		next++
	}
	beside := next > to || l.is(to-1, "to", "beside", "alongside", "by")
	if l.is(next, "the", "a", "my", "his", "her", "their", "our", "some") {
		next++
	}
	return l.is(to-1, "watch", "watches", "watching") && l.is(next, "telly", "tv", "television", "football", "match", "game", "films", "film", "videos", "series", "rugby", "cricket", "news", "netball") ||
		beside && l.at(next).Is&Gear != 0 && !l.is(next, "bench", "workshop", "group", "class")
}

// YoungHelper reports whether the one who stands by is said to be under age: my big
// brother helps, he's 15.
func YoungHelper(l Line) bool {
	for i := range l {
		if !l.is(i, "brother", "sister", "cousin", "friend", "bro", "sis", "sibling", "babysitter", "babysitters", "sitter", "minder", "mate", "helper", "prefect", "instructor", "coach", "leader", "adult") || (l.at(i).Is|l.at(i-1).Is)&(Helper|Young|Person|Watcher) == 0 {
			continue
		}
		for j := i + 1; j < i+8 && l.at(j).Sentence == l.at(i).Sentence; j++ {
			if w := l.at(j); w.Is&Number != 0 && w.Num >= 5 && w.Num < Majority && l.at(j+1).Is&Unit == 0 {
				return true
			}
		}
	}
	return false
}
