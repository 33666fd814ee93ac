// Package search finds the best head that the parts make, exactly, and says what
// stands in the way when there is none. It knows how to leave out heads that
// can't win; it never decides what is good: that is propose and the rules.
//
// The search is an exact branch and bound. A node is a core size with some
// slices fitted over it; below it lie the same with one slice more. A branch
// is dropped when the rules refuse its topmost slice (nothing above can help a
// slice that slaps), when they refuse every head that could lie in it, or when
// none can score as high as what has been found. What "every head in it" comes
// to is a box of facts: mass and size only grow, stretch only adds, and a
// layer never makes a head harder, so that the softness of the bare node
// bounds all above it from below.
//
// Nodes are taken level by level, fewest slices first, so that simple heads
// set the bar early. Each level is shared out among the processors. Ties are
// broken by the parts, so the answer does not depend on who was first.
package search

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// slackNotches is how much harder, in notches, a layer may make a head before the
// bounds would no longer hold. The tests measure that it never does.
const slackNotches = 0.05

// Search is one run.
type Search struct {
	*kit
	f      *propose.Finder
	q      propose.Request
	known  rules.Known
	base   facts.Facts
	goals  []*Goal
	firm   float64 // what a notch off counts more than the rules have it; zero is no more
	j      *propose.Judging
	Limit  int     // of heads to look at, found or not; zero is none
	ground []*node // one for each root, kept from run to run
	seen   []found // for the first goal, the best on each rubber and core that could have been of use when it was looked at

	tried, buildable atomic.Int64
	refused          map[string]int
	stopped          atomic.Bool
}

// New returns a search for the request; Run starts it.
func New(f *propose.Finder, q propose.Request) *Search {
	j := f.Judging(q)
	s := &Search{
		kit: newKit(f, q, j), f: f, q: q, base: j.Base,
		known:   f.Told(j.Base, q.Known),
		refused: map[string]int{},
		j:       j,
	}
	return s
}

// Run searches for the goals.
func (s *Search) Run(ctx context.Context, goals ...*Goal) {
	s.goals = goals
	s.stopped.Store(false)
	level := slices.Clone(s.ground)
	s.seen = nil
	workers := make([]*worker, max(1, min(runtime.GOMAXPROCS(0), 8)))
	for i := range workers {
		workers[i] = s.worker()
	}
	if level == nil {
		for _, r := range s.roots {
			level = append(level, workers[0].root(r))
		}
		s.likeliestFirst(level, yarnNotches)
		s.ground = slices.Clone(level)
	}
	s.enough(ctx, workers)
	next := s.visit(ctx, workers, level)
	for len(next) > 0 && !s.stopped.Load() {
		s.likeliestFirst(next, layerNotches)
		level, next = next, nil
		for from := 0; from < len(level) && !s.stopped.Load(); from += batch {
			above := s.grow(ctx, workers, level[from:min(from+batch, len(level))])
			s.likeliestFirst(above, yarnNotches)
			next = append(next, s.visit(ctx, workers, above)...)
		}
	}
	for _, w := range workers {
		s.tried.Add(w.tried)
		s.buildable.Add(w.buildable)
		for r, n := range w.refused {
			s.refused[r.ID] += n
		}
	}
}

// enough tells how far the search has come, and stops it once it has looked at
// as many heads as the request allows and has found one that can be built, or
// at as many as it may at all. It is asked between batches only, so that where
// it stops does not depend on which processor was first.
func (s *Search) enough(ctx context.Context, workers []*worker) {
	var tried int64
	for _, w := range workers {
		tried += w.tried
	}
	if s.q.Progress != nil {
		s.q.Progress(int(tried))
	}
	if s.q.Most > 0 && tried >= int64(s.q.Most) && len(s.goals[0].best) > 0 || s.Limit > 0 && tried >= int64(s.Limit) || ctx.Err() != nil {
		s.stopped.Store(true)
	}
}

// batch is how many nodes are shared out, or grown, at a time. The bar is raised
// between batches only, so that what is looked at does not depend on which
// processor was first.
const batch = 32

// share does something to each of some nodes, on all workers.
func (s *Search) share(workers []*worker, nodes []*node, do func(*worker, *node)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for _, w := range workers {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(nodes)); i = next.Add(1) - 1 {
				do(w, nodes[i])
			}
		})
	}
	wait.Wait()
}

// grow returns the nodes above some nodes, where heads worth looking at may be.
func (s *Search) grow(ctx context.Context, workers []*worker, nodes []*node) (above []*node) {
	s.share(workers, nodes, (*worker).grow)
	for _, w := range workers {
		above = append(above, w.next...)
		w.next = w.next[:0]
	}
	s.enough(ctx, workers)
	return above
}

// visit looks at the heads of some nodes, and returns the nodes that can grow.
func (s *Search) visit(ctx context.Context, workers []*worker, nodes []*node) []*node {
	pin := s.q.Pin.Tubing
	for from := 0; from < len(nodes) && !s.stopped.Load(); from += batch {
		s.share(workers, nodes[from:min(from+batch, len(nodes))], (*worker).visit)
		s.collect(workers)
		s.enough(ctx, workers)
	}
	if len(nodes) > 0 && (nodes[0].depth == propose.MostLayers || pin != nil && nodes[0].depth == len(pin)) {
		return nil
	}
	return nodes
}

// collect hands what the workers found to the goals.
func (s *Search) collect(workers []*worker) {
	for _, w := range workers {
		for i := range w.found {
			x := &w.found[i]
			s.goals[x.goal].add(&x.found)
			if x.goal == 0 {
				s.seen = append(s.seen, x.found)
			}
		}
		w.found = w.found[:0]
	}
}

// yarnNotches and layerNotches are roughly what yarn, and a slice and yarn, add to
// the softness of a node. They settle only what is looked at first.
const yarnNotches, layerNotches = 1, 4

// likeliestFirst puts first the nodes whose heads are likely to be as soft as
// wanted, so that the bar is set high early. gain is what they have over the
// node.
func (s *Search) likeliestFirst(level []*node, gain float64) {
	off := func(n *node) float64 { return math.Abs(n.least + gain - s.base.Want.Softness) }
	slices.SortFunc(level, func(a, b *node) int { return cmp.Or(cmp.Compare(off(a), off(b)), a.compare(b)) })
}
