package propose

import (
	"slices"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/facts"
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

// Left returns the bin less what heads take from it, each tubing as the
// lengths that are left over after cutting. It fails when the bin does not
// reach.
func (f *Finder) Left(makes []Make, q Request) (*stock.Bin, error) {
	o, err := f.Order(makes, Request{Facts: withLevel(q.Facts, "many"), Pass: q.Pass, Known: q.Known, Bin: q.Bin})
	if err != nil {
		return nil, err
	}
	left := &stock.Bin{}
	for _, it := range q.Bin.Items {
		at := slices.IndexFunc(o.Lines, func(l stock.Line) bool { return l.Part == it.Part })
		if at < 0 {
			left.Items = append(left.Items, it)
		}
	}
	for _, l := range o.Lines {
		if l.Packs > 0 && l.Kind != "adhesive" {
			return nil, fault.Errorf("the bin is short of %s", l.Part)
		}
		switch {
		case l.Plan != nil && l.Kind == "tubing":
			used := map[float64]int{}
			for _, b := range l.Plan.Bars {
				for range b.Times {
					left.Items = append(left.Items, stock.Item{Part: l.Part, Amount: float64(b.Left)})
				}
				used[float64(b.Stock)] += b.Times
			}
			for _, have := range q.Bin.Lengths(l.Part) {
				if used[have] > 0 {
					used[have]--
					continue
				}
				left.Items = append(left.Items, stock.Item{Part: l.Part, Amount: have})
			}
		case l.Kind == "yarn":
			share := 1 - l.Need/l.Have
			left.Items = append(left.Items, stock.Item{Part: l.Part, Amount: q.Bin.Amount(l.Part) * share})
		case l.Kind != "adhesive":
			left.Items = append(left.Items, stock.Item{Part: l.Part, Amount: l.Have - l.Need})
		}
	}
	left.Items = slices.DeleteFunc(left.Items, func(it stock.Item) bool { return it.Amount <= 0 })
	return left, nil
}

func withLevel(f facts.Facts, level string) facts.Facts {
	f.Player.Level = level
	return f
}
