package search

import (
	"context"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// TestRememberedIsTheSame checks that what a finder remembers of earlier searches,
// some of them at the same time, changes nothing in what a search finds.
func TestRememberedIsTheSame(t *testing.T) {
	used := proposetest.Fresh(t)
	r := rand.New(rand.NewPCG(11, 2))
	var asked []propose.Request
	for range 4 {
		q := someone(r)
		q.Most = 1500
		asked = append(asked, q)
	}
	best := func(f *propose.Finder, q propose.Request) (string, float64) {
		s := New(f, q)
		g := NewGoal(1, math.Inf(-1))
		s.Run(context.Background(), g)
		if len(g.best) == 0 {
			return "", 0
		}
		return s.stack(&g.best[0]).String(), g.best[0].score
	}
	stacks, scores := make([]string, 2*len(asked)), make([]float64, 2*len(asked))
	var wait sync.WaitGroup
	for i := range stacks {
		wait.Go(func() { stacks[i], scores[i] = best(used, asked[i%len(asked)]) })
	}
	wait.Wait()
	found := 0
	for i, q := range asked {
		stack, score := best(proposetest.Fresh(t), q)
		if stack != "" {
			found++
		}
		for _, k := range []int{i, i + len(asked)} {
			if stacks[k] != stack || scores[k] != score {
				t.Errorf("request %d: %s, %v by a finder that remembers; %s, %v by one that doesn't", i, stacks[k], scores[k], stack, score)
			}
		}
	}
	if found < 2 {
		t.Errorf("only %d requests have a head; the test says little", found)
	}
}

// TestKey holds that requests with one key have the same answer: what was answered
// and not left as usual counts only where the key says so.
func TestKey(t *testing.T) {
	f := finderOf(t, small(rand.New(rand.NewPCG(5, 5)), proposetest.Finder(t).Catalogue(), 6, 6, 3))
	answer := func(q propose.Request) (string, propose.Proposal) {
		p, err := Propose(context.Background(), f, q)
		if err != nil {
			t.Fatal(err)
		}
		return f.Key(q), p
	}
	plain := proposetest.Player()
	said, usual := plain, plain
	said.Known = rules.Known{}
	for _, fact := range f.Book().Facts() {
		switch fact.Path {
		case facts.WantSoftness, facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents, facts.PlayerMostG, facts.PlayerMostMM, facts.WantRegister:
		default:
			said.Known[fact.Path] = true
		}
	}
	at := f.Settle(plain)
	usual.Facts.Player, usual.Facts.Instrument, usual.Heads = at.Player, at.Instrument, 2
	safe := plain
	safe.Pass = safe.Pass.But(gate.Supervised, true)
	key, p := answer(plain)
	for name, q := range map[string]propose.Request{"all answered": said, "as is usual": usual, "another pass": safe} {
		if k, x := answer(q); k != key || x.Best.Stack.String() != p.Best.Stack.String() || x.Best.Score != p.Best.Score || x.Tried != p.Tried || len(x.Best.Trace) != len(p.Best.Trace) {
			t.Errorf("%s: %s, %v after %d\n%s; else %s, %v after %d\n%s", name, x.Best.Stack, x.Best.Score, x.Tried, k, p.Best.Stack, p.Best.Score, p.Tried, key)
		}
	}
	other := map[string]propose.Request{}
	for _, path := range []string{facts.WantSoftness, facts.WantMassG, facts.PlayerMostG, facts.PlayerMostMM} {
		q := plain
		q.Known = rules.Known{path: true}
		other[path] = q
	}
	q := plain
	q.Pin.Tubing = []string{}
	other["no tubing"] = q
	q = plain
	q.Pass = q.Pass.But(gate.LatexOK, false)
	other["no latex"] = q
	for name, q := range other {
		if f.Key(q) == key {
			t.Errorf("%s: the same key", name)
		}
	}
}
