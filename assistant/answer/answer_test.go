package answer_test

import (
	"strings"
	"testing"

	"mallow/assistant/answer"
	"mallow/assistant/page"
	"mallow/knowledge/knowledgetest"
)

// heads are the facts of a few heads, from a bare ball to a hard pull.
func heads() map[string]answer.Facts {
	var wrapped, bare, hard answer.Facts
	wrapped.Instrument.Kind, wrapped.Instrument.Bars, wrapped.Instrument.LowHz, wrapped.Instrument.HighHz = "marimba", "wood", 65, 2093
	wrapped.Head.Core, wrapped.Head.Fibre, wrapped.Head.Turns, wrapped.Head.Layers, wrapped.Head.HandN = "plastic", "wool", 128, 1, 57
	wrapped.Head.LowHz, wrapped.Head.HighHz, wrapped.Head.OpensUp, wrapped.Head.Drilled, wrapped.Head.Latex = 123, 784, 1.1, true, true
	wrapped.Offer = answer.Offer{Heads: 2, BuyCents: 5700, PartsCents: 812, WorkMin: 190, WaitMin: 1500, Skill: 1, Left: 3}
	bare = wrapped
	bare.Head.Fibre, bare.Head.Turns, bare.Head.Layers, bare.Head.HandN, bare.Head.Softness, bare.Head.Latex = "", 0, 0, 0, -9, false
	bare.Offer.WorkMin, bare.Offer.WaitMin, bare.Offer.Skill = 50, 0, 0
	hard = wrapped
	hard.Head.HandN, hard.Head.Solvent, hard.Head.Drilled, hard.Offer.Skill = 120, true, false, 2
	return map[string]answer.Facts{"wrapped": wrapped, "bare": bare, "hard": hard}
}

// Every way to ask finds its own answer, and every answer takes at most seven
// lines of 80 columns, with no number missing.
func TestAnswers(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	a, err := answer.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range cat.Answers {
		for _, ask := range x.Asks {
			for _, line := range []string{ask, strings.ToUpper(ask[:1]) + ask[1:] + "?"} {
				if id, ok := a.Find(line); !ok || id != x.ID {
					t.Errorf("%q finds %q, want %q", line, id, x.ID)
				}
			}
		}
		for name, f := range heads() {
			for _, head := range []bool{true, false} {
				text := a.Text(x.ID, f, head)
				if text == "" || strings.ContainsAny(text, "{}") || strings.Contains(text, " ? ") {
					t.Errorf("%s of a %s head: %q", x.ID, name, text)
				}
				if n := strings.Count(page.Wrap(text, 80, ""), "\n") + 1; n > 7 {
					t.Errorf("%s of a %s head takes %d lines:\n%s", x.ID, name, n, text)
				}
			}
		}
	}
}

func TestFindLeavesOthersAlone(t *testing.T) {
	a, err := answer.New(knowledgetest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"", "softer", "two mallets, medium", "at most 20 for the pair", "marimba", "hi, I play marimba", "a hard head"} {
		if id, ok := a.Find(line); ok {
			t.Errorf("%q is taken to ask for %q", line, id)
		}
	}
}
