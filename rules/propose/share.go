package propose

import (
	"context"
	"math"
	"slices"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
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
	f      *Finder
	bin    *Bin
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

// shareNodes bounds the exact search.
const shareNodes = 300_000

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
	full := make([]Candidate, len(s.wishes))
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
func (s *sharing) order(p pick) (Order, error) {
	var makes []Make
	for i, w := range s.wishes {
		makes = append(makes, Make{Head: w.options[p[i]].head, Heads: w.heads * len(w.who), Player: &w.q.Facts.Player})
	}
	return s.f.Order(makes, Request{Bin: s.bin})
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
	if s.bin == nil {
		return 0
	}
	have := func(id string) bool { return s.bin.amount(id) > 0 }
	cents := 0.0
	st := &o.stack
	if have(st.Core.ID) {
		cents += centsPer(st.Core.Price, float64(st.Core.Pack))
	}
	if st.Shaft != nil && have(st.Shaft.ID) {
		cents += shaftCents(st.Shaft)
	}
	for i := range o.head.Layers {
		l := &o.head.Layers[i]
		if t := &l.Slice.Tube; have(t.ID) {
			cents += sliceCents(centsPer(t.Price, float64(t.Pack)), l.Cut, &s.f.cat.Limits)
		}
	}
	if st.Wrap != nil && have(st.Wrap.Yarn.ID) {
		cents += centsPer(st.Wrap.Yarn.Price, float64(st.Wrap.Yarn.Pack)) * float64(o.head.YarnMass)
	}
	return w.j.w.cost * 2 * cents / 100
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
			if _, tube := s.f.cat.Tube(id); tube {
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
		for _, kit := range kits {
			if ctx.Err() != nil {
				return
			}
			q := w.q
			q.Bin = &Bin{}
			for _, id := range kit {
				q.Bin.Items = append(q.Bin.Items, Item{id, math.Inf(1)})
			}
			run := s.f.search(q)
			g := newGoal(3, math.Inf(-1))
			run.run(ctx, g)
			for _, c := range run.heads(g) {
				w.add(c.Stack)
			}
		}
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

// thrifty finds a cheap head for a wish, whatever it scores else.
func (s *sharing) thrifty(ctx context.Context, w *group) (option, bool) {
	run := s.f.search(w.q)
	limit := w.best.Facts.Head.CostCents * 0.6
	g := newGoal(1, math.Inf(-1))
	g.clip = func(lo, hi *facts.Head) bool {
		hi.CostCents = min(hi.CostCents, limit)
		return lo.CostCents <= limit
	}
	g.is = func(h *facts.Head) bool { return h.CostCents <= limit }
	run.run(ctx, g)
	list := run.heads(g)
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
	base := s.f.settle(w.q)
	weights := s.f.book.Weights(base, s.f.told(base, w.q.Known))
	for i := range w.options {
		o := &w.options[i]
		o.uses, o.bonus = nil, s.spared(w, o)
		for _, t := range Takes(s.f.cat, s.bin, Batch{o.head, w.heads * len(w.who), base.Player, weights["spares"]}) {
			o.uses = append(o.uses, use{s.part(&t), t.Amount})
		}
	}
	return weights["packs"]
}

// part returns the index of a part.
func (s *sharing) part(t *Take) int {
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

// improve moves one wish at a time to the option that lowers a cost most, until
// none does. The cost is of the packs, in cents, and of the points lost.
func (s *sharing) improve(p pick, cost func(packs, lost float64) float64) (pick, float64) {
	p = slices.Clone(p)
	amounts := s.amounts(p)
	packs, lost := s.packs(amounts), s.lost(p)
	now := cost(packs, lost)
	// swap exchanges one wish's parts for those of another option, and returns
	// what the packs cost then.
	swap := func(from, to *option) float64 {
		was, is := 0.0, 0.0
		for _, u := range from.uses {
			was += s.parts[u.part].cents(amounts[u.part])
			amounts[u.part] -= u.amount
			is += s.parts[u.part].cents(amounts[u.part])
		}
		for _, u := range to.uses {
			was += s.parts[u.part].cents(amounts[u.part])
			amounts[u.part] += u.amount
			is += s.parts[u.part].cents(amounts[u.part])
		}
		return packs + is - was
	}
	for s.ctx.Err() == nil {
		at, to, least := -1, 0, now-1e-9
		for i, w := range s.wishes {
			here := &w.options[p[i]]
			for o := range w.options {
				if o == p[i] {
					continue
				}
				x := cost(swap(here, &w.options[o]), lost+w.loss(o)-w.loss(p[i]))
				swap(&w.options[o], here)
				if x < least {
					at, to, least = i, o, x
				}
			}
		}
		if at < 0 {
			break
		}
		w := s.wishes[at]
		packs = swap(&w.options[p[at]], &w.options[to])
		lost += w.loss(to) - w.loss(p[at])
		p[at], now = to, least
	}
	return p, now
}

// seeds are picks to start from: everybody's best, and everybody on one
// option's parts as far as they go.
func (s *sharing) seeds(best pick) []pick {
	list := []pick{best}
	for _, w := range s.wishes[:min(len(s.wishes), 12)] {
		for o := range w.options {
			kit := partsOf(&w.options[o])
			p := slices.Clone(best)
			for i, v := range s.wishes {
				most := -1
				for k := range v.options {
					n := 0
					for _, id := range partsOf(&v.options[k]) {
						if slices.Contains(kit, id) {
							n += 2
						} else {
							n--
						}
					}
					if most < 0 || n > most {
						most, p[i] = n, k
					}
				}
			}
			list = append(list, p)
		}
	}
	return list
}

// least finds the cheapest order, and a lower bound.
func (s *sharing) least(best pick) (pick, measure.Money, measure.Money, error) {
	low, cost := pick(nil), math.Inf(1)
	byPacks := func(packs, lost float64) float64 { return packs + 1e-4*lost }
	var total measure.Money
	try := func(p pick) error {
		order, err := s.order(p)
		if err != nil {
			return err
		}
		if x := float64(order.Total); x < cost {
			low, cost, total = slices.Clone(p), x, order.Total
		}
		return nil
	}
	for _, seed := range s.seeds(best) {
		p, x := s.improve(seed, byPacks)
		if x < cost {
			if err := try(p); err != nil {
				return nil, 0, 0, err
			}
		}
	}
	tails := s.tails(func(w *group, o int) float64 { return s.shares(&w.options[o]) })
	onHand := s.onHand()
	bound, err := s.descend(func(k int, amounts []float64, shares, _ float64) float64 {
		return max(s.packs(amounts), shares+tails[k]-onHand)
	}, func(p pick) (float64, error) {
		err := try(p)
		return cost, err
	}, &cost)
	return low, total, measure.Money(math.Ceil(min(bound, cost) - 1e-6)), err
}

// tails sums, from wish k on, the least that a measure comes to.
func (s *sharing) tails(of func(w *group, o int) float64) []float64 {
	t := make([]float64, len(s.wishes)+1)
	for k := len(s.wishes) - 1; k >= 0; k-- {
		least := math.Inf(1)
		for o := range s.wishes[k].options {
			least = min(least, of(s.wishes[k], o))
		}
		t[k] = t[k+1] + least
	}
	return t
}

// cheapest finds the pick within the budget that counts fewest points, from
// one that is within it, and a lower bound of the points.
func (s *sharing) cheapest(best, low pick) (pick, float64, error) {
	budget := math.Inf(1)
	if s.budget > 0 {
		budget = float64(s.budget)
	}
	chosen, least := pick(nil), math.Inf(1)
	try := func(p pick) error {
		if s.lost(p)+s.cent*s.packs(s.amounts(p)) >= least-1e-9 {
			return nil
		}
		order, err := s.order(p)
		if err != nil {
			return err
		}
		if x := s.points(p, order.Total); x < least-1e-9 && float64(order.Total) <= budget {
			chosen, least = slices.Clone(p), x
		}
		return nil
	}
	if err := try(low); err != nil {
		return nil, 0, err
	}
	for _, seed := range append(s.seeds(best), low) {
		// A cent over the budget counts for much, so that the way leads into it.
		p, _ := s.improve(seed, func(packs, lost float64) float64 { return lost + s.cent*packs + max(0, packs-budget) })
		if err := try(p); err != nil {
			return nil, 0, err
		}
	}
	// For any worth w of a cent, not below what it counts, no pick within the
	// budget has fewer points than Σ min(loss + w·share) − w·(on hand) −
	// (w − cent)·budget.
	onHand := s.onHand()
	fixed := func(w float64) float64 {
		if w == s.cent {
			return w * onHand
		}
		return w*onHand + (w-s.cent)*budget
	}
	worth, root := s.cent, math.Inf(-1)
	for w := s.cent; w < 10; w = w*1.2 + 1e-6 {
		x := s.tails(func(v *group, o int) float64 { return v.loss(o) + w*s.shares(&v.options[o]) })[0] - fixed(w)
		if x > root {
			worth, root = w, x
		}
	}
	tails := s.tails(func(v *group, o int) float64 { return v.loss(o) + worth*s.shares(&v.options[o]) })
	losses := s.tails(func(v *group, o int) float64 { return v.loss(o) })
	bound, err := s.descend(func(k int, amounts []float64, shares, lost float64) float64 {
		packs := s.packs(amounts)
		if packs > budget {
			return math.Inf(1)
		}
		return max(lost+s.cent*packs+losses[k], lost+worth*shares+tails[k]-fixed(worth))
	}, func(p pick) (float64, error) {
		err := try(p)
		return least, err
	}, &least)
	return chosen, max(root, bound), err
}

// descend is a branch and bound over the wishes. bound is a lower bound for
// all picks that begin as the amounts, shares and loss so far; leaf tries a
// pick and returns the best value so far. It returns a lower bound over all
// picks: the best value itself when the search came to its end.
func (s *sharing) descend(bound func(k int, amounts []float64, shares, lost float64) float64, leaf func(pick) (float64, error), best *float64) (float64, error) {
	s.nodes = 0
	p := make(pick, len(s.wishes))
	amounts := make([]float64, len(s.parts))
	open := math.Inf(1) // least bound of what was not looked at
	var down func(k int, shares, lost float64) error
	down = func(k int, shares, lost float64) error {
		b := bound(k, amounts, shares, lost)
		if b >= *best-1e-9 {
			return nil
		}
		if s.nodes++; s.nodes > shareNodes || s.nodes%1024 == 0 && s.ctx.Err() != nil {
			s.nodes = shareNodes
			open = min(open, b)
			return nil
		}
		if k == len(s.wishes) {
			_, err := leaf(p)
			return err
		}
		w := s.wishes[k]
		for o := range w.options {
			opt := &w.options[o]
			p[k] = o
			for _, u := range opt.uses {
				amounts[u.part] += u.amount
			}
			err := down(k+1, shares+s.shares(opt), lost+w.loss(o))
			for _, u := range opt.uses {
				amounts[u.part] -= u.amount
			}
			if err != nil {
				return err
			}
		}
		return nil
	}
	err := down(0, 0, 0)
	return min(open, *best), err
}
