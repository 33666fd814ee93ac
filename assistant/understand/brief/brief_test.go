package brief_test

import (
	"strings"
	"testing"

	"mallow/assistant/understand/brief"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
)

// TestMark tells what bare figures, letters and words of many meanings are of in a list
// of short answers, and leaves them alone elsewhere.
func TestMark(t *testing.T) {
	words := lexistest.Words(t)
	for _, tt := range []struct{ say, want string }{
		{"marimba, medium, even", "even=want.colour"},
		{"vibes, four, cross, 32 mm", "four=player.mallets 32 mm=want.diameter_mm"},
		{"Hard, 25 mm", "25 mm=want.diameter_mm"},
		{"mar, 4, ind, s, 36", "mar=instrument.kind 4=player.mallets ind=player.grip s=want.softness 36=want.mass_g"},
		{"vibraphone, mh, 27-30", "mh=want.softness 27=want.mass_g 30=want.mass_g"},
		{"Soft, opens, 30 g", "opens=want.opening 30 g=want.mass_g"},
		{"I play vibes in a café and want it clear. Two.", "Two=player.mallets"},
		{"For vibes in a bar. Mallets: two.", "two=player.mallets"},
		{"Marimba: C2, four, very soft", "C2=instrument.low_hz four=player.mallets"},
		{"medium, a soft yarn head, 31 mm", "31 mm=want.diameter_mm"},

		{"steel balls, 15 mm, ten", ""},
		{"dark, not even close", ""},
		{"it opens at nine", ""},
		{"vibes, pairs: two", ""},
		{"How many pairs for the vibes? Two.", ""},
		{"class of 20, marimba, 12", ""},
		{"I have 30 of them and four left", ""},
		{"the shop opens, even on mondays", ""},
	} {
		c := cover.New(words, tt.say, "")
		before := make([]string, len(c.Items))
		for i := range c.Items {
			if f := c.Item(i).Fact(); f != nil {
				before[i] = f.Slot
			}
		}
		brief.Mark(c)
		var got []string
		for i := range c.Items {
			it := c.Item(i)
			of := it.Of
			if f := it.Fact(); f != nil && f.Slot != before[i] {
				of = f.Slot
			}
			if of != "" {
				got = append(got, c.Said(i, i+1)+"="+of)
			}
		}
		if s := strings.Join(got, " "); s != tt.want {
			t.Errorf("%q: %q, want %q", tt.say, s, tt.want)
		}
	}
}
