package propose

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"mallow/knowledge/measure"
)

// Advice is what can be made of parts on hand, and what to buy.
type Advice struct {
	// Best is the best from the bin alone, nil when nothing can be built from
	// it; Why is then the reason.
	Best *Candidate
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
	Best   Candidate `json:"-"`
	Trades []Trade   `json:"trades,omitempty"` // against the best from the bin alone
}

// mostPurchases is how many purchases an advice lists.
const mostPurchases = 3

// Advise finds the best head from the request's bin alone, and the one
// purchase that would help most.
func (f *Finder) Advise(ctx context.Context, q Request) (Advice, error) {
	if q.Bin == nil {
		return Advice{}, ErrEmptyBin
	}
	empty := errors.Is(q.Bin.Check(f.cat), ErrEmptyBin)
	if err := f.check(q); err != nil && !empty {
		return Advice{}, err
	}
	var a Advice
	base := math.Inf(-1)
	best, err := f.best(ctx, q)
	switch {
	case ctx.Err() != nil:
		return Advice{}, ctx.Err()
	case empty:
		a.Why = ErrEmptyBin
	case err == nil:
		a.Best, base = &best, best.Score
	default:
		a.Why = f.clash(ctx, q)
	}
	for _, b := range f.buyable(q) {
		if ctx.Err() != nil {
			break
		}
		r := q
		r.Bin = &Bin{Items: append(slices.Clone(q.Bin.Items), b.item)}
		s := f.search(r)
		s.limit = mostBuy
		g := newGoal(1, base+leastGain)
		s.run(ctx, g)
		list := s.heads(g)
		if len(list) == 0 {
			continue
		}
		p := Purchase{Part: b.item.Part, Price: b.price, Gain: list[0].Score - base, Best: list[0]}
		if a.Best != nil {
			p.Trades = trades(&a.Best.Facts.Head, &list[0].Facts.Head)
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
	item  Item
	price measure.Money
}

// buyable lists one pack of every part in the catalogue.
func (f *Finder) buyable(q Request) []buy {
	var list []buy
	add := func(part string, amount float64, price measure.Money) {
		if !slices.Contains(q.Pin.Without, part) {
			list = append(list, buy{Item{part, amount}, price})
		}
	}
	for _, c := range f.cat.Cores {
		add(c.ID, float64(c.Pack), c.Price)
	}
	for _, t := range f.cat.Tubing {
		add(t.ID, float64(t.Pack), t.Price)
	}
	for _, y := range f.cat.Yarns {
		add(y.ID, float64(y.Pack), y.Price)
	}
	for _, s := range f.cat.Shafts {
		add(s.ID, float64(s.Pack), s.Price)
	}
	return list
}
