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

	drag float64 // Hunt and Crossley's c, s/m
}

// drop is the fall of the force spectrum that marks the cut-off: 10 dB.
const drop = 10.0

// Quick appends to dst the strokes of a head on a bar at rising speeds, by
// the reduced form: the bar is lumped into the mass that a stroke of that
// length meets, and time is found by quadrature over the head's curve of
// force against compression. It allocates nothing when dst has room.
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
const quickPoints = 18

// half is the number of time steps on each side of the peak.
const half = 8

// push is a force over time as impulses w at times t.
type push struct{ t, w [2*half + 1]float64 }

// stroke is one stroke over a filled curve.
func (c *curve) stroke(b *Body, bar *Bar, v float64) (Reduced, push) {
	// The mass met depends on the time, and the time on the mass: one guess
	// from a free bar is enough.
	mass := 1 / (1/b.Mass + bar.felt(0))
	a := c.patch(0.45*mass*v*v, 0)
	k, wt := c.weights(a)
	mass = 1 / (1/b.Mass + bar.felt(3.2*blend(&c.d, k, &wt)/v))

	r := Reduced{SpeedMS: v}
	a = c.patch(0.5*mass*v*v, a)
	k, wt = c.weights(a)
	f, d := blend(&c.f, k, &wt), blend(&c.d, k, &wt)
	loss := c.share(b, &r, a, f, d)

	// The loss lowers the peak: W = ½·m·v²·(z/P(z))².
	z := lossRoot(loss)
	full := 0.5 * mass * v * v
	over := 1.0
	if z > 0 {
		r.drag = lossSpeed(z) / v
		over = lossSpeed(z) / z
		full /= over * over
		a = c.patch(full, a)
		k, wt = c.weights(a)
		f, d = blend(&c.f, k, &wt), blend(&c.d, k, &wt)
		c.share(b, &r, a, f, d)
	}
	r.Patch = a
	r.PeakN = f

	// dt = dd/speed with a = am·√(1−y²), y from 1 (touch) to 0 (peak) and
	// back: dd = g·am²·y·dy. On the way in y is taken negative.
	var p push
	var q [2*half + 1]float64 // force
	t, w := &p.t, &p.w        // t is the rate dt/dy until it is added up
	gm := blend(&c.g, k, &wt)
	for j := range half + 1 {
		y := float64(j) / half
		in, out, push := 0.0, 0.0, f // of the elastic force
		hard, ease := 1.0, 1.0       // what the loss makes of it on either side
		if j == 0 {
			in = a * math.Sqrt(2*full*gm/f) * over / v
			out = in
		} else {
			aj := a * math.Sqrt(1-y*y)
			k, wt := c.weights(aj)
			left := math.Sqrt(max(1-blend(&c.w, k, &wt)/full, 0))
			push = blend(&c.f, k, &wt)
			in = blend(&c.g, k, &wt) * a * a * y / (v * left) * over
			out = in
			if zeta := z * left; zeta > 0 {
				up, down := lossSpeed(zeta), lossSpeed(-zeta)
				in *= zeta / up
				out *= -zeta / down
				hard, ease = 1+up, 1+down
			}
		}
		i, o := half-j, half+j
		t[i], t[o] = in, out
		q[i], q[o] = push*hard, push*ease
		r.PeakN = max(r.PeakN, q[i])
	}
	const h = 1.0 / half
	// Impulse in each sample, and time at it, by cumulative cubics.
	for i := range t {
		w[i] = q[i] * t[i] * h
	}
	at := 0.0
	prev := t[0]
	last := len(t) - 1
	for i := range t {
		here := t[i]
		t[i] = at
		if i == last {
			break
		}
		next := t[i+1]
		switch {
		case i == 0:
			at += h / 24 * (9*here + 19*next - 5*t[2] + t[3])
		case i == last-1:
			at += h / 2 * (here + next)
		default:
			at += h / 24 * (-prev + 13*here + 13*next - t[i+2])
		}
		prev = here
	}
	r.ContactS = at
	r.CutoffHz = cutoff(t[:], w[:])
	return r, p
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

// share fills in the shares of the compression d at the peak and returns the
// share of the energy that is lost, each part losing its own.
func (c *curve) share(b *Body, r *Reduced, a, f, d float64) (loss float64) {
	p := c.s.divide(a, f)
	r.Core = p[0] / d
	loss = r.Core * b.Core.Loss
	r.Rubber = 0
	for i, layer := range b.Rubber {
		r.Rubber += p[i+1] / d
		loss += p[i+1] / d * layer.Loss
	}
	r.Yarn = p[len(b.Rubber)+1] / d
	return loss + r.Yarn*b.Yarn.Loss
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
