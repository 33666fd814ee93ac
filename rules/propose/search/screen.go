package search

import (
	"mallow/rules/propose/search/effort"
	"mallow/rules/propose/search/kit"
)

// screen returns which of some wraps may make a head of use on a node, on some cores, of a
// softness between least and most. Of all wraps at once, the weight of one, the size of
// another and the turns of a third might make a head that is much liked and that nobody
// can wind, so each is held against what was asked for by its own.
func (w *worker) screen(n *node, on *kit.Span, wraps []int, least, most float64) (list []int) {
	const slack = 1e-9 // for sums in another order
	for i := range w.Covers {
		yarn := &w.anyYarn(n)[i]
		none := w.Wraps[w.Covers[i][0]].None
		w.under(n, on, yarn)
		w.narrow(least, most)
		lo, hi := w.clip()
		if lo == nil {
			continue
		}
		w.bounded += 1 + int64(len(wraps))/effort.WrapsABox
		likes, refused := w.bound.Bound(lo, hi)
		if refused != nil {
			continue
		}
		likes += n.likes + slack
		grams, mm, cents, packs := n.mass*1000, n.bed.Diameter.MM(), on.LeastCents+n.cents, on.Lo.PackCents+n.packs
		for _, k := range wraps {
			o := &w.Wraps[k]
			if o.None != none {
				continue
			}
			y := wornAs(o, w.wind(n, k))
			lo.Head.Turns, hi.Head.Turns = y.Turns, y.Turns
			lo.Head.MassG, hi.Head.MassG = on.Lo.MassG+grams+y.Grams, on.Hi.MassG+grams+y.Grams
			lo.Head.DiameterMM = mm + 2*y.MM
			hi.Head.DiameterMM = lo.Head.DiameterMM
			lo.Head.CostCents, lo.Head.PackCents = cents+y.Cents, packs+y.PackCents
			if likes-w.j.LeastOff(&lo.Head, &hi.Head) >= w.bar() {
				list = append(list, k)
			}
		}
	}
	return list
}

// serve reports whether there may be a head of use under what was left of the wraps: together
// they may, of a softness each of them has not.
func (w *worker) serve(n *node, on *kit.Span, wraps []int, least, most float64) bool {
	if len(wraps) == 0 {
		return false
	}
	w.within(n, on, wraps)
	return w.worth(w.likes(n, n.depth), least, most)
}
