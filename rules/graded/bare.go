package graded

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/propose/search/shafts"
)

// wanted is what is gone for in a set of bare balls.
type wanted struct {
	mass, size ladder.Trend
	wide       bool
	firm       bool    // the ends lie where they were asked for
	rise       float64 // least notches from one to the next
	even       float64 // most that a gap is off the mean one; zero is any
	alike      float64 // grams, and millimetres, that count as no difference
}

// alike is how many grams, or millimetres, no hand tells from none. Common
// practice, no source.
const alike = 0.3

// bare chooses a set of bare balls on one kind of shaft.
func (b *bench) bare(ctx context.Context) (Set, []string, error) {
	mass, size := trend(b.opts.Mass, true), trend(b.opts.Size, true)
	if size == ladder.Free {
		size = ladder.Level // balls of one size where they can be had
	}
	// The ends that were asked for first, however uneven what lies between them; a
	// figure is met as nearly as balls allow.
	tries := []wanted{{mass: mass, size: size, firm: true, rise: Heard}, {mass: mass, size: size, wide: true, firm: true, rise: Heard}, {mass: mass, size: size, firm: true, rise: leastGap},
		{mass: mass, size: size, rise: Heard}, {mass: mass, size: size, rise: leastGap}, {mass: mass, size: size, wide: true, rise: leastGap}}
	if b.opts.Words == nil {
		tries = tries[3:]
	}
	if mass == ladder.Grow || size == ladder.Grow {
		tries = append(tries, wanted{mass: ladder.Free, size: ladder.Level, rise: Heard}, wanted{mass: ladder.Free, size: ladder.Level, wide: true, rise: leastGap})
	}
	if b.opts.Mass+b.opts.Size == "" && b.measure.Even > 0 {
		// Nobody said: balls that lie as evenly as is heard, of these such as grow, or
		// as no hand tells apart; then such as lie a little less so, and grow.
		grow := wanted{mass: ladder.Grow, size: ladder.Grow, firm: true, rise: Heard, even: b.measure.Even}
		near, free := grow, grow
		near.alike = alike
		free.mass, free.size = mass, size
		less, lessNear := grow, near
		less.even, lessNear.even = Heard, Heard
		tries = append([]wanted{grow, near, free, less, lessNear}, tries...)
	}
	for n := b.opts.Rungs; n >= 2; n-- {
		for _, w := range tries {
			b.wide = w.wide
			set, err := b.balls(ctx, n, w)
			if errors.Is(err, ladder.ErrNone) {
				continue
			}
			if err != nil {
				return Set{}, nil, err
			}
			misses := b.misses(&set, w.even > 0 || w.mass == mass && w.size == size)
			return set, misses, nil
		}
	}
	return Set{}, nil, b.none(ctx)
}

// balls chooses n bare balls.
func (b *bench) balls(ctx context.Context, n int, w wanted) (Set, error) {
	all := b.parts.Balls()
	var used []*knowledge.Shaft
	for _, x := range all {
		if !slices.ContainsFunc(used, func(s *knowledge.Shaft) bool { return s == x.Shaft || s != nil && x.Shaft != nil && s.ID == x.Shaft.ID }) {
			used = append(used, x.Shaft)
		}
	}
	ends := b.ends()
	if w.firm && b.opts.Words == nil {
		near := usualGap
		if b.said {
			near = Heard
		}
		for i := range ends {
			ends[i].From, ends[i].To = ends[i].From-near, ends[i].To+near
		}
	}
	best := ladder.Set{Cost: math.Inf(1)}
	var from []propose.Candidate
	looked := map[string]bool{}
	for _, shaft := range used {
		var stacks []head.Stack
		for _, x := range all {
			if shaft != nil && shafts.Takes(x.Core, shaft) {
				x.Shaft = shaft
			} else if x.Shaft != shaft {
				continue
			}
			stacks = append(stacks, x)
		}
		o := &ladder.Order{N: n, From: ends[0], To: ends[1], Firm: w.firm, Rise: w.rise, Mass: w.mass, Size: w.size, Jump: b.measure.Jump, Even: w.even, Alike: w.alike,
			Weights: ladder.OrderWeights{Notch: b.measure.Notch, End: b.measure.End, MM: b.measure.MM, Gram: b.measure.Gram, Step: b.measure.Step, Cent: b.measure.Cost / 100}}
		var heads []propose.Candidate
		top := math.Inf(-1)
		for _, c := range b.quicks(stacks) {
			if !c.ok || !b.fits(&c.Candidate) {
				continue
			}
			score := b.itself(&c.Candidate)
			if math.IsInf(score, -1) {
				continue
			}
			top = max(top, score)
			h := &c.Facts.Head
			o.Items = append(o.Items, ladder.Ball{Softness: h.Softness, MassG: h.MassG, DiameterMM: h.DiameterMM, Hardness: strike.CoreModulus(c.Stack.Material, c.Stack.Core),
				Penalty: -score, Cents: b.packs(c.Stack.Core.ID, float64(b.opts.Each), float64(c.Stack.Core.Pack), float64(c.Stack.Core.Price))})
			heads = append(heads, c.Candidate)
			looked[c.Stack.String()] = true
		}
		for i := range o.Items {
			o.Items[i].Penalty += top
		}
		x, err := o.Solve(ctx)
		if err != nil && !errors.Is(err, ladder.ErrNone) {
			return Set{}, err
		}
		if err == nil && x.Cost < best.Cost-1e-9 {
			best, from = x, heads
		}
	}
	if best.Pick == nil {
		return Set{}, ladder.ErrNone
	}
	var heads []propose.Candidate
	for _, i := range best.Pick {
		heads = append(heads, from[i])
	}
	if n < len(b.asked) {
		b.asked = spaced(b.asked[0], b.asked[len(b.asked)-1], n)
	}
	b.aim(b.asked)
	set, err := b.finish(heads)
	set.Cost, set.Exact, set.Bare, set.Family = best.Cost, best.Exact, true, "bare balls by their hardness"
	set.Tried = Tried{Families: 1, Heads: len(looked)}
	set.Firm = fmt.Sprintf("on one kind of shaft, each ball of a softer material than the one before and at least %s softer", notches(w.rise))
	if w.mass == ladder.Grow || w.size == ladder.Grow {
		set.Firm += ", in which " + growing(w.mass, w.size)
	}
	if w.even > 0 {
		set.Firm += fmt.Sprintf(" and no gap is more than %.2g notches off the mean one", w.even)
	}
	return set, err
}

func notches(n float64) string {
	if n == 1 {
		return "a notch"
	}
	return fmt.Sprintf("%g notches", n)
}

// edge is how far within its word a ball has to lie to go by it, in notches: that
// much the full stroke may move it.
const edge = 0.1

// ends are where the hardest and the softest ball may lie.
func (b *bench) ends() [2]ladder.Band {
	if w := b.opts.Words; w != nil {
		return [2]ladder.Band{{From: w[0].From + edge, To: w[0].To - edge}, {From: w[1].From + edge, To: w[1].To - edge}}
	}
	from, to := b.rungs[0], b.rungs[len(b.rungs)-1]
	return [2]ladder.Band{{From: from, To: from}, {From: to, To: to}}
}

// itself is the score of a ball that is wanted as soft as it is.
func (b *bench) itself(c *propose.Candidate) float64 {
	score, _ := b.f.Judging(b.wanting(c.Facts.Head.Softness)).Again(c)
	return score
}

// packs is the price of the packs that cover an amount of a part, less what is
// on hand.
func (b *bench) packs(id string, amount, pack, price float64) float64 {
	need := amount
	if b.q.Bin != nil {
		need -= b.q.Bin.OnHand(id)
	}
	return price * math.Ceil(max(0, need)/cmp.Or(pack, 1))
}
