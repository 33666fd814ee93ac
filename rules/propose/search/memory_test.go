package search

import (
	"context"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// TestRememberedIsTheSame checks that what a finder remembers of earlier searches,
// some of them at the same time, changes nothing in what a search finds.
func TestRememberedIsTheSame(t *testing.T) {
	used := proposetest.Finder(t)
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
		stack, score := best(proposetest.Finder(t), q)
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
