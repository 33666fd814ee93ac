package change

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/propose/search"
)

// option is a way to change the head: edits, and after them another yarn, or the
// yarn wound with other turns. Most are never worked out: by their least cost they
// come after what was found.
type option struct {
	from  *search.Edited
	yarn  *search.Edited // whose last edit is the yarn; nil leaves it
	turns int            // zero leaves them
	at    int            // place in the list
	stage stage
	least float64 // cents that it costs at least
	known *priced // once it was struck
}

// stage is what is to be done next with an option.
type stage int

const (
	toBegin  stage = iota // nothing but its edits is known
	toStrike              // its parts are worked out
	toJudge               // one stroke is known
)

// hair is what a sum of cents may be off by the order it was summed in.
const hair = 1e-6

// edited is the stack that the option makes, and how.
func (o *option) edited(x *changing) search.Edited {
	e := *o.from
	var edit search.Edit
	switch w := e.Stack.Wrap; {
	case o.yarn != nil:
		edit, e.Stack.Wrap = last(o.yarn), o.yarn.Stack.Wrap
	case o.turns > 0:
		edit = search.Edit{Do: "swap", What: "yarn", From: fmt.Sprintf("%s*%d", w.Yarn.ID, x.turns(w)), To: fmt.Sprintf("%s*%d", w.Yarn.ID, o.turns)}
		wrap := *w
		wrap.Turns = o.turns
		e.Stack.Wrap = &wrap
	default:
		return e
	}
	e.Edits = append(slices.Clone(e.Edits), edit)
	return e
}

// stackKey tells stacks apart.
type stackKey struct {
	rubber, yarn string
	turns        int
	tensionN     float64
}

// rubberOf names what lies under the yarn, and the shaft.
func rubberOf(st *head.Stack) string {
	bare := *st
	bare.Wrap = nil
	return bare.String()
}

// key is the key of a stack, whose rubber may have been named before.
func (x *changing) key(st *head.Stack, rubber string) stackKey {
	k := stackKey{rubber: rubber}
	if rubber == "" {
		k.rubber = rubberOf(st)
	}
	if w := st.Wrap; w != nil {
		k.yarn, k.turns, k.tensionN = w.Yarn.ID, w.Turns, cmp.Or(w.TensionN, x.f.Hand(&x.j.Base))
	}
	return k
}

// list adds an option of edits alone.
func (x *changing) list(e *search.Edited) { x.add(option{from: e}, rubberOf(&e.Stack)) }

// add lists an option over what lies under its yarn, unless another makes the same.
func (x *changing) add(o option, rubber string) {
	from := &o.from.Stack
	key := x.key(from, rubber)
	switch {
	case o.yarn != nil:
		key = x.key(&o.yarn.Stack, rubber)
	case o.turns > 0:
		key.turns = o.turns
	}
	if key.yarn != "" && key.turns == 0 { // a plain wrap, by what it is wound on
		e := o.edited(x)
		if c, _, ok := x.j.Parts(e.Stack); ok {
			key.turns = c.Head.Turns
		}
	}
	if x.had[key] {
		return
	}
	x.had[key] = true
	o.at = len(x.had)
	edits := len(o.from.Edits)
	if o.yarn != nil || o.turns > 0 {
		edits++
	}
	was := &x.goal.was.Stack
	o.least = workCents*float64(x.work(o.from.Edits, len(from.Slices), key.yarn != "")) + editCents*float64(edits) - hair
	if was.Core.ID != from.Core.ID {
		o.least += coreCents
	}
	if w := was.Wrap; w == nil && key.yarn != "" || w != nil && w.Yarn.ID != key.yarn {
		o.least += yarnCents
	}
	x.open.push(o)
}

// rest works out all that is left, for why there is no change: in the order of the
// list, as if it had never been put off.
func (x *changing) rest() {
	for len(x.open) > 0 {
		switch o := x.open.pop(); o.stage {
		case toBegin:
			x.begin(o)
		case toStrike:
			x.strike(o)
		}
	}
	byPlace := func(a, b *priced) int { return cmp.Compare(a.at, b.at) }
	for _, list := range [][]*priced{x.found, x.kept, x.made} {
		slices.SortFunc(list, byPlace)
	}
	slices.SortFunc(x.short, func(a, b option) int { return cmp.Compare(a.at, b.at) })
	for _, o := range x.short {
		x.strike(o)
	}
	x.open = nil
}

// queue holds options, the one first that costs least as far as is known, of such
// the least known, of those the one that was listed first.
type queue []option

func (q *queue) push(o option) { heap.Push(q, o) }
func (q *queue) pop() option   { return heap.Pop(q).(option) }

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(o any)   { *q = append(*q, o.(option)) }

func (q queue) Less(i, j int) bool {
	a, b := &q[i], &q[j]
	return cmp.Or(cmp.Compare(a.least, b.least), cmp.Compare(a.stage, b.stage), cmp.Compare(a.at, b.at)) < 0
}

func (q *queue) Pop() any {
	n := len(*q) - 1
	o := (*q)[n]
	*q = (*q)[:n]
	return o
}
