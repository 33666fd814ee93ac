// Package stock knows parts on hand, packs, prices, what to buy and how to cut it.
// It never judges a head.
package stock

import (
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/words"
)

// Check reports the first item that is not a part of the catalogue, or whose
// amount is not one. An empty bin is an error, too: nothing can be built from
// it.
func (b *Bin) Check(cat *knowledge.Catalogue) error {
	if b == nil {
		return nil
	}
	if len(b.Items) == 0 {
		return ErrEmptyBin
	}
	return b.CheckAmounts(cat)
}

// ErrEmptyBin is the error of a bin without parts.
var ErrEmptyBin = fault.Errorf("the bin is empty; say what is on hand, for example two cores and a foot of tubing")

// CheckAmounts is Check but for an empty bin, which it lets pass.
func (b *Bin) CheckAmounts(cat *knowledge.Catalogue) error {
	if b == nil {
		return nil
	}
	ids := cat.PartIDs()
	for _, it := range b.Items {
		if _, ok := cat.Adhesive(it.Part); ok {
			continue
		}
		if _, ok := cat.Tool(it.Part); ok {
			continue
		}
		if !slices.Contains(ids, it.Part) {
			return &fault.Error{What: fmt.Sprintf("%q in the bin is no part of the catalogue", it.Part), Hint: words.Hint(it.Part, ids)}
		}
		if it.Amount < 0 || math.IsNaN(it.Amount) {
			return fault.Errorf("%v of %s in the bin: an amount can't be below zero", it.Amount, it.Part)
		}
	}
	return nil
}

// Amount returns how much of a part there may be: what is on hand, or any
// amount of what may be bought and without a bin.
func (b *Bin) Amount(part string) float64 {
	if b == nil || slices.Contains(b.Buy, part) {
		return math.Inf(1)
	}
	return b.OnHand(part)
}

// OnHand returns how much of a part is on hand, none without a bin.
func (b *Bin) OnHand(part string) float64 {
	sum := 0.0
	if b != nil {
		for _, it := range b.Items {
			if it.Part == part {
				sum += it.Amount
			}
		}
	}
	return sum
}

// Lengths returns the lengths of a tubing that there may be, nil when there is
// none and without a bin.
func (b *Bin) Lengths(part string) []float64 {
	if b != nil && slices.Contains(b.Buy, part) {
		return []float64{math.Inf(1)}
	}
	return b.pieces(part)
}

// pieces returns the amounts of a part on hand one by one.
func (b *Bin) pieces(part string) []float64 {
	if b == nil {
		return nil
	}
	var list []float64
	for _, it := range b.Items {
		if it.Part == part && it.Amount > 0 {
			list = append(list, it.Amount)
		}
	}
	return list
}

// Bin is parts on hand with their amounts.
type Bin struct {
	Items []Item
	// Buy lists parts that may be bought besides; of a nil bin all may.
	Buy []string
}

// Item is an amount of one part: pieces for cores and shafts, metres for
// tubing, kilograms for yarn. Of several items of one part each is a length or
// skein of its own. An infinite amount is one that nobody counted: enough.
type Item struct {
	Part   string
	Amount float64
}

// Enough is the amount of what nobody counted.
func Enough() float64 { return math.Inf(1) }

// Whole returns the bin with all of a catalogue's parts to be bought where it
// lacks them; nil is a bin without parts.
func (b *Bin) Whole(cat *knowledge.Catalogue) *Bin {
	w := &Bin{Buy: cat.PartIDs()}
	if b != nil {
		w.Items = b.Items
	}
	return w
}
