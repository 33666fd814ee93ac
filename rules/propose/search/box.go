package search

import (
	"math"
	"reflect"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/stray"
)

// anything makes lo and hi, pointers to a struct of facts, the corners of a box
// that holds all there can be.
func anything(lo, hi any) {
	a, b := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem()
	for i := range a.NumField() {
		switch x, y := a.Field(i), b.Field(i); x.Kind() {
		case reflect.Float64:
			x.SetFloat(math.Inf(-1))
			y.SetFloat(math.Inf(1))
		case reflect.String:
			x.SetString("")
			y.SetString(anyText)
		case reflect.Bool:
			x.SetBool(false)
			y.SetBool(true)
		}
	}
}

// widen makes the box from lo to hi hold x as well.
func widen(lo, hi, x *facts.Head) {
	a, b, c := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem(), reflect.ValueOf(x).Elem()
	for i := range a.NumField() {
		switch l, h, v := a.Field(i), b.Field(i), c.Field(i); l.Kind() {
		case reflect.Float64:
			l.SetFloat(min(l.Float(), v.Float()))
			h.SetFloat(max(h.Float(), v.Float()))
		case reflect.String:
			if l.String() != v.String() {
				h.SetString(anyText)
			}
		case reflect.Bool:
			l.SetBool(l.Bool() && v.Bool())
			h.SetBool(h.Bool() || v.Bool())
		}
	}
}

// narrow gives the box a softness.
func (b *box) narrow(least, most float64) {
	b.lo.Head.Softness, b.hi.Head.Softness = least, most
	b.fromSoftness(&b.lo.Head, &b.hi.Head)
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
	b.fromSoftness(&b.clipLo.Head, &b.clipHi.Head)
	return &b.clipLo, &b.clipHi
}

// anyText stands in one corner of a box for a text that may be anything.
const anyText = "\x00"

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
	b.put(n, &n.root.softest, 0, y)
	b.body.Mass = b.mostG/1000 + n.root.rod
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
	for i := range b.tubes {
		t := &b.tubes[i]
		if b.thick.Modulus == 0 || t.rubber.Modulus < b.thick.Modulus {
			b.thick.Modulus = t.rubber.Modulus
		}
		b.thick.Wall = max(b.thick.Wall, float64(t.slice.Tube.Wall))
		b.thick.Loss = max(b.thick.Loss, t.rubber.Loss)
		b.dense = max(b.dense, t.slice.Rubber.DensityKgM3.Value)
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
	for _, i := range b.ends {
		if o := &b.wraps[i]; !o.none {
			wd := b.f.Wind(&o.wrap, bare, bare)
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
	return min(d*1000+2*yarn.wallMM, most*1000), n.root.hi.MassG + kg*1000 + yarn.grams, yarn
}

// above makes the box of the heads above a node with least to most layers.
func (b *box) above(n *node, least, most int) {
	lo, hi := &b.lo.Head, &b.hi.Head
	*lo, *hi = b.anyLo, b.anyHi
	ofCore(lo, &n.root.lo)
	ofCore(hi, &n.root.hi)
	lo.Layers, hi.Layers = float64(least), float64(most)
	lo.Tubings, hi.Tubings = float64(n.kinds), float64(n.kinds+most-n.depth)
	lo.RubberMM, lo.HandN, lo.YarnMM, lo.Turns, lo.MassTolG = n.rubberMM, n.handN, 0, 0, 0
	lo.Latex, lo.Chemicals = n.root.lo.Latex || n.latex, n.root.lo.Chemicals || n.chemicals
	lo.Glued = n.glued
	hi.Solvent = b.f.OnlySolvent()
	lo.LeastGrip = 0
	if n.depth > 0 {
		hi.LeastGrip = n.gripKPa
	}
	lo.MassG = n.root.lo.MassG + n.mass*1000
	lo.DiameterMM = n.bed.Diameter.MM()
	var yarn padding
	hi.DiameterMM, hi.MassG, yarn = b.mostAbove(n, most-n.depth)
	hi.YarnMM, hi.Turns = yarn.wallMM, yarn.turns
	lo.CostCents, lo.PackCents = n.root.leastCents+n.cents, n.root.lo.PackCents+n.packs
	b.beforeStroke()
}

// ofCore copies the facts of core and shaft.
func ofCore(to, from *facts.Head) {
	to.Core, to.Material, to.CoreMM, to.CoreA, to.Drilled, to.BoreMM = from.Core, from.Material, from.CoreMM, from.CoreA, from.Drilled, from.BoreMM
	to.Shaft, to.ShaftMM, to.ShaftLong, to.Keyed = from.Shaft, from.ShaftMM, from.ShaftLong, from.Keyed
}

// within makes the box of the heads of a node on cores from a to b, with wraps
// that lie between some.
func (w *box) within(n *node, a, b *facts.Head, leastCents, mostCents float64, wraps []int) {
	w.yarn(&w.few, n, wraps)
	w.under(n, a, b, leastCents, mostCents, &w.few)
}

// under makes the box of the heads of a node on cores from a to b, under yarn.
func (w *box) under(n *node, a, b *facts.Head, leastCents, mostCents float64, yarn *yarnSpan) {
	lo, hi := &w.lo.Head, &w.hi.Head
	w.static(lo, n, a, leastCents)
	w.static(hi, n, b, mostCents)
	hi.MassTolG = math.Inf(1)
	hi.Latex, hi.Chemicals = hi.Latex || yarn.latex, hi.Chemicals || yarn.chemicals
	yarn.lo.add(lo)
	yarn.hi.add(hi)
	w.beforeStroke()
}

// beforeStroke opens the box to all that is not known before a stroke.
func (b *box) beforeStroke() {
	lo, hi := &b.lo.Head, &b.hi.Head
	inf := math.Inf(1)
	lo.InertiaGM2, hi.InertiaGM2 = 0, inf
	lo.SoftnessTol, hi.SoftnessTol = 0, inf
	lo.SqueezeMM, lo.SqueezeN, lo.SqueezeTolN = 0, 0, 0
	hi.SqueezeMM, hi.SqueezeN, hi.SqueezeTolN = inf, inf, inf
	lo.MoreSoftness, hi.MoreSoftness, lo.LessSoftness, hi.LessSoftness = -inf, inf, -inf, inf
	b.beforeNotes(lo, hi)
}

// beforeNotes opens a box to all that is not known from a stroke at mf on the
// reference bar.
func (b *box) beforeNotes(lo, hi *facts.Head) {
	b.beforeLoud(lo, hi)
	b.span(lo, hi)
}

// beforeLoud opens a box to all that is not known from strokes at mf.
func (b *box) beforeLoud(lo, hi *facts.Head) {
	inf := math.Inf(1)
	lo.CutoffPHz, lo.CutoffFHz, lo.CutoffFFHz, lo.PeakN = 0, 0, 0, 0
	hi.CutoffPHz, hi.CutoffFHz, hi.CutoffFFHz, hi.PeakN = inf, inf, inf, inf
	lo.YarnShareP, lo.YarnShareF, lo.CoreShareP, lo.CoreShareF = 0, 0, 0, 0
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
	r := stray.Of(lo.Core, coverOf(lo, hi), lo.CutoffMFHz, hi.CutoffMFHz)
	b.loud(lo, hi, &r)
}

// loud bounds how a head opens up and how bright it is by its cut-off at mf.
func (b *box) loud(lo, hi *facts.Head, r *stray.Range) {
	lo.OpensUp, hi.OpensUp = r.LeastOpens, r.MostOpens
	b.bright(lo, hi, lo.CutoffMFHz*r.LeastRise, hi.CutoffMFHz*r.MostRise)
}

// beforeBright opens a box to what is not known from strokes on the reference bar.
func (b *box) beforeBright(lo, hi *facts.Head) { b.bright(lo, hi, lo.CutoffFHz, hi.CutoffFHz) }

// fromSoftness narrows a box by what follows from its softness. The same bands come
// up time and again, so that the last of them are kept.
func (b *box) fromSoftness(lo, hi *facts.Head) {
	of := band{lo.Softness, hi.Softness, lo.Core, coverOf(lo, hi)}
	x := &b.bands[of.place()]
	if x.known = x.known && x.band == of; !x.known {
		lo.CutoffMFHz, hi.CutoffMFHz = b.j.Sound.Cutoff(hi.Softness), b.j.Sound.Cutoff(lo.Softness)
		r := stray.Of(of.core, of.cover, lo.CutoffMFHz, hi.CutoffMFHz)
		lo.ContactMS, hi.ContactMS = 1000*r.LeastPulse/hi.CutoffMFHz, 1000*r.MostPulse/lo.CutoffMFHz
		b.loud(lo, hi, &r)
		b.span(lo, hi)
		x.band, x.known, x.lo, x.hi = of, true, told(lo), told(hi)
		return
	}
	x.lo.tell(lo)
	x.hi.tell(hi)
}

// coverOf returns what lies over the balls of a box.
func coverOf(lo, hi *facts.Head) stray.Cover {
	switch {
	case hi.Layers == 0 && hi.Turns == 0:
		return stray.Bare
	case lo.Layers > 0 || lo.Turns > 0:
		return stray.Under
	}
	return stray.Any
}

// band is a stretch of softness, of heads of a make.
type band struct {
	least, most float64
	core        string
	cover       stray.Cover
}

// mostBands is how many bands are kept.
const mostBands = 256

// place is where a band is kept.
func (x *band) place() int {
	sum := math.Float64bits(x.least)*0x9e3779b97f4a7c15 ^ math.Float64bits(x.most)*0xc2b2ae3d27d4eb4f
	return int((sum>>40 ^ uint64(x.cover)) % mostBands)
}

// kept is what follows from a band.
type kept struct {
	band
	known  bool
	lo, hi stroke
}

// stroke is what follows from the softness of a head, at one corner of a box.
type stroke struct{ cutoff, contact, opens, bright, low, high float64 }

func told(h *facts.Head) stroke {
	return stroke{h.CutoffMFHz, h.ContactMS, h.OpensUp, h.BrightDB, h.LowHz, h.HighHz}
}

func (x *stroke) tell(h *facts.Head) {
	h.CutoffMFHz, h.ContactMS, h.OpensUp, h.BrightDB, h.LowHz, h.HighHz = x.cutoff, x.contact, x.opens, x.bright, x.low, x.high
}

// bright bounds how bright a head with a cut-off at f between two is on the bar of
// the register.
func (b *box) bright(lo, hi *facts.Head, least, most float64) {
	lo.BrightDB, hi.BrightDB = b.j.Sound.Bright(least), b.j.Sound.Bright(most)
	if c := b.base.Want.Colour; b.j.Bright || c != "" && c != "even" {
		lo.BrightDB, _ = stray.Bright(lo.BrightDB, coverOf(lo, hi) != stray.Under || hi.CutoffMFHz > stray.HardHz/1.5)
		_, hi.BrightDB = stray.Bright(hi.BrightDB, false)
	}
}

// span bounds the notes served by those of the two ends of the softness. At
// some cut-offs no note is served, which counts as 0.
func (b *box) span(lo, hi *facts.Head) {
	r := stray.Served(lo.CutoffMFHz, hi.CutoffMFHz)
	if hi.CutoffMFHz > stray.HardHz { // the end of the box that is harder may yet serve lower ones
		lo.LowHz, lo.HighHz = b.j.Sound.Served(min(lo.CutoffMFHz*r.Least, stray.HardHz*stray.LeastHard))
	} else {
		lo.LowHz, lo.HighHz = b.j.Sound.Served(lo.CutoffMFHz * r.Least)
	}
	hi.LowHz, _ = b.j.Sound.Served(hi.CutoffMFHz * r.MostLow)
	_, hi.HighHz = b.j.Sound.Served(hi.CutoffMFHz * r.MostHigh)
	if last := b.j.Sound.Notes[len(b.j.Sound.Notes)-1]; hi.LowHz == 0 || hi.HighHz == 0 {
		lo.LowHz, lo.HighHz, hi.LowHz, hi.HighHz = 0, 0, last, last
	}
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
