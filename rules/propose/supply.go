package propose

import (
	"cmp"
	"slices"

	"mallow/knowledge/head"
)

// Inch and Metric are the worlds that balls, tubing and shafts are sold in.
const Inch, Metric = "inch", "metric"

// Sold returns which parts a request may have: those sold in the sizes that it
// asks for, in inches where nobody said; where nobody said and all that is on
// hand is of one world, that one's; and whatever was named or is on hand (see there).
func (f *Finder) Sold(q Request) func(part string) bool {
	units, there := cmp.Or(q.Facts.Bench.Units, f.oneWorld(q), Inch), f.there(q)
	return func(part string) bool {
		supply := f.cat.Supply(part)
		return supply == "" || supply == units || there(part)
	}
}

// there returns which parts a request may have in the other world's sizes: what was
// named, and what is on hand, except where somebody said which sizes are wanted and
// parts of that kind are on hand in both.
func (f *Finder) there(q Request) func(part string) bool {
	var wanted [3]bool // of balls, tubing and shafts: some are on hand in the sizes asked for
	if q.Facts.Bench.Units != "" && q.Bin != nil {
		for _, it := range q.Bin.Items {
			if f.cat.Supply(it.Part) == q.Facts.Bench.Units {
				wanted[f.sized(it.Part)] = true
			}
		}
	}
	return func(part string) bool {
		return q.Pin.names(part) || q.Bin.OnHand(part) > 0 && !wanted[f.sized(part)]
	}
}

// sized tells the kinds of part apart that are sold in sizes: 0 for a ball, 1 for
// tubing, 2 for the rest.
func (f *Finder) sized(part string) int {
	if _, ok := f.cat.Core(part); ok {
		return 0
	}
	if _, ok := f.cat.Tube(part); ok {
		return 1
	}
	return 2
}

// World is the world of sizes that a stack's ball and tubing are of, empty when they say nothing.
func (f *Finder) World(st head.Stack) string {
	world := f.cat.Supply(st.Core.ID)
	for _, s := range st.Slices {
		world = cmp.Or(world, f.cat.Supply(s.Tube.ID))
	}
	return world
}

// oneWorld is the world that all sizes on hand or named belong to, or all balls, which
// shafts go with; empty when there are none or they are of both.
func (f *Finder) oneWorld(q Request) string {
	parts := append([]string{q.Pin.Core, q.Pin.Shaft}, q.Pin.Tubing...)
	balls := []string{q.Pin.Core}
	if q.Bin != nil {
		for _, it := range q.Bin.Items {
			parts = append(parts, it.Part)
			if _, ok := f.cat.Core(it.Part); ok {
				balls = append(balls, it.Part)
			}
		}
	}
	return cmp.Or(f.worldOf(parts), f.worldOf(balls))
}

// worldOf is the world that the sizes of parts belong to, empty when they are of both.
func (f *Finder) worldOf(parts []string) string {
	world := ""
	for _, p := range parts {
		supply := f.cat.Supply(p)
		if supply == "" {
			continue
		}
		if world != "" && supply != world {
			return ""
		}
		world = supply
	}
	return world
}

// Mixes reports whether a head of two parts would mix sizes of both worlds that are not
// both on hand.
func (f *Finder) Mixes(q Request, a, b string) bool {
	x, y := f.cat.Supply(a), f.cat.Supply(b)
	if x == "" || y == "" || x == y {
		return false
	}
	there := f.there(q)
	return !there(a) || !there(b)
}

// names reports whether a part was named.
func (p *Pin) names(part string) bool {
	return p.Core == part || p.Shaft == part || slices.Contains(p.Tubing, part)
}
