package propose

import (
	"cmp"
	"context"
	"math"
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

// slackSteps is how much harder, in steps, a layer may make a head before the
// bounds would no longer hold. The tests measure that it never does.
const slackSteps = 0.05

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
	layer    facts.Layer
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

// compare orders by score, best first, and then by parts.
func (a *found) compare(b *found) int {
	if c := cmp.Compare(b.score, a.score); c != 0 {
		return c
	}
	if c := cmp.Compare(a.node.depth, b.node.depth); c != 0 {
		return c
	}
	if c := cmp.Compare(a.node.root.diameter, b.node.root.diameter); c != 0 {
		return c
	}
	if c := cmp.Compare(a.node.root.family, b.node.root.family); c != 0 {
		return c
	}
	if c := cmp.Compare(a.core, b.core); c != 0 {
		return c
	}
	for x, y := a.node, b.node; x.up != nil; x, y = x.up, y.up {
		if c := cmp.Compare(x.tube, y.tube); c != 0 {
			return c
		}
	}
	return cmp.Compare(a.wrap, b.wrap)
}

// goal is something to find: the best few heads of a kind.
type goal struct {
	most     int
	is       func(h *facts.Head) bool      // nil: any head
	possible func(lo, hi *facts.Head) bool // whether a box may hold one

	mu    sync.Mutex
	best  []found // sorted, at most most
	floor atomic.Uint64
}

func newGoal(most int) *goal {
	g := &goal{most: most}
	g.floor.Store(math.Float64bits(math.Inf(-1)))
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
	if len(g.best) == g.most {
		g.floor.Store(math.Float64bits(g.best[g.most-1].score))
	}
}

// search is one run.
type search struct {
	*kit
	f     *Finder
	q     Request
	known rules.Known
	base  facts.Facts
	goals []*goal
	sound sound

	tried, buildable atomic.Int64
	mu               sync.Mutex
	refused          map[string]int
	stopped          atomic.Bool
}

func (f *Finder) search(q Request) *search {
	j := f.judging(q)
	s := &search{
		kit: f.kit(q, j), f: f, q: q, base: j.base,
		known:   f.told(j.base, q.Known),
		refused: map[string]int{},
		sound:   f.sound(j.base),
	}
	return s
}

// run searches for the goals.
func (s *search) run(ctx context.Context, goals ...*goal) {
	s.goals = goals
	level := make([]*node, len(s.roots))
	for i, r := range s.roots {
		level[i] = &node{root: r, bed: head.Ball(r.cores[0].core), gripKPa: math.Inf(1)}
	}
	workers := make([]*worker, max(1, min(runtime.GOMAXPROCS(0), 8)))
	for i := range workers {
		workers[i] = s.worker()
	}
	for len(level) > 0 && ctx.Err() == nil {
		var next atomic.Int64
		var wait sync.WaitGroup
		for _, w := range workers {
			w.next = nil
			wait.Go(func() {
				for ctx.Err() == nil {
					i := int(next.Add(1)) - 1
					if i >= len(level) {
						return
					}
					w.visit(level[i])
				}
			})
		}
		wait.Wait()
		level = nil
		for _, w := range workers {
			level = append(level, w.next...)
		}
	}
	for _, w := range workers {
		s.tried.Add(w.tried)
		s.buildable.Add(w.buildable)
		for r, n := range w.refused {
			s.refused[r.ID] += n
		}
	}
	if ctx.Err() != nil {
		s.stopped.Store(true)
	}
}

// worker is what one processor needs to search without allocating for each
// head.
type worker struct {
	*search
	j       *judging
	early   *rules.Scorer[facts.Facts] // of layers, before the head is known
	bound   *rules.Bounder[facts.Facts]
	lo, hi  facts.Facts
	at      facts.Facts
	body    strike.Body
	strokes []strike.Reduced
	wound   []head.Wound
	layers  []facts.Layer
	swing   head.Head
	next    []*node

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
	anything(&w.lo.Head, &w.hi.Head)
	w.bound, w.j.head = s.f.book.Bounder("head", s.known).Within(&w.lo, &w.hi)
	w.body.Grip = s.grip
	w.body.Rubber = make([]strike.Rubber, 0, mostLayers)
	return w
}

// anything makes lo and hi the corners of all heads there can be.
func anything(lo, hi *facts.Head) {
	inf := math.Inf(1)
	*lo = facts.Head{Steps: -inf, OpensUp: -inf, BrightDB: -inf}
	*hi = facts.Head{
		Core: anyText, Material: anyText, CoreMM: inf, CoreA: inf, Drilled: true, BoreMM: inf, Layers: inf, RubberMM: inf,
		Latex: true, Fibre: anyText, YarnMM: inf, Turns: inf, MassG: inf, MassTolG: inf, DiameterMM: inf, CostCents: inf,
		HandN: inf, LeastGrip: inf, Steps: inf, StepsTol: inf, CutoffPHz: inf, CutoffMFHz: inf, CutoffFHz: inf, CutoffFFHz: inf,
		OpensUp: inf, ContactMS: inf, PeakN: inf, YarnShareP: 1, YarnShareF: 1, CoreShareP: 1, CoreShareF: 1, LowHz: inf, HighHz: inf,
		BrightDB: inf, Solvent: true, Glued: true, Shaft: anyText, ShaftMM: inf, InertiaGM2: inf,
	}
}

// visit looks at the heads of a node and at the nodes above it.
func (w *worker) visit(n *node) {
	w.setRubber(n)
	bare := float64(n.bed.Diameter)
	for i := range w.wraps {
		if o := &w.wraps[i]; !o.none {
			w.wound[i] = o.wrap.Wind(n.bed.Diameter, n.root.diameter)
		}
	}
	exact := w.q.Pin.Tubing == nil || n.depth == len(w.q.Pin.Tubing)
	grow := n.depth < mostLayers && (w.q.Pin.Tubing == nil || n.depth < len(w.q.Pin.Tubing))
	deeper := false
	for ci := range n.root.cores {
		c := &n.root.cores[ci]
		w.body.Core = c.body
		w.body.Mass = float64(c.bare.Mass) + n.mass
		w.body.Radius = bare / 2
		w.body.Yarn = strike.Yarn{}
		w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.sound.ref, w.sound.mf)
		steps := w.sound.steps(w.strokes[0].CutoffHz)
		if exact {
			w.heads(n, ci, steps)
		}
		deeper = deeper || grow && w.worth(n, c, steps-slackSteps, math.Inf(1), true)
	}
	if deeper {
		w.grow(n)
	}
}

// grow fits every tubing over a node.
func (w *worker) grow(n *node) {
	for t := range w.tubes {
		o := &w.tubes[t]
		if pin := w.q.Pin.Tubing; pin != nil && pin[n.depth] != o.slice.Tube.ID {
			continue
		}
		l := head.Fit(n.bed, o.slice, &w.f.cat.Limits)
		w.at.Layer = w.f.layerFacts(&l, n.depth+1, n.root.family)
		w.at.Head = facts.Head{}
		likes, refused := w.early.Score(&w.at)
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
			cents:    n.cents + w.f.sliceCents(o.cents, l.Cut),
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
		w.next = append(w.next, x)
	}
	w.at.Layer = facts.Layer{}
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

// worth reports whether a head in a box may be among the best for a goal: the
// heads of a node and core, or all above it, with softness from least to most.
func (w *worker) worth(n *node, c *coreOption, least, most float64, above bool) bool {
	w.box(n, c, least, most, above)
	likes, refused := 0.0, (*rules.Rule)(nil)
	off := w.j.leastOff(&w.lo.Head, &w.hi.Head)
	first := true
	for _, g := range w.goals {
		bar := g.bar()
		if g.possible != nil && !g.possible(&w.lo.Head, &w.hi.Head) {
			continue
		}
		if first { // the rules are asked once, and only if it can matter
			first = false
			if likes, refused = w.bound.Bound(&w.lo, &w.hi); refused != nil {
				w.refused[refused]++
				return false
			}
			likes += w.likes(n, above)
		}
		if likes-off >= bar {
			return true
		}
	}
	return false
}

// likes is the most that the layer rules can add to a head of the node.
func (w *worker) likes(n *node, above bool) float64 {
	likes := n.likes
	if w.f.late {
		likes = w.f.mostLikes * float64(n.depth)
	}
	if above {
		likes += w.f.mostLikes * float64(mostLayers-n.depth)
	}
	return likes
}

// anyText stands in one corner of a box for a text that may be anything.
const anyText = "\x00"

// box fills lo and hi.
func (w *worker) box(n *node, c *coreOption, least, most float64, above bool) {
	lo, hi := &w.lo.Head, &w.hi.Head
	w.static(lo, n, c)
	*hi = *lo
	inf := math.Inf(1)
	if above {
		hi.Layers, hi.RubberMM, hi.HandN = mostLayers, inf, inf
		lo.LeastGrip = 0
		if n.depth == 0 {
			hi.LeastGrip = inf
		}
		hi.Latex, hi.Glued, hi.Solvent = true, true, hi.Solvent || w.f.onlySolvent
		hi.YarnMM, hi.Turns, hi.MassG, hi.MassTolG, hi.DiameterMM, hi.CostCents, hi.InertiaGM2 = inf, inf, inf, inf, inf, inf, inf
	} else {
		var yarn, mass, cents, turns, tol float64
		leastYarn, leastMass, leastCents, leastTurns := inf, inf, inf, inf
		for i := range w.wraps {
			o, wd := &w.wraps[i], &w.wound[i]
			hi.Latex = hi.Latex || o.wrap.Fibre.Latex
			x := o.cents * float64(wd.Mass)
			yarn, leastYarn = max(yarn, wd.Wall.MM()), min(leastYarn, wd.Wall.MM())
			mass, leastMass = max(mass, wd.Mass.Grams()), min(leastMass, wd.Mass.Grams())
			cents, leastCents = max(cents, x), min(leastCents, x)
			turns, leastTurns = max(turns, float64(wd.Turns)), min(leastTurns, float64(wd.Turns))
			tol = max(tol, wd.MassTol.Grams())
		}
		hi.YarnMM, lo.YarnMM = yarn, leastYarn
		hi.Turns, lo.Turns = turns, leastTurns
		hi.MassG, lo.MassG = hi.MassG+mass, lo.MassG+leastMass
		hi.MassTolG += tol
		hi.DiameterMM, lo.DiameterMM = hi.DiameterMM+2*yarn, lo.DiameterMM+2*leastYarn
		hi.CostCents, lo.CostCents = hi.CostCents+cents, lo.CostCents+leastCents
		hi.InertiaGM2 = inf
	}
	lo.Fibre, hi.Fibre = "", anyText
	lo.InertiaGM2 = 0
	lo.Steps, hi.Steps = least, most
	lo.CutoffMFHz, hi.CutoffMFHz = w.sound.cutoff(most), w.sound.cutoff(least)
	hi.CutoffPHz, hi.CutoffFHz, hi.CutoffFFHz = inf, inf, inf
	lo.OpensUp, hi.OpensUp = -inf, inf
	hi.StepsTol, hi.ContactMS, hi.PeakN = inf, inf, inf
	w.span(lo, hi)
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
	lo.BrightDB, hi.BrightDB = -inf, inf
}

// span bounds the notes served by those of the two ends of the softness. At
// some cut-offs no note is served, which counts as 0.
func (w *worker) span(lo, hi *facts.Head) {
	lo.LowHz, lo.HighHz = w.sound.served(lo.CutoffMFHz)
	hi.LowHz, hi.HighHz = w.sound.served(hi.CutoffMFHz)
	if hi.HighHz == 0 {
		last := w.sound.notes[len(w.sound.notes)-1]
		lo.LowHz, lo.HighHz, hi.LowHz, hi.HighHz = 0, 0, last, last
	}
}

// static fills in the facts of a node's rubber on a core, without yarn.
func (w *worker) static(x *facts.Head, n *node, c *coreOption) {
	*x = c.facts
	x.Layers = float64(n.depth)
	x.RubberMM = n.rubberMM
	x.Latex = x.Latex || n.latex
	x.HandN = n.handN
	if n.depth > 0 {
		x.LeastGrip = n.gripKPa
	}
	x.MassG += n.mass * 1000
	x.DiameterMM = n.bed.Diameter.MM()
	x.CostCents = c.cents + n.cents
	x.Glued = n.glued
	x.Solvent = n.glued && w.f.onlySolvent
}

// heads looks at every wrap of a node and core whose softness without yarn is
// bare.
func (w *worker) heads(n *node, ci int, bare float64) {
	c := &n.root.cores[ci]
	if !w.worth(n, c, bare-slackSteps, w.softest(n, c), false) {
		return
	}
	likes, _ := w.bound.Bound(&w.lo, &w.hi)
	likes += w.likes(n, false)
	for i := range w.wraps {
		o, wd := &w.wraps[i], &w.wound[i]
		if float64(wd.Mass) > o.most {
			continue
		}
		w.tried++
		x := &w.at.Head
		w.static(x, n, c)
		if !o.none {
			x.Fibre, x.Turns, x.YarnMM = o.wrap.Yarn.Fibre, float64(wd.Turns), wd.Wall.MM()
			x.Latex = x.Latex || o.wrap.Fibre.Latex
			x.MassG += wd.Mass.Grams()
			x.DiameterMM += 2 * wd.Wall.MM()
			x.CostCents += o.cents * float64(wd.Mass)
		}
		w.put(c, n, i)
		w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.sound.ref, w.sound.mf)
		x.Steps = w.sound.steps(w.strokes[0].CutoffHz)
		x.CutoffMFHz = w.strokes[0].CutoffHz
		x.ContactMS = w.strokes[0].ContactS * 1000
		x.LowHz, x.HighHz = w.sound.served(x.CutoffMFHz)
		x.MassTolG = 1000 * math.Sqrt(float64(c.bare.MassTol*c.bare.MassTol)+n.massTol2+float64(wd.MassTol*wd.MassTol))
		w.open(x)
		off := w.j.leastOff(&w.lo.Head, &w.hi.Head)
		if !w.wanted(likes - off) {
			continue
		}
		closer, refused := w.bound.Bound(&w.lo, &w.hi)
		if refused != nil {
			w.refused[refused]++
			continue
		}
		if !w.wanted(closer + w.likes(n, false) - off) {
			continue
		}
		x.InertiaGM2 = w.inertia(n, c, wd)
		w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.sound.ref, w.sound.speeds)
		w.sound.fill(x, w.strokes)
		score, refused := w.judge(n)
		if refused != nil {
			w.refused[refused]++
			continue
		}
		w.buildable++
		for _, g := range w.goals {
			if score >= g.bar() && (g.is == nil || g.is(x)) {
				g.add(&found{node: n, core: ci, wrap: i, turns: wd.Turns, score: score, facts: *x})
			}
		}
	}
}

// open makes the box of a head whose stroke is known at mf alone.
func (w *worker) open(x *facts.Head) {
	lo, hi := &w.lo.Head, &w.hi.Head
	*lo, *hi = *x, *x
	inf := math.Inf(1)
	lo.InertiaGM2, hi.InertiaGM2 = 0, inf
	lo.CutoffPHz, lo.CutoffFHz, lo.CutoffFFHz, lo.PeakN = 0, 0, 0, 0
	hi.CutoffPHz, hi.CutoffFHz, hi.CutoffFFHz, hi.PeakN = inf, inf, inf, inf
	lo.OpensUp, hi.OpensUp = -inf, inf
	lo.BrightDB, hi.BrightDB = -inf, inf
	lo.YarnShareP, lo.YarnShareF, lo.CoreShareP, lo.CoreShareF = 0, 0, 0, 0
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
}

// wanted reports whether a head that scores at most score can serve a goal.
func (w *worker) wanted(score float64) bool {
	for _, g := range w.goals {
		if score >= g.bar() {
			return true
		}
	}
	return false
}

// put makes the body that of a head with wrap i.
func (w *worker) put(c *coreOption, n *node, i int) {
	o, wd := &w.wraps[i], &w.wound[i]
	w.body.Core = c.body
	w.body.Mass = float64(c.bare.Mass) + n.mass + float64(wd.Mass)
	w.body.Radius = float64(n.bed.Diameter)/2 + float64(wd.Wall)
	w.body.Yarn = o.yarn
	w.body.Yarn.Wall = float64(wd.Wall)
}

// softest is an upper bound on the softness of the heads of a node: that of a
// head with the thickest, softest and heaviest yarn at once, on the radius of
// the thinnest.
func (w *worker) softest(n *node, c *coreOption) float64 {
	var y strike.Yarn
	mass, thin := 0.0, math.Inf(1)
	for i := range w.wraps {
		o, wd := &w.wraps[i], &w.wound[i]
		thin = min(thin, float64(wd.Wall))
		mass = max(mass, float64(wd.Mass))
		if o.none {
			continue
		}
		if y.Pressure == 0 || o.yarn.Pressure < y.Pressure {
			y.Pressure = o.yarn.Pressure
		}
		y.Wall = max(y.Wall, float64(wd.Wall))
		y.Loss = max(y.Loss, o.yarn.Loss)
	}
	w.body.Core = c.body
	w.body.Mass = float64(c.bare.Mass) + n.mass + mass
	w.body.Radius = float64(n.bed.Diameter)/2 + thin
	w.body.Yarn = y
	w.strokes = strike.Quick(w.strokes[:0], &w.body, &w.sound.ref, w.sound.mf)
	return w.sound.steps(w.strokes[0].CutoffHz) + slackSteps
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
