package search

import (
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/propose"
	"mallow/rules/propose/search/kit"
)

// spread returns heads of every softness and core family that the kit gives,
// so that a pool shows where other answers would lead: the best perBand of
// each grade and family, out of the plain heads that the search began with.
func (s *Search) spread() []propose.Candidate {
	const perBand = 2
	slices.SortFunc(s.plain, func(a, b found) int { return a.compare(&b) })
	type band struct{ grade, family string }
	count := map[band]int{}
	var list []propose.Candidate
	for i := range s.plain {
		h := &s.plain[i].facts
		b := band{strike.Grade(h.Softness, s.j.Sound.Scale), h.Core}
		if count[b]++; count[b] <= perBand {
			list = append(list, s.sketch(&s.plain[i]))
		}
	}
	return list
}

// begin looks at the plain heads on a root: the core bare and under one to three
// slices of one wall, each of the tubing that stretches about as it should, with
// no yarn and with a plain wrap. They set the bar, and show where to look on.
func (w *worker) begin(t task) {
	const goodStretch, mostPlain = 1.35, 3
	latex, chemicals := w.base.Player.LatexOK, w.base.Player.RubberOK
	pick := func(over, wall float64) int {
		best, least := -1, math.Inf(1)
		for i := range w.Tubes {
			sl := &w.Tubes[i].Slice
			if float64(sl.Tube.Wall) != wall || sl.Rubber.Latex && !latex || sl.Rubber.Chemicals && !chemicals {
				continue
			}
			if off := math.Abs(over/float64(sl.Tube.Bore) - goodStretch); off < least-1e-9 {
				best, least = i, off
			}
		}
		return best
	}
	core := max(0, slices.IndexFunc(t.n.root.Cores, func(c kit.Core) bool { return c.Facts.Drilled })) // fewer rules stand in its way
	w.plainly(t.n, core)
	for _, wall := range w.Walls {
		n := t.n
		for range min(mostPlain, w.most()) {
			tube := pick(float64(n.bed.Diameter), wall)
			if tube < 0 {
				break
			}
			if n = w.child(n, tube); n == nil {
				break
			}
			w.plainly(n, core)
		}
	}
}

// plainly looks at the plain heads of a node and core.
func (w *worker) plainly(n *node, core int) {
	if pin := w.q.Pin.Tubing; pin != nil && n.depth != len(pin) {
		return
	}
	for _, wrap := range w.Usual {
		x, ok := w.weigh(n, core, wrap)
		if !ok {
			continue
		}
		w.plain = append(w.plain, x)
		if lo, _ := w.clip(); lo != nil && (w.goal.Is == nil || w.goal.Is(&x.facts)) {
			w.found = append(w.found, x)
		}
	}
}

// weigh computes and scores a head, whatever it is worth; ok is false when a rule,
// or the yarn on hand, refuses it.
func (w *worker) weigh(n *node, core, wrap int) (x found, ok bool) {
	c, o, wd := &n.root.Cores[core], &w.Wraps[wrap], w.wind(n, wrap)
	if float64(wd.Mass) > o.Most {
		return x, false
	}
	w.tried++
	w.strike(n, c, o, wd)
	score, refused := w.judge(n)
	if refused != nil {
		return x, false
	}
	return found{node: n, core: core, wrap: wrap, turns: wd.Turns, score: score, facts: w.at.Head}, true
}

// strike computes all the facts of a head, into w.at.
func (w *worker) strike(n *node, c *kit.Core, o *kit.Wrap, wd *head.Wound) {
	x := &w.at.Head
	w.describe(x, n, c, o, wd)
	w.setRubber(n)
	w.put(n, &c.Body, c.Struck, yarnOf(o, wd))
	w.j.Sound.FillMF(x, w.j.Sound.Even(&w.body))
	w.j.Sound.FillNotes(x, &w.body)
	w.j.Sound.Fill(x, w.j.Sound.All(&w.body))
	w.j.FillBright(x, &w.body)
	x.InertiaGM2 = w.inertia(n, c, wd)
}
