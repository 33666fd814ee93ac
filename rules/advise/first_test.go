package advise_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"mallow/rules"
	"mallow/rules/advise"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/stock"
)

// What is on hand is in the head, and what is bought besides is only what the
// head can't do without.
func TestFirst(t *testing.T) {
	f := proposetest.Finder(t)
	for _, test := range []struct {
		name  string
		items []stock.Item
		has   []string // parts that the best head is made of
		buys  int      // at most
	}{
		{"balls alone", []stock.Item{{Part: "maple-1-1/8", Amount: 40}}, []string{"maple-1-1/8"}, 3},
		{"balls, yarn and shafts", []stock.Item{{Part: "maple-1-1/8", Amount: 40}, {Part: "wool-medium", Amount: 0.8}, {Part: "birch-16", Amount: stock.Enough()}}, []string{"maple-1-1/8", "wool-medium", "birch-16"}, 1},
		{"two balls for four heads", []stock.Item{{Part: "maple-1-1/8", Amount: 2}, {Part: "wool-medium", Amount: stock.Enough()}}, []string{"wool-medium"}, 3},
	} {
		t.Run(test.name, func(t *testing.T) {
			q := propose.Request{Known: rules.Known{}, Heads: 4, Bin: &stock.Bin{Items: test.items}}
			q.Facts.Instrument.Kind, q.Facts.Player.Level = "marimba", "some"
			c, err := advise.First(context.Background(), f, q)
			if err != nil || c.Best == nil {
				t.Fatalf("no head: %v", err)
			}
			for _, id := range test.has {
				if slices.Contains(c.Bought, id) || !strings.Contains(c.Best.Stack.String(), id) {
					t.Errorf("%s, buying %v: %s is on hand and not used", c.Best.Stack, c.Bought, id)
				}
			}
			if len(c.Bought) > test.buys {
				t.Errorf("%s: %v are bought, want %d at most", c.Best.Stack, c.Bought, test.buys)
			}
			for _, id := range c.Bought {
				if !slices.Contains(c.Request.Bin.Buy, id) {
					t.Errorf("%s is bought, but may not be: %v", id, c.Request.Bin.Buy)
				}
			}
		})
	}
	plain := propose.Request{Known: rules.Known{}}
	if c, err := advise.First(context.Background(), f, plain); err != nil || c.Request.Bin != nil || c.Best != nil {
		t.Errorf("without a bin: %+v, %v", c, err)
	}
}
