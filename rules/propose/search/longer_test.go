package search

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// patience is that of a conversation.
const patience = 8_000

// TestLongerLook compares what a conversation proposes with what ten times as long
// a look comes to, for requests drawn at random: within 0.1 point for 95 of 100.
// With MALLOW_LONG set, for 300 of them; then nine in ten of those that were not
// proven have to be by a look of 150,000 heads, as before a build.
func TestLongerLook(t *testing.T) {
	const near, build = 0.1, 150_000
	requests, long := 10, os.Getenv("MALLOW_LONG") != ""
	if long {
		requests = 300
	}
	f := proposetest.Finder(t)
	r := rand.New(rand.NewPCG(17, 14))
	open, worse, proven := 0, 0, 0
	for i := range requests {
		q := someone(r)
		if r.IntN(2) == 0 {
			q.Known = rules.Known{facts.WantSoftness: true}
		}
		q.Most = patience
		a := proposed(t, f, q)
		if !a.Partial || a.Best.Head.Mass == 0 {
			continue
		}
		open++
		q.Most = 10 * patience
		b := proposed(t, f, q)
		if d := b.Best.Score - a.Best.Score; d > near {
			worse++
			t.Logf("request %d: %s scores %.2f better than %s", i, b.Best.Stack, d, a.Best.Stack)
		}
		if long && b.Partial {
			q.Most = build
			b = proposed(t, f, q)
		}
		if !b.Partial {
			proven++
		}
	}
	t.Logf("of %d requests %d were not proven; a longer look found better for %d, and proved %d", requests, open, worse, proven)
	if long && 20*worse > requests || worse > 1 && !long {
		t.Errorf("a longer look does better for %d of %d requests", worse, requests)
	}
	if long && 10*proven < 9*open {
		t.Errorf("%d of %d were proven before a build", proven, open)
	}
}

// proposed is the proposal for a request, the nearest where its softness is out of
// reach.
func proposed(t *testing.T, f *propose.Finder, q propose.Request) propose.Proposal {
	t.Helper()
	p, err := Propose(context.Background(), f, q)
	if clash := (*propose.Clash)(nil); err != nil && !errors.As(err, &clash) {
		t.Fatal(err)
	}
	return p
}
