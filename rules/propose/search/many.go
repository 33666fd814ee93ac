package search

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/turns"
)

// Where cores are many, most of them differ little, and are dropped together: a part
// of the cores of a root is bound as a whole, and its halves where it may hold a head
// of use.

// fewAtOnce is how many cores are looked at one by one.
const fewAtOnce = 4

// coreSpan bounds some cores: their facts, their price with the shaft, and a core
// softer, and one harder, than all of them.
type coreSpan struct {
	lo, hi                facts.Head
	leastCents, mostCents float64
	softest, hardest      strike.Core
	heaviest, lightest    float64 // as strokes meet them, kg
	rod                   float64 // most of the shaft that is in a ball, kg
}

// spanOf bounds cores, of which there is one at least.
func spanOf(cores []coreOption, list []int) coreSpan {
	stiff := func(c *strike.Core) float64 { return c.Modulus / (1 - c.Poisson*c.Poisson) }
	var s coreSpan
	for k, i := range list {
		c := &cores[i]
		m := c.struck
		if k == 0 {
			s = coreSpan{c.facts, c.facts, c.cents, c.cents, c.body, c.body, m, m, m - float64(c.bare.Mass)}
			continue
		}
		bounds.Widen(&s.lo, &s.hi, &c.facts)
		s.leastCents, s.mostCents = min(s.leastCents, c.cents), max(s.mostCents, c.cents)
		if stiff(&c.body) < stiff(&s.softest) {
			s.softest = c.body
		}
		if stiff(&c.body) > stiff(&s.hardest) {
			s.hardest = c.body
		}
		s.heaviest, s.lightest = max(s.heaviest, m), min(s.lightest, m)
		s.rod = max(s.rod, m-float64(c.bare.Mass))
	}
	return s
}

// part is some cores of a root.
type part struct {
	coreSpan
	cores  []int   // by index
	halves []*part // nil where they are few
}

// partOf makes a part of cores, which it sorts by hardness and price.
func partOf(cores []coreOption, list []int) *part {
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &cores[a], &cores[b]
		return cmp.Or(cmp.Compare(x.body.Modulus, y.body.Modulus), cmp.Compare(x.struck, y.struck), cmp.Compare(x.cents, y.cents))
	})
	p := &part{coreSpan: spanOf(cores, list), cores: list}
	if len(list) > fewAtOnce {
		mid := len(list) / 2
		p.halves = []*part{partOf(cores, list[:mid]), partOf(cores, list[mid:])}
	}
	return p
}

// wornAs is what a wrap comes to as it was wound.
func wornAs(o *wrapOption, wd *head.Wound) bounds.Yarn {
	y := bounds.Yarn{MM: wd.Wall.MM(), Turns: float64(wd.Turns), TensionN: wd.TensionN, Grams: wd.Mass.Grams(), Cents: o.cents * float64(wd.Mass), PackCents: o.pack}
	if !o.none {
		y.Fibre, y.Latex, y.Chemicals = o.wrap.Yarn.Fibre, o.wrap.Fibre.Latex, o.wrap.Fibre.Chemicals
	}
	return y
}

// yarn bounds some wraps over a node.
func (b *box) yarn(n *node, wraps []int) (s bounds.Yarns) {
	for _, i := range wraps {
		y := wornAs(&b.wraps[i], b.wind(n, i))
		s.Hold(&y)
	}
	return s
}

// anyYarn bounds no yarn, and all yarns, over a node, and keeps that for the next core.
func (b *box) anyYarn(n *node) []bounds.Yarns {
	if b.overOn != n {
		b.over, b.overOn = b.over[:0], n
		for _, ends := range b.yarns {
			b.over = append(b.over, b.yarn(n, ends))
		}
	}
	return b.over
}

// softYarn is thickest of all wraps, kept for the next core.
func (b *box) softYarn(n *node) yarnBody {
	if b.softOn != n {
		b.soft, b.softOn = b.thickest(n, b.ends), n
	}
	return b.soft
}

// topHere is the most that a head of a node may score, on some cores, bare or wound, whose softness is between least and most.
func (w *worker) topHere(n *node, on *span, least, most, enough float64) float64 {
	top := math.Inf(-1)
	for i := range w.yarns {
		w.under(n, on, &w.anyYarn(n)[i])
		if top = max(top, w.top(n, least, most, n.depth, enough)); top >= enough {
			break
		}
	}
	return top
}

// part looks at the heads of a node on a part of the cores, which are no harder than
// least: first at all of them at once, then at its halves or core by core.
func (w *worker) part(n *node, p *part, wraps []int, least float64) {
	if w.spent() {
		return
	}
	on := p.span()
	most, ok := w.holds(n, &on, least)
	if !ok {
		return
	}
	if wraps = w.screen(n, &on, wraps, least, most); !w.serve(n, &on, wraps, least, most) {
		return
	}
	if len(p.cores) > 1 {
		if wraps = w.struck(n, &on, wraps, least, most); len(wraps) == 0 {
			return
		}
	}
	for _, half := range p.halves {
		w.part(n, half, wraps, least)
	}
	if p.halves != nil {
		return
	}
	for _, i := range p.cores {
		w.forget()
		for class := range turns.Runs(wraps, w.classOf) {
			w.class(n, i, class, least, most)
		}
		w.keep()
	}
}

// struck returns which of some wraps may be of use on some cores, by how soft the least of each
// class is on the hardest of them, and the most of it on the softest: cores of one kind differ
// little under rubber and yarn.
func (w *worker) struck(n *node, on *span, wraps []int, least, most float64) (left []int) {
	for class := range turns.Runs(wraps, w.classOf) {
		list, _, _, _ := w.ends(n, on, class, least, most)
		left = append(left, list...)
	}
	return left
}

// span is some cores as they are bound together.
type span struct {
	lo, hi                *facts.Head
	leastCents, mostCents float64
	soft, hard            *strike.Core
	heavy, light          float64 // as strokes meet them, kg
}

func (s *coreSpan) span() span {
	return span{&s.lo, &s.hi, s.leastCents, s.mostCents, &s.softest, &s.hardest, s.heaviest, s.lightest}
}

// alone is a core by itself.
func (o *coreOption) alone() span {
	return span{&o.facts, &o.facts, o.cents, o.cents, &o.body, &o.body, o.struck, o.struck}
}
