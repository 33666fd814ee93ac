package stock

import (
	"math"
	"slices"

	"mallow/knowledge"
)

// Used is what some heads took of one part on hand, in the unit of an Item.
type Used struct {
	Part   string
	Amount float64
	Short  float64 // what the bin did not have
}

// Left returns the bin less what heads took from it, and what that was. What
// is cut comes out of the lengths that an order would cut, and the offcuts are
// kept; what nobody counted stays uncounted. Glue and tools stay as they are.
func (b *Bin) Left(cat *knowledge.Catalogue, heads []Batch) (*Bin, []Used, error) {
	plain := make([]Batch, len(heads))
	for i, h := range heads {
		h.Spares = 0 // whoever spoilt a slice knows it
		plain[i] = h
	}
	o, err := NewOrder(cat, b, plain)
	if err != nil {
		return nil, nil, err
	}
	left := &Bin{Buy: b.Buy}
	for _, it := range b.Items {
		if !slices.ContainsFunc(o.Lines, func(l Line) bool { return l.Part == it.Part && l.Kind != "adhesive" }) {
			left.Items = append(left.Items, it)
		}
	}
	var used []Used
	for _, l := range o.Lines {
		have := b.OnHand(l.Part)
		if l.Kind == "adhesive" || have == 0 {
			continue
		}
		u := Used{Part: l.Part}
		perUnit := 1.0
		if y, ok := cat.Yarn(l.Part); ok {
			perUnit = kgPerMetre(&y)
		}
		pieces := b.pieces(l.Part)
		switch {
		case math.IsInf(have, 1):
			u.Amount = l.Need * perUnit
		case l.Plan != nil && l.Kind != "shaft":
			for _, bar := range l.Plan.Bars {
				for range bar.Times {
					if bar.Bought {
						for _, p := range bar.Pieces {
							u.Short += float64(p.Length) * float64(p.Count) * perUnit
						}
						continue
					}
					stock := float64(bar.Stock) * perUnit
					at := nearest(pieces, stock)
					u.Amount += pieces[at] - float64(bar.Left)*perUnit
					pieces[at] = float64(bar.Left) * perUnit
				}
			}
		default: // by the piece
			u.Amount = min(l.Need, have)
			u.Short = l.Need - u.Amount
			pieces = []float64{have - u.Amount}
		}
		for _, p := range pieces {
			if p > 1e-6 { // a tenth of a millimetre less a zero, a milligram
				left.Items = append(left.Items, Item{l.Part, p})
			}
		}
		used = append(used, u)
	}
	return left, used, nil
}

// nearest is the index of the piece of that length; the plan has it through
// another unit.
func nearest(pieces []float64, length float64) int {
	best := 0
	for i, p := range pieces {
		if math.Abs(p-length) < math.Abs(pieces[best]-length) {
			best = i
		}
	}
	return best
}

// kgPerMetre is the mass of a metre of yarn; tex is grams a kilometre.
func kgPerMetre(y *knowledge.Yarn) float64 { return y.Tex.Value * 1e-6 }
