package stock

import (
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// CentsPer returns the price of a unit when a pack of so many is shared out.
func CentsPer(p measure.Money, pack float64) float64 {
	if pack <= 0 {
		return float64(p)
	}
	return float64(p) / pack
}

// ShaftCents is the price of a shaft, packs and long dowels shared out.
func ShaftCents(s *knowledge.Shaft) float64 {
	cents := CentsPer(s.Price, float64(s.Pack))
	if s.Stock > 0 {
		cents /= max(1, math.Floor(float64(s.Stock/s.Length)))
	}
	return cents
}

// Cost returns what the parts of one head cost in cents, packs shared out and
// parts on hand free.
func Cost(h *head.Head, bin *Bin, lim *knowledge.Limits) float64 {
	s, cents := &h.Stack, 0.0
	free := func(part string) bool { return bin.OnHand(part) > 0 }
	if !free(s.Core.ID) {
		cents += CentsPer(s.Core.Price, float64(s.Core.Pack))
	}
	if s.Shaft != nil && !free(s.Shaft.ID) {
		cents += ShaftCents(s.Shaft)
	}
	for i := range h.Layers {
		l := &h.Layers[i]
		if !free(l.Slice.Tube.ID) {
			cents += SliceCents(CentsPer(l.Slice.Tube.Price, float64(l.Slice.Tube.Pack)), l.Cut, lim)
		}
	}
	if s.Wrap != nil && !free(s.Wrap.Yarn.ID) {
		cents += CentsPer(s.Wrap.Yarn.Price, float64(s.Wrap.Yarn.Pack)) * float64(h.YarnMass)
	}
	return cents
}

// Packs returns the price in cents of a pack of each part of a stack, those on hand
// free: what whoever has none of it pays at once for a pair.
func Packs(s *head.Stack, bin *Bin) float64 {
	cents := 0.0
	add := func(part string, price measure.Money) {
		if bin.OnHand(part) <= 0 {
			cents += float64(price)
		}
	}
	add(s.Core.ID, s.Core.Price)
	if s.Shaft != nil {
		add(s.Shaft.ID, s.Shaft.Price)
	}
	for i, l := range s.Slices {
		if !slices.ContainsFunc(s.Slices[:i], func(x head.Slice) bool { return x.Tube.ID == l.Tube.ID }) {
			add(l.Tube.ID, l.Tube.Price)
		}
	}
	if s.Wrap != nil {
		add(s.Wrap.Yarn.ID, s.Wrap.Yarn.Price)
	}
	return cents
}

// SliceCents is the price of a slice and the kerf beside it.
func SliceCents(perMetre float64, cut measure.Length, lim *knowledge.Limits) float64 {
	return perMetre * (float64(cut) + lim.KerfM.Value)
}
