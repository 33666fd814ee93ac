// Package graded chooses sets of heads in even steps from hard to soft. It knows
// what makes heads a set; it never finds a head by itself, search does.
package graded

import (
	"cmp"
	"context"
	"errors"
	"maps"
	"math"
	"slices"

	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// Options say what a graded set is to be like.
type Options struct {
	Rungs   int          // 2 to 8
	Each    int          // heads on a rung: 2, a pair, or 4; zero is a pair
	Gap     float64      // notches from rung to rung; zero is 2, about a grade
	Hardest *float64     // softness of the hardest rung; nil centres the set on what the request asks
	Mass    ladder.Trend // empty lets it grow with softness
	Size    ladder.Trend // empty lets it grow with softness
}

// Set is a graded set.
type Set struct {
	Rungs []Rung      `json:"rungs"` // hardest first
	Order stock.Order `json:"order"` // for the whole set, stock shared
	Cost  float64     `json:"points"`
	Exact bool        `json:"exact"` // proven the best of the heads considered
	Items int         `json:"considered"`
}

// Rung is one softness of a set.
type Rung struct {
	Want     float64           `json:"want_softness"`
	Head     propose.Candidate `json:"-"`
	Stack    string            `json:"stack"`
	Softness float64           `json:"softness"`
	MassG    float64           `json:"mass_g"`
	MM       float64           `json:"diameter_mm"`
	Match    propose.Matching  `json:"match"`
}

// How many heads compete for a rung: the best of all, and the best of each
// core and yarn that the set may share.
const rungPool, kinPool = 16, 12

// How many heads are looked at to find them. A set makes up in evenness what a
// rung lacks in score.
const rungHeads, kinHeads = 5000, 2000

// Choose chooses a graded set: of the heads that are best for each rung, the
// combination that is most evenly spaced, keeps to the trends, and costs least
// when the rungs share their stock. Of the heads considered, the choice is
// exact; see package ladder.
func Choose(ctx context.Context, f *propose.Finder, q propose.Request, opts Options) (Set, error) {
	if opts.Rungs < 2 || opts.Rungs > 8 {
		return Set{}, fault.Errorf("a set of %d: 2 to 8 can be made", opts.Rungs)
	}
	if opts.Each == 0 {
		opts.Each = 2
	}
	if opts.Each != 2 && opts.Each != 4 {
		return Set{}, fault.Errorf("%d heads of each: pairs (2) or fours (4) can be made", opts.Each)
	}
	if opts.Gap == 0 {
		opts.Gap = 2
	}
	if opts.Gap < 0.5 || opts.Gap > 12 || math.IsNaN(opts.Gap) {
		return Set{}, fault.Errorf("rungs %g notches apart: 0.5 to 12 can be told apart and built", opts.Gap)
	}
	if err := f.Check(q); err != nil {
		return Set{}, err
	}
	q.Heads = opts.Each
	w := f.Judging(q).Weights
	p := &ladder.Problem{
		Reach: min(opts.Gap/2, 1.5), Rise: opts.Gap / 2,
		Mass: trendOr(opts.Mass), Size: trendOr(opts.Size),
		Weights: ladder.Weights{Notch: evenNotches * w.Softness, Gram: w.Mass, MM: w.Diameter, Cent: packShare * w.Cost / 100},
	}
	first := q.Facts.Want.Softness - opts.Gap*float64(opts.Rungs-1)/2
	if opts.Hardest != nil {
		first = *opts.Hardest
	}
	l := &laddering{f: f, q: q, p: p, parts: map[string]int{}}
	var list []propose.Candidate
	hard := 0 // how many are of the harder half
	for k := range opts.Rungs {
		want := first + opts.Gap*float64(k)
		p.Rungs = append(p.Rungs, want)
		on, err := l.rung(ctx, want, propose.Pin{}, rungPool)
		if err != nil {
			return Set{}, err
		}
		list = append(list, on...)
		if k < (opts.Rungs+1)/2 {
			hard = len(list)
		}
	}
	// A set is of one make: beside the best of each rung stand the best that
	// share a core and a yarn with the other rungs. As layers only soften, what
	// all share has to serve the hard rungs.
	for _, pin := range l.kin(list[:hard]) {
		for _, want := range p.Rungs {
			on, err := l.rung(ctx, want, pin, kinPool)
			if ctx.Err() != nil {
				return Set{}, ctx.Err()
			}
			if err == nil {
				list = append(list, on...)
			}
		}
	}
	picked, err := l.pick(ctx, list)
	var empty *ladder.Empty
	switch {
	case errors.As(err, &empty):
		return Set{}, fault.Errorf("a set of %d cannot be that wide: no head that can be built comes near %+.1f notches; the nearest are at %+.1f and %+.1f", opts.Rungs, empty.Softness, empty.Below, empty.Above)
	case errors.Is(err, ladder.ErrNone):
		return Set{}, fault.Errorf("the parts on hand do not reach for a set of %d", opts.Rungs)
	case err != nil:
		return Set{}, err
	}
	out := Set{Cost: picked.Cost, Exact: picked.Exact, Items: len(p.Items)}
	var makes []propose.Make
	for k, i := range picked.Pick {
		full, err := f.Consider(list[i].Stack, q)
		if err != nil {
			return Set{}, err
		}
		h := full.Facts.Head
		out.Rungs = append(out.Rungs, Rung{
			Want: p.Rungs[k], Head: full, Stack: full.Stack.String(),
			Softness: h.Softness, MassG: h.MassG, MM: h.DiameterMM, Match: full.Matching(),
		})
		makes = append(makes, propose.Make{Head: full.Head, Heads: opts.Each})
	}
	out.Order, err = f.Order(makes, q)
	return out, err
}

// packShare is how much of a whole pack's price counts against sound: what is
// left over of a pack is not lost. evenNotches is how much more a notch off counts
// in a set, where uneven rungs show, than in a single head. Common practice, no
// source.
const packShare, evenNotches = 0.2, 3

// makeWorth is what one core and one yarn throughout a set are worth, in points
// a rung: the heads feel alike, and what is learnt on one serves for the next.
// Common practice, no source.
const makeWorth = 1.5

func trendOr(t ladder.Trend) ladder.Trend {
	if t == "" {
		return ladder.Grow
	}
	return t
}

// laddering makes a ladder.Problem of candidates.
type laddering struct {
	f     *propose.Finder
	q     propose.Request
	p     *ladder.Problem
	parts map[string]int
	top   []float64 // by rung, the score of the best but for softness and cost
}

// kin lists the pairs of core and yarn that most of the candidates have, for
// the rungs to share.
func (l *laddering) kin(list []propose.Candidate) []propose.Pin {
	const most = 2 // of cores, and of yarns
	often := func(of func(propose.Candidate) string) []string {
		count := map[string]int{}
		for _, c := range list {
			if id := of(c); id != "" {
				count[id]++
			}
		}
		ids := slices.SortedFunc(maps.Keys(count), func(a, b string) int {
			return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b))
		})
		return ids[:min(most, len(ids))]
	}
	var pins []propose.Pin
	for _, core := range often(func(c propose.Candidate) string { return c.Stack.Core.ID }) {
		for _, yarn := range often(func(c propose.Candidate) string {
			if c.Stack.Wrap == nil {
				return ""
			}
			return c.Stack.Wrap.Yarn.ID
		}) {
			pins = append(pins, propose.Pin{Core: core, Yarn: yarn})
		}
	}
	return pins
}

// rung adds the heads that are best for one rung, of the pinned core and yarn
// when there is a pin.
func (l *laddering) rung(ctx context.Context, want float64, pin propose.Pin, most int) ([]propose.Candidate, error) {
	r := l.q
	r.Facts.Want.Softness = want
	r.Known = maps.Clone(r.Known)
	if r.Known == nil {
		r.Known = rules.Known{}
	}
	r.Known[facts.WantSoftness] = true // medium as well, where that is the rung
	if pin.Core != "" {
		r.Pin.Core, r.Pin.Yarn = pin.Core, pin.Yarn
	}
	look := rungHeads
	if pin.Core != "" {
		look = kinHeads
	}
	if r.Most == 0 || r.Most > look {
		r.Most = look
	}
	s := search.New(l.f, r)
	g := search.NewGoal(most, math.Inf(-1))
	s.Run(ctx, g)
	list := s.Heads(g)
	if len(list) == 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return nil, search.Why(ctx, l.f, r)
	}
	j := l.f.Judging(r)
	base := func(c *propose.Candidate) float64 {
		h := &c.Facts.Head
		return c.Score + j.Weights.Softness*math.Abs(h.Softness-want) + j.Weights.Cost*2*h.CostCents/100
	}
	if pin.Core == "" {
		l.top = append(l.top, math.Inf(-1))
		for i := range list {
			l.top[len(l.top)-1] = max(l.top[len(l.top)-1], base(&list[i]))
		}
	}
	top := l.top[slices.Index(l.p.Rungs, want)]
	for i := range list {
		c := &list[i]
		h := &c.Facts.Head
		it := ladder.Item{
			ID: c.Stack.String(), Softness: h.Softness, MassG: h.MassG, DiameterMM: h.DiameterMM,
			Penalty: max(0, top-base(c)),
		}
		l.uses(&it, *c)
		l.p.Items = append(l.p.Items, it)
	}
	return list, nil
}

// pick chooses the set: the best of all, or the best of one core and one yarn
// throughout where it costs no more than that is worth.
func (l *laddering) pick(ctx context.Context, list []propose.Candidate) (ladder.Set, error) {
	best, err := l.p.Solve(ctx)
	if err != nil {
		return best, err
	}
	limit := best.Cost + makeWorth*float64(len(l.p.Rungs))
	type parts struct{ core, yarn string }
	var pairs []parts
	of := map[parts][]int{}
	for i, c := range list {
		x := parts{core: c.Stack.Core.ID}
		if c.Stack.Wrap != nil {
			x.yarn = c.Stack.Wrap.Yarn.ID
		}
		if of[x] == nil {
			pairs = append(pairs, x)
		}
		of[x] = append(of[x], i)
	}
	for _, pair := range pairs {
		one, at := *l.p, of[pair]
		one.Items = nil
		for _, i := range at {
			one.Items = append(one.Items, l.p.Items[i])
		}
		x, err := one.Solve(ctx)
		if err != nil || x.Cost > limit {
			continue
		}
		for k := range x.Pick {
			x.Pick[k] = at[x.Pick[k]]
		}
		best, limit = x, x.Cost
	}
	return best, ctx.Err()
}

// uses adds what the heads of one rung take: pieces, tenths of a millimetre of
// tubing, or milligrams of yarn.
func (l *laddering) uses(it *ladder.Item, c propose.Candidate) {
	heads := float64(l.q.Count())
	lim := &l.f.Catalogue().Limits
	add := func(id string, unit, amount, pack float64, price measure.Money) {
		at, ok := l.parts[id]
		if !ok {
			at = len(l.p.Parts)
			l.parts[id] = at
			q := ladder.Part{ID: id, Pack: int64(pack * unit), Price: int64(price)}
			if l.q.Bin != nil {
				q.Have = int64(min(l.q.Bin.OnHand(id)*unit, 1e15))
				if !slices.Contains(l.q.Bin.Buy, id) {
					q.Pack = 0
				}
			}
			l.p.Parts = append(l.p.Parts, q)
		}
		n := int64(math.Ceil(amount*heads*unit - 1e-6))
		if i := slices.IndexFunc(it.Uses, func(u ladder.Use) bool { return u.Part == at }); i >= 0 {
			it.Uses[i].Amount += n
			return
		}
		it.Uses = append(it.Uses, ladder.Use{Part: at, Amount: n})
	}
	s := &c.Stack
	add(s.Core.ID, 1, 1, float64(s.Core.Pack), s.Core.Price)
	for i, sl := range s.Slices {
		add(sl.Tube.ID, 1e4, c.Layers[i].CutMM/1000+lim.KerfM.Value, float64(sl.Tube.Pack), sl.Tube.Price)
	}
	if w := s.Wrap; w != nil {
		grams := w.Wind(measure.Length(c.Facts.Head.DiameterMM-2*c.Facts.Head.YarnMM)*measure.Millimetre, s.Core.Diameter, lim).Mass
		add(w.Yarn.ID, 1e6, float64(grams), float64(w.Yarn.Pack), w.Yarn.Price)
	}
	if sh := s.Shaft; sh != nil {
		add(sh.ID, 1, 1, float64(sh.Pack), sh.Price)
	}
}
