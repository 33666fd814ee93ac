// Package advise says what parts on hand make, and which one purchase would help
// most. It knows bins and gains; it never plans more than one purchase ahead.
package advise

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"mallow/knowledge/measure"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// Advice is what can be made of parts on hand, and what to buy.
type Advice struct {
	// Best is the best from the bin alone, nil when nothing can be built from
	// it; Why is then the reason.
	Best *propose.Candidate
	Why  error
	// Buy lists single purchases, the one that helps most first. It is empty
	// when none helps.
	Buy []Purchase
}

// Purchase is one pack of one part, and what it would do.
type Purchase struct {
	Part  string        `json:"part"`
	Price measure.Money `json:"price"`
	Gain  float64       `json:"gain"` // of score; +Inf when nothing could be built before
	// Best is the best head with it.
	Best   propose.Candidate `json:"-"`
	Trades []propose.Trade   `json:"trades,omitempty"` // against the best from the bin alone
}

// mostPurchases is how many purchases an advice lists.
const mostPurchases = 3

// From finds the best head from the request's bin alone, and the one
// purchase that would help most.
func From(ctx context.Context, f *propose.Finder, q propose.Request) (Advice, error) {
	if q.Bin == nil {
		return Advice{}, stock.ErrEmptyBin
	}
	empty := errors.Is(q.Bin.Check(f.Catalogue()), stock.ErrEmptyBin)
	if err := f.Check(q); err != nil && !empty {
		return Advice{}, err
	}
	var a Advice
	base := math.Inf(-1)
	best, err := search.Best(ctx, f, q)
	switch {
	case ctx.Err() != nil:
		return Advice{}, ctx.Err()
	case empty:
		a.Why = stock.ErrEmptyBin
	case err == nil:
		a.Best, base = &best, best.Score
	default:
		a.Why = search.Why(ctx, f, q)
	}
	for _, b := range buyable(f, q) {
		if ctx.Err() != nil {
			break
		}
		r := q
		r.Bin = &stock.Bin{Items: append(slices.Clone(q.Bin.Items), b.item)}
		s := search.New(f, r)
		s.Limit = mostBuy
		g := search.NewGoal(1, base+leastGain)
		s.Run(ctx, g)
		list := s.Heads(g)
		if len(list) == 0 {
			continue
		}
		p := Purchase{Part: b.item.Part, Price: b.price, Gain: list[0].Score - base, Best: list[0]}
		if a.Best != nil {
			p.Trades = propose.Trades(&a.Best.Facts.Head, &list[0].Facts.Head)
		}
		a.Buy = append(a.Buy, p)
	}
	slices.SortStableFunc(a.Buy, func(a, b Purchase) int {
		return cmp.Or(cmp.Compare(b.Best.Score, a.Best.Score), cmp.Compare(a.Price, b.Price))
	})
	a.Buy = a.Buy[:min(len(a.Buy), mostPurchases)]
	for i := range a.Buy {
		if a.Buy[i].Best, err = f.Consider(a.Buy[i].Best.Stack, q); err != nil {
			return a, err
		}
	}
	return a, nil
}

// leastGain is how many points a purchase has to gain to be worth the way to
// the shop.
const leastGain = 0.5

// mostBuy is how many heads are looked at for each part that could be bought.
const mostBuy = 2000

type buy struct {
	item  stock.Item
	price measure.Money
}

// buyable lists one pack of every part in the catalogue.
func buyable(f *propose.Finder, q propose.Request) []buy {
	var list []buy
	add := func(part string, amount float64, price measure.Money) {
		if !slices.Contains(q.Pin.Without, part) {
			list = append(list, buy{stock.Item{Part: part, Amount: amount}, price})
		}
	}
	for _, c := range f.Catalogue().Cores {
		add(c.ID, float64(c.Pack), c.Price)
	}
	for _, t := range f.Catalogue().Tubing {
		add(t.ID, float64(t.Pack), t.Price)
	}
	for _, y := range f.Catalogue().Yarns {
		add(y.ID, float64(y.Pack), y.Price)
	}
	for _, s := range f.Catalogue().Shafts {
		add(s.ID, float64(s.Pack), s.Price)
	}
	return list
}
