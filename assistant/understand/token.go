package understand

import (
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// longest is how many characters of a text are read.
const longest = 2000

// tidy makes text fit to read and to say back: compatibility forms, dashes,
// quotes and spaces are made plain, and what can't be printed is dropped. It
// reports whether text was too long and cut.
func tidy(text string) (clean string, cut bool) {
	if isPlain(text) {
		return text[:min(len(text), longest)], len(text) > longest
	}
	var b strings.Builder
	n := 0
	var last rune
	for _, r := range text {
		if n++; n > longest {
			cut = true
			break
		}
		switch {
		case unicode.Is(unicode.No, r) && unicode.IsDigit(last):
			b.WriteByte(' ') // 1⅛ is 1 1/8, not 11/8
		case strings.ContainsRune("″“”„«»", r):
			r = '"' // before normalisation makes two primes of one
		case strings.ContainsRune("′’‘`´", r):
			r = '\''
		case r == '×' || r == '✕' || r == '✖':
			r = 'x'
		case r == '♯':
			r = '#'
		case r == '♭':
			r = 'b'
		case r == '−' || unicode.Is(unicode.Pd, r):
			r = '-'
		}
		b.WriteRune(r)
		last = r
	}
	s := norm.NFKC.String(b.String())
	b.Reset()
	for _, r := range s {
		switch {
		case r == '\u2044' || r == '\u2215':
			b.WriteByte('/')
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		case r == unicode.ReplacementChar || !unicode.IsPrint(r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return strings.ReplaceAll(b.String(), "''", `"`), cut
}

// isPlain reports whether there is nothing in text to make tidy.
func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '`' || c == '\'' && i > 0 && text[i-1] == c {
			return false
		}
	}
	return true
}

// kind is what a token is made of.
type kind byte

const (
	word     kind = iota // letters
	number               // digits, or a word for a number
	fraction             // 1/8
	idText               // the id of a part of the catalogue
	mark                 // punctuation
)

// token is a piece of a text.
type token struct {
	kind     kind
	text     string  // in lower case, spelt right; a number word in digits
	value    float64 // of a number or a fraction
	from, to int     // where in the text
	near     bool    // no space before it
	spelt    bool    // a number written as a word
	whole    bool    // a number without decimals
	slips    int     // letters corrected
}

// is reports whether t is the punctuation or word s.
func (t token) is(s string) bool { return t.text == s && (t.kind == mark || t.kind == word) }

// tokens splits a tidied text and corrects its spelling.
func (l *lexicon) tokens(text string) []token {
	var out []token
	fixed := map[string]token{} // spellings already looked up
	for i := 0; i < len(text); {
		if text[i] == ' ' {
			i++
			continue
		}
		near := i > 0 && text[i-1] != ' '
		if id, n := l.idAt(text, i); n > 0 {
			out = append(out, token{kind: idText, text: id, from: i, to: i + n, near: near})
			i += n
			continue
		}
		t := lex(text, i)
		t.near = near
		if t.kind == word {
			f, ok := fixed[t.text]
			if !ok {
				f = l.spell(t.text)
				fixed[t.text] = f
			}
			t.text, t.slips, t.kind = f.text, f.slips, f.kind
			t.value, t.spelt, t.whole = f.value, f.spelt, f.whole
		}
		out = append(out, t)
		i = t.to
	}
	return out
}

// lex returns the token that starts at text[i], which is not a space, as it
// is written.
func lex(text string, i int) token {
	c := text[i]
	switch {
	case isDigit(c) || c == '.' && i+1 < len(text) && isDigit(text[i+1]):
		return lexNumber(text, i)
	case isNote(text[i:]) > 0 && (i == 0 || !isLetterBefore(text, i)):
		n := isNote(text[i:])
		return token{text: strings.ToLower(text[i : i+n]), from: i, to: i + n}
	}
	end := i
	var b strings.Builder
	for j, r := range text[i:] {
		if unicode.IsLetter(r) || unicode.IsMark(r) {
			b.WriteRune(unicode.ToLower(r))
		} else if r != '\'' || !letterAt(text, i+j+1) || j == 0 {
			break // an apostrophe within a word is dropped: dont, whats
		}
		end = i + j + len(string(r))
	}
	if w := b.String(); end > i {
		if end < len(text) && isDigit(text[end]) && (w == "mmx" || w == "cmx" || w == "inx") {
			return token{text: w[:2], from: i, to: end - 1} // 25mmx3mm
		}
		return token{text: w, from: i, to: end}
	}
	for _, r := range text[i:] {
		return token{kind: mark, text: string(r), from: i, to: i + len(string(r))}
	}
	return token{}
}

// lexNumber reads digits with decimals after a point or comma, or a fraction.
func lexNumber(text string, i int) token {
	j := i
	for j < len(text) && isDigit(text[j]) {
		j++
	}
	if k := afterSlash(text, j); j > i && k > 0 {
		end := k
		for end < len(text) && isDigit(text[end]) {
			end++
		}
		top, _ := strconv.ParseFloat(text[i:j], 64)
		bottom, _ := strconv.ParseFloat(text[k:end], 64)
		if bottom > 0 {
			return token{kind: fraction, text: text[i:end], value: top / bottom, from: i, to: end}
		}
	}
	whole := true
	if j+1 < len(text) && (text[j] == '.' || text[j] == ',') && isDigit(text[j+1]) {
		whole = false
		j++
		for j < len(text) && isDigit(text[j]) {
			j++
		}
	}
	digits := strings.Replace(text[i:j], ",", ".", 1)
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil { // out of range: too large to mean anything
		return token{kind: mark, text: text[i:j], from: i, to: j}
	}
	return token{kind: number, text: digits, value: v, whole: whole, from: i, to: j}
}

// afterSlash returns where the bottom of a fraction starts whose top ends at
// text[i], or 0: 3/4 or 3 / 4.
func afterSlash(text string, i int) int {
	rest := strings.TrimLeft(text[i:], " ")
	if !strings.HasPrefix(rest, "/") {
		return 0
	}
	rest = strings.TrimLeft(rest[1:], " ")
	if rest == "" || !isDigit(rest[0]) {
		return 0
	}
	return len(text) - len(rest)
}

// isNote returns the length of a note name with its octave at the start of s,
// such as F#3, or 0.
func isNote(s string) int {
	if s == "" || !strings.ContainsRune("abcdefgABCDEFG", rune(s[0])) {
		return 0
	}
	n := 1
	if len(s) > n && (s[n] == '#' || s[n] == 'b') {
		n++
	}
	if len(s) <= n || !isDigit(s[n]) {
		return 0
	}
	n++
	if len(s) > n && (isDigit(s[n]) || s[n] == '/' || s[n] == '.') || letterAt(s, n) {
		return 0
	}
	return n
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// letterAt reports whether a letter starts at s[i].
func letterAt(s string, i int) bool {
	if i >= len(s) {
		return false
	}
	for _, r := range s[i:] {
		return unicode.IsLetter(r)
	}
	return false
}

// isLetterBefore reports whether s[i] continues a word.
func isLetterBefore(s string, i int) bool {
	return i > 0 && (s[i-1] >= 0x80 || unicode.IsLetter(rune(s[i-1])))
}
