package search

import (
	"slices"

	"mallow/rules/propose"
	"mallow/rules/propose/search/kit"
	"mallow/rules/propose/search/shafts"
)

// doubt is how many points the score by reduced strokes may be off that by full
// ones; the tests measure it.
const doubt = 0.15

// mostFinal is how many heads are tried on every shaft and with more or less
// yarn before the best is named, and mostFull how many are computed in full at
// most.
const mostFinal, mostFull = 6, 24

// first returns the best head by the full stroke, and what the search had found it
// as. The best by the reduced stroke are put on every shaft, and wound with more
// and less yarn; then they are computed in full one by one, until what is left
// can't be better, as far as the reduced stroke can be trusted.
func (s *Search) first() (best propose.Candidate, from *found, err error) {
	list := slices.Clone(s.seen)
	w := s.worker()
	for i := range list[:min(mostFinal, len(list))] {
		w.shafts(&list[i])
		w.turns(&list[i])
	}
	slices.SortStableFunc(list, func(a, b found) int { return a.compare(&b) })
	for i := range list[:min(mostFull, len(list))] {
		x := &list[i]
		if i > 0 && x.score+doubt <= best.Score {
			break
		}
		full, err := s.f.Consider(s.stack(x), s.q)
		if err != nil {
			return best, from, err
		}
		if from == nil || full.Score > best.Score {
			best, from = full, x
		}
	}
	return best, from, nil
}

// shafts puts a head on the shaft that suits it best.
func (w *worker) shafts(x *found) {
	own := &x.node.root.Cores[x.core]
	for i := range w.Kit.Shafts {
		sh := &w.Kit.Shafts[i]
		if own.Shaft == nil || sh.ID == own.Shaft.ID || !shafts.Takes(own.Core, sh) {
			continue
		}
		c := kit.Core{Core: own.Core, Material: own.Material, Shaft: sh}
		kit.Bare(w.f, &c, &w.j.Base, w.q.Bin)
		c.Reduce()
		w.instead(x, &c, w.Wraps[x.wrap])
	}
}

// turns winds a head with as many turns as suit it best: the search looks at a few
// wraps of each yarn alone. It climbs by ever smaller steps, so that a far better
// wrap beyond a worse one is missed.
func (w *worker) turns(x *found) {
	o := w.Wraps[x.wrap]
	if o.None {
		return
	}
	for _, step := range []int{24, 12, 6, 3} {
		for _, by := range []int{step, -step} {
			for o.Wrap.Turns = x.turns + by; o.Wrap.Turns >= propose.LeastTurns && o.Wrap.Turns <= propose.MostTurns; o.Wrap.Turns += by {
				if !w.instead(x, x.on(), o) {
					break
				}
			}
		}
	}
}

// instead makes a head one of another core and shaft and another wrap, and reports
// true, if that is better.
func (w *worker) instead(x *found, c *kit.Core, o kit.Wrap) bool {
	wd := w.wound[x.wrap]
	if !o.None {
		wd = w.f.Wind(&o.Wrap, x.node.bed.Diameter, x.node.root.Diameter)
	}
	if float64(wd.Mass) > o.Most {
		return false
	}
	w.strike(x.node, c, &o, &wd)
	score, refused := w.judge(x.node)
	if refused != nil || score <= x.score+1e-9 || w.goal.Is != nil && !w.goal.Is(&w.at.Head) {
		return false
	}
	x.score, x.facts, x.turns, x.shaft = score, w.at.Head, wd.Turns, c
	return true
}
