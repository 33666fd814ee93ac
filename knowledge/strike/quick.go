package strike

import "math"

// Reduced is one stroke by the reduced form.
type Reduced struct {
	SpeedMS  float64
	ContactS float64
	PeakN    float64
	CutoffHz float64 // the force spectrum is 10 dB down
	// Shares of the compression at the peak; they sum to 1.
	Core, Rubber, Yarn float64
	// Patch is the radius of the contact at the peak, in metres.
	Patch float64

	parts parts   // the same, part by part
	drag  float64 // Hunt and Crossley's c, s/m
}

// drop is the fall of the force spectrum that marks the cut-off: 10 dB.
const drop = 10.0

// Quick appends to dst the strokes of a head on a bar at rising speeds, by
// the reduced form: the bar is lumped into the mass that a stroke of that
// length meets, and time is found by quadrature over the head's curve of
// force against compression. It allocates nothing when dst has room. Speeds
// are in m/s and above zero; the body is one that FromHead makes.
//
// Against Full its cut-off is good to a few per cent over the catalogue; the
// tests measure and print it.
func Quick(dst []Reduced, b *Body, bar *Bar, speeds []float64) []Reduced {
	if len(speeds) == 0 {
		return dst
	}
	var c curve
	top := speeds[len(speeds)-1]
	c.fill(b, 0.5*b.Mass*top*top, quickPoints)
	for _, v := range speeds {
		r, _ := c.stroke(b, bar, v)
		dst = append(dst, r)
	}
	return dst
}

// quickPoints is the number of points on the reduced form's curve.
const quickPoints = 14

// half is the number of time steps on each side of the peak.
const half = 8

// push is a force over time as impulses w at times t.
type push struct{ t, w [2*half + 1]float64 }

// stroke is one stroke over a filled curve.
func (c *curve) stroke(b *Body, bar *Bar, v float64) (Reduced, push) {
	r := Reduced{SpeedMS: v}
	top := c.peak(b, bar, v, &r)
	p := c.pace(top, &r)
	r.ContactS = p.clock()
	r.CutoffHz = cutoff(p.t[:], p.w[:])
	return r, p
}

// turn is the head at its deepest.
type turn struct {
	a, f, g float64 // patch, force, and slope of the curve there
	energy  float64 // stored
	z       float64 // of the loss; see lossSpeed
	over    float64 // P(z)/z: how much faster it came than it would without loss
}

// peak finds where a stroke turns back.
func (c *curve) peak(b *Body, bar *Bar, v float64, r *Reduced) turn {
	// The mass met depends on the time, and the time on the mass: one guess
	// from a free bar is enough.
	mass := 1 / (1/b.Mass + bar.felt(0))
	a := c.patch(0.45*mass*v*v, 0)
	k, wt := c.weights(a)
	mass = 1 / (1/b.Mass + bar.felt(3.2*blend(&c.d, k, &wt)/v))

	top := turn{energy: 0.5 * mass * v * v, over: 1}
	at := func() {
		top.a = c.patch(top.energy, a)
		k, wt := c.weights(top.a)
		top.f, top.g = blend(&c.f, k, &wt), blend(&c.g, k, &wt)
		r.divide(b, c.s.divide(top.a, top.f))
	}
	at()
	top.z = lossRoot(r.loss(b))
	if top.z > 0 {
		// The loss lowers the peak: W = ½·m·v²·(z/P(z))².
		r.drag = lossSpeed(top.z) / v
		top.over = lossSpeed(top.z) / top.z
		top.energy /= top.over * top.over
		at()
	}
	r.Patch, r.PeakN = top.a, top.f
	return top
}

// pace returns the push of a stroke, its times as yet the rates dt/dy over the
// steps of y: a = top.a·√(1−y²), y from 1 (touch) to 0 (peak) and back, so that
// dt = dd/speed = g·a²·y·dy/speed, smooth throughout.
func (c *curve) pace(top turn, r *Reduced) (p push) {
	scale := top.a * top.a * top.over / r.SpeedMS
	for j := range half + 1 {
		in, out, force := 0.0, 0.0, top.f // the rates either side of the peak
		hard, ease := 1.0, 1.0            // what the loss makes of the force there
		if j == 0 {
			in = scale / top.a * math.Sqrt(2*top.energy*top.g/top.f)
			out = in
		} else {
			y := float64(j) / half
			k, wt := c.weights(top.a * math.Sqrt(1-y*y))
			left := math.Sqrt(max(1-blend(&c.w, k, &wt)/top.energy, 0)) // of the speed
			force = blend(&c.f, k, &wt)
			in = scale * blend(&c.g, k, &wt) * y / left
			out = in
			if zeta := top.z * left; zeta > 0 {
				up, down := lossSpeed(zeta), lossSpeed(-zeta)
				in *= zeta / up
				out *= -zeta / down
				hard, ease = 1+up, 1+down
			}
		}
		i, o := half-j, half+j
		p.t[i], p.t[o] = in, out
		p.w[i], p.w[o] = force*hard*in/half, force*ease*out/half
		r.PeakN = max(r.PeakN, force*hard)
	}
	return p
}

// clock turns the rates of a push into times, by cumulative cubics, and
// returns the last of them.
func (p *push) clock() float64 {
	const h, last = 1.0 / half / 24, 2 * half
	t := &p.t
	at, before := 0.0, t[0]
	for i := range last {
		here, next := t[i], t[i+1]
		t[i] = at
		switch i {
		case 0:
			at += h * (9*here + 19*next - 5*t[2] + t[3])
		case last - 1:
			at += h * 12 * (here + next)
		default:
			at += h * (-before + 13*here + 13*next - t[i+2])
		}
		before = here
	}
	t[last] = at
	return at
}

// level returns the strength of the push at an angular frequency.
func (p *push) level(omega float64) float64 {
	var re, im float64
	for i, at := range p.t {
		s, c := math.Sincos(omega * at)
		re += p.w[i] * c
		im += p.w[i] * s
	}
	return math.Hypot(re, im)
}

// divide fills in the shares of the compression.
func (r *Reduced) divide(b *Body, p parts) {
	n := len(b.Rubber)
	total := 0.0
	for _, d := range p[:n+2] {
		total += d
	}
	for i := range p {
		p[i] /= total
	}
	r.Core, r.Yarn = p[0], p[n+1]
	r.Rubber = 1 - r.Core - r.Yarn
	r.parts = p
}

// loss returns the share of the energy that is lost, each part losing its own
// of what it takes.
func (r *Reduced) loss(b *Body) float64 {
	sum := r.Core*b.Core.Loss + r.Yarn*b.Yarn.Loss
	for i, layer := range b.Rubber {
		sum += r.parts[i+1] * layer.Loss
	}
	return sum
}

// cutoff returns the frequency at which the spectrum of a pulse, given as
// impulses w at times t, has fallen by drop decibels from its value at rest.
func cutoff(t, w []float64) float64 {
	var m0, m1, m2 float64
	for i, x := range w {
		m0 += x
		m1 += x * t[i]
		m2 += x * t[i] * t[i]
	}
	mean := m1 / m0
	spread := math.Sqrt(m2/m0 - mean*mean)
	target := m0 * m0 * math.Pow(10, -drop/10)

	// Newton from 1.415 over the spread, where a pulse between a half sine
	// (1.394) and a squared one (1.426) is 10 dB down. The logarithm of the
	// power is near y0 − b·x², so the step is taken in x².
	lo, hi := 0.0, math.Inf(1)
	x := 1.415 / spread
	for range 40 {
		var re, im, dre, dim float64
		for i, at := range t {
			s, c := math.Sincos(x * (at - mean))
			s *= w[i]
			c *= w[i]
			re += c
			im += s
			dre -= (at - mean) * s
			dim += (at - mean) * c
		}
		power := re*re + im*im
		y := math.Log(power / target)
		if y > 0 {
			lo = x
		} else {
			hi = x
		}
		slope := (re*dre + im*dim) / power / x
		next := math.Sqrt(max(x*x-y/slope, 0))
		if math.Abs(next-x) < 0.02*x { // the next step would be some 1e-4
			return next / (2 * math.Pi)
		}
		if next <= lo || next >= hi {
			next = min((lo+hi)/2, 2*x)
		}
		x = next
	}
	return x / (2 * math.Pi)
}
