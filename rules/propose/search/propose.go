package search

import (
	"cmp"
	"context"
	"math"
	"slices"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Sizes of a proposal.
const (
	poolSize  = 100
	mostNear  = 5000 // looked at for the nearest to a softness that is out of reach
	Shortlist = 6    // of the pool, computed in full before the best is named
)

// Propose searches every head that can be built for the best. It ranks by the
// reduced stroke; the first few of the ranking, and each alternative, are then
// computed in full, and the best is the best of these by the full stroke.
//
// When ctx ends first, the proposal is the best so far and says that it is
// partial. When nothing can be built, the error is a *Clash; when the softness
// was asked for and is out of reach, it is one as well, and the proposal holds
// the nearest head as the best.
func Propose(ctx context.Context, f *propose.Finder, q propose.Request) (propose.Proposal, error) {
	x, err := Look(ctx, f, q)
	if err != nil {
		return x.sight, err
	}
	return x.Proposal(ctx)
}

// Survey is what a search has come to, before anything is computed in full. It is
// for one goroutine.
type Survey struct {
	s     *Search
	reach float64 // how far from the softness the best may be; zero is any
	sight propose.Proposal
	from  *found // what the best was found as; nil before it is named
}

// Look is the first half of Propose.
func Look(ctx context.Context, f *propose.Finder, q propose.Request) (Survey, error) {
	if err := f.Check(q); err != nil {
		return Survey{}, err
	}
	x := Survey{s: New(f, q)}
	s := x.s
	if q.Known[facts.WantSoftness] {
		x.reach = f.Judging(q).Weights.Reach
	}
	if x.reach > 0 && !s.reaches(x.reach) && (q.Most == 0 || q.Most > mostNear) {
		s.q.Most = mostNear // the nearest need not be proven
	}
	top := NewGoal(Shortlist, math.Inf(-1))
	top.near = 0.5
	s.Run(ctx, top)
	x.sight = propose.Proposal{Tried: int(s.tried.Load()), Buildable: int(s.buildable.Load()), Partial: s.stopped.Load()}
	if len(top.best) == 0 {
		if err := ctx.Err(); err != nil {
			return x, fault.Errorf("stopped before a head was found: %w", err)
		}
		return x, Why(ctx, f, q)
	}
	s.rank()
	for i := range s.seen[:min(poolSize, len(s.seen))] {
		x.sight.Pool = append(x.sight.Pool, s.sketch(&s.seen[i]))
	}
	x.sight.Pool = withSpread(x.sight.Pool, s.spread())
	for _, n := range s.ground {
		n.prune() // a survey may be kept for long
	}
	return x, nil
}

// Pool is the pool of the proposal.
func (x *Survey) Pool() []propose.Candidate { return x.sight.Pool }

// Proposal is the second half of Propose.
func (x *Survey) Proposal(ctx context.Context) (propose.Proposal, error) {
	p, err := x.Best(ctx)
	if err == nil {
		p.Alternatives, err = x.Alternatives()
	}
	return p, err
}

// Best is the proposal without its alternatives.
func (x *Survey) Best(ctx context.Context) (propose.Proposal, error) {
	p := x.sight
	best, from, err := x.s.first()
	if err != nil {
		return p, err
	}
	p.Best = best
	if x.reach > 0 && ctx.Err() == nil && math.Abs(p.Best.Facts.Head.Softness-x.s.base.Want.Softness) > x.reach {
		near, as, err := within(ctx, x.s, x.reach)
		if err != nil {
			return p, err
		}
		if why := against(&near, &best); why != "" {
			c := &propose.Clash{Against: why, Nearest: []propose.Alternative{{Candidate: near, Kind: "all the same"}}}
			c.Add(propose.Wish{Fact: facts.WantSoftness, Text: x.s.j.Asked()})
			return p, c
		}
		p.Best, from = near, as
	}
	x.sight.Best, x.from = p.Best, from
	return p, nil
}

// Alternatives are those to the best, which has been named.
func (x *Survey) Alternatives() ([]propose.Alternative, error) {
	return x.s.alternatives(x.sight.Best, x.from)
}

// rank sorts what was seen, best first, and leaves the best on each rubber and core.
func (s *Search) rank() {
	slices.SortFunc(s.seen, func(a, b found) int { return a.compare(&b) })
	type place struct {
		n    *node
		core int
	}
	had := map[place]bool{}
	s.seen = slices.DeleteFunc(s.seen, func(x found) bool {
		at := place{x.node, x.core}
		was := had[at]
		had[at] = true
		return was
	})
}

// withSpread adds to a pool what it does not hold, best first.
func withSpread(pool, more []propose.Candidate) []propose.Candidate {
	have := map[string]bool{}
	for _, c := range pool {
		have[c.Stack.String()] = true
	}
	for _, c := range more {
		if !have[c.Stack.String()] {
			c.Head = head.Head{}
			pool = append(pool, c)
		}
	}
	slices.SortStableFunc(pool, func(a, b propose.Candidate) int { return cmp.Compare(b.Score, a.Score) })
	return pool
}

// Heads returns what was found for a goal, best first.
func (s *Search) Heads(g *Goal) []propose.Candidate {
	list := make([]propose.Candidate, len(g.best))
	for i := range g.best {
		list[i] = s.sketch(&g.best[i])
	}
	return list
}

// sketch makes a candidate of what the search knows: without a report, and
// without a trace.
func (s *Search) sketch(x *found) propose.Candidate {
	c := propose.Candidate{Stack: s.stack(x), Facts: s.base, Layers: x.layersOf(), Score: x.score}
	c.Facts.Head = x.facts
	return c
}
