package stock_test

import (
	"math"
	"testing"

	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// What a build took is off, the offcuts are kept, and what nobody counted
// stays uncounted.
func TestLeft(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	st, err := head.Parse(cat, "poly-1-1/8-drilled + 3/4x1/8@1 + wool-medium + birch-16")
	if err != nil {
		t.Fatal(err)
	}
	h := head.New(st, cat.Limits)
	bin := &stock.Bin{Items: []stock.Item{
		{Part: "poly-1-1/8-drilled", Amount: 40}, {Part: "latex-3/4x1/8", Amount: 0.6096}, {Part: "latex-3/4x1/8", Amount: 0.0254},
		{Part: "wool-medium", Amount: 0.8}, {Part: "birch-16", Amount: stock.Enough()}, {Part: "maple-1", Amount: 3},
	}}
	left, used, err := bin.Left(cat, []stock.Batch{{Head: h, Heads: 4, Player: facts.Player{Level: "some"}, Spares: 0.3}})
	if err != nil {
		t.Fatal(err)
	}
	if got := left.OnHand("poly-1-1/8-drilled"); got != 36 {
		t.Errorf("%v balls left of 40 after four heads, want 36", got)
	}
	// Four slices of an inch: one length on hand is just that, the others
	// come off the long one with what the knife takes.
	if got := left.OnHand("latex-3/4x1/8"); got < 0.51 || got > 0.6096+0.0254-4*0.0254 {
		t.Errorf("%.4f m of tubing left", got)
	}
	wound := 0.8 - left.OnHand("wool-medium")
	if least := 4 * float64(h.YarnMass); wound < least || wound > 1.3*least {
		t.Errorf("%.4f kg of wool gone, wound %.4f", wound, least)
	}
	if !math.IsInf(left.OnHand("birch-16"), 1) || left.OnHand("maple-1") != 3 {
		t.Errorf("shafts %v, other balls %v", left.OnHand("birch-16"), left.OnHand("maple-1"))
	}
	for _, u := range used {
		if u.Short != 0 || u.Amount <= 0 {
			t.Errorf("%+v", u)
		}
	}
	short := &stock.Bin{Items: []stock.Item{{Part: "poly-1-1/8-drilled", Amount: 3}}}
	left, used, err = short.Left(cat, []stock.Batch{{Head: h, Heads: 4}})
	if err != nil || left.OnHand("poly-1-1/8-drilled") != 0 || len(used) != 1 || used[0].Short != 1 {
		t.Errorf("three balls for four heads: %v, %+v, %v", left, used, err)
	}
}

func TestBinWithPurchases(t *testing.T) {
	bin := &stock.Bin{Items: []stock.Item{{Part: "a", Amount: 2}}, Buy: []string{"a", "b"}}
	if bin.OnHand("a") != 2 || !math.IsInf(bin.Amount("a"), 1) || !math.IsInf(bin.Amount("b"), 1) || bin.Amount("c") != 0 {
		t.Errorf("on hand %v, may be %v, %v, %v", bin.OnHand("a"), bin.Amount("a"), bin.Amount("b"), bin.Amount("c"))
	}
	var none *stock.Bin
	if none.OnHand("a") != 0 || !math.IsInf(none.Amount("a"), 1) || none.Lengths("a") != nil {
		t.Error("without a bin nothing is on hand, and all can be had")
	}
}

// What makers mean by a word: the usual, but what goes with the rest.
func TestLikely(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	all := func(kind string) []string {
		var ids []string
		switch kind {
		case "core":
			for _, c := range cat.Cores {
				ids = append(ids, c.ID)
			}
		case "tube":
			for _, c := range cat.Tubing {
				ids = append(ids, c.ID)
			}
		case "wool":
			for _, y := range cat.Yarns {
				if y.Fibre == "wool" {
					ids = append(ids, y.ID)
				}
			}
		case "shaft":
			for _, c := range cat.Shafts {
				ids = append(ids, c.ID)
			}
		}
		return ids
	}
	for _, test := range []struct {
		name  string
		ids   []string
		with  []string
		drill bool
		want  string
		alike bool
	}{
		{"balls", all("core"), nil, false, "poly-1-1/8-drilled", false},
		{"balls where there is a drill", all("core"), nil, true, "poly-1-1/8", false},
		{"tubing", all("tube"), nil, false, "latex-3/4x1/8", false},
		{"tubing over large balls", all("tube"), []string{"poly-1-3/8"}, false, "latex-1x1/8", false},
		{"wool is no lace", all("wool"), nil, false, "wool-medium", false},
		{"shafts for bored balls", all("shaft"), []string{"maple-1"}, false, "birch-16", true},
		{"rubber balls", []string{"rubber-40a-1", "rubber-50a-1", "rubber-60a-1", "rubber-75a-1"}, nil, false, "rubber-60a-1", true},
	} {
		var with []stock.Item
		for _, id := range test.with {
			with = append(with, stock.Item{Part: id, Amount: 4})
		}
		got, alike := stock.Likely(cat, test.ids, with, test.drill)
		if got[0] != test.want || alike > 1 != test.alike {
			t.Errorf("%s: %s, %d alike; want %s, ask %t", test.name, got[0], alike, test.want, test.alike)
		}
	}
}
