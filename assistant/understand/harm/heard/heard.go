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
	spoken *strings.Replacer // what sounds alike, once there are words
}

// Add adds a word to be found behind a misspelling if it has so many letters.
func (l *Words) Add(w string, long int) {
	if utf8.RuneCountInString(w) < long || slices.Contains(l.spelt, w) {
		return
	}
	l.spelt = append(l.spelt, w)
	if l.sounds == nil {
		l.sounds = map[string]string{}
		l.spoken = strings.NewReplacer("ck", "k", "ph", "f", "x", "ks", "ge", "je", "gi", "ji", "ce", "se", "ci", "si", "q", "k", "c", "k",
			"z", "s", "y", "i", "ee", "i", "ea", "i", "ai", "a", "ay", "a", "ei", "i", "th", "t")
	}
	if s := l.sound(w); l.sounds[s] == "" {
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
	if l.spoken != nil {
		if s := l.sounds[l.sound(w)]; s != "" {
			return s
		}
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
	if n := cardinal(w); n > 1 {
		return n, false, true
	}
	if n := cardinal(strings.TrimSuffix(w, "s")); n > 4 && n <= 20 { // the under-elevens
		return n, false, true
	}
	switch w {
	case "first":
		return 1, true, true
	case "second":
		return 2, true, true
	case "third":
		return 3, true, true
	case "fifth":
		return 5, true, true
	case "eighth":
		return 8, true, true
	case "ninth":
		return 9, true, true
	case "twelfth":
		return 12, true, true
	}
	if stem, th := strings.CutSuffix(w, "th"); th {
		if n := cardinal(stem); n == 4 || n == 6 || n == 7 || n >= 10 && n <= 20 && n != 12 { // her sixteenth
			return n, true, true
		}
		if tens, ok := strings.CutSuffix(stem, "ie"); ok {
			n := cardinal(tens + "y")
			return n, true, n >= 20 && tens != "fourt"
		}
	}
	return 0, false, false
}

// cardinal returns the number that a word up to twenty or for the tens tells, 0 for
// none.
func cardinal(w string) float64 {
	switch w {
	case "one":
		return 1
	case "two":
		return 2
	case "three":
		return 3
	case "four":
		return 4
	case "five":
		return 5
	case "six":
		return 6
	case "seven":
		return 7
	case "eight":
		return 8
	case "nine":
		return 9
	case "ten":
		return 10
	case "eleven":
		return 11
	case "twelve":
		return 12
	case "thirteen":
		return 13
	case "fourteen":
		return 14
	case "fifteen":
		return 15
	case "sixteen":
		return 16
	case "seventeen":
		return 17
	case "eighteen":
		return 18
	case "nineteen":
		return 19
	case "twenty":
		return 20
	case "thirty":
		return 30
	case "forty", "fourty":
		return 40
	case "fifty":
		return 50
	case "sixty":
		return 60
	case "seventy":
		return 70
	case "eighty":
		return 80
	case "ninety":
		return 90
	}
	return 0
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
		if v[0] != w[0] || max(len(v)-n, n-len(v)) >= at {
			continue
		}
		if d := edlib.OSADamerauLevenshteinDistance(v, w); d < at {
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
func (l *Words) sound(w string) string {
	w = l.spoken.Replace(w)
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
	j := i
	for j < len(text) && 'a' <= text[j] && text[j] <= 'z' {
		j++
	}
	if j == len(text) || text[j] == ' ' { // as nearly all words are
		return text[i:j], j
	}
	var b strings.Builder
	j = i
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
