package strike

import (
	"math"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

var speeds = []float64{1, 2, 3.5, 5}

// soft is a head with one slice and yarn.
func soft() Body {
	return Body{
		Mass: 0.0221, Radius: 0.0186, Core: Core{0.0143, 1.4e9, 0.42, 0.1, Rod{0.0342, 2.7}},
		Rubber: []Rubber{{2.6e-3, 1.53e6, 0.1}}, Yarn: Yarn{2.5e-3, 0.6e6, 1.2e6, 0.38}, Hold: 0.05,
	}
}

// One elastic ball on a rigid wall, against the closed form of Hertz's impact:
// T = 2.868·(m²/(R·E*²·v))^(1/5), F = 1.283·(m³·v⁶·E*²·R)^(1/5) (derived; the
// two numbers are 2·c·(5/4)^(2/5)·… and (5/4)^(3/5)·(4/3)^(2/5)), within 0.1 %.
func TestHertzImpact(t *testing.T) {
	c := 2 * math.SqrtPi / 2.5 * math.Gamma(0.4) / math.Gamma(0.9)
	for _, m := range []struct {
		name    string
		e, nu   float64
		r, mass float64
	}{
		{"soft rubber", 1.5e6, 0.5, 0.015, 0.030}, {"rubber", 10e6, 0.5, 0.015, 0.030}, {"plastic", 1.55e9, 0.42, 0.0143, 0.011},
	} {
		for _, v := range speeds {
			b := Body{Mass: m.mass, Radius: m.r, Core: Core{m.r, m.e, m.nu, 0, Rod{}}}
			k := 4.0 / 3 * m.e / (1 - m.nu*m.nu) * math.Sqrt(m.r)
			deep := math.Pow(1.25*m.mass*v*v/k, 0.4)
			length, peak := c*deep/v, k*math.Pow(deep, 1.5)
			p, err := Full(&b, &Bar{}, v)
			if err != nil {
				t.Fatal(err)
			}
			near(t, m.name+", contact", p.ContactS, length, 0.001)
			near(t, m.name+", peak", p.PeakN, peak, 0.001)
			near(t, m.name+", rebound", p.Rebound, 1, 1e-4)
			near(t, m.name+", impulse", p.ImpulseNS, 2*m.mass*v, 1e-4)
			q := Quick(nil, &b, &Bar{}, []float64{v})[0]
			near(t, m.name+", contact, reduced", q.ContactS, length, 0.01)
			near(t, m.name+", peak, reduced", q.PeakN, peak, 0.01)
			near(t, m.name+", cut-off, reduced", q.CutoffHz, p.CutoffHz, 0.01)
		}
	}
}

// The worked table of a 30 g ball of 15 mm radius, ν = ½, on a rigid bar
// (derived, to three figures).
func TestWorkedTable(t *testing.T) {
	for _, row := range []struct {
		e      float64
		ms, n  [4]float64
		speeds [4]float64
	}{
		{1.5e6, [4]float64{5.66, 4.93, 4.29, 3.74}, [4]float64{9.7, 22.4, 51.4, 118}, [4]float64{0.5, 1, 2, 4}},
		{5e6, [4]float64{3.50, 3.05, 2.65, 2.31}, [4]float64{15.8, 36.2, 83.3, 191}, [4]float64{0.5, 1, 2, 4}},
		{10e6, [4]float64{2.65, 2.31, 2.01, 1.75}, [4]float64{20.8, 47.8, 110, 252}, [4]float64{0.5, 1, 2, 4}},
		{30e6, [4]float64{1.71, 1.49, 1.30, 1.13}, [4]float64{32.3, 74.2, 171, 392}, [4]float64{0.5, 1, 2, 4}},
	} {
		b := Body{Mass: 0.030, Radius: 0.015, Core: Core{0.015, row.e, 0.5, 0, Rod{}}}
		for i, v := range row.speeds {
			p, err := Full(&b, &Bar{}, v)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "contact", p.ContactS*1e3, row.ms[i], 0.005)
			near(t, "peak", p.PeakN, row.n[i], 0.005)
		}
	}
}

// T = c(p)·d/v with c(1.5) = 2.9433 and c(2) = 2.8044 (derived): a bare ball,
// and soft yarn on a rigid core, whose force rises as the square at first.
func TestContactCoefficient(t *testing.T) {
	ball := Body{Mass: 0.03, Radius: 0.015, Core: Core{0.015, 5e6, 0.5, 0, Rod{}}}
	yarn := Body{Mass: 0.03, Radius: 0.02, Core: Core{0.015, 1e15, 0.4, 0, Rod{}}, Yarn: Yarn{5e-3, 5e7, 0, 0}}
	for _, c := range []struct {
		body  Body
		speed float64
		want  float64
	}{{ball, 1, 2.9433}, {yarn, 0.02, 2.8044}} {
		p, err := Full(&c.body, &Bar{}, c.speed)
		if err != nil {
			t.Fatal(err)
		}
		deep := 0.0
		for _, d := range p.Squeeze {
			deep += d
		}
		near(t, "c", p.ContactS*c.speed/deep, c.want, 0.005)
	}
}

// The mean force of an exact Hertz pulse is 0.544 of its peak (derived).
func TestHertzPulse(t *testing.T) {
	b := Body{Mass: 0.03, Radius: 0.015, Core: Core{0.015, 5e6, 0.5, 0, Rod{}}}
	p, err := Full(&b, &Bar{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean over peak", p.ImpulseNS/(p.ContactS*p.PeakN), 0.544, 0.001)
}

// Contact time and area of a Hertz ball stay accurate at a loss of some 40 % of
// the energy (Gugan 2000; He and Wettlaufer 2014; seen in their abstracts). Here
// the time does; the area comes out an eighth smaller, since this loss is taken
// on the way in as much as on the way out.
func TestLossKeepsTheTime(t *testing.T) {
	b := Body{Mass: 0.03, Radius: 0.015, Core: Core{0.015, 5e6, 0.5, 0, Rod{}}}
	lossy := b
	lossy.Core.Loss = 0.4
	p, err := Full(&b, &Bar{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	q, err := Full(&lossy, &Bar{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "contact", q.ContactS, p.ContactS, 0.05)
	near(t, "area", q.Patch*q.Patch, p.Patch*p.Patch, 0.14)
}

// The spectrum of the push is 10 dB down at the cut-off, falls up to there,
// and reaches about as far as one over the contact time (Liljencrants 2002,
// seen).
func TestSpectrum(t *testing.T) {
	bar := Reference()
	for _, v := range speeds {
		b := soft()
		p, err := Full(&b, &bar, v)
		if err != nil {
			t.Fatal(err)
		}
		levels := p.Spectrum([]float64{0, 0.25 * p.CutoffHz, 0.5 * p.CutoffHz, 0.75 * p.CutoffHz, p.CutoffHz, 1 / p.ContactS})
		if math.Abs(levels[0]) > 1e-9 || math.Abs(levels[4]+10) > 0.01 {
			t.Errorf("levels %.3f dB", levels)
		}
		for i := range 4 {
			if levels[i+1] >= levels[i] {
				t.Errorf("the level rises: %.3f dB", levels)
			}
		}
		if at := levels[5]; at > -3 || at < -15 {
			t.Errorf("%.1f dB at one over the contact time", at)
		}
	}
}

// Two bodies: a bar that moves whole is a ball on a wall with the mass of both
// in series, as long as nothing bends.
func TestReducedMass(t *testing.T) {
	const bar = 0.1
	b := Body{Mass: 0.03, Radius: 0.015, Core: Core{0.015, 5e6, 0.5, 0, Rod{}}}
	light := b
	light.Mass = 1 / (1/b.Mass + 1/bar)
	two, err := Full(&b, &Bar{Rigid: 1 / bar}, 2)
	if err != nil {
		t.Fatal(err)
	}
	one, err := Full(&light, &Bar{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "contact", two.ContactS, one.ContactS, 1e-4)
	near(t, "peak", two.PeakN, one.PeakN, 1e-4)
	near(t, "cut-off", two.CutoffHz, one.CutoffHz, 1e-4)
}

// Energy and momentum of the full integration, within 0.1 %: what the head
// had is in head, bar, and heat.
func TestBalance(t *testing.T) {
	bar := func(note measure.Note, mass measure.Mass, ratios ...float64) Bar {
		return newBar(whole(knowledge.BarMass{Note: note, Mass: mass}, ratios), note.Hz(), 0.02, 0)
	}
	slow, high := bar(36, 0.44, 1, 4, 10), bar(96, 0.12, 1, 3, 6)
	for name, bar := range map[string]Bar{"reference": Reference(), "low": slow, "high": high} {
		for _, v := range speeds {
			b := soft()
			p, err := Full(&b, &bar, v)
			if err != nil {
				t.Fatal(err)
			}
			had := 0.5 * p.mass * v * v
			head := 0.5 * p.mass * p.end[headV] * p.end[headV]
			whole := 0.5 / bar.Rigid * p.end[wholeV] * p.end[wholeV]
			bend := 0.0
			for i, m := range bar.Modes {
				u, q := p.end[mode1V+i], m.Omega*p.end[mode1X+i]
				bend += 0.5 / m.Mobility * (u*u + q*q)
			}
			near(t, name+": energy", head+whole+bend+p.Lost+p.Damped, had, 0.001)
			near(t, name+": momentum", p.mass*p.end[headV]+p.end[wholeV]/bar.Rigid, p.mass*v, 0.001)
			// The impulse is the force over time.
			sum := 0.0
			const n = 2000
			s := p.Samples(n + 1)
			for i := 1; i < len(s); i++ {
				sum += 0.5 * (s[i].F + s[i-1].F) * (s[i].T - s[i-1].T)
			}
			near(t, name+": impulse", sum, p.ImpulseNS, 0.001)
		}
	}
}

// Samples and Force are the same push; shares of the squeeze add up.
func TestSamples(t *testing.T) {
	b, bar := soft(), Reference()
	p, err := Full(&b, &bar, 3.5)
	if err != nil {
		t.Fatal(err)
	}
	const dt = 1.0 / 48000
	f := p.Force(dt)
	if n := int(p.ContactS/dt) + 1; len(f) != n {
		t.Fatalf("%d samples, want %d", len(f), n)
	}
	most := 0.0
	for i, s := range p.Samples(len(f)) {
		if len(s.Squeeze) != 3 {
			t.Fatalf("%d parts", len(s.Squeeze))
		}
		for _, d := range s.Squeeze {
			if d < 0 {
				t.Errorf("sample %d is pulled apart: %v", i, s.Squeeze)
			}
		}
		most = max(most, s.F)
	}
	near(t, "peak", most, p.PeakN, 0.005)
	most = 0
	for _, x := range f {
		most = max(most, x)
	}
	near(t, "peak", most, p.PeakN, 0.005)
	if s := p.Samples(1); len(s) != 1 {
		t.Errorf("one sample came as %d", len(s))
	}
}

// A smaller step changes nothing that is reported.
func TestStepsAreSmallEnough(t *testing.T) {
	// newPulse's table of forces, twice as coarse.
	b, bar := soft(), Reference()
	fine, err := Full(&b, &bar, 5)
	if err != nil {
		t.Fatal(err)
	}
	coarse := &Pulse{Body: &b, Bar: &bar, SpeedMS: 5, curve: new(curve)}
	coarse.curve.fill(&b, bar.Flat, b.energy(5), 30)
	if err := coarse.run(fine.mass, fine.drag, fine.ContactS); err != nil {
		t.Fatal(err)
	}
	near(t, "contact", coarse.ContactS, fine.ContactS, 0.001)
	near(t, "peak", coarse.PeakN, fine.PeakN, 0.001)
	near(t, "cut-off", coarse.CutoffHz, fine.CutoffHz, 0.001)
}

func TestBadBodies(t *testing.T) {
	for name, spoil := range map[string]func(*Body){
		"mass":    func(b *Body) { b.Mass = 0 },
		"radius":  func(b *Body) { b.Radius = math.NaN() },
		"modulus": func(b *Body) { b.Core.Modulus = -1 },
		"wall":    func(b *Body) { b.Rubber[0].Wall = math.Inf(1) },
		"yarn":    func(b *Body) { b.Yarn.Rest = 0 },
		"layers":  func(b *Body) { b.Rubber = make([]Rubber, maxLayers+1) },
	} {
		b := soft()
		spoil(&b)
		if _, err := Full(&b, &Bar{}, 2); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	b := soft()
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), 1000} {
		if _, err := Full(&b, &Bar{}, v); err == nil {
			t.Errorf("speed %g: no error", v)
		}
	}
}

func BenchmarkFull(b *testing.B) {
	h, bar := soft(), Reference()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Full(&h, &bar, 2); err != nil {
			b.Fatal(err)
		}
	}
}

// One stroke by the reduced form.
func BenchmarkQuick(b *testing.B) {
	h, bar := soft(), Reference()
	dst := make([]Reduced, 0, 1)
	mf := []float64{2}
	b.ReportAllocs()
	for b.Loop() {
		dst = Quick(dst[:0], &h, &bar, mf)
	}
}

// All four dynamics of one head by the reduced form.
func BenchmarkQuickAll(b *testing.B) {
	h, bar := soft(), Reference()
	dst := make([]Reduced, 0, 4)
	b.ReportAllocs()
	for b.Loop() {
		dst = Quick(dst[:0], &h, &bar, speeds)
	}
}
