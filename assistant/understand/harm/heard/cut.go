package heard

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Word is a word, a number or a mark of a text.
type Word struct {
	Text     string // in lower case, without apostrophes
	From, To int    // bytes of the text
	Num      float64
	IsNum    bool
	Ordinal  bool // 6th
	Short    bool // written with an apostrophe: we're
	Mark     bool
}

// Cut cuts a text into words. Hyphens part words: 9-year-old is four less the
// hyphens.
func Cut(text string) []Word {
	var out []Word
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		switch {
		case unicode.IsDigit(r):
			w, end := digits(text, i)
			if w.Text != "" {
				out = append(out, w)
			}
			i = end
		case unicode.IsLetter(r):
			i = letters(text, i, &out)
		case r == '.' && len(out) > 0 && out[len(out)-1].To == i && title(out[len(out)-1].Text):
			i += n // Mr. Jones
		case strings.ContainsRune(".,;:!?()", r):
			out = append(out, Word{Text: string(r), From: i, To: i + n, Mark: true})
			i += n
		case r == '-' || r == '–' || r == '—':
			if i == 0 || text[i-1] == ' ' || r == '—' {
				out = append(out, Word{Text: "-", From: i, To: i + n, Mark: true})
			}
			i += n
		default:
			i += n
		}
	}
	return out
}

// title reports whether a full stop after word w only shortens it.
func title(w string) bool { return w == "mr" || w == "mrs" || w == "ms" || w == "dr" || w == "prof" }

// letters reads a word.
func letters(text string, i int, out *[]Word) int {
	w, j := word(text, i)
	t := Word{Text: w, From: i, To: j, Short: strings.ContainsAny(text[i:j], "'’`")}
	if n, ordinal, ok := number(w); ok {
		t.Num, t.IsNum, t.Ordinal = n, true, ordinal
	}
	if w == "one" && len(*out) > 0 && (*out)[len(*out)-1].tens() {
		t.Num, t.IsNum = 1, true
	}
	ofYears := strings.HasPrefix(text[j:], "-year") || strings.HasPrefix(text[j:], "-yr")                          // thirty nine-year-olds
	if k := len(*out) - 1; k >= 0 && t.IsNum && t.Num < 10 && (*out)[k].tens() && !(ofYears && text[i-1] == ' ') { // seventy-two
		(*out)[k].Num += t.Num
		(*out)[k].Ordinal = t.Ordinal
		(*out)[k].To = j
		return j
	}
	*out = append(*out, t)
	return j
}

// tens reports whether w is a word like twenty, which another digit in words may
// follow.
func (w Word) tens() bool {
	return w.IsNum && !w.Ordinal && w.Num >= 20 && w.Num <= 90 && math.Mod(w.Num, 10) == 0 && w.Text[0] > '9'
}
