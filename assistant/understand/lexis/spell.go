package lexis

import (
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	edlib "github.com/hbollon/go-edlib"
)

// spelling is a word with what tells quickly that it is not near another: how
// many letters it has, which, one bit each, and the first two.
type spelling struct {
	word    string
	n       int
	letters uint32
	head    [2]rune
}

// initial is the words that begin with a letter.
type initial struct {
	letter rune
	words  []spelling
}

func spellingOf(w string) spelling {
	s := spelling{word: w}
	for _, r := range w {
		if s.n < 2 {
			s.head[s.n] = r
		}
		s.n++
		s.letters |= 1 << (uint32(r) % 32)
	}
	return s
}

// near returns the edit distance between two words, or more than most. Every
// edit takes away or adds at most one letter each.
func (s spelling) near(t spelling, most int) int {
	if s.n-t.n > most || t.n-s.n > most ||
		bits.OnesCount32(s.letters&^t.letters) > most || bits.OnesCount32(t.letters&^s.letters) > most {
		return most + 1
	}
	return edlib.OSADamerauLevenshteinDistance(s.word, t.word)
}

// spell returns the Token for a written word: itself when it is known, else
// the one known word it is surely a misspelling of, else itself.
//
// The first letter must be right, or exchanged with the second, or the one
// slip of a long word. Up to three letters nothing is corrected, up to seven
// one slip is allowed, then two. When two known words are equally near nothing
// is corrected, which is what keeps hard from hand and wool from wood; but letters that
// only stand in another order come before any other slip.
func (l *Lexicon) spell(w string) Token {
	if meant, ok := l.spelt[w]; ok {
		w = meant
	}
	if t, ok := l.known(w); ok {
		return t
	}
	said := spellingOf(w)
	if said.n < 4 || said.n > 24 {
		return Token{Text: w}
	}
	most := 1
	if said.n > 7 {
		most = 2
	}
	best, slips, tied, swapped := "", most+1, false, false
	for _, initial := range l.long {
		if initial.letter != said.head[0] && initial.letter != said.head[1] && said.n <= 7 {
			continue
		}
		for _, v := range initial.words {
			allowed := most
			if v.head[0] != said.head[0] && (v.head[1] != said.head[0] || v.head[0] != said.head[1]) {
				if allowed = 1; said.n <= 7 {
					continue
				}
			}
			swaps := v.n == said.n && v.letters == said.letters // hrad is hard and not head
			switch d := said.near(v, allowed); {
			case d > allowed, swapped && !swaps:
			case d < slips, d == slips && swaps && !swapped:
				best, slips, tied, swapped = v.word, d, false, swaps
			case d == slips && v.word != best:
				tied = tied || !l.synonyms(best, v.word)
			}
		}
	}
	if best == "" || tied || utf8.RuneCountInString(best) < 4 {
		return Token{Text: w}
	}
	for _, other := range l.never[best] {
		if said.near(spellingOf(other), slips) <= slips {
			return Token{Text: w}
		}
	}
	t, _ := l.known(best)
	t.Slips = slips
	return t
}

// known returns the Token of a word of the vocabulary, also in the plural.
func (l *Lexicon) known(w string) (Token, bool) {
	if v, ok := l.numbers[w]; ok {
		return Token{Kind: Number, Text: FormatNumber(v), Value: v, Spelt: true, Whole: v == float64(int(v))}, true
	}
	if _, ok := l.vocab[w]; ok {
		return Token{Text: w}, true
	}
	if s, ok := strings.CutSuffix(w, "s"); ok && len(s) > 2 {
		if _, ok := l.vocab[s]; ok {
			return Token{Text: s}, true
		}
	}
	return Token{}, false
}

// synonyms reports whether two words by themselves mean the same.
func (l *Lexicon) synonyms(a, b string) bool {
	x, y := l.root.to(a), l.root.to(b)
	return x != nil && y != nil && len(x.senses) > 0 && slices.Equal(x.senses, y.senses)
}

// FormatNumber writes a number as people do.
func FormatNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
