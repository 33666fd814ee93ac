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
// What is likeliest to hold a good head is looked at first, and once a head is
// the best so far, what differs from it by one part. Ties are broken by the
// parts, and the work is shared out among the processors in lots, so that the
// answer does not depend on who was first.
package search

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/effort"
	"mallow/rules/propose/search/girth"
	"mallow/rules/propose/search/kit"
)

// slackNotches is how much harder, in notches, a layer may make a head before the
// bounds would no longer hold. The tests measure that it never does.
const slackNotches = 0.05

// Search is one run.
type Search struct {
	*kit.Kit
	f      *propose.Finder
	q      propose.Request
	known  rules.Known
	base   facts.Facts
	goal   *Goal
	firm   float64 // what a notch off counts more than the rules have it; zero is no more
	j      *propose.Judging
	Limit  int     // of heads to look at, found or not; zero is none
	ground []*node // one for each root, kept from run to run
	plain  []found // what it began with
	seen   []found // the best on each rubber and core that could have been of use when it was looked at

	tried, buildable atomic.Int64
	stopped          atomic.Bool
}

// New returns a search for the request; Run starts it.
func New(f *propose.Finder, q propose.Request) *Search {
	j := f.Judging(q)
	s := &Search{
		Kit: kit.New(f, q, j), f: f, q: q, base: j.Base,
		known: f.Told(j.Base, q.Known),
		j:     j,
	}
	return s
}

// Run searches for what the goal is.
func (s *Search) Run(ctx context.Context, goal *Goal) {
	s.goal, s.seen, s.plain = goal, nil, nil
	s.stopped.Store(false)
	workers := s.workers()
	if s.ground == nil {
		for _, r := range s.Roots {
			s.ground = append(s.ground, workers[0].root(r))
		}
	}
	var open queue
	var first []task
	for _, n := range s.ground {
		first = append(first, task{n: n, hope: girth.Anywhere()})
	}
	if s.enough(ctx, workers); !s.stopped.Load() {
		s.share(workers, first, (*worker).begin)
		s.collect(workers)
		s.share(workers, first, (*worker).open)
	}
	best := math.Inf(-1)
	for s.enough(ctx, workers); !s.stopped.Load(); s.enough(ctx, workers) {
		for _, w := range workers {
			for _, t := range w.next {
				open.add(t)
			}
			w.next = w.next[:0]
		}
		if len(goal.best) > 0 && goal.best[0].score > best {
			best = goal.best[0].score
			open.forget()
			for _, t := range s.near(workers[0], &goal.best[0]) {
				open.add(t)
			}
		}
		lot := open.next(s.batch(), goal.bar())
		if len(lot) == 0 {
			break
		}
		s.share(workers, lot, (*worker).do)
		s.collect(workers)
	}
	for _, w := range workers {
		s.tried.Add(w.tried)
		s.buildable.Add(w.buildable)
		if w.cut {
			s.stopped.Store(true)
		}
	}
}

// workers returns a worker for each processor.
func (s *Search) workers() []*worker {
	list := make([]*worker, max(1, min(runtime.GOMAXPROCS(0), 8)))
	for i := range list {
		list[i] = s.worker()
	}
	return list
}

// enough tells how far the search has come, and stops it once it has looked at
// as many heads as the request allows and has found one that can be built, or
// at as many as it may at all. It is asked between batches only, so that where
// it stops does not depend on which processor was first.
func (s *Search) enough(ctx context.Context, workers []*worker) {
	var done effort.Done
	cut := ctx.Err() != nil
	for _, w := range workers {
		done.Tried += w.tried
		done.Bounded += w.bounded
	}
	if s.q.Progress != nil {
		s.q.Progress(int(done.Tried))
	}
	if s.q.Most > 0 && len(s.goal.best) > 0 {
		cut = cut || done.Reaches(effort.Most(s.q.Most))
	}
	if s.Limit > 0 {
		cut = cut || done.Reaches(effort.Most(s.Limit))
	}
	if cut {
		s.stopped.Store(true)
	}
}

// mostBatch is how many tasks are shared out at a time. The bar is raised between
// batches only, so that what is looked at does not depend on which processor
// was first. Where a task is large, as with thousands of parts, they are fewer, so
// that a search which is to stop at a count does not go far past it.
const mostBatch, leastBatch = 32, 4

func (s *Search) batch() int {
	most := cmp.Or(s.q.Most, s.Limit)
	if most == 0 {
		return mostBatch
	}
	cores := 0
	for _, r := range s.Roots {
		cores += len(r.Cores)
	}
	task := cores * len(s.Ends) / max(1, len(s.Roots)) // heads to look at in one, by and large
	return max(leastBatch, min(mostBatch, most/2/(task+1)))
}

// share has each of some tasks done, on all workers.
func (s *Search) share(workers []*worker, lot []task, do func(*worker, task)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for _, w := range workers {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(lot)); i = next.Add(1) - 1 {
				do(w, lot[i])
			}
		})
	}
	wait.Wait()
}

// collect hands what the workers found to the goal.
func (s *Search) collect(workers []*worker) {
	for _, w := range workers {
		for i := range w.found {
			s.goal.add(&w.found[i])
		}
		s.seen = append(s.seen, w.found...)
		s.plain = append(s.plain, w.plain...)
		w.found, w.plain = w.found[:0], w.plain[:0]
	}
}
