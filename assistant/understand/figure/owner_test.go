package figure_test

import (
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis/lexistest"
)

// TestApart tells wishes of two people from those of one who compares, or changes his mind.
func TestApart(t *testing.T) {
	lex := lexistest.Words(t)
	for line, want := range map[string]bool{
		"mine soft, hers hard":                             true,
		"mine should be soft and his hard":                 true,
		"soft for me and hard for my brother":              true,
		"I want dark ones and she gets bright ones":        true,
		"a soft one for my wife and a hard one for my son": true,
		"mine soft but hers hard":                          true,
		"my teacher wants hard but I want soft":            false,
		"soft for the low end and hard for the top":        false,
		"mine is soft":                          false,
		"I want soft and my friend wants soft":  false,
		"I want them soft and warm for my wife": false,
		"my brother wants soft ones, dark ones": false,
	} {
		if got := figure.Apart(cover.New(lex, line, "")); got != want {
			t.Errorf("Apart(%q) = %v", line, got)
		}
	}
}
