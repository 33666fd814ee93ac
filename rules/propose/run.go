package propose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/cutting"
)

// Sizes of a proposal.
const (
	poolSize  = 40
	shortlist = 6 // of the pool, computed in full before the best is named
)

// patience bounds a search until it is fast enough not to need a bound.
const patience = time.Second

// Propose searches every head that can be built for the best, and for the
// best of each kind that differs from it. It ranks by the reduced stroke; the
// first few of the ranking, and each alternative, are then computed in full
// and ranked again.
//
// When ctx ends first, the proposal is the best so far and says that it is
// partial. When nothing can be built, the error is a *Clash; when the softness
// was asked for and is out of reach, it is one as well, and the proposal holds
// the nearest head as the best.
func (f *Finder) Propose(ctx context.Context, q Request) (Proposal, error) {
	if err := f.check(q); err != nil {
		return Proposal{}, err
	}
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	s := f.search(q)
	pool := newGoal(poolSize, math.Inf(-1))
	s.run(ctx, pool)
	p := Proposal{
		Tried: int(s.tried.Load()), Buildable: int(s.buildable.Load()),
		Refused: s.refused, Partial: s.stopped.Load(),
	}
	if len(pool.best) == 0 {
		if err := ctx.Err(); err != nil {
			return p, fmt.Errorf("propose: stopped before a head was found: %w", err)
		}
		return p, f.clash(ctx, q)
	}
	for i := range pool.best {
		p.Pool = append(p.Pool, s.sketch(&pool.best[i]))
	}
	var err error
	if p.Best, err = f.first(p.Pool[:min(shortlist, len(p.Pool))], q); err != nil {
		return p, err
	}
	if q.Known["want.steps"] && !p.Partial {
		if c := f.outOfReach(ctx, s, p.Best, pool.best); c != nil {
			return p, c
		}
	}
	p.Alternatives, err = s.alternatives(ctx, p.Best, pool.best)
	p.Partial = p.Partial || s.stopped.Load()
	return p, err
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
	clip func(best, lo, hi *facts.Head) bool
}

var kinds = []kind{
	{"softer", func(b, h *facts.Head) bool { return h.Steps >= b.Steps+1.5 },
		func(b, lo, hi *facts.Head) bool { return from(&lo.Steps, hi.Steps, b.Steps+1.5) }},
	{"harder", func(b, h *facts.Head) bool { return h.Steps <= b.Steps-1.5 },
		func(b, lo, hi *facts.Head) bool { return upTo(lo.Steps, &hi.Steps, b.Steps-1.5) }},
	{"lighter", func(b, h *facts.Head) bool { return h.MassG <= 0.88*b.MassG },
		func(b, lo, hi *facts.Head) bool { return upTo(lo.MassG, &hi.MassG, 0.88*b.MassG) }},
	{"smaller", func(b, h *facts.Head) bool { return h.DiameterMM <= b.DiameterMM-2 },
		func(b, lo, hi *facts.Head) bool { return upTo(lo.DiameterMM, &hi.DiameterMM, b.DiameterMM-2) }},
	{"cheaper", func(b, h *facts.Head) bool { return h.CostCents <= 0.8*b.CostCents-1 },
		func(b, lo, hi *facts.Head) bool { return upTo(lo.CostCents, &hi.CostCents, 0.8*b.CostCents-1) }},
	{"other core", func(b, h *facts.Head) bool { return h.Core != b.Core },
		func(b, lo, hi *facts.Head) bool { return lo.Core != b.Core || hi.Core != lo.Core }},
	{"fewer layers", func(b, h *facts.Head) bool { return h.Layers < b.Layers },
		func(b, lo, hi *facts.Head) bool { return upTo(lo.Layers, &hi.Layers, b.Layers-1) }},
	{"no latex", func(b, h *facts.Head) bool { return b.Latex && !h.Latex },
		func(b, lo, hi *facts.Head) bool {
			hi.Latex = lo.Latex
			return b.Latex && !lo.Latex
		}},
}

// from and upTo clip one side of a box and report whether any is left.
func from(lo *float64, hi, least float64) bool {
	*lo = max(*lo, least)
	return *lo <= hi
}

func upTo(lo float64, hi *float64, most float64) bool {
	*hi = min(*hi, most)
	return lo <= *hi
}

// farBehind is how many points behind the best an alternative is no longer
// worth showing. Softness at 3 points a step makes that two steps.
const farBehind = 6

// alternatives returns the best head of each kind that there is, best first.
// A head that is the best of several kinds stands once, under the first.
func (s *search) alternatives(ctx context.Context, best Candidate, seen []found) ([]Alternative, error) {
	b := best.Facts.Head
	var goals []*goal
	for _, k := range kinds {
		g := newGoal(1, best.Score-farBehind)
		g.is = func(h *facts.Head) bool { return k.is(&b, h) }
		g.clip = func(lo, hi *facts.Head) bool { return k.clip(&b, lo, hi) }
		for i := range seen {
			if g.is(&seen[i].facts) && seen[i].score >= g.bar() {
				g.add(&seen[i]) // they are sorted
				break
			}
		}
		goals = append(goals, g)
	}
	s.run(ctx, goals...)
	var list []Alternative
	done := map[string]bool{best.Stack.String(): true}
	for i, g := range goals {
		if len(g.best) == 0 {
			continue
		}
		stack := s.stack(&g.best[0])
		if done[stack.String()] {
			continue
		}
		done[stack.String()] = true
		c, err := s.f.Consider(stack, s.q)
		if err != nil {
			return nil, err
		}
		if c.Refused() != nil || !g.is(&c.Facts.Head) {
			continue // by the full stroke it is no longer what it was taken for
		}
		list = append(list, Alternative{Candidate: c, Kind: kinds[i].name, Trades: trades(&b, &c.Facts.Head)})
	}
	slices.SortStableFunc(list, func(a, b Alternative) int {
		switch {
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return 0
	})
	return list, nil
}

// trades lists what an alternative gives and takes.
func trades(from, to *facts.Head) []Trade {
	var list []Trade
	add := func(fact, unit string, a, b, least float64) {
		if math.Abs(b-a) >= least {
			list = append(list, Trade{fact, unit, a, b})
		}
	}
	add("head.steps", "steps", from.Steps, to.Steps, 0.25)
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
	if math.IsNaN(w.Steps) || math.IsInf(w.Steps, 0) {
		return fmt.Errorf("propose: a softness of %v steps is no number to build to", w.Steps)
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
