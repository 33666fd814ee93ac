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
// hand is of one world, that one's; and whatever is on hand or was named.
func (f *Finder) Sold(q Request) func(part string) bool {
	units := cmp.Or(q.Facts.Bench.Units, f.oneWorld(q), Inch)
	return func(part string) bool {
		supply := f.cat.Supply(part)
		return supply == "" || supply == units || q.Bin.OnHand(part) > 0 || q.Pin.names(part)
	}
}

// World is the world of sizes that a stack's ball and tubing are of, empty when they say nothing.
func (f *Finder) World(st head.Stack) string {
	world := f.cat.Supply(st.Core.ID)
	for _, s := range st.Slices {
		world = cmp.Or(world, f.cat.Supply(s.Tube.ID))
	}
	return world
}

// oneWorld is the world that all sizes on hand or named belong to, empty when there are
// none or they are of both.
func (f *Finder) oneWorld(q Request) string {
	parts := append([]string{q.Pin.Core, q.Pin.Shaft}, q.Pin.Tubing...)
	if q.Bin != nil {
		for _, it := range q.Bin.Items {
			parts = append(parts, it.Part)
		}
	}
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
	there := func(part string) bool { return q.Bin.OnHand(part) > 0 || q.Pin.names(part) }
	return !there(a) || !there(b)
}

// names reports whether a part was named.
func (p *Pin) names(part string) bool {
	return p.Core == part || p.Shaft == part || slices.Contains(p.Tubing, part)
}
