package strike

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// near reports a value that is off by more than the share tol.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g within %g %%", what, got, want, 100*tol)
	}
}

// Dimitriadis et al. 2002, eq. 11 and 12 for ν = ½: the factors at five χ,
// tabulated from the coefficients that open microscopy code gives, citing
// PMC1302067 (second-hand).
func TestThinLayerFactors(t *testing.T) {
	for _, c := range []struct{ chi, bonded, unbonded float64 }{
		{0.1, 1.127, 1.097}, {0.25, 1.376, 1.276}, {0.5, 1.989, 1.686}, {0.75, 2.927, 2.267}, {1, 4.282, 3.056},
	} {
		near(t, "bonded", Bonded(c.chi), c.bonded, 0.0005)
		near(t, "unbonded", Unbonded(c.chi), c.unbonded, 0.0005)
	}
	// Thick limit: Hertz.
	near(t, "bonded, thick", Bonded(0), 1, 0)
	near(t, "unbonded, thick", Unbonded(0), 1, 0)
}

// Past χ = 1 both go on: the bonded one no slower than the lubrication limit
// 3π/8·χ³, the sliding one never below free columns, 9π/16·χ, and towards
// their slope, without a kink where the series ends (limits derived).
func TestThinLayerFarOut(t *testing.T) {
	for _, chi := range []float64{1.5, 2, 3, 5} {
		if got, least := Bonded(chi), 3*math.Pi/8*chi*chi*chi; got < least {
			t.Errorf("bonded at %g: %.1f, below the film's %.1f", chi, got, least)
		}
	}
	for _, chi := range []float64{1, 2, 5, 20, 1000} {
		if got, least := Unbonded(chi), 9*math.Pi/16*chi; got < least {
			t.Errorf("sliding at %g: %.1f, below the columns' %.1f", chi, got, least)
		}
	}
	near(t, "slope far out", Unbonded(1000)-Unbonded(999), 9*math.Pi/16, 1e-4)
	const h = 1e-6
	near(t, "slope across the join", (Unbonded(1+h)-Unbonded(1))/h, (Unbonded(1)-Unbonded(1-h))/h, 1e-4)
}

func TestThinLayerRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chi := rapid.Float64Range(0, 20).Draw(t, "χ")
		more := chi + rapid.Float64Range(1e-6, 5).Draw(t, "more")
		if Unbonded(more) <= Unbonded(chi) || Bonded(more) <= Bonded(chi) {
			t.Fatalf("falls from %g to %g", chi, more)
		}
		if chi > 1e-6 && Bonded(chi) <= Unbonded(chi) {
			t.Fatalf("bonded is no stiffer at %g", chi)
		}
	})
}

// van Wyk 1946 with K = 0.01 and E = 2.5 GPa: the pressures at five packings,
// derived from the law (K and E from memory). Squeezing from φ₀ to φ takes
// the difference of theirs.
func TestVanWykPressures(t *testing.T) {
	pressure := map[float64]float64{0.1: 0.025e6, 0.2: 0.20e6, 0.3: 0.68e6, 0.4: 1.6e6, 0.5: 3.1e6}
	for phi, p := range pressure {
		k := 0.01 * 2.5e9 * phi * phi * phi
		near(t, "k", k, p, 0.02)
		for to, q := range pressure {
			if to <= phi {
				continue
			}
			near(t, "pressure", VanWyk(1-phi/to, k), q-p, 0.03)
		}
	}
}

// VanWykSphere is VanWyk over the patch where a flat cuts the sphere.
func TestVanWykSphere(t *testing.T) {
	const r, wall, k = 0.018, 2e-3, 0.7e6
	for _, d := range []float64{0.05e-3, 0.4e-3, 1e-3, 1.6e-3} {
		a := math.Sqrt(2 * r * d)
		want := quad.Fixed(func(x float64) float64 {
			return VanWyk((d-x*x/(2*r))/wall, k) * 2 * math.Pi * x
		}, 0, a, 60, nil, 0)
		near(t, "force", VanWykSphere(d, r, wall, k), want, 1e-6)
		// and wykStrain undoes it.
		e, _ := wykStrain(want / (math.Pi * a * a * k))
		near(t, "strain", e, d/wall, 1e-6)
	}
}

// The block law at its two ends, and its slope.
func TestSqueezed(t *testing.T) {
	d, slope := squeezed(1e-7, 2e-3)
	near(t, "little", d, 1e-7, 1e-3)
	near(t, "slope at rest", slope, 1, 1e-3)
	if d, _ := squeezed(1, 2e-3); d >= 2e-3 || d < 1.8e-3 {
		t.Errorf("a huge load squeezes 2 mm by %g", d)
	}
	rapid.Check(t, func(t *rapid.T) {
		lin := rapid.Float64Range(1e-6, 8e-3).Draw(t, "lin")
		const h = 2e-3
		d, slope := squeezed(lin, h)
		l := 1 - d/h
		if u := (1/(l*l) - l) / 3; math.Abs(u*h/lin-1) > 2e-3 {
			t.Fatalf("lin %g comes back as %g", lin, u*h)
		}
		up, _ := squeezed(lin*1.0001, h)
		if num := (up - d) / (lin * 0.0001); math.Abs(num/slope-1) > 0.02 {
			t.Fatalf("slope %g, by differences %g", slope, num)
		}
	})
}

// A layer on a core of its own rubber is simply a larger ball: Hertz.
func TestLayerOfTheSameRubber(t *testing.T) {
	const e = 2e6
	b := Body{Mass: 0.03, Radius: 0.018, Core: Core{Modulus: e, Poisson: 0.5}, Rubber: []Rubber{{Wall: 4e-3, Modulus: e}}}
	s := b.series()
	for _, a := range []float64{0.5e-3, 1e-3, 2e-3} {
		f, d := s.squeeze(a, 0, 1e-9)
		near(t, "force", f, Hertz(d, 0.018, e, 0.5), 0.02) // the block law hardens the layer a little
	}
}

// A thin layer on a rigid core is the Dimitriadis layer; the block law hardens
// it by its strain, χ²·h/R.
func TestLayerOnRigidCore(t *testing.T) {
	const e, wall = 2e6, 1e-3
	b := Body{Mass: 0.03, Radius: 0.018, Core: Core{Modulus: 1e15, Poisson: 0.4}, Rubber: []Rubber{{Wall: wall, Modulus: e}}}
	s := b.series()
	for _, chi := range []float64{0.1, 0.25, 0.5} {
		f, d := s.squeeze(chi*wall, 0, 1e-9)
		near(t, "force", f, Hertz(d, 0.018, e, 0.5)*Unbonded(chi), 0.001+1.2*chi*chi*wall/0.018)
	}
}

// Three slices of one rubber are as soft as one of their thickness.
func TestSlicesOfTheSameRubber(t *testing.T) {
	whole := Body{Mass: 0.03, Radius: 0.02, Core: Core{Modulus: 1e9, Poisson: 0.4}, Rubber: []Rubber{{Wall: 6e-3, Modulus: 1.5e6}}}
	split := whole
	split.Rubber = []Rubber{{Wall: 2e-3, Modulus: 1.5e6}, {Wall: 1e-3, Modulus: 1.5e6}, {Wall: 3e-3, Modulus: 1.5e6}}
	a, b := whole.series(), split.series()
	for _, r := range []float64{1e-3, 3e-3, 5e-3} {
		f, d := a.squeeze(r, 0, 1e-9)
		g, e := b.squeeze(r, 0, 1e-9)
		near(t, "force", g, f, 0.03)
		near(t, "compression", e, d, 0.01)
	}
}

// The loss series solves its equation, and gives back the rebound asked for.
func TestLoss(t *testing.T) {
	for _, z := range []float64{-1.2, -0.5, -0.01, 0.01, 0.5, 1, 1.5} {
		y := lossSpeed(z)
		near(t, "y", y-math.Log1p(y), z*z/2, 2e-3)
	}
	for _, loss := range []float64{0, 0.1, 0.3, 0.5, 0.75} {
		z := lossRoot(loss)
		if z > 0 { // the speeds out and in, of which e is the ratio
			near(t, "rebound", -lossSpeed(-z)/lossSpeed(z), math.Sqrt(1-loss), 1e-3)
		}
		wall, b := Bar{}, soft()
		b.Core.Loss, b.Rubber[0].Loss, b.Yarn.Loss = loss, loss, loss
		p, err := Full(&b, &wall, 2)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "rebound off a wall", p.Rebound, math.Sqrt(1-loss), 2e-3)
		near(t, "energy lost", p.Lost/(0.5*b.Mass*4), loss, 4e-3+1e-9/(loss+1e-6))
	}
}

// cutoff on pulses of known shape: frequency times length where the spectrum
// of sinⁿ is 10 dB down, from closed forms (derived).
func TestCutoffOfKnownPulses(t *testing.T) {
	for _, c := range []struct{ power, want float64 }{{1, 1.019}, {1.5, 1.142}, {2, 1.256}, {2.5, 1.361}} {
		const n = 400
		var at, w [n + 1]float64
		for i := range at {
			at[i] = 3e-3 * float64(i) / n
			w[i] = math.Pow(math.Sin(math.Pi*float64(i)/n), c.power)
		}
		near(t, "f·T", cutoff(at[:], w[:])*3e-3, c.want, 0.001)
	}
}
