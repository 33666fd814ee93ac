package stock

import (
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// Likely puts the parts that a word may mean in order, the likeliest first,
// and reports how many of them are about as likely as the first: more than
// one, and it has to be asked. What is said by the word counts no more than
// what goes with the other parts on hand: tubing that grips the balls, a shaft
// that fits their bore; and balls are bored already where nobody has a drill.
func Likely(cat *knowledge.Catalogue, ids []string, with []Item, drill bool) (ranked []string, alike int) {
	l := likely{cat: cat, with: with, drill: drill}
	weight := map[string]float64{}
	for _, id := range ids {
		weight[id] = l.weight(id)
	}
	ranked = slices.Clone(ids)
	slices.SortStableFunc(ranked, func(a, b string) int {
		switch {
		case weight[a] > weight[b]:
			return -1
		case weight[a] < weight[b]:
			return 1
		}
		return 0
	})
	for _, id := range ranked {
		if weight[id] >= asLikely*weight[ranked[0]] {
			alike++
		}
	}
	return ranked, alike
}

// asLikely is the share of the likeliest from which another part is taken to
// be meant as often. rarely is the weight of a part that nobody takes first,
// misfit what is left of one that does not go with the others, undrilled of a
// ball that nobody could bore, and drilled of a bored one where somebody could.
// Common practice, no source.
const asLikely, rarely, misfit, undrilled, drilled = 0.8, 0.5, 0.05, 0.05, 0.5

type likely struct {
	cat   *knowledge.Catalogue
	with  []Item
	drill bool
}

func (l *likely) weight(id string) float64 { return l.worldly(id) * l.plain(id) }

// worldly is 1 for a part of the world of sizes that what is on hand belongs to, or
// of inches where nothing does, and misfit for one of the other.
func (l *likely) worldly(id string) float64 {
	world := "inch"
	for _, it := range l.with {
		if s := l.cat.Supply(it.Part); s != "" {
			world = s
			break
		}
	}
	if s := l.cat.Supply(id); s != "" && s != world {
		return misfit
	}
	return 1
}

// plain is the weight of a part whatever world of sizes it is of.
func (l *likely) plain(id string) float64 {
	if c, ok := l.cat.Core(id); ok {
		w := max(c.Usual, rarely)
		switch {
		case c.Bore == 0 && !l.drill:
			w *= undrilled
		case c.Bore > 0 && l.drill:
			w *= drilled
		}
		return w * l.fit(func(it Item) (bool, bool) {
			if t, ok := l.cat.Tube(it.Part); ok {
				return l.grips(c, t), true
			}
			if s, ok := l.cat.Shaft(it.Part); ok {
				return takes(c, s), true
			}
			return false, false
		})
	}
	if t, ok := l.cat.Tube(id); ok {
		return max(t.Usual, rarely) * l.fit(func(it Item) (bool, bool) {
			c, ok := l.cat.Core(it.Part)
			return ok && l.grips(c, t), ok
		})
	}
	if s, ok := l.cat.Shaft(id); ok {
		return max(s.Usual, rarely) * l.fit(func(it Item) (bool, bool) {
			c, ok := l.cat.Core(it.Part)
			return ok && takes(c, s), ok
		})
	}
	y, _ := l.cat.Yarn(id)
	return max(y.Usual, rarely)
}

// fit is 1 when a part goes with one of the others that it could go with, or
// there is none.
func (l *likely) fit(goes func(Item) (ok, could bool)) float64 {
	any := false
	for _, it := range l.with {
		ok, could := goes(it)
		if ok {
			return 1
		}
		any = any || could
	}
	if any {
		return misfit
	}
	return 1
}

// grips reports whether tubing goes over a ball by hand and holds.
func (l *likely) grips(c knowledge.Core, t knowledge.Tube) bool {
	m, _ := l.cat.Material(t.Material)
	return head.Fit(head.Ball(c), head.Slice{Tube: t, Rubber: m}, &l.cat.Limits).Verdict == head.Good
}

// takes reports whether a ball goes on a shaft: bored for it, or wide enough to
// be.
func takes(c knowledge.Core, s knowledge.Shaft) bool {
	if c.Bore > 0 {
		return math.Abs(float64(c.Bore-s.Diameter)) < float64(measure.Inch)/128
	}
	return s.Diameter <= c.Diameter/2
}

// Cut is how long a slice of tubing is cut for a ball, zero where it would not
// grip.
func Cut(cat *knowledge.Catalogue, c knowledge.Core, t knowledge.Tube) measure.Length {
	l := likely{cat: cat}
	if !l.grips(c, t) {
		return 0
	}
	m, _ := cat.Material(t.Material)
	return head.Fit(head.Ball(c), head.Slice{Tube: t, Rubber: m}, &cat.Limits).Cut
}
