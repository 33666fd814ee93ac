package search

import (
	"math"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose/search/kit"
)

// look computes one head, scores it if it may be of use, and returns its
// softness.
func (w *worker) look(n *node, core, wrap int) float64 {
	c, o, wd := &n.root.Cores[core], &w.Wraps[wrap], w.wind(n, wrap)
	w.tried++
	x := &w.at.Head
	w.describe(x, n, c, o, wd)
	w.put(n, &c.Body, c.Struck, yarnOf(o, wd))
	w.j.Sound.FillMF(x, w.j.Sound.Even(&w.body))
	if float64(wd.Mass) > o.Most {
		return x.Softness // not enough of this yarn, but its softness bounds others
	}
	// What costs the most to know comes last, and only where it can matter.
	if !w.may(n, x, w.sound.BeforeNotes) {
		return x.Softness
	}
	w.j.Sound.FillNotes(x, &w.body)
	if !w.may(n, x, w.sound.BeforeLoud) {
		return x.Softness
	}
	w.j.Sound.Fill(x, w.j.Sound.All(&w.body))
	if !w.may(n, x, w.sound.BeforeBright) {
		return x.Softness
	}
	w.j.FillBright(x, &w.body)
	x.InertiaGM2 = w.inertia(n, c, wd)
	score, refused := w.judge(n)
	if refused != nil {
		return x.Softness
	}
	w.buildable++
	if score >= w.bar() && (w.goal.Is == nil || w.goal.Is(x)) {
		here := found{node: n, core: core, wrap: wrap, turns: wd.Turns, score: score, facts: *x}
		if w.local.node == nil || here.compare(&w.local) < 0 {
			w.local = here
		}
	}
	return x.Softness
}

// describe fills in the facts of a head that do not depend on a stroke, but for
// its inertia.
func (b *box) describe(x *facts.Head, n *node, c *kit.Core, o *kit.Wrap, wd *head.Wound) {
	b.static(x, n, &c.Facts, c.Cents)
	y := wornAs(o, wd)
	y.Add(x)
	x.MassTolG = 1000 * math.Sqrt(float64(c.Bare.MassTol*c.Bare.MassTol)+n.massTol2+float64(wd.MassTol*wd.MassTol))
}

// may reports whether a head of a node of which some facts are known may be of
// use, whatever those are that open leaves open.
func (w *worker) may(n *node, x *facts.Head, open func(lo, hi *facts.Head)) bool {
	w.lo.Head, w.hi.Head = *x, *x
	w.lo.Head.InertiaGM2, w.hi.Head.InertiaGM2 = 0, math.Inf(1)
	open(&w.lo.Head, &w.hi.Head)
	sum := w.likes(n, n.depth) - w.j.LeastOff(&w.lo.Head, &w.hi.Head)
	if w.mostHead+sum < w.bar() {
		return false
	}
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	return refused == nil && likes+sum >= w.bar()
}
