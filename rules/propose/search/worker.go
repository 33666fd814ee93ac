package search

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/effort"
	"mallow/rules/propose/search/girth"
	"mallow/rules/propose/search/kit"
	"mallow/rules/propose/search/onhand"
	"mallow/rules/propose/search/turns"
	"mallow/rules/stock"
)

// box is a body to strike, and two corners of facts between which heads lie: what
// bounds them. It knows nothing of what was found.
type box struct {
	*Search
	j       *propose.Judging
	bound   *rules.Bounder[facts.Facts]
	fitted  *rules.Bounder[facts.Facts] // of layers
	lo, hi  facts.Facts
	body    strike.Body
	wound   []head.Wound // wraps as wound over woundOn
	woundOn []*node
	anyLo   facts.Head // the corners of all heads there can be
	anyHi   facts.Head
	sound   *bounds.Sound
	clipLo  facts.Facts
	clipHi  facts.Facts

	mostG, mostMM float64       // past which the rules refuse any head
	mostCents     float64       // the same
	thick, tough  strike.Rubber // thicker and softer than any tubing of the kit, and stiffer
	mostLikes     float64       // of a layer
	piles         *girth.Piles  // of slices
	cells         map[cellKey][]girth.Wrap
	least         facts.Head // corners of what a wrap comes to in a cell
	largest       facts.Head
	dense         float64        // kg/m3, of the densest of it
	padded        []padding      // by the diameter under the yarn, in whole mm, worked out when needed
	over          []bounds.Yarns // of no yarn and of any, over overOn
	overOn        *node
	soft          yarnBody // softer than all wraps, over softOn
	softOn        *node
	swing         head.Head // what inertia works on
	edge          [2]int    // of the wraps looked at
	tried         int64     // heads
	bounded       int64     // boxes that the rules were asked about
}

// worker is what one processor needs to search without allocating for each
// head.
type worker struct {
	box
	early  *rules.Scorer[facts.Facts] // of layers, before the head is known
	at     facts.Facts
	layers []facts.Layer
	local  found // the best so far on one rubber and core

	mostHead     float64                     // most that the rules on a head can add to its score
	mostHere     float64                     // the same where it is known of the heads that are looked at
	mostLayer    [propose.MostLayers]float64 // and those on a layer, by its place from the inside
	next         []task
	found, plain []found

	buildable int64
	from      effort.Done // where the task began
	cut       bool        // a task was left before its end
}

func (s *Search) worker() *worker {
	early := rules.Known{}
	for path := range s.known {
		if s.known[path] && !(len(path) > 5 && path[:5] == "head.") {
			early[path] = true
		}
	}
	j := s.f.Judging(s.q)
	w := &worker{
		box: box{
			Search: s, j: j, sound: bounds.New(j),
			wound:   make([]head.Wound, len(s.Wraps)),
			woundOn: make([]*node, len(s.Wraps)),
			cells:   map[cellKey][]girth.Wrap{},
		},
		early: s.f.Book().Scorer("layer", early),
	}
	w.j.Weights.Softness *= cmp.Or(s.firm, 1)
	w.lo, w.hi, w.at = s.base, s.base, s.base
	w.clipLo, w.clipHi = s.base, s.base
	bounds.Open(&w.lo.Head, &w.hi.Head)
	w.bound, w.j.Head = s.f.Book().Bounder("head", s.known).Within(&w.lo, &w.hi)
	w.mostHead, _ = w.bound.Bound(&w.lo, &w.hi)
	w.mostHere = w.mostHead
	layers := s.f.Book().Bounder("layer", s.known)
	w.fitted = layers
	for i := range w.mostLayer {
		bounds.Open(&w.lo.Layer, &w.hi.Layer)
		w.lo.Layer.Index, w.hi.Layer.Index = float64(i+1), float64(i+1)
		w.mostLayer[i], _ = layers.Bound(&w.lo, &w.hi)
		w.mostLikes = max(w.mostLikes, w.mostLayer[i])
	}
	w.lo.Layer, w.hi.Layer = facts.Layer{}, facts.Layer{}
	w.anyLo, w.anyHi = w.lo.Head, w.hi.Head
	w.limits()
	w.piles = girth.NewPiles(w.slices)
	w.forget()
	w.body.Hold = s.Hold
	w.body.Rubber = make([]strike.Rubber, 0, propose.MostLayers)
	return w
}

// do does a task.
func (w *worker) do(t task) {
	w.from = effort.Done{Tried: w.tried, Bounded: w.bounded}
	switch t.what {
	case probe:
		w.setRubber(t.n)
		w.forget()
		if t.class == anyYarn {
			if w.above(t.n, t.n.depth, t.n.depth); !w.worth(w.likes(t.n, t.n.depth), t.n.least, math.Inf(1)) {
				return // before any yarn is wound
			}
			w.core(t.n, t.core)
		} else {
			w.class(t.n, t.core, w.Classes[t.class], t.n.least, math.Inf(1))
		}
		w.keep()
	case heads:
		w.heads(t.n, t.n.least)
	case grow:
		w.grow(t)
	}
}

// takes reports whether the rules allow any slice over a node, as far as what it
// would lie on says.
func (b *box) takes(n *node) bool {
	b.lo.Head, b.hi.Head = b.anyLo, b.anyHi
	bounds.Open(&b.lo.Layer, &b.hi.Layer)
	defer func() { b.lo.Layer, b.hi.Layer = facts.Layer{}, facts.Layer{} }()
	for _, l := range []*facts.Layer{&b.lo.Layer, &b.hi.Layer} {
		l.Index, l.On, l.UnderMM = float64(n.depth+1), "rubber", n.bed.Diameter.MM()
		if n.depth == 0 {
			l.On = n.root.Family
		}
	}
	_, refused := b.fitted.Bound(&b.lo, &b.hi)
	return refused == nil
}

// wind returns a wrap as wound over a node.
func (b *box) wind(n *node, wrap int) *head.Wound {
	if o := &b.Wraps[wrap]; b.woundOn[wrap] != n && !o.None {
		b.wound[wrap], b.woundOn[wrap] = b.f.Wind(&o.Wrap, n.bed.Diameter, n.root.Diameter), n
	}
	return &b.wound[wrap]
}

// root returns the node of a root's bare cores.
func (w *worker) root(r *kit.Root) *node {
	n := &node{root: r, bed: head.Ball(r.Cores[0].Core), gripKPa: math.Inf(1)}
	w.measure(n)
	return n
}

// measure finds how hard the heads of a node can be, where that is not known.
func (b *box) measure(n *node) {
	if n.measured {
		return
	}
	b.setRubber(n)
	b.set(n, &n.root.Hardest, n.root.Lightest)
	b.tried++
	n.least, n.measured = b.notches()-slackNotches, true
}

// set makes the body that of a node's rubber on a core, without yarn.
func (b *box) set(n *node, core *strike.Core, mass float64) {
	b.body.Core = *core
	b.body.Mass = mass + n.mass
	b.body.Radius = float64(n.bed.Diameter) / 2
	b.body.Yarn = strike.Yarn{}
}

// notches strikes the body at mf and returns its softness.
func (b *box) notches() float64 {
	return b.j.Sound.Notches(b.j.Sound.Even(&b.body).CutoffHz)
}

// most is how many slices a head may have.
func (s *Search) most() int {
	if s.q.Pin.Tubing != nil {
		return len(s.q.Pin.Tubing)
	}
	return propose.MostLayers
}

// fit fits tubing over a node.
func (w *worker) fit(n *node, t int) *node {
	o := &w.Tubes[t]
	if pin := w.q.Pin.Tubing; pin != nil && (n.depth >= len(pin) || pin[n.depth] != o.Slice.Tube.ID) {
		return nil
	}
	if w.Worlds && w.mixes(n, o.Slice.Tube.ID) {
		return nil
	}
	l := w.f.Fit(n.bed, o.Slice, n.depth+1, n.root.Family)
	w.at.Layer = l.Layer
	defer func() { w.at.Layer = facts.Layer{} }()
	w.at.Head = facts.Head{}
	likes, refused := w.early.Score(&w.at)
	if refused == nil && w.f.LateLayers() {
		likes, refused = w.likesAtMost(&w.at.Layer)
	}
	if refused != nil {
		w.tried++
		return nil
	}
	x := &node{
		up: n, root: n.root, tube: t, depth: n.depth + 1, kinds: n.kinds, packs: n.packs,
		bed: l.Bed, under: l.Under, wall: float64(l.Wall), cut: l.Cut,
		mass:     n.mass + float64(l.Mass),
		massTol2: n.massTol2 + float64(l.MassTol*l.MassTol),
		cents:    n.cents + stock.SliceCents(o.Cents, l.Cut, &w.f.Catalogue().Limits),
		handN:    max(n.handN, w.at.Layer.HandN),
		gripKPa:  min(n.gripKPa, w.at.Layer.GripKPa),
		rubberMM: n.rubberMM + w.at.Layer.WallMM,
		latex:    n.latex || w.at.Layer.Latex, chemicals: n.chemicals || w.at.Layer.Chemicals,
		glued: n.glued || l.Verdict == head.Loose,
		likes: n.likes + likes, least: n.least,
		layer: w.at.Layer,
	}
	if !n.has(t) {
		x.kinds++
		x.packs += o.Pack
	}
	if o.Stock != nil && !w.gives(x, t) {
		return nil
	}
	return x
}

// likesAtMost is the most that the layer rules can add for a layer, whatever
// the head that it comes to be in.
func (b *box) likesAtMost(l *facts.Layer) (float64, *rules.Rule) {
	b.lo.Head, b.hi.Head = b.anyLo, b.anyHi
	b.lo.Layer, b.hi.Layer = *l, *l
	most, refused := b.fitted.Bound(&b.lo, &b.hi)
	b.lo.Layer, b.hi.Layer = facts.Layer{}, facts.Layer{}
	return most, refused
}

// setRubber puts the slices of a node into the body.
func (b *box) setRubber(n *node) {
	b.body.Rubber = b.body.Rubber[:n.depth]
	for x := n; x.up != nil; x = x.up {
		r := b.Tubes[x.tube].Rubber
		r.Wall = x.wall
		b.body.Rubber[x.depth-1] = r
	}
}

// holds reports whether a head of a node on some cores, which are no harder than least, may be
// worth looking at, and how soft they are at most.
func (w *worker) holds(n *node, on *kit.Span, least float64) (most float64, ok bool) {
	w.setRubber(n)
	w.forget()
	if w.topHere(n, on, least, math.Inf(1), w.bar()) < w.bar() {
		return 0, false // whatever its softness
	}
	w.put(n, on.Soft, on.Heavy, w.softYarn(n))
	return w.notches() + slackNotches, true
}

// heads looks at the heads of a node, which are no harder than least: part of the cores
// by part, then core by core, and on each core at the wraps of one fibre.
func (w *worker) heads(n *node, least float64) {
	w.part(n, n.root.Part, w.All, least)
	w.forget()
}

// core looks at the heads of a node on a core, once it is found out how soft those can be.
func (w *worker) core(n *node, core int) {
	c := &n.root.Cores[core]
	w.set(n, &c.Body, c.Struck)
	least := w.notches() - slackNotches
	w.put(n, &c.Body, c.Struck, w.softYarn(n))
	most := w.notches() + slackNotches
	on := c.Alone()
	wraps := w.screen(n, &on, w.All, least, most)
	if !w.serve(n, &on, wraps, least, most) {
		return
	}
	for class := range turns.Runs(wraps, w.ClassOf) {
		w.class(n, core, class, least, most)
	}
}

// forget starts anew what was best on one rubber and core.
func (w *worker) forget() { w.local = found{score: math.Inf(-1)} }

// keep keeps what was best on one rubber and core.
func (w *worker) keep() {
	if w.local.node != nil {
		w.found = append(w.found, w.local)
	}
}

// class looks at the wraps of one fibre on a node and core. They differ only
// in how much of it there is, and more is softer: from the thinnest and the
// thickest that may be of use follow bounds for all between, and so on by halves.
func (w *worker) class(n *node, core int, class []int, least, most float64) {
	if w.spent() {
		return
	}
	c := &n.root.Cores[core]
	on := c.Alone()
	list, _, most, likes := w.ends(n, &on, class, least, most)
	if len(list) == 0 {
		return
	}
	w.mostHere = likes // by any wrap of the class, and so by some of them
	defer func() { w.mostHere = w.mostHead }()
	first := w.look(n, core, list[0])
	if list = w.hopeful(n, &on, list[1:], first-slackNotches, most); len(list) == 0 {
		return
	}
	last := w.look(n, core, list[len(list)-1])
	w.between(n, core, list[:len(list)-1], first, last)
}

// ends returns which wraps of a class may be of use on some cores, of a softness between
// least and most, how soft they are at least and at most, and what the rules come to.
func (w *worker) ends(n *node, on *kit.Span, class []int, least, most float64) ([]int, float64, float64, float64) {
	w.within(n, on, w.edges(class))
	w.narrow(least, most)
	w.bounded++
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	if refused != nil {
		return nil, 0, 0, 0
	}
	if least, most = w.stretch(n, on, class, likes, least, most); least > most {
		return nil, 0, 0, 0
	}
	w.mostHere = likes
	defer func() { w.mostHere = w.mostHead }()
	return w.hopeful(n, on, class, least, most), least, most, likes
}

// stretch narrows the stretch of softness in which the heads of a class lie, which is in the
// box and whose rules come to likes, by striking its ends; least is above most where
// none can be of use. What is soft without yarn already is struck under the
// least of it first, since its being too soft is what likely rules it out.
func (w *worker) stretch(n *node, on *kit.Span, class []int, likes, least, most float64) (float64, float64) {
	const softAlready = 1 // notches less than asked for
	one, first := len(class) == 1 && on.Soft == on.Hard, least > w.base.Want.Softness-softAlready
	for range 2 {
		if w.narrow(least, most); likes+n.likes-w.j.LeastOff(&w.lo.Head, &w.hi.Head) < w.bar() {
			return 1, 0
		}
		wrap, core, mass := class[len(class)-1], on.Soft, on.Heavy
		if first {
			wrap, core, mass = class[0], on.Hard, on.Light
		}
		w.put(n, core, mass, yarnOf(&w.Wraps[wrap], w.wind(n, wrap)))
		w.bounded += effort.StrokeBoxes
		x := w.notches()
		if first || one {
			least = max(least, x-slackNotches)
		}
		if !first || one {
			most = min(most, x+slackNotches)
		}
		if one {
			break
		}
		first = !first
	}
	return least, max(least, most)
}

// edges returns the first and last of some wraps of a class, which bound the rest.
func (b *box) edges(list []int) []int {
	b.edge = [2]int{list[0], list[len(list)-1]}
	if len(list) == 1 {
		return b.edge[:1]
	}
	return b.edge[:]
}

// hopeful returns the wraps of a list but for those at its ends that are of no use
// whatever their softness between least and most: too many turns, say, or too few.
func (w *worker) hopeful(n *node, on *kit.Span, list []int, least, most float64) []int {
	hopeless := func(i int) bool {
		w.edge[0] = list[i]
		w.within(n, on, w.edge[:1])
		return !w.worth(w.likes(n, n.depth), least, most)
	}
	for len(list) > 0 && hopeless(0) {
		list = list[1:]
	}
	for len(list) > 1 && hopeless(len(list)-1) {
		list = list[:len(list)-1]
	}
	return list
}

// between looks at wraps whose softness lies between first and last.
func (w *worker) between(n *node, core int, list []int, first, last float64) {
	on := n.root.Cores[core].Alone()
	list = w.hopeful(n, &on, list, min(first, last)-slackNotches, max(first, last)+slackNotches)
	if len(list) == 0 {
		return
	}
	mid := len(list) / 2
	at := w.look(n, core, list[mid])
	w.between(n, core, list[:mid], first, at)
	w.between(n, core, list[mid+1:], at, last)
}

// yarnBody is a wrap as a stroke meets it.
type yarnBody struct {
	yarn   strike.Yarn
	mass   float64
	radius float64 // what it adds to the head's
}

func yarnOf(o *kit.Wrap, wd *head.Wound) yarnBody {
	y := yarnBody{mass: float64(wd.Mass), radius: float64(wd.Wall)}
	if !o.None {
		y.yarn = strike.YarnOf(o.Wrap.Fibre, float64(wd.Wall), wd.RestPa, wd.PressPa)
	}
	return y
}

// thickest returns a wrap that is softer than all between those of a list: the
// thickest, softest and heaviest at once, on the radius of the thinnest.
func (b *box) thickest(n *node, list []int) yarnBody {
	y := yarnBody{radius: math.Inf(1)}
	for _, i := range list {
		o, wd := &b.Wraps[i], b.wind(n, i)
		y.radius = min(y.radius, float64(wd.Wall))
		y.mass = max(y.mass, float64(wd.Mass))
		if o.None {
			continue
		}
		x := yarnOf(o, wd).yarn
		if y.yarn.Rest == 0 {
			y.yarn.Rest, y.yarn.Press = x.Rest, x.Press
		}
		y.yarn.Rest, y.yarn.Press = min(y.yarn.Rest, x.Rest), min(y.yarn.Press, x.Press)
		y.yarn.Wall = max(y.yarn.Wall, float64(wd.Wall))
		y.yarn.Loss = max(y.yarn.Loss, o.Yarn.Loss)
	}
	return y
}

// put makes the body that of a node's rubber on a core under yarn.
func (b *box) put(n *node, core *strike.Core, mass float64, y yarnBody) {
	b.set(n, core, mass)
	b.body.Mass += y.mass
	b.body.Radius += y.radius
	b.body.Yarn = y.yarn
}

// judge scores the head in w.at, a head of the node.
func (w *worker) judge(n *node) (float64, *rules.Rule) {
	if !w.f.LateLayers() {
		score, refused := w.j.Score(&w.at, nil)
		return score + n.likes, refused
	}
	w.layers = slices.Grow(w.layers[:0], n.depth)[:n.depth]
	for x := n; x.up != nil; x = x.up {
		w.layers[x.depth-1] = x.layer
	}
	return w.j.Score(&w.at, w.layers)
}

// inertia is what head.Swing comes to for a head of the node.
func (b *box) inertia(n *node, c *kit.Core, wd *head.Wound) float64 {
	if c.Shaft == nil {
		return 0
	}
	h := &b.swing
	h.Stack.Core, h.Stack.Shaft = c.Core, c.Shaft
	h.CoreMass = c.Bare.CoreMass
	h.Layers = h.Layers[:0]
	for x := n; x.up != nil; x = x.up {
		h.Layers = append(h.Layers, head.Layer{Under: x.under, Wall: measure.Length(x.wall), Mass: measure.Mass(x.mass - x.up.mass)})
	}
	h.Bare, h.YarnWall, h.YarnMass = n.bed.Diameter, wd.Wall, wd.Mass
	h.Mass = c.Bare.CoreMass + measure.Mass(n.mass) + wd.Mass
	lim := &b.f.Catalogue().Limits
	return h.SwingAt(measure.Length(lim.HandM.Value), lim).InertiaKgM2 * 1000
}

// gives reports whether the tubing on hand gives the slices of node x for
// every head, its topmost being of tube t.
func (s *Search) gives(x *node, t int) bool {
	var cuts []measure.Length
	for n := x; n.up != nil; n = n.up {
		if n.tube == t {
			cuts = append(cuts, n.cut)
		}
	}
	return onhand.Gives(s.Tubes[t].Stock, cuts, s.q.Count(), measure.Length(s.f.Catalogue().Limits.KerfM.Value))
}
