package correct

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// What is left unexplained in one head: the scale or the caliper, and what
// differs from head to head (cuts, turns, walls). Assumptions.
const (
	massError    = 0.02 // of the mass, one standard deviation
	massLeast    = 0.1 * measure.Gram
	sizeError    = 0.01 // of the diameter
	sizeLeast    = 0.2 * measure.Millimetre
	squeezeError = 0.15 // of a reading of the squeeze test
	clearly      = 0.5  // notches apart that two heads are when one is called softer
	notchesError = 0.5  // notches, of that judgement
	deviations   = 2    // standard deviations in a tolerance, which holds about 95 %
	rounds       = 30
	differences  = 1e-3 // step of the derivatives, in standard deviations
)

// Moved is how far the prediction for a built head moved.
type Moved struct {
	Name                     string
	MassWas, MassNow         measure.Mass
	MassMeasured             measure.Mass // 0 when not measured
	DiameterWas, DiameterNow measure.Length
	DiameterMeasured         measure.Length
	SoftnessWas, SoftnessNow float64
	Contradicts              []string // comparisons that still come out the wrong way round
	Squeezes                 []Squeezed
	Odd                      []Odd // measurements that no such head can have; nothing is learnt from them
}

// Squeezed is a reading of the squeeze test beside what was computed.
type Squeezed struct {
	Squeeze
	WasN, NowN float64
}

// Odd is a measurement so far off that it is asked about instead of learnt from.
type Odd struct {
	What           string // mass, diameter or squeeze
	Computed, Read float64
	Unit           string
	At             Squeeze // the reading, of a squeeze
}

// A measurement is odd when it is off by this many tolerances and by this share;
// a squeeze, whose tolerance is wide, when it is off by this many times; a
// comparison when it is computed this many notches the other way round.
const (
	oddTolerances = 3
	oddMass       = 0.2
	oddDiameter   = 0.12
	oddSqueeze    = 2.5
	oddNotches    = 2
)

// Fit adjusts the figures of cat that the built heads depend on. It returns
// the log with its adjustments renewed, and what moved.
//
// It is least squares with the tolerances as priors: each figure may move by
// standard deviations of half its tolerance, at the cost of their squares,
// and never past the tolerance; each measurement pulls by its own error. A
// comparison pulls only while the two heads are less than half a notch apart
// in its sense. Solved by damped Gauss–Newton steps.
func Fit(cat *knowledge.Catalogue, set strike.Setting, l Log) (Log, []Moved, error) {
	if err := l.Check(); err != nil {
		return l, nil, err
	}
	p, err := newProblem(cat, set, l)
	if err != nil {
		return l, nil, err
	}
	x := make([]float64, len(p.params))
	was := p.predict(x)
	p.findOdd(was)
	cov := p.solve(x)
	now := p.predict(x)

	l.Adjust = nil
	for i, a := range p.params {
		a.Now = a.Was + x[i]*a.Tol/deviations
		a.Left = a.Tol
		if cov != nil {
			a.Left = a.Tol * math.Sqrt(min(max(cov.At(i, i), 0), 1))
		}
		l.Adjust = append(l.Adjust, a)
	}
	moved := make([]Moved, len(l.Heads))
	for i, b := range l.Heads {
		moved[i] = Moved{
			Name: b.Name, MassMeasured: b.Mass, DiameterMeasured: b.Diameter,
			MassWas: was[i].mass, MassNow: now[i].mass,
			DiameterWas: was[i].diameter, DiameterNow: now[i].diameter,
			SoftnessWas: was[i].softness, SoftnessNow: now[i].softness, Odd: p.odd[i].list,
		}
		for k, q := range b.Squeezes {
			moved[i].Squeezes = append(moved[i].Squeezes, Squeezed{q, was[i].squeeze[k], now[i].squeeze[k]})
		}
	}
	for _, c := range p.softer {
		if now[c.a].softness <= now[c.b].softness {
			moved[c.a].Contradicts = append(moved[c.a].Contradicts, l.Heads[c.b].Name)
		}
	}
	return l, moved, nil
}

// Learnt is the source of the maker's own tension once their measured heads
// have said it.
const Learnt = "built"

// Apply returns a copy of cat with the log's adjustments. An adjustment of a
// record that cat no longer has, or whose figure has changed since, is left
// out: fit again.
func Apply(cat *knowledge.Catalogue, adjust []Adjustment) *knowledge.Catalogue {
	out := *cat
	out.Materials = slices.Clone(cat.Materials)
	out.Yarns = slices.Clone(cat.Yarns)
	for _, a := range adjust {
		if q := find(&out, a); q != nil && math.Abs(q.Value-a.Was) <= 1e-9*a.Was {
			q.Value, q.Tol = a.Now, a.Left
			if a.Kind == "limits" {
				q.Source = Learnt
			}
		}
	}
	return &out
}

// find returns the figure that an adjustment is about, or nil.
func find(cat *knowledge.Catalogue, a Adjustment) *knowledge.Quantity {
	get := field(a.Kind, a.Field)
	if get == nil {
		return nil
	}
	if a.Kind == "limits" {
		return get(&cat.Limits)
	}
	for i := range cat.Materials {
		if a.Kind == "material" && cat.Materials[i].ID == a.ID {
			return get(&cat.Materials[i])
		}
	}
	for i := range cat.Yarns {
		if a.Kind == "yarn" && cat.Yarns[i].ID == a.ID {
			return get(&cat.Yarns[i])
		}
	}
	return nil
}

// field returns the way to a field that may be adjusted, or nil.
func field(kind, name string) func(any) *knowledge.Quantity {
	switch kind + " " + name {
	case "material density_kgm3":
		return func(r any) *knowledge.Quantity { return &r.(*knowledge.Material).DensityKgM3 }
	case "yarn tex":
		return func(r any) *knowledge.Quantity { return &r.(*knowledge.Yarn).Tex }
	case "yarn loose":
		return func(r any) *knowledge.Quantity { return &r.(*knowledge.Yarn).Loose }
	case "yarn crush_pa":
		return func(r any) *knowledge.Quantity { return &r.(*knowledge.Yarn).CrushPa }
	case "limits tension_n":
		return func(r any) *knowledge.Quantity { return &r.(*knowledge.Limits).TensionN }
	}
	return nil
}

// problem is a fit being made.
type problem struct {
	cat    *knowledge.Catalogue
	scale  knowledge.Scale
	speed  float64
	bar    strike.Bar
	heads  []Built
	stacks []head.Stack
	params []Adjustment
	softer []comparison // all that were heard
	learnt []comparison // those that are learnt from
	odd    []oddities   // of each head
}

// oddities are the measurements of a head to leave out.
type oddities struct {
	mass, diameter bool
	squeeze        map[int]bool
	list           []Odd
}

// findOdd marks the measurements that no head of their parts can have, and leaves
// out comparisons that no such heads can bear.
func (p *problem) findOdd(was []prediction) {
	far := func(read, computed, tol, share float64) bool {
		off := math.Abs(read - computed)
		return off > oddTolerances*tol && off > share*computed
	}
	p.learnt = slices.DeleteFunc(slices.Clone(p.softer), func(c comparison) bool {
		return was[c.b].softness-was[c.a].softness > oddNotches
	})
	p.odd = make([]oddities, len(p.heads))
	for i, b := range p.heads {
		o, w := &p.odd[i], was[i]
		o.squeeze = map[int]bool{}
		if b.Mass > 0 && far(float64(b.Mass), float64(w.mass), float64(w.massTol), oddMass) {
			o.mass = true
			o.list = append(o.list, Odd{What: "mass", Computed: w.mass.Grams(), Read: b.Mass.Grams(), Unit: "g"})
		}
		if b.Diameter > 0 && far(float64(b.Diameter), float64(w.diameter), float64(w.diameterTol), oddDiameter) {
			o.diameter = true
			o.list = append(o.list, Odd{What: "diameter", Computed: w.diameter.MM(), Read: b.Diameter.MM(), Unit: "mm"})
		}
		for k, q := range b.Squeezes {
			if r := q.Scale.Newtons() / w.squeeze[k]; !(r < oddSqueeze && r > 1/oddSqueeze) {
				o.squeeze[k] = true
				o.list = append(o.list, Odd{What: "squeeze", Computed: w.squeeze[k] / measure.Gravity, Read: float64(q.Scale), Unit: "kg", At: q})
			}
		}
	}
}

// comparison says that head a is softer than head b.
type comparison struct{ a, b int }

func newProblem(cat *knowledge.Catalogue, set strike.Setting, l Log) (*problem, error) {
	p := &problem{cat: cat, scale: set.Scale.For(set.Instrument.Kind), speed: set.Speed(), bar: strike.Reference(), heads: l.Heads}
	if p.speed <= 0 {
		return nil, errors.New("built heads: no dynamics to compare heads at")
	}
	index := map[string]int{}
	for i, b := range l.Heads {
		index[b.Name] = i
		s, err := head.Parse(cat, b.Stack)
		if err != nil {
			return nil, fmt.Errorf("built head %q: %w", b.Name, err)
		}
		p.stacks = append(p.stacks, s)
		p.learn("material", s.Material.ID, "density_kgm3")
		for _, sl := range s.Slices {
			p.learn("material", sl.Rubber.ID, "density_kgm3")
		}
		if w := s.Wrap; w != nil {
			p.learn("yarn", w.Yarn.ID, "tex")
			p.learn("yarn", w.Yarn.ID, "loose")
			p.learn("yarn", w.Yarn.ID, "crush_pa")
			if w.TensionN == 0 {
				p.learn("limits", "hand", "tension_n")
			}
		}
	}
	for i, b := range l.Heads {
		for _, other := range b.SofterThan {
			p.softer = append(p.softer, comparison{i, index[other]})
		}
		for _, other := range b.HarderThan {
			p.softer = append(p.softer, comparison{index[other], i})
		}
	}
	return p, nil
}

// learn makes a figure one that may move, if it has a tolerance to move in.
func (p *problem) learn(kind, id, name string) {
	a := Adjustment{Kind: kind, ID: id, Field: name}
	q := find(p.cat, a)
	if q == nil || q.Tol <= 0 || slices.ContainsFunc(p.params, func(b Adjustment) bool {
		return b.Kind == kind && b.ID == id && b.Field == name
	}) {
		return
	}
	a.Was, a.Tol = q.Value, q.Tol
	p.params = append(p.params, a)
}

// prediction is what is computed for one head.
type prediction struct {
	mass, massTol         measure.Mass
	diameter, diameterTol measure.Length
	softness              float64
	squeeze               []float64 // force at each reading of the squeeze test, N
}

// predict computes every head with each figure x standard deviations off.
func (p *problem) predict(x []float64) []prediction {
	var all []Adjustment
	for i, a := range p.params {
		a.Now, a.Left = a.Was+x[i]*a.Tol/deviations, a.Tol
		all = append(all, a)
	}
	cat := Apply(p.cat, all)
	out := make([]prediction, len(p.stacks))
	buf := make([]strike.Reduced, 0, 1)
	for i, s := range p.stacks {
		h := head.New(with(cat, s), cat.Limits)
		out[i] = prediction{mass: h.Mass, massTol: h.MassTol, diameter: h.Diameter, diameterTol: h.DiameterTol, softness: math.NaN()}
		for _, q := range p.heads[i].Squeezes {
			n, err := strike.SqueezeN(h, float64(q.Narrower))
			if err != nil {
				n = math.NaN()
			}
			out[i].squeeze = append(out[i].squeeze, n)
		}
		if b, err := strike.FromHead(h); err == nil {
			r := strike.Quick(buf[:0], &b, &p.bar, []float64{p.speed})
			out[i].softness = strike.Softness(r[0].CutoffHz, p.scale)
		}
	}
	return out
}

// with returns the stack with its records as cat has them.
func with(cat *knowledge.Catalogue, s head.Stack) head.Stack {
	s.Material, _ = cat.Material(s.Material.ID)
	s.Slices = slices.Clone(s.Slices)
	for i := range s.Slices {
		s.Slices[i].Rubber, _ = cat.Material(s.Slices[i].Rubber.ID)
	}
	if s.Wrap != nil {
		w := *s.Wrap
		w.Yarn, _ = cat.Yarn(w.Yarn.ID)
		w.Fibre, _ = cat.Material(w.Fibre.ID)
		s.Wrap = &w
	}
	return s
}

// residuals returns how far off each measurement and comparison is, in its
// own standard deviations.
func (p *problem) residuals(x []float64) []float64 {
	var r []float64
	now := p.predict(x)
	for i, b := range p.heads {
		if b.Mass > 0 && !p.odd[i].mass {
			r = append(r, float64((now[i].mass-b.Mass)/max(massError*b.Mass, massLeast)))
		}
		if b.Diameter > 0 && !p.odd[i].diameter {
			r = append(r, float64((now[i].diameter-b.Diameter)/max(sizeError*b.Diameter, sizeLeast)))
		}
	}
	for i, b := range p.heads {
		for k, q := range b.Squeezes {
			if !p.odd[i].squeeze[k] {
				r = append(r, math.Log(now[i].squeeze[k]/q.Scale.Newtons())/squeezeError)
			}
		}
	}
	for _, c := range p.learnt {
		r = append(r, max(0, clearly-(now[c.a].softness-now[c.b].softness))/notchesError)
	}
	return r
}

// cost is half the sum of squares that is made small.
func cost(x, r []float64) float64 {
	sum := 0.0
	for _, v := range slices.Concat(x, r) {
		sum += v * v
	}
	return sum / 2
}

// solve moves x to the best fit, and returns the covariance of x there, or
// nil when nothing was measured.
func (p *problem) solve(x []float64) *mat.SymDense {
	n := len(x)
	r := p.residuals(x)
	if n == 0 || len(r) == 0 {
		return nil
	}
	var chol mat.Cholesky
	for range rounds {
		h, g := p.normal(x, r)
		if !chol.Factorize(h) {
			return nil // not with a prior on every figure
		}
		var step mat.VecDense
		if err := chol.SolveVecTo(&step, g); err != nil {
			return nil
		}
		next := make([]float64, n)
		better := false
		for k := 1.0; k > 1e-3 && !better; k /= 2 {
			for i := range next {
				next[i] = min(max(x[i]-k*step.AtVec(i), -deviations), deviations)
			}
			rn := p.residuals(next)
			if better = cost(next, rn) < cost(x, r)-1e-12; better {
				copy(x, next)
				r = rn
			}
		}
		if !better {
			break
		}
	}
	h, _ := p.normal(x, r)
	cov := mat.NewSymDense(n, nil)
	if !chol.Factorize(h) || chol.InverseTo(cov) != nil {
		return nil
	}
	return cov
}

// normal returns the matrix and the right-hand side of a Gauss–Newton step.
func (p *problem) normal(x, r []float64) (*mat.SymDense, *mat.VecDense) {
	n := len(x)
	j := mat.NewDense(len(r), n, nil)
	for i := range x {
		up, down := slices.Clone(x), slices.Clone(x)
		up[i] += differences
		down[i] -= differences
		ru, rd := p.residuals(up), p.residuals(down)
		for k := range r {
			j.Set(k, i, (ru[k]-rd[k])/(2*differences))
		}
	}
	h := mat.NewSymDense(n, nil)
	h.SymOuterK(1, j.T())
	g := mat.NewVecDense(n, nil)
	g.MulVec(j.T(), mat.NewVecDense(len(r), r))
	for i := range x {
		h.SetSym(i, i, h.At(i, i)+1)
		g.SetVec(i, g.AtVec(i)+x[i])
	}
	return h, g
}
