package guard_test

import (
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/guard"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/lexis/lexistest"
)

// at returns a guard over the whole of a text, and where in it the item stands that is
// marked by stars, with its first sense of a wish.
func at(t *testing.T, lex *lexis.Lexicon, text string) (g guard.Guard, i int, x *lexis.Sense) {
	t.Helper()
	before, rest, ok := strings.Cut(text, "*")
	word, after, closed := strings.Cut(rest, "*")
	if !ok || !closed {
		t.Fatalf("%q: mark one word with stars", text)
	}
	c := cover.New(lex, before+word+after, "")
	i = slices.IndexFunc(c.Items, func(it cover.Item) bool { return c.At(it.From).From >= len(before) })
	for _, s := range c.Item(i).Senses {
		if x == nil && s.Fact != nil && s.Slot != "asked" {
			x = s
		}
	}
	if x == nil {
		t.Fatalf("%q: %q says nothing of a head", text, word)
	}
	return guard.Guard{Place: figure.Place{Chart: c, From: 0, To: len(c.Items)}}, i, x
}

// TestWhatAWordIsSaidOf holds which words are of something else than a head to come.
func TestWhatAWordIsSaidOf(t *testing.T) {
	lex := lexistest.Words(t)
	describes := func(g guard.Guard, i int, x *lexis.Sense) bool { return g.Describes(i, x) }
	existing := func(g guard.Guard, i int, _ *lexis.Sense) bool { return g.Existing(i) }
	condition := func(g guard.Guard, i int, x *lexis.Sense) bool { return g.Condition(i, x) }
	opposed := func(g guard.Guard, i int, _ *lexis.Sense) bool { return g.Opposed(i) }
	scant := func(g guard.Guard, i int, _ *lexis.Sense) bool { return g.Scant(i) }
	former := func(g guard.Guard, i int, x *lexis.Sense) bool { return g.Former(i, x) }
	for _, tt := range []struct {
		name string
		is   func(guard.Guard, int, *lexis.Sense) bool
		text string
		want bool
	}{
		{"a room", describes, "glockenspiel in a *bright* room", true},
		{"a passage", describes, "a really *hard* piece", true},
		{"a place, by two words", describes, "vibes for a *dark* little club", true},
		{"a case", describes, "it came with a *soft* case", true},
		{"how one strikes", describes, "they hit rather *hard*", true},
		{"a section of the band", describes, "i am a *low* brass player", true},
		{"mallets", describes, "i want *hard* mallets", false},
		{"a sound", describes, "a *dark* sound please", false},
		{"alone", describes, "make it *bright*", false},
		{"what somebody owns", existing, "everything i own is *hard*", true},
		{"what is mine", existing, "mine are *hard*", true},
		{"a colleague's", existing, "my colleagues mallets are *bright*", true},
		{"what is to be", existing, "my mallets should be *bright*", false},
		{"what is too much", existing, "mine are too *hard*", false},
		{"at which stroke", condition, "dark even if i *smash it*", true},
		{"how loud", condition, "i *smash it*", false},
		{"the opposite", opposed, "whatever is the opposite of *dull*", true},
		{"no opposite", opposed, "make it *dull*", false},
		{"as good as none", scant, "as little *click* as possible", true},
		{"a little", scant, "a little *click*", false},
		{"what they were for", former, "xylophone. my old pair was for *marimba*", true},
		{"two instruments", former, "xylophone and *marimba*", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g, i, x := at(t, lex, tt.text)
			if got := tt.is(g, i, x); got != tt.want {
				t.Errorf("%q: %v, want %v", tt.text, got, tt.want)
			}
		})
	}
}
