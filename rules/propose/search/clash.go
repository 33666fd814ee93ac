package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/kit"
)

// Given is a wish, and how to do without it.
type Given struct {
	propose.Wish
	Drop func(*propose.Request)
}

// Wishes lists what a request asks that could stand in the way of a head.
func Wishes(f *propose.Finder, q propose.Request) []Given {
	at := f.Settle(q)
	var list []Given
	add := func(made bool, fact, text string, firm bool, drop func(*propose.Request)) {
		if made {
			list = append(list, Given{propose.Wish{Fact: fact, Text: text, Firm: firm}, drop})
		}
	}
	p, w, b := &at.Player, &at.Want, &at.Bench
	add(q.Bin != nil, "bin", "only parts that are on hand", false, func(q *propose.Request) { q.Bin = nil })
	add(q.Pin.Core != "", "pin.core", "core "+q.Pin.Core, false, func(q *propose.Request) { q.Pin.Core = "" })
	add(q.Pin.Tubing != nil, "pin.tubing", "layers "+strings.Join(q.Pin.Tubing, " + "), false, func(q *propose.Request) { q.Pin.Tubing = nil })
	add(q.Pin.Yarn != "", "pin.yarn", "yarn "+q.Pin.Yarn, false, func(q *propose.Request) { q.Pin.Yarn = "" })
	add(q.Pin.Shaft != "", "pin.shaft", "shaft "+q.Pin.Shaft, false, func(q *propose.Request) { q.Pin.Shaft = "" })
	add(len(q.Pin.Without) > 0, "pin.without", "nothing of "+strings.Join(q.Pin.Without, ", "), false, func(q *propose.Request) { q.Pin.Without = nil })
	add(!p.LatexOK, facts.PlayerLatexOK, "no natural rubber latex", true, func(q *propose.Request) { q.Pass = q.Pass.But(facts.PlayerLatexOK, true) })
	add(w.BudgetCents > 0, facts.WantBudgetCents, fmt.Sprintf("at most %.2f for a pair", w.BudgetCents/100), false, func(q *propose.Request) { q.Facts.Want.BudgetCents = 0 })
	add(!b.Drill, facts.BenchDrill, "no drilling", false, func(q *propose.Request) { q.Facts.Bench.Drill = true })
	add(p.Minor && !b.Supervised, facts.BenchSupervised, "a minor working alone", true, func(q *propose.Request) { q.Pass = q.Pass.But(facts.BenchSupervised, true) })
	add(p.Level == "first", facts.PlayerLevel, "a first set", false, func(q *propose.Request) { q.Facts.Player.Level = "many" })
	add(true, facts.PlayerHandN, fmt.Sprintf("a pull of at most %.0f N", p.HandN), false, func(q *propose.Request) { q.Facts.Player.HandN = 1e6 })
	add(true, facts.PlayerMostG, fmt.Sprintf("at most %.0f g", p.MostG), false, func(q *propose.Request) { q.Facts.Player.MostG = 1e6 })
	add(true, facts.PlayerMostMM, fmt.Sprintf("at most %.0f mm across", p.MostMM), false, func(q *propose.Request) { q.Facts.Player.MostMM = 1e6 })
	add(w.LeastG > 0, facts.WantLeastG, fmt.Sprintf("at least %.0f g", w.LeastG), false, func(q *propose.Request) { q.Facts.Want.LeastG = 0 })
	add(w.LeastMM > 0, facts.WantLeastMM, fmt.Sprintf("at least %.0f mm across", w.LeastMM), false, func(q *propose.Request) { q.Facts.Want.LeastMM = 0 })
	add(true, facts.InstrumentLowHz, "the notes asked for", false, func(q *propose.Request) {
		q.Facts.Instrument.LowHz, q.Facts.Instrument.HighHz = 1, 1e6
	})
	return list
}

// Why explains why nothing can be built: it looks for one wish that by itself
// rules out every head, and else gives up every wish that does not help to, the
// ones that nobody made first. What is left are wishes of which any one given
// up lets the others be met.
func Why(ctx context.Context, f *propose.Finder, q propose.Request) error {
	all := Wishes(f, q)
	clashes := func(keep ...int) bool {
		r := q
		for i, w := range all {
			if !slices.Contains(keep, i) {
				w.Drop(&r)
			}
		}
		return none(ctx, f, r)
	}
	c := &propose.Clash{}
	if clashes() {
		return c
	}
	var found []int
	for i := range all {
		found = append(found, i)
	}
	if i := slices.IndexFunc(found, func(i int) bool { return clashes(i) }); i >= 0 {
		found = found[i : i+1]
	}
	for i := len(found) - 1; i >= 0 && len(found) > 1; i-- {
		if less := slices.Delete(slices.Clone(found), i, i+1); clashes(less...) {
			found = less
		}
	}
	for _, i := range found {
		c.Add(all[i].Wish)
		if all[i].Firm {
			continue
		}
		r := q
		all[i].Drop(&r)
		if near, err := Best(ctx, f, r); err == nil {
			c.Nearest = append(c.Nearest, propose.Alternative{Candidate: near, Kind: "without " + all[i].Text})
		}
	}
	return c
}

// mostNone is how many heads are looked at, for each set of wishes, before it
// is taken not to clash.
const mostNone = 5000

// none reports whether it is certain that no head can be built.
func none(ctx context.Context, f *propose.Finder, q propose.Request) bool {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := New(f, q)
	s.Limit = mostNone
	g := NewGoal(1, math.Inf(-1))
	g.found = cancel
	s.Run(ctx, g)
	return len(g.best) == 0 && !s.stopped.Load()
}

// mostBest is how many heads are looked at for a best that stands beside a
// proposal: it shows a way, and need not be proven.
const mostBest = 10_000

// Best returns the best head alone, or nearly.
func Best(ctx context.Context, f *propose.Finder, q propose.Request) (propose.Candidate, error) {
	if q.Most == 0 || q.Most > mostBest {
		q.Most = mostBest
	}
	s := New(f, q)
	g := NewGoal(Shortlist, math.Inf(-1))
	s.Run(ctx, g)
	if len(g.best) == 0 {
		if err := ctx.Err(); err != nil {
			return propose.Candidate{}, err
		}
		return propose.Candidate{}, &propose.Clash{}
	}
	s.rank()
	best, _, err := s.first()
	return best, err
}

// within is the goal of a head no further than reach from the softness asked for.
func (s *Search) within(reach float64) *Goal {
	want := s.base.Want.Softness
	g := NewGoal(Shortlist, math.Inf(-1))
	g.Clip = func(lo, hi *facts.Head) bool {
		return from(&lo.Softness, hi.Softness, want-reach) && upTo(lo.Softness, &hi.Softness, want+reach)
	}
	g.Is = func(h *facts.Head) bool { return math.Abs(h.Softness-want) <= reach }
	return g
}

// reaches reports whether a head may be near enough to the softness asked for,
// as far as can be told without looking at any.
func (s *Search) reaches(reach float64) bool {
	s.goal = s.within(reach)
	w := s.worker()
	return slices.ContainsFunc(s.Roots, func(r *kit.Root) bool {
		n := w.root(r)
		on := n.root.Part.Span()
		_, ok := w.holds(n, &on, n.least)
		return ok || topAbove(w, n) >= w.bar()
	})
}

// within returns the best head that is no further than reach from a softness
// that was asked for: what else a head is liked for may not outweigh that. The
// error is a *Clash with the nearest head on either side when there is none.
func within(ctx context.Context, s *Search, reach float64) (best propose.Candidate, as *found, err error) {
	want := s.base.Want.Softness
	near := s.within(reach)
	again := func(g *Goal) {
		s.Limit = s.q.Most
		s.Run(ctx, g)
	}
	seen := s.seen
	defer func() { s.seen = seen }()
	again(near)
	if len(near.best) > 0 {
		s.rank()
		return s.first()
	}
	if err := ctx.Err(); err != nil {
		return best, nil, err
	}
	c := &propose.Clash{Open: s.stopped.Load()}
	c.Add(propose.Wish{Fact: facts.WantSoftness, Text: s.j.Asked()})
	q := s.q
	side := func(name string, clip func(lo, hi *facts.Head) bool, is func(h *facts.Head) bool) {
		s.firm = 10 // nearest in softness, whatever else is liked
		g := NewGoal(1, math.Inf(-1))
		g.Clip, g.Is = clip, is
		again(g)
		s.firm = 0
		best := g.best
		if len(best) > 0 {
			if full, err := s.f.Consider(s.stack(&best[0]), q); err == nil {
				c.Nearest = append(c.Nearest, propose.Alternative{Candidate: full, Kind: name})
			}
		}
	}
	side("on the harder side", func(lo, hi *facts.Head) bool { return upTo(lo.Softness, &hi.Softness, want) }, func(h *facts.Head) bool { return h.Softness <= want })
	side("on the softer side", func(lo, hi *facts.Head) bool { return from(&lo.Softness, hi.Softness, want) }, func(h *facts.Head) bool { return h.Softness >= want })
	return best, nil, c
}

// unmade is what a rule has to hold against a head for no maker to build it, in points.
// Common practice, no source.
const unmade = -8

// against returns why no maker would build a head of the softness asked for where
// another is liked better: what the gravest rule says that holds against it and not
// against the other. It is empty where none weighs so much.
func against(near, other *propose.Candidate) (why string) {
	if near.Score >= other.Score {
		return ""
	}
	fires := func(c *propose.Candidate, r *rules.Rule) bool {
		return slices.ContainsFunc(c.Trace, func(f rules.Firing) bool { return f.Rule == r && f.State == rules.Fired })
	}
	worst := 0.0
	for _, f := range near.Trace {
		if w := f.Rule.Weight; f.State == rules.Fired && f.Rule.Do == rules.Prefer && w <= unmade && w < worst && !fires(other, f.Rule) {
			worst, why = w, f.Reason
		}
	}
	return why
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
