package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"mallow/rules/propose/proposetest"
)

// TestDoubt compares the scores of heads by reduced strokes, as a search ranks them,
// with those by full ones: but for one in fifty, across the edge of a rule or of the
// notes served, they are within doubt.
func TestDoubt(t *testing.T) {
	f := proposetest.Finder(t)
	r := rand.New(rand.NewPCG(4, 8))
	all, off, worst := 0, 0, 0.0
	for range 12 {
		q := someone(r)
		q.Most = 1000
		s := New(f, q)
		g := NewGoal(12, math.Inf(-1))
		s.Run(t.Context(), g)
		for i := range g.best {
			full, err := f.Consider(s.stack(&g.best[i]), q)
			if err != nil {
				t.Fatal(err)
			}
			if full.Refused() != nil {
				continue
			}
			d := math.Abs(full.Score - g.best[i].score)
			all++
			if d > doubt {
				off++
			}
			worst = max(worst, d)
		}
	}
	t.Logf("of %d heads %d are off by more than %v points, by %.2f at worst", all, off, doubt, worst)
	if all < 60 || 50*off > all {
		t.Errorf("%d of %d heads are off by more than %v points", off, all, doubt)
	}
}
