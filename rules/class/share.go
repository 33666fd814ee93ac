package class

import (
	"cmp"
	"context"
	"math"
	"slices"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// sharing chooses one option for each wish, so that what all of them take
// together is within a budget and the class loses least.
//
// An order's cost is not a sum: packs are shared, and slices come out of the
// same lengths. For the search, a part costs its price for each pack or part
// of one that the amounts alone fill; that never exceeds the order's cost, as
// cutting wastes and spares are rounded up. What the search finds is then
// ordered in earnest.
type sharing struct {
	f      *propose.Finder
	bin    *stock.Bin
	wishes []*group
	budget measure.Money

	parts []shared
	cent  float64 // points that a cent counts
	nodes int
	ctx   context.Context
}

// shared is a part as the search counts it.
type shared struct {
	id    string
	price float64 // cents a pack
	pack  float64 // amount in one
	have  float64 // amount on hand
}

// use is an amount of a part.
type use struct {
	part   int
	amount float64
}

// pick is an option for each wish.
type pick []int

// mostKits and leastKits bound the sets of parts that each wish is tried on,
// mostTries how often that is for all wishes where it leaves more.
const mostKits, leastKits, mostTries = 10, 3, 200

// settle chooses, and writes the outcome into c.
func (s *sharing) settle(ctx context.Context, c *Class) error {
	s.ctx = ctx
	best := make(pick, len(s.wishes))
	order, err := s.order(best)
	if err != nil {
		return err
	}
	c.Best, c.Order, c.Within = order.Total, order, true
	full := make([]propose.Candidate, len(s.wishes))
	chosen := best
	s.widen(ctx)
	for refused := true; refused; {
		if chosen, err = s.choose(best, c); err != nil {
			return err
		}
		// By the full stroke, a rule may refuse what the reduced one let by.
		refused = false
		for i, w := range s.wishes {
			if chosen[i] == 0 {
				full[i] = w.best
				continue
			}
			if full[i], err = s.f.Consider(w.options[chosen[i]].stack, w.q); err != nil {
				return err
			}
			if full[i].Refused() != nil {
				w.options = slices.Delete(w.options, chosen[i], chosen[i]+1)
				refused = true
			}
		}
	}
	if c.Order, err = s.order(chosen); err != nil {
		return err
	}
	for i, w := range s.wishes {
		c.Lost += float64(len(w.who)) * (w.options[0].score - w.options[chosen[i]].score)
	}
	c.Points = s.points(chosen, c.Order.Total)
	c.PointsBound = min(c.PointsBound, c.Points)
	for i, w := range s.wishes {
		o := &w.options[chosen[i]]
		for _, k := range w.who {
			p := &c.Students[k]
			p.Head, p.Stack, p.Score = full[i], o.text, full[i].Score
			if chosen[i] != 0 {
				p.Wanted, p.Lost = w.options[0].text, w.options[0].score-o.score
			}
		}
	}
	return nil
}

// choose picks within the budget, or the cheapest where that can't be.
func (s *sharing) choose(best pick, c *Class) (pick, error) {
	s.parts, s.cent = nil, 0
	students := 0
	for _, w := range s.wishes {
		s.cent += s.count(w) / 100 * float64(len(w.who))
		students += len(w.who)
	}
	s.cent /= float64(students)
	start := best
	c.Within, c.Least, c.LeastBound = true, 0, 0
	if s.budget > 0 {
		low, least, bound, err := s.least(best)
		if err != nil {
			return nil, err
		}
		if c.Within = least <= s.budget; !c.Within {
			c.Least, c.LeastBound = least, bound
			return low, nil
		}
		start = low
	}
	chosen, bound, err := s.cheapest(best, start)
	c.PointsBound = bound
	return chosen, err
}

// points is what a pick counts: lower is better.
func (s *sharing) points(p pick, total measure.Money) float64 {
	return s.lost(p) + s.cent*float64(total)
}

// order orders a pick in earnest.
func (s *sharing) order(p pick) (stock.Order, error) {
	var makes []propose.Make
	for i, w := range s.wishes {
		makes = append(makes, propose.Make{Head: w.options[p[i]].head, Heads: w.heads * len(w.who), For: &w.q})
	}
	return s.f.Order(makes, propose.Request{Bin: s.bin})
}

// lost is the points that a pick costs the class, less what parts on hand
// spare it.
func (s *sharing) lost(p pick) float64 {
	sum := 0.0
	for i, w := range s.wishes {
		sum += w.loss(p[i])
	}
	return sum
}

func (w *group) loss(option int) float64 {
	best, o := &w.options[0], &w.options[option]
	return float64(len(w.who)) * (best.score + best.bonus - o.score - o.bonus)
}

// spared is what the cost of a head's parts of which there is some on hand
// takes off its score.
func (s *sharing) spared(w *group, o *option) float64 {
	if s.bin == nil || w.q.Bin != nil { // the score has it already
		return 0
	}
	have := func(id string) bool { return s.bin.OnHand(id) > 0 }
	cents := 0.0
	st := &o.stack
	if have(st.Core.ID) {
		cents += stock.CentsPer(st.Core.Price, float64(st.Core.Pack))
	}
	if st.Shaft != nil && have(st.Shaft.ID) {
		cents += stock.ShaftCents(st.Shaft)
	}
	for i := range o.head.Layers {
		l := &o.head.Layers[i]
		if t := &l.Slice.Tube; have(t.ID) {
			cents += stock.SliceCents(stock.CentsPer(t.Price, float64(t.Pack)), l.Cut, &s.f.Catalogue().Limits)
		}
	}
	if st.Wrap != nil && have(st.Wrap.Yarn.ID) {
		cents += stock.CentsPer(st.Wrap.Yarn.Price, float64(st.Wrap.Yarn.Pack)) * float64(o.head.YarnMass)
	}
	return w.j.Weights.Cost * 2 * cents / 100
}

// widen gives each wish the heads that it could have from the parts of another
// wish's best head, from the parts of all of them, and from what is on hand.
func (s *sharing) widen(ctx context.Context) {
	var kits [][]string
	most := min(mostKits, max(leastKits, mostTries/len(s.wishes)))
	add := func(kit []string) {
		slices.Sort(kit)
		kit = slices.Compact(kit)
		if len(kits) < most && !slices.ContainsFunc(kits, func(k []string) bool { return slices.Equal(k, kit) }) {
			kits = append(kits, kit)
		}
	}
	byHeads := slices.Clone(s.wishes)
	slices.SortStableFunc(byHeads, func(a, b *group) int { return b.heads*len(b.who) - a.heads*len(a.who) })
	var all, others, shafts, tubing []string // of the best heads, in the order of byHeads
	for _, w := range byHeads {
		o := &w.options[0]
		all = append(all, partsOf(o)...)
		for _, id := range partsOf(o) {
			if _, tube := s.f.Catalogue().Tube(id); tube {
				tubing = append(tubing, id)
			} else {
				others = append(others, id)
			}
		}
		if sh := o.stack.Shaft; sh != nil {
			shafts = append(shafts, sh.ID)
		}
	}
	if s.bin != nil {
		var onHand []string
		for _, it := range s.bin.Items {
			onHand = append(onHand, it.Part)
		}
		add(slices.Concat(onHand, shafts))
		add(slices.Concat(onHand, others)) // tubing is the dearest to open
	}
	add(all)
	// One tubing for as many as can use it.
	for i, id := range tubing {
		if !slices.Contains(tubing[:i], id) {
			add(append(slices.Clone(others), id))
		}
	}
	for _, w := range byHeads {
		add(partsOf(&w.options[0]))
	}
	// What is cheapest by the piece is seldom what is cheapest by the pack,
	// but it is where to look.
	for _, w := range byHeads[:min(2, len(byHeads))] {
		if ctx.Err() != nil {
			return
		}
		if o, ok := s.thrifty(ctx, w); ok {
			add(partsOf(&o))
		}
	}
	for _, w := range s.wishes {
		q := w.q
		q.Bin = cmp.Or(q.Bin, s.bin)
		sold := s.f.Sold(q)
		for _, kit := range kits {
			if ctx.Err() != nil {
				return
			}
			q.Bin = &stock.Bin{}
			for _, id := range kit {
				if sold(id) {
					q.Bin.Items = append(q.Bin.Items, stock.Item{Part: id, Amount: math.Inf(1)})
				}
			}
			run := search.New(s.f, q)
			g := search.NewGoal(3, math.Inf(-1))
			run.Run(ctx, g)
			for _, c := range run.Heads(g) {
				w.add(c.Stack)
			}
		}
		w.longer(byHeads)
		best := w.options[0]
		slices.SortStableFunc(w.options[1:], func(a, b option) int {
			switch {
			case a.score > b.score:
				return -1
			case a.score < b.score:
				return 1
			}
			return 0
		})
		w.options[0] = best
	}
}

// longer gives a wish each of its heads also on the longest shaft of the same kind
// that the best head of another wish is on: one length to buy does for all.
func (w *group) longer(others []*group) {
	for _, o := range slices.Clone(w.options) {
		long := o.stack.Shaft
		for _, x := range others {
			if sh := x.options[0].stack.Shaft; long != nil && sh != nil && sh.Material == long.Material && sh.Diameter == long.Diameter && sh.Length > long.Length {
				long = sh
			}
		}
		if long != o.stack.Shaft {
			st := o.stack
			st.Shaft = long
			w.add(st)
		}
	}
}

// thrifty finds a cheap head for a wish, whatever it scores else.
func (s *sharing) thrifty(ctx context.Context, w *group) (option, bool) {
	run := search.New(s.f, w.q)
	limit := w.best.Facts.Head.CostCents * 0.6
	g := search.NewGoal(1, math.Inf(-1))
	g.Clip = func(lo, hi *facts.Head) bool {
		hi.CostCents = min(hi.CostCents, limit)
		return lo.CostCents <= limit
	}
	g.Is = func(h *facts.Head) bool { return h.CostCents <= limit }
	run.Run(ctx, g)
	list := run.Heads(g)
	if len(list) == 0 {
		return option{}, false
	}
	n := len(w.options)
	w.add(list[0].Stack)
	return w.options[len(w.options)-1], len(w.options) > n
}

// partsOf lists the parts of an option.
func partsOf(o *option) []string {
	ids := []string{o.stack.Core.ID}
	for _, sl := range o.stack.Slices {
		ids = append(ids, sl.Tube.ID)
	}
	if o.stack.Wrap != nil {
		ids = append(ids, o.stack.Wrap.Yarn.ID)
	}
	if o.stack.Shaft != nil {
		ids = append(ids, o.stack.Shaft.ID)
	}
	return ids
}

// count works out what each option of a wish takes. It returns what a unit of
// currency counts for whoever has the wish.
func (s *sharing) count(w *group) float64 {
	base := s.f.Settle(w.q)
	weights := s.f.Book().Weights(base, s.f.Told(base, w.q.Known))
	for i := range w.options {
		o := &w.options[i]
		o.uses, o.bonus = nil, s.spared(w, o)
		for _, t := range stock.Takes(s.f.Catalogue(), s.bin, stock.Batch{Head: o.head, Heads: w.heads * len(w.who), Player: base.Player, Spares: weights["spares"]}) {
			o.uses = append(o.uses, use{s.part(&t), t.Amount})
		}
	}
	return weights["packs"]
}

// part returns the index of a part.
func (s *sharing) part(t *stock.Take) int {
	at := slices.IndexFunc(s.parts, func(p shared) bool { return p.id == t.Part })
	if at >= 0 {
		return at
	}
	s.parts = append(s.parts, shared{id: t.Part, price: t.Cents, pack: t.Pack, have: t.Have})
	return len(s.parts) - 1
}

// Rounding of sums of amounts must not add a pack.
const hair = 1e-6

// packs is what the amounts cost in whole packs, never more than the order.
func (s *sharing) packs(amounts []float64) float64 {
	sum := 0.0
	for i, a := range amounts {
		sum += s.parts[i].cents(a)
	}
	return sum
}

// cents is what an amount costs in whole packs.
func (p *shared) cents(amount float64) float64 {
	if amount <= p.have {
		return 0
	}
	return p.price * math.Ceil((amount-p.have)/p.pack*(1-hair)-1e-12)
}

// shares is what an option costs when packs could be split and nothing were on
// hand.
func (s *sharing) shares(o *option) float64 {
	sum := 0.0
	for _, u := range o.uses {
		sum += s.parts[u.part].price * u.amount / s.parts[u.part].pack * (1 - hair)
	}
	return sum
}

// onHand is at most what the bin saves, in cents.
func (s *sharing) onHand() float64 {
	sum := 0.0
	for i := range s.parts {
		p := &s.parts[i]
		if p.have > 0 {
			sum += p.price * min(p.have, s.mostOf(i)) / p.pack
		}
	}
	return sum
}

// mostOf is the most of a part that any pick takes.
func (s *sharing) mostOf(part int) float64 {
	sum := 0.0
	for _, w := range s.wishes {
		most := 0.0
		for i := range w.options {
			for _, u := range w.options[i].uses {
				if u.part == part {
					most = max(most, u.amount)
				}
			}
		}
		sum += most
	}
	return sum
}

func (s *sharing) amounts(p pick) []float64 {
	sum := make([]float64, len(s.parts))
	for i, w := range s.wishes {
		for _, u := range w.options[p[i]].uses {
			sum[u.part] += u.amount
		}
	}
	return sum
}
