package shift_test

import (
	"fmt"
	"strings"
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
	"mallow/assistant/understand/shift"
)

// TestMark marks figures that say by how much something moves, and leaves the others.
func TestMark(t *testing.T) {
	words := lexistest.Words(t)
	for _, tt := range []struct{ say, want string }{
		{"put five grams on", "want.mass_g + 0.005"},
		{"go up half an ounce", "want.mass_g + 0.0142"},
		{"two grams off the head", "want.mass_g - 0.002"},
		{"the weight goes down by seven", "want.mass_g - 0.007"},
		{"everything but the weight, that goes down by seven", "want.mass_g - 0.007"},
		{"add grams 6 please", "want.mass_g + 0.006"},
		{"another 5 g", "want.mass_g + 0.005"},
		{"weight +4", "want.mass_g + 0.004"},
		{"a couple of millimetres off it", "want.diameter_mm - 0.002"},
		{"could the head go down by 2 mm?", "want.diameter_mm - 0.002"},
		{"knock 5 off the price", "want.budget - 500"},
		{"it's 2 mm too big", "want.diameter_mm - 0.002"},
		{"about 3 g too light", "want.mass_g + 0.003"},
		{"30 g too heavy", ""}, // a limit
		{"loosen the purse strings by three quid", "want.budget + 300"},

		{"bring it down to 24 g", ""},            // where it should come to
		{"24 g up", ""},                          // a limit
		{"less than 5 g", ""},                    // one more
		{"30 g on the scale", ""},                // no order
		{"another 5 g of wool", ""},              // of a part
		{"cut 2 inches off the dowel", ""},       // of a part
		{"hold it 2 inches off the bars", ""},    // a distance
		{"the old ones weigh 5 g more", ""},      // told, not ordered
		{"I took five grams off yesterday", ""},  // told, not ordered
		{"drop the weight to 24 g", ""},          // where it should come to
		{"lower the limit by five grams", ""},    // the limit moves
		{"take the 30 g ones off the list", ""},  // a head's own
		{"no more than 20 dollars on yarn", ""},  // a limit
		{"two pairs and another pair later", ""}, // pairs
	} {
		c := cover.New(words, tt.say, "")
		shift.Mark(c)
		var got []string
		for i := range c.Items {
			x := c.Item(i).Has("move")
			if x == nil {
				continue
			}
			q := c.Item(i + 1).Qty
			if q == nil {
				q = c.Item(i - 1).Qty
			}
			if q != nil {
				got = append(got, fmt.Sprintf("%s %s %.3g", x.Value, map[bool]string{true: "+", false: "-"}[x.Num > 0], q.Value))
			}
		}
		if s := strings.Join(got, ", "); s != tt.want {
			t.Errorf("%q: moves %q, want %q", tt.say, s, tt.want)
		}
	}
}
