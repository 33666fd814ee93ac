// Package graded chooses sets of heads in even steps from hard to soft. It knows
// what makes heads one family; it never judges a single head, the rules do.
//
// A set of wound heads is of one kind of core, one yarn and the same few sizes
// of tubing; slices give the large steps of softness and turns even out the
// rest. A set of bare heads is of balls in the order of their hardness.
package graded

import (
	"context"
	"fmt"
	"math"

	"mallow/knowledge/fault"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Options say what a graded set is to be like.
type Options struct {
	Rungs   int          // 2 to 8
	Each    int          // heads on a rung: 2, a pair, or 4; zero is a pair
	Gap     float64      // notches from rung to rung; zero is 2, or what Hardest and Softest come to
	Hardest *float64     // softness of the hardest rung; nil centres the set on what the request asks
	Softest *float64     // softness of the softest rung; nil follows from the gap
	Mass    ladder.Trend // empty lets it grow with softness, where the heads are wound
	Size    ladder.Trend // likewise
}

// Set is a graded set.
type Set struct {
	Rungs []Rung // hardest first
	Order stock.Order
	Cost  float64 // points
	Exact bool    // proven the best of the heads considered
	Items int     // heads considered, of the family that was chosen
	// Family is what the heads share, in words.
	Family string
	// Uneven is the most that a gap differs from the mean one, in notches.
	Uneven float64
}

// Rung is one softness of a set.
type Rung struct {
	Want     float64
	Head     propose.Candidate
	Stack    string
	Softness float64
	MassG    float64
	MM       float64
	Match    propose.Matching
}

// Short is the error of a set that can't be had as it was asked for. It holds
// the nearest that can.
type Short struct {
	Nearest Set
	Misses  []string // what the nearest falls short of
	Opens   []string // what would open it up
}

func (e *Short) Error() string {
	s := "no such set can be built: "
	for i, m := range e.Misses {
		if i > 0 {
			s += "; "
		}
		s += m
	}
	for i, o := range e.Opens {
		s += []string{"; it would take ", ", or "}[min(i, 1)] + o
	}
	return s
}

// check settles the options.
func (o *Options) check() error {
	if o.Rungs < 2 || o.Rungs > 8 {
		return fault.Errorf("a set of %d: 2 to 8 can be made", o.Rungs)
	}
	if o.Each == 0 {
		o.Each = 2
	}
	if o.Each != 2 && o.Each != 4 {
		return fault.Errorf("%d heads of each: pairs (2) or fours (4) can be made", o.Each)
	}
	if o.Hardest != nil && o.Softest != nil && o.Gap == 0 {
		o.Gap = (*o.Softest - *o.Hardest) / float64(o.Rungs-1)
	}
	if o.Gap == 0 {
		o.Gap = 2
	}
	if !(o.Gap >= 0.5 && o.Gap <= 12) {
		return fault.Errorf("rungs %g notches apart: 0.5 to 12 can be told apart and built", o.Gap)
	}
	return nil
}

// rungs returns the softness wanted on each rung.
func (o *Options) rungs(centre float64) []float64 {
	first := centre - o.Gap*float64(o.Rungs-1)/2
	switch {
	case o.Hardest != nil:
		first = *o.Hardest
	case o.Softest != nil:
		first = *o.Softest - o.Gap*float64(o.Rungs-1)
	}
	list := make([]float64, o.Rungs)
	for k := range list {
		list[k] = first + o.Gap*float64(k)
	}
	return list
}

// Choose chooses a graded set: of each family that the rules like best, the
// heads that are most evenly spaced, grow as they should, and cost least when
// the rungs share their stock; and of these sets the best. Within a family the
// choice is exact over the heads considered; see package ladder.
//
// The error is a *Short with the nearest set where what was asked can't be had.
func Choose(ctx context.Context, f *propose.Finder, q propose.Request, opts Options) (Set, error) {
	if err := opts.check(); err != nil {
		return Set{}, err
	}
	if err := f.Check(q); err != nil {
		return Set{}, err
	}
	q.Heads = opts.Each
	centre := f.Usual(q).Softness
	b, err := newBench(ctx, f, q, opts, opts.rungs(centre))
	if err != nil {
		return Set{}, err
	}
	set, short, err := b.choose(ctx)
	if err != nil {
		return Set{}, err
	}
	if short != nil {
		short.Nearest = set
		return set, short
	}
	return set, nil
}

// finish computes a set in full.
func (b *bench) finish(fam *family, got ladder.Set, pool *pool) (Set, error) {
	out := Set{Cost: got.Cost, Exact: got.Exact, Items: len(pool.problem.Items), Family: fam.String()}
	var makes []propose.Make
	for k, i := range got.Pick {
		c, err := b.even(pool.heads[i], b.rungs[k])
		if err != nil {
			return Set{}, err
		}
		h := c.Facts.Head
		out.Rungs = append(out.Rungs, Rung{
			Want: b.rungs[k], Head: c, Stack: c.Stack.String(),
			Softness: h.Softness, MassG: h.MassG, MM: h.DiameterMM, Match: c.Matching(),
		})
		makes = append(makes, propose.Make{Head: c.Head, Heads: b.opts.Each})
	}
	n := len(out.Rungs)
	mean := (out.Rungs[n-1].Softness - out.Rungs[0].Softness) / float64(n-1)
	for k := 1; k < n; k++ {
		out.Uneven = max(out.Uneven, math.Abs(out.Rungs[k].Softness-out.Rungs[k-1].Softness-mean))
	}
	var err error
	out.Order, err = b.f.Order(makes, b.q)
	return out, err
}

// even takes a head near a softness by a few turns more or fewer, as the full
// stroke has it.
func (b *bench) even(c propose.Candidate, want float64) (propose.Candidate, error) {
	best, err := b.f.Consider(c.Stack, b.q)
	if err != nil || c.Stack.Wrap == nil {
		return best, err
	}
	off := func(c *propose.Candidate) float64 { return math.Abs(c.Facts.Head.Softness - want) }
	was, at := c, best // by the reduced stroke, and by the full one
	for range 3 {
		if off(&best) < 0.05 {
			break
		}
		turns := at.Stack.Wrap.Turns
		next := at.Stack
		wrap := *next.Wrap
		wrap.Turns = turns + 12
		next.Wrap = &wrap
		more, ok := b.j.Quick(next)
		slope := (more.Facts.Head.Softness - was.Facts.Head.Softness) / 12
		if !ok || slope < 1e-4 {
			break
		}
		move := (want - at.Facts.Head.Softness) / slope
		wrap.Turns = min(max(turns+int(math.Round(max(-40, min(40, move)))), leastTurns), mostTurns)
		if wrap.Turns == turns {
			break
		}
		if was, ok = b.j.Quick(next); !ok {
			break
		}
		if at, err = b.f.Consider(next, b.q); err != nil {
			return best, err
		}
		if at.Refused() == nil && off(&at) < off(&best) {
			best = at
		}
	}
	return best, nil
}

// short says what a set falls short of.
func (b *bench) short(set *Set) *Short {
	n := len(set.Rungs)
	e := &Short{}
	first, last := set.Rungs[0], set.Rungs[n-1]
	const far = 1 // a notch, which is what people hear
	if math.Abs(first.Softness-b.asked[0]) > far || math.Abs(last.Softness-b.asked[n-1]) > far {
		e.Misses = append(e.Misses, fmt.Sprintf("%+.1f to %+.1f notches were asked for, %+.1f to %+.1f can be had of one family",
			b.asked[0], b.asked[n-1], first.Softness, last.Softness))
		if last.Softness < b.asked[n-1]-far {
			e.Opens = append(e.Opens, b.softer()...)
		}
		if first.Softness > b.asked[0]+far {
			e.Opens = append(e.Opens, "a harder ball, or heads without slices at the hard end")
		}
	}
	if b.broken != "" {
		e.Misses = append(e.Misses, b.broken)
	}
	if e.Misses == nil {
		return nil
	}
	return e
}

// softer says what keeps the soft end from being softer.
func (b *bench) softer() []string {
	at := b.j.Base.Player
	list := []string{"a softer or smaller ball"}
	if at.Level == "first" {
		list = append(list, "more slices than a first set has")
	}
	if b.q.Bin != nil {
		list = append(list, "parts that are not on hand")
	}
	return append(list, fmt.Sprintf("heads of more than %.0f g or %.0f mm", at.MostG, at.MostMM))
}
