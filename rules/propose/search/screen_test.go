package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search/girth"
)

// TestBoundsAdmit tries every head on slices drawn at random, for requests drawn at random, and
// checks that no bound rules out the best of them where the bar is at its score: not the boxes cut by softness and mass, not
// the wraps screened one by one, not the classes whose ends are struck, nor those of the nodes
// below it.
func TestBoundsAdmit(t *testing.T) {
	f := proposetest.Finder(t)
	r := rand.New(rand.NewPCG(6, 14))
	seen, heavy, deep := 0, 0, 0
	for range 20 {
		q := someone(r)
		if r.IntN(2) == 0 {
			q.Facts.Want.MassG = 15 + 25*r.Float64()
		}
		if r.IntN(2) == 0 {
			q.Known = rules.Known{facts.WantSoftness: true}
		}
		s := New(f, q)
		s.goal = NewGoal(1, math.Inf(-1))
		w := s.worker()
		for range 8 {
			s.goal, w.found = NewGoal(1, math.Inf(-1)), nil
			n := w.root(s.Roots[r.IntN(len(s.Roots))])
			for range r.IntN(4) {
				if x := w.child(n, r.IntN(len(s.Tubes))); x != nil {
					n = x
				}
			}
			x := found{score: math.Inf(-1)}
			for core := range n.root.Cores {
				for wrap := range s.Wraps {
					if y, ok := w.weigh(n, core, wrap); ok && y.score > x.score {
						x = y
					}
				}
			}
			if x.node == nil {
				continue
			}
			core, wrap := x.core, x.wrap
			seen++
			if q.Facts.Want.MassG > 0 {
				heavy++
			}
			s.goal = NewGoal(1, x.score-1e-9)
			c := &n.root.Cores[core]
			at := func() string { return s.stack(&x).String() }
			all, on := n.root.Part.Span(), c.Alone()
			most, ok := w.holds(n, &all, n.least)
			if !ok || x.facts.Softness < n.least || x.facts.Softness > most {
				t.Errorf("%s, of %.2f points and %.2f notches: its node is dropped, or taken to lie between %.2f and %.2f", at(), x.score, x.facts.Softness, n.least, most)
			}
			if !slices.Contains(w.screen(n, &all, s.All, n.least, most), wrap) {
				t.Errorf("%s, of %.2f points: its wrap is screened out over all cores", at(), x.score)
			}
			if !slices.Contains(w.screen(n, &on, s.All, n.least, most), wrap) {
				t.Errorf("%s, of %.2f points: its wrap is screened out", at(), x.score)
			}
			if !slices.Contains(w.struck(n, &all, s.All, n.least, most), wrap) {
				t.Errorf("%s, of %.2f points: its wrap is dropped by how soft its class is on all cores", at(), x.score)
			}
			class := s.Classes[s.Wraps[wrap].Class]
			w.within(n, &on, w.edges(class))
			w.narrow(n.least, most)
			likes, _ := w.bound.Bound(&w.lo, &w.hi)
			if least, most := w.stretch(n, &on, class, likes, n.least, most); x.facts.Softness < least || x.facts.Softness > most {
				t.Errorf("%s, of %.2f points and %.2f notches: its class is taken to lie between %.2f and %.2f", at(), x.score, x.facts.Softness, least, most)
			}
			for below := n; below != nil; below = below.up {
				if below != n {
					deep++
					if top := topAbove(w, below); top < x.score-1e-6 {
						t.Errorf("%s scores %.2f, and above %d of its slices no head is taken to come to more than %.2f", at(), x.score, below.depth, top)
					}
				}
				bed := girth.At(n.bed.Diameter)
				if left := w.left(below, n.depth, girth.One(bed)); !left.Has(bed) {
					t.Errorf("%s scores %.2f, and above %d of its slices none of as many and as large is taken to be of use", at(), x.score, below.depth)
				}
			}
			w.forget()
			if w.heads(n, n.least); !slices.ContainsFunc(w.found, func(y found) bool { return y.core == core && y.score >= x.score-1e-9 }) {
				t.Errorf("%s, of %.2f points, is not found on its own node", at(), x.score)
			}
		}
	}
	if seen < 80 || heavy < 30 || deep < 40 {
		t.Errorf("only %d heads were tried, %d of an asked mass, %d times from below", seen, heavy, deep)
	}
}
