package strike

import (
	"math"

	"mallow/knowledge/fault"
)

// Pulse is one stroke in full: what the head and the bar did from first touch
// to parting.
type Pulse struct {
	Body    *Body
	Bar     *Bar
	SpeedMS float64
	// ContactS ends when the head first leaves the bar. A bar that swings
	// back and knocks it again is not followed.
	ContactS  float64
	PeakN     float64
	ImpulseNS float64
	CutoffHz  float64
	Rebound   float64    // speed of parting, of head from bar, over SpeedMS
	Bend      [3]float64 // speed amplitude of each mode after parting, m/s, where its shape is 1
	Squeeze   []float64  // compression at the peak: core, slices inside out, yarn; m
	Patch     float64    // radius of the contact at the peak, m
	Beyond    bool       // a layer law was used past its range
	Lost      float64    // energy turned to heat in the head, J
	Damped    float64    // and in the bar while in contact, J

	curve *curve
	drag  float64 // Hunt and Crossley's c, s/m
	mass  float64 // that moves
	end   state
	at    []moment
}

// moment is the head at one step of the integration.
type moment struct{ t, d, v, f float64 }

// state of the integration: where the head is, where the struck point of the
// bar is by moving whole and by each mode, their speeds, and heat.
type state [12]float64

const (
	headX = iota
	wholeX
	mode1X
	_
	_
	headV
	wholeV
	mode1V
	_
	_
	heatHead
	heatBar
)

// Tolerances of the integration: share of each step's displacement and speed.
const (
	stepTol  = 2e-7
	maxSteps = 20000
	fastest  = 50.0 // m/s; no hand is near it
)

var errLost = fault.Errorf("the head did not leave the bar; its numbers are out of any range")

// Mass returns the mass that moved, with the rod's part, in kg.
func (p *Pulse) Mass() float64 { return p.mass }

// Full integrates one stroke at speed v m/s.
//
//	m·ẍ = −F;  q̈ᵢ + 2ζωq̇ᵢ + ω²qᵢ = F/Mᵢ;  F = f(d)·(1 + c·ḋ), d = x − Σqᵢ
//
// with the head's own curve f and c set by the energy its layers lose. It
// uses the fifth-order pair of Dormand and Prince (1980) with its embedded
// error estimate.
func Full(b *Body, bar *Bar, v float64) (*Pulse, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if !(v > 0 && v <= fastest) {
		return nil, fault.Errorf("a head speed of %g m/s; it has to be above 0 and at most %g", v, fastest)
	}
	p := newPulse(b, bar, v)
	r := p.curve.stroke(b, bar, v, new(push))
	if err := p.run(r.mass, r.drag, r.ContactS); err != nil {
		return nil, err
	}
	return p, nil
}

func newPulse(b *Body, bar *Bar, v float64) *Pulse {
	p := &Pulse{Body: b, Bar: bar, SpeedMS: v, curve: new(curve)}
	p.curve.fill(b, bar.Flat, b.energy(v), 60)
	return p
}

// run integrates the stroke of a mass with Hunt and Crossley's c; it lasts
// about so many seconds.
func (p *Pulse) run(mass, drag, about float64) error {
	p.mass, p.drag = mass, drag
	if err := p.integrate(about); err != nil {
		return err
	}
	p.measure()
	return nil
}

// slope returns the rate of change of y, and the force.
func (p *Pulse) slope(y *state, hint *float64) (dy state, f float64) {
	d := y[headX] - y[wholeX]
	v := y[headV] - y[wholeV]
	for i := range p.Bar.Modes {
		d -= y[mode1X+i]
		v -= y[mode1V+i]
	}
	heat := 0.0
	if d > 0 {
		el := p.curve.force(d, hint)
		f = max(el*(1+p.drag*v), 0)
		heat = (f - el) * v
	}
	dy[headX] = y[headV]
	dy[headV] = -f / p.mass
	dy[wholeX] = y[wholeV]
	dy[wholeV] = f * p.Bar.Rigid
	for i := range p.Bar.Modes {
		m := &p.Bar.Modes[i]
		q, u := y[mode1X+i], y[mode1V+i]
		dy[mode1X+i] = u
		drag := 2 * m.Damping * m.Omega * u
		dy[mode1V+i] = f*m.Mobility - drag - m.Omega*m.Omega*q
		if m.Mobility > 0 {
			dy[heatBar] += drag * u / m.Mobility
		}
	}
	dy[heatHead] = heat
	return dy, f
}

func (p *Pulse) gap(y *state) (d, v float64) {
	d = y[headX] - y[wholeX]
	v = y[headV] - y[wholeV]
	for i := range p.Bar.Modes {
		d -= y[mode1X+i]
		v -= y[mode1V+i]
	}
	return d, v
}

func (p *Pulse) integrate(about float64) error {
	var y state
	y[headV] = p.SpeedMS
	hint := 0.0
	t, h := 0.0, about/200
	k1, f := p.slope(&y, &hint)
	p.at = append(make([]moment, 0, 160), moment{0, 0, p.SpeedMS, f})
	scaleV := p.SpeedMS
	scaleX := p.SpeedMS * about / 3
	most := about / 40
	for range maxSteps {
		next, k7, f, bad := p.step(&y, &k1, h, scaleX, scaleV, &hint)
		if bad > 1 {
			h *= max(0.2, 0.9*math.Pow(bad, -0.2))
			continue
		}
		d, v := p.gap(&next)
		if d <= 0 {
			if d > -1e-9*scaleX || h < 1e-9*about {
				p.at = append(p.at, moment{t + h, 0, v, 0})
				p.end = next
				return nil
			}
			// Come to rest on the parting: the root of the cubic of d.
			m := p.at[len(p.at)-1]
			h = root(m.d, m.v, d, v, h)
			continue
		}
		y, k1 = next, k7
		t += h
		p.at = append(p.at, moment{t, d, v, f})
		h *= min(3, 0.9*math.Pow(max(bad, 1e-6), -0.2))
		h = min(h, most)
	}
	return errLost
}

// root returns where within a step h the cubic through d0 (above zero) and d1
// (below), with slopes v0 and v1, is just below zero.
func root(d0, v0, d1, v1, h float64) float64 {
	lo, hi := 0.0, 1.0
	for range 50 {
		m := (lo + hi) / 2
		if hermite(d0, v0*h, d1, v1*h, m) > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return hi * h * (1 + 1e-12)
}

func hermite(y0, s0, y1, s1, t float64) float64 {
	u := 1 - t
	return u*u*((1+2*t)*y0+t*s0) + t*t*((1+2*u)*y1-u*s1)
}

// step takes one step of Dormand and Prince; bad is its error over tolerance.
func (p *Pulse) step(y, k1 *state, h, scaleX, scaleV float64, hint *float64) (next, k7 state, f, bad float64) {
	var z state
	for i := range y {
		z[i] = y[i] + h*(1.0/5)*k1[i]
	}
	k2, _ := p.slope(&z, hint)
	for i := range y {
		z[i] = y[i] + h*(3.0/40*k1[i]+9.0/40*k2[i])
	}
	k3, _ := p.slope(&z, hint)
	for i := range y {
		z[i] = y[i] + h*(44.0/45*k1[i]-56.0/15*k2[i]+32.0/9*k3[i])
	}
	k4, _ := p.slope(&z, hint)
	for i := range y {
		z[i] = y[i] + h*(19372.0/6561*k1[i]-25360.0/2187*k2[i]+64448.0/6561*k3[i]-212.0/729*k4[i])
	}
	k5, _ := p.slope(&z, hint)
	for i := range y {
		z[i] = y[i] + h*(9017.0/3168*k1[i]-355.0/33*k2[i]+46732.0/5247*k3[i]+49.0/176*k4[i]-5103.0/18656*k5[i])
	}
	k6, _ := p.slope(&z, hint)
	for i := range y {
		next[i] = y[i] + h*(35.0/384*k1[i]+500.0/1113*k3[i]+125.0/192*k4[i]-2187.0/6784*k5[i]+11.0/84*k6[i])
	}
	k7, f = p.slope(&next, hint)
	for i := range heatHead {
		e := h * (71.0/57600*k1[i] - 71.0/16695*k3[i] + 71.0/1920*k4[i] - 17253.0/339200*k5[i] + 22.0/525*k6[i] - 1.0/40*k7[i])
		scale := scaleX
		if i >= headV {
			scale = scaleV
		}
		bad = max(bad, math.Abs(e)/(scale*stepTol))
	}
	return next, k7, f, bad
}

// measure reads the results off the integrated stroke.
func (p *Pulse) measure() {
	n := len(p.at)
	last := p.at[n-1]
	p.ContactS = last.t
	_, v := p.gap(&p.end)
	p.Rebound = -v / p.SpeedMS
	p.Lost, p.Damped = p.end[heatHead], p.end[heatBar]
	p.ImpulseNS = p.mass * (p.SpeedMS - p.end[headV])

	p.CutoffHz = cutoff(p.impulses())

	var peak moment
	hint := 0.0
	for i := 1; i < n; i++ {
		for _, m := range [2]moment{p.between(p.at[i-1], p.at[i], 0.5, &hint), p.at[i]} {
			if m.f > peak.f {
				peak = m
			}
		}
	}
	p.PeakN = peak.f
	p.Patch = p.curve.radius(peak.d, &hint)
	p.Squeeze = p.curve.squeezes(p.Patch)
	p.Beyond = p.Body.beyond(p.Patch, p.Squeeze)
	for i := range p.Bar.Modes {
		m := &p.Bar.Modes[i]
		if m.Shape != 0 {
			p.Bend[i] = math.Hypot(p.end[mode1V+i], m.Omega*p.end[mode1X+i]) / math.Abs(m.Shape)
		}
	}
}

// between returns the moment at share x of the step from a to b.
func (p *Pulse) between(a, b moment, x float64, hint *float64) moment {
	h := b.t - a.t
	if h <= 0 {
		return a
	}
	d := hermite(a.d, a.v*h, b.d, b.v*h, x)
	u := 1 - x
	v := (6*x*u*(b.d-a.d))/h + u*(1-3*x)*a.v + x*(1-3*u)*b.v
	m := moment{t: a.t + x*h, d: d, v: v}
	if d > 0 {
		m.f = max(p.curve.force(d, hint)*(1+p.drag*v), 0)
	}
	return m
}

// What a stroke may do before it is called beyond the tested range: flatten the
// head over a wider patch than flattened, a share of its radius, where a ball
// is no longer one on a half-space; or squeeze a slice to less than a
// half, or the yarn to less than a quarter. Assumptions, for laws that were
// checked for small strains and blocks.
const (
	flattened = 0.6
	mostSlice = 0.5
	mostYarn  = 0.75
)

// beyond reports whether a patch of radius a, and these compressions of the
// parts, take a layer law past its range.
func (b *Body) beyond(a float64, squeeze []float64) bool {
	if len(b.Rubber) == 0 && b.Yarn.Wall == 0 {
		return a > hertzReach*b.Radius
	}
	if a > flattened*b.Radius {
		return true
	}
	for i, r := range b.Rubber {
		if squeeze[i+1] > mostSlice*r.Wall {
			return true
		}
	}
	return b.Yarn.Wall > 0 && squeeze[len(b.Rubber)+1] > mostYarn*b.Yarn.Wall
}

// Spectrum returns the level of the push at each frequency, in decibels
// against its level at rest. It is −10 at CutoffHz.
func (p *Pulse) Spectrum(hz []float64) []float64 {
	t, w := p.impulses()
	total := 0.0
	for _, x := range w {
		total += x
	}
	out := make([]float64, len(hz))
	for i, f := range hz {
		var re, im float64
		for k, at := range t {
			s, c := math.Sincos(2 * math.Pi * f * at)
			re += w[k] * c
			im += w[k] * s
		}
		out[i] = decibels(math.Hypot(re, im), total)
	}
	return out
}

// impulses returns the push as impulses w at times t, by Simpson over each
// step, its middle from the cubic of d.
func (p *Pulse) impulses() (t, w []float64) {
	n := len(p.at)
	t, w = make([]float64, 1, 2*n), make([]float64, 1, 2*n)
	hint := 0.0
	for i := 1; i < n; i++ {
		a, b := p.at[i-1], p.at[i]
		m := p.between(a, b, 0.5, &hint)
		h := (b.t - a.t) / 6
		w[len(w)-1] += a.f * h
		t = append(t, m.t, b.t)
		w = append(w, 4*m.f*h, b.f*h)
	}
	return t, w
}

// Sample is the force at one time and what each part is squeezed by.
type Sample struct {
	T       float64   // s from first touch
	F       float64   // N
	Squeeze []float64 // core, slices inside out, yarn; m
}

// Samples returns n samples of the stroke, evenly spaced from first touch to
// parting.
func (p *Pulse) Samples(n int) []Sample {
	out := make([]Sample, 0, n)
	hint, i := 0.0, 1
	for j := range n {
		t := p.ContactS * float64(j) / float64(max(n-1, 1))
		for i < len(p.at)-1 && p.at[i].t < t {
			i++
		}
		a, b := p.at[i-1], p.at[i]
		m := p.between(a, b, min((t-a.t)/(b.t-a.t), 1), &hint)
		s := Sample{T: t, F: m.f}
		if m.d > 0 {
			s.Squeeze = p.curve.squeezes(p.curve.radius(m.d, &hint))
		} else {
			s.Squeeze = make([]float64, len(p.Squeeze))
		}
		out = append(out, s)
	}
	return out
}

// Force returns the force at n even steps of dt seconds from first touch, for
// driving a synthesised bar.
func (p *Pulse) Force(dt float64) []float64 {
	n := int(p.ContactS/dt) + 1
	out := make([]float64, n)
	hint, i := 0.0, 1
	for j := range n {
		t := float64(j) * dt
		for i < len(p.at)-1 && p.at[i].t < t {
			i++
		}
		a, b := p.at[i-1], p.at[i]
		out[j] = p.between(a, b, min((t-a.t)/(b.t-a.t), 1), &hint).f
	}
	return out
}
