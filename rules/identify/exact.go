package identify

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/propose"
)

// guess is one core, rubber and yarn, looked at by itself.
type guess struct {
	stack head.Stack
	head  head.Head
	log   float64
	m     mallet
	key   string // alike in all that shows
}

// alike are the guesses that are so in all that shows, likeliest first, and their
// share together.
type alike struct {
	list  []*guess
	share float64
}

// finish looks at the likeliest again one by one, gathers those that are alike
// in all that shows, and turns weights into shares.
func (t *matcher) finish(list []weighed, rest logSum) Matches {
	var all []*guess
	for i := range list {
		all = append(all, t.exact(&list[i])...)
	}
	for _, g := range all {
		rest.add(g.log)
	}
	total := rest.log()
	slices.SortStableFunc(all, func(a, b *guess) int { return cmp.Compare(b.log, a.log) })
	out := Matches{Tried: t.tried, Rest: 1}
	at := map[string]*alike{}
	var groups []*alike
	for _, g := range all {
		x := at[g.key]
		if x == nil {
			x = &alike{}
			at[g.key] = x
			groups = append(groups, x)
		}
		x.list, x.share = append(x.list, g), x.share+math.Exp(g.log-total)
	}
	slices.SortStableFunc(groups, func(a, b *alike) int { return cmp.Compare(b.share, a.share) })
	for _, x := range groups[:min(mostLikely, len(groups))] {
		l := t.likeness(x.list)
		l.Share = x.share
		out.Rest -= l.Share
		out.Likely = append(out.Likely, l)
	}
	out.Rest = max(0, out.Rest)
	return out
}

// exact fits a path's slices as they are, without the table, and weighs every
// wrap with all that was measured.
func (t *matcher) exact(p *weighed) []*guess {
	c := t.cores[p.core]
	h := t.bored(&c)
	s := h.Stack
	for _, i := range p.tubes[:p.depth] {
		s.Slices = append(s.Slices, t.tubes[i])
	}
	s.Core = c // sold as it is sold
	bare := head.New(s, *t.lim)
	sum := cell{outer: float64(bare.Bare)}
	for i := range bare.Layers {
		x := cellOf(&bare.Layers[i], 0)
		sum.mass, sum.dVar, sum.gVar, sum.both = sum.mass+x.mass, sum.dVar+x.dVar, sum.gVar+x.gVar, sum.both+x.both
	}
	var list []*guess
	prior := p.path.log + math.Log(t.layered[p.depth]) - math.Log(float64(len(t.cores)))
	w := t.coreWeight(&c)
	t.wraps(&sum, w, t.wind(sum.outer, w.diameter), func(yarn int, log float64, m mallet) {
		g := &guess{stack: s, log: prior + log, m: m}
		if yarn >= 0 {
			w := t.yarns[yarn]
			turns := t.turns(&m)
			w.Turns = max(1, int(math.Round(turns)))
			g.stack.Wrap = &w
		}
		g.head = bare.Rewrap(g.stack.Wrap, t.lim)
		g.log += t.others(g)
		g.key = keyOf(&g.stack)
		list = append(list, g)
	})
	return list
}

// keyOf is what shows of a stack: the ball but not whether it came bored, the
// slices, and the fibre of the yarn.
func keyOf(s *head.Stack) string {
	key := fmt.Sprint(s.Material.ID, s.Core.Diameter, s.Core.DurometerA)
	for i := range s.Slices {
		key += " " + s.Slices[i].Tube.ID
	}
	if s.Wrap != nil {
		key += " " + s.Wrap.Yarn.Fibre
	}
	return key
}

// turns returns how many turns are likeliest, given diameter and mass.
func (t *matcher) turns(m *mallet) float64 {
	// The share of what is off that more turns explain, by diameter and by
	// mass together: cov(turns, measured) · cov(measured)⁻¹ · off.
	dw, dm := 2*m.yarnWall*m.tail/m.turns, m.yarnMass*m.tail/m.turns
	dVar, gVar := m.dVar+t.dVar, m.gVar+t.gVar
	dd, dg := t.d-m.diameter, t.g-m.mass
	z := 0.0
	switch {
	case t.d > 0 && t.g > 0:
		det := dVar*gVar - m.both*m.both
		z = (dw*(gVar*dd-m.both*dg) + dm*(dVar*dg-m.both*dd)) / det
	case t.d > 0:
		z = dw * dd / dVar
	default:
		z = dm * dg / gVar
	}
	return max(1, m.turns+z*m.tail)
}

// others is the logarithm of how likely all is that was measured besides
// diameter and mass.
func (t *matcher) others(g *guess) float64 {
	m, sum := &t.m, 0.0
	sigma := func(band, usual float64) float64 { return cmp.Or(band, usual) * bandToSigma }
	if m.RubberMM > 0 {
		_, s := rubberOf(&g.head)
		sum += normal((g.head.Bare-g.stack.Core.Diameter).MM()/2-m.RubberMM, math.Hypot(sigma(m.RubberErr, usualRubberErr), s))
	}
	if m.DurometerA > 0 {
		sum += normal(durometer(&g.head)-m.DurometerA, math.Hypot(sigma(m.DurometerErr, t.lim.DurometerErrorA.Value), durometerSpread))
	}
	if m.BalanceMM > 0 {
		at, s := t.balance(g)
		sum += normal(at-m.BalanceMM, math.Hypot(sigma(m.BalanceErr, t.lim.BalanceErrorM.Value*1000), s))
	}
	if m.SoftnessKnown {
		notches, tol := t.notches(&g.head)
		sum += normal(notches-m.Softness, math.Hypot(sigma(m.SoftnessErr, usualSoftnessErr), tol))
	}
	return sum
}

// Errors of measurements that the limits don't name, as half-widths of 95 %
// bands: a pin's depth in millimetres, a comparison by ear in notches. Common
// practice, no source.
const (
	usualRubberErr   = 0.4
	usualSoftnessErr = 1.5
)

// rubberOf returns the thickness of the rubber and its spread, in millimetres.
func rubberOf(h *head.Head) (mm, sigma float64) {
	sum := 0.0
	for i := range h.Layers {
		x := h.Layers[i].WallTol.MM() * bandToSigma
		sum += x * x
	}
	return (h.Bare - h.Stack.Core.Diameter).MM() / 2, math.Sqrt(sum)
}

// notches returns the softness by the reduced stroke, and its spread.
func (t *matcher) notches(h *head.Head) (notches, sigma float64) {
	b, err := strike.FromHead(*h)
	if err != nil {
		return math.NaN(), 1
	}
	return t.sound.Softness(&b), 1
}

// balance returns the balance point from the butt in millimetres, with the
// head's mass as measured where it is.
func (t *matcher) balance(g *guess) (mm, sigma float64) {
	s := g.stack
	s.Shaft = t.shaft
	h := g.head
	h.Stack.Shaft = t.shaft
	sw := h.SwingAt(measure.Length(t.lim.HandM.Value), t.lim)
	return sw.Balance.MM(), float64(t.shaft.MassTol/t.shaft.Mass) * bandToSigma * sw.Balance.MM() / 4
}

// likeness gathers guesses that are alike in all that shows, likeliest first.
func (t *matcher) likeness(list []*guess) Likeness {
	g := list[0]
	l := Likeness{Stack: g.stack, readings: map[string]reading{}}
	for _, x := range list[1:] {
		ids := []string{}
		if x.stack.Core.ID != g.stack.Core.ID {
			ids = append(ids, x.stack.Core.ID)
		}
		if x.stack.Wrap != nil && x.stack.Wrap.Yarn.ID != g.stack.Wrap.Yarn.ID {
			ids = append(ids, x.stack.Wrap.Yarn.ID)
		}
		for _, id := range ids {
			if !slices.Contains(l.Also, id) {
				l.Also = append(l.Also, id)
			}
		}
	}
	c := propose.Candidate{Head: g.head}
	t.f.Describe(&c, nil)
	l.Facts = c.Facts.Head
	l.Facts.Softness, _ = t.notches(&g.head)
	t.expect(g, &l)
	return l
}

// expect works out what each measurement that is still open would find.
func (t *matcher) expect(g *guess, l *Likeness) {
	set := func(what string, at, sigma, err float64) {
		l.readings[what] = reading{at: at, sigma: math.Hypot(sigma, err*bandToSigma)}
	}
	m := &g.m
	// What the mass is expected to be once the diameter is known, and the
	// other way round.
	if t.g == 0 {
		at, v := m.mass, m.gVar
		if t.d > 0 {
			at += m.both / (m.dVar + t.dVar) * (t.d - m.diameter)
			v -= m.both * m.both / (m.dVar + t.dVar)
		}
		set("mass", at*1000, math.Sqrt(max(0, v))*1000, t.lim.MassErrorKg.Value*1000)
	}
	if t.d == 0 {
		at, v := m.diameter, m.dVar
		at += m.both / (m.gVar + t.gVar) * (t.g - m.mass)
		v -= m.both * m.both / (m.gVar + t.gVar)
		set("diameter", at*1000, math.Sqrt(max(0, v))*1000, t.lim.DiameterErrorM.Value*1000)
	}
	mm, s := rubberOf(&g.head)
	set("rubber", mm, s, usualRubberErr)
	set("durometer", durometer(&g.head), durometerSpread, t.lim.DurometerErrorA.Value)
	set("softness", l.Facts.Softness, 1, usualSoftnessErr)
	if t.shaft != nil {
		at, s := t.balance(g)
		set("balance", at, s, t.lim.BalanceErrorM.Value*1000)
	}
	label := func(what, seen string) { l.readings[what] = reading{label: seen} }
	label("core", l.Facts.Core)
	label("layers", fmt.Sprint(len(g.stack.Slices)))
	label("fibre", l.Facts.Fibre)
	outer := ""
	if n := len(g.stack.Slices); n > 0 {
		x := g.stack.Slices[n-1]
		outer = fmt.Sprint(x.Rubber.ID, x.Tube.Wall)
	}
	label("edge", outer)
}
