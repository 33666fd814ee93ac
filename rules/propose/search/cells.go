package search

import (
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/effort"
	"mallow/rules/propose/search/girth"
)

// cell bounds the heads of so many layers, on a node or above, that measure from to to mm under
// their yarn.
type cell struct {
	*worker
	n        *node
	layers   int
	from, to float64
	none     bool       // of them has yarn
	byLayer  float64    // most that the rules on layers like
	lo, hi   facts.Head // of all of them, the weight without the yarn
	wraps    []girth.Wrap
	soft     float64 // no softer is any
	points   float64 // that weight, size and turns may lose
	off      float64 // what is lost for softness by the nearest of them
}

// left returns the cells out of some where a head of so many layers, on the node or above, may be of use.
func (w *worker) left(n *node, layers int, some girth.Set) (left girth.Set) {
	if some == 0 || layers > n.depth && !w.takes(n) {
		return 0
	}
	w.setRubber(n)
	w.forget()
	pile := w.piles.Over(girth.At(n.bed.Diameter), layers-n.depth)
	for _, ends := range w.Covers {
		left |= leftUnder(w, n, layers, some&^left, pile, w.Wraps[ends[0]].None)
	}
	return left
}

// leftUnder is left with no yarn, or with some.
func leftUnder(w *worker, n *node, layers int, some girth.Set, pile *girth.Pile, none bool) (left girth.Set) {
	w.above(n, layers, layers)
	if none {
		w.hi.Head.YarnMM, w.hi.Head.Turns = 0, 0
	} else {
		w.lo.Head.Turns = 1
	}
	soft := math.Inf(1)
	if layers > n.depth {
		soft = w.softestAbove(n, layers)
	}
	w.narrow(n.least, soft)
	lo, hi := w.clip()
	if lo == nil {
		return 0
	}
	w.bounded++
	likes, refused := w.bound.Bound(lo, hi)
	if refused != nil {
		return 0
	}
	c := cell{worker: w, n: n, soft: soft, layers: layers, none: none, lo: w.lo.Head, hi: w.hi.Head}
	c.off = w.j.SoftnessOff(min(max(lo.Head.Softness, w.base.Want.Softness), hi.Head.Softness))
	points := likes - w.bar() - w.j.LeastOff(&lo.Head, &hi.Head) + w.j.MeasuredOff(&lo.Head, &hi.Head)
	heaviest := n.root.Hi.MassG + n.mass*1000
	for at := range girth.Cells {
		if !some.Has(at) || math.IsInf(pile.Likes[at], -1) {
			continue
		}
		if at == girth.Cells-1 {
			left |= girth.One(at) // has no end
			continue
		}
		c.from, c.to = max(n.bed.Diameter.MM(), float64(at)), float64(at+1)
		if layers == n.depth {
			c.to = c.from
		}
		c.hi.MassG = min(hi.Head.MassG, heaviest+pile.Grams[at])
		c.byLayer = min(w.likes(n, layers), n.likes+pile.Likes[at])
		if c.points = points + c.byLayer; c.points < 0 || c.from > w.mostMM {
			continue
		}
		c.wraps = w.around(n, at)
		if c.serves() {
			left |= girth.One(at)
		}
	}
	return left
}

// serves reports whether a head of use may lie in the cell: under any yarn, and then under one.
func (c *cell) serves() bool {
	if !c.servesUnder(c.All) {
		return false
	}
	return c.none || slices.ContainsFunc(c.Classes, c.servesUnder)
}

// servesUnder is serves under some wraps.
func (c *cell) servesUnder(wraps []int) bool {
	yarn, ok := c.gather(wraps, 0)
	if !ok {
		return false
	}
	want, least, most := c.base.Want.Softness, max(c.n.least, c.hardest(&yarn)), c.soft
	if least < want {
		most = min(most, c.softest(&yarn))
	}
	if most < least {
		return false
	}
	off := max(0, c.j.SoftnessOff(min(max(least, want), most))-c.off)
	if yarn, ok = c.gather(wraps, off); !ok {
		return false
	}
	lo, hi := &c.worker.lo.Head, &c.worker.hi.Head
	*lo, *hi = c.lo, c.hi
	lo.MassG, hi.MassG = lo.MassG+yarn.Lo.Grams, hi.MassG+yarn.Hi.Grams
	lo.DiameterMM, hi.DiameterMM = c.from+2*yarn.Lo.MM, c.to+2*yarn.Hi.MM
	lo.Turns, hi.Turns, lo.YarnMM, hi.YarnMM = yarn.Lo.Turns, yarn.Hi.Turns, yarn.Lo.MM, yarn.Hi.MM
	lo.CostCents, lo.PackCents = lo.CostCents+yarn.Lo.Cents, lo.PackCents+yarn.Lo.PackCents
	lo.Fibre, hi.Fibre = yarn.Lo.Fibre, yarn.Hi.Fibre
	c.sound.BeforeStroke(lo, hi)
	return c.worth(c.byLayer, least, most)
}

// gather returns what those of some wraps come to that may make a head of use in the cell, where off
// of its points are lost for its softness; false when none may.
func (c *cell) gather(wraps []int, off float64) (all girth.Wrap, ok bool) {
	c.bounded += 1 + int64(len(wraps))/effort.CellWrapsABox
	lo, hi := &c.worker.least, &c.worker.largest
	for _, k := range wraps {
		y := &c.wraps[k]
		lo.MassG, hi.MassG = c.lo.MassG+y.Lo.Grams, c.hi.MassG+y.Hi.Grams
		lo.DiameterMM, hi.DiameterMM = c.from+2*y.Lo.MM, c.to+2*y.Hi.MM
		lo.Turns, hi.Turns = y.Lo.Turns, y.Hi.Turns
		if c.Wraps[k].None != c.none || lo.MassG > c.mostG || lo.DiameterMM > c.mostMM || c.lo.CostCents+y.Lo.Cents > c.mostCents ||
			c.j.MeasuredOff(lo, hi) > c.points-off {
			continue
		}
		all.Hold(y)
		ok = true
	}
	return all, ok
}

// hardest is a lower bound on the softness of the heads of the cell under yarn: that of one with as much
// rubber, all of the stiffest tubing and a fifth stiffer than that, and as light and large as any.
func (c *cell) hardest(yarn *girth.Wrap) float64 {
	c.put(c.n, &c.n.root.Hardest, c.n.root.Lightest, yarnBody{yarn.Hard, yarn.Lo.Grams / 1000, yarn.Hi.MM / 1000})
	c.body.Radius += (c.to - c.n.bed.Diameter.MM()) / 2000
	x := c.tough
	x.Modulus *= 1.2
	if x.Wall = (c.from - c.n.bed.Diameter.MM()) / 2000; x.Wall > 0 {
		c.body.Rubber = append(c.body.Rubber, x)
	}
	return c.end(c.n) - slackNotches
}

// softest is an upper bound: that of a head with the softest tubing, and a fifth softer than that, since thin
// slices over thick ones slide most, in walls as thick as any as far as they go.
func (c *cell) softest(yarn *girth.Wrap) float64 {
	c.put(c.n, &c.n.root.Softest, 0, yarnBody{yarn.Soft, 0, yarn.Lo.MM / 1000})
	c.body.Radius += (c.from - c.n.bed.Diameter.MM()) / 2000
	c.body.Mass = min(c.hi.MassG+yarn.Hi.Grams, c.mostG)/1000 + c.n.root.Rod
	x, rest := c.thick, (c.to-c.n.bed.Diameter.MM())/2000
	x.Modulus *= 0.8
	for range c.layers - c.n.depth {
		if x.Wall = min(c.thick.Wall, rest); x.Wall > 0 {
			c.body.Rubber = append(c.body.Rubber, x)
			rest -= x.Wall
		}
	}
	return c.end(c.n) + slackNotches
}

// end strikes the body as an end of a box, and makes its rubber that of the node again.
func (b *box) end(n *node) float64 {
	b.bounded += effort.StrokeBoxes
	x := b.notches()
	b.setRubber(n)
	return x
}

// around returns what each wrap comes to over a cell of a node's root.
func (b *box) around(n *node, at int) []girth.Wrap {
	key := cellKey{n.root.Diameter, at}
	if list, ok := b.cells[key]; ok {
		return list
	}
	list := make([]girth.Wrap, len(b.Wraps))
	for i := range b.Wraps {
		o := &b.Wraps[i]
		list[i] = girth.Around(at, func(bare measure.Length) (bounds.Yarn, strike.Yarn) {
			if o.None {
				return bounds.Yarn{}, strike.Yarn{}
			}
			wd := b.f.Wind(&o.Wrap, bare, n.root.Diameter)
			return wornAs(o, &wd), yarnOf(o, &wd).yarn
		})
	}
	b.cells[key] = list
	return list
}

// cellKey is a cell over balls of a size.
type cellKey struct {
	ball measure.Length
	at   int
}

// slices lists what a slice of each tubing comes to over a cell, where the rules may allow it.
func (b *box) slices(at int) (list []girth.Slice) {
	if at == girth.Cells-1 {
		for i := range b.Tubes {
			list = append(list, girth.Slice{Tube: i, From: at, To: at, Grams: math.Inf(1), Likes: b.mostLikes})
		}
		return list
	}
	const hair = 1e-6 * measure.Millimetre
	lim := &b.f.Catalogue().Limits
	reach, zone := lim.CutReachDeg.Value*math.Pi/180, lim.StrikeZoneDeg.Value*math.Pi/180
	if reach <= 0 {
		reach = math.Pi / 2
	}
	b.lo.Head, b.hi.Head = b.anyLo, b.anyHi
	defer func() { b.lo.Layer, b.hi.Layer = facts.Layer{}, facts.Layer{} }()
	for i := range b.Tubes {
		s := b.Tubes[i].Slice
		end := func(at int) propose.Fitted {
			return b.f.Fit(head.Bed{Diameter: measure.Length(max(at, 1)) * measure.Millimetre}, s, 2, "")
		}
		x, y := end(at), end(at+1)
		bounds.Between(&b.lo.Layer, &b.hi.Layer, &x.Layer, &y.Layer)
		b.lo.Layer.Index, b.hi.Layer.Index = 1, propose.MostLayers
		likes, refused := b.fitted.Bound(&b.lo, &b.hi)
		if refused != nil {
			continue
		}
		list = append(list, girth.Slice{
			Tube: i, From: girth.At(x.Bed.Diameter - hair), To: girth.At(y.Bed.Diameter + hair),
			Grams: girth.MostGrams(s, &x.Layer, &y.Layer, reach, zone), Likes: likes,
		})
	}
	return list
}
