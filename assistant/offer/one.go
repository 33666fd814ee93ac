package offer

import (
	"math"
	"slices"

	"mallow/assistant/settled"
	"mallow/assistant/shape"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/propose"
)

// Changed is a head in which one thing is not as it was.
type Changed struct {
	propose.Candidate
	// Refused is why the head with nothing else changed can't be; nil where it
	// can, so that nothing had to follow.
	Refused *rules.Firing
	// Sizes are those that balls of the head's material are there in, smallest first,
	// where the one supposed is none of them.
	Sizes []measure.Length
}

// Shaped returns the head with a ball, layers or turns as supposed and all else
// as it is; where no rule allows that, with one other part changed too. It
// returns false when no such head can be.
func (o *Offers) Shaped(st *settled.State, c propose.Candidate, s shape.Shape) (Changed, bool) {
	ways := o.shaped(st, c.Stack, s)
	x, ok := o.one(st, ways)
	if len(ways) == 0 && s.Core > 0 {
		x.Sizes = o.sizes(c.Stack.Core, s.Core.IsMetric())
	}
	return x, ok
}

// sizes are those that a ball's like is there in: as sold in millimetres or in inches,
// else in the other.
func (o *Offers) sizes(like knowledge.Core, metric bool) []measure.Length {
	var list [2][]measure.Length // in the units asked for, and in the other
	for _, core := range o.cat.Cores {
		if core.Material != like.Material || core.DurometerA != like.DurometerA {
			continue
		}
		other := 0
		if (core.Supply == propose.Metric) != metric {
			other = 1
		}
		list[other] = append(list[other], core.Diameter)
	}
	sizes := list[0]
	if len(sizes) == 0 {
		sizes = list[1]
	}
	slices.Sort(sizes)
	return slices.Compact(sizes)
}

// Replaced is Shaped for one of some parts in place of its own kind.
func (o *Offers) Replaced(st *settled.State, c propose.Candidate, parts []string) (Changed, bool) {
	var ways []head.Stack
	for _, id := range parts {
		ways = append(ways, o.swaps(c.Stack, id)...)
	}
	return o.one(st, nearest(c.Stack, ways))
}

// mostWays is how many heads that are refused are tried with one more part
// changed: each is tried with every tubing.
const mostWays = 1

// one returns the best of some heads that is allowed; else the best that is one
// part away from one of them.
func (o *Offers) one(st *settled.State, ways []head.Stack) (Changed, bool) {
	fit := o.fitting(ways)
	if c, ok := o.bestOf(st, fit); ok {
		return Changed{Candidate: wound(c)}, true
	}
	if len(fit) > 0 {
		ways = fit // what is said against these is more to the point
	}
	var refused *rules.Firing
	var further []head.Stack
	for _, way := range ways[:min(len(ways), mostWays)] {
		c, err := o.Consider(st, way)
		if err != nil {
			continue
		}
		if refused == nil {
			refused = c.Refused()
		}
		for _, t := range o.cat.Tubing {
			if len(way.Slices) > 0 && t.Material == way.Slices[0].Tube.Material {
				further = append(further, o.swaps(way, t.ID)...)
			}
		}
		if way.Wrap != nil && way.Wrap.Turns > 0 {
			again, w := way, *way.Wrap
			w.Turns = 0 // as many as close over it
			again.Wrap = &w
			further = append(further, again)
		}
		for _, core := range o.cat.Cores {
			if core.Diameter == way.Core.Diameter {
				further = append(further, o.swaps(way, core.ID)...)
			}
		}
	}
	c, ok := o.bestOf(st, o.fitting(further))
	return Changed{Candidate: wound(c), Refused: refused}, ok && refused != nil
}

// fitting are the heads whose slices grip and go on, by their fit alone, which
// is computed a hundred times as quickly as a whole head. Of those that are
// loose, hard to pull on or a little off, the rules judge.
func (o *Offers) fitting(ways []head.Stack) (fit []head.Stack) {
	for _, way := range ways {
		if way.Check() != nil {
			continue
		}
		layers := head.New(way, o.cat.Limits).Layers
		if !slices.ContainsFunc(layers, func(l head.Layer) bool { return l.Verdict == head.Slack || l.Verdict == head.Over }) {
			fit = append(fit, way)
		}
	}
	return fit
}

// wound is a head with the turns that its yarn needs to close, where they were
// left open.
func wound(c propose.Candidate) propose.Candidate {
	if c.Stack.Wrap != nil && c.Stack.Wrap.Turns == 0 {
		w := *c.Stack.Wrap
		w.Turns = c.Head.Turns
		c.Stack.Wrap = &w
	}
	return c
}

// shaped are the ways to give a head another shape with nothing else changed
// but what is cut or wound to fit: layers of the tubing it has, then of any.
func (o *Offers) shaped(at *settled.State, st head.Stack, s shape.Shape) []head.Stack {
	copied := func() head.Stack {
		way := st
		way.Slices = slices.Clone(st.Slices)
		for i := range way.Slices {
			way.Slices[i].Cut = 0 // what lies below may change
		}
		if st.Wrap != nil {
			w := *st.Wrap
			way.Wrap = &w
		}
		return way
	}
	switch {
	case s.Turns >= 0:
		way := copied()
		if way.Wrap == nil {
			return nil
		}
		way.Wrap.Turns = s.Turns
		if s.Turns == 0 {
			way.Wrap = nil
		}
		return []head.Stack{way}
	case s.Layers >= 0:
		way := copied()
		if s.Layers <= len(way.Slices) {
			way.Slices = way.Slices[:s.Layers]
			return []head.Stack{way}
		}
		const most = 2 // layers more than there are; each tries every tubing
		if s.Layers > len(way.Slices)+most {
			return nil
		}
		ways := []head.Stack{way}
		for len(ways[0].Slices) < s.Layers {
			if ways = o.layered(ways[0], way); len(ways) == 0 {
				return nil
			}
			now := o.best(at, ways) // the next goes over that
			ways = append([]head.Stack{now}, ways...)
		}
		return ways
	}
	const same = 0.3e-3 // m: sizes nearer than this are one
	var ways []head.Stack
	for _, core := range o.cat.Cores {
		if core.Material != st.Core.Material || core.DurometerA != st.Core.DurometerA || math.Abs(float64(core.Diameter-s.Core)) > same {
			continue
		}
		way := copied()
		way.Core = core
		ways = append(ways, way)
	}
	return ways
}

// layered are a head with one more layer, of the rubber that the first layer of
// another is of.
func (o *Offers) layered(h, like head.Stack) (ways []head.Stack) {
	for _, t := range o.cat.Tubing {
		if rubber, ok := o.cat.Material(t.Material); ok && (len(like.Slices) == 0 || t.Material == like.Slices[0].Tube.Material) {
			way := h
			way.Slices = append(slices.Clone(h.Slices), head.Slice{Tube: t, Rubber: rubber})
			ways = append(ways, way)
		}
	}
	return ways
}

// best is the best head of some, allowed ones first.
func (o *Offers) best(st *settled.State, ways []head.Stack) head.Stack {
	fit := o.fitting(ways)
	if c, ok := o.bestOf(st, fit); ok {
		return c.Stack
	}
	return append(fit, ways[0])[0]
}

// nearest are the heads whose core is nearest in size to that of a head, of all
// those that are given.
func nearest(st head.Stack, ways []head.Stack) []head.Stack {
	off := func(w head.Stack) float64 { return math.Abs(float64(w.Core.Diameter - st.Core.Diameter)) }
	least := math.Inf(1)
	for _, w := range ways {
		least = min(least, off(w))
	}
	return slices.DeleteFunc(ways, func(w head.Stack) bool { return off(w) > least })
}

// PartsMoved are the kinds of part that are others in b than in a.
func PartsMoved(a, b head.Stack) []string {
	var list []string
	if a.Core.ID != b.Core.ID {
		list = append(list, "the ball")
	}
	tubes := func(st head.Stack) (ids []string) {
		for _, x := range st.Slices {
			ids = append(ids, x.Tube.ID)
		}
		return ids
	}
	if !slices.Equal(tubes(a), tubes(b)) {
		list = append(list, "the rubber over it")
	}
	switch {
	case a.Wrap == nil && b.Wrap == nil:
	case a.Wrap == nil || b.Wrap == nil || a.Wrap.Yarn.ID != b.Wrap.Yarn.ID:
		list = append(list, "the yarn")
	case a.Wrap.Turns != b.Wrap.Turns:
		list = append(list, "the turns")
	}
	return list
}

// Is reports whether a head is as is supposed.
func Is(c propose.Candidate, sh shape.Shape) bool {
	const same = 0.3e-3 // m
	switch {
	case sh.Turns >= 0:
		return c.Head.Turns == sh.Turns
	case sh.Layers >= 0:
		return len(c.Stack.Slices) == sh.Layers
	}
	return math.Abs(float64(c.Stack.Core.Diameter-sh.Core)) < same
}
