package search

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"mallow/rules/propose/search/girth"
)

// task is a piece of the search.
type task struct {
	n    *node
	what what
	top  float64    // no head that it leads to scores higher
	hope girth.Hope // where those are that may be of use
	rank float64    // what is ranked highest is done first

	core, class int // of a probe; the class may be anyYarn
}

const anyYarn = -1

// what is to be done on a node.
type what int8

const (
	probe what = iota // one core and yarn
	heads             // every core and yarn
	grow              // the nodes above it
)

// compare orders tasks by rank, and then by parts.
func (a *task) compare(b *task) int {
	if c := cmp.Compare(b.rank, a.rank); c != 0 {
		return c
	}
	if c := a.n.compare(b.n); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.core, b.core), cmp.Compare(a.class, b.class))
}

// queue is what is still to be done.
type queue struct{ tasks []task }

func (q *queue) Len() int           { return len(q.tasks) }
func (q *queue) Less(i, j int) bool { return q.tasks[i].compare(&q.tasks[j]) < 0 }
func (q *queue) Swap(i, j int)      { q.tasks[i], q.tasks[j] = q.tasks[j], q.tasks[i] }
func (q *queue) Push(x any)         { q.tasks = append(q.tasks, x.(task)) }
func (q *queue) Pop() any {
	last := len(q.tasks) - 1
	t := q.tasks[last]
	q.tasks = q.tasks[:last]
	return t
}

func (q *queue) add(t task) { heap.Push(q, t) }

// forget drops the probes about a head that is no longer the best.
func (q *queue) forget() {
	q.tasks = slices.DeleteFunc(q.tasks, func(t task) bool { return t.what == probe })
	heap.Init(q)
}

// next takes out the first few tasks that may lead to a head that scores at least
// bar.
func (q *queue) next(most int, bar float64) (lot []task) {
	for q.Len() > 0 && len(lot) < most {
		if t := heap.Pop(q).(task); t.top >= bar {
			lot = append(lot, t)
		}
	}
	return lot
}

// yarnNotches and layerNotches are roughly what yarn, and a slice and yarn, add to
// the softness of a node; offPoints is what a notch off counts, and growPoints
// what it counts that nothing above a node has been looked at. They settle only
// what is done first.
const (
	yarnNotches, layerNotches = 1, 4
	offPoints, growPoints     = 0.5, 2
)

// tasks are what is to be done on a node, ranked without a bound.
func (s *Search) tasks(n *node) (list []task) {
	off := func(gain float64) float64 { return offPoints * math.Abs(n.least+gain-s.base.Want.Softness) }
	pin := s.q.Pin.Tubing
	if pin == nil || n.depth == len(pin) {
		list = append(list, task{n: n, what: heads, rank: -off(yarnNotches)})
	}
	if n.depth < s.most() {
		list = append(list, task{n: n, what: grow, rank: -off(layerNotches) - growPoints})
	}
	return list
}
