package propose_test

import (
	"context"
	"testing"

	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search"
)

func TestPropose(t *testing.T) {
	f := proposetest.Finder(t)
	p, err := search.Propose(context.Background(), f, proposetest.Player())
	if err != nil {
		t.Fatal(err)
	}
	if p.Best.Refused() != nil || len(p.Pool) == 0 || len(p.Alternatives) < 2 {
		t.Errorf("best %s refused by %v; %d in the pool, %d alternatives", p.Best.Stack, p.Best.Refused(), len(p.Pool), len(p.Alternatives))
	}
	if off := p.Best.Facts.Head.Softness; off < -1 || off > 1 {
		t.Errorf("asked for medium, the best is %+.1f notches off", off)
	}
}
