package propose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/rules/facts"
)

// Clash is the error of a request that no buildable head meets.
type Clash struct {
	// Wishes are those of the request's that can't be met together: with any
	// one of them given up, the others can.
	Wishes []string
	Asked  []Wish // the same, by what asks for them
	// Nearest are heads that can be built: for each wish that may be given up,
	// the best head without it; for a softness out of reach, the best head on
	// each side of it.
	Nearest []Alternative
	// Open says that the search ended before it was certain: a head may exist.
	Open bool
}

func (c *Clash) add(w Wish) {
	c.Wishes = append(c.Wishes, w.Text)
	c.Asked = append(c.Asked, w)
}

// Wish is something that a request asks of a head.
type Wish struct {
	Fact string // the fact, or the pin, that asks for it
	Text string // in a few words
	Firm bool   // it keeps somebody safe and is not to be given up
}

func (c *Clash) Error() string {
	if len(c.Wishes) == 0 {
		return "propose: the rules refuse every head that these parts make"
	}
	s := "propose: no head that can be built has "
	if c.Open {
		s = "propose: no head was found that has "
	}
	if len(c.Wishes) > 1 {
		s += "all of "
	}
	s += strings.Join(c.Wishes, "; ")
	for i, n := range c.Nearest {
		s += fmt.Sprintf("%s %s: %s, %+.1f notches, %.1f g", []string{"; the nearest,", ";"}[min(i, 1)], n.Kind, n.Stack, n.Facts.Head.Softness, n.Facts.Head.MassG)
	}
	return s
}

// wish is a wish and how to do without it.
type wish struct {
	Wish
	drop func(*Request)
}

// wishes lists what a request asks that could stand in the way of a head.
func (f *Finder) wishes(q Request) []wish {
	at := f.settle(q)
	var list []wish
	add := func(made bool, fact, text string, firm bool, drop func(*Request)) {
		if made {
			list = append(list, wish{Wish{fact, text, firm}, drop})
		}
	}
	p, w, b := &at.Player, &at.Want, &at.Bench
	add(q.Bin != nil, "bin", "only parts that are on hand", false, func(q *Request) { q.Bin = nil })
	add(q.Pin.Core != "", "pin.core", "core "+q.Pin.Core, false, func(q *Request) { q.Pin.Core = "" })
	add(q.Pin.Tubing != nil, "pin.tubing", "layers "+strings.Join(q.Pin.Tubing, " + "), false, func(q *Request) { q.Pin.Tubing = nil })
	add(q.Pin.Yarn != "", "pin.yarn", "yarn "+q.Pin.Yarn, false, func(q *Request) { q.Pin.Yarn = "" })
	add(q.Pin.Shaft != "", "pin.shaft", "shaft "+q.Pin.Shaft, false, func(q *Request) { q.Pin.Shaft = "" })
	add(len(q.Pin.Without) > 0, "pin.without", "nothing of "+strings.Join(q.Pin.Without, ", "), false, func(q *Request) { q.Pin.Without = nil })
	add(!p.LatexOK, "player.latex_ok", "no natural rubber latex", true, func(q *Request) { q.Facts.Player.LatexOK = true })
	add(w.BudgetCents > 0, "want.budget", fmt.Sprintf("at most %.2f for a pair", w.BudgetCents/100), false, func(q *Request) { q.Facts.Want.BudgetCents = 0 })
	add(!b.Drill, "bench.drill", "no drilling", false, func(q *Request) { q.Facts.Bench.Drill = true })
	add(p.Minor && !b.Supervised, "bench.supervised", "a minor working alone", true, func(q *Request) { q.Facts.Bench.Supervised = true })
	add(p.Level == "first", "player.level", "a first set", false, func(q *Request) { q.Facts.Player.Level = "many" })
	add(true, "player.hand_n", fmt.Sprintf("a pull of at most %.0f N", p.HandN), false, func(q *Request) { q.Facts.Player.HandN = 1e6 })
	add(true, "player.most_g", fmt.Sprintf("at most %.0f g", p.MostG), false, func(q *Request) { q.Facts.Player.MostG = 1e6 })
	add(true, "player.most_mm", fmt.Sprintf("at most %.0f mm across", p.MostMM), false, func(q *Request) { q.Facts.Player.MostMM = 1e6 })
	add(true, "instrument.low_hz", "the notes asked for", false, func(q *Request) {
		q.Facts.Instrument.LowHz, q.Facts.Instrument.HighHz = 1, 1e6
	})
	return list
}

// clash explains why nothing can be built: it looks for one wish that by itself
// rules out every head, and else gives up every wish that does not help to, the
// ones that nobody made first. What is left are wishes of which any one given
// up lets the others be met.
func (f *Finder) clash(ctx context.Context, q Request) error {
	all := f.wishes(q)
	clashes := func(keep ...int) bool {
		r := q
		for i, w := range all {
			if !slices.Contains(keep, i) {
				w.drop(&r)
			}
		}
		return f.none(ctx, r)
	}
	c := &Clash{}
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
		c.add(all[i].Wish)
		if all[i].Firm {
			continue
		}
		r := q
		all[i].drop(&r)
		if near, err := f.best(ctx, r); err == nil {
			c.Nearest = append(c.Nearest, Alternative{Candidate: near, Kind: "without " + all[i].Text})
		}
	}
	return c
}

// mostNone is how many heads are looked at, for each set of wishes, before it
// is taken not to clash.
const mostNone = 5000

// none reports whether it is certain that no head can be built.
func (f *Finder) none(ctx context.Context, q Request) bool {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := f.search(q)
	s.limit = mostNone
	g := newGoal(1, math.Inf(-1))
	g.found = cancel
	s.run(ctx, g)
	return len(g.best) == 0 && !s.stopped.Load()
}

// mostBest is how many heads are looked at for a best that stands beside a
// proposal: it shows a way, and need not be proven.
const mostBest = 10_000

// best returns the best head alone, or nearly.
func (f *Finder) best(ctx context.Context, q Request) (Candidate, error) {
	if q.Most == 0 || q.Most > mostBest {
		q.Most = mostBest
	}
	s := f.search(q)
	g := newGoal(shortlist, math.Inf(-1))
	s.run(ctx, g)
	if len(g.best) == 0 {
		if err := ctx.Err(); err != nil {
			return Candidate{}, err
		}
		return Candidate{}, &Clash{}
	}
	return f.first(s.heads(g), q)
}

// near is the goal of a head no further than reach from the softness asked for.
func (s *search) near(reach float64) *goal {
	want := s.base.Want.Softness
	g := newGoal(shortlist, math.Inf(-1))
	g.clip = func(lo, hi *facts.Head) bool {
		return from(&lo.Softness, hi.Softness, want-reach) && upTo(lo.Softness, &hi.Softness, want+reach)
	}
	g.is = func(h *facts.Head) bool { return math.Abs(h.Softness-want) <= reach }
	return g
}

// reaches reports whether a head may be near enough to the softness asked for,
// as far as can be told without looking at any.
func (s *search) reaches(reach float64) bool {
	s.goals = []*goal{s.near(reach)}
	w := s.worker()
	return slices.ContainsFunc(s.roots, func(r *root) bool {
		n := w.root(r)
		_, ok := w.holds(n, n.least)
		return ok || w.hopeful(n)
	})
}

// within returns the best head that is no further than reach from a softness
// that was asked for: what else a head is liked for may not outweigh that. The
// error is a *Clash with the nearest head on either side when there is none.
func (f *Finder) within(ctx context.Context, s *search, reach float64) (Candidate, error) {
	want := s.base.Want.Softness
	near := s.near(reach)
	seen := s.seen
	again := func(g *goal) {
		s.limit = s.q.Most
		s.run(ctx, g)
		s.seen = seen
	}
	again(near)
	if len(near.best) > 0 {
		return f.first(s.heads(near), s.q)
	}
	if err := ctx.Err(); err != nil {
		return Candidate{}, err
	}
	c := &Clash{Open: s.stopped.Load()}
	c.add(Wish{Fact: "want.softness", Text: fmt.Sprintf("a softness of %+.1f notches", want)})
	q := s.q
	side := func(name string, clip func(lo, hi *facts.Head) bool, is func(h *facts.Head) bool) {
		best := seen[:min(1, len(seen))]
		if len(best) == 0 || !is(&best[0].facts) {
			g := newGoal(1, math.Inf(-1))
			g.clip, g.is = clip, is
			again(g)
			best = g.best
		}
		if len(best) > 0 {
			if full, err := f.Consider(s.stack(&best[0]), q); err == nil {
				c.Nearest = append(c.Nearest, Alternative{Candidate: full, Kind: name})
			}
		}
	}
	side("on the harder side", func(lo, hi *facts.Head) bool { return upTo(lo.Softness, &hi.Softness, want) }, func(h *facts.Head) bool { return h.Softness <= want })
	side("on the softer side", func(lo, hi *facts.Head) bool { return from(&lo.Softness, hi.Softness, want) }, func(h *facts.Head) bool { return h.Softness >= want })
	return Candidate{}, c
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
