// Package whose reads from a whole line whose hands will play: a child's, up to
// about twelve, and light ones, take a smaller and lighter head. It never says who
// makes it, nor what may hurt anybody.
package whose

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/heard"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// oldest is the age up to which hands are taken for a child's, youngest the least
// that anybody holds a mallet at, and open how many years "twelve and up" goes on.
// Common practice, no source.
const youngest, oldest, open = 2, 12, 4

// Hands returns what a line says of the hands that will play, nil where it says
// nothing of them.
func Hands(cat *knowledge.Catalogue, text string) *reading.Take {
	l := line{cat: cat, words: heard.Cut(text), text: " "}
	for _, w := range l.words {
		l.text += w.Text + " "
	}
	if _, said := l.find("past"); said {
		return nil
	}
	small, ok := l.small()
	if !ok {
		return nil
	}
	return &reading.Take{Path: facts.PlayerSmall, Value: small, Degree: 1, Sure: 1}
}

type line struct {
	cat   *knowledge.Catalogue
	words []heard.Word
	text  string // the words between spaces
}

func (l line) small() (small, said bool) {
	at, light := l.find("small")
	switch _, grown := l.find("grown"); {
	case light:
		return !l.is(at-1, "no", "not", "dont", "isnt", "arent"), true
	case grown:
		return false, true
	}
	if _, plays := l.find("plays"); !plays {
		return false, false
	}
	years, aged := l.years()
	who, child := l.find("child")
	for i := range 5 {
		child = child && !l.is(who-1-i, "like") // like a music box in a nursery
	}
	_, young := l.find("young")
	young = young || slices.ContainsFunc(l.words, func(w heard.Word) bool { return w.Text == "aged" || w.Text == "ages" })
	return true, (child || young && aged) && (!aged || years <= oldest)
}

// find returns where the first of the words of a record stand in the line.
func (l line) find(id string) (at int, ok bool) {
	first := -1
	for _, say := range l.cat.Saying(id) {
		if k := strings.Index(l.text, " "+say+" "); k >= 0 && (first < 0 || k < first) {
			first = k
		}
	}
	return strings.Count(l.text[:max(first, 0)], " "), first >= 0
}

// is reports whether word i is one of words.
func (l line) is(i int, words ...string) bool {
	return i >= 0 && i < len(l.words) && slices.Contains(words, l.words[i].Text)
}

// years is the middle of the ages that a line names.
func (l line) years() (years float64, ok bool) {
	least, most := 0.0, 0.0
	for i, w := range l.words {
		if !w.IsNum || w.Ordinal || w.Num < youngest || w.Num > 99 || !l.age(i) {
			continue
		}
		n := w.Num
		if l.is(i+1, "up", "plus", "upwards", "upward") || l.is(i+1, "and") && l.is(i+2, "up", "over", "above", "older") || l.is(i-1, "over", "from") && !l.is(i+1, "to") {
			n += open
		}
		if !ok {
			least, most = n, n
		}
		least, most, ok = min(least, n), max(most, n), true
	}
	return (least + most) / 2, ok
}

// age reports whether number i is how old somebody is: eight year olds, aged 9 to
// 12, my daughter is 8, children of five.
func (l line) age(i int) bool {
	if l.is(i+1, "to", "and", "or", "through") && i+2 < len(l.words) && l.words[i+2].IsNum && l.dated(i+2) { // 9 to 12 year olds
		return true
	}
	if i > 0 && l.words[i-1].IsNum && l.is(i-2, "of") {
		return l.dated(i)
	}
	if l.is(i-1, "to", "and", "or", "through") && i > 1 && l.words[i-2].IsNum && l.called(i-2) || i > 0 && l.words[i-1].IsNum && l.called(i-1) {
		return true
	}
	return l.dated(i) || l.called(i)
}

// dated reports whether years follow number i, of somebody and not of a thing.
func (l line) dated(i int) bool {
	if l.is(i+1, "yo", "yos") {
		return true
	}
	if !l.is(i+1, "year", "years", "yr", "yrs") {
		return false
	}
	return l.is(i+2, "olds") || l.is(i+2, "old") && !l.is(i+3, l.cat.Saying("thing")...)
}

// called reports whether what stands before number i makes it an age.
func (l line) called(i int) bool {
	if l.is(i-1, "aged", "age", "ages") {
		return true
	}
	who := slices.Concat(l.cat.Saying("child"), l.cat.Saying("young"))
	switch {
	case l.is(i-1, "of") && i+1 < len(l.words) && l.words[i+1].IsNum: // a class of 24 eight-year-olds
		return false
	case l.is(i-1, "is", "of", "turned", "turns", "are", "just", "nearly", "only", "(", ","):
		return l.is(i-2, who...) || l.is(i-2, "is", "are", "shes", "hes", "theyre", "has", "she", "he") && l.is(i-3, append(who, ",", ".")...)
	case l.is(i-1, "shes", "hes", "theyre"):
		return true
	}
	return l.is(i-1, who...) && (l.is(i+1, ",", ".", ")", "and", "to") || i+1 == len(l.words))
}
