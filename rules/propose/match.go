package propose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/facts"
)

// Measured is what was measured on a finished head. A quantity of zero, or an
// empty id, was not measured. Each error is the half-width of a band that the
// truth lies in 95 times of 100; zero takes the usual one.
type Measured struct {
	DiameterMM, DiameterErr float64 // over the yarn; usually ± 0.5 mm
	MassG, MassErr          float64 // of the head without its shaft; usually ± 0.5 g
	ShaftMM, ShaftErr       float64 // usually ± 0.2 mm
	Core                    string  // family, when it shows at the bore: plastic, wood or rubber
	Fibre                   string  // of the yarn
	Outermost               string  // tubing of the outermost layer, when its edge shows
	Layers                  *int    // rubber layers, when their edges can be counted
	RubberMM, RubberErr     float64 // from the core to the outside of the rubber, by a pin; usually ± 0.4 mm
	Steps, StepsErr         float64 // softness against a known head, or by durometer through the yarn
	SoftnessKnown           bool    // Steps was judged; 0 is a softness too
}

// Likeness is a stack that could be under the yarn.
type Likeness struct {
	Stack head.Stack
	Facts facts.Head
	Share float64 // of the likelihood, 0 to 1, over all stacks that could be
}

// Matches is what a finished head could be.
type Matches struct {
	Likely []Likeness // likeliest first; the yarns of one fibre count as one
	Tried  int        // stacks looked at
	// Next is the one cheap measurement that would best tell them apart, nil
	// when there is nothing left to tell.
	Next *NextMeasure
}

// NextMeasure is a measurement still to be made.
type NextMeasure struct {
	What string  `json:"what"`
	How  string  `json:"how"`
	Bits float64 `json:"bits"` // of what is open now that it is expected to settle
	Of   float64 `json:"of"`   // bits open now
}

// Priors and limits of matching. A head with one layer more is taken to be a
// third as common: common practice, no source.
const (
	layerPrior  = 1.0 / 3
	mostLikely  = 40
	matchSigmas = 3.5
	bandToSigma = 1 / 1.959964
)

// Match lists the stacks of catalogue parts that a finished head could be, by
// how likely each is given the measurements, their errors and the tolerances
// of the parts.
func (f *Finder) Match(ctx context.Context, m Measured) (Matches, error) {
	if err := m.check(f); err != nil {
		return Matches{}, err
	}
	q := Request{Pin: Pin{}}
	q.Facts.Player.LatexOK = true
	q.Facts.Bench.Drill = true
	s := f.search(q)
	t := &matcher{search: s, m: m, dSigma: sigma(m.DiameterErr, 0.5), gSigma: sigma(m.MassErr, 0.5), rSigma: sigma(m.RubberErr, 0.4)}
	if s.roots != nil {
		t.w = s.worker()
	}
	for _, r := range s.roots {
		if m.Core != "" && r.family != m.Core {
			continue
		}
		t.visit(ctx, &node{root: r, bed: head.Ball(r.cores[0].core), gripKPa: math.Inf(1)})
	}
	if err := ctx.Err(); err != nil {
		return Matches{}, err
	}
	if len(t.list) == 0 {
		return Matches{}, fmt.Errorf("propose: no stack of catalogue parts comes to %s; check the measurement, or the head has a part that is not in the catalogue", m)
	}
	return t.finish(), nil
}

func (m Measured) String() string {
	s := ""
	if m.DiameterMM > 0 {
		s += fmt.Sprintf(" %.1f mm", m.DiameterMM)
	}
	if m.MassG > 0 {
		s += fmt.Sprintf(" %.1f g", m.MassG)
	}
	return cmp.Or(s, " that")[1:]
}

func (m Measured) check(f *Finder) error {
	if !(m.DiameterMM > 0) && !(m.MassG > 0) {
		return fmt.Errorf("propose: matching needs at least the head's diameter or its mass, above zero")
	}
	for _, x := range []float64{m.DiameterMM, m.MassG, m.ShaftMM, m.RubberMM, m.DiameterErr, m.MassErr, m.ShaftErr, m.RubberErr, m.StepsErr} {
		if x < 0 || math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("propose: a measurement of %v: a number above zero is needed", x)
		}
	}
	if m.Outermost != "" {
		if _, ok := f.cat.Tube(m.Outermost); !ok {
			return fmt.Errorf("propose: %q is no tubing of the catalogue", m.Outermost)
		}
	}
	return nil
}

func sigma(band, usual float64) float64 { return cmp.Or(band, usual) * bandToSigma }

// matcher walks every stack that the fit allows. It needs no strokes until the
// likely ones are known.
type matcher struct {
	*search
	w                      *worker
	m                      Measured
	dSigma, gSigma, rSigma float64
	list                   []likely
	tried                  int
}

type likely struct {
	found
	log float64
}

func (t *matcher) visit(ctx context.Context, n *node) {
	if ctx.Err() != nil {
		return
	}
	m := &t.m
	bare := n.bed.Diameter.MM()
	if m.DiameterMM > 0 && bare > m.DiameterMM+matchSigmas*(t.dSigma+0.4) || m.MassG > 0 && n.mass*1000 > m.MassG+matchSigmas*(t.gSigma+1) {
		return
	}
	if m.Layers == nil || *m.Layers == n.depth {
		if m.Outermost == "" || n.up != nil && t.tubes[n.tube].slice.Tube.ID == m.Outermost {
			t.heads(n)
		}
	}
	if n.depth < mostLayers && (m.Layers == nil || n.depth < *m.Layers) {
		t.w.fit(n)
		for _, x := range n.kids {
			t.visit(ctx, x)
		}
	}
}

// heads weighs the heads of a node.
func (t *matcher) heads(n *node) {
	m := &t.m
	rubber := (n.bed.Diameter - n.root.diameter).MM() / 2
	base := math.Log(layerPrior) * float64(n.depth)
	if m.RubberMM > 0 {
		base += normal(rubber-m.RubberMM, t.rSigma)
	}
	for _, class := range t.classes {
		for _, i := range class {
			o := &t.wraps[i]
			if m.Fibre != "" && (o.none || o.wrap.Yarn.Fibre != m.Fibre) {
				continue
			}
			var wd head.Wound
			if !o.none {
				wd = o.wrap.Wind(n.bed.Diameter, n.root.diameter)
			}
			log := base - math.Log(float64(len(t.classes)*len(class)))
			if m.DiameterMM > 0 {
				tol := math.Hypot(float64(n.bed.Tol), 2*float64(wd.WallTol)) * 1000 * bandToSigma
				log += normal((n.bed.Diameter+2*wd.Wall).MM()-m.DiameterMM, math.Hypot(t.dSigma, tol))
				if log < -40 {
					continue
				}
			}
			for ci := range n.root.cores {
				c := &n.root.cores[ci]
				l := log
				t.tried++
				if m.MassG > 0 {
					tol := 1000 * bandToSigma * math.Sqrt(float64(c.bare.CoreMassTol*c.bare.CoreMassTol)+n.massTol2+float64(wd.MassTol*wd.MassTol))
					l += normal((float64(c.bare.CoreMass)+n.mass+float64(wd.Mass))*1000-m.MassG, math.Hypot(t.gSigma, tol))
				}
				if m.ShaftMM > 0 && c.core.Bore > 0 {
					l += normal(c.core.Bore.MM()-m.ShaftMM, sigma(m.ShaftErr, 0.2))
				}
				if l > -40 {
					t.list = append(t.list, likely{found{node: n, core: ci, wrap: i, turns: wd.Turns}, l})
				}
			}
		}
	}
}

func normal(off, sigma float64) float64 { return -0.5*(off/sigma)*(off/sigma) - math.Log(sigma) }

// finish keeps the likeliest, strikes them where a softness was judged, and
// turns likelihoods into shares.
func (t *matcher) finish() Matches {
	best := func() {
		slices.SortStableFunc(t.list, func(a, b likely) int {
			return cmp.Or(cmp.Compare(b.log, a.log), cmp.Compare(a.node.depth, b.node.depth))
		})
	}
	best()
	// Yarns of one fibre on one rubber and core differ in nothing that shows:
	// the likeliest stands for them.
	type key struct {
		n     *node
		core  int
		fibre string
	}
	seen := map[key]int{}
	var kept []likely
	for _, x := range t.list {
		k := key{x.node, x.core, t.wraps[x.wrap].wrap.Yarn.Fibre}
		if i, ok := seen[k]; ok {
			kept[i].log = logAdd(kept[i].log, x.log)
			continue
		}
		if len(kept) < 20*mostLikely {
			seen[k] = len(kept)
			kept = append(kept, x)
		}
	}
	t.list = kept
	for i := range t.list {
		x := &t.list[i]
		t.w.setRubber(x.node)
		t.w.windAll(x.node)
		c := &x.node.root.cores[x.core]
		wd := &t.w.wound[x.wrap]
		t.w.static(&x.facts, x.node, &c.facts, c.cents)
		x.facts.Fibre, x.facts.Turns, x.facts.YarnMM = t.wraps[x.wrap].wrap.Yarn.Fibre, float64(wd.Turns), wd.Wall.MM()
		x.facts.MassG += wd.Mass.Grams()
		x.facts.DiameterMM += 2 * wd.Wall.MM()
		t.w.put(x.node, &c.body, float64(c.bare.Mass), yarnOf(&t.wraps[x.wrap], wd))
		x.facts.Steps = t.w.steps()
		if t.m.SoftnessKnown {
			x.log += normal(x.facts.Steps-t.m.Steps, sigma(t.m.StepsErr, 1.5))
		}
	}
	best()
	top, sum := t.list[0].log, 0.0
	for _, x := range t.list {
		sum += math.Exp(x.log - top)
	}
	out := Matches{Tried: t.tried}
	for _, x := range t.list[:min(mostLikely, len(t.list))] {
		out.Likely = append(out.Likely, Likeness{Stack: t.stack(&x.found), Facts: x.facts, Share: math.Exp(x.log-top) / sum})
	}
	out.Next = next(out.Likely, &t.m)
	return out
}

func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// probe is a measurement that could still be made: what it would read on a
// head, and the error of the reading.
type probe struct {
	what, how string
	open      func(*Measured) bool
	read      func(*facts.Head) float64
	sigma     float64
}

func probes() []probe {
	family := map[string]float64{"plastic": 0, "wood": 1, "rubber": 2}
	return []probe{
		{"core", "look into the bore, or press a needle into the core beside the shaft: plastic, wood or rubber",
			func(m *Measured) bool { return m.Core == "" }, func(h *facts.Head) float64 { return family[h.Core] }, 0.1},
		{"layers", "part the yarn beside the shaft and count the edges of the rubber",
			func(m *Measured) bool { return m.Layers == nil }, func(h *facts.Head) float64 { return h.Layers }, 0.2},
		{"mass", "weigh the mallet, and take off a shaft of the same wood and length",
			func(m *Measured) bool { return m.MassG == 0 }, func(h *facts.Head) float64 { return h.MassG }, 0.5},
		{"diameter", "measure across the head with a caliper, without squeezing the yarn",
			func(m *Measured) bool { return m.DiameterMM == 0 }, func(h *facts.Head) float64 { return h.DiameterMM }, 0.4},
		{"rubber", "push a pin through yarn and rubber at the side until it meets the core, and once to the rubber alone",
			func(m *Measured) bool { return m.RubberMM == 0 }, func(h *facts.Head) float64 { return (h.DiameterMM-h.CoreMM)/2 - h.YarnMM }, 0.3},
		{"fibre", "hold the yarn against known samples, or read the skein it came from: wool is springy and felts when rubbed damp, cotton is limp, plastics are slick",
			func(m *Measured) bool { return m.Fibre == "" }, func(h *facts.Head) float64 {
				x := 0.0
				for _, r := range h.Fibre { // any number that tells names apart
					x = x*3 + float64(r)
				}
				return math.Mod(x, 9973)
			}, 0.1},
		{"softness", "play it against a head whose softness is known, at a middling loudness",
			func(m *Measured) bool { return !m.SoftnessKnown }, func(h *facts.Head) float64 { return h.Steps }, 0.8},
	}
}

// next finds the probe that is expected to settle most: the mutual information
// between which stack it is and what the probe reads, with each stack's
// reading spread normally.
func next(list []Likeness, m *Measured) *NextMeasure {
	total := 0.0
	for _, x := range list {
		total += x.Share
	}
	open := 0.0
	for _, x := range list {
		p := x.Share / total
		open -= p * math.Log2(max(p, 1e-300))
	}
	if open < 0.1 {
		return nil
	}
	var best *NextMeasure
	for _, p := range probes() {
		if !p.open(m) {
			continue
		}
		// E over the true stack of log of what its own reading, at its middle,
		// would do: Σ pᵢ·log₂(1 / Σ pⱼ·exp(−(rᵢ−rⱼ)²/4σ²)), the information of
		// a normal channel by its pairwise overlaps.
		bits := 0.0
		for _, a := range list {
			overlap := 0.0
			for _, b := range list {
				d := (p.read(&a.Facts) - p.read(&b.Facts)) / p.sigma
				overlap += b.Share / total * math.Exp(-d*d/4)
			}
			bits -= a.Share / total * math.Log2(overlap)
		}
		if best == nil || bits > best.Bits+1e-9 {
			best = &NextMeasure{What: p.what, How: p.how, Bits: bits, Of: open}
		}
	}
	if best == nil || best.Bits < 0.05 {
		return nil
	}
	return best
}
