// Package graded chooses sets of heads in even steps from hard to soft. It knows
// what makes heads one family; it never judges a single head, the rules do.
//
// A set of wound heads is of one kind of core, one yarn and the same few sizes
// of tubing; slices give the large steps of softness and turns even out the
// rest. A set of bare heads is of balls in the order of their hardness.
package graded

import (
	"cmp"
	"context"
	"math"

	"mallow/knowledge/fault"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Options say what a graded set is to be like.
type Options struct {
	Rungs   int      // 2 to 8
	Each    int      // heads on a rung: 2, a pair, or 4; zero is a pair
	Gap     float64  // notches from rung to rung; zero is 2, or what Hardest and Softest come to
	Hardest *float64 // softness of the hardest rung; nil centres the set on what the request asks
	Softest *float64 // softness of the softest rung; nil follows from the gap
	// Words are how far the words for the hardest and the softest rung reach; nil
	// where their softness is a figure. Bare balls may lie anywhere in them.
	Words *[2]ladder.Band
	Mass  ladder.Trend // empty lets it grow with softness, where the heads are wound
	Size  ladder.Trend // likewise
}

// Set is a graded set.
type Set struct {
	Rungs []Rung // hardest first
	Order stock.Order
	Cost  float64 // points, by Measure
	Exact bool    // no set of the heads in Tried that keeps to what is asked costs less
	// Family is what the heads share, in words.
	Family  string
	Bare    bool    // of bare balls
	Said    bool    // somebody said how far it is to reach
	Firm    string  // what every set that it was chosen from keeps to, in words
	Uneven  float64 // the most that a gap differs from the mean one, in notches
	Tried   Tried
	Measure Measure
}

// Tried is what a set was chosen from.
type Tried struct {
	Families int      // a kind of ball under a yarn each, or 1 of bare balls
	Heads    int      // in all of them
	Balls    []string // ids
	Yarns    []string
	Tubing   []string
}

// Rung is one softness of a set.
type Rung struct {
	Want     float64 // softness that was asked for
	Head     propose.Candidate
	Stack    string
	Softness float64
	MassG    float64
	MM       float64
	Match    propose.Matching
}

// Measure is what a set is judged by, as the book's choose rules give it: in
// points, and what is firm.
type Measure struct {
	Notch float64 // points a notch that a head, or a gap of bare balls, is off an even ladder
	End   float64 // points a notch that an end of a set of bare balls is off what was asked
	Gram  float64 // points a gram against the growth from hard to soft
	MM    float64 // points a millimetre likewise; of bare balls, of difference in size
	Step  float64 // points a gram that a difference in mass is off the mean one
	Cost  float64 // points a unit of currency in whole packs
	Core  float64 // points for a second size of ball
	Even  float64 // most notches that a gap may differ from the mean one; zero is any
	Jump  float64 // most times the mean difference that one may be; zero is any

	LeastTurns, MostTurns          float64
	LeastG, MostG, LeastMM, MostMM float64 // of a head in a set; zero is any
	Bare                           bool    // bare balls are what the instrument takes
}

func measureOf(w map[string]float64) Measure {
	return Measure{
		Notch: w["set-notch"], End: w["set-end"], Gram: w["set-gram"], MM: w["set-mm"], Step: w["set-step"], Cost: w["set-cost"], Core: w["set-core"],
		Even: w["set-even"], Jump: w["set-jump"], LeastTurns: w["set-least-turns"], MostTurns: w["set-most-turns"],
		LeastG: w["set-least-g"], MostG: w["set-most-g"], LeastMM: w["set-least-mm"], MostMM: w["set-most-mm"], Bare: w["set-bare"] > 0,
	}
}

// turns are the fewest and the most that a head of a set is wound with.
func (m *Measure) turns() (least, most int) {
	return int(cmp.Or(m.LeastTurns, propose.LeastTurns)), int(cmp.Or(m.MostTurns, propose.MostTurns))
}

// usual reports whether a head is of a weight and a size that the instrument
// takes.
func (m *Measure) usual(g, mm float64) bool {
	const hair = 0.05
	return g >= m.LeastG-hair && (m.MostG == 0 || g <= m.MostG+hair) && mm >= m.LeastMM-hair && (m.MostMM == 0 || mm <= m.MostMM+hair)
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
	for _, end := range []*float64{o.Hardest, o.Softest} {
		if end != nil && (math.IsNaN(*end) || math.Abs(*end) > farthest) {
			return fault.Errorf("a softness of %v notches is no end of a set: %d to %+d can be meant", *end, -farthest, farthest)
		}
	}
	if o.Hardest != nil && o.Softest != nil && o.Gap == 0 {
		o.Gap = (*o.Softest - *o.Hardest) / float64(o.Rungs-1)
	} else if o.Gap == 0 {
		o.Gap = usualGap
	}
	if !(o.Gap >= leastGap && o.Gap <= 12) {
		return fault.Errorf("rungs %.2g notches apart: %g to 12 can be told apart and built", o.Gap, leastGap)
	}
	return nil
}

// Notches from rung to rung where nobody says, the fewest that are told apart,
// and the farthest from medium that a rung may lie. Common practice, no source.
const (
	usualGap = 2.0
	leastGap = 0.5
	farthest = 40
)

// asked reports whether somebody said how far the set is to reach.
func (o *Options) asked(gap float64) bool { return o.Hardest != nil || o.Softest != nil || gap != 0 }

// rungs returns the softness wanted on each rung.
func (o *Options) rungs(centre float64) []float64 {
	first := centre - o.Gap*float64(o.Rungs-1)/2
	switch {
	case o.Hardest != nil:
		first = *o.Hardest
	case o.Softest != nil:
		first = *o.Softest - o.Gap*float64(o.Rungs-1)
	}
	return spaced(first, first+o.Gap*float64(o.Rungs-1), o.Rungs)
}

// spaced returns n numbers evenly from one to another.
func spaced(from, to float64, n int) []float64 {
	list := make([]float64, n)
	for k := range list {
		list[k] = from + (to-from)*float64(k)/float64(n-1)
	}
	return list
}

// Choose chooses a graded set: of each family that the rules like best, the
// heads that are most evenly spaced, grow as they should, and cost least when
// the rungs share their stock; and of these sets the best. Within the heads
// considered the choice is exact; see package ladder.
//
// The error is a *Short with the nearest set where what was asked can't be had.
func Choose(ctx context.Context, f *propose.Finder, q propose.Request, opts Options) (Set, error) {
	gap := opts.Gap
	if err := opts.check(); err != nil {
		return Set{}, err
	}
	if err := f.Check(q); err != nil {
		return Set{}, err
	}
	q.Heads = opts.Each
	b := newBench(f, q, opts)
	b.said = opts.asked(gap)
	set, misses, err := b.choose(ctx)
	if err != nil {
		return Set{}, err
	}
	if len(misses) > 0 {
		return set, &Short{Nearest: set, Misses: misses, Opens: b.opens}
	}
	return set, nil
}

// finish computes the chosen heads in full.
func (b *bench) finish(heads []propose.Candidate) (Set, error) {
	var out Set
	var makes []propose.Make
	for k, x := range heads {
		c, err := b.f.Consider(x.Stack, b.at(k))
		if err != nil {
			return Set{}, err
		}
		h := c.Facts.Head
		out.Rungs = append(out.Rungs, Rung{
			Want: b.asked[k], Head: c, Stack: c.Stack.String(),
			Softness: h.Softness, MassG: h.MassG, MM: h.DiameterMM, Match: c.Matching(),
		})
		makes = append(makes, propose.Make{Head: c.Head, Heads: b.opts.Each})
	}
	n := len(out.Rungs)
	mean := (out.Rungs[n-1].Softness - out.Rungs[0].Softness) / float64(n-1)
	for k := 1; k < n; k++ {
		out.Uneven = max(out.Uneven, math.Abs(out.Rungs[k].Softness-out.Rungs[k-1].Softness-mean))
	}
	out.Measure, out.Said = b.measure, b.said
	var err error
	out.Order, err = b.f.Order(makes, b.q)
	return out, err
}
