package search

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose/search/bounds"
)

// Where parts are many, most of them differ little, and are dropped together: a part
// of the cores of a root, and a group of the yarns, is bound as a whole, and its
// halves where it may hold a head of use.

// fewAtOnce is how many cores, or yarns, are looked at one by one.
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

// group is some of the yarns, or none.
type group struct {
	place   int   // among all groups
	classes []int // by index
	ends    []int // of each class
	halves  []*group
}

// groupOf makes a group of classes, alike ones beside each other.
func (k *kit) groupOf(classes []int) *group {
	g := &group{place: k.groups, classes: classes}
	k.groups++
	for _, c := range classes {
		g.ends = append(g.ends, edgesOf(k.classes[c])...)
	}
	if len(classes) > fewAtOnce {
		mid := len(classes) / 2
		g.halves = []*group{k.groupOf(classes[:mid]), k.groupOf(classes[mid:])}
	}
	return g
}

// group collects the classes that are no yarn, and those that are.
func (k *kit) group() {
	for _, bare := range []bool{true, false} {
		var list []int
		for c, class := range k.classes {
			if k.wraps[class[0]].none == bare {
				list = append(list, c)
			}
		}
		slices.SortStableFunc(list, func(a, b int) int {
			x, y := &k.wraps[k.classes[a][0]].wrap, &k.wraps[k.classes[b][0]].wrap
			return cmp.Or(cmp.Compare(x.Yarn.Fibre, y.Yarn.Fibre), cmp.Compare(x.Yarn.Wraps.Plain, y.Yarn.Wraps.Plain))
		})
		if len(list) > 0 {
			k.yarns = append(k.yarns, k.groupOf(list))
		}
	}
}

// edgesOf returns the first and last of the wraps of a class, which bound the rest.
func edgesOf(class []int) []int {
	if len(class) == 1 {
		return class
	}
	return []int{class[0], class[len(class)-1]}
}

// yarnSpan bounds what some wraps come to over a node.
type yarnSpan struct {
	lo, hi           yarnFacts
	latex, chemicals bool
	on               *node
}

// yarnFacts is what yarn comes to.
type yarnFacts struct {
	fibre                             string
	mm, turns, tensionN, grams, cents float64
}

// add adds the yarn to a head.
func (y *yarnFacts) add(x *facts.Head) {
	x.Fibre, x.YarnMM, x.Turns, x.TensionN = y.fibre, y.mm, y.turns, y.tensionN
	x.MassG += y.grams
	x.DiameterMM += 2 * y.mm
	x.CostCents += y.cents
}

// yarn puts bounds of some wraps over a node into s.
func (b *box) yarn(s *yarnSpan, n *node, wraps []int) {
	s.latex, s.chemicals, s.on = false, false, n
	for i, x := range wraps {
		o, wd := &b.wraps[x], b.wind(n, x)
		y := yarnFacts{o.wrap.Yarn.Fibre, wd.Wall.MM(), float64(wd.Turns), wd.TensionN, wd.Mass.Grams(), o.cents * float64(wd.Mass)}
		s.latex, s.chemicals = s.latex || o.wrap.Fibre.Latex, s.chemicals || o.wrap.Fibre.Chemicals
		if i == 0 {
			s.lo, s.hi = y, y
			continue
		}
		l, h := &s.lo, &s.hi
		if y.fibre != l.fibre {
			h.fibre = bounds.AnyText
		}
		l.mm, h.mm = min(l.mm, y.mm), max(h.mm, y.mm)
		l.turns, h.turns = min(l.turns, y.turns), max(h.turns, y.turns)
		l.tensionN, h.tensionN = min(l.tensionN, y.tensionN), max(h.tensionN, y.tensionN)
		l.grams, h.grams = min(l.grams, y.grams), max(h.grams, y.grams)
		l.cents, h.cents = min(l.cents, y.cents), max(h.cents, y.cents)
	}
}

// grouped bounds the yarns of a group over a node, and keeps that for the next core.
func (b *box) grouped(n *node, g *group) *yarnSpan {
	if b.over == nil {
		b.over = make([]yarnSpan, b.groups)
	}
	s := &b.over[g.place]
	if s.on != n {
		b.yarn(s, n, g.ends)
	}
	return s
}

// softYarn is thickest of all wraps, kept for the next core.
func (b *box) softYarn(n *node) yarnBody {
	if b.softOn != n {
		b.soft, b.softOn = b.thickest(n, b.ends), n
	}
	return b.soft
}

// topHere is the most that a head of a node may score, on cores between some, bare or
// wound, whose softness is between least and most.
func (w *worker) topHere(n *node, a, b *facts.Head, leastCents, mostCents, least, most, enough float64) float64 {
	top := math.Inf(-1)
	for _, g := range w.yarns {
		w.under(n, a, b, leastCents, mostCents, w.grouped(n, g))
		if top = max(top, w.top(n, least, most, n.depth, enough)); top >= enough {
			break
		}
	}
	return top
}

// part looks at the heads of a node on a part of the cores, which are no harder than
// least: first at all of them at once, then at its halves or core by core.
func (w *worker) part(n *node, p *part, least float64) {
	if w.spent() {
		return
	}
	most, ok := w.holds(n, p, least)
	if !ok {
		return
	}
	for _, half := range p.halves {
		w.part(n, half, least)
	}
	if p.halves != nil {
		return
	}
	for _, i := range p.cores {
		w.forget()
		w.core(n, i, least, most, len(n.root.cores) > 1)
		w.keep()
	}
}

// group looks at the wraps of a group of yarns on a node and core.
func (w *worker) group(n *node, core int, g *group, least, most float64) {
	for _, half := range g.halves {
		if w.spent() {
			return
		}
		c := &n.root.cores[core]
		w.under(n, &c.facts, &c.facts, c.cents, c.cents, w.grouped(n, half))
		if w.worth(n, least, most, n.depth) {
			w.group(n, core, half, least, most)
		}
	}
	if g.halves != nil {
		return
	}
	for _, c := range g.classes {
		w.class(n, core, w.classes[c], least, most)
	}
}
