package stock

import (
	"mallow/knowledge"
)

// Take is what heads take of one part, as an amount that adds up with others':
// pieces with what lies between them when they are cut, spoilt ones as
// expected and not rounded up.
type Take struct {
	Part   string
	Cents  float64 // a pack; zero when it is not sold
	Pack   float64 // amount in one
	Have   float64 // amount on hand
	Amount float64
}

// Takes returns what a batch takes of each part. Whole packs for the summed
// amounts of several batches never cost more than their order, since cutting
// wastes and spares are rounded up.
func Takes(cat *knowledge.Catalogue, bin *Bin, b Batch) []Take {
	o := ordering{cat: cat, lim: &cat.Limits}
	o.add(&b)
	list := make([]Take, len(o.lines))
	for i, l := range o.lines {
		list[i] = l.take(bin)
	}
	return list
}

func (x *ordered) take(bin *Bin) Take {
	t := Take{Part: x.Part, Cents: float64(x.Price), Pack: x.Pack, Amount: x.Need + x.spoilt}
	each := func(length float64) float64 { return length }
	switch {
	case x.Kind == "adhesive":
		t.Amount, t.Pack = 1e-9, 1
	case x.pieces != nil:
		t.Pack = float64(x.stock - x.ends + x.kerf)
		if x.Kind == "shaft" {
			t.Pack *= max(1, x.Pack)
		}
		each = func(length float64) float64 { return max(0, length-float64(x.ends)+float64(x.kerf)) }
		t.Amount = 0
		for _, p := range x.pieces {
			t.Amount += (float64(p.count) + p.spoilt) * float64(p.length+x.kerf)
		}
	}
	if bin != nil {
		switch {
		case x.pieces == nil:
			t.Have = bin.OnHand(x.Part)
		case x.Kind == "shaft":
			t.Have = bin.OnHand(x.Part) * float64(x.pieces[0].length+x.kerf)
		default:
			for _, length := range bin.pieces(x.Part) {
				length /= x.perUnit
				has := each(length)
				for _, p := range x.pieces { // cut to it already
					if length >= float64(p.length) {
						has = max(has, float64(p.length+x.kerf))
					}
				}
				t.Have += has
			}
		}
	}
	if x.Pack <= 0 { // not sold: the order says so
		t.Cents, t.Pack = 0, 1
	}
	return t
}
