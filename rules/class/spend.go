package class

import (
	"math"
	"slices"

	"mallow/knowledge/measure"
)

// shareNodes bounds the exact search.
const shareNodes = 300_000

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
