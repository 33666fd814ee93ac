// Package role knows what part the people of a line play in it: whether they
// make, hold, play or get what is made, or are only spoken of. It never says
// what may hurt them.
package role

import "slices"

// Kind is what a word of a line is, one bit each.
type Kind uint32

const (
	Mark    Kind = 1 << iota // a comma, a full stop
	Number                   // in digits or in words
	Person                   // anybody
	Young                    // somebody young, of the family, or a pupil
	Student                  // who learns, of any age
	Helper                   // who may stand by
	Grown                    // an adult
	Work                     // what is done with mallets: make, wind, play, want
	Idle                     // what others do who have no part: sleep, shout, laugh
	Gear                     // mallets, what they strike, what they are made of, who plays together
	Sign                     // of what somebody can't bear
	School                   // a place or a year of school
	Outside                  // somebody from outside: the neighbours, a stranger
	Stay                     // being there with somebody
	Away                     // having no part in it
	Hearer                   // an audience
	Fume                     // what is breathed in, or touched
	Not
	Unit     // of a size, a weight, money
	Figure   // what a number is of that is no age
	Short    // written with an apostrophe
	Owner    // written with an apostrophe and an s
	Thing    // what has an age and is nobody
	Opening  // what lets air in: a window, a door, a fan
	Open     // that it does
	Shut     // that it does not
	Outdoors // a place in the open
	Trade    // what a grown person works as
	Watcher  // who may stand by, and is nobody's parent
	Uni      // where one learns past school
)

// Word is a word or a mark of a line.
type Word struct {
	Text             string
	Clause, Sentence int
	Num              float64 // of a number
	Is               Kind
}

// Line is the words of a line.
type Line []Word

// at returns word i, a mark past either end.
func (l Line) at(i int) Word {
	if i < 0 || i >= len(l) {
		return Word{Text: ".", Clause: -1, Sentence: -1, Is: Mark}
	}
	return l[i]
}

// is reports whether word i is one of words.
func (l Line) is(i int, words ...string) bool { return slices.Contains(words, l.at(i).Text) }

// has reports whether a word of kind k stands in the line.
func (l Line) has(k Kind) bool {
	return slices.ContainsFunc(l, func(w Word) bool { return w.Is&k != 0 })
}

// clause reports whether a word of kind k stands in the clause of word i.
func (l Line) clause(i int, k Kind) bool {
	return slices.ContainsFunc(l, func(w Word) bool { return w.Is&k != 0 && w.Clause == l.at(i).Clause })
}

// sentence reports whether a word of kind k stands in the sentence of word i.
func (l Line) sentence(i int, k Kind) bool {
	return slices.ContainsFunc(l, func(w Word) bool { return w.Is&k != 0 && w.Sentence == l.at(i).Sentence })
}

// Part is what somebody named in a line has to do with the work.
type Part int

const (
	Takes   Part = iota // it is for them, they do it, or they can't bear something of it
	Unsaid              // nothing tells
	Passing             // they are only spoken of: my neighbour's kids shout over the fence
)

// Part returns what whoever stands at words from..to-1 has to do with the work.
func (l Line) Part(from, to int) Part {
	first := l.First(from)
	switch {
	case l.passing(first, from, to) || l.Formerly(from):
		return Passing
	case l.is(first-1, "for") && l.is(first-3, "a", "an", "the") && l.at(first-2).Is&(Gear|Work|Person|Mark|Sign) == 0 &&
		!l.is(first-2, "present", "gift", "surprise", "project", "lesson", "course", "birthday", "bit", "job", "core", "ball", "thing", "treat", "workshop", "hobby", "start", "soft", "medium", "hard", "light"): // left over from a cardigan for my niece
		return Unsaid
	case l.is(first-1, "for", "by", "with", "among", "to", "plus", "and", "teach", "have", "run", "lead", "at") && !l.clause(from, Idle),
		l.is(first-1, "we", "us", "im", "am", "were", "as", "theyre", "are") || l.is(from-1, "every", "each") || l.is(to, "here"),
		l.clause(from, Work|Sign|Gear|Stay), l.clause(l.after(to), Work|Sign|Gear), l.sentence(from, School),
		l.words(func(w Word) bool { return w.Sentence == l.at(from).Sentence }) < 5:
		return Takes
	case l.at(from-1).Is&Number != 0 && l.is(to, "in") && l.is(to+1, "there", "here", "my", "our", "the", "this"): // 29 kids in there
		return Takes
	case l.at(from-1).Is&Number != 0 || l.is(first-1, "is", "shes", "hes") || l.at(first-1).Is&Owner != 0, // twenty children; my brother's a kid
		l.words(func(w Word) bool { return w.Clause == l.at(from).Clause }) < 5: // the little ones, eight of them, wind
		if l.sentence(from, Work|Gear|Sign|Stay) {
			return Takes
		}
	}
	return Unsaid
}

// after returns where what is said of the noun before word i goes on, past a
// bracket or an age: my brother (8) will use them; the boy, twelve, listens.
func (l Line) after(i int) int {
	if l.is(i, ",") && l.at(i+1).Is&Number != 0 && l.is(i+2, ",") {
		return i + 3
	}
	for j := i; l.is(i, "(") && j < i+6; j++ {
		if l.is(j, ")") {
			return j + 1
		}
	}
	return i
}

// words counts the words of which in holds.
func (l Line) words(in func(Word) bool) int {
	n := 0
	for _, w := range l {
		if w.Is&Mark == 0 && in(w) {
			n++
		}
	}
	return n
}

// First returns where the words begin that go with the noun at word i: my two
// little ones.
func (l Line) First(i int) int {
	for l.at(i-1).Is&(Mark|Work) == 0 && (l.at(i-1).Is&(Number|Owner|Outside) != 0 || l.is(i-1, "a", "an", "the", "my", "our", "his", "her", "their", "your", "these", "those", "some", "all", "both",
		"other", "new", "little", "small", "wee", "big", "young", "old", "older", "younger", "whole", "few", "several", "many", "more", "one", "every", "each", "another", "of", "group", "bunch", "crowd", "class", "dear", "beginner")) {
		i--
	}
	return i
}

// passing reports whether they are only spoken of: they sleep, they gave
// something, a thing of theirs is named, or they are nobody's.
func (l Line) passing(first, from, to int) bool {
	if l.is(first-1, "from") && !l.is(first-2, "apart", "aside") || l.is(first-1, "like", "than", "whatever", "whichever", "without", "wakes", "wake", "waking", "that", "says", "said", "against", "behind", "after", "since", "drive", "drives", "see", "saw", "hear", "met") {
		return true
	}
	if last := l.at(to - 1); last.Is&Owner != 0 && l.at(to).Is&(Mark|Number|Work|Gear|Sign|School|Young|Student) == 0 && l.at(to+1).Is&(Gear|Sign) == 0 &&
		!l.is(to, "a", "an", "the", "in", "at", "on", "only", "just", "not", "very", "so", "too", "still", "going", "gonna", "been", "got", "had", "always", "really", "about", "nearly", "almost", "gone", "to", "also", "now") {
		return true // my niece's blanket
	}
	if l.at(to-1).Is&Owner != 0 && l.is(first-1, "in", "at") && l.is(to, "class", "school", "year", "form") {
		return true // she's in my daughter's class
	}
	verb := l.after(to)
	for l.at(verb).Is&(Idle|Work) == 0 && (l.at(verb).Is&Number != 0 || l.is(verb, "who", "that", "also", "always", "all", "both", "just", "will", "would", "is", "are", "do", "does", "can", "may", "might", "often", "keep", "keeps",
		"never", "dont", "doesnt", "wont", "didnt", "cant", "have", "has", "had", "were", "was", "still", "only", "even", "over", "next", "door", "there", "then", "already", "long", "usually")) {
		verb++
	}
	if l.at(verb).Is&Idle != 0 {
		return !l.clause(from, Sign) // a kid told me that rubber makes him itch
	}
	out := false
	for j := first - 1; j < to; j++ {
		out = out || l.at(j).Is&Outside != 0
	}
	return (out || l.is(to, "next") && l.is(to+1, "door")) && !l.clause(from, Work|Sign) && !l.is(first-1, "for", "with", "to")
}

// Other reports whether the noun that word i describes is somebody other than
// the speaker: got it off a retired bandmaster. I'm a retired teacher is not, nor
// is a retired teacher, at the head of a line.
func (l Line) Other(i int) bool {
	j := l.First(i)
	if j == i || !l.is(j, "a", "an", "the", "my", "our", "his", "her", "their", "this", "that", "some", "another", "one") || l.is(j-1, "im", "am", "as", "being", "me", "i", "is", "are", "all", "were", "only", "just", "both", "of") || l.at(i-1).Is&Number != 0 {
		return false
	}
	if l.at(j-1).Is&Mark == 0 {
		return true
	}
	return l.clause(i, Idle) || slices.ContainsFunc(l, func(w Word) bool {
		return w.Clause == l.at(i).Clause && slices.Contains([]string{"me", "us", "he", "she", "him", "her"}, w.Text)
	})
}

// Asked reports whether what stands at word i is only asked after: why do you
// need to know if my dad is there?
func (l Line) Asked(i int) bool {
	for j := i - 1; j >= 0 && l.at(j).Sentence == l.at(i).Sentence; j-- {
		if l.is(j, "if", "whether") && i-j < 5 && l.at(j).Clause == l.at(i).Clause || l.is(j, "question", "questions") && l.is(j+1, "about", "of", "on") || l.is(j, "why") && !l.is(j+1, "not", "dont") && l.at(j-1).Sentence != l.at(i).Sentence {
			return true
		}
	}
	return false
}

// Absent reports whether the sign at word i is somebody's who is said to have no
// part in the work: it gives my friend asthma, he's not involved.
func (l Line) Absent(i int) bool {
	if outsider(l, i) {
		return true
	}
	other := false
	for j, w := range l {
		if w.Clause != l.at(i).Clause {
			continue
		}
		if l.is(j, "i", "im", "ive", "me", "we", "us") {
			return false
		}
		other = other || w.Is&Person != 0 || l.is(j, "ex", "chap", "bloke", "guy", "man", "woman", "cellist", "pianist", "violinist", "singer", "conductor")
	}
	away := slices.ContainsFunc(l, func(w Word) bool {
		return w.Is&Away != 0 && (w.Sentence == l.at(i).Sentence || w.Sentence == l.at(i).Sentence+1)
	})
	return other && away || l.clause(i, Hearer)
}

// Show reports whether the sign at word i is said of how strongly listeners are
// moved: so punchy the front row needs an inhaler.
func (l Line) Show(i int) bool {
	if !l.clause(i, Hearer) || l.clause(i, Young) {
		return false
	}
	for j := range i {
		if l.at(j).Sentence == l.at(i).Sentence && (l.is(j, "til", "till", "until", "enough") || l.is(j, "so") && l.at(j+1).Is&(Person|Mark) == 0 && !l.is(j+1, "the", "a", "an", "if", "no", "there", "this", "please")) {
			return !l.sentence(i, Fume)
		}
	}
	return false
}

// AnswersNo reports whether what the clause of word i asks after is denied by
// the speaker in the next: rubber allergy? no, none of us.
func (l Line) AnswersNo(i int) bool {
	j := i + 1
	for l.at(j).Is&Mark == 0 && l.at(j).Clause == l.at(i).Clause && j < i+7 {
		j++
	}
	if !l.is(j, "?", "-", ",", ":") {
		return false
	}
	asked := l.is(j, "?") || l.is(j, "-", ":")
	for l.at(j).Is&Mark != 0 && j < len(l) {
		j++
	}
	if !l.is(j, "no", "none", "nope", "nah", "nobody", "noone", "never", "nein", "not") || l.is(j, "not") && !l.is(j+1, "one", "a", "here", "in", "at", "any", "that", "as", "us") {
		return false
	}
	whole := asked
	for from := j; j < len(l) && l.at(j).Sentence == l.at(from).Sentence; j++ {
		if l.at(j).Is&(Young|Fume|Gear) != 0 || l.is(j, "but", "except", "apart", "bar", "save", "unless", "besides", "only", "idea", "clue", "wait", "please", "way", "sure", "know") {
			return false
		}
		whole = whole || l.is(from, "nobody", "noone", "none") && l.is(j, "any", "one", "them") && l.at(j+1).Is&Mark != 0 // allergies, nobody here has any
	}
	return whole
}
