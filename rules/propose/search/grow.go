package search

import (
	"math"

	"mallow/rules/propose/search/effort"
	"mallow/rules/propose/search/girth"
)

// grow goes on to the nodes above a node when there is hope. What has been fitted
// is kept for the next run of the search.
func (w *worker) grow(t task) {
	if effort.Closely(w.q.Most) {
		growWhere(w, t.n, t.hope)
		return
	}
	if t.top = topAbove(w, t.n); t.top < w.bar() {
		return
	}
	for tube := range w.Tubes {
		if x := w.child(t.n, tube); x != nil {
			w.open(task{n: x, hope: t.hope})
		}
	}
}

// growWhere is grow as far as where those heads are that may be of use.
func growWhere(w *worker, n *node, some girth.Hope) {
	next := n.depth + 1
	hope := hopeAbove(w, n, next+1, some)
	hope[next] = some[next] // fitting the slices tells more of their own heads
	if hope.Above(n.depth) == 0 || !w.takes(n) {
		return
	}
	above := hope.Above(next)
	for _, s := range w.piles.Slices(girth.At(n.bed.Diameter)) {
		if !hope[next].Between(s.From, s.To) && above.From(s.From) == 0 {
			continue
		}
		if x := n.with(s.Tube, w.fit); x != nil {
			at := girth.At(x.bed.Diameter)
			var here girth.Set
			if here = hope[next] & girth.One(at); here != 0 {
				here = w.left(x, next, here)
			}
			t := task{n: x}
			for layers := next + 1; layers <= w.most(); layers++ {
				t.hope[layers] = hope[layers].From(at)
			}
			if t.hope[next] = here; here != 0 || t.hope.Above(next) != 0 {
				w.open(t)
			}
		}
	}
}

// topAbove is the most that a head above a node may score: with any number of
// layers more, and then with each.
func topAbove(w *worker, n *node) float64 {
	if !w.takes(n) {
		return math.Inf(-1)
	}
	w.setRubber(n)
	w.forget()
	w.above(n, n.depth+1, w.most())
	any := w.top(w.likes(n, w.most()), n.least, math.Inf(1), math.Inf(1))
	if any < w.bar() {
		return any
	}
	top := math.Inf(-1)
	for layers := n.depth + 1; layers <= w.most(); layers++ {
		most := w.softestAbove(n, layers)
		w.above(n, layers, layers)
		top = max(top, w.top(w.likes(n, layers), n.least, most, math.Inf(1)))
	}
	return min(any, top)
}

// hopeAbove returns what hope is left of some above a node, of heads with so many layers at least.
func hopeAbove(w *worker, n *node, least int, some girth.Hope) (left girth.Hope) {
	for layers := least; layers <= w.most(); layers++ {
		left[layers] = w.left(n, layers, some[layers])
	}
	return left
}

// open adds what is to be done on a node, where that may lead to a head of use.
func (w *worker) open(t task) {
	n, hope := t.n, t.hope
	w.measure(n)
	for _, t := range w.tasks(n) {
		w.forget()
		layers := n.depth
		switch {
		case t.what == heads && hope[n.depth] == 0:
			continue
		case t.what == heads:
			w.above(n, n.depth, n.depth)
		case hope.Above(n.depth) == 0 || !w.takes(n):
			continue
		default:
			w.above(n, n.depth+1, w.most())
			layers = w.most()
		}
		t.hope = hope
		t.top = w.top(w.likes(n, layers), n.least, math.Inf(1), math.Inf(1))
		if t.rank += t.top; t.top >= w.bar() {
			w.next = append(w.next, t)
		}
	}
}

// child returns the node of one slice more, nil when a rule or the tubing on hand
// refuses it.
func (w *worker) child(n *node, tube int) *node {
	x := n.with(tube, w.fit)
	if x != nil {
		w.measure(x)
	}
	return x
}

// with is child before it is known how hard its heads can be.
func (n *node) with(tube int, fit func(n *node, tube int) *node) *node {
	x, ok := n.above[tube]
	if ok {
		return x
	}
	if n.above == nil {
		n.above = map[int]*node{}
	}
	x = fit(n, tube)
	n.above[tube] = x
	return x
}
