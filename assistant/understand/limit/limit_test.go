package limit_test

import (
	"fmt"
	"strings"
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
	"mallow/assistant/understand/limit"
)

// TestMark marks figures, grades, loudnesses and notes on which limits are put, by the
// shape of the sentence.
func TestMark(t *testing.T) {
	words := lexistest.Words(t)
	for _, tt := range []struct{ say, want string }{
		// what follows from going past it
		{"anything over 35 g and my tendons start shouting", "35 g turned"},
		{"if it weighs under 20 g it's like air", "20 g turned"},
		{"when they're over 40 mm they hit the next bar", "40 mm turned"},
		{"if it's over 30 g that's fine", ""},
		{"is it bad if it's over 30 g?", ""},
		{"over 30 g and dark please", ""},
		{"30 g is too much, 20 g too little", "30 g most, 20 g least"},
		{"is 31 g too much? I turned 12 in march", "31 g most"},
		{"anything harder than medium and my bars chip", "medium least"},
		{"at 30 g my wrist complains", "30 g most"},
		{"30 g, my hands are small", ""},
		{"smaller than 30 mm rattles between the bars", "30 mm turned"},
		{"weight: max 30, size: max 35", "30 most, 35 most"},
		// the second of two
		{"28 g, 30 tops", "28 g about, 30 most"},
		{"12 quid, 13 at a push", "13 most"},
		{"20 g, please use the 30 mm ball", ""},
		// pointed at
		{"I ran out of patience at 40 grams, so lighter than that", "40 grams most"},
		// grades, loudness and notes
		{"hard is the ceiling", "hard least"},
		{"soft is the floor", "soft least"},
		{"medium is as hard as I go", "medium least"},
		{"it never needs to be louder than a mezzoforte", "mezzoforte most"},
		{"I won't play anything higher than C7", "C7 most"},
		{"a bit harder than medium", ""},
	} {
		c := cover.New(words, tt.say, "")
		limit.Mark(c)
		var got []string
		for i := range c.Items {
			switch it := c.Item(i); {
			case it.Limit != "":
				got = append(got, fmt.Sprint(c.Said(i, i+1), " ", it.Limit))
			case it.Turned:
				got = append(got, c.Said(i, i+1)+" turned")
			}
		}
		if s := strings.Join(got, ", "); s != tt.want {
			t.Errorf("%q: marked %q, want %q", tt.say, s, tt.want)
		}
	}
}
