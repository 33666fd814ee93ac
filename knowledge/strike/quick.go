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
	mass  float64 // that moves, with the rod's part
}

// drop is the fall of the force spectrum that marks the cut-off: 10 dB.
const drop = 10.0

// Quick appends to dst the strokes of a head on a bar at rising speeds, by
// the reduced form: the head's curve of force against compression from a few
// points, and some twenty even steps of time in which the bar's modes
// move as they would under a steady force. It allocates nothing when dst has
// room. Speeds are in m/s and above zero; the body is one that FromHead makes.
//
// Against Full its cut-off is good to 3 % over the catalogue and all
// instruments; the tests measure and print it.
func Quick(dst []Reduced, b *Body, bar *Bar, speeds []float64) []Reduced {
	if len(speeds) == 0 {
		return dst
	}
	var c curve
	var p push
	top := speeds[len(speeds)-1]
	c.fill(b, bar.Flat, b.energy(top), quickPoints)
	for _, v := range speeds {
		dst = append(dst, c.stroke(b, bar, v, &p))
	}
	return dst
}

// energy is the most that a stroke at speed v can store in the head; a rod
// carries most in a long stroke and where its end can't turn.
func (b *Body) energy(v float64) float64 {
	const longest = 0.01 // s
	return 0.5 * (b.Mass + 2*b.Core.Rod.Moving(0, longest)) * v * v
}

// quickPoints is the number of points on the reduced form's curve.
const quickPoints = 8

// reportPoints is the same where partials are read off: with more, their levels stay
// as they are, while with few a deep one moves by several decibels.
const reportPoints = 24

// quickSteps is the number of steps in the time that a stroke is likely to
// take, mostSteps where it is given up.
const quickSteps, mostSteps = 18, 128

// push is a force at even steps of time from first touch, and what the bar
// did meanwhile.
type push struct {
	f    [mostSteps]float64 // N
	n    int
	step float64 // s
	rest float64 // from the last force to the parting, s
	bend [3]float64
}

// stroke is one stroke over a filled curve.
func (c *curve) stroke(b *Body, bar *Bar, v float64, p *push) Reduced {
	r := Reduced{SpeedMS: v}
	// How deep it goes and how long it takes, as on a bar that only gives
	// way: good enough for the step, the loss and the rod.
	felt := bar.Rigid + bar.Modes[0].Mobility
	mass := 1 / (1/b.Mass + felt)
	a := c.patch(0.5*mass*v*v, 0)
	k, wt := c.weights(a)
	about := 3 * blend(&c.d, k, &wt) / v
	r.mass = b.moving(about)
	r.divide(b, c.s.divide(a, blend(&c.f, k, &wt), blend(&c.y, k, &wt)))
	if z := lossRoot(r.loss(b)); z > 0 {
		r.drag = lossSpeed(z) / v
	}
	deep := c.run(bar, v, min(about/quickSteps, c.longest(a, 1/r.mass+bar.free())), &r, p)
	r.Patch = c.radius(deep, new(float64))
	k, wt = c.weights(r.Patch)
	r.divide(b, c.s.divide(r.Patch, blend(&c.f, k, &wt), blend(&c.y, k, &wt)))
	r.CutoffHz = p.cutoff()
	return r
}

// longest returns the longest step that follows the head where it is stiffest,
// at a patch of radius a: half a radian of what head and bar would swing with
// there. Yarn and slices that are squeezed to the ground are far stiffer at the
// end than on the way.
func (c *curve) longest(a, free float64) float64 {
	k, wt := c.weights(a)
	f, g := blend(&c.f, k, &wt), blend(&c.g, k, &wt)
	k, wt = c.weights(0.97 * a)
	stiff := (f - blend(&c.f, k, &wt)) / (0.03 * a * a * g)
	return 0.5 / math.Sqrt(max(stiff, 1)*free)
}

// run steps a stroke through to the parting, and returns the compression at
// the highest force.
//
// Head and bar are moved by central differences, x″ = −F/m, with each
// mode's recurrence exact for a force that holds over a step:
// q₊ = 2cos(ωh)·q − q₋ + h²·sinc²(ωh/2)·F/M.
func (c *curve) run(bar *Bar, v, h float64, r *Reduced, p *push) (deep float64) {
	var q, last, turn, kick [4]float64
	turn[3], kick[3] = 2, h*h*bar.Rigid // moving whole
	for i := range bar.Modes {
		m := &bar.Modes[i]
		s, co := math.Sincos(m.Omega * h / 2)
		turn[i] = 2 * (co*co - s*s)
		kick[i] = h * h * m.Mobility
		if m.Omega > 0 {
			kick[i] = 4 * s * s / (m.Omega * m.Omega) * m.Mobility
		}
	}
	x, was := 0.0, -v*h
	push := h * h / r.mass
	d, d1, d2 := 0.0, -v*h, -2*v*h
	area, slope := 0.0, c.g[0]
	top := c.step * float64(c.n-1)
	top *= top
	p.step, p.n = h, 0
	best, before, after := 0.0, 0.0, 0.0
	for p.n < mostSteps {
		f := 0.0
		if d > 0 {
			// a² by one step of Newton from where it was going.
			guess := min(max(area+2*(d-d1)/slope, 0.01*d/slope), top)
			if area == 0 {
				guess = 2 * d / slope
			}
			k, wt := c.weights(math.Sqrt(guess))
			slope = blend(&c.g, k, &wt)
			area = min(max(guess+2*(d-blend(&c.d, k, &wt))/slope, guess/4), top)
			k, wt = c.weights(math.Sqrt(area))
			f = max(blend(&c.f, k, &wt)*(1+r.drag*(3*d-4*d1+d2)/(2*h)), 0)
		}
		p.f[p.n] = f
		p.n++
		if f > best {
			best, deep = f, d
			before, after = p.f[max(p.n-2, 0)], 0
		} else if after == 0 {
			after = f
		}
		bend := 0.0
		for i := range q {
			next := turn[i]*q[i] - last[i] + kick[i]*f
			last[i], q[i] = q[i], next
			bend += next
		}
		x, was = 2*x-was-push*f, x
		d2, d1, d = d1, d, x-bend
		if d <= 0 {
			break
		}
	}
	p.rest = 0
	if d1 > d {
		p.rest = h * d1 / (d1 - d)
	}
	r.ContactS = h*float64(p.n-1) + p.rest
	// The peak of the parabola through the highest three.
	if curve := before - 2*best + after; curve < 0 {
		best -= (after - before) * (after - before) / (8 * curve)
	}
	r.PeakN = best
	for i := range bar.Modes {
		m := &bar.Modes[i]
		if m.Shape != 0 {
			// Amplitude of a free swing from two points of it.
			s, co := math.Sincos(m.Omega * h)
			u := (q[i]*co - last[i])
			p.bend[i] = math.Hypot(u, q[i]*s) / max(math.Abs(s), 1e-9) * m.Omega / math.Abs(m.Shape)
		}
	}
	return deep
}

// level returns the strength of the push at an angular frequency.
func (p *push) level(omega float64) float64 {
	var re, im float64
	for i, f := range p.f[:p.n] {
		s, c := math.Sincos(omega * p.step * float64(i))
		re += f * c
		im += f * s
	}
	return math.Hypot(re, im)
}

// cutoff returns the frequency in Hz at which the spectrum of the push has
// fallen by drop decibels from its value at rest.
func (p *push) cutoff() float64 {
	var m0, m1, m2 float64
	for i, f := range p.f[:p.n] {
		t := float64(i)
		m0 += f
		m1 += f * t
		m2 += f * t * t
	}
	mean := m1 / m0
	spread := math.Sqrt(m2/m0 - mean*mean)
	target := m0 * m0 * 0.1
	// Newton as in the function cutoff, the phase carried from step to step.
	x := 1.415 / spread
	for range 12 {
		s1, c1 := math.Sincos(x)
		s, c := math.Sincos(-x * mean)
		var re, im, dre, dim float64
		for i, f := range p.f[:p.n] {
			t := float64(i) - mean
			fc, fs := f*c, f*s
			re += fc
			im += fs
			dre -= t * fs
			dim += t * fc
			c, s = c*c1-s*s1, s*c1+c*s1
		}
		power := re*re + im*im
		next := math.Sqrt(max(x*x-math.Log(power/target)*power*x/(re*dre+im*dim), x*x/4))
		next = min(next, 1.5*x)
		if math.Abs(next-x) < 0.01*x {
			x = next
			break
		}
		x = next
	}
	return x / (2 * math.Pi * p.step)
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
