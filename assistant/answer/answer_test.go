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
	wrapped.Head.MassG, wrapped.Head.CoreMM, wrapped.Head.DiameterMM, wrapped.Player.EasyG, wrapped.Player.MostG = 22.4, 28.6, 38, 36, 55
	wrapped.Offer = answer.Offer{Heads: 2, BuyCents: 5700, PartsCents: 812, WorkMin: 190, WaitMin: 1500, Skill: 1, Left: 3,
		Time: "About 3 hours of work over three days", List: "polypropylene ball, 1 1/8 in, drilled (10.83); natural rubber latex tubing, bore 3/4 in, wall 1/8 in (12.20); wool, single ply, 160 m in 100 g (9.00); birch dowel, 15 in x 5/16 in (12.75); two-part epoxy (8.50)",
		Core: "polypropylene ball, 1 1/8 in, drilled", Tubing: "natural rubber latex tubing 3/4 in bore, 1/8 in wall, cut 3/4 in (19 mm); and natural rubber latex tubing 1 in bore, 1/8 in wall, cut 1 in (25 mm)",
		Yarn: "wool, single ply, 160 m in 100 g, 128 turns", Name: "wool, single ply, 160 m in 100 g", Metres: "13 m", Shaft: "birch dowel, 15 in x 5/16 in", Glue: "two-part epoxy",
		Pairs: 15, Each: 2, AllCents: 61200, TotalCents: 30000, Purse: "300.00", Share: "20.00"}
	bare = wrapped
	bare.Head.Fibre, bare.Head.Turns, bare.Head.Layers, bare.Head.HandN, bare.Head.Softness, bare.Head.Latex = "", 0, 0, 0, -9, false
	bare.Offer.WorkMin, bare.Offer.WaitMin, bare.Offer.Skill = 50, 0, 0
	bare.Offer.Tubing, bare.Offer.Yarn, bare.Offer.Name, bare.Offer.Metres, bare.Offer.Glue, bare.Offer.Pairs, bare.Offer.TotalCents, bare.Offer.Purse, bare.Offer.Share = "", "", "", "", "", 1, 0, "", ""
	bare.Asked = answer.Asked{MassG: 40, Mass: "40 g"}
	hard = wrapped
	hard.Head.HandN, hard.Head.Solvent, hard.Head.Drilled, hard.Offer.Skill = 120, true, false, 2
	return map[string]answer.Facts{"wrapped": wrapped, "bare": bare, "hard": hard}
}

// What is asked of somebody beside finds what one would ask of oneself; of a child it may
// be another question.
func TestOfSomebodyElse(t *testing.T) {
	a, err := answer.New(knowledgetest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ line, of string }{
		{"what does mom need to buy", "what do i need to buy"},
		{"what will my wife need to buy?", "what will i need to buy"},
		{"What should the school buy?", "what should i buy"},
		{"how long does my dad need to wait", "how long do i need to wait"},
	} {
		got, how := a.Nearest(tt.line, "choosing")
		want, mine := a.Nearest(tt.of, "choosing")
		if got != want || how < mine {
			t.Errorf("%q finds %v, as near as %.2f, where %q finds %v by %.2f", tt.line, got, how, tt.of, want, mine)
		}
	}
}

// Every way to ask finds its own answer, and every answer takes at most five
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
			for _, at := range []answer.Stage{answer.Choosing, answer.Proposed, answer.Building} {
				if x.Do != "" {
					continue
				}
				text := a.Text(x.ID, f, at)
				if text == "" || strings.ContainsAny(text, "{}") || strings.Contains(text, " ? ") {
					t.Errorf("%s of a %s head: %q", x.ID, name, text)
				}
				if n := strings.Count(page.Wrap(text, 80, ""), "\n") + 1; n > 5 {
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

// What says the same in other words finds the answer, and what asks something
// else is not near to any.
func TestNearest(t *testing.T) {
	a, err := answer.New(knowledgetest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ line, want string }{
		{"how much would a pair of these cost me?", "cost"},
		{"so how long will that take us", "time"},
		{"is the glue harmful or safe", "glue-safe"},
		{"could they scratch the bars of my marimba", "bars"},
		{"my wrists hurt, is it too heavy?", "wrists"},
		{"how many turns of yarn are there", "turns"},
		{"can I print that out", "print"},
		{"i am really nervous about the knife", "fear"},
		{"how many metres of yarn do I need for it", "how-yarn"},
		{"what have I told you so far", "said"},
		{"purple colour please", "colour"},
	} {
		if of, how := a.Nearest(tt.line); of.ID != tt.want || how < answer.NearLikely {
			t.Errorf("%q finds %s, %.2f near, want %s", tt.line, of.ID, how, tt.want)
		}
	}
	for _, line := range []string{"two mallets, medium", "a 1 1/8 poly ball", "five-octave marimba", "moonlight", "the low end", "soft but not too soft", ""} {
		if of, how := a.Nearest(line); how >= answer.NearTold {
			t.Errorf("%q is %.2f near to %s", line, how, of.ID)
		}
	}
}

func TestIsQuestion(t *testing.T) {
	for line, want := range map[string]bool{
		"price?": true, "how long": true, "ok so what now": true, "can I stop": true, "my mum asks if the glue is safe": true,
		"two mallets": false, "I can do it": false, "soft": false, "": false,
	} {
		if got := answer.IsQuestion(line); got != want {
			t.Errorf("%q asks: %v", line, got)
		}
	}
}

// Who tells that somebody is hurt now has first aid before all else, in words of
// their own; what merely names a hand, a blade or a rash has not.
func TestUrgent(t *testing.T) {
	a, err := answer.New(knowledgetest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ line, id string }{
		{"the knife slipped and i cut my thumb", "cut-finger"},
		{"the blade slipped and went into my finger", "cut-finger"},
		{"I've stabbed myself with the needle", "cut-finger"},
		{"my son cut his hand", "cut-finger"},
		{"the drill caught my hand", "cut-finger"},
		{"my thumb is bleeding", "cut-finger"},
		{"my lips are tingling", "reaction-now"},
		{"My hands are swelling up!", "reaction-now"},
		{"she's coming out in hives", "reaction-now"},
		{"his throat is closing up", "reaction-now"},
		{"the glue is making me dizzy", "fumes-ill"},
		{"my hand slipped and the slice tore", ""},
		{"i cut my tube by hand", ""},
		{"the cord cuts into my fingers when i wind", ""},
		{"my hands swell when i wear gloves", ""},
		{"kiwi makes my mouth tingle", ""},
		{"do I cut the tube away from my hand", ""},
	} {
		if id, _ := a.Urgent(tt.line); id != tt.id {
			t.Errorf("%q is answered by %q, want %q", tt.line, id, tt.id)
		}
	}
}
