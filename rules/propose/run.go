package propose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/cutting"
)

// Sizes of a proposal.
const (
	poolSize  = 100
	mostNear  = 5000 // looked at for the nearest to a softness that is out of reach
	shortlist = 6    // of the pool, computed in full before the best is named
)

// Propose searches every head that can be built for the best. It ranks by the
// reduced stroke; the first few of the ranking, and each alternative, are then
// computed in full, and the best is the best of these by the full stroke.
//
// When ctx ends first, the proposal is the best so far and says that it is
// partial. When nothing can be built, the error is a *Clash; when the softness
// was asked for and is out of reach, it is one as well, and the proposal holds
// the nearest head as the best.
func (f *Finder) Propose(ctx context.Context, q Request) (Proposal, error) {
	if err := f.check(q); err != nil {
		return Proposal{}, err
	}
	s := f.search(q)
	reach := 0.0 // how far from the softness the best may be; zero is any
	if q.Known["want.softness"] {
		reach = f.judging(q).w.reach
	}
	if reach > 0 && !s.reaches(reach) && (q.Most == 0 || q.Most > mostNear) {
		s.q.Most = mostNear // the nearest need not be proven
	}
	top := newGoal(shortlist, math.Inf(-1))
	s.run(ctx, top)
	p := Proposal{
		Tried: int(s.tried.Load()), Buildable: int(s.buildable.Load()),
		Refused: s.refused, Partial: s.stopped.Load(),
	}
	if len(top.best) == 0 {
		if err := ctx.Err(); err != nil {
			return p, fmt.Errorf("propose: stopped before a head was found: %w", err)
		}
		return p, f.clash(ctx, q)
	}
	slices.SortFunc(s.seen, func(a, b found) int { return a.compare(&b) })
	for i := range s.seen[:min(poolSize, len(s.seen))] {
		p.Pool = append(p.Pool, s.sketch(&s.seen[i]))
	}
	p.Pool = withSpread(p.Pool, s.spread())
	var err error
	if p.Best, err = f.first(p.Pool[:len(top.best)], q); err != nil {
		return p, err
	}
	if reach > 0 && ctx.Err() == nil && math.Abs(p.Best.Facts.Head.Softness-s.base.Want.Softness) > reach {
		best, err := f.within(ctx, s, reach)
		if err != nil {
			return p, err
		}
		p.Best = best
	}
	p.Alternatives, err = s.alternatives(p.Best)
	return p, err
}

// withSpread adds to a pool what it does not hold, best first.
func withSpread(pool, more []Candidate) []Candidate {
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
	slices.SortStableFunc(pool, func(a, b Candidate) int { return cmp.Compare(b.Score, a.Score) })
	return pool
}

// first computes the candidates in full and returns the best of them.
func (f *Finder) first(list []Candidate, q Request) (Candidate, error) {
	best := Candidate{Score: math.Inf(-1)}
	for i, c := range list {
		full, err := f.Consider(c.Stack, q)
		if err != nil {
			return best, err
		}
		if full.Score > best.Score || i == 0 {
			best = full
		}
	}
	return best, nil
}

// heads returns what was found for a goal, best first.
func (s *search) heads(g *goal) []Candidate {
	list := make([]Candidate, len(g.best))
	for i := range g.best {
		list[i] = s.sketch(&g.best[i])
	}
	return list
}

// sketch makes a candidate of what the search knows: without a report, and
// without a trace.
func (s *search) sketch(x *found) Candidate {
	c := Candidate{Stack: s.stack(x), Facts: s.base, Layers: x.layersOf(), Score: x.score}
	c.Facts.Head = x.facts
	return c
}

// kind is a way in which an alternative differs from the best: by enough to
// be worth showing.
type kind struct {
	name string
	is   func(best, h *facts.Head) bool
}

func kinds() []kind {
	return []kind{
		{"softer", func(b, h *facts.Head) bool { return h.Softness >= b.Softness+1.5 }},
		{"harder", func(b, h *facts.Head) bool { return h.Softness <= b.Softness-1.5 }},
		{"lighter", func(b, h *facts.Head) bool { return h.MassG <= 0.88*b.MassG }},
		{"smaller", func(b, h *facts.Head) bool { return h.DiameterMM <= b.DiameterMM-2 }},
		{"cheaper", func(b, h *facts.Head) bool { return h.CostCents <= 0.8*b.CostCents-1 }},
		{"other core", func(b, h *facts.Head) bool { return h.Core != b.Core }},
		{"fewer layers", func(b, h *facts.Head) bool { return h.Layers < b.Layers }},
		{"no latex", func(b, h *facts.Head) bool { return b.Latex && !h.Latex }},
	}
}

// alternatives returns a head of each kind that there is, best first. Each is
// the best of its kind among the heads that the search looked at closely and
// those that are one change away from the best: near relatives, which a maker
// can compare part by part. A head that is the best of several kinds stands
// once, under the first.
func (s *search) alternatives(best Candidate) ([]Alternative, error) {
	b := best.Facts.Head
	near := s.relatives(best.Stack)
	var list []Alternative
	done := map[string]bool{best.Stack.String(): true}
	for _, k := range kinds() {
		var c *Candidate
		for i := range near {
			if x := &near[i]; k.is(&b, &x.Facts.Head) && (c == nil || x.Score > c.Score) {
				c = x
			}
		}
		for i := range s.seen { // sorted, best first
			if x := &s.seen[i]; k.is(&b, &x.facts) {
				if c == nil || x.score > c.Score {
					sketch := s.sketch(x)
					c = &sketch
				}
				break
			}
		}
		if c == nil || done[c.Stack.String()] {
			continue
		}
		done[c.Stack.String()] = true
		full, err := s.f.Consider(c.Stack, s.q)
		if err != nil {
			return nil, err
		}
		if full.Refused() != nil || !k.is(&b, &full.Facts.Head) {
			continue // by the full stroke it is no longer what it was taken for
		}
		list = append(list, Alternative{Candidate: full, Kind: k.name, Trades: trades(&b, &full.Facts.Head)})
	}
	slices.SortStableFunc(list, func(a, b Alternative) int { return cmp.Compare(b.Score, a.Score) })
	return list, nil
}

// relatives returns the heads one change away from a stack that no rule
// refuses.
func (s *search) relatives(st head.Stack) []Candidate {
	var list []head.Stack
	for _, e := range s.edits(edited{stack: st}) {
		list = append(list, e.stack)
	}
	return s.quickAll(list)
}

// trades lists what an alternative gives and takes.
func trades(from, to *facts.Head) []Trade {
	var list []Trade
	add := func(fact, unit string, a, b, least float64) {
		if math.Abs(b-a) >= least {
			list = append(list, Trade{fact, unit, a, b})
		}
	}
	add("head.softness", "notches", from.Softness, to.Softness, 0.25)
	add("head.mass_g", "g", from.MassG, to.MassG, 0.5)
	add("head.diameter_mm", "mm", from.DiameterMM, to.DiameterMM, 0.3)
	add("head.cost", "cents", from.CostCents, to.CostCents, 5)
	add("head.layers", "", from.Layers, to.Layers, 1)
	add("head.opens_up", "octaves", from.OpensUp, to.OpensUp, 0.05)
	add("head.hand_n", "N", from.HandN, to.HandN, 2)
	add("head.inertia", "g m2", from.InertiaGM2, to.InertiaGM2, 0.05)
	return list
}

// check reports what makes a request impossible to answer at all.
func (f *Finder) check(q Request) error {
	if err := q.Bin.Check(f.cat); err != nil {
		return err
	}
	if q.Heads < 0 {
		return fmt.Errorf("propose: %d heads: a number above zero is needed", q.Heads)
	}
	w := q.Facts.Want
	for _, x := range []struct {
		what  string
		value float64
	}{{"mass", w.MassG}, {"diameter", w.DiameterMM}, {"budget", w.BudgetCents}} {
		if x.value < 0 || math.IsNaN(x.value) || math.IsInf(x.value, 0) {
			return fmt.Errorf("propose: a %s of %v can't be built to; it has to be above zero", x.what, x.value)
		}
	}
	if math.IsNaN(w.Softness) || math.IsInf(w.Softness, 0) {
		return fmt.Errorf("propose: a softness of %v notches is no number to build to", w.Softness)
	}
	return nil
}

// cuts reports whether the slices of tubing t in node x, for every head, can
// be cut from the lengths on hand.
func (f *Finder) cuts(x *node, t int, stock []float64, heads int) bool {
	j := cutting.Job{Kerf: measure.Length(f.cat.Limits.KerfM.Value)}
	for n := x; n.up != nil; n = n.up {
		if n.tube == t {
			j.Want = append(j.Want, cutting.Piece{Length: n.cut, Count: heads})
		}
	}
	for _, l := range stock {
		if math.IsInf(l, 1) {
			return true
		}
		j.Have = append(j.Have, cutting.Piece{Length: measure.Length(l), Count: 1})
	}
	_, err := j.Plan()
	return err == nil
}
