package assistant

import (
	"strings"
	"testing"

	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/propose"
)

// TestMakersHeads holds what a good maker would make where mallow once proposed
// something else: common practice, no source.
func TestMakersHeads(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	const who = ". Two mallets, an adult, nobody allergic to anything."
	for _, x := range []struct {
		name, say string
		bad       func(h *facts.Head, c *propose.Candidate) bool
	}{
		{"xylophone medium came as a large ball with tubing under wool", "Xylophone, medium" + who, func(h *facts.Head, _ *propose.Candidate) bool {
			return h.Layers > 0 || h.Turns > 0 || h.CoreMM < 22 || h.CoreMM > 29
		}},
		{"xylophone hard came as maple with bare tubing on it", "Xylophone, hard" + who, func(h *facts.Head, _ *propose.Candidate) bool {
			return h.Layers > 0 || h.Turns > 0 || h.Core == "rubber"
		}},
		{"bells medium came as a soft rubber ball", "Bells, medium" + who, func(h *facts.Head, _ *propose.Candidate) bool {
			return h.Core != "plastic" || h.Turns > 0 || h.CoreMM > 26
		}},
		{"vibraphone soft came 46 mm across with two slices", "Vibraphone, soft" + who, func(h *facts.Head, _ *propose.Candidate) bool {
			return h.DiameterMM > 40 || h.Layers > 1 || h.Turns == 0
		}},
		{"some wool was lace weight at 511 turns", "Marimba, medium. I have some wool" + who, func(h *facts.Head, c *propose.Candidate) bool {
			return h.Turns < 60 || h.Turns > 220 || !strings.HasPrefix(c.Stack.Wrap.Yarn.ID, "wool")
		}},
		{"plastic balls counted as one ball", "Marimba, medium. I have plastic balls" + who, func(h *facts.Head, _ *propose.Candidate) bool {
			return h.Core != "plastic"
		}},
		{"medium hard was proposed as hard", "Marimba, medium hard" + who, func(_ *facts.Head, c *propose.Candidate) bool {
			return c.Report.Grade != "medium hard"
		}},
		{"hard rubber for who reacts to rubber of any kind", "Xylophone, medium. I react to rubber of any kind. Two mallets, an adult.", func(h *facts.Head, _ *propose.Candidate) bool {
			return h.Core == "rubber" || h.Chemicals
		}},
	} {
		t.Run(x.name, func(t *testing.T) {
			st := told(k, x.say)
			p, err := k.Offers.Propose(&st)
			if err != nil {
				t.Fatal(err)
			}
			if x.bad(&p.Best.Facts.Head, &p.Best) {
				t.Errorf("%s: %s", x.say, line(p.Best))
			}
		})
	}
}

// TestStockFirst holds that what is on hand is in the head, and little is bought.
func TestStockFirst(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	st := told(k, "Marimba, medium. I have six 1 1/8 in plastic balls, a foot of 3/4 by 1/8 latex tubing and 200 g of wool. Two mallets, an adult, nobody allergic to anything.")
	p, err := k.Offers.Propose(&st)
	if err != nil {
		t.Fatal(err)
	}
	q := st.Request()
	order, err := k.Finder.Order([]propose.Make{{Head: p.Best.Head, Heads: 2}}, q)
	if err != nil {
		t.Fatal(err)
	}
	var bought []string
	for _, l := range order.Lines {
		if l.Packs > 0 && l.Kind != "adhesive" && l.Kind != "shaft" {
			bought = append(bought, l.Part)
		}
	}
	if len(bought) > 0 {
		t.Errorf("%s, with %v bought where balls, tubing and wool are on hand", line(p.Best), bought)
	}
}
