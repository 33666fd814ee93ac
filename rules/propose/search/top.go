package search

import "math"

// worth reports whether a head in the box may be among the best for the goal,
// when its softness is between least and most and its layers are liked for so much at most.
func (w *worker) worth(byLayer, least, most float64) bool {
	bar := w.bar()
	return w.top(byLayer, least, most, bar) >= bar
}

// top is the most that a head in the box may score when its softness is between
// least and most and its layers are liked for so much at most, -Inf when there is none for the
// goal. It looks no closer once it has come to enough, nor below the bar.
//
// What a soft head gains by being as soft as asked, it may lose by the notes
// that it no longer serves. A bound that takes the best of both would hardly
// bind, so the softness is cut into bands and each is bound by itself, and cut on by
// halves where it may hold a head of use. Where a mass was asked for that the rules like
// less than another, the same holds of mass, and what is left is cut by that as well.
func (w *worker) top(byLayer, least, most, enough float64) float64 {
	bar := w.bar()
	grams := [2]float64{w.lo.Head.MassG, w.hi.Head.MassG}
	defer func() { w.lo.Head.MassG, w.hi.Head.MassG = grams[0], grams[1] }()
	c := cut{grams: grams, byLayer: byLayer, likes: w.mostHere, bar: bar, enough: enough, top: math.Inf(-1)}
	all, ok := w.over(&c, least, most)
	if !ok || all < bar {
		return all
	}
	want, inf := w.base.Want.Softness, math.Inf(1)
	for _, band := range [...][2]float64{
		{want - 0.3, want + 0.3}, {want - 1.5, want - 0.3}, {want + 0.3, want + 1.5},
		{want - 5, want - 1.5}, {want + 1.5, want + 5}, {-inf, want - 5}, {want + 5, inf},
	} {
		if a, b := max(band[0], least), min(band[1], most); a <= b {
			if w.halve(c, a, b, &c); c.top >= enough {
				break
			}
		}
	}
	return c.top
}

// leastBand is how narrow a band of softness is cut, in notches.
const leastBand = 0.4

// leastGrams is how narrow a band of mass is cut.
const leastGrams = 0.5

// cut is how far the bound over a box has been cut up by softness.
type cut struct {
	byLayer, bar, enough float64
	likes                float64 // most that the rules on a head add, as far as is known
	top                  float64 // over what was cut
	grams                [2]float64
}

// over bounds the box where its softness is between least and most, and keeps what
// the rules come to over that; false when there is no head for the goal there.
func (w *worker) over(c *cut, least, most float64) (float64, bool) {
	w.lo.Head.MassG, w.hi.Head.MassG = c.grams[0], c.grams[1]
	w.narrow(least, most)
	lo, hi := w.clip()
	if lo == nil {
		return math.Inf(-1), false
	}
	off := w.j.LeastOff(&lo.Head, &hi.Head)
	if x := c.likes + c.byLayer - off; x < c.bar {
		return x, true // whatever the rules say of it
	}
	w.bounded++
	likes, refused := w.bound.Bound(lo, hi)
	if refused != nil {
		return math.Inf(-1), false
	}
	c.likes = likes
	return likes + c.byLayer - off, true
}

// halve bounds a band, and its halves where it might raise the top.
func (w *worker) halve(c cut, least, most float64, to *cut) {
	x, ok := w.over(&c, least, most)
	if !ok || x <= to.top {
		return
	}
	if x < c.bar || most-least <= leastBand || math.IsInf(most-least, 1) {
		if x < c.bar || w.weighs(c, least, most) {
			to.top = x
		}
		return
	}
	mid := (least + most) / 2
	w.halve(c, least, mid, to)
	if to.top < to.enough {
		w.halve(c, mid, most, to)
	}
}

// weighs reports whether a band may hold a head of use, of whatever mass: those that it
// is cut into have to be worth looking at for the mass and the rules on it at once.
func (w *worker) weighs(c cut, least, most float64) bool {
	if w.base.Want.MassG == 0 || c.grams[1]-c.grams[0] <= leastGrams {
		return true
	}
	mid := (c.grams[0] + c.grams[1]) / 2
	for _, half := range [...][2]float64{{mid, c.grams[1]}, {c.grams[0], mid}} {
		part := c // what the rules come to over one half says nothing of the other
		part.grams = half
		if x, ok := w.over(&part, least, most); ok && x >= c.bar && w.weighs(part, least, most) {
			return true
		}
	}
	return false
}

// bar is the score that a head has to reach to matter: to be among the best, and
// the best on its own rubber and core.
func (w *worker) bar() float64 { return max(w.goal.bar(), w.local.score) }

// likes is the most that the layer rules can add to a head of so many layers,
// or fewer, on the node.
func (w *worker) likes(n *node, layers int) float64 {
	sum := n.likes
	for i := n.depth; i < layers; i++ {
		sum += max(0, w.mostLayer[i])
	}
	return sum
}
