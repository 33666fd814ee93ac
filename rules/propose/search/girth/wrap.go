package girth

import (
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/propose/search/bounds"
)

// Wrap bounds what a wrap comes to over a cell.
type Wrap struct {
	bounds.Yarns
	Hard, Soft strike.Yarn // no harder and no softer is any of it
	some       bool
}

// Around returns what a wrap comes to over a cell of a ball: as it is wound at one end of the cell
// and at the other, where the turns grow with the diameter. Of so many turns the yarn lies thinner
// on a larger ball, and of more turns thicker, but never in proportion.
func Around(at int, wind func(bare measure.Length) (bounds.Yarn, strike.Yarn)) (w Wrap) {
	from := measure.Length(at) * measure.Millimetre
	y, a := wind(from)
	z, b := wind(from + measure.Millimetre)
	more := max(1, z.Turns/max(1, y.Turns))
	z.MM /= more
	y.MM *= more
	w.Yarns.Hold(&y)
	w.Yarns.Hold(&z)
	w.Hard, w.Soft, w.some = a, a, true
	w.Hard.Wall, w.Soft.Wall = w.Lo.MM/1000, w.Hi.MM/1000
	w.Hard.Press, w.Soft.Press = more*max(a.Press, b.Press), min(a.Press, b.Press)/more
	return w
}

// Hold makes the bounds hold another wrap as well.
func (w *Wrap) Hold(x *Wrap) {
	w.Yarns.Hold(&x.Lo)
	w.Yarns.Hold(&x.Hi)
	if !w.some {
		w.Hard, w.Soft, w.some = x.Hard, x.Soft, true
		return
	}
	a, b := &w.Hard, &x.Hard
	a.Wall, a.Rest, a.Press, a.Loss = min(a.Wall, b.Wall), max(a.Rest, b.Rest), max(a.Press, b.Press), min(a.Loss, b.Loss)
	a, b = &w.Soft, &x.Soft
	a.Wall, a.Rest, a.Press, a.Loss = max(a.Wall, b.Wall), min(a.Rest, b.Rest), min(a.Press, b.Press), max(a.Loss, b.Loss)
}
