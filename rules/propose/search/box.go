package search

import (
	"math"
	"reflect"

	"mallow/rules/facts"
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

// leastPulse and mostPulse bound the product of cut-off and contact time at
// mf. It is 1.14 at least, and 2.9 at most where a thin layer is squeezed flat;
// the tests measure it.
const leastPulse, mostPulse = 1.0, 3.6

// leastRise and mostRise bound the cut-off at f over that at mf, which is 1.11
// to 2.3; leastOpens and mostOpens bound how much a head opens up, which is 0.4
// to 3 octaves. The tests measure them.
const (
	leastRise, mostRise   = 1.0, 2.8
	leastOpens, mostOpens = 0.3, 3.5
)

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
	y := b.thickest(n, b.ends)
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
	}
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
	lo.CostCents = n.root.leastCents + n.cents
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
	lo, hi := &w.lo.Head, &w.hi.Head
	w.static(lo, n, a, leastCents)
	w.static(hi, n, b, mostCents)
	hi.MassTolG = math.Inf(1)
	for i, x := range wraps {
		o, wd := &w.wraps[x], w.wind(n, x)
		f := facts.Head{
			Fibre: o.wrap.Yarn.Fibre, YarnMM: wd.Wall.MM(), Turns: float64(wd.Turns), TensionN: wd.TensionN,
			MassG: wd.Mass.Grams(), CostCents: o.cents * float64(wd.Mass),
		}
		hi.Latex, hi.Chemicals = hi.Latex || o.wrap.Fibre.Latex, hi.Chemicals || o.wrap.Fibre.Chemicals
		if i == 0 {
			w.yarnLo, w.yarnHi = f, f
			continue
		}
		l, h := &w.yarnLo, &w.yarnHi
		if f.Fibre != l.Fibre {
			h.Fibre = anyText
		}
		l.YarnMM, h.YarnMM = min(l.YarnMM, f.YarnMM), max(h.YarnMM, f.YarnMM)
		l.Turns, h.Turns = min(l.Turns, f.Turns), max(h.Turns, f.Turns)
		l.MassG, h.MassG = min(l.MassG, f.MassG), max(h.MassG, f.MassG)
		l.CostCents, h.CostCents = min(l.CostCents, f.CostCents), max(h.CostCents, f.CostCents)
	}
	add := func(x, yarn *facts.Head) {
		x.Fibre, x.YarnMM, x.Turns, x.TensionN = yarn.Fibre, yarn.YarnMM, yarn.Turns, yarn.TensionN
		x.MassG += yarn.MassG
		x.DiameterMM += 2 * yarn.YarnMM
		x.CostCents += yarn.CostCents
	}
	add(lo, &w.yarnLo)
	add(hi, &w.yarnHi)
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
	lo.OpensUp, hi.OpensUp = leastOpens, mostOpens
	lo.YarnShareP, lo.YarnShareF, lo.CoreShareP, lo.CoreShareF = 0, 0, 0, 0
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
	b.bright(lo, hi, lo.CutoffMFHz*leastRise, hi.CutoffMFHz*mostRise)
}

// beforeBright opens a box to what is not known from strokes on the reference bar.
func (b *box) beforeBright(lo, hi *facts.Head) { b.bright(lo, hi, lo.CutoffFHz, hi.CutoffFHz) }

// fromSoftness narrows a box by what follows from its softness.
func (b *box) fromSoftness(lo, hi *facts.Head) {
	lo.CutoffMFHz, hi.CutoffMFHz = b.j.Sound.Cutoff(hi.Softness), b.j.Sound.Cutoff(lo.Softness)
	lo.ContactMS, hi.ContactMS = 1000*leastPulse/hi.CutoffMFHz, 1000*mostPulse/lo.CutoffMFHz
	b.bright(lo, hi, lo.CutoffMFHz*leastRise, hi.CutoffMFHz*mostRise)
	b.span(lo, hi)
}

// bright bounds how bright a head with a cut-off at f between two is on the bar of
// the register.
func (b *box) bright(lo, hi *facts.Head, least, most float64) {
	lo.BrightDB, hi.BrightDB = b.j.Sound.Bright(least), b.j.Sound.Bright(most)
	if c := b.base.Want.Colour; b.j.Bright || c != "" && c != "even" {
		lo.BrightDB, _ = brightRange(lo.BrightDB)
		_, hi.BrightDB = brightRange(hi.BrightDB)
	}
}

// brightRange bounds the level of a bar's second partial by what Sound.Bright takes
// it to be, all in dB: that level falls ever further, where a push has nulls and
// lobes. Both ends rise with it. The tests measure them.
func brightRange(about float64) (least, most float64) {
	const lobes = -25
	most = 3 + 0.6*about
	if about < lobes {
		most = 3 + 0.6*lobes + 0.15*(about-lobes)
	}
	if about < -54 {
		return -60, math.Inf(1) // both partials are all but silent
	}
	if about < -34 {
		return -60, most
	}
	return -37, most
}

// A head serves the notes of one with leastNote to mostNote of its cut-off on the
// reference bar, which does not give under a hard head as the instrument's do:
// from hardHz and hardestHz on it is leastHard and leastHardest, and up to
// mostHard at the low end. The tests measure them.
const (
	hardHz, hardestHz                  = 3400, 18_000
	leastNote, leastHard, leastHardest = 0.77, 0.48, 0.15
	mostNote, mostHard                 = 1.03, 1.55
)

// span bounds the notes served by those of the two ends of the softness. At
// some cut-offs no note is served, which counts as 0.
func (b *box) span(lo, hi *facts.Head) {
	least := leastNote
	switch {
	case lo.CutoffMFHz > hardestHz:
		least = leastHardest
	case lo.CutoffMFHz > hardHz:
		least = leastHard
	}
	if hi.CutoffMFHz > hardHz { // the end of the box that is harder may yet serve lower ones
		lo.LowHz, lo.HighHz = b.j.Sound.Served(min(lo.CutoffMFHz*least, hardHz*leastHard))
	} else {
		lo.LowHz, lo.HighHz = b.j.Sound.Served(lo.CutoffMFHz * least)
	}
	hi.LowHz, _ = b.j.Sound.Served(hi.CutoffMFHz * mostHard)
	_, hi.HighHz = b.j.Sound.Served(hi.CutoffMFHz * mostNote)
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
	x.Glued = n.glued
	x.Solvent = n.glued && b.f.OnlySolvent()
}
