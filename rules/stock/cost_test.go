package stock_test

import (
	"testing"

	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/stock"
)

// A pack of each part is paid for once, whatever the number of slices, and what is
// on hand is not paid for.
func TestPacks(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	price := func(ids ...string) (sum float64) {
		for _, id := range ids {
			_, p := stock.Pack(cat, id)
			sum += float64(p)
		}
		return sum
	}
	for _, tt := range []struct {
		stack string
		bin   *stock.Bin
		want  float64
	}{
		{"poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16", nil, price("poly-1-1/8-drilled", "latex-3/4x1/8", "wool-medium", "birch-16")},
		{"poly-1-1/8-drilled + 3/4x1/8 + 3/4x1/8 + wool-medium + birch-16", nil, price("poly-1-1/8-drilled", "latex-3/4x1/8", "wool-medium", "birch-16")},
		{"poly-1-1/8-drilled + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", nil, price("poly-1-1/8-drilled", "latex-3/4x1/8", "latex-1x1/8", "wool-medium", "birch-16")},
		{"poly-1-1/8-drilled + 3/4x1/8 + wool-medium", &stock.Bin{Items: []stock.Item{{Part: "wool-medium", Amount: 0.05}, {Part: "latex-3/4x1/8", Amount: stock.Enough()}}}, price("poly-1-1/8-drilled")},
	} {
		st, err := head.Parse(cat, tt.stack)
		if err != nil {
			t.Fatal(err)
		}
		if got := stock.Packs(&st, tt.bin); got != tt.want || got <= 0 {
			t.Errorf("%s: %g cents, want %g", tt.stack, got, tt.want)
		}
	}
}
