package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/rubber"
	"mallow/knowledge/strike"
)

// guess is one core, rubber and yarn, looked at by itself.
type guess struct {
	stack head.Stack
	head  head.Head
	log   float64
	m     mallet
	key   string // alike in all that shows
}

// finish looks at the likeliest again one by one, gathers those that are alike
// in all that shows, and turns weights into shares.
func (t *matcher) finish(list []weighed, rest float64) Matches {
	var all []guess
	for i := range list {
		all = append(all, t.exact(&list[i])...)
	}
	total := rest
	for i := range all {
		total = logAdd(total, all[i].log)
	}
	slices.SortStableFunc(all, func(a, b guess) int { return cmp.Compare(b.log, a.log) })
	out := Matches{Tried: int(t.tried.Load()), Rest: 1}
	at := map[string]int{}
	var groups [][]guess
	for _, g := range all {
		i, ok := at[g.key]
		if !ok {
			i = len(groups)
			at[g.key] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], g)
	}
	share := func(list []guess) float64 {
		sum := 0.0
		for _, g := range list {
			sum += math.Exp(g.log - total)
		}
		return sum
	}
	slices.SortStableFunc(groups, func(a, b []guess) int { return cmp.Compare(share(b), share(a)) })
	for _, list := range groups[:min(mostLikely, len(groups))] {
		l := t.likeness(list)
		l.Share = share(list)
		out.Rest -= l.Share
		out.Likely = append(out.Likely, l)
	}
	out.Rest = max(0, out.Rest)
	return out
}

// exact fits a path's slices as they are, without the table, and weighs every
// wrap with all that was measured.
func (t *matcher) exact(p *weighed) []guess {
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
	var list []guess
	prior := p.path.log + math.Log(t.layered[p.depth]) - math.Log(float64(len(t.cores)))
	t.wraps(&sum, t.coreWeight(&c), func(yarn int, log float64, m mallet) {
		g := guess{stack: s, log: prior + log, m: m}
		if yarn >= 0 {
			w := t.yarns[yarn]
			turns := t.turns(&m)
			w.Turns = max(1, int(math.Round(turns)))
			g.stack.Wrap = &w
		}
		g.head = bare.Rewrap(g.stack.Wrap, t.lim)
		g.log += t.others(&g)
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
	return t.sound.softness(&b), 1
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

// durometerSpread is what a reading strays by where the yarn lies thicker or
// thinner under the foot, in points of Shore A. An assumption.
const durometerSpread = 4

// tipRadius is that of the Shore A indenter's flat end, 0.79 mm across (ISO
// 868, from memory).
const tipRadius = 0.395e-3

// durometer returns what a durometer reads when it is pressed on the equator.
//
// The indenter is taken as a flat punch. Under the middle of one on a half
// space that keeps its volume, the push at depth z is that at the surface
// times (2/π)(arctan(1/x) + x/(1 + x²)) with x = z/a (Boussinesq's solution, from
// memory); a layer gives by what the push falls across it, over its modulus.
// Yarn is taken as pressed flat: it only spreads the load by its solid
// thickness. How far that holds nobody has measured here, which the error of a
// reading has to cover.
func durometer(h *head.Head) float64 {
	a := tipRadius
	if w := h.Stack.Wrap; w != nil {
		a += float64(h.YarnWall) * w.Yarn.Wound.Value
	}
	push := func(z float64) float64 {
		if z == 0 {
			return 1
		}
		x := z / a
		return 2 / math.Pi * (math.Atan(1/x) + x/(1+x*x))
	}
	give, z := 0.0, 0.0
	for i := len(h.Layers) - 1; i >= 0; i-- {
		l := &h.Layers[i]
		give += (push(z) - push(z+float64(l.Wall))) / rubber.Modulus(l.Slice.Rubber.DurometerA.Value)
		z += float64(l.Wall)
	}
	m := &h.Stack.Material
	young := m.ModulusPa.Value
	if a := cmp.Or(h.Stack.Core.DurometerA, m.DurometerA.Value); a > 0 {
		young = rubber.Modulus(a)
	}
	give += push(z) / young
	// Gent's relation turned round, by halves: it rises with the reading.
	lo, hi := 0.0, 99.9
	for range 40 {
		if mid := (lo + hi) / 2; rubber.Modulus(mid)*give < 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// likeness gathers guesses that are alike in all that shows, likeliest first.
func (t *matcher) likeness(list []guess) Likeness {
	g := &list[0]
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
	c := Candidate{Head: g.head}
	t.f.describe(&c, nil)
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

// probe is a measurement that may still be made.
type probe struct {
	what, how string
	open      func(*Measured) bool
}

// probes lists the measurements, the cheapest first: of two that tell as much,
// the first is named.
func probes() []probe {
	return []probe{
		{"mass", "weigh the mallet and take off the shaft's mass, or a like shaft's",
			func(m *Measured) bool { return m.MassG == 0 && m.MalletG == 0 }},
		{"diameter", "measure across the head with a caliper, without squeezing the yarn",
			func(m *Measured) bool { return m.DiameterMM == 0 }},
		{"balance", "lay the mallet across an edge, and measure from the butt to where it balances",
			func(m *Measured) bool { return m.BalanceMM == 0 && m.MassG == 0 && m.MalletG == 0 }},
		{"layers", "part the yarn beside the shaft, and count the edges of the rubber",
			func(m *Measured) bool { return m.Layers == nil }},
		{"edge", "part the yarn beside the shaft, and see what the outermost edge of rubber is made of and how thick it is",
			func(m *Measured) bool { return m.Outermost == "" }},
		{"core", "look in beside the shaft: plastic, wood or rubber",
			func(m *Measured) bool { return m.Core == "" }},
		{"fibre", "hold the yarn against known samples: wool is springy and felts when rubbed damp, cotton is limp, plastics are slick",
			func(m *Measured) bool { return m.Fibre == "" }},
		{"durometer", "press a Shore A durometer on the side of the head, through the yarn, three times, and take the middle reading",
			func(m *Measured) bool { return m.DurometerA == 0 }},
		{"softness", "play it against a head whose softness is known, at a middling loudness, and listen which is brighter at the contact",
			func(m *Measured) bool { return !m.SoftnessKnown }},
		{"rubber", "push a pin through yarn and rubber at the side until it meets the core, and once until it meets the rubber",
			func(m *Measured) bool { return m.RubberMM == 0 }},
	}
}

// next finds the measurement that is expected to settle most.
func next(list []Likeness, m *Measured) *NextMeasure {
	total, open := 0.0, 0.0
	for _, x := range list {
		total += x.Share
	}
	shares := make([]float64, len(list))
	for i, x := range list {
		shares[i] = x.Share / total
		open += entropy(shares[i])
	}
	var best *NextMeasure
	for _, p := range probes() {
		if !p.open(m) {
			continue
		}
		bits, ok := tells(list, shares, p.what)
		if ok && bits > 0.05 && (best == nil || bits > best.Bits+0.02) {
			best = &NextMeasure{What: p.what, How: p.how, Bits: bits, Of: open}
		}
	}
	return best
}

func entropy(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log2(p)
}

// tells returns the mutual information, in bits, between which head it is and
// what a measurement reads. What is seen is taken as seen right; what is
// measured is spread normally about each head's own reading.
func tells(list []Likeness, shares []float64, what string) (float64, bool) {
	labels := map[string]float64{}
	lo, hi, least := math.Inf(1), math.Inf(-1), math.Inf(1)
	for i := range list {
		r, ok := list[i].readings[what]
		if !ok || math.IsNaN(r.at) {
			return 0, false
		}
		if r.sigma == 0 {
			labels[r.label] += shares[i]
			continue
		}
		lo, hi, least = min(lo, r.at-5*r.sigma), max(hi, r.at+5*r.sigma), min(least, r.sigma)
	}
	bits := 0.0
	if len(labels) > 0 {
		for _, p := range labels {
			bits += entropy(p)
		}
		return bits, true
	}
	// h(reading) − Σ share · h(reading | head), by the trapezium rule in
	// steps of a quarter of the narrowest spread.
	n := min(4000, int((hi-lo)/least*4)+1)
	dx := (hi - lo) / float64(n)
	for k := range n {
		x := lo + (float64(k)+0.5)*dx
		f := 0.0
		for i := range list {
			r := list[i].readings[what]
			f += shares[i] * math.Exp(normal(x-r.at, r.sigma))
		}
		bits += entropy(f) * dx
	}
	for i := range list {
		bits -= shares[i] * math.Log2(list[i].readings[what].sigma*math.Sqrt(2*math.Pi*math.E))
	}
	return max(0, bits), true
}
