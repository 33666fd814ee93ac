package graded_test

import (
	"context"
	"errors"
	"testing"

	"mallow/rules/graded"
	"mallow/rules/propose/proposetest"
	"mallow/rules/stock"
)

// A set from a bin with parts in inches and in millimetres keeps to the sizes that were
// asked for.
func TestSetOfBothWorlds(t *testing.T) {
	f := proposetest.Finder(t)
	for _, units := range []string{"inch", "metric"} {
		q := proposetest.Player()
		q.Facts.Bench.Units = units
		q.Bin = &stock.Bin{Items: []stock.Item{
			{Part: "poly-1-1/8-drilled", Amount: 12}, {Part: "poly-28mm-drilled", Amount: 12},
			{Part: "latex-3/4x1/16", Amount: 2}, {Part: "latex-3/4x1/8", Amount: 2},
			{Part: "latex-18x1.5mm", Amount: 2}, {Part: "latex-18x3mm", Amount: 2},
			{Part: "wool-medium", Amount: 0.5}, {Part: "birch-15", Amount: 12},
		}}
		set, err := graded.Choose(context.Background(), f, q, graded.Options{Rungs: 3})
		var short *graded.Short // of what it was to be: judged elsewhere
		if err != nil && !errors.As(err, &short) || len(set.Rungs) != 3 {
			t.Fatal(len(set.Rungs), err)
		}
		for _, r := range set.Rungs {
			st := r.Head.Head.Stack
			t.Log(st)
			ids := []string{st.Core.ID}
			for _, s := range st.Slices {
				ids = append(ids, s.Tube.ID)
			}
			for _, id := range ids {
				if got := f.Catalogue().Supply(id); got != units {
					t.Errorf("asked for in %s sizes: %s", units, id)
				}
			}
		}
	}
}
