package offer

import (
	"context"
	"math"
	"slices"

	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/propose"
)

// nearer reports whether part id is closer in size than other to the part of
// its kind in the stack.
func nearer(st head.Stack, id, other string, cat *knowledge.Catalogue) bool {
	off := func(id string) float64 {
		if core, ok := cat.Core(id); ok {
			return math.Abs(float64(core.Diameter - st.Core.Diameter))
		}
		if tube, ok := cat.Tube(id); ok {
			least := math.Inf(1)
			for _, x := range st.Slices {
				least = min(least, math.Abs(float64(tube.Bore-x.Tube.Bore))+math.Abs(float64(tube.Wall-x.Tube.Wall)))
			}
			return least
		}
		return 0
	}
	return off(id) < off(other)
}

// swaps are the ways to put a part into a stack in place of one of its kind.
func (o *Offers) swaps(st head.Stack, id string) []head.Stack {
	cat := o.cat
	way := st
	way.Slices = slices.Clone(st.Slices)
	for i := range way.Slices {
		way.Slices[i].Cut = 0 // what lies below may change
	}
	if core, ok := cat.Core(id); ok {
		way.Core = core
		way.Material, _ = cat.Material(core.Material)
		return []head.Stack{way}
	}
	if yarn, ok := cat.Yarn(id); ok && st.Wrap != nil {
		fibre, _ := cat.Material(yarn.Fibre)
		way.Wrap = &head.Wrap{Yarn: yarn, Fibre: fibre}
		return []head.Stack{way}
	}
	var ways []head.Stack
	if tube, ok := cat.Tube(id); ok {
		rubber, _ := cat.Material(tube.Material)
		for i := range way.Slices {
			w := way
			w.Slices = slices.Clone(way.Slices)
			w.Slices[i] = head.Slice{Tube: tube, Rubber: rubber}
			ways = append(ways, w)
		}
	}
	return ways
}

// Contains reports whether a part is in a stack.
func Contains(st head.Stack, id string) bool {
	return slices.Contains(st.Parts(), id)
}

// With returns the best head for a state that has such a part in it.
func (o *Offers) With(now *settled.State, p reading.Part) (propose.Candidate, bool) {
	st := now.Clone()
	p.Holding = reading.Named
	if len(st.Parts([]reading.Part{p})) > 0 {
		return propose.Candidate{}, false
	}
	all, err := o.Propose(&st)
	if err != nil {
		return propose.Candidate{}, false
	}
	// Only tubing may be left out of a head; then one further down has it.
	for _, c := range append([]propose.Candidate{all.Best}, all.Pool...) {
		if slices.ContainsFunc(p.IDs, func(id string) bool { return Contains(c.Stack, id) }) {
			return o.bestOf(&st, []head.Stack{c.Stack})
		}
	}
	q := st.Request()
	for _, id := range p.IDs {
		q.Pin.Tubing = []string{id}
		if got := o.find(context.Background(), q); got.err == nil {
			return got.proposal.Best, true
		}
	}
	return propose.Candidate{}, false
}

// Swapped puts one of the parts into a head in place of its own, and returns
// the rule that refuses that, with the part that it was said of, the nearest
// in size. It returns nil where one of them would pass, or can't be put there
// at all.
func (o *Offers) Swapped(st *settled.State, in head.Stack, parts []string) (refused *rules.Firing, part string) {
	for _, id := range parts {
		for _, way := range o.swaps(in, id) {
			x, err := o.Consider(st, way)
			if err != nil {
				continue
			}
			f := x.Refused()
			if f == nil {
				return nil, ""
			}
			if refused == nil || nearer(in, id, part, o.cat) {
				refused, part = f, id
			}
		}
	}
	return refused, part
}
