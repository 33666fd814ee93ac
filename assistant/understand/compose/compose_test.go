package compose_test

import (
	"fmt"
	"strings"
	"testing"

	"mallow/assistant/understand/compose"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
)

// TestMark makes moves of orders about parts and of shares, and of nothing else.
func TestMark(t *testing.T) {
	words := lexistest.Words(t)
	for _, tt := range []struct{ say, want string }{
		{"lose the slice", "head.layers -1"},
		{"take the slice out", "head.layers -1"},
		{"could you take out that layer?", "head.layers -1"},
		{"one slice less please", "head.layers -1"},
		{"two slices fewer", "head.layers -2"},
		{"take off one of the two slices", "head.layers -1"},
		{"leave out the tubing altogether", "head.layers -9"},
		{"drop both slices", "head.layers -9"},
		{"add one slice under the yarn", "head.layers 1"},
		{"put a slice of tubing under the wool", "head.layers 1"},
		{"I'd like another slice in there", "head.layers 1"},
		{"slip two more slices on", "head.layers 2"},
		{"can we add a second layer?", "head.layers 1"},
		{"wind thirty more turns on it", "head.turns 30 turns"},
		{"put 20 more turns on", "head.turns 20 turns"},
		{"take about forty turns off", "head.turns -40 turns"},
		{"20 turns fewer", "head.turns -20 turns"},
		{"make it 150 turns", "head.turns 150 turns in all"},
		{"go down to 90 turns", "head.turns 90 turns in all"},
		{"half the turns", "head.turns -0.5 share"},
		{"half as many turns please", "head.turns -0.5 share"},
		{"double the turns", "head.turns 1 share"},
		{"a third fewer turns", "head.turns -0.333 share"},
		{"10% heavier", "want.mass_g 0.1 share"},
		{"20 per cent lighter", "want.mass_g -0.2 share"},
		{"a third lighter if possible", "want.mass_g -0.333 share"},
		{"a quarter smaller", "want.diameter_mm -0.25 share"},

		{"don't take out the slice", ""},
		{"I always leave out the slice", ""},
		{"no slice, 120 turns of wool", ""},
		{"two slices and 150 turns", ""},
		{"with one slice", ""},
		{"add a layer of glue", ""},
		{"it took 150 turns", ""},
		{"I have two slices of tubing", ""},
		{"cut a slice from the tubing", ""},
		{"my turn to play", ""},
		{"leave the slice", ""},
		{"how do I cut the slices?", ""},
		{"use the 3/4 tubing", ""},
		{"10 g lighter", "want.mass_g -1"},
	} {
		c := cover.New(words, tt.say, "")
		compose.Mark(c)
		var got []string
		for i := range c.Items {
			if x := c.Item(i).Has("move"); x != nil {
				got = append(got, strings.TrimSpace(fmt.Sprintf("%s %v %s", x.Value, x.Num, x.Unit)))
			}
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%q: %s, want %s", tt.say, got, tt.want)
		}
	}
}
