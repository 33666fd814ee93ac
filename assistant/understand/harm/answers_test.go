package harm_test

import (
	"slices"
	"testing"

	"mallow/assistant/understand/harm"
)

// TestFewWords holds what a few words say as the answer to an open question of harm:
// who is, who is left out, how many of a group, which grown-up, which other allergy.
func TestFewWords(t *testing.T) {
	r := newReader(t)
	for _, c := range []struct {
		asked, say string
		want       []string // what is read of the asked fact; none where it stays open
	}{
		{harm.LatexOK, "the wife is", []string{"!latex"}},
		{harm.Minor, "no allergies", nil}, // which is no answer of an age
		{harm.Minor, "nobody has any allergies that we know of", nil},
		{harm.Minor, "no trouble with latex at all, she wears rubber gloves to wash up", nil},
		{harm.Minor, "no problem with fumes", nil},
		{harm.Minor, "no, no allergies", []string{"!minor"}},
		{harm.LatexOK, "me sadly", []string{"!latex"}},
		{harm.LatexOK, "two of them", []string{"!latex"}},
		{harm.LatexOK, "all but Jonas", []string{"!latex"}},
		{harm.LatexOK, "nobody but me", []string{"!latex"}},
		{harm.LatexOK, "two of them are fine", []string{"!latex"}},
		{harm.LatexOK, "the two of us are fine", []string{"latex"}},
		{harm.LatexOK, "not a soul", []string{"latex"}},
		{harm.LatexOK, "not to my knowledge", []string{"latex"}},
		{harm.LatexOK, "just pollen", []string{"latex"}},
		{harm.LatexOK, "only cats", []string{"latex"}},
		{harm.LatexOK, "I asked everyone, all clear on that front", []string{"latex"}},
		{harm.LatexOK, "not as far as I've heard", []string{"ask latex"}},
		{harm.LatexOK, "skin like leather", nil},
		{harm.LatexOK, "all good", nil},
		{harm.Minor, "two of the eight", []string{"minor"}},
		{harm.Minor, "a few are", []string{"minor"}},
		{harm.Minor, "just gone forty", []string{"!minor"}},
		{harm.Minor, "both grown", []string{"!minor"}},
		{harm.Minor, "half my ensemble cant vote yet", []string{"minor"}},
		{harm.Supervised, "their dad", []string{"adult by"}},
		{harm.Supervised, "an aide is always there", []string{"adult by"}},
		{harm.Supervised, "I'm here the whole time", []string{"adult by"}},
		{harm.Supervised, "my dad is away", []string{"!adult by"}},
		{harm.Ventilated, "it's a cellar", []string{"!air"}},
		{"", "born in 1958", []string{"!minor"}},
		{"", "my brother's 19 and he's watching", nil},
		{"", "nobody under thirty in the group", []string{"!minor"}},
		{"", "Isn't for kids, this", nil},
		{"", "no kids with the glue", []string{"ask minor"}},
		{"", "my daughter who is a surgeon plays vibes", []string{"ask minor"}},
		{"", "vibes player, 19, broke", []string{"!minor"}},
		{"", "a parrot chews my yarn", []string{"ask solvent"}},
		{"", "there's a parrot in the workshop", []string{"!solvent"}},
		{"", "the 12 year old rosewood bars", nil},
		{"", "should a 10 year old use a drill?", []string{"ask minor"}},
		{"", "do I have to be 18?", []string{"ask minor"}},
		{"", "we ventilate, fan in the window blowing out", []string{"air"}},
		{"", "our director Mr. B will be there", []string{"adult by"}},
	} {
		path := c.asked
		short := shorts()[path]
		var got []string
		for _, w := range weighed(r, c.say, c.asked) {
			if path == "" || w == short || w == "!"+short || w == "ask "+short {
				got = append(got, w)
			}
		}
		if path == "" { // what is expected is among it
			for _, w := range c.want {
				if !slices.Contains(got, w) {
					t.Errorf("%q: read %q, want %q", c.say, got, w)
				}
			}
			if c.want == nil && (slices.Contains(got, "minor") || slices.Contains(got, "!minor")) {
				t.Errorf("%q: read %q of an age, want none", c.say, got)
			}
			continue
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q, asked %s: read %q, want %q", c.say, c.asked, got, c.want)
		}
	}
}
