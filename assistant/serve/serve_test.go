package serve_test

import (
	"testing"

	"mallow/assistant/serve"
)

// TestWill holds what is wished for where somebody asks whether something will do.
func TestWill(t *testing.T) {
	for line, want := range map[string]string{
		"Found some old acrylic balls. Will either do for bells? Want a clear sound":                "for bells",
		"I have wool and 1 in rubber balls, is medium hard on the marimba possible? First set.":     "medium hard on the marimba",
		"would these work on a vibraphone?":                                                         "on a vibraphone",
		"Can I get a soft marimba pair out of that?":                                                "a soft marimba pair",
		"I have 7/8 in acetal and nylon balls, which is better for a bright xylophone?":             "for a bright xylophone",
		"I have nylon balls. What do I need?":                                                       "",
		"Is it possible?":                                                                           "it",
		"it will do for bells. Two mallets?":                                                        "",
		"could they be any good for the low end of a marimba?":                                      "for the low end of a marimba",
		"I've a bag of 1 in nylon balls and cotton cord, can we make vibe mallets with just these?": "vibe mallets",
	} {
		if got := serve.Will(line); got != want {
			t.Errorf("%q: %q, not %q", line, got, want)
		}
	}
	for line, want := range map[string]bool{
		"which should go on glockenspiel sticks?":         true,
		"which of them is best for a soft sound":          true,
		"a ball which I have":                             false,
		"which ones would you take for the xylophone?":    true,
		"I don't know which way round the tubing goes on": false,
	} {
		if got := serve.Which(line); got != want {
			t.Errorf("%q: %v", line, got)
		}
	}
}
