package toolbox

import (
	"testing"

	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/graded"
)

// The ends of a set are named by grades, or by words for a sound that lead from one
// to another; one such word alone names none.
func TestSpan(t *testing.T) {
	k, err := New(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		text       string
		hard, soft string // grades; empty for no ends
		child      bool   // plays, on bars of wood
	}{
		{"three pairs from soft to hard", "hard", "soft", false},
		{"three pairs, very hard through medium", "very hard", "medium", false},
		{"three pairs from mellow to sharp", "hard", "medium", false},
		{"three pairs: dark, normal, brilliant", "hard", "medium soft", false},
		{"mildest to hardest, no rubber", "very hard", "medium", false},
		{"three pairs from hard to soft", "medium hard", "soft", true},
		{"three pairs from medium to soft", "medium", "soft", true},
		{"hard and very hard", "very hard", "hard", false},
		{"hard and very hard", "very hard", "hard", true},
		{"three bright pairs", "", "", false},
		{"three warm pairs, bright enough for the band", "", "", false},
	} {
		o := graded.Options{Rungs: 3}
		of := facts.Facts{Instrument: facts.Instrument{Kind: "xylophone", Bars: "wood"}, Player: facts.Player{Small: tt.child}}
		k.span(&of, tt.text, &o)
		if (o.Words == nil) != (tt.hard == "") {
			t.Errorf("%s: ends %v", tt.text, o.Words)
			continue
		}
		if o.Words == nil {
			continue
		}
		grades := k.Catalogue.Scale.For("xylophone").Grades
		name := func(at float64) (id string) {
			for i, g := range grades {
				if i == 0 || at >= g.From {
					id = g.ID
				}
			}
			return id
		}
		if hard, soft := name(*o.Hardest), name(*o.Softest); hard != tt.hard || soft != tt.soft {
			t.Errorf("%s: from %s to %s, want %s to %s", tt.text, hard, soft, tt.hard, tt.soft)
		}
	}
}
