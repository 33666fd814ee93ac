package propose

import (
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/stock"
)

// Make is a number of heads alike.
type Make struct {
	Head  head.Head
	Heads int
	// For is what they were asked for with; nil is the order's own request.
	// Who makes them decides on spares and glue.
	For *Request
}

// Order returns what heads take together, less what the request's bin has; see
// NewOrder.
func (f *Finder) Order(makes []Make, q Request) (stock.Order, error) {
	if err := q.Bin.CheckAmounts(f.cat); err != nil {
		return stock.Order{}, err
	}
	var list []stock.Batch
	for i := range makes {
		m := &makes[i]
		if m.Heads < 0 {
			return stock.Order{}, fault.Errorf("%d heads of %s: the number can't be below zero", m.Heads, m.Head.Stack)
		}
		if m.Heads == 0 {
			continue
		}
		own := q
		if m.For != nil {
			own.Facts.Player, own.Pass = m.For.Facts.Player, m.For.Pass
		}
		base := f.Settle(own)
		list = append(list, stock.Batch{Head: m.Head, Heads: m.Heads, Player: base.Player, Spares: f.book.Weights(base, f.Told(base, q.Known))["spares"]})
	}
	o, err := stock.NewOrder(f.cat, q.Bin, list)
	if err != nil {
		return stock.Order{}, err
	}
	return o, nil
}
