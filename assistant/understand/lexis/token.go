package lexis

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Longest is how many characters of a text are read.
const Longest = 2000

// Tidy makes text fit to read and to say back: compatibility forms, dashes,
// quotes and spaces are made plain, and what can't be printed is dropped. It
// refuses what is too long, or no text, and says so.
func Tidy(text string) (clean, refused string) {
	if len(text) > 4*Longest || len(text) > Longest && utf8.RuneCountInString(text) > Longest {
		return "", fmt.Sprintf("a text of more than %d characters", Longest)
	}
	if isPlain(text) {
		return text, ""
	}
	if !utf8.ValidString(text) {
		return "", "bytes that are no text"
	}
	if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && !unicode.IsSpace(r) }) {
		return "", "a control character"
	}
	var b strings.Builder
	var last rune
	for _, r := range text {
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
	return strings.ReplaceAll(b.String(), "''", `"`), ""
}

// isPlain reports whether there is nothing in text to make Tidy.
func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '`' || c == '\'' && i > 0 && text[i-1] == c {
			return false
		}
	}
	return true
}

// Kind is what a Token is made of.
type Kind byte

const (
	Word     Kind = iota // letters
	Number               // digits, or a word for a number
	Fraction             // 1/8
	PartID               // the id of a part of the catalogue
	Mark                 // punctuation
)

// Token is a piece of a text.
type Token struct {
	Kind     Kind
	Text     string  // in lower case, spelt right; a number word in digits
	Value    float64 // of a number or a fraction
	From, To int     // where in the text
	Near     bool    // no space before it
	Spelt    bool    // a number written as a word
	Whole    bool    // a number without decimals
	Slips    int     // letters corrected
}

// Is reports whether t is the punctuation or word s.
func (t Token) Is(s string) bool { return t.Text == s && (t.Kind == Mark || t.Kind == Word) }

// Tokens splits a tidied text and corrects its spelling.
func (l *Lexicon) Tokens(text string) []Token {
	var out []Token
	fixed := map[string]Token{} // spellings already looked up
	for i := 0; i < len(text); {
		if text[i] == ' ' {
			i++
			continue
		}
		near := i > 0 && text[i-1] != ' '
		if k := len(out); near && text[i] == '.' && k > 0 && slices.Contains([]string{"mr", "mrs", "ms", "dr", "prof"}, out[k-1].Text) {
			i++ // Mr. Jones
			continue
		}
		if id, n := l.idAt(text, i); n > 0 {
			out = append(out, Token{Kind: PartID, Text: id, From: i, To: i + n, Near: near})
			i += n
			continue
		}
		t := lex(text, i)
		t.Near = near
		if t.Kind == Word {
			f, ok := fixed[t.Text]
			if !ok {
				f = l.spell(t.Text)
				fixed[t.Text] = f
			}
			t.Text, t.Slips, t.Kind = f.Text, f.Slips, f.Kind
			t.Value, t.Spelt, t.Whole = f.Value, f.Spelt, f.Whole
		}
		out = append(out, t)
		i = t.To
	}
	return l.unbracketed(out)
}

// unbracketed leaves out the brackets round a material that stands within what it is
// said of: synthetic (fibreglass) bars.
func (l *Lexicon) unbracketed(tokens []Token) []Token {
	for i := len(tokens) - 4; i > 0; i-- {
		if !tokens[i].Is("(") || !tokens[i+2].Is(")") || tokens[i-1].Kind != Word || tokens[i+3].Kind != Word {
			continue
		}
		within := func(slot string) bool { x, n := l.Longest(tokens, i+1, slot); return x != nil && n == 1 }
		if within("material") || within("instrument.bars") {
			tokens = slices.Delete(slices.Delete(tokens, i+2, i+3), i, i+1)
		}
	}
	return tokens
}

// lex returns the Token that starts at text[i], which is not a space, as it
// is written.
func lex(text string, i int) Token {
	c := text[i]
	switch {
	case isDigit(c) || c == '.' && i+1 < len(text) && isDigit(text[i+1]):
		return lexNumber(text, i)
	case isNote(text[i:]) > 0 && (i == 0 || !isLetterBefore(text, i)):
		n := isNote(text[i:])
		return Token{Text: strings.ToLower(text[i : i+n]), From: i, To: i + n}
	}
	end := i
	for end < len(text) && 'a' <= text[end] && text[end] <= 'z' {
		end++
	}
	if end > i && (end == len(text) || text[end] == ' ') { // as nearly all words are
		return Token{Text: text[i:end], From: i, To: end}
	}
	end = i
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
			return Token{Text: w[:2], From: i, To: end - 1} // 25mmx3mm
		}
		return Token{Text: w, From: i, To: end}
	}
	for _, r := range text[i:] {
		return Token{Kind: Mark, Text: string(r), From: i, To: i + len(string(r))}
	}
	return Token{}
}

// lexNumber reads digits with decimals after a point or comma, or a fraction.
func lexNumber(text string, i int) Token {
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
		if bottom > 0 && !twoSizes(top, bottom) {
			return Token{Kind: Fraction, Text: text[i:end], Value: top / bottom, From: i, To: end}
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
		return Token{Kind: Mark, Text: text[i:j], From: i, To: j}
	}
	return Token{Kind: Number, Text: digits, Value: v, Whole: whole, From: i, To: j}
}

// twoSizes reports whether two numbers with a stroke between are no fraction of an inch
// but two sizes: 25/28 mm.
func twoSizes(top, bottom float64) bool {
	return top >= 12 && bottom >= 12 && bottom != 16 && bottom != 32 && bottom != 64
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
	if len(s) > n && (isDigit(s[n]) || s[n] == '/' || s[n] == '.' && n+1 < len(s) && isDigit(s[n+1])) || letterAt(s, n) {
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
