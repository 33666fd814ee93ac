// Package short reads lines of a few words that are known by what was just shown: which
// of the choices it is, which of two heads, that what was taken is wrong.
//
// It takes nothing in, and knows no word of a head.
package short

import (
	"slices"
	"strings"

	"mallow/assistant/answer"
)

const (
	lead = "ok okay so then well um id ill i we lets let us just please go going take use keep pick choose prefer like want rather have build make do it with for to would will my answer option number no choice and the yes yeah"
	tail = "one then please column head mallet mallets of them option choice instead now thanks"
)

// core is what is left of a line without the words that lead to a choice and follow it.
func core(line string, leads, tails string) []string {
	said := strings.Fields(answer.Plain(line))
	for len(said) > 0 && slices.Contains(strings.Fields(leads), said[0]) {
		said = said[1:]
	}
	for len(said) > 0 && slices.Contains(strings.Fields(tails), said[len(said)-1]) {
		said = said[:len(said)-1]
	}
	return said
}

// Nth returns which of so many choices a line names by its number or letter, from 1; 0
// for none.
func Nth(line string, of int) int {
	said := core(line, lead, tail)
	if len(said) != 1 {
		return 0
	}
	for i, names := range []string{"1 a first 1st", "2 b second 2nd", "3 c third 3rd", "4 d fourth 4th", "5 e fifth 5th", "6 f sixth 6th", "7 g seventh 7th"} {
		if i < of && slices.Contains(strings.Fields(names), said[0]) {
			return i + 1
		}
	}
	if said[0] == "last" {
		return of
	}
	return 0
}

// Side returns which of two heads shown side by side a line goes on with, 1 for the one
// as it is, 2 for the other and 0 for neither. The words are those that only the first
// and only the second is told by.
func Side(line string, first, second string) int {
	said := strings.Fields(answer.Plain(line))
	if len(said) == 0 || len(said) > 9 || answer.IsQuestion(line) {
		return 0
	}
	verb := core(line, "ok okay so then well um id ill i we lets let us just please would will rather no yes yeah", "")
	picks := len(verb) > 0 && slices.Contains(strings.Fields("go take use keep pick choose prefer stay stick leave"), verb[0])
	rest := strings.Join(core(line, lead+" stay stick leave", tail), " ")
	one := slices.Contains(said, "one") || slices.Contains(said, "column") || slices.Contains(said, "head")
	switch {
	case !picks && !one && rest != "first" && rest != "second":
		return 0
	case slices.Contains([]string{"first", "1st", "1", "now", "old", "original", "as it is", "as it was", "what i have", "i had", "one i had", "one before", "current"}, rest), strings.HasSuffix(rest, "as it is"):
		return 1
	case slices.Contains([]string{"second", "2nd", "2", "that", "other", "new", "changed", "latter", "last"}, rest):
		return 2
	}
	a, b := strings.Fields(answer.Plain(first)), strings.Fields(answer.Plain(second))
	in := strings.Fields(rest)
	only := func(has, not []string) bool {
		return len(in) > 0 && !slices.ContainsFunc(in, func(w string) bool { return !slices.Contains(has, w) }) &&
			slices.ContainsFunc(in, func(w string) bool { return !slices.Contains(not, w) })
	}
	switch {
	case only(a, b):
		return 1
	case only(b, a):
		return 2
	}
	return 0
}

// Wrong reports whether a line says no more than that what was just taken is wrong;
// bare tells whether it says so with no alone, which may answer a question.
func Wrong(line string) (wrong, bare bool) {
	plain := answer.Plain(line)
	if plain == "no" || plain == "nope" || plain == "n" {
		return true, true
	}
	for _, l := range []string{"no ", "nope ", "sorry ", "wait "} {
		plain = strings.TrimPrefix(plain, l)
	}
	return slices.Contains([]string{"thats wrong", "that is wrong", "wrong", "not that", "thats not right", "thats not what i meant", "thats not what i said", "not what i meant", "not what i said", "i didnt mean that", "i didnt say that", "i did not mean that", "i did not say that",
		"i never said that", "thats not it", "no", "not so", "youre wrong", "incorrect", "misunderstood", "you misunderstood", "forget that", "take that back", "drop that"}, plain), false
}

// Count returns the line if it is no more than a small number in words, with what leads
// to it, which is of mallets where nothing else was asked: so four.
func Count(line string) bool {
	said := core(line, "so ok okay then just well yes yeah", "then please")
	return len(said) == 1 && (said[0] == "two" || said[0] == "four" || (said[0] == "2" || said[0] == "4") && strings.Contains(line, "so "))
}
