package propose

import (
	"cmp"
	"context"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
)

// The search is an exact branch and bound. A node is a core size with some
// slices fitted over it; below it lie the same with one slice more. A branch
// is dropped when the rules refuse its topmost slice (nothing above can help a
// slice that slaps), when they refuse every head that could lie in it, or when
// none can score as high as what has been found. What "every head in it" comes
// to is a box of facts: mass and size only grow, stretch only adds, and a
// layer never makes a head harder, so that the softness of the bare node
// bounds all above it from below.
//
// Nodes are taken level by level, fewest slices first, so that simple heads
// set the bar early. Each level is shared out among the processors. Ties are
// broken by the parts, so the answer does not depend on who was first.

// mostLayers is how many slices a head may have.
const mostLayers = 4

// slackNotches is how much harder, in notches, a layer may make a head before the
// bounds would no longer hold. The tests measure that it never does.
const slackNotches = 0.05

// node is a stack of fitted slices on the cores of a root.
type node struct {
	up    *node
	root  *root
	tube  int
	depth int
	bed   head.Bed
	under measure.Length
	wall  float64 // stretched, m
	cut   measure.Length

	mass     float64 // of the slices, kg
	massTol2 float64 // squared
	cents    float64 // of the slices
	handN    float64
	gripKPa  float64
	rubberMM float64
	latex    bool
	glued    bool
	likes    float64 // what the layer rules prefer, or the most they can
	least    float64 // softness that no head of the node, or above it, is harder than
	layer    facts.Layer
	kids     []*node // those that no rule refuses, once grown
	grown    bool
}

// found is a head that the search has looked at in full.
type found struct {
	node  *node
	core  int
	wrap  int
	turns int
	score float64
	facts facts.Head
}

// foundFor is a head found for a goal.
type foundFor struct {
	found
	goal int
}

// compare orders by score, best first, and then by parts.
func (a *found) compare(b *found) int {
	if c := cmp.Compare(b.score, a.score); c != 0 {
		return c
	}
	if c := a.node.compare(b.node); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.core, b.core), cmp.Compare(a.wrap, b.wrap))
}

// compare orders nodes by their parts.
func (a *node) compare(b *node) int {
	if c := cmp.Or(cmp.Compare(a.depth, b.depth), cmp.Compare(a.root.diameter, b.root.diameter), cmp.Compare(a.root.family, b.root.family)); c != 0 {
		return c
	}
	for ; a.up != nil; a, b = a.up, b.up {
		if c := cmp.Compare(a.tube, b.tube); c != 0 {
			return c
		}
	}
	return 0
}

// goal is something to find: the best few heads of a kind.
type goal struct {
	most int
	is   func(h *facts.Head) bool // nil: any head
	// clip narrows a box to the heads in it that may be of the kind, and
	// reports whether there may be any; nil leaves it as it is.
	clip func(lo, hi *facts.Head) bool

	found func() // called when there is one, when not nil

	mu    sync.Mutex
	best  []found // sorted, at most most, each of another node and core
	floor atomic.Uint64
}

// newGoal looks for the most best heads that score at least floor.
func newGoal(most int, floor float64) *goal {
	g := &goal{most: most}
	g.floor.Store(math.Float64bits(floor))
	return g
}

// bar is the score that a head has to reach to be among the best.
func (g *goal) bar() float64 { return math.Float64frombits(g.floor.Load()) }

func (g *goal) add(x *found) {
	g.mu.Lock()
	defer g.mu.Unlock()
	at, _ := slices.BinarySearchFunc(g.best, x, func(a found, b *found) int { return a.compare(b) })
	if at == g.most {
		return
	}
	if len(g.best) == g.most {
		g.best = g.best[:g.most-1]
	}
	g.best = slices.Insert(g.best, at, *x)
	if g.found != nil {
		g.found()
	}
	if len(g.best) == g.most {
		g.floor.Store(math.Float64bits(max(g.bar(), g.best[g.most-1].score)))
	}
}

// search is one run.
type search struct {
	*kit
	f      *Finder
	q      Request
	known  rules.Known
	base   facts.Facts
	goals  []*goal
	j      *judging
	limit  int     // of heads to look at, found or not; zero is none
	ground []*node // one for each root, kept from run to run
	seen   []found // for the first goal, the best on each rubber and core that could have been of use when it was looked at

	tried, buildable atomic.Int64
	refused          map[string]int
	stopped          atomic.Bool
}

func (f *Finder) search(q Request) *search {
	j := f.judging(q)
	s := &search{
		kit: f.kit(q, j), f: f, q: q, base: j.base,
		known:   f.told(j.base, q.Known),
		refused: map[string]int{},
		j:       j,
	}
	return s
}

// run searches for the goals.
func (s *search) run(ctx context.Context, goals ...*goal) {
	s.goals = goals
	s.stopped.Store(false)
	level := slices.Clone(s.ground)
	s.seen = nil
	workers := make([]*worker, max(1, min(runtime.GOMAXPROCS(0), 8)))
	for i := range workers {
		workers[i] = s.worker()
	}
	if level == nil {
		for _, r := range s.roots {
			level = append(level, workers[0].root(r))
		}
		s.promising(level, yarnNotches)
		s.ground = slices.Clone(level)
	}
	s.enough(ctx, workers)
	next := s.visit(ctx, workers, level)
	for len(next) > 0 && !s.stopped.Load() {
		s.promising(next, layerNotches)
		level, next = next, nil
		for from := 0; from < len(level) && !s.stopped.Load(); from += brood {
			kids := s.grow(ctx, workers, level[from:min(from+brood, len(level))])
			s.promising(kids, yarnNotches)
			next = append(next, s.visit(ctx, workers, kids)...)
		}
	}
	for _, w := range workers {
		s.tried.Add(w.tried)
		s.buildable.Add(w.buildable)
		for r, n := range w.refused {
			s.refused[r.ID] += n
		}
	}
}

// enough tells how far the search has come, and stops it once it has looked at
// as many heads as the request allows and has found one that can be built, or
// at as many as it may at all. It is asked between batches only, so that where
// it stops does not depend on which processor was first.
func (s *search) enough(ctx context.Context, workers []*worker) {
	var tried int64
	for _, w := range workers {
		tried += w.tried
	}
	if s.q.Progress != nil {
		s.q.Progress(int(tried))
	}
	if s.q.Most > 0 && tried >= int64(s.q.Most) && len(s.goals[0].best) > 0 || s.limit > 0 && tried >= int64(s.limit) || ctx.Err() != nil {
		s.stopped.Store(true)
	}
}

// batch is how many nodes are shared out at a time, brood how many are grown at
// a time. The bar is raised between batches only, so that what is looked at
// does not depend on which processor was first.
const batch, brood = 32, 32

// share does something to each of some nodes, on all workers.
func (s *search) share(workers []*worker, nodes []*node, do func(*worker, *node)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for _, w := range workers {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(nodes)); i = next.Add(1) - 1 {
				do(w, nodes[i])
			}
		})
	}
	wait.Wait()
}

// grow returns the nodes above some nodes, where heads worth looking at may be.
func (s *search) grow(ctx context.Context, workers []*worker, nodes []*node) (kids []*node) {
	s.share(workers, nodes, (*worker).grow)
	for _, w := range workers {
		kids = append(kids, w.next...)
		w.next = w.next[:0]
	}
	s.enough(ctx, workers)
	return kids
}

// visit looks at the heads of some nodes, and returns the nodes that can grow.
func (s *search) visit(ctx context.Context, workers []*worker, nodes []*node) []*node {
	pin := s.q.Pin.Tubing
	for from := 0; from < len(nodes) && !s.stopped.Load(); from += batch {
		s.share(workers, nodes[from:min(from+batch, len(nodes))], (*worker).visit)
		s.collect(workers)
		s.enough(ctx, workers)
	}
	if len(nodes) > 0 && (nodes[0].depth == mostLayers || pin != nil && nodes[0].depth == len(pin)) {
		return nil
	}
	return nodes
}

// collect hands what the workers found to the goals.
func (s *search) collect(workers []*worker) {
	for _, w := range workers {
		for i := range w.found {
			x := &w.found[i]
			s.goals[x.goal].add(&x.found)
			if x.goal == 0 {
				s.seen = append(s.seen, x.found)
			}
		}
		w.found = w.found[:0]
	}
}

// yarnNotches and layerNotches are roughly what yarn, and a slice and yarn, add to
// the softness of a node. They settle only what is looked at first.
const yarnNotches, layerNotches = 1, 4

// promising puts first the nodes whose heads are likely to be as soft as
// wanted, so that the bar is set high early. gain is what they have over the
// node.
func (s *search) promising(level []*node, gain float64) {
	off := func(n *node) float64 { return math.Abs(n.least + gain - s.base.Want.Softness) }
	slices.SortFunc(level, func(a, b *node) int { return cmp.Or(cmp.Compare(off(a), off(b)), a.compare(b)) })
}

// worker is what one processor needs to search without allocating for each
// head.
type worker struct {
	*search
	j       *judging
	early   *rules.Scorer[facts.Facts] // of layers, before the head is known
	bound   *rules.Bounder[facts.Facts]
	fitted  *rules.Bounder[facts.Facts] // of layers
	lo, hi  facts.Facts
	at      facts.Facts
	body    strike.Body
	strokes []strike.Reduced
	wound   []head.Wound
	layers  []facts.Layer
	swing   head.Head
	local   []found    // by goal, the best so far on one rubber and core
	anyLo   facts.Head // the corners of all heads there can be
	anyHi   facts.Head
	clipLo  facts.Facts
	clipHi  facts.Facts
	anyWrap []int

	mostG, mostMM float64             // past which the rules refuse any head
	thick         strike.Rubber       // thicker and softer than any tubing of the kit
	mostHead      float64             // most that the rules on a head can add to its score
	mostLayer     [mostLayers]float64 // and those on a layer, by its place from the inside
	sorted        []int
	yarnLo        facts.Head // of the yarn alone
	yarnHi        facts.Head
	next          []*node
	found         []foundFor

	tried, buildable int64
	refused          map[*rules.Rule]int
}

func (s *search) worker() *worker {
	early := rules.Known{}
	for path := range s.known {
		if s.known[path] && !(len(path) > 5 && path[:5] == "head.") {
			early[path] = true
		}
	}
	w := &worker{
		search: s, j: s.f.judging(s.q),
		early:   s.f.book.Scorer("layer", early),
		wound:   make([]head.Wound, len(s.wraps)),
		refused: map[*rules.Rule]int{},
	}
	w.lo, w.hi, w.at = s.base, s.base, s.base
	w.clipLo, w.clipHi = s.base, s.base
	anything(&w.lo.Head, &w.hi.Head)
	w.bound, w.j.head = s.f.book.Bounder("head", s.known).Within(&w.lo, &w.hi)
	w.mostHead, _ = w.bound.Bound(&w.lo, &w.hi)
	layers := s.f.book.Bounder("layer", s.known)
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
	for i := range s.wraps {
		w.anyWrap = append(w.anyWrap, i)
	}
	w.body.Grip = s.grip
	w.body.Rubber = make([]strike.Rubber, 0, mostLayers)
	return w
}

// anything makes lo and hi, pointers to a struct of facts, the corners of a box
// that holds all there can be.
func anything(lo, hi any) {
	a, b := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem()
	for i := range a.NumField() {
		switch x, y := a.Field(i), b.Field(i); x.Kind() {
		case reflect.Float64:
			x.SetFloat(math.Inf(-1))
			y.SetFloat(math.Inf(1))
		case reflect.String:
			x.SetString("")
			y.SetString(anyText)
		case reflect.Bool:
			x.SetBool(false)
			y.SetBool(true)
		}
	}
}

// widen makes the box from lo to hi hold x as well.
func widen(lo, hi, x *facts.Head) {
	a, b, c := reflect.ValueOf(lo).Elem(), reflect.ValueOf(hi).Elem(), reflect.ValueOf(x).Elem()
	for i := range a.NumField() {
		switch l, h, v := a.Field(i), b.Field(i), c.Field(i); l.Kind() {
		case reflect.Float64:
			l.SetFloat(min(l.Float(), v.Float()))
			h.SetFloat(max(h.Float(), v.Float()))
		case reflect.String:
			if l.String() != v.String() {
				h.SetString(anyText)
			}
		case reflect.Bool:
			l.SetBool(l.Bool() && v.Bool())
			h.SetBool(h.Bool() || v.Bool())
		}
	}
}

// visit looks at the heads of a node.
func (w *worker) visit(n *node) {
	if pin := w.q.Pin.Tubing; pin == nil || n.depth == len(pin) {
		w.heads(n, n.least)
	}
}

// hopeful reports whether a head above a node may be worth looking at: with any
// number of layers more, and then with each.
func (w *worker) hopeful(n *node) bool {
	w.setRubber(n)
	w.windAll(n)
	w.forget()
	w.above(n, n.depth+1, mostLayers)
	if !w.worth(n, n.least, math.Inf(1), mostLayers) {
		return false
	}
	for layers := n.depth + 1; layers <= mostLayers; layers++ {
		most := w.softestAbove(n, layers)
		w.above(n, layers, layers)
		if w.worth(n, n.least, most, layers) {
			return true
		}
	}
	return false
}

// windAll winds every wrap over a node.
func (w *worker) windAll(n *node) {
	for i := range w.wraps {
		if o := &w.wraps[i]; !o.none {
			w.wound[i] = o.wrap.Wind(n.bed.Diameter, n.root.diameter)
		}
	}
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
	w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.j.sound.ref, w.j.sound.mf)
	return w.j.sound.notches(w.strokes[0].CutoffHz)
}

// grow goes on to the nodes above a node when there is hope. What has been fitted is kept for the
// next run of the search.
func (w *worker) grow(n *node) {
	if !w.hopeful(n) {
		return
	}
	if !n.grown {
		w.fit(n)
		for _, x := range n.kids {
			w.measure(x)
		}
	}
	w.next = append(w.next, n.kids...)
}

// fit fits every tubing over a node.
func (w *worker) fit(n *node) {
	n.grown = true
	for t := range w.tubes {
		o := &w.tubes[t]
		if pin := w.q.Pin.Tubing; pin != nil && pin[n.depth] != o.slice.Tube.ID {
			continue
		}
		l := head.Fit(n.bed, o.slice, &w.f.cat.Limits)
		w.at.Layer = w.f.layerFacts(&l, n.depth+1, n.root.family)
		w.at.Head = facts.Head{}
		likes, refused := w.early.Score(&w.at)
		if refused == nil && w.f.late {
			likes, refused = w.likesAtMost(&w.at.Layer)
		}
		if refused != nil {
			w.refused[refused]++
			w.tried++
			continue
		}
		x := &node{
			up: n, root: n.root, tube: t, depth: n.depth + 1,
			bed: l.Bed(), under: l.Under, wall: float64(l.Wall), cut: l.Cut,
			mass:     n.mass + float64(l.Mass),
			massTol2: n.massTol2 + float64(l.MassTol*l.MassTol),
			cents:    n.cents + sliceCents(o.cents, l.Cut, &w.f.cat.Limits),
			handN:    max(n.handN, w.at.Layer.HandN),
			gripKPa:  min(n.gripKPa, w.at.Layer.GripKPa),
			rubberMM: n.rubberMM + w.at.Layer.WallMM,
			latex:    n.latex || w.at.Layer.Latex,
			glued:    n.glued || l.Verdict == head.Loose,
			likes:    n.likes + likes,
			layer:    w.at.Layer,
		}
		if o.stock != nil && !w.reaches(x, t) {
			continue
		}
		n.kids = append(n.kids, x)
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
	hopeful := false
	for i, g := range w.goals {
		if lo, hi := w.clip(g); lo != nil && top-w.j.leastOff(&lo.Head, &hi.Head) >= w.bar(i) {
			hopeful = true
			break
		}
	}
	if !hopeful {
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
		case lo == least && hi == most && w.goals[0].clip == nil:
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
		off := w.j.leastOff(&lo.Head, &hi.Head)
		if top-off < w.bar(i) {
			continue
		}
		x := likes
		var refused *rules.Rule
		switch {
		case g.clip != nil:
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

// narrow gives the box a softness.
func (w *worker) narrow(least, most float64) {
	w.lo.Head.Softness, w.hi.Head.Softness = least, most
	w.heard(&w.lo.Head, &w.hi.Head)
}

// clip returns the part of the box that may serve a goal, nil when none may.
func (w *worker) clip(g *goal) (lo, hi *facts.Facts) {
	if g.clip == nil {
		return &w.lo, &w.hi
	}
	w.clipLo.Head, w.clipHi.Head = w.lo.Head, w.hi.Head
	if !g.clip(&w.clipLo.Head, &w.clipHi.Head) {
		return nil, nil
	}
	w.heard(&w.clipLo.Head, &w.clipHi.Head)
	return &w.clipLo, &w.clipHi
}

// bar is the score that a head has to reach to matter for a goal: to be among
// the best, and the best on its own rubber and core.
func (w *worker) bar(i int) float64 {
	return max(w.goals[i].bar(), w.local[i].score)
}

// leastPulse and mostPulse bound the product of cut-off and contact time at
// mf. It is 1.14 at least, and 2.9 at most where a thin layer is squeezed flat;
// the tests measure it.
const leastPulse, mostPulse = 1.0, 3.6

// leastRise and mostRise bound the cut-off at f over that at mf, which is 1.11
// to 2.3; leastOpens and mostOpens bound how much a head opens up, which is 0.4
// to 3 octaves. The tests measure them.
const (
	leastRise, mostRise   = 1.0, 2.8
	leastOpens, mostOpens = 0.3, 3.5
)

// likes is the most that the layer rules can add to a head of so many layers,
// or fewer, on the node.
func (w *worker) likes(n *node, layers int) float64 {
	sum := n.likes
	for i := n.depth; i < layers; i++ {
		sum += max(0, w.mostLayer[i])
	}
	return sum
}

// anyText stands in one corner of a box for a text that may be anything.
const anyText = "\x00"

// softestAbove is an upper bound on the softness of the heads of so many layers
// above a node: that of a head with the thickest and softest tubing of the kit,
// not thinned by stretching, for each layer more, under yarn half as thick
// again as any, as heavy and no larger than the rules allow any head, on the
// radius of the node.
func (w *worker) softestAbove(n *node, layers int) float64 {
	room := max(0, (w.mostMM-n.bed.Diameter.MM())/2000)
	y := w.thickest(w.anyWrap)
	y.yarn.Wall = min(1.5*y.yarn.Wall, room)
	w.put(n, &n.root.softest, 0, y)
	w.body.Mass = w.mostG / 1000
	x := w.thick
	x.Wall = min(x.Wall*float64(layers-n.depth), room)
	if x.Wall > 0 {
		w.body.Rubber = append(w.body.Rubber, x)
	}
	most := w.notches() + slackNotches
	w.setRubber(n)
	return most
}

// limits finds the largest mass and diameter that the rules allow any head, as
// far as half a kilogram and 15 cm.
func (w *worker) limits() {
	least := func(most float64, value func(h *facts.Head) *float64) float64 {
		lo, hi := 0.0, most
		for range 24 {
			mid := (lo + hi) / 2
			w.lo.Head, w.hi.Head = w.anyLo, w.anyHi
			*value(&w.lo.Head) = mid
			if _, refused := w.bound.Bound(&w.lo, &w.hi); refused != nil {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi
	}
	w.mostG = least(500, func(h *facts.Head) *float64 { return &h.MassG })
	w.mostMM = least(150, func(h *facts.Head) *float64 { return &h.DiameterMM })
	for i := range w.tubes {
		t := &w.tubes[i]
		if w.thick.Modulus == 0 || t.rubber.Modulus < w.thick.Modulus {
			w.thick.Modulus = t.rubber.Modulus
		}
		w.thick.Wall = max(w.thick.Wall, float64(t.slice.Tube.Wall))
		w.thick.Loss = max(w.thick.Loss, t.rubber.Loss)
	}
}

// above makes the box of the heads above a node with least to most layers.
func (w *worker) above(n *node, least, most int) {
	lo, hi := &w.lo.Head, &w.hi.Head
	*lo, *hi = w.anyLo, w.anyHi
	ofCore(lo, &n.root.lo)
	ofCore(hi, &n.root.hi)
	lo.Layers, hi.Layers = float64(least), float64(most)
	lo.RubberMM, lo.HandN, lo.YarnMM, lo.Turns, lo.MassTolG = n.rubberMM, n.handN, 0, 0, 0
	lo.Latex = n.root.lo.Latex || n.latex
	lo.Glued = n.glued
	hi.Solvent = w.f.onlySolvent
	lo.LeastGrip = 0
	if n.depth > 0 {
		hi.LeastGrip = n.gripKPa
	}
	lo.MassG = n.root.lo.MassG + n.mass*1000
	lo.DiameterMM = n.bed.Diameter.MM()
	lo.CostCents = n.root.leastCents + n.cents
	w.unheard()
}

// ofCore copies the facts of core and shaft.
func ofCore(to, from *facts.Head) {
	to.Core, to.Material, to.CoreMM, to.CoreA, to.Drilled, to.BoreMM = from.Core, from.Material, from.CoreMM, from.CoreA, from.Drilled, from.BoreMM
	to.Shaft, to.ShaftMM, to.ShaftLong = from.Shaft, from.ShaftMM, from.ShaftLong
}

// within makes the box of the heads of a node on cores from a to b, with some
// of the wraps.
func (w *worker) within(n *node, a, b *facts.Head, leastCents, mostCents float64, wraps []int) {
	lo, hi := &w.lo.Head, &w.hi.Head
	w.static(lo, n, a, leastCents)
	w.static(hi, n, b, mostCents)
	hi.MassTolG = math.Inf(1)
	for i, x := range wraps {
		o, wd := &w.wraps[x], &w.wound[x]
		f := facts.Head{
			Fibre: o.wrap.Yarn.Fibre, YarnMM: wd.Wall.MM(), Turns: float64(wd.Turns),
			MassG: wd.Mass.Grams(), CostCents: o.cents * float64(wd.Mass),
		}
		hi.Latex = hi.Latex || o.wrap.Fibre.Latex
		if i == 0 {
			w.yarnLo, w.yarnHi = f, f
			continue
		}
		l, h := &w.yarnLo, &w.yarnHi
		if f.Fibre != l.Fibre {
			h.Fibre = anyText
		}
		l.YarnMM, h.YarnMM = min(l.YarnMM, f.YarnMM), max(h.YarnMM, f.YarnMM)
		l.Turns, h.Turns = min(l.Turns, f.Turns), max(h.Turns, f.Turns)
		l.MassG, h.MassG = min(l.MassG, f.MassG), max(h.MassG, f.MassG)
		l.CostCents, h.CostCents = min(l.CostCents, f.CostCents), max(h.CostCents, f.CostCents)
	}
	add := func(x, yarn *facts.Head) {
		x.Fibre, x.YarnMM, x.Turns = yarn.Fibre, yarn.YarnMM, yarn.Turns
		x.MassG += yarn.MassG
		x.DiameterMM += 2 * yarn.YarnMM
		x.CostCents += yarn.CostCents
	}
	add(lo, &w.yarnLo)
	add(hi, &w.yarnHi)
	w.unheard()
}

// unheard opens the box to all that is not known before a stroke.
func (w *worker) unheard() {
	lo, hi := &w.lo.Head, &w.hi.Head
	inf := math.Inf(1)
	lo.InertiaGM2, hi.InertiaGM2 = 0, inf
	lo.SoftnessTol, hi.SoftnessTol = 0, inf
	lo.MoreSoftness, hi.MoreSoftness, lo.LessSoftness, hi.LessSoftness = -inf, inf, -inf, inf
	w.unheardLoud()
}

// unheardLoud opens the box to all that is not known from a stroke at mf.
func (w *worker) unheardLoud() {
	lo, hi := &w.lo.Head, &w.hi.Head
	inf := math.Inf(1)
	lo.CutoffPHz, lo.CutoffFHz, lo.CutoffFFHz, lo.PeakN = 0, 0, 0, 0
	hi.CutoffPHz, hi.CutoffFHz, hi.CutoffFFHz, hi.PeakN = inf, inf, inf, inf
	lo.OpensUp, hi.OpensUp = leastOpens, mostOpens
	lo.BrightDB, hi.BrightDB = -inf, inf
	lo.YarnShareP, lo.YarnShareF, lo.CoreShareP, lo.CoreShareF = 0, 0, 0, 0
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
}

// heard narrows a box by what follows from its softness.
func (w *worker) heard(lo, hi *facts.Head) {
	lo.CutoffMFHz, hi.CutoffMFHz = w.j.sound.cutoff(hi.Softness), w.j.sound.cutoff(lo.Softness)
	lo.ContactMS, hi.ContactMS = 1000*leastPulse/hi.CutoffMFHz, 1000*mostPulse/lo.CutoffMFHz
	w.heardLoud(lo, hi)
	w.span(lo, hi)
}

// heardLoud narrows a box by what follows from the cut-off at mf for a louder
// stroke.
func (w *worker) heardLoud(lo, hi *facts.Head) {
	lo.BrightDB, hi.BrightDB = w.j.sound.bright(lo.CutoffMFHz*leastRise), w.j.sound.bright(hi.CutoffMFHz*mostRise)
}

// span bounds the notes served by those of the two ends of the softness. At
// some cut-offs no note is served, which counts as 0.
func (w *worker) span(lo, hi *facts.Head) {
	lo.LowHz, lo.HighHz = w.j.sound.served(lo.CutoffMFHz)
	hi.LowHz, hi.HighHz = w.j.sound.served(hi.CutoffMFHz)
	if hi.HighHz == 0 {
		last := w.j.sound.notes[len(w.j.sound.notes)-1]
		lo.LowHz, lo.HighHz, hi.LowHz, hi.HighHz = 0, 0, last, last
	}
}

// static fills in the facts of a node's rubber on a core, without yarn.
func (w *worker) static(x *facts.Head, n *node, core *facts.Head, cents float64) {
	*x = *core
	x.Layers = float64(n.depth)
	x.RubberMM = n.rubberMM
	x.Latex = x.Latex || n.latex
	x.HandN = n.handN
	if n.depth > 0 {
		x.LeastGrip = n.gripKPa
	}
	x.MassG += n.mass * 1000
	x.DiameterMM = n.bed.Diameter.MM()
	x.CostCents = cents + n.cents
	x.Glued = n.glued
	x.Solvent = n.glued && w.f.onlySolvent
}

// holds reports whether a head of a node, which are no harder than least, may
// be worth looking at, and how soft they are at most.
func (w *worker) holds(n *node, least float64) (most float64, ok bool) {
	r := n.root
	w.setRubber(n)
	w.windAll(n)
	w.forget()
	w.within(n, &r.lo, &r.hi, r.leastCents, r.mostCents, w.anyWrap)
	if !w.worth(n, least, math.Inf(1), n.depth) {
		return 0, false // whatever its softness
	}
	w.put(n, &r.softest, r.heaviest, w.thickest(w.anyWrap))
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
		mass := float64(c.bare.Mass)
		w.forget()
		if len(r.cores) > 1 {
			w.set(n, &c.body, mass)
			least = w.notches() - slackNotches
			w.put(n, &c.body, mass, w.thickest(w.anyWrap))
			most = w.notches() + slackNotches
			w.within(n, &c.facts, &c.facts, c.cents, c.cents, w.anyWrap)
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
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, class)
	if !w.worth(n, least, most, n.depth) {
		return
	}
	list := append(w.sorted[:0], class...)
	w.sorted = list
	slices.SortFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(w.wound[a].Wall, w.wound[b].Wall), cmp.Compare(a, b))
	})
	first := w.look(n, core, list[0])
	if list = list[1:]; len(list) == 0 {
		return
	}
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, list)
	if !w.worth(n, first-slackNotches, most, n.depth) {
		return
	}
	last := w.look(n, core, list[len(list)-1])
	w.between(n, core, list[:len(list)-1], first, last)
}

// between looks at wraps whose softness lies between first and last.
func (w *worker) between(n *node, core int, list []int, first, last float64) {
	if len(list) == 0 {
		return
	}
	c := &n.root.cores[core]
	w.within(n, &c.facts, &c.facts, c.cents, c.cents, list)
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
	c, o, wd := &n.root.cores[core], &w.wraps[wrap], &w.wound[wrap]
	w.tried++
	x := &w.at.Head
	w.static(x, n, &c.facts, c.cents)
	if !o.none {
		x.Fibre, x.Turns, x.YarnMM = o.wrap.Yarn.Fibre, float64(wd.Turns), wd.Wall.MM()
		x.Latex = x.Latex || o.wrap.Fibre.Latex
		x.MassG += wd.Mass.Grams()
		x.DiameterMM += 2 * x.YarnMM
		x.CostCents += o.cents * float64(wd.Mass)
	}
	w.put(n, &c.body, float64(c.bare.Mass), yarnOf(o, wd))
	w.notches()
	w.j.sound.fillMF(x, w.strokes[0])
	if float64(wd.Mass) > o.most {
		return x.Softness // not enough of this yarn, but its softness bounds others
	}
	x.MassTolG = 1000 * math.Sqrt(float64(c.bare.MassTol*c.bare.MassTol)+n.massTol2+float64(wd.MassTol*wd.MassTol))
	w.lo.Head, w.hi.Head = *x, *x
	w.hi.Head.InertiaGM2 = math.Inf(1)
	w.lo.Head.InertiaGM2 = 0
	w.unheardLoud()
	w.heardLoud(&w.lo.Head, &w.hi.Head)
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	if refused != nil {
		w.refused[refused]++
		return x.Softness
	}
	if !w.wanted(likes + w.likes(n, n.depth) - w.j.leastOff(&w.lo.Head, &w.hi.Head)) {
		return x.Softness
	}
	x.InertiaGM2 = w.inertia(n, c, wd)
	w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.j.sound.ref, w.j.sound.speeds)
	w.j.sound.fill(x, w.strokes)
	score, refused := w.judge(n)
	if refused != nil {
		w.refused[refused]++
		return x.Softness
	}
	w.buildable++
	for i, g := range w.goals {
		if score >= w.bar(i) && (g.is == nil || g.is(x)) {
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
	y := yarnBody{yarn: o.yarn, mass: float64(wd.Mass), radius: float64(wd.Wall)}
	y.yarn.Wall = float64(wd.Wall)
	return y
}

// thickest returns a wrap that is softer than all of a list: the thickest,
// softest and heaviest at once, on the radius of the thinnest.
func (w *worker) thickest(list []int) yarnBody {
	y := yarnBody{radius: math.Inf(1)}
	for _, i := range list {
		o, wd := &w.wraps[i], &w.wound[i]
		y.radius = min(y.radius, float64(wd.Wall))
		y.mass = max(y.mass, float64(wd.Mass))
		if o.none {
			continue
		}
		if y.yarn.Pressure == 0 || o.yarn.Pressure < y.yarn.Pressure {
			y.yarn.Pressure = o.yarn.Pressure
		}
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
	if !w.f.late {
		score, refused := w.j.score(&w.at, nil)
		return score + n.likes, refused
	}
	w.layers = slices.Grow(w.layers[:0], n.depth)[:n.depth]
	for x := n; x.up != nil; x = x.up {
		w.layers[x.depth-1] = x.layer
	}
	return w.j.score(&w.at, w.layers)
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
	lim := &w.f.cat.Limits
	return h.SwingAt(measure.Length(lim.HandM.Value), lim).InertiaKgM2 * 1000
}

// stack returns the parts of a found head.
func (s *search) stack(x *found) head.Stack {
	c := &x.node.root.cores[x.core]
	st := head.Stack{Core: c.core, Material: c.material, Shaft: c.shaft, Slices: make([]head.Slice, x.node.depth)}
	if st.Shaft != nil {
		shaft := *st.Shaft
		st.Shaft = &shaft
	}
	for n := x.node; n.up != nil; n = n.up {
		st.Slices[n.depth-1] = s.tubes[n.tube].slice
	}
	if o := &s.wraps[x.wrap]; !o.none {
		wrap := o.wrap
		wrap.Turns = x.turns
		if y, ok := s.f.cat.Yarn(wrap.Yarn.ID); ok {
			wrap.Yarn = y // with its own plain wrap again
		}
		st.Wrap = &wrap
	}
	return st
}

// layersOf returns the layer facts of a found head.
func (x *found) layersOf() []facts.Layer {
	out := make([]facts.Layer, x.node.depth)
	for n := x.node; n.up != nil; n = n.up {
		out[n.depth-1] = n.layer
	}
	return out
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
	heads := w.q.heads()
	kerf := w.f.cat.Limits.KerfM.Value
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
	return w.f.cuts(x, t, w.tubes[t].stock, heads)
}
