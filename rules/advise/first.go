package advise

import (
	"context"
	"math"
	"slices"

	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// Choice is what a request with parts on hand comes to: the parts that may be
// bought for it besides.
type Choice struct {
	Request propose.Request
	Best    *propose.Candidate // nil when nothing can be built, whatever is bought
	Bought  []string           // parts of the best that are not on hand
}

// First settles what may be bought for a request that has parts on hand, so
// that they are used before anything is bought. What a head can't do without,
// and is not there at all, is bought in any case. Anything else has to earn
// what the rules give as buying, each part by itself; and it may always be
// bought where the softness asked for can't be met without.
//
// A request without a bin stays as it is. The answer holds for sets and
// classes as for a single head.
func First(ctx context.Context, f *propose.Finder, q propose.Request) (Choice, error) {
	if q.Bin == nil {
		return Choice{Request: q}, nil
	}
	if err := q.Bin.CheckAmounts(f.Catalogue()); err != nil {
		return Choice{}, err
	}
	s := &shopping{f: f, q: q, weights: f.Judging(q).Weights, parts: partsByKind(f, q)}
	var missing, there []string
	for _, kind := range []string{"core", "tube", "yarn", "shaft"} {
		if s.onHand(kind) {
			there = append(there, kind)
		} else if kind != "tube" {
			missing = append(missing, kind)
		}
	}
	with := func(more ...string) []string { return append(slices.Clone(missing), more...) }
	bare, err := s.try(ctx, missing)
	if err != nil {
		return Choice{}, err
	}
	all, err := s.try(ctx, []string{"core", "tube", "yarn", "shaft"})
	if err != nil {
		return Choice{}, err
	}
	best := bare
	if !bare.met || all.best != nil && all.best.Score-s.weights.Buying*float64(bare.bought()+1) > bare.net {
		// Something bought might earn its way: one kind at a time, and tubing
		// with it where there is none.
		sets := [][]string{}
		if !slices.Contains(there, "tube") {
			sets = append(sets, with("tube"))
		}
		for _, kind := range there {
			sets = append(sets, with(kind))
			if kind != "tube" && !slices.Contains(there, "tube") {
				sets = append(sets, with(kind, "tube"))
			}
		}
		for _, kinds := range sets {
			x, err := s.try(ctx, kinds)
			if err != nil {
				return Choice{}, err
			}
			if x.better(best) {
				best = x
			}
		}
		if all.better(best) {
			best = all
		}
	}
	c := Choice{Request: q, Best: best.best, Bought: best.parts}
	if best.best == nil {
		best = all // so that it is told why, of all there is
	}
	c.Request.Bin = best.bin
	return c, nil
}

// inPlace is how many times as much a part has to earn that takes the place of
// something on hand. Common practice, no source.
const inPlace = 4

type shopping struct {
	f       *propose.Finder
	q       propose.Request
	weights propose.Weights
	parts   map[string][]string // ids by kind
}

// trip is what buying some kinds of part comes to.
type trip struct {
	bin   *stock.Bin
	best  *propose.Candidate // nil when nothing can be built
	parts []string           // of the best, to be bought
	net   float64            // its score less what the bought parts have to earn
	met   bool               // the softness asked for
}

func (t trip) bought() int { return len(t.parts) }

// better reports whether t is to be preferred to u, which buys less.
func (t trip) better(u trip) bool {
	switch {
	case t.best == nil || u.best == nil:
		return t.best != nil
	case t.met != u.met:
		return t.met
	}
	return t.net > u.net
}

// try finds the best head when parts of some kinds may be bought.
func (s *shopping) try(ctx context.Context, kinds []string) (trip, error) {
	t := trip{bin: &stock.Bin{Items: s.q.Bin.Items}, net: math.Inf(-1)}
	for _, kind := range kinds {
		t.bin.Buy = append(t.bin.Buy, s.parts[kind]...)
	}
	if len(t.bin.Items)+len(t.bin.Buy) == 0 {
		return t, nil
	}
	q := s.q
	q.Bin = t.bin
	best, err := search.Best(ctx, s.f, q)
	if ctx.Err() != nil {
		return t, ctx.Err()
	}
	if err != nil || best.Refused() != nil {
		return t, nil
	}
	t.best = &best
	for _, id := range best.Stack.Parts() {
		if s.q.Bin.OnHand(id) < need(s.f, id, &q) {
			t.parts = append(t.parts, id)
		}
	}
	t.net = best.Score - s.weights.Buying*float64(len(t.parts))
	for kind, ids := range s.parts {
		if s.onHand(kind) && slices.ContainsFunc(t.parts, func(id string) bool { return slices.Contains(ids, id) }) {
			t.net -= (inPlace - 1) * s.weights.Buying
		}
	}
	if best.Stack.Shaft == nil { // one has to be found all the same
		t.net -= s.weights.Buying
	}
	want := best.Facts.Want.Softness
	t.met = !q.Known[facts.WantSoftness] || s.weights.Reach == 0 || math.Abs(best.Facts.Head.Softness-want) <= s.weights.Reach
	return t, nil
}

// onHand reports whether there is enough of some part of a kind for the heads.
func (s *shopping) onHand(kind string) bool {
	return slices.ContainsFunc(s.parts[kind], func(id string) bool { return s.q.Bin.OnHand(id) >= need(s.f, id, &s.q) })
}

// need is the least amount of a part that serves at all: a piece for each head,
// and of tubing and yarn any.
func need(f *propose.Finder, id string, q *propose.Request) float64 {
	if _, tube := f.Catalogue().Tube(id); tube {
		return math.SmallestNonzeroFloat64
	}
	if _, yarn := f.Catalogue().Yarn(id); yarn {
		return math.SmallestNonzeroFloat64
	}
	return float64(q.Count())
}

// partsByKind lists the parts that a request leaves open.
func partsByKind(f *propose.Finder, q propose.Request) map[string][]string {
	cat, list := f.Catalogue(), map[string][]string{}
	sold := f.Sold(q)
	add := func(kind, id string) {
		if !slices.Contains(q.Pin.Without, id) && sold(id) {
			list[kind] = append(list[kind], id)
		}
	}
	for _, c := range cat.Cores {
		add("core", c.ID)
	}
	for _, t := range cat.Tubing {
		add("tube", t.ID)
	}
	for _, y := range cat.Yarns {
		add("yarn", y.ID)
	}
	for _, s := range cat.Shafts {
		add("shaft", s.ID)
	}
	return list
}

// alike is balls of the material of some that are on hand, in other sizes and hardnesses.
const alike = "alike"

// Wider returns requests that buy more and more kinds of part besides what is
// on hand, tubing first, for what one head's choice does not reach: a set. Balls are
// bought beside those on hand before others take their place. The last may buy anything.
func Wider(f *propose.Finder, q propose.Request) []propose.Request {
	if q.Bin == nil {
		return nil
	}
	parts := partsByKind(f, q)
	material := func(id string) string {
		c, _ := f.Catalogue().Core(id)
		return c.Material
	}
	for _, id := range parts["core"] {
		if slices.ContainsFunc(q.Bin.Items, func(it stock.Item) bool { return material(it.Part) == material(id) }) {
			parts[alike] = append(parts[alike], id)
		}
	}
	var list []propose.Request
	for _, kinds := range [][]string{{"tube"}, {"yarn"}, {"tube", "yarn"}, {alike}, {alike, "tube"}, {alike, "tube", "yarn"}, {"core"}, {"core", "tube", "yarn", "shaft"}} {
		r := q
		r.Bin = &stock.Bin{Items: q.Bin.Items, Buy: slices.Clone(q.Bin.Buy)}
		for _, kind := range kinds {
			r.Bin.Buy = append(r.Bin.Buy, parts[kind]...)
		}
		list = append(list, r)
	}
	return list
}
