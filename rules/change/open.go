package change

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// under is what lies under the yarn of some options. It is fitted once.
type under struct {
	search.Edited
	once    bool             // it is one edit away: another may follow
	yarns   []*search.Edited // that may be wound over it in place of its own
	rubber  string           // names it, and the shaft
	fitted  bool
	allowed bool      // no rule on layers refuses it
	holds   int       // slices, from the inside, that no rule refuses
	head    head.Head // without yarn
	cents   float64   // of the slices and the ball that are new
	likes   float64   // points that the rules on layers give
	wound   map[string]*windings
}

// fit fits the slices, and reports whether the rules on layers allow them.
func (x *changing) fit(u *under) bool {
	if u.fitted {
		return u.allowed
	}
	u.fitted = true
	bare := u.Stack
	bare.Wrap = nil
	if bare.Check() != nil {
		return false
	}
	u.head = x.j.Rubber(bare)
	u.cents = x.newParts(&u.Edited, u.head.Layers)
	c, _, ok := x.j.Over(u.head, nil)
	if u.allowed = ok; !ok {
		return false
	}
	u.holds = len(c.Layers)
	if u.likes = math.Inf(1); !x.beneath {
		return true
	}
	u.likes = 0
	for i := range c.Layers {
		likes, refused := x.j.Likes(&c.Facts, c.Layers[i:i+1])
		if refused != nil {
			u.holds, u.allowed = i, false
			break
		}
		u.likes += likes
	}
	return u.allowed
}

// beneath reports whether the rules on layers read nothing of a head but what lies
// under its yarn, so that they can tell before it is wound.
func beneath(book *rules.Book[facts.Facts]) bool {
	under := []string{
		facts.HeadCore, facts.HeadMaterial, facts.HeadCoreMM, facts.HeadCoreA, facts.HeadDrilled, facts.HeadBoreMM,
		facts.HeadLayers, facts.HeadRubberMM, facts.HeadShaft, facts.HeadShaftMM, facts.HeadShaftLong,
	}
	for _, r := range book.Rules() {
		if r.On != "layer" || r.Do != rules.Refuse && r.Do != rules.Prefer {
			continue
		}
		for _, path := range book.Reads(r) {
			if strings.HasPrefix(path, "head.") && !slices.Contains(under, path) {
				return false
			}
		}
	}
	return true
}

// option is a way to change the head: edits, and after them another yarn, or the
// yarn wound with other turns. Most are never worked out: by their least cost they
// come after what was found.
type option struct {
	on    *under
	yarn  *search.Edited // whose last edit is the yarn; nil leaves it
	turns int            // zero leaves them
	at    int            // place in the list
	work  int            // pieces
	stage stage
	cents float64 // but for being off in softness, at least
	least float64 // cents that it costs at least
	known *priced // once it was struck
}

// stage is what is to be done next with an option.
type stage int

const (
	toUnfold stage = iota // it stands for all that is made on what lies under its yarn
	toBegin               // nothing but its edits is known
	toStrike              // its parts are worked out
	toJudge               // one stroke is known
	toTake                // all is known, by the reduced stroke
)

// hair is what a sum of cents may be off by the order it was summed in.
const hair = 1e-6

// edits is how many edits an option takes.
func (o *option) edits() int {
	n := len(o.on.Edits)
	if o.yarn != nil || o.turns > 0 {
		n++
	}
	return n
}

// wrap is the yarn of an option, nil for none.
func (o *option) wrap() *head.Wrap {
	w := o.on.Stack.Wrap
	switch {
	case o.yarn != nil:
		return o.yarn.Stack.Wrap
	case o.turns > 0:
		wrap := *w
		wrap.Turns = o.turns
		return &wrap
	}
	return w
}

// parts works out what follows from the parts of an option; ok is false where it
// can't be.
func (x *changing) parts(o *option) (c propose.Candidate, b strike.Body, ok bool) {
	if !x.fit(o.on) {
		return c, b, false
	}
	st := o.on.Stack
	if st.Wrap = o.wrap(); st.Check() != nil {
		return c, b, false
	}
	return x.j.Over(o.on.head, st.Wrap)
}

// edited is the stack that the option makes, and how.
func (o *option) edited(x *changing) search.Edited {
	e := o.on.Edited
	was := e.Stack.Wrap
	e.Stack.Wrap = o.wrap()
	var edit search.Edit
	switch {
	case o.yarn != nil:
		edit = last(o.yarn)
	case o.turns > 0:
		edit = search.Edit{Do: "swap", What: "yarn", From: fmt.Sprintf("%s*%d", was.Yarn.ID, x.turns(was)), To: fmt.Sprintf("%s*%d", was.Yarn.ID, o.turns)}
	default:
		return e
	}
	e.Edits = append(slices.Clone(e.Edits), edit)
	return e
}

// fuller lists an edit to the yarn; where it winds a bare head, with other turns as well.
func fuller(e *search.Edited) []*search.Edited {
	list := []*search.Edited{e}
	if last(e).Do != "add" {
		return list
	}
	for n := propose.LeastTurns; n <= propose.MostTurns; n += turnsOver {
		y, w := *e, *e.Stack.Wrap
		w.Turns = n
		y.Stack.Wrap, y.Edits = &w, slices.Clone(e.Edits)
		y.Edits[len(y.Edits)-1].To = fmt.Sprintf("%s*%d", w.Yarn.ID, n)
		list = append(list, &y)
	}
	return list
}

// windings are what strokes have told of one yarn over the same rubber: softness by
// turns. More turns are softer.
type windings struct {
	turns    []int
	softness []float64
}

// turnsOff is how many notches harder more turns may come out by the reduced stroke.
const turnsOff = 0.05

func (w *windings) tell(turns int, softness float64) {
	w.turns, w.softness = append(w.turns, turns), append(w.softness, softness)
}

// between bounds the softness with some turns.
func (w *windings) between(turns int) (least, most float64) {
	least, most = math.Inf(-1), math.Inf(1)
	for i, n := range w.turns {
		if n <= turns {
			least = max(least, w.softness[i]-turnsOff)
		}
		if n >= turns {
			most = min(most, w.softness[i]+turnsOff)
		}
	}
	return least, most
}

// windings returns what was told of the yarn of an option.
func (x *changing) windings(o *option) *windings {
	yarn := ""
	if w := o.wrap(); w != nil {
		yarn = w.Yarn.ID
	}
	w := o.on.wound[yarn]
	if w == nil {
		if o.on.wound == nil {
			o.on.wound = map[string]*windings{}
		}
		w = &windings{}
		o.on.wound[yarn] = w
	}
	return w
}

// likely reports whether an option may be what is wanted, and is next, by what
// other turns have told of its softness. Else it puts it where it belongs.
func (x *changing) likely(o *option) bool {
	w := o.wrap()
	if w == nil || w.Turns == 0 {
		return true
	}
	least, most := x.windings(o).between(w.Turns)
	if least > x.softest[1] || most < x.softest[0] {
		x.short = append(x.short, o)
		return false
	}
	from, to := x.ideal(), x.ideal()
	switch {
	case x.goal.follows(x.goal.at + withColour):
		to += withColour
	case x.goal.follows(x.goal.at - withColour):
		from -= withColour
	}
	off := max(0, least-to, from-most)
	per := float64(strayCents)
	if x.goal.followed() {
		per *= follows
	}
	if sum := o.cents + per*off - hair; sum > o.least+2*hair {
		o.least = sum
		x.open.push(o)
		return false
	}
	return true
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

// name names what lies under some yarn.
func (x *changing) name(u *under) string {
	if u.rubber == "" {
		u.rubber = rubberOf(&u.Stack)
	}
	return u.rubber
}

// key is the key of a stack, whose rubber was named.
func (x *changing) key(st *head.Stack, rubber string) stackKey {
	k := stackKey{rubber: rubber}
	if w := st.Wrap; w != nil {
		k.yarn, k.turns, k.tensionN = w.Yarn.ID, w.Turns, cmp.Or(w.TensionN, x.f.Hand(&x.j.Base))
	}
	return k
}

// later lists what is made on what lies under some yarn once it is its turn.
func (x *changing) later(u *under) {
	w := u.Stack.Wrap != nil
	x.at++
	x.open.push(&option{on: u, at: x.at, least: x.leastOn(u, x.work(u.Edits, len(u.Stack.Slices), w), len(u.Edits))})
}

// leastOn is what an option costs at least, by what lies under its yarn.
func (x *changing) leastOn(u *under, work, edits int) float64 {
	least := workCents*float64(work) + editCents*float64(edits) + u.cents - hair
	if x.goal.was.Stack.Core.ID != u.Stack.Core.ID {
		least += x.goal.coreCents()
	}
	return least
}

// add lists an option over what lies under its yarn, unless that is refused or
// another makes the same.
func (x *changing) add(o option) {
	u := o.on
	key := x.key(&u.Stack, x.name(u))
	switch {
	case o.yarn != nil:
		key = x.key(&o.yarn.Stack, u.rubber)
	case o.turns > 0:
		key.turns = o.turns
	}
	if key.yarn != "" && key.turns == 0 { // a plain wrap, by what it is wound on
		if c, _, ok := x.parts(&o); ok {
			key.turns = c.Head.Turns
		}
	}
	if x.had[key] {
		return
	}
	x.had[key] = true
	if !x.fit(u) {
		return
	}
	x.at++
	o.at, o.stage = x.at, toBegin
	o.work = x.work(u.Edits, len(u.Stack.Slices), key.yarn != "")
	o.least = x.leastOn(u, o.work, o.edits())
	if w := x.goal.was.Stack.Wrap; w == nil && key.yarn != "" || w != nil && w.Yarn.ID != key.yarn {
		o.least += yarnCents
	}
	x.open.push(&o)
}

// rest works out all that is left, for why there is no change: in the order of the
// list, as if it had never been put off.
func (x *changing) rest() {
	left := x.short
	for len(x.open) > 0 {
		if o := x.open.pop(); o.stage == toUnfold {
			x.unfold(o.on)
		} else {
			left = append(left, o)
		}
	}
	slices.SortFunc(left, func(a, b *option) int { return cmp.Compare(a.at, b.at) })
	for _, o := range left {
		if o.known == nil {
			x.strike(o)
		}
	}
	for _, list := range [][]*priced{x.found, x.kept, x.made} {
		slices.SortFunc(list, func(a, b *priced) int { return cmp.Compare(a.way.at, b.way.at) })
	}
	x.open = nil
}

// queue holds options, the one first that costs least as far as is known, of such
// the least known, of those the one that was listed first; of two of which all is
// known, the better.
type queue []*option

func (q *queue) push(o *option) { heap.Push(q, o) }
func (q *queue) pop() *option   { return heap.Pop(q).(*option) }

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(o any)   { *q = append(*q, o.(*option)) }

func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	c := cmp.Or(cmp.Compare(a.least, b.least), cmp.Compare(a.stage, b.stage))
	if c == 0 && a.stage == toTake {
		c = cmp.Compare(b.known.judged.Score, a.known.judged.Score)
	}
	return cmp.Or(c, cmp.Compare(a.at, b.at)) < 0
}

func (q *queue) Pop() any {
	n := len(*q) - 1
	o := (*q)[n]
	(*q)[n] = nil
	*q = (*q)[:n]
	return o
}
