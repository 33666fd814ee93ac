package whose_test

import (
	"testing"

	"mallow/assistant/whose"
	"mallow/knowledge/knowledgetest"
)

// TestHands holds whose hands are taken to play.
func TestHands(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for text, want := range map[string]string{
		"for my 9 year old who plays":                                             "small",
		"My daughter is 8 and gets a small marimba, I wind, she plays":            "small",
		"I teach seven and eight year olds on a small marimba":                    "small",
		"for my after-school marimba club, kids aged 9 to 12, three kinds":        "small",
		"a class of 24 eight-year-olds":                                           "small",
		"beaters for a class xylophone corner, ages 7 to 9":                       "small",
		"we have little wooden xylophones in kindergarten, children of five":      "small",
		"the mallets are for primary school pupils":                               "small",
		"my son (10) plays the marimba":                                           "small",
		"something light for small hands":                                         "small",
		"soft marimba mallets for kids":                                           "small",
		"my niece, 11, starts on vibraphone":                                      "small",
		"for my 16 year old who plays":                                            "",
		"pupils 12 up play them, I am the woodwork teacher":                       "",
		"my 9 year old winds them, I play":                                        "grown",
		"I have played for 10 years":                                              "",
		"for an 8 year old marimba":                                               "",
		"I played as a child, for marimba now":                                    "",
		"not for kids, for my own band":                                           "",
		"students of 19 play them":                                                "",
		"marimba mallets, 12 turns, 9 slices, for class":                          "",
		"two 25 mm balls for my student":                                          "",
		"no, adults play them":                                                    "grown",
		"I'm 40 and play for myself, the kids only watch":                         "grown",
		"high school students, 15 to 18, play them":                               "",
		"my 7yo is playing the xylophone at school":                               "small",
		"a marimba for 3 to 5 players":                                            "",
		"I need 4 mallets, my daughter is 22 and plays":                           "",
		"xylophone mallets for a seven-year-old, as light as can be and friendly": "small",
	} {
		got := ""
		if x := whose.Hands(cat, text); x != nil {
			got = map[any]string{true: "small", false: "grown"}[x.Value]
		}
		if got != want {
			t.Errorf("%q: %q, not %q", text, got, want)
		}
	}
}
