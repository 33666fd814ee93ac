package search

import (
	"math"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/kit"
)

// narrow gives the box a softness.
func (b *box) narrow(least, most float64) {
	b.lo.Head.Softness, b.hi.Head.Softness = least, most
	b.sound.FromSoftness(&b.lo.Head, &b.hi.Head)
}

// clip returns the part of the box that may serve the goal, nil when none may.
func (b *box) clip() (lo, hi *facts.Facts) {
	if b.goal.Clip == nil {
		return &b.lo, &b.hi
	}
	b.clipLo.Head, b.clipHi.Head = b.lo.Head, b.hi.Head
	if !b.goal.Clip(&b.clipLo.Head, &b.clipHi.Head) {
		return nil, nil
	}
	b.sound.FromSoftness(&b.clipLo.Head, &b.clipHi.Head)
	return &b.clipLo, &b.clipHi
}

// softestAbove is an upper bound on the softness of the heads of so many layers
// above a node: that of a head with the thickest and softest tubing of the kit,
// not thinned by stretching, for each layer more, under yarn half as thick
// again as any and wound round as large a ball as may be, as heavy and no
// larger than the rules allow any head, on the radius of the node. The tubing is
// taken a fifth softer than it is, since thin slices over thick ones slide most.
func (b *box) softestAbove(n *node, layers int) float64 {
	room := max(0, (b.mostMM-n.bed.Diameter.MM())/2000)
	y := b.softYarn(n)
	y.yarn.Wall = min(1.5*y.yarn.Wall, room)
	y.yarn.Press *= min(1, n.bed.Diameter.MM()/b.mostMM)
	b.put(n, &n.root.Softest, 0, y)
	b.body.Mass = b.mostG/1000 + n.root.Rod
	x := b.thick
	x.Wall = min(x.Wall, room)
	x.Modulus *= 0.8
	for range layers - n.depth {
		if x.Wall > 0 {
			b.body.Rubber = append(b.body.Rubber, x)
		}
	}
	most := b.notches() + slackNotches
	b.setRubber(n)
	return most
}

// limits finds the largest mass and diameter that the rules allow any head, as
// far as half a kilogram and 15 cm.
func (b *box) limits() {
	least := func(most float64, value func(h *facts.Head) *float64) float64 {
		lo, hi := 0.0, most
		for range 24 {
			mid := (lo + hi) / 2
			b.lo.Head, b.hi.Head = b.anyLo, b.anyHi
			*value(&b.lo.Head) = mid
			if _, refused := b.bound.Bound(&b.lo, &b.hi); refused != nil {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi
	}
	b.mostG = least(500, func(h *facts.Head) *float64 { return &h.MassG })
	b.mostMM = least(150, func(h *facts.Head) *float64 { return &h.DiameterMM })
	b.mostCents = least(100_000, func(h *facts.Head) *float64 { return &h.CostCents })
	for i := range b.Tubes {
		t := &b.Tubes[i]
		if b.thick.Modulus == 0 || t.Rubber.Modulus < b.thick.Modulus {
			b.thick.Modulus = t.Rubber.Modulus
		}
		if i == 0 || t.Rubber.Loss < b.tough.Loss {
			b.tough.Loss = t.Rubber.Loss
		}
		b.tough.Modulus = max(b.tough.Modulus, t.Rubber.Modulus)
		b.thick.Wall = max(b.thick.Wall, float64(t.Slice.Tube.Wall))
		b.thick.Loss = max(b.thick.Loss, t.Rubber.Loss)
		b.dense = max(b.dense, t.Slice.Rubber.DensityKgM3.Value)
	}
}

// padding is the most that yarn comes to over a diameter.
type padding struct {
	known                bool
	turns, wallMM, grams float64
}

// padding returns the most that any yarn of the kit comes to on a head that measures
// so much, or less, under it. A plain wrap grows with the head, in turns and grams;
// how thick it lies hardly does.
func (b *box) padding(mm float64) padding {
	const spare = 1.1 // for how thick it lies on a smaller head
	at := int(math.Ceil(mm))
	for len(b.padded) <= at {
		b.padded = append(b.padded, padding{})
	}
	p := &b.padded[at]
	if p.known {
		return *p
	}
	p.known = true
	bare := measure.Length(at) * measure.Millimetre
	for _, i := range b.Ends {
		if o := &b.Wraps[i]; !o.None {
			wd := b.f.Wind(&o.Wrap, bare, bare)
			p.turns, p.wallMM, p.grams = max(p.turns, float64(wd.Turns)), max(p.wallMM, spare*wd.Wall.MM()), max(p.grams, wd.Mass.Grams())
		}
	}
	return *p
}

// mostAbove returns the most that a head measures and weighs with some slices more over a
// node, and yarn. A slice is as heavy at most as it would be unstretched, cut to reach
// as far round the ball as any is.
func (b *box) mostAbove(n *node, slices int) (mm, grams float64, yarn padding) {
	const spare = 1.1 // for a cut that is rounded, and shortens
	reach := b.f.Catalogue().Limits.CutReachDeg.Value * math.Pi / 180
	if reach <= 0 {
		reach = math.Pi / 2
	}
	d, w, kg := float64(n.bed.Diameter), b.thick.Wall, n.mass
	most := max(d, b.mostMM/1000)
	for range slices {
		kg += spare * b.dense * math.Pi * w * (d + w) * reach * d
		d = min(d+2*w, most)
	}
	yarn = b.padding(d * 1000)
	return min(d*1000+2*yarn.wallMM, most*1000), n.root.Hi.MassG + kg*1000 + yarn.grams, yarn
}

// above makes the box of the heads above a node with least to most layers.
func (b *box) above(n *node, least, most int) {
	lo, hi := &b.lo.Head, &b.hi.Head
	*lo, *hi = b.anyLo, b.anyHi
	ofCore(lo, &n.root.Lo)
	ofCore(hi, &n.root.Hi)
	lo.Layers, hi.Layers = float64(least), float64(most)
	lo.Tubings, hi.Tubings = float64(n.kinds), float64(n.kinds+most-n.depth)
	lo.RubberMM, lo.HandN, lo.YarnMM, lo.Turns, lo.MassTolG = n.rubberMM, n.handN, 0, 0, 0
	lo.Latex, lo.Chemicals = n.root.Lo.Latex || n.latex, n.root.Lo.Chemicals || n.chemicals
	lo.Glued = n.glued
	hi.Solvent = b.f.OnlySolvent()
	lo.LeastGrip = 0
	if n.depth > 0 {
		hi.LeastGrip = n.gripKPa
	}
	lo.MassG = n.root.Lo.MassG + n.mass*1000
	lo.DiameterMM = n.bed.Diameter.MM()
	var yarn padding
	hi.DiameterMM, hi.MassG, yarn = b.mostAbove(n, most-n.depth)
	hi.YarnMM, hi.Turns = yarn.wallMM, yarn.turns
	hi.RubberMM = n.rubberMM + 1000*b.thick.Wall*float64(most-n.depth) // as cut, not as stretched
	lo.CostCents, lo.PackCents = n.root.LeastCents+n.cents, n.root.Lo.PackCents+n.packs
	b.sound.BeforeStroke(lo, hi)
}

// ofCore copies the facts of core and shaft.
func ofCore(to, from *facts.Head) {
	to.Core, to.Material, to.CoreMM, to.CoreA, to.Drilled, to.BoreMM = from.Core, from.Material, from.CoreMM, from.CoreA, from.Drilled, from.BoreMM
	to.Shaft, to.ShaftMM, to.ShaftLong, to.Keyed = from.Shaft, from.ShaftMM, from.ShaftLong, from.Keyed
}

// within makes the box of the heads of a node on some cores, with wraps that lie
// between some.
func (w *box) within(n *node, on *kit.Span, wraps []int) {
	yarn := w.yarn(n, wraps)
	w.under(n, on, &yarn)
}

// under makes the box of the heads of a node on some cores, under yarn.
func (w *box) under(n *node, on *kit.Span, yarn *bounds.Yarns) {
	lo, hi := &w.lo.Head, &w.hi.Head
	w.static(lo, n, on.Lo, on.LeastCents)
	w.static(hi, n, on.Hi, on.MostCents)
	hi.MassTolG = math.Inf(1)
	yarn.Lo.Add(lo)
	yarn.Hi.Add(hi)
	w.sound.BeforeStroke(lo, hi)
}

// static fills in the facts of a node's rubber on a core, without yarn.
func (b *box) static(x *facts.Head, n *node, core *facts.Head, cents float64) {
	*x = *core
	x.Layers = float64(n.depth)
	x.Tubings = float64(n.kinds)
	x.RubberMM = n.rubberMM
	x.Latex, x.Chemicals = x.Latex || n.latex, x.Chemicals || n.chemicals
	x.HandN = n.handN
	if n.depth > 0 {
		x.LeastGrip = n.gripKPa
	}
	x.MassG += n.mass * 1000
	x.DiameterMM = n.bed.Diameter.MM()
	x.CostCents = cents + n.cents
	x.PackCents += n.packs
	x.Glued = n.glued
	x.Solvent = n.glued && b.f.OnlySolvent()
}
