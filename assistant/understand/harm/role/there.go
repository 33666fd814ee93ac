package role

import "slices"

// Who is said to be there for the work.

// Together returns where an adult is said to work with the young ones of the line, -1
// where none is: my daughter and I. Alone tells of a word whether somebody is alone in its clause.
func Together(l Line, alone func(int) bool) int {
	for i := range l {
		with := l.is(i, "with") && (l.is(i+1, "me") || l.at(i+2).Is&Young != 0 && l.is(i+1, "my", "our", "the") && l.Makes(i) || l.is(i+1, "my") && l.at(i+2).Is&Number != 0 && l.Makes(i))
		both := l.is(i, "me", "i") && l.is(i+1, "and", "n", "plus") && (l.at(i+3).Is&Young != 0 || l.at(i+3).Is&Number != 0 && l.is(i+2, "my", "our", "the")) ||
			l.at(i).Is&Young != 0 && l.is(i+1, "and", "n") && l.is(i+2, "i", "me") ||
			l.is(i, "old") && l.is(i+1, "and") && l.is(i+2, "i", "me")
		stay := l.is(i, "stay", "sit", "stand", "am", "be") && l.is(i-1, "i", "ill", "will") && (l.is(i+1, "with", "beside", "by") || l.is(i+2, "with", "beside", "by", "there"))
		we := (l.is(i, "together") || l.is(i, "side") && l.is(i+1, "by") && l.is(i+2, "side")) && !alone(i)
		own := l.is(i, "ill", "i") && (l.is(i+1, "be", "am", "stand", "help", "cut", "do") || l.is(i+1, "will") && l.is(i+2, "be", "help", "do", "cut")) &&
			(l.is(i+2, "there", "standing", "cutting", "right", "beside", "with", "doing", "helping", "the", "over") || l.is(i+3, "there", "right", "cutting", "help", "the"))
		if with || both || stay || we || own {
			return i
		}
	}
	return -1
}

// Shows returns the words that show somebody to be there in a line that says little
// else: yes I'll be there, she's here yes. Asked is set where that was asked. Without
// any, the second is 0.
func Shows(l Line, asked bool) (from, to int) {
	if SpeakerYoung(l) || len(l) > 12 {
		return 0, 0
	}
	yes := asked || slices.ContainsFunc(l, func(w Word) bool { return slices.Contains([]string{"yes", "yeah", "yep", "yup"}, w.Text) })
	for i := range l {
		j := i + 1
		if l.is(j, "be", "am", "stay", "will", "always", "is", "are") {
			j++
		}
		if l.is(j, "be", "right", "always", "stay") {
			j++
		}
		last := j
		switch {
		case l.is(j, "there", "present", "here"):
		case l.is(j, "in") && l.is(j+1, "the") && l.is(j+2, "room", "workshop", "classroom", "shop", "garage", "shed"):
			last = j + 2
		case l.is(j, "with", "beside") && l.is(j+1, "them", "us", "me", "him", "her") || l.is(j, "next") && l.is(j+1, "to") && l.is(j+2, "them", "me", "us", "him", "her"):
			last = j + 1 + map[bool]int{true: 1, false: 0}[l.is(j, "next")]
		default:
			continue
		}
		end := l.at(last+1).Is&Mark != 0 || l.is(last+1, "of", "obviously", "always", "then", "yes", "too", "throughout", "all", "the", "yeah", "and")
		speaker := l.is(i, "ill", "id") || asked && l.is(i, "im", "were") && l.at(i).Is&Short != 0 || l.is(i, "i", "we") && j > i+1
		other := yes && l.is(i, "shes", "hes", "theyre", "she", "he", "they")
		if end && (speaker || other) {
			return i, last
		}
	}
	return 0, 0
}

// Counted reports whether another number in the sentence of word i is one of money or of
// a size.
func Counted(l Line, i int) bool {
	for j, w := range l {
		if w.Is&Number != 0 && w.Sentence == l.at(i).Sentence && l.at(j+1).Is&Unit != 0 && !l.is(j+1, "in", "people", "players", "songs", "kids", "pupils", "children", "students") {
			return true
		}
	}
	return false
}

// Unlike reports whether the helper whom words from..to-1 name is only compared with, or
// is thanks: you sound like my mother; no ta.
func Unlike(l Line, from, to int) bool {
	first := l.First(from)
	return l.is(first-1, "like", "than") || l.is(from, "ta") && (l.is(from-1, "no") || l.at(from-1).Is&Mark != 0) && l.at(to).Is&Mark != 0
}

// Speaks reports whether the helper at word i, whom here follows, is the speaker: nan here.
func Speaks(l Line, i int) bool {
	return l.at(i).Is&Short == 0 && !l.is(l.First(i), "my", "our", "the", "a", "an", "his", "her", "their", "me", "no", "only") && (i+2 >= len(l) || l.at(i+2).Is&Mark != 0 || l.at(i+2).Is&Young != 0) && !l.is(i-1, "have", "with", "only", "got")
}

// Goes reports whether word to, in the sentence after that of the helper at word i, is
// said of that helper: she lives in Peru.
func Goes(l Line, i, to int) bool {
	for j := to - 1; j >= to-3 && l.at(j).Sentence == l.at(i).Sentence+1; j-- {
		if l.is(j, "he", "she", "they", "hes", "shes", "theyre") {
			return l.at(j-1).Sentence == l.at(i).Sentence
		}
	}
	return false
}

// Played reports whether the air at words from..to-1 is where they play, or moves in an
// instrument: an open air gig; the fans of the vibes; fresh air, no.
func Played(l Line, from, to int) bool {
	near := func(words ...string) bool {
		for j := from - 6; j < to+6; j++ {
			if l.at(j).Sentence == l.at(from).Sentence && l.is(j, words...) {
				return true
			}
		}
		return false
	}
	switch {
	case l.is(from, "open") && l.is(from+1, "air"):
		return l.is(from-1, "play", "plays", "played", "playing", "perform", "performing") || near("gig", "gigs", "concert", "show", "festival", "stage", "wedding", "parade", "performance", "thing", "cinema", "market")
	case l.is(to-1, "fan", "fans") || l.is(from, "fan", "fans"):
		return near("vibes", "vibraphone", "pedal", "resonators", "resonator", "rattle", "rattles", "damper", "dampers", "motor") || near("little") && near("metal", "round", "spinning", "bars")
	}
	return false
}

// StaysWith returns the words of a speaker who says to be there with the young, or to do
// what is dangerous for them: I'd be sat right there with them, I'll do all the cutting.
// OfYoung is set when the line speaks of young ones; question and denied tell of a word
// whether it is asked or denied. Without any, the second is 0.
func StaysWith(l Line, ofYoung bool, question, denied func(int) bool) (from, to int) {
	if SpeakerYoung(l) {
		return 0, 0
	}
	for i := range l {
		if to := meBy(l, i); to > 0 && ofYoung && !question(i) {
			return i, to
		}
		if !l.is(i, "i", "ill", "id", "we", "well", "im") || l.is(i, "well") && l.at(i).Is&Short == 0 || question(i) {
			continue
		}
		verb := l.Stays(i)
		if verb < 0 {
			continue
		}
		if to := l.WithThem(verb, ofYoung); to >= 0 && !denied(verb) {
			return i, to
		}
	}
	return 0, 0
}

// WeAre reports whether word i is a we're, perhaps written without its apostrophe at
// the head of a clause: just us, were twelve.
func WeAre(l Line, i int) bool {
	return l.is(i, "were") && (l.at(i).Is&Short != 0 || l.at(i-1).Is&Mark != 0)
}

// meBy returns the last word of how the speaker, whom word i stands for, is said to be there
// without a verb: me beside; myself present; under my eyes. 0 where that isn't said.
func meBy(l Line, i int) int {
	switch {
	case l.is(i, "me", "myself") && l.is(i+1, "watching", "supervising", "overseeing", "beside", "present", "standing", "sitting", "alongside") && !l.is(i-1, "with", "without", "not", "is", "are", "by", "lets", "was"):
		return i + 1
	case l.is(i, "under") && l.is(i+1, "my", "our") && l.is(i+2, "eyes", "eye", "nose", "supervision", "watch"):
		return i + 2
	case l.is(i, "im", "am") && l.is(i+1, "right") && l.is(i+2, "there", "here", "beside") || l.is(i, "ill") && l.is(i+1, "be") && l.is(i+2, "right") && l.is(i+3, "there"):
		return i + 2
	case l.is(i, "im") && l.is(i+1, "there", "present") && !l.is(i+2, "at", "on", "till", "until", "for"):
		return i + 1
	case l.is(i, "i", "ill", "we") && l.is(i+1, "help", "supervise", "watch", "oversee") && l.is(i+2, "each", "every", "them", "all", "him", "her"):
		return i + 2
	}
	return 0
}

// Among returns the word for a grown-up who is named beside the young ones of the line as one
// of those who are there, -1 where none is: two leaders and ten scouts; one mum, fourteen
// kids; class nine, with the pastor.
func Among(l Line) int {
	for i, w := range l {
		if w.Is&(Helper|Watcher) == 0 || w.Is&(Young|Owner|Student) != 0 || !(l.at(i+1).Is&Mark != 0 || l.is(i+1, "and", "n", "plus", "at", "on", "per", "in")) || l.is(i+1, "in") && l.is(i+2, "law") {
			continue
		}
		j := i - 1
		for l.is(j, "the", "a", "an", "our", "their", "my", "of", "us", "both", "parish", "class", "music", "shop", "present") {
			j--
		}
		if (l.at(j).Is&Number != 0 && l.at(j).Num < 20 || l.is(j, "one")) && !l.is(j-1, "for", "from", "sold", "by") || l.is(j, "plus", "and", "with") && l.at(j-1).Is&Number != 0 || l.is(j, "plus") || l.is(j, "with") && l.at(j-1).Is&Mark != 0 {
			return i
		}
	}
	return -1
}

// AllAlong reports whether nothing in the line says of who is named that they are there for a
// part of the time only, only know of it, or are under age.
func AllAlong(l Line) bool {
	return !YoungHelper(l) && !slices.ContainsFunc(l, func(w Word) bool {
		return slices.Contains([]string{"till", "until", "after", "later", "soon", "first", "half", "mostly", "partly", "sometimes", "when", "whenever", "unless", "knows", "know", "said", "says", "thinks", "allowed", "tomorrow", "twice", "hour", "hourly", "minutes", "?", "used", "was", "phone", "nearby", "building", "street", "outside", "next", "over", "fence", "checks", "calls", "shouts", "drops", "pops", "comes", "coming", "should", "would", "could", "maybe"}, w.Text)
	})
}
