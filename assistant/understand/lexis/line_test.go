package lexis

import (
	"slices"
	"strings"
	"testing"

	"mallow/knowledge"
)

// Of a long line what may stand in it is worked out once. That leaves no phrase
// out: it has the same as a line that tries every pattern at every token.
func TestLongLine(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	l, err := New(cat)
	if err != nil {
		t.Fatal(err)
	}
	type phrase struct {
		i, n   int
		senses int
	}
	all := func(x *Line) (list []phrase) {
		for i := range x.tokens {
			x.Phrases(i, func(senses []*Sense, n int) { list = append(list, phrase{i, n, len(senses)}) })
		}
		return list
	}
	for _, text := range []string{
		strings.Repeat("not a one ", 60),
		strings.Repeat("a bit softer, not too heavy, and would you mind making them darker; ", 8),
		strings.Repeat("no more than 28 grams, nothing below middle C, keep the core as it is, we can't go past 30 dollars. ", 5),
	} {
		tokens := l.Tokens(text)
		long := l.Over(tokens)
		if long.words == nil {
			t.Fatalf("%d tokens are no long line", len(tokens))
		}
		if got, want := all(long), all(&Line{lex: l, tokens: tokens}); !slices.Equal(got, want) || len(want) == 0 {
			t.Errorf("%.40s…: %d phrases, %d where every pattern is tried", text, len(got), len(want))
		}
	}
}
