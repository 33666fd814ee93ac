package change

import (
	"mallow/knowledge/head"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// work counts the pieces that come off and go on, to a number of slices and yarn or
// none over them. Everything outside the innermost edit comes off; what is kept goes
// back on.
func (x *changing) work(edits []search.Edit, slices int, wound bool) int {
	const core = -1
	was := &x.goal.was.Stack
	layers := len(was.Slices)
	inner := layers + 1 // the yarn, counted from the inside
	for _, e := range edits {
		at := layers + 1
		if e.What == "core" {
			at = core
		} else if n, ok := layer(e.What); ok {
			at = n - 1
		}
		inner = min(inner, at)
	}
	pieces := 0
	if inner == core {
		pieces, inner = 3, 0 // find, drill and fit a core
	}
	if was.Wrap != nil {
		pieces++ // unwind
	}
	pieces += max(0, layers-inner) // pull off
	pieces += max(0, slices-inner) // pull on
	if wound {
		pieces++ // wind
	}
	return pieces
}

// newParts is the price of the slices and the ball that edits bring in. What is on
// hand is free; with a bin, what is not comes by the pack.
func (x *changing) newParts(e *search.Edited, layers []head.Layer) (cents float64) {
	for _, d := range e.Edits {
		if d.Do == "remove" {
			continue
		}
		for i := range layers {
			if t := layers[i].Slice.Tube; t.ID == d.To {
				cents += x.part(t.ID, stock.SliceCents(stock.CentsPer(t.Price, float64(t.Pack)), layers[i].Cut, &x.f.Catalogue().Limits), float64(t.Price))
				break
			}
		}
		if d.What == "core" {
			core := &e.Stack.Core
			cents += x.part(core.ID, stock.CentsPer(core.Price, float64(core.Pack)), float64(core.Price))
		}
	}
	return cents
}

// yarnCents is the price of the yarn of a head: it is wound anew whatever is changed.
func (x *changing) yarnCents(h *head.Head) float64 {
	w := h.Stack.Wrap
	if w == nil {
		return 0
	}
	share := stock.CentsPer(w.Yarn.Price, float64(w.Yarn.Pack)) * float64(h.YarnMass)
	if was := x.goal.was.Stack.Wrap; was != nil && was.Yarn.ID == w.Yarn.ID {
		return x.part(w.Yarn.ID, share, share) // most of it comes off the head again
	}
	return x.part(w.Yarn.ID, share, float64(w.Yarn.Price))
}

// part is what a part costs: its share of a pack, or the pack.
func (x *changing) part(id string, share, pack float64) float64 {
	switch {
	case x.q.Bin.OnHand(id) > 0:
		return 0
	case x.q.Bin != nil:
		return pack
	}
	return share
}
