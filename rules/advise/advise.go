// Package advise says what parts on hand make, and which one purchase would help
// most. It knows bins and gains; it never plans more than one purchase ahead.
package advise

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/change"
	"mallow/rules/facts"
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
	// With is the best that what is on hand makes together with Need, parts
	// that it can't do without or that are worth their way; nil when there are
	// none.
	With *propose.Candidate
	Need []Purchase
	// Buy lists single purchases, the one that helps most first. It is empty
	// when none helps.
	Buy []Purchase
	// Assumed lists what nobody said and what stands in the way of a better
	// head.
	Assumed []Assumption
}

var errNoBall = fault.Errorf("a head needs a ball, and none is on hand")

// Purchase is one pack of one part, and what it would do.
type Purchase struct {
	Part  string
	Price measure.Money
	Gain  float64 // of score; +Inf when nothing could be built before
	// Best is the best head with it.
	Best   propose.Candidate
	Trades []propose.Trade // against the best from the bin alone
}

// Assumption is something that nobody said and that binds.
type Assumption struct {
	Fact string // the path of the fact
	Text string // what was assumed
	// Else is the best head if it did not hold.
	Else propose.Candidate
}

// mostPurchases is how many purchases an advice lists.
const mostPurchases = 3

// From finds the best head from the request's bin alone, what has to be bought
// where that is not enough, and the one purchase that would help most.
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
	case !slices.ContainsFunc(q.Bin.Items, func(it stock.Item) bool { _, ball := f.Catalogue().Core(it.Part); return ball }):
		a.Why = errNoBall
	default:
		a.Why = search.Why(ctx, f, q)
	}
	c, err := First(ctx, f, q)
	if err != nil {
		return Advice{}, err
	}
	if len(c.Bought) > 0 {
		a.With = c.Best
		for _, id := range c.Bought {
			_, price := stock.Pack(f.Catalogue(), id)
			a.Need = append(a.Need, Purchase{Part: id, Price: price, Best: *c.Best})
		}
	}
	if a.Buy, err = purchases(ctx, f, q, a.Best, base); err != nil {
		return a, err
	}
	a.Assumed, err = Assumed(ctx, f, q, a.Best)
	return a, err
}

// purchases finds the single purchases that help most over the best from the
// bin alone, which scores base.
func purchases(ctx context.Context, f *propose.Finder, q propose.Request, best *propose.Candidate, base float64) ([]Purchase, error) {
	var list []Purchase
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
		found := s.Heads(g)
		if len(found) == 0 {
			continue
		}
		list = append(list, Purchase{Part: b.item.Part, Price: b.price, Gain: found[0].Score - base, Best: found[0]})
	}
	slices.SortStableFunc(list, func(a, b Purchase) int {
		return cmp.Or(cmp.Compare(b.Best.Score, a.Best.Score), cmp.Compare(a.Price, b.Price))
	})
	// In full, wound as well as what it is compared with, a purchase may gain less.
	var sure []Purchase
	for _, p := range list[:min(len(list), 2*mostPurchases)] {
		r := q
		r.Bin = &stock.Bin{Items: q.Bin.Items, Buy: append(slices.Clone(q.Bin.Buy), p.Part)}
		full, err := f.First([]propose.Candidate{p.Best}, r)
		if err != nil {
			return nil, err
		}
		p.Best, p.Gain = full, full.Score-base
		if p.Gain < leastGain {
			continue
		}
		if best != nil {
			p.Trades = propose.Trades(&best.Facts.Head, &full.Facts.Head)
		}
		sure = append(sure, p)
	}
	slices.SortStableFunc(sure, func(a, b Purchase) int { return cmp.Compare(b.Best.Score, a.Best.Score) })
	return sure[:min(len(sure), mostPurchases)], nil
}

// nearer is how many notches nearer to the softness wanted a head has to come
// for what was assumed to count as binding.
const nearer = 0.5

func off(c *propose.Candidate) float64 {
	return math.Abs(c.Facts.Head.Softness - c.Facts.Want.Softness)
}

// Binds is Assumed for a request as it was made, whose head may be partly bought: it
// also lists that a first set was assumed where a practised maker would buy less
// for as soft a head. best is nil where there is none.
func Binds(ctx context.Context, f *propose.Finder, q propose.Request, best *propose.Candidate) ([]Assumption, error) {
	bought := func(c *propose.Candidate) (n int) {
		if q.Bin != nil {
			for _, id := range c.Stack.Parts() {
				if q.Bin.OnHand(id) < need(f, id, &q) {
					n++
				}
			}
		}
		return n
	}
	if best != nil && off(best) < nearer && bought(best) == 0 {
		return nil, nil
	}
	c, err := First(ctx, f, q)
	if err != nil {
		return nil, err
	}
	list, err := Assumed(ctx, f, c.Request, best)
	if err != nil || len(list) > 0 || best == nil || bought(best) == 0 || !practised(f, &q) {
		return list, err
	}
	other, err := First(ctx, f, q)
	if x := other.Best; err == nil && x != nil && bought(x) < bought(best) && off(x) < off(best)+nearer {
		list = append(list, firstSet(*x))
	}
	return list, err
}

// practised makes a request that of a practised maker, where a first set was only
// assumed; else it leaves it and returns false.
func practised(f *propose.Finder, q *propose.Request) bool {
	if q.Known[facts.PlayerLevel] || f.Settle(*q).Player.Level != "first" {
		return false
	}
	q.Facts.Player.Level = "many"
	return true
}

// firstSet is that a first set was assumed, and what a practised maker could have.
func firstSet(other propose.Candidate) Assumption {
	return Assumption{Fact: facts.PlayerLevel, Text: "a first set", Else: other}
}

// Change returns what was assumed of the maker that keeps a head from being changed
// as it is to be: a first set, where a practised maker could. It is nil where
// somebody said how many sets they made, or that is not what stands in the way.
func Change(ctx context.Context, f *propose.Finder, from head.Stack, aim change.Aim, q propose.Request) *Assumption {
	if !practised(f, &q) {
		return nil
	}
	x, err := change.FromStock(ctx, f, from, aim, q, 0)
	if err != nil {
		return nil
	}
	a := firstSet(x.Head)
	return &a
}

// Assumed lists what nobody said that keeps a request from a head half a notch
// nearer to the softness wanted, or from any. best is the head that it gets
// all the same, nil when it gets none.
func Assumed(ctx context.Context, f *propose.Finder, q propose.Request, best *propose.Candidate) ([]Assumption, error) {
	var list []Assumption
	if best != nil && off(best) < nearer {
		return nil, nil
	}
	for _, w := range search.Wishes(f, q) {
		said := q.Known[w.Fact]
		if said || !slices.Contains([]string{facts.PlayerLevel, facts.BenchDrill}, w.Fact) {
			continue
		}
		r := q
		w.Drop(&r)
		other, err := search.Best(ctx, f, r)
		if ctx.Err() != nil {
			return list, ctx.Err()
		}
		if err == nil && (best == nil || off(&other) <= off(best)-nearer) {
			list = append(list, Assumption{Fact: w.Fact, Text: w.Text, Else: other})
		}
	}
	return list, nil
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
	sold := f.Sold(q)
	add := func(part string, amount float64, price measure.Money) {
		if !slices.Contains(q.Pin.Without, part) && sold(part) {
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
