package talk

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"mallow/assistant"
	"mallow/assistant/page"
)

// personas are people as they would go through a conversation. An empty line
// is Enter.
var personas = map[string][]string{
	"a child with a parent": {
		"hi im 9 and i want to make mallets with my dad", "yes", "marimba", "I dont know", "what is a durometer", "soft", "", "", "", "", "",
		"is it safe", "is it hard to make", "how long does it take", "why", "more", "more", "more", "more", "build", "", "", "", "why", "it slipped", "no", "yes", "", "", "", "", "", "", "", "stop here",
	},
	"a hobbyist with bells": {
		"two mallets for bells, medium, all adults, latex is fine, no solvents", "", "", "", "", "what will it cost", "can i trust the numbers", "will it hurt my bars", "why not brass",
		"harder", "what if it is lighter", "compare 1 and 2", "compare", "the rules", "the rules", "choice 2", "do i need the yarn", "show answers", "yes", "", "card", "", "", "", "", "no", "another head",
	},
	"a teacher": {
		"", "", "", "", "", "", "", "", "help", "lesson 1", "1", "stop", "teach me", "2", "1", "stop", "what if the wall is thicker", "what if I play four mallets in a cross grip",
		"how many more questions", "what tools do i need", "what is F#4", "what is ff", "what is EPDM", "what does N mean", "show the drawing", "why not silicone",
	},
	"a maker in a hurry": {
		"four mallets cross grip on a five-octave marimba, low end, medium soft, dark, latex is fine, all adults, no solvents", "", "", "", "", "", "softer", "lighter but same sound", "cheaper", "undo",
		"one more layer", "a thicker wall", "why this layer", "why wool", "why the core", "build", "", "", "", "", "", "10.2 10.4 9.9 10.1", "", "", "", "", "", "", "", "", "",
		"it rattles", "no", "no", "yes", "card", "stop here",
	},
	"somebody who wants it all": {
		"two mallets, five-octave marimba, medium, all over, I'm 40 and have made a few sets, latex is fine, no solvents", "softer", "one more layer", "lighter", "undo", "undo", "more", "more", "more", "more",
		"compare 1 and 2", "what if it is lighter", "why not 50 turns", "what if the wall is thicker", "for the high end", "", "",
	},
	"somebody with an old pair": {
		"it rattles", "no", "yes", "yarn has gone hard", "no", "yes", "rewrap", "rewrap poly-1-1/8-drilled + latex-3/4x1/8 + wool-medium*128 + birch-16", "", "", "", "", "", "", "", "", "", "", "16.9 16.5", "", "", "", "stop here",
	},
}

// Every reply fits a terminal of 80 columns and 24 lines, with the prompt
// under it; a first proposal takes at most 20. Nothing is said twice in a row.
func TestScreens(t *testing.T) {
	const most, mostFirst, mostWords = 23, 20, 260
	for name, lines := range personas {
		t.Run(name, func(t *testing.T) {
			s := assistant.NewSession(kit(t))
			check := func(line string, r assistant.Reply) {
				text := shown(t, r)
				n, words := strings.Count(text, "\n"), len(strings.Fields(text))
				first := 0
				if i := strings.Index(text, " head for "); i >= 0 { // a proposal, below what was said back
					first = strings.Count(text[i:], "\n")
				}
				if n > most || first > mostFirst || words > mostWords {
					t.Errorf("%q gets %d lines, %d words:\n%s", line, n, words, text)
				}
			}
			check("", s.Open())
			last := ""
			for _, l := range lines {
				r := s.Say(l)
				check(l, r)
				if text := shown(t, r); text == last && l == "" {
					t.Errorf("%q gets the same twice:\n%s", l, text)
				} else {
					last = text
				}
				if r.Ask == nil && !r.Leave {
					t.Errorf("%q leaves no question", l)
				}
				if r.Leave {
					break
				}
			}
		})
	}
}

func shown(t *testing.T, r assistant.Reply) string {
	t.Helper()
	var out bytes.Buffer
	x := talk{Config: Config{Out: &out, Clock: time.Now, Style: func() page.Style { return page.Style{Width: 80} }}}
	if err := x.render(r); err != nil {
		t.Fatal(err)
	}
	return out.String()
}
