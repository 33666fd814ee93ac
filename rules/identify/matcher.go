package identify

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Sizes and limits of matching.
const (
	mostLikely  = 40
	mostExact   = 500        // stacks looked at again one by one
	faint       = 16         // a stack so much less likely than the best, by its logarithm, is left out
	bandToSigma = 1 / 1.9599 // from the half-width of a 95 % band
	cellMM      = 0.1        // grid of diameters at which fits are tabulated
)

// layerPrior is how usual heads with so many layers are taken to be before
// anything is measured. Common practice, no source.
func layerPrior() [propose.MostLayers + 1]float64 { return [...]float64{0.10, 0.50, 0.28, 0.09, 0.03} }

// bareprior is the share of finished heads without yarn.
const barePrior = 0.03

// matcher weighs stacks against measurements.
type matcher struct {
	f       *propose.Finder
	m       Measured
	lim     *knowledge.Limits
	shaft   *knowledge.Shaft
	cores   []knowledge.Core
	yarns   []head.Wrap
	tubes   []head.Slice
	scorer  sync.Pool // of *rules.Scorer, for the layer rules
	at      facts.Facts
	sound   propose.Sound
	cells   [][]atomic.Pointer[cell] // by tube and diameter of what it lies on, of rubber
	d, g    float64                  // measured diameter in metres and mass in kilograms; zero when not
	dVar    float64                  // of the measurements
	gVar    float64
	tried   int
	layered [propose.MostLayers + 1]float64
	fewest  int
	deepest int
}

// cell is a slice on a bed, as far as matching needs it.
type cell struct {
	ok    bool
	outer float64 // diameter over it
	mass  float64
	dVar  float64 // variance of what it adds to the diameter
	gVar  float64 // of its mass
	both  float64 // covariance
	likes float64 // odds of this tubing here, before normalising
}

func newMatcher(f *propose.Finder, m Measured) (*matcher, error) {
	if err := m.check(f.Catalogue()); err != nil {
		return nil, err
	}
	lim := &f.Catalogue().Limits
	t := &matcher{f: f, m: m, lim: lim, layered: layerPrior(), deepest: propose.MostLayers}
	// Whoever made it had the strength and leave to make it, and it is there
	// already: nothing is proposed.
	q := propose.Request{Known: rules.Known{}}
	q.Facts.Player = facts.Player{Grip: "two", Level: "many", HandN: lim.MostHandN.Value}
	q.Facts.Bench = facts.Bench{Drill: true, Scale: true, Caliper: true}
	q.Pass = gate.Settle(gate.Stated{Minor: gate.No, LatexOK: gate.Yes, RubberOK: gate.Yes, SolventOK: gate.Yes, Supervised: gate.Yes, Ventilated: gate.Yes})
	t.at = f.Settle(q)
	t.sound = f.Sound(t.at)
	early := rules.Known{}
	for path, is := range f.Told(t.at, nil) {
		early[path] = is && !strings.HasPrefix(path, "head.")
	}
	t.scorer.New = func() any { return f.Book().Scorer("layer", early) }
	if m.Shaft != "" {
		sh, _ := f.Catalogue().Shaft(m.Shaft)
		t.shaft = &sh
	}
	units := cmp.Or(m.Units, propose.Inch)
	sold := func(supply string) bool { return supply == "" || supply == units }
	for _, c := range f.Catalogue().Cores {
		if !sold(c.Supply) {
			continue
		}
		mat, _ := f.Catalogue().Material(c.Material)
		bore := cmp.Or(measure.Length(m.ShaftMM)*measure.Millimetre, 0)
		if t.shaft != nil {
			bore = t.shaft.Diameter
		}
		if m.Core != "" && mat.Family != m.Core || c.Bore > 0 && bore > 0 && math.Abs((c.Bore-bore).MM()) > 2*cmp.Or(m.ShaftErr, 0.2) {
			continue
		}
		t.cores = append(t.cores, c)
	}
	for _, y := range f.Catalogue().Yarns {
		if m.Fibre == "" || y.Fibre == m.Fibre {
			fibre, _ := f.Catalogue().Material(y.Fibre)
			t.yarns = append(t.yarns, head.Wrap{Yarn: y, Fibre: fibre})
		}
	}
	widest := measure.Length(0)
	for _, c := range f.Catalogue().Cores {
		widest = max(widest, c.Diameter)
	}
	for _, tube := range f.Catalogue().Tubing {
		if !sold(tube.Supply) && tube.ID != m.Outermost {
			continue
		}
		mat, _ := f.Catalogue().Material(tube.Material)
		t.tubes = append(t.tubes, head.Slice{Tube: tube, Rubber: mat})
	}
	t.cells = make([][]atomic.Pointer[cell], len(t.tubes))
	for i := range t.cells {
		t.cells[i] = make([]atomic.Pointer[cell], int((widest.MM()+60)/cellMM))
	}
	square := func(band, usual float64) float64 { s := cmp.Or(band, usual) * bandToSigma; return s * s }
	t.d = m.DiameterMM / 1000
	t.dVar = square(m.DiameterErr/1000, lim.DiameterErrorM.Value)
	t.g, t.gVar = m.MassG/1000, square(m.MassErr/1000, lim.MassErrorKg.Value)
	if t.g == 0 && m.MalletG > 0 {
		t.g = m.MalletG/1000 - float64(t.shaft.Mass)
		t.gVar = square(m.MalletErr/1000, lim.MassErrorKg.Value) + square(float64(t.shaft.MassTol), 0)
		if t.g <= 0 {
			return nil, fault.Errorf("%.1f g with its shaft is no more than the shaft alone, %s", m.MalletG, t.shaft.Mass)
		}
	}
	if m.Layers != nil {
		t.fewest, t.deepest = *m.Layers, *m.Layers
	}
	return t, nil
}

// path is a stack of slices.
type path struct {
	tubes [propose.MostLayers]uint8
	depth int8
	log   float64 // of its share of its state, before any measurement
}

// state is all stacks of a root that come to about the same diameter and mass,
// from the tables' point of view one and the same.
type state struct {
	cell           // of all slices together; outer is the diameter over them
	weight float64 // summed prior of its paths
	paths  []path  // the likeliest few, likeliest first
}

// Sizes of the tables of states. A state's own diameter and mass are the means
// of its paths, so that a bin is no rounding.
const (
	binMM     = 0.3
	binG      = 0.3
	mostPaths = 8
)

// weighed is a stack with the logarithm of its weight, over all yarns.
type weighed struct {
	path
	core int
	log  float64
}

// walk weighs every stack that fits: for each size and family of ball, the
// slices over it one after the other, where all that come to the same diameter
// and mass go on together. It returns the likeliest stacks, and the summed
// weight of the rest.
func (t *matcher) walk(ctx context.Context) ([]weighed, logSum) {
	var roots [][]int // cores over which slices fit alike
	for i, c := range t.cores {
		alike := func(r []int) bool {
			o := t.cores[r[0]]
			a, _ := t.f.Catalogue().Material(c.Material)
			b, _ := t.f.Catalogue().Material(o.Material)
			return o.Diameter == c.Diameter && a.Family == b.Family
		}
		if at := slices.IndexFunc(roots, alike); at >= 0 {
			roots[at] = append(roots[at], i)
		} else {
			roots = append(roots, []int{i})
		}
	}
	// What a root comes to hangs on that root alone, and they are gathered in
	// order, so that the answer does not hang on how many processors there are.
	var next atomic.Int64
	var wait sync.WaitGroup
	grown := make([]walker, len(roots))
	for range max(1, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			scorer := t.scorer.Get().(*rules.Scorer[facts.Facts])
			defer t.scorer.Put(scorer)
			for ctx.Err() == nil {
				r := int(next.Add(1)) - 1
				if r >= len(roots) {
					return
				}
				w := &grown[r]
				*w = walker{matcher: t, scorer: scorer, best: math.Inf(-1), floor: math.Inf(-1)}
				w.grow(ctx, roots[r])
			}
		})
	}
	wait.Wait()
	var list []weighed
	var rest logSum
	for i := range grown {
		w := &grown[i]
		t.tried += w.tried
		list = append(list, w.list...)
		rest.add(w.rest.log())
	}
	slices.SortStableFunc(list, likelier)
	for _, x := range list[min(mostExact, len(list)):] {
		rest.add(x.log)
	}
	return list[:min(mostExact, len(list))], rest
}

// likelier puts the likelier of two first.
func likelier(a, b weighed) int { return cmp.Compare(b.log, a.log) }

// walker is one root: a size and family of ball, and what could be over it.
type walker struct {
	*matcher
	scorer *rules.Scorer[facts.Facts]
	list   []weighed
	best   float64 // logarithm of the likeliest seen
	floor  float64 // of the least likely that is still held on to, once there are enough
	rest   logSum  // of all others
	tried  int
	fits   []cell
	wound  [][]wound // by diameter of the rubber, on the grid of fits
}

// coreWeight is a bored ball.
type coreWeight struct {
	diameter, mass float64
	dSigma         float64 // of its diameter
	dense          float64 // of its mass by density alone
}

func (t *matcher) coreWeight(c *knowledge.Core) coreWeight {
	h := t.bored(c)
	mat, _ := t.f.Catalogue().Material(c.Material)
	return coreWeight{
		diameter: float64(c.Diameter), mass: float64(h.CoreMass), dSigma: float64(c.Tol) * bandToSigma,
		dense: float64(h.CoreMass) * mat.DensityKgM3.Tol / mat.DensityKgM3.Value * bandToSigma,
	}
}

// bored is the ball alone, bored for the shaft as far as it is known.
func (t *matcher) bored(c *knowledge.Core) head.Head {
	mat, _ := t.f.Catalogue().Material(c.Material)
	s := head.Stack{Core: *c, Material: mat, Shaft: t.shaft}
	if t.shaft == nil {
		s.Core.Bore = cmp.Or(c.Bore, measure.Length(t.m.ShaftMM)*measure.Millimetre, usualBore)
	}
	return head.New(s, *t.lim)
}

// usualBore is what a ball is taken to be bored to when nothing is known of
// its shaft. Common practice, no source.
const usualBore = 5 * measure.Inch / 16

// grow puts slices over the cores of a root, a layer at a time.
func (w *walker) grow(ctx context.Context, cores []int) {
	balls := make([]coreWeight, len(cores))
	lightest := math.Inf(1)
	for i, c := range cores {
		balls[i] = w.coreWeight(&w.cores[c])
		lightest = min(lightest, balls[i].mass)
	}
	first := &w.cores[cores[0]]
	now := []*state{{cell: cell{outer: float64(first.Diameter)}, weight: 1, paths: []path{{}}}}
	for depth := 0; ; depth++ {
		if depth >= w.fewest {
			for _, s := range now {
				w.weigh(s, depth, cores, balls)
			}
		}
		if depth == w.deepest || ctx.Err() != nil {
			break
		}
		bins := map[[2]int]*state{}
		for _, s := range now {
			w.over(s, depth, first, lightest, bins)
		}
		now = now[:0]
		for _, s := range bins {
			now = append(now, s)
		}
		// The order of a map must not show in the answer.
		slices.SortFunc(now, func(a, b *state) int {
			return cmp.Or(cmp.Compare(a.outer, b.outer), cmp.Compare(a.mass, b.mass), slices.Compare(a.paths[0].tubes[:], b.paths[0].tubes[:]))
		})
	}
}

// over puts every slice that fits over a state.
func (w *walker) over(s *state, depth int, core *knowledge.Core, lightest float64, bins map[[2]int]*state) {
	const sigmas = 6
	w.fits = w.fits[:0]
	sum := 0.0
	for i := range w.tubes {
		c := w.cell(s, depth, core, i)
		if c.ok {
			sum += c.likes
		}
		w.fits = append(w.fits, c)
	}
	for i := range w.tubes {
		c := &w.fits[i]
		if !c.ok {
			continue
		}
		c.mass, c.dVar, c.gVar, c.both = s.mass+c.mass, s.dVar+c.dVar, s.gVar+c.gVar, s.both+c.both
		if w.d > 0 && c.outer > w.d+sigmas*math.Sqrt(w.dVar+c.dVar) || w.g > 0 && lightest+c.mass > w.g+sigmas*math.Sqrt(w.gVar+c.gVar) {
			continue // and so is all above it
		}
		share := c.likes / sum
		key := [2]int{int(c.outer * 1000 / binMM), int(c.mass * 1e6 / 1000 / binG)}
		to := bins[key]
		if to == nil {
			to = &state{}
			bins[key] = to
		}
		to.join(c, s.weight*share)
		for k := range s.paths {
			p := s.paths[k]
			p.tubes[depth], p.depth = uint8(i), int8(depth+1)
			p.log += math.Log(share)
			if !to.take(p) {
				break // those that follow are no likelier
			}
		}
	}
}

// join adds stacks of a weight to the state, and moves its means.
func (s *state) join(c *cell, weight float64) {
	s.weight += weight
	a := weight / s.weight
	s.outer += a * (c.outer - s.outer)
	s.mass += a * (c.mass - s.mass)
	s.dVar += a * (c.dVar - s.dVar)
	s.gVar += a * (c.gVar - s.gVar)
	s.both += a * (c.both - s.both)
}

// take keeps a path if it is among the likeliest, and reports whether it did.
func (s *state) take(p path) bool {
	n := len(s.paths)
	if n == mostPaths && p.log <= s.paths[n-1].log {
		return false
	}
	at := n
	for at > 0 && s.paths[at-1].log < p.log {
		at--
	}
	if n == mostPaths {
		s.paths = s.paths[:n-1]
	}
	s.paths = slices.Insert(s.paths, at, p)
	return true
}

// weigh weighs the heads that a state makes on each core.
func (w *walker) weigh(s *state, depth int, cores []int, balls []coreWeight) {
	shown := func(p *path) bool {
		return w.m.Outermost == "" || depth > 0 && w.tubes[p.tubes[depth-1]].Tube.ID == w.m.Outermost
	}
	prior := math.Log(w.layered[depth]) - math.Log(float64(len(w.cores)))
	// No weight in it can be more than this: diameter and mass met exactly.
	most := prior + math.Log(s.weight)
	if w.d > 0 {
		most -= 0.5 * math.Log(2*math.Pi*(w.dVar+s.dVar))
	}
	if w.g > 0 {
		most -= 0.5 * math.Log(2*math.Pi*(w.gVar+s.gVar))
	}
	if most < w.best-faint {
		return
	}
	over := w.windings(s.outer, balls[0].diameter)
	left := s.weight
	for _, p := range s.paths {
		left -= math.Exp(p.log)
	}
	left = math.Log(max(0, left))
	for i, core := range cores {
		w.tried += len(s.paths)
		var wraps logSum
		w.wraps(&s.cell, balls[i], over, func(_ int, l float64, _ mallet) { wraps.add(l) })
		if wraps.of == 0 {
			continue
		}
		log := wraps.log() + prior
		for _, p := range s.paths {
			if shown(&p) {
				w.keep(weighed{p, core, log + p.log})
			}
		}
		if left > math.Log(1e-6*s.weight) && w.m.Outermost == "" {
			w.rest.add(log + left)
		}
	}
}

// keep holds on to the likeliest.
func (w *walker) keep(x weighed) {
	if x.log < w.best-faint || x.log <= w.floor {
		w.rest.add(x.log)
		return
	}
	w.best = max(w.best, x.log)
	w.list = append(w.list, x)
	if len(w.list) == 4*mostExact {
		slices.SortStableFunc(w.list, likelier)
		for _, y := range w.list[mostExact:] {
			w.rest.add(y.log)
		}
		w.list = w.list[:mostExact]
		w.floor = w.list[mostExact-1].log
	}
}

// cell looks up a slice over a state; over rubber, at the nearest diameter of
// the grid.
func (w *walker) cell(s *state, depth int, core *knowledge.Core, tube int) cell {
	if depth == 0 {
		mat, _ := w.f.Catalogue().Material(core.Material)
		return w.fit(head.Ball(*core), tube, 1, mat.Family)
	}
	at := int(s.outer*1000/cellMM + 0.5)
	if at >= len(w.cells[tube]) {
		return cell{}
	}
	slot := &w.cells[tube][at]
	x := slot.Load()
	if x == nil {
		bed := head.Bed{Diameter: measure.Length(float64(at)*cellMM) * measure.Millimetre, Reach: w.lim.CutReachDeg.Value * math.Pi / 180}
		made := w.fit(bed, tube, 2, "rubber")
		x = &made
		slot.Store(x)
	}
	c := *x
	c.outer += s.outer - float64(at)*cellMM/1000
	return c
}

// fit fits a slice, and asks the layer rules about it.
func (w *walker) fit(bed head.Bed, tube, place int, on string) cell {
	bed.Tol = 0
	l := head.Fit(bed, w.tubes[tube], w.lim)
	at := w.at
	at.Layer = w.f.LayerFacts(&l, place, on)
	likes, refused := w.scorer.Score(&at)
	if refused != nil {
		return cell{}
	}
	return cellOf(&l, likes)
}

func cellOf(l *head.Layer, likes float64) cell {
	tube := &l.Slice.Tube
	d, wall := tube.Bore, tube.Wall
	dSigma := 2 * float64(l.WallTol) * bandToSigma
	gSigma := float64(l.MassTol) * bandToSigma
	thick := float64(l.Mass) * float64(tube.WallTol*(d+2*wall)/(wall*(d+wall))) * bandToSigma // a thick wall is heavy, too
	return cell{ok: true, outer: float64(l.Outer), mass: float64(l.Mass), dVar: dSigma * dSigma, gVar: gSigma * gSigma,
		both: min(dSigma*thick, 0.95*dSigma*gSigma), likes: math.Exp(likes)}
}

// likelihood is the logarithm of the density of the measured diameter and mass.
func (t *matcher) likelihood(h *mallet) float64 {
	dVar, gVar := h.dVar+t.dVar, h.gVar+t.gVar
	dd, dg := t.d-h.diameter, t.g-h.mass
	switch {
	case t.d > 0 && t.g > 0:
		det := dVar*gVar - h.both*h.both
		return -0.5*(dd*dd*gVar-2*dd*dg*h.both+dg*dg*dVar)/det - 0.5*math.Log(4*math.Pi*math.Pi*det)
	case t.d > 0:
		return -0.5*dd*dd/dVar - 0.5*math.Log(2*math.Pi*dVar)
	default:
		return -0.5*dg*dg/gVar - 0.5*math.Log(2*math.Pi*gVar)
	}
}

func normal(off, sigma float64) float64 {
	return -0.5*(off/sigma)*(off/sigma) - math.Log(sigma) - 0.5*math.Log(2*math.Pi)
}

// logSum adds up numbers that are told by their logarithms. The zero value is nothing.
type logSum struct{ top, of float64 } // e to the top, so many times

// add adds e to x.
func (s *logSum) add(x float64) {
	const nothing = -50 // e to this is lost in the last bit
	switch {
	case math.IsInf(x, -1):
	case s.of == 0:
		s.top, s.of = x, 1
	case x > s.top:
		s.top, s.of = x, 1+s.of*math.Exp(s.top-x)
	case x-s.top > nothing:
		s.of += math.Exp(x - s.top)
	}
}

// log is the logarithm of the sum.
func (s *logSum) log() float64 { return s.top + math.Log(s.of) }
