package tally_test

import (
	"slices"
	"testing"

	"mallow/rules/tally"
)

func TestSet(t *testing.T) {
	a, b := tally.NewSet(130), tally.NewSet(130)
	for _, i := range []int{0, 63, 64, 129} {
		a.Add(i)
	}
	for _, i := range []int{63, 65, 129, 129} {
		b.Add(i)
	}
	if n := a.Shared(b); n != 2 || a.Shared(a) != 4 || a.Shared(tally.NewSet(130)) != 0 {
		t.Errorf("%d shared, %d with itself", n, a.Shared(a))
	}
}

func TestQuiet(t *testing.T) {
	c := tally.Coverage{Sets: 9, Counts: []tally.Count{{Rule: "a", Fired: 2}, {Rule: "b"}, {Rule: "c", Fired: 9}, {Rule: "d"}}}
	if got := c.Quiet(); !slices.Equal(got, []string{"b", "d"}) {
		t.Errorf("quiet: %v", got)
	}
}
