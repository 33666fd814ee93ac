package search

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/propose"
)

// spread returns heads of every softness and core family that the kit gives,
// so that a pool shows where other answers would lead: the best perBand of
// each grade and family, out of plain heads of up to three layers.
func (s *Search) spread() []propose.Candidate {
	const perBand = 2
	list := s.quickAll(s.plain())
	slices.SortStableFunc(list, func(a, b propose.Candidate) int { return cmp.Compare(b.Score, a.Score) })
	type band struct{ grade, family string }
	count := map[band]int{}
	return slices.DeleteFunc(list, func(c propose.Candidate) bool {
		h := &c.Facts.Head
		b := band{strike.Grade(h.Softness, s.j.Sound.Scale), h.Core}
		count[b]++
		return count[b] > perBand
	})
}

// plain lists stacks without tricks: each core size of the kit, bare and under
// one to three slices of one wall, each of the tubing that stretches about as
// it should, with no yarn and with a plain wrap.
func (s *Search) plain() []head.Stack {
	const goodStretch = 1.35
	var walls []float64
	for i := range s.tubes {
		if w := float64(s.tubes[i].slice.Tube.Wall); !slices.Contains(walls, w) {
			walls = append(walls, w)
		}
	}
	latex, chemicals := s.base.Player.LatexOK, s.base.Player.RubberOK
	pick := func(over, wall float64) *head.Slice {
		var best *head.Slice
		least := math.Inf(1)
		for i := range s.tubes {
			sl := &s.tubes[i].slice
			if float64(sl.Tube.Wall) != wall || sl.Rubber.Latex && !latex || sl.Rubber.Chemicals && !chemicals {
				continue
			}
			if off := math.Abs(over/float64(sl.Tube.Bore) - goodStretch); off < least-1e-9 {
				best, least = sl, off
			}
		}
		return best
	}
	var wraps []*head.Wrap
	for i := range s.wraps {
		o := &s.wraps[i]
		if o.none {
			wraps = append(wraps, nil)
			continue
		}
		w := head.Wrap{Yarn: o.wrap.Yarn, Fibre: o.wrap.Fibre}
		if y, ok := s.f.Catalogue().Yarn(w.Yarn.ID); ok {
			w.Yarn = y
		}
		wraps = append(wraps, &w)
		if len(wraps) > 1 {
			break
		}
	}
	var list []head.Stack
	for _, r := range s.roots {
		c := &r.cores[0]
		for i := range r.cores {
			if r.cores[i].facts.Drilled { // fewer rules stand in its way
				c = &r.cores[i]
				break
			}
		}
		bare := head.Stack{Core: c.core, Material: c.material, Shaft: c.shaft}
		var stacks []head.Stack
		stacks = append(stacks, bare)
		for _, wall := range walls {
			st := bare
			bed := head.Ball(c.core)
			for range 3 {
				sl := pick(float64(bed.Diameter), wall)
				if sl == nil {
					break
				}
				st.Slices = append(slices.Clone(st.Slices), *sl)
				stacks = append(stacks, st)
				l := head.Fit(bed, *sl, &s.f.Catalogue().Limits)
				bed = l.Bed()
			}
		}
		for _, st := range stacks {
			for _, w := range wraps {
				st.Wrap = w
				list = append(list, st)
			}
		}
	}
	return list
}

// quickAll computes stacks as the search does, on all processors, and returns
// those that no rule refuses, in their order.
func (s *Search) quickAll(stacks []head.Stack) []propose.Candidate {
	made := make([]*propose.Candidate, len(stacks))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range max(1, min(runtime.GOMAXPROCS(0), 8)) {
		wait.Go(func() {
			j := s.f.Judging(s.q)
			for {
				i := int(next.Add(1)) - 1
				if i >= len(stacks) {
					return
				}
				if s.mixed(stacks[i]) || stacks[i].Check() != nil {
					continue
				}
				if c, ok := j.Quick(stacks[i]); ok {
					made[i] = &c
				}
			}
		})
	}
	wait.Wait()
	var list []propose.Candidate
	for _, c := range made {
		if c != nil {
			list = append(list, *c)
		}
	}
	return list
}
