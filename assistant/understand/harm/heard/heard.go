// Package heard knows which word was meant by one that is misspelt or written as
// it sounds, and the words for numbers. It never says what a word is a sign of.
package heard

import (
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	edlib "github.com/hbollon/go-edlib"
)

// Words are those that a misspelling may be meant for. The zero value has none.
type Words struct {
	spelt  []string          // long enough to be misspelt
	short  []string          // of four letters, of which two may be exchanged
	sounds map[string]string // by how they sound
}

// Add adds a word to be found behind a misspelling if it has so many letters.
func (l *Words) Add(w string, long int) {
	if utf8.RuneCountInString(w) < long || slices.Contains(l.spelt, w) {
		return
	}
	l.spelt = append(l.spelt, w)
	if l.sounds == nil {
		l.sounds = map[string]string{}
	}
	if s := sound(w); l.sounds[s] == "" {
		l.sounds[s] = w
	}
}

// Short adds a word of four letters, to be found where two are exchanged.
func (l *Words) Short(w string) {
	if len(w) == 4 {
		l.short = append(l.short, w)
	}
}

// Near adds words that are found by their spelling alone, and not by their sound.
func (l *Words) Near(words ...string) { l.spelt = append(l.spelt, words...) }

// Sort makes what is found not depend on the order in which words were added.
func (l *Words) Sort() {
	slices.Sort(l.spelt)
	slices.Sort(l.short)
}

// Spell returns the word that w is surely a misspelling of, else w.
func (l *Words) Spell(w string) string {
	n := utf8.RuneCountInString(w)
	if n < 4 || n > 20 {
		return w
	}
	if s := l.sounds[sound(w)]; s != "" {
		return s
	}
	if n < 5 {
		for _, v := range l.short {
			if swapped(v, w) {
				return v
			}
		}
		for _, v := range l.spelt { // fums
			if len(v) == 5 && v[0] == w[0] && consonants(v) == consonants(w) && edlib.OSADamerauLevenshteinDistance(v, w) == 1 {
				return v
			}
		}
		return w
	}
	most := 1
	if n > 7 {
		most = 2
	}
	best, at := w, most+1
	for _, v := range l.spelt {
		if d := utf8.RuneCountInString(v) - n; d > most || -d > most || v[0] != w[0] {
			continue
		}
		d := edlib.OSADamerauLevenshteinDistance(v, w)
		if d < at && (d < 2 || utf8.RuneCountInString(v) > 7) {
			best, at = v, d
		}
	}
	return best
}

// number reads the words for numbers up to nineteen, and for their order.
func number(w string) (n float64, ordinal, ok bool) {
	cardinals := [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"}
	ordinals := [...]string{"", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth"}
	if i := slices.Index(cardinals[:], w); i > 1 {
		return float64(i), false, true
	}
	if i := slices.Index(cardinals[:], strings.TrimSuffix(w, "s")); i > 4 { // the under-elevens
		return float64(i), false, true
	}
	if i := slices.Index(ordinals[:], w); i > 0 {
		return float64(i), true, true
	}
	if i := slices.Index(cardinals[:], strings.TrimSuffix(w, "th")); i > 13 && strings.HasSuffix(w, "th") { // her sixteenth
		return float64(i), true, true
	}
	for i, tens := range [...]string{"twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"} {
		if w == tens || w == "fourty" && i == 2 {
			return float64(20 + 10*i), false, true
		}
		if w == strings.TrimSuffix(tens, "y")+"ieth" {
			return float64(20 + 10*i), true, true
		}
	}
	return 0, false, false
}

// NearNumber returns the number of an age whose word w is surely a misspelling of.
func NearNumber(w string) (float64, bool) {
	n := utf8.RuneCountInString(w)
	if n < 5 || n > 11 || strings.HasSuffix(w, "th") || strings.HasSuffix(w, "ties") || strings.HasSuffix(w, "ty") {
		return 0, false
	}
	most := 1
	if n > 7 {
		most = 2
	}
	best, at := 0, most+1
	for i, v := range [...]string{"eight", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"} {
		if d := edlib.OSADamerauLevenshteinDistance(v, w); d < at && v[0] == w[0] {
			if best, at = i+10, d; i == 0 {
				best = 8
			}
		}
	}
	return float64(best), best > 0
}

// consonants returns w without its vowels.
func consonants(w string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune("aeiou", r) {
			return -1
		}
		return r
	}, w)
}

// swapped reports whether w is v with two neighbouring letters exchanged.
func swapped(v, w string) bool {
	return len(v) == len(w) && v != w && edlib.OSADamerauLevenshteinDistance(v, w) == 1 && edlib.LevenshteinDistance(v, w) == 2
}

// sound writes a word as it sounds, roughly: allergic and alerjik are one.
func sound(w string) string {
	w = strings.NewReplacer("ck", "k", "ph", "f", "x", "ks", "ge", "je", "gi", "ji", "ce", "se", "ci", "si", "q", "k", "c", "k",
		"z", "s", "y", "i", "ee", "i", "ea", "i", "ai", "a", "ay", "a", "ei", "i", "th", "t").Replace(w)
	var b strings.Builder
	var last rune
	for _, r := range w {
		if r != last {
			b.WriteRune(r)
		}
		last = r
	}
	return b.String()
}

// digits reads the digits at byte i of text, with decimals and a plus sign after
// them, and where their ending does end: 6th. 3/4 is no number; digits of another
// script have no text.
func digits(text string, i int) (w Word, end int) {
	j := i
	for j < len(text) && digit(text[j]) {
		j++
	}
	if j == i { // digits of another script
		_, n := utf8.DecodeRuneInString(text[i:])
		return Word{}, i + n
	}
	if j+1 < len(text) && text[j] == '.' && digit(text[j+1]) {
		for j++; j < len(text) && digit(text[j]); j++ {
		}
	}
	v, err := strconv.ParseFloat(text[i:j], 64)
	w = Word{Text: text[i:j], From: i, To: j, Num: v, IsNum: err == nil}
	if j < len(text) && text[j] == '/' {
		w.IsNum = false // 3/4
		for j++; j < len(text) && digit(text[j]); j++ {
		}
		w.To = j
	}
	for _, ending := range [...]string{"st", "nd", "rd", "th", "eme", "e", "ème", "º", "ª", "°"} {
		if r, _ := utf8.DecodeRuneInString(text[min(j+len(ending), len(text)):]); strings.HasPrefix(text[j:], ending) && !unicode.IsLetter(r) {
			w.Ordinal, j = true, j+len(ending)
			break
		}
	}
	if j < len(text) && text[j] == '+' {
		w.Text += "+"
		j++
	}
	return w, j
}

func digit(b byte) bool { return b >= '0' && b <= '9' }

// Roman returns the number of a class written as in II to XII, 0 where it is none.
func Roman(text string) int {
	return 1 + slices.Index([]string{"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"}, text)
}

// Split returns the words of a phrase in lower case.
func Split(say string) iter.Seq[string] {
	return strings.FieldsFuncSeq(strings.ReplaceAll(strings.ToLower(say), "'", ""), func(r rune) bool { return !unicode.IsLetter(r) })
}

// word reads the word that begins at text[i], in lower case, and where it ends;
// an apostrophe within it is dropped.
func word(text string, i int) (w string, end int) {
	letter := func(j int) bool {
		r, _ := utf8.DecodeRuneInString(text[j:])
		return unicode.IsLetter(r)
	}
	var b strings.Builder
	j := i
	for j < len(text) {
		r, n := utf8.DecodeRuneInString(text[j:])
		if unicode.IsLetter(r) || unicode.IsMark(r) {
			b.WriteRune(unicode.ToLower(r))
		} else if r != '\'' && r != '’' && r != '`' || !letter(j+n) {
			break
		}
		j += n
	}
	return b.String(), j
}

// No reports whether a first word is a no to a question; of "no" itself, whether it
// stands alone or what follows goes on from it: no thanks, no we don't; not no glue.
func No(first, second string, alone bool) bool {
	if first != "no" || alone {
		return slices.Contains([]string{"no", "nope", "nah", "nein", "non", "none", "nobody", "n", "noone"}, first)
	}
	return slices.Contains([]string{"no", "not", "none", "never", "thanks", "thank", "need", "one", "problem", "problems", "trouble", "issue", "issues", "worries",
		"sir", "madam", "miss", "mate", "it", "its", "that", "thats", "there", "theres", "all", "everyone", "everybody", "nobody", "and", "but", "way", "sorry",
		"of", "dont", "latex", "rubber", "under", "im", "we", "i"}, second)
}

// Fine reports whether a word may end what is said to be fine with latex.
func Fine(w string) bool {
	return slices.Contains([]string{"fine", "ok", "okay", "good", "happy", "cool", "alright", "with", "it", "that", "them", "us", "here", "all", "safe", "clear"}, w)
}
