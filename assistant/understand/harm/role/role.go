// Package role knows what part the people of a line play in it: whether they
// make, hold, play or get what is made, or are only spoken of. It never says
// what may hurt them.
package role

import "slices"

// Kind is what a word of a line is, one bit each.
type Kind uint16

const (
	Mark   Kind = 1 << iota // a comma, a full stop
	Number                  // in digits or in words
	Person                  // anybody
	Young                   // somebody young, of the family, or who learns
	Work                    // what is done with mallets: make, wind, play, want
	Idle                    // what others do who have no part: sleep, shout, laugh
	Gear                    // mallets, what they strike, what they are made of, who plays together
	Sign                    // of what somebody can't bear
	School                  // a place or a year of school
	Out                     // somebody from outside: the neighbours, a stranger
	Stay                    // being there with somebody
	Owner                   // written with an apostrophe and an s
)

// Word is a word or a mark of a line.
type Word struct {
	Text             string
	Clause, Sentence int
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

// clause reports whether a word of kind k stands in the clause of word i.
func (l Line) clause(i int, k Kind) bool {
	return slices.ContainsFunc(l, func(w Word) bool { return w.Is&k != 0 && w.Clause == l.at(i).Clause })
}

// sentence reports whether a word of kind k stands in the sentence of word i.
func (l Line) sentence(i int, k Kind) bool {
	return slices.ContainsFunc(l, func(w Word) bool { return w.Is&k != 0 && w.Sentence == l.at(i).Sentence })
}

// Takes reports whether whoever stands at words from..to-1 takes part: they are
// whom it is for, they do the work, or can't bear something. Of others there may
// be reason to ask: my neighbour's kids shout over the fence.
func (l Line) Takes(from, to int) bool {
	first := l.first(from)
	switch {
	case l.passing(first, from, to):
		return false
	case l.is(first-1, "for", "by", "with", "among", "to", "plus", "and", "teach", "have", "run", "lead", "at") && !l.clause(from, Idle),
		l.is(first-1, "we", "us", "im", "am", "were", "as", "theyre", "are") || l.is(from-1, "every", "each") || l.is(to, "here"),
		l.clause(from, Work|Sign|Gear), l.clause(l.after(to), Work|Sign|Gear), l.sentence(from, School),
		l.words(func(w Word) bool { return w.Sentence == l.at(from).Sentence }) < 5:
		return true
	case l.at(from-1).Is&Number != 0 || l.is(first-1, "is", "shes", "hes") || l.at(first-1).Is&Owner != 0: // twenty children; my brother's a kid
		return l.sentence(from, Work|Gear|Sign|Stay)
	}
	return l.words(func(w Word) bool { return w.Clause == l.at(from).Clause }) < 5 && l.sentence(from, Work|Gear|Sign|Stay) // the little ones, eight of them, wind
}

// after returns where what is said of the noun before word i goes on, past a
// bracket: my brother (8) will use them.
func (l Line) after(i int) int {
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

// first returns where the words begin that go with the noun at word i: my two
// little ones.
func (l Line) first(i int) int {
	for l.at(i-1).Is&(Mark|Work) == 0 && (l.at(i-1).Is&(Number|Owner|Out) != 0 || l.is(i-1, "a", "an", "the", "my", "our", "his", "her", "their", "your", "these", "those", "some", "all", "both",
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
	if last := l.at(to - 1); last.Is&Owner != 0 && l.at(to).Is&(Mark|Number|Work|Gear|Sign|School|Young) == 0 && l.at(to+1).Is&(Gear|Sign) == 0 &&
		!l.is(to, "a", "an", "the", "in", "at", "on", "only", "just", "not", "very", "so", "too", "still", "going", "gonna", "been", "got", "had", "always", "really", "about", "nearly", "almost", "gone", "to", "also", "now") {
		return true // my niece's blanket
	}
	verb := l.after(to)
	for l.at(verb).Is&(Idle|Work) == 0 && l.is(verb, "who", "that", "also", "always", "all", "both", "just", "will", "would", "is", "are", "do", "does", "can", "may", "might", "often", "keep", "keeps",
		"never", "dont", "doesnt", "wont", "didnt", "cant", "have", "has", "had", "were", "was", "still", "only", "even", "over", "next", "door", "there", "then", "have", "already", "long", "usually") {
		verb++
	}
	if l.at(verb).Is&Idle != 0 {
		return !l.clause(from, Sign) // a kid told me that rubber makes him itch
	}
	out := false
	for j := first - 1; j < to; j++ {
		out = out || l.at(j).Is&Out != 0
	}
	return (out || l.is(to, "next") && l.is(to+1, "door")) && !l.clause(from, Work|Sign) && !l.is(first-1, "for", "with", "to")
}
