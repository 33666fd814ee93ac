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
	"mallow/rules/stock"
)

// worker is what one processor needs to search without allocating for each
// head.
type worker struct {
	*Search
	j       *propose.Judging
	early   *rules.Scorer[facts.Facts] // of layers, before the head is known
	bound   *rules.Bounder[facts.Facts]
	fitted  *rules.Bounder[facts.Facts] // of layers
	lo, hi  facts.Facts
	at      facts.Facts
	body    strike.Body
	wound   []head.Wound // wraps as wound over woundOn
	woundOn []*node
	edge    [2]int // of the wraps looked at
	layers  []facts.Layer
	swing   head.Head
	local   []found    // by goal, the best so far on one rubber and core
	anyLo   facts.Head // the corners of all heads there can be
	anyHi   facts.Head
	clipLo  facts.Facts
	clipHi  facts.Facts

	mostG, mostMM float64                     // past which the rules refuse any head
	thick         strike.Rubber               // thicker and softer than any tubing of the kit
	mostHead      float64                     // most that the rules on a head can add to its score
	mostLayer     [propose.MostLayers]float64 // and those on a layer, by its place from the inside
	yarnLo        facts.Head                  // of the yarn alone
	yarnHi        facts.Head
	next          []*node
	found         []foundFor

	tried, buildable int64
	refused          map[*rules.Rule]int
}

func (s *Search) worker() *worker {
	early := rules.Known{}
	for path := range s.known {
		if s.known[path] && !(len(path) > 5 && path[:5] == "head.") {
			early[path] = true
		}
	}
	w := &worker{
		Search: s, j: s.f.Judging(s.q),
		early:   s.f.Book().Scorer("layer", early),
		wound:   make([]head.Wound, len(s.wraps)),
		woundOn: make([]*node, len(s.wraps)),
		refused: map[*rules.Rule]int{},
	}
	w.j.Weights.Softness *= cmp.Or(s.firm, 1)
	w.lo, w.hi, w.at = s.base, s.base, s.base
	w.clipLo, w.clipHi = s.base, s.base
	anything(&w.lo.Head, &w.hi.Head)
	w.bound, w.j.Head = s.f.Book().Bounder("head", s.known).Within(&w.lo, &w.hi)
	w.mostHead, _ = w.bound.Bound(&w.lo, &w.hi)
	layers := s.f.Book().Bounder("layer", s.known)
	w.fitted = layers
	for i := range w.mostLayer {
		anything(&w.lo.Layer, &w.hi.Layer)
		w.lo.Layer.Index, w.hi.Layer.Index = float64(i+1), float64(i+1)
		w.mostLayer[i], _ = layers.Bound(&w.lo, &w.hi)
	}
	w.lo.Layer, w.hi.Layer = facts.Layer{}, facts.Layer{}
	w.anyLo, w.anyHi = w.lo.Head, w.hi.Head
	w.limits()
	w.local = make([]found, len(s.goals))
	w.forget()
	w.body.Hold = s.hold
	w.body.Rubber = make([]strike.Rubber, 0, propose.MostLayers)
	return w
}

// visit looks at the heads of a node.
func (w *worker) visit(n *node) {
	if pin := w.q.Pin.Tubing; pin == nil || n.depth == len(pin) {
		w.heads(n, n.least)
	}
}

// worthGrowing reports whether a head above a node may be worth looking at: with any
// number of layers more, and then with each.
func (w *worker) worthGrowing(n *node) bool {
	w.setRubber(n)
	w.forget()
	w.above(n, n.depth+1, propose.MostLayers)
	if !w.worth(n, n.least, math.Inf(1), propose.MostLayers) {
		return false
	}
	for layers := n.depth + 1; layers <= propose.MostLayers; layers++ {
		most := w.softestAbove(n, layers)
		w.above(n, layers, layers)
		if w.worth(n, n.least, most, layers) {
			return true
		}
	}
	return false
}

// wind returns a wrap as wound over a node.
func (w *worker) wind(n *node, wrap int) *head.Wound {
	if o := &w.wraps[wrap]; w.woundOn[wrap] != n && !o.none {
		w.wound[wrap], w.woundOn[wrap] = w.f.Wind(&o.wrap, n.bed.Diameter, n.root.diameter), n
	}
	return &w.wound[wrap]
}

// root returns the node of a root's bare cores.
func (w *worker) root(r *root) *node {
	n := &node{root: r, bed: head.Ball(r.cores[0].core), gripKPa: math.Inf(1)}
	w.measure(n)
	return n
}

// measure finds how hard the heads of a node can be.
func (w *worker) measure(n *node) {
	w.setRubber(n)
	w.set(n, &n.root.hardest, n.root.lightest)
	w.tried++
	n.least = w.notches() - slackNotches
}

// set makes the body that of a node's rubber on a core, without yarn.
func (w *worker) set(n *node, core *strike.Core, mass float64) {
	w.body.Core = *core
	w.body.Mass = mass + n.mass
	w.body.Radius = float64(n.bed.Diameter) / 2
	w.body.Yarn = strike.Yarn{}
}

// notches strikes the body at mf and returns its softness.
func (w *worker) notches() float64 {
	return w.j.Sound.Notches(w.j.Sound.Even(&w.body).CutoffHz)
}

// grow goes on to the nodes above a node when there is hope. What has been fitted is kept for the
// next run of the search.
func (w *worker) grow(n *node) {
	if !w.worthGrowing(n) {
		return
	}
	if !n.grown {
		w.fit(n)
		for _, x := range n.above {
			w.measure(x)
		}
	}
	w.next = append(w.next, n.above...)
}

// fit fits every tubing over a node.
func (w *worker) fit(n *node) {
	n.grown = true
	for t := range w.tubes {
		o := &w.tubes[t]
		if pin := w.q.Pin.Tubing; pin != nil && pin[n.depth] != o.slice.Tube.ID {
			continue
		}
		if w.worlds && w.mixes(n, o.slice.Tube.ID) {
			continue
		}
		l := w.f.Fit(n.bed, o.slice, n.depth+1, n.root.family)
		w.at.Layer = l.Layer
		w.at.Head = facts.Head{}
		likes, refused := w.early.Score(&w.at)
		if refused == nil && w.f.LateLayers() {
			likes, refused = w.likesAtMost(&w.at.Layer)
		}
		if refused != nil {
			w.refused[refused]++
			w.tried++
			continue
		}
		x := &node{
			up: n, root: n.root, tube: t, depth: n.depth + 1, kinds: n.kinds,
			bed: l.Bed, under: l.Under, wall: float64(l.Wall), cut: l.Cut,
			mass:     n.mass + float64(l.Mass),
			massTol2: n.massTol2 + float64(l.MassTol*l.MassTol),
			cents:    n.cents + stock.SliceCents(o.cents, l.Cut, &w.f.Catalogue().Limits),
			handN:    max(n.handN, w.at.Layer.HandN),
			gripKPa:  min(n.gripKPa, w.at.Layer.GripKPa),
			rubberMM: n.rubberMM + w.at.Layer.WallMM,
			latex:    n.latex || w.at.Layer.Latex, chemicals: n.chemicals || w.at.Layer.Chemicals,
			glued: n.glued || l.Verdict == head.Loose,
			likes: n.likes + likes,
			layer: w.at.Layer,
		}
		if !n.has(t) {
			x.kinds++
		}
		if o.stock != nil && !w.reaches(x, t) {
			continue
		}
		n.above = append(n.above, x)
	}
	w.at.Layer = facts.Layer{}
}

// likesAtMost is the most that the layer rules can add for a layer, whatever
// the head that it comes to be in.
func (w *worker) likesAtMost(l *facts.Layer) (float64, *rules.Rule) {
	w.lo.Head, w.hi.Head = w.anyLo, w.anyHi
	w.lo.Layer, w.hi.Layer = *l, *l
	most, refused := w.fitted.Bound(&w.lo, &w.hi)
	w.lo.Layer, w.hi.Layer = facts.Layer{}, facts.Layer{}
	return most, refused
}

// setRubber puts the slices of a node into the body.
func (w *worker) setRubber(n *node) {
	w.body.Rubber = w.body.Rubber[:n.depth]
	for x := n; x.up != nil; x = x.up {
		r := w.tubes[x.tube].rubber
		r.Wall = x.wall
		w.body.Rubber[x.depth-1] = r
	}
}

// worth reports whether a head in the box may be among the best for a goal,
// when its softness is between least and most and it has so many layers.
//
// What a soft head gains by being as soft as asked, it may lose by the notes
// that it no longer serves. A bound that takes the best of both would hardly
// bind, so the softness is cut into bands and each is bound by itself.
func (w *worker) worth(n *node, least, most float64, layers int) bool {
	byLayer := w.likes(n, layers)
	w.narrow(least, most)
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	if refused != nil {
		w.refused[refused]++
		return false
	}
	top := likes + byLayer
	may := false
	for i, g := range w.goals {
		if lo, hi := w.clip(g); lo != nil && top-w.j.LeastOff(&lo.Head, &hi.Head) >= w.bar(i) {
			may = true
			break
		}
	}
	if !may {
		return false
	}
	want := w.base.Want.Softness
	inf := math.Inf(1)
	for _, band := range [...][2]float64{
		{want - 0.3, want + 0.3}, {want - 1.5, want - 0.3}, {want + 0.3, want + 1.5},
		{want - 5, want - 1.5}, {want + 1.5, want + 5}, {-inf, want - 5}, {want + 5, inf},
	} {
		lo, hi := max(band[0], least), min(band[1], most)
		switch {
		case lo > hi:
		case lo == least && hi == most && w.goals[0].Clip == nil:
			return true // this band is all there is
		case w.worthBand(lo, hi, top, byLayer):
			return true
		}
	}
	return false
}

// worthBand is worth for a band of softness. top is a bound that holds for the
// whole box.
func (w *worker) worthBand(least, most, top, byLayer float64) bool {
	w.narrow(least, most)
	likes, asked := 0.0, false
	for i, g := range w.goals {
		lo, hi := w.clip(g)
		if lo == nil {
			continue
		}
		off := w.j.LeastOff(&lo.Head, &hi.Head)
		if top-off < w.bar(i) {
			continue
		}
		x := likes
		var refused *rules.Rule
		switch {
		case g.Clip != nil:
			x, refused = w.bound.Bound(lo, hi)
		case !asked:
			likes, refused = w.bound.Bound(lo, hi)
			asked, x = true, likes
		}
		if refused == nil && x+byLayer-off >= w.bar(i) {
			return true
		}
	}
	return false
}

// bar is the score that a head has to reach to matter for a goal: to be among
// the best, and the best on its own rubber and core.
func (w *worker) bar(i int) float64 {
	return max(w.goals[i].bar(), w.local[i].score)
}

// likes is the most that the layer rules can add to a head of so many layers,
// or fewer, on the node.
func (w *worker) likes(n *node, layers int) float64 {
	sum := n.likes
	for i := n.depth; i < layers; i++ {
		sum += max(0, w.mostLayer[i])
	}
	return sum
}

// holds reports whether a head of a node, which are no harder than least, may
// be worth looking at, and how soft they are at most.
func (w *worker) holds(n *node, least float64) (most float64, ok bool) {
	r := n.root
	w.setRubber(n)
	w.forget()
	w.within(n, &r.lo, &r.hi, r.leastCents, r.mostCents, w.ends)
	if !w.worth(n, least, math.Inf(1), n.depth) {
		return 0, false // whatever its softness
	}
	w.put(n, &r.softest, r.heaviest, w.thickest(n, w.ends))
	most = w.notches() + slackNotches
	return most, w.worth(n, least, most, n.depth)
}

// heads looks at the heads of a node, which are no harder than least: first at
// all of them at once, then core by core, and on each core at the wraps of one
// fibre.
func (w *worker) heads(n *node, least float64) {
	r := n.root
	most, ok := w.holds(n, least)
	if !ok {
		return
	}
	for i := range r.cores {
		c := &r.cores[i]
		mass := c.struck
		w.forget()
		if len(r.cores) > 1 {
			w.set(n, &c.body, mass)
			least = w.notches() - slackNotches
			w.put(n, &c.body, mass, w.thickest(n, w.ends))
			most = w.notches() + slackNotches
			w.within(n, &c.facts, &c.facts, c.cents, c.cents, w.ends)
			if !w.worth(n, least, most, n.depth) {
				continue
			}
		}
		for _, class := range w.classes {
			w.class(n, i, class, least, most)
		}
		for g := range w.local {
			if w.local[g].node != nil {
				w.found = append(w.found, foundFor{w.local[g], g})
			}
		}
	}
	w.forget()
}

// forget starts anew what was best on one rubber and core.
func (w *worker) forget() {
	for i := range w.local {
		w.local[i] = found{score: math.Inf(-1)}
	}
}

// class looks at the wraps of one fibre on a node and core. They differ only
// in how much of it there is, and more is softer: from the thinnest and the
// thickest follow bounds for all between, and so on by halves.
func (w *worker) class(n *node, core int, class []int, least, most float64) {
	c := &n.root.cores[core]
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, w.edges(class))
	if !w.worth(n, least, most, n.depth) {
		return
	}
	first := w.look(n, core, class[0])
	list := class[1:]
	if len(list) == 0 {
		return
	}
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, w.edges(list))
	if !w.worth(n, first-slackNotches, most, n.depth) {
		return
	}
	last := w.look(n, core, list[len(list)-1])
	w.between(n, core, list[:len(list)-1], first, last)
}

// edges returns the first and last of some wraps of a class, which bound the rest.
func (w *worker) edges(list []int) []int {
	w.edge = [2]int{list[0], list[len(list)-1]}
	if len(list) == 1 {
		return w.edge[:1]
	}
	return w.edge[:]
}

// between looks at wraps whose softness lies between first and last.
func (w *worker) between(n *node, core int, list []int, first, last float64) {
	if len(list) == 0 {
		return
	}
	c := &n.root.cores[core]
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, w.edges(list))
	if !w.worth(n, min(first, last)-slackNotches, max(first, last)+slackNotches, n.depth) {
		return
	}
	mid := len(list) / 2
	at := w.look(n, core, list[mid])
	w.between(n, core, list[:mid], first, at)
	w.between(n, core, list[mid+1:], at, last)
}

// look computes one head, scores it if it may be of use, and returns its
// softness.
func (w *worker) look(n *node, core, wrap int) float64 {
	c, o, wd := &n.root.cores[core], &w.wraps[wrap], w.wind(n, wrap)
	w.tried++
	x := &w.at.Head
	w.static(x, n, &c.facts, c.cents)
	if !o.none {
		x.Fibre, x.Turns, x.YarnMM, x.TensionN = o.wrap.Yarn.Fibre, float64(wd.Turns), wd.Wall.MM(), wd.TensionN
		x.Latex, x.Chemicals = x.Latex || o.wrap.Fibre.Latex, x.Chemicals || o.wrap.Fibre.Chemicals
		x.MassG += wd.Mass.Grams()
		x.DiameterMM += 2 * x.YarnMM
		x.CostCents += o.cents * float64(wd.Mass)
	}
	w.put(n, &c.body, c.struck, yarnOf(o, wd))
	w.j.Sound.FillMF(x, w.j.Sound.Even(&w.body))
	if float64(wd.Mass) > o.most {
		return x.Softness // not enough of this yarn, but its softness bounds others
	}
	x.MassTolG = 1000 * math.Sqrt(float64(c.bare.MassTol*c.bare.MassTol)+n.massTol2+float64(wd.MassTol*wd.MassTol))
	w.lo.Head, w.hi.Head = *x, *x
	w.hi.Head.InertiaGM2 = math.Inf(1)
	w.lo.Head.InertiaGM2 = 0
	w.beforeLoud()
	w.fromCutoff(&w.lo.Head, &w.hi.Head)
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	if refused != nil {
		w.refused[refused]++
		return x.Softness
	}
	if !w.wanted(likes + w.likes(n, n.depth) - w.j.LeastOff(&w.lo.Head, &w.hi.Head)) {
		return x.Softness
	}
	x.InertiaGM2 = w.inertia(n, c, wd)
	w.j.Sound.Fill(x, w.j.Sound.All(&w.body))
	score, refused := w.judge(n)
	if refused != nil {
		w.refused[refused]++
		return x.Softness
	}
	w.buildable++
	for i, g := range w.goals {
		if score >= w.bar(i) && (g.Is == nil || g.Is(x)) {
			here := found{node: n, core: core, wrap: wrap, turns: wd.Turns, score: score, facts: *x}
			if l := &w.local[i]; l.node == nil || here.compare(l) < 0 {
				*l = here
			}
		}
	}
	return x.Softness
}

// wanted reports whether a head that scores at most score can serve a goal.
func (w *worker) wanted(score float64) bool {
	for i := range w.goals {
		if score >= w.bar(i) {
			return true
		}
	}
	return false
}

// yarnBody is a wrap as a stroke meets it.
type yarnBody struct {
	yarn   strike.Yarn
	mass   float64
	radius float64 // what it adds to the head's
}

func yarnOf(o *wrapOption, wd *head.Wound) yarnBody {
	y := yarnBody{mass: float64(wd.Mass), radius: float64(wd.Wall)}
	if !o.none {
		y.yarn = strike.YarnOf(o.wrap.Fibre, float64(wd.Wall), wd.RestPa, wd.PressPa)
	}
	return y
}

// thickest returns a wrap that is softer than all between those of a list: the
// thickest, softest and heaviest at once, on the radius of the thinnest.
func (w *worker) thickest(n *node, list []int) yarnBody {
	y := yarnBody{radius: math.Inf(1)}
	for _, i := range list {
		o, wd := &w.wraps[i], w.wind(n, i)
		y.radius = min(y.radius, float64(wd.Wall))
		y.mass = max(y.mass, float64(wd.Mass))
		if o.none {
			continue
		}
		x := yarnOf(o, wd).yarn
		if y.yarn.Rest == 0 {
			y.yarn.Rest, y.yarn.Press = x.Rest, x.Press
		}
		y.yarn.Rest, y.yarn.Press = min(y.yarn.Rest, x.Rest), min(y.yarn.Press, x.Press)
		y.yarn.Wall = max(y.yarn.Wall, float64(wd.Wall))
		y.yarn.Loss = max(y.yarn.Loss, o.yarn.Loss)
	}
	return y
}

// put makes the body that of a node's rubber on a core under yarn.
func (w *worker) put(n *node, core *strike.Core, mass float64, y yarnBody) {
	w.set(n, core, mass)
	w.body.Mass += y.mass
	w.body.Radius += y.radius
	w.body.Yarn = y.yarn
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
func (w *worker) inertia(n *node, c *coreOption, wd *head.Wound) float64 {
	if c.shaft == nil {
		return 0
	}
	h := &w.swing
	h.Stack.Core, h.Stack.Shaft = c.core, c.shaft
	h.CoreMass = c.bare.CoreMass
	h.Layers = h.Layers[:0]
	for x := n; x.up != nil; x = x.up {
		h.Layers = append(h.Layers, head.Layer{Under: x.under, Wall: measure.Length(x.wall), Mass: measure.Mass(x.mass - x.up.mass)})
	}
	h.Bare, h.YarnWall, h.YarnMass = n.bed.Diameter, wd.Wall, wd.Mass
	h.Mass = c.bare.CoreMass + measure.Mass(n.mass) + wd.Mass
	lim := &w.f.Catalogue().Limits
	return h.SwingAt(measure.Length(lim.HandM.Value), lim).InertiaKgM2 * 1000
}

// reaches reports whether the tubing on hand gives the slices of node x for
// every head, its topmost being of tube t.
func (w *worker) reaches(x *node, t int) bool {
	var need float64
	count := 0
	for n := x; n.up != nil; n = n.up {
		if n.tube == t {
			need += float64(n.cut)
			count++
		}
	}
	heads := w.q.Count()
	kerf := w.f.Catalogue().Limits.KerfM.Value
	need = need*float64(heads) + kerf*float64(count*heads-1)
	sum := 0.0
	for _, l := range w.tubes[t].stock {
		sum += l
	}
	if need > sum+kerf*float64(len(w.tubes[t].stock)-1)+1e-9 {
		return false
	}
	if len(w.tubes[t].stock) == 1 {
		return true
	}
	return cuts(w.f, x, t, w.tubes[t].stock, heads)
}
