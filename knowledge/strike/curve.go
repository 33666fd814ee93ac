package strike

import "math"

// curve is a head's force and stored energy against the radius a of the patch
// of contact, at equal steps of a. In a all of them are smooth from the first
// touch on (Hertz is d = a²/R, F ∝ a³, W ∝ a⁵), which they are not in d.
type curve struct {
	s    series
	step float64
	n    int             // points, from a = 0
	f    [points]float64 // force, N
	d    [points]float64 // compression, m
	g    [points]float64 // d′(a)/a
	y    [points]float64 // what the yarn gives of d, m
	w    [points]float64 // energy stored, J
}

const points = 80

// fill squeezes the head against a surface of compliance flat until it has
// stored energy joules, in about want steps of a.
func (c *curve) fill(b *Body, flat, energy float64, want int) {
	c.s = b.series(flat)
	c.step = c.s.reach(energy) / float64(want)
	for range 60 { // far more than any energy needs
		enough := c.squeeze(energy)
		switch {
		case !enough:
			c.step *= 1.5
		case c.steep() && c.n < points*2/3:
			c.step *= 0.7
		default:
			c.integrate()
			return
		}
	}
	c.integrate()
}

// steep reports whether the force rises so fast from point to point that a
// cubic cuts its corner: slices squeezed to the ground on a hard, heavy ball.
func (c *curve) steep() bool {
	for j := 5; j < c.n; j++ {
		r := float64(j) / float64(j-1)
		if r *= r * r; c.f[j] > 1.4*r*r*c.f[j-1] {
			return true
		}
	}
	return false
}

// squeeze fills in force and compression until energy is well passed, and
// reports whether the points were enough.
func (c *curve) squeeze(energy float64) bool {
	w, past := 0.0, 0
	wound := c.s.yarn.wall > 0
	var q [3]float64 // the unknown over a³ without yarn, over a² with it, of the last three points
	for c.n = 1; c.n < points && past < 4; c.n++ {
		j := c.n
		guess := 0.0
		scale := float64(j * j)
		if !wound {
			scale *= float64(j)
		}
		if j > 3 {
			// They go on as a power of a whose exponent changes evenly.
			r := q[0] / q[1]
			guess = r * r * r * q[2] * scale
		}
		var p float64
		c.f[j], c.d[j], c.y[j], p = c.s.squeeze(c.step*float64(j), guess, 1e-2)
		if !wound {
			p = c.f[j]
		}
		q[0], q[1], q[2] = p/scale, q[0], q[1]
		w += 0.5 * (c.f[j] + c.f[j-1]) * (c.d[j] - c.d[j-1])
		if w > 1.02*energy {
			past++
		}
	}
	return past == 4
}

// reach returns roughly the patch at which the head has stored energy, from
// W ≈ F·d/3.3 and W ∝ a^5.5.
func (s *series) reach(energy float64) float64 {
	a := 0.25 * s.radius
	for range 2 {
		f, d, _, _ := s.squeeze(a, 0, 0.1)
		grow := math.Exp(math.Log(energy/(f*d/3.3)) / 5.5)
		a *= grow
		if math.Abs(grow-1) < 0.1 {
			break
		}
	}
	return a
}

// integrate fills in the slope and the energy by rules of fourth order.
func (c *curve) integrate() {
	n := c.n
	for j := 1; j < n; j++ {
		var slope float64
		switch {
		case j == 1: // d is even in a
			slope = (8*(c.d[2]-c.d[0]) - (c.d[3] - c.d[1])) / 12
		case j < n-2:
			slope = (8*(c.d[j+1]-c.d[j-1]) - (c.d[j+2] - c.d[j-2])) / 12
		case j == n-2:
			slope = (c.d[j+1] - c.d[j-1]) / 2
		default:
			slope = (3*c.d[j] - 4*c.d[j-1] + c.d[j-2]) / 2
		}
		c.g[j] = slope / (c.step * c.step * float64(j))
	}
	c.g[0] = (4*c.g[1] - c.g[2]) / 3
	rate := func(j int) float64 { return c.f[j] * c.g[j] * float64(j) * c.step } // dW/da
	h := c.step / 24
	y0, y1, y2 := 0.0, rate(1), rate(2)
	c.w[1] = h * (9*y0 + 19*y1 - 5*y2 + rate(3))
	for j := 1; j+2 < n; j++ {
		y3 := rate(j + 2)
		c.w[j+1] = c.w[j] + h*(-y0+13*y1+13*y2-y3)
		y0, y1, y2 = y1, y2, y3
	}
	c.n = n - 1 // the last energy is not filled in
}

// weights returns the first of four points about a, and the weights that
// pass a cubic through them.
func (c *curve) weights(a float64) (int, [4]float64) {
	x := a / c.step
	j := min(max(int(x)-1, 0), c.n-4)
	t := x - float64(j)
	u, v, w := t-1, t-2, t-3
	return j, [4]float64{-u * v * w / 6, t * v * w / 2, -t * u * w / 2, t * u * v / 6}
}

func blend(y *[points]float64, j int, w *[4]float64) float64 {
	return y[j]*w[0] + y[j+1]*w[1] + y[j+2]*w[2] + y[j+3]*w[3]
}

// squeezes returns the compression of each part over a patch of radius a.
func (c *curve) squeezes(a float64) []float64 {
	k, wt := c.weights(a)
	return c.s.list(c.s.divide(a, max(blend(&c.f, k, &wt), 0), max(blend(&c.y, k, &wt), 0)))
}

// patch returns the radius of the patch at which the head has stored energy,
// starting from a patch near by, or 0.
func (c *curve) patch(energy, near float64) float64 {
	a := near
	if a <= 0 {
		j := 1
		for j < c.n-1 && c.w[j] < energy {
			j++
		}
		a = c.step * (float64(j) - 0.5)
	}
	for range 8 {
		k, wt := c.weights(a)
		step := (energy - blend(&c.w, k, &wt)) / (blend(&c.f, k, &wt) * blend(&c.g, k, &wt) * a)
		a += step
		if math.Abs(step) < 1e-3*a { // the next would be some 1e-6
			break
		}
	}
	return a
}

// radius returns the patch at compression d, by Newton on a², in which d is
// nearly a straight line. hint is a² near by, and is kept up to date.
func (c *curve) radius(d float64, hint *float64) float64 {
	x := *hint
	if x <= 0 {
		x = 2 * d / c.g[0]
	}
	top := c.step * float64(c.n-1)
	top *= top
	for range 12 {
		x = min(x, top)
		k, wt := c.weights(math.Sqrt(x))
		step := 2 * (d - blend(&c.d, k, &wt)) / blend(&c.g, k, &wt)
		x = max(x+step, x/16)
		if math.Abs(step) < 1e-8*x {
			break
		}
	}
	*hint = x
	return math.Sqrt(x)
}

// force returns the elastic force at compression d.
func (c *curve) force(d float64, hint *float64) float64 {
	k, wt := c.weights(c.radius(d, hint))
	return blend(&c.f, k, &wt)
}
