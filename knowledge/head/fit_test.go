package head

import (
	"math"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/rubber"
)

var shipped = sync.OnceValues(knowledge.Default)

func catalogue(t testing.TB) *knowledge.Catalogue {
	t.Helper()
	cat, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

// build computes the head of a stack text.
func build(t testing.TB, text string) Head {
	t.Helper()
	cat := catalogue(t)
	s, err := Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	return New(s, cat.Limits)
}

func within(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// Lamé's thick-walled tube (1852): a tube of radii a and b with open ends and
// the pressure p inside widens at the bore by u = (p·a/E)·((b²+a²)/(b²−a²) + ν),
// its hoop stress there is p·(b²+a²)/(b²−a²), and it shortens by
// 2ν·p·a²/(E·(b²−a²)). With ν = 1/2 and a stretch near 1 the fit must say the
// same.
func TestFitAgainstLame(t *testing.T) {
	const stretch = 1e-5
	for _, tt := range []struct {
		name       string
		bore, wall measure.Length
	}{
		{"thin", measure.Inch, measure.Inch / 64},
		{"stock", 0.75 * measure.Inch, measure.Inch / 8},
		{"as thick as its bore", 0.25 * measure.Inch, 0.25 * measure.Inch},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := stretched(tt.bore, tt.wall, tt.bore*(1+stretch))
			a, b := float64(tt.bore/2), float64(tt.bore/2+tt.wall)
			ring := (b*b + a*a) / (b*b - a*a)
			const young, poisson = 3, 0.5 // in shear moduli
			p := young * stretch / (ring + poisson)
			if !within(g.grip, p, 1e-4) {
				t.Errorf("grip %.6g, Lamé %.6g shear moduli", g.grip, p)
			}
			if got, want := 1-g.short, 2*poisson*p*a*a/(young*(b*b-a*a)); !within(got, want, 1e-4) {
				t.Errorf("shortening %.6g, Lamé %.6g", got, want)
			}
			outer := p * a * b / young * (2 * a / (b*b - a*a)) // Lamé's u at the outside
			if got := float64(g.outer) - b; !within(got, outer, 1e-4) {
				t.Errorf("outside moves %.6g m, Lamé %.6g", got, outer)
			}
		})
	}
}

// The same equations summed over two thousand thin shells: the pressure rises
// from nothing outside to the grip, never falls on the way, the ends pull with
// no force, and the force that opens the ring is what its hoops carry.
func TestFitAgainstShells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.006, 0.04).Draw(t, "bore")
		w := d * rapid.Float64Range(0.02, 0.6).Draw(t, "wall over bore")
		under := d * rapid.Float64Range(1.001, 4).Draw(t, "stretch")
		g := stretched(measure.Length(d), measure.Length(w), measure.Length(under))

		const shells = 2000
		a0, a := d/2, under/2
		var pressure, axial, hoop, scale float64
		for i := shells - 1; i >= 0; i-- { // from the outside in
			R := a0 + w*(float64(i)+0.5)/shells
			r := math.Sqrt(a*a + (R*R-a0*a0)/g.short)
			dr := R / (g.short * r) * w / shells
			round, through := r/R, R/(r*g.short)
			step := rubber.Difference(round, through, g.short) / r * dr
			if step < 0 {
				t.Fatalf("pressure falls by %g at radius %g", step, r)
			}
			radial := -(pressure + step/2)
			pressure += step
			along := radial + rubber.Difference(g.short, through, round)
			axial += along * r * dr
			scale += math.Abs(along) * r * dr
			hoop += (radial + rubber.Difference(round, through, g.short)) * dr
		}
		if !within(g.grip, pressure, 1e-4) {
			t.Errorf("grip %.8g, by shells %.8g", g.grip, pressure)
		}
		if math.Abs(axial) > 1e-3*scale {
			t.Errorf("the ends pull with %g of %g", axial, scale)
		}
		if !within(g.grip*a, hoop, 1e-4) {
			t.Errorf("hoops carry %.8g, the grip asks for %.8g", hoop, g.grip*a)
		}
	})
}

// A thin ring feels one pull only, so it shortens by the root of its stretch,
// and the grip is nominal stress × stretch × wall / radius (derived).
func TestFitOfThinRing(t *testing.T) {
	for _, stretch := range []float64{1.1, 1.5, 2, 3} {
		d, w := measure.Inch, measure.Inch/2000
		g := stretched(d, w, d*measure.Length(stretch))
		thin := 1 / math.Sqrt(stretch)
		if !within(g.short, thin, 2e-3) || !within(float64((g.outer-g.inner)/w), thin, 2e-3) {
			t.Errorf("stretch %g: shortens to %.4f, thins to %.4f, want %.4f", stretch, g.short, float64((g.outer-g.inner)/w), thin)
		}
		want := rubber.Nominal(stretch) * stretch * float64(g.outer-g.inner) / (float64(d) / 2 * stretch)
		if !within(g.grip, want, 2e-3) {
			t.Errorf("stretch %g: grip %.5g, want %.5g", stretch, g.grip, want)
		}
	}
}

// The bench estimate of the force to open a slice, twice nominal stress at
// mean stretch × wall × length, takes the wall as thin. By Lamé's tube it is
// too high by wall/(2·(bore + wall)) at small stretch (derived), and nearer
// from there on: 10 % at most for tubing in stock.
func TestHandForceAgainstBenchEstimate(t *testing.T) {
	lim := catalogue(t).Limits
	for _, tube := range catalogue(t).Tubing {
		m, _ := catalogue(t).Material(tube.Material)
		for _, core := range []measure.Length{1, 1.125, 1.25} {
			under := core * measure.Inch
			if s := under / tube.Bore; s < 1.05 || s > 3 {
				continue
			}
			l := Fit(Bed{Diameter: under}, Slice{Tube: tube, Rubber: m}, &lim)
			want := 2 * rubber.Shear(m.DurometerA.Value) * rubber.Nominal(l.MeanStretch) * float64(tube.Wall*l.Cut)
			if over := want/l.HandN - 1; over < 0 || over > float64(tube.Wall/(tube.Bore+tube.Wall))/2 {
				t.Errorf("%s over %v: %.1f N, estimate %.1f N", tube.ID, under, l.HandN, want)
			}
		}
	}
}

// Volume of a tube, π/4·(outside² − bore²)·length, times its density: stretching
// changes neither.
func TestSliceMass(t *testing.T) {
	h := build(t, "poly-1-1/8 + 3/4x1/8@1")
	l := h.Layers[0]
	const inch = 0.0254
	volume := math.Pi / 4 * (1*1 - 0.75*0.75) * 1 * inch * inch * inch
	if want := volume * l.Slice.Rubber.DensityKgM3.Value; !within(float64(l.Mass), want, 1e-12) {
		t.Errorf("%v, want %g kg", l.Mass, want)
	}
	// The fitted ring has the same volume, as far as its shape at the equator goes.
	fitted := math.Pi / 4 * float64(l.Outer*l.Outer-l.Under*l.Under) * float64(l.Cut) * l.Shortening
	if !within(fitted, volume, 1e-12) {
		t.Errorf("fitted volume %g m³, unstretched %g", fitted, volume)
	}
}

// The tolerance of a slice's mass is what moving bore, wall, cut and density
// by theirs, one at a time, comes to together.
func TestSliceMassTolerance(t *testing.T) {
	lim := catalogue(t).Limits
	l := build(t, "poly-1-1/8 + 3/4x1/8@1").Layers[0]
	mass := func(change func(*Slice)) float64 {
		s := l.Slice
		change(&s)
		return float64(Fit(Bed{Diameter: l.Under}, s, &lim).Mass)
	}
	var sum float64
	for _, change := range []func(*Slice, float64){
		func(s *Slice, by float64) { s.Tube.Bore += measure.Length(by) * s.Tube.BoreTol },
		func(s *Slice, by float64) { s.Tube.Wall += measure.Length(by) * s.Tube.WallTol },
		func(s *Slice, by float64) { s.Cut += measure.Length(by * lim.CutToleranceM.Value) },
		func(s *Slice, by float64) { s.Rubber.DensityKgM3.Value += by * s.Rubber.DensityKgM3.Tol },
	} {
		half := (mass(func(s *Slice) { change(s, 1) }) - mass(func(s *Slice) { change(s, -1) })) / 2
		sum += half * half
	}
	if want := math.Sqrt(sum); !within(float64(l.MassTol), want, 0.01) {
		t.Errorf("±%.3f g, want ±%.3f g", l.MassTol.Grams(), want*1e3)
	}
}

// Likewise the stretched wall and the stretch.
func TestFitTolerances(t *testing.T) {
	lim := catalogue(t).Limits
	l := build(t, "poly-1-1/8 + 3/4x1/8@1").Layers[0]
	on := Bed{Diameter: l.Under, Tol: catalogue(t).Cores[0].Tol}
	l = Fit(on, l.Slice, &lim)
	moved := func(dBore, dWall, dUnder measure.Length) Layer {
		s, on := l.Slice, on
		s.Tube.Bore += dBore
		s.Tube.Wall += dWall
		on.Diameter += dUnder
		return Fit(on, s, &lim)
	}
	spread := func(of func(Layer) float64) float64 {
		tube := l.Slice.Tube
		bore := (of(moved(tube.BoreTol, 0, 0)) - of(moved(-tube.BoreTol, 0, 0))) / 2
		wall := (of(moved(0, tube.WallTol, 0)) - of(moved(0, -tube.WallTol, 0))) / 2
		under := (of(moved(0, 0, on.Tol)) - of(moved(0, 0, -on.Tol))) / 2
		return math.Sqrt(bore*bore + wall*wall + under*under)
	}
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"stretch", l.StretchTol, spread(func(l Layer) float64 { return l.Stretch })},
		{"hand force", l.HandTolN, math.Sqrt(math.Pow(spread(func(l Layer) float64 { return l.HandN }), 2) +
			math.Pow(l.HandN*(rubber.Shear(40)-rubber.Shear(30))/(2*rubber.Shear(35)), 2) + math.Pow(l.HandN*lim.CutToleranceM.Value/float64(l.Cut), 2))},
		{"wall", float64(l.WallTol), spread(func(l Layer) float64 { return float64(l.Wall) })},
		{"outer", float64(l.OuterTol), spread(func(l Layer) float64 { return float64(l.Outer) })},
	} {
		if !within(tt.got, tt.want, 0.06) {
			t.Errorf("%s ±%.4g, want ±%.4g", tt.name, tt.got, tt.want)
		}
	}
}

// On a ball the chord at height z is √(D² − 4z²); a slice grips to where it
// equals the bore.
func TestCutMaxEndsWhereTheChordIsTheBore(t *testing.T) {
	lim := catalogue(t).Limits
	l := build(t, "poly-1-1/8 + 3/4x1/8").Layers[0]
	s := l.Slice
	s.Cut = l.CutMax
	l = Fit(Bed{Diameter: l.Under}, s, &lim)
	z := float64(l.Under) / 2 * math.Sin(l.Reach)
	chord := math.Sqrt(float64(l.Under*l.Under) - 4*z*z)
	if !within(chord, float64(s.Tube.Bore), 1e-6) {
		t.Errorf("chord %.6g m at the end, bore %.6g m", chord, float64(s.Tube.Bore))
	}
	// Longer ends stand off: they add no reach.
	s.Cut *= 1.2
	if longer := Fit(Bed{Diameter: l.Under}, s, &lim); !within(longer.Reach, l.Reach, 1e-9) {
		t.Errorf("reach %g with longer ends, %g without", longer.Reach, l.Reach)
	}
}

// The length laid round the ball, summed over a thousand short rings that are
// each stretched for their own diameter, is the cut that the two-point law
// gives, to 1 % for stock walls.
func TestArcAgainstRings(t *testing.T) {
	for _, tt := range []struct{ bore, wall, under measure.Length }{
		{0.75, 0.125, 1.125}, {0.75, 0.0625, 1.125}, {0.875, 0.0625, 1.33}, {0.5, 0.125, 1}, {1, 0.25, 1.4},
	} {
		d, w, under := tt.bore*measure.Inch, tt.wall*measure.Inch, tt.under*measure.Inch
		g := stretched(d, w, under)
		a := arc{under: float64(under), stretch: float64(under / d), end: math.Acos(float64(d / under))}
		a.power = -math.Log(g.short) / math.Log(a.stretch)
		const rings = 1000
		var cut float64
		for i := range rings {
			phi := a.end * (float64(i) + 0.5) / rings
			local := stretched(d, w, under*measure.Length(math.Cos(phi)))
			cut += float64(under) * a.end / rings / local.short
		}
		if got := float64(a.length(a.end)); !within(got, cut, 0.01) {
			t.Errorf("%v x %v over %v: %.4g m, by rings %.4g m", d, w, under, got, cut)
		}
	}
}

func TestArcInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stretch := rapid.Float64Range(1.01, 5).Draw(t, "stretch")
		a := arc{under: 0.03, stretch: stretch, power: rapid.Float64Range(0.2, 0.6).Draw(t, "power"), end: math.Acos(1 / stretch)}
		phi := rapid.Float64Range(0, math.Pi/2).Draw(t, "angle")
		if got := a.angle(a.length(phi)); math.Abs(got-phi) > 1e-6 {
			t.Fatalf("angle %g comes back as %g", phi, got)
		}
	})
}

// anySlice draws a slice that Check passes.
func anySlice(t *rapid.T, cat *knowledge.Catalogue) Slice {
	rubbers := []string{"latex", "silicone", "tpe"}
	m, _ := cat.Material(rapid.SampledFrom(rubbers).Draw(t, "rubber"))
	bore := measure.Length(rapid.Float64Range(0.25, 1.6).Draw(t, "bore")) * measure.Inch
	s := Slice{Rubber: m, Tube: knowledge.Tube{
		ID: "drawn", Material: m.ID, Bore: bore,
		Wall:    min(bore, measure.Length(rapid.Float64Range(1./32, 0.25).Draw(t, "wall"))*measure.Inch),
		BoreTol: 0.02 * measure.Inch, WallTol: 0.005 * measure.Inch,
	}}
	if rapid.Bool().Draw(t, "given cut") {
		s.Cut = measure.Length(rapid.Float64Range(0.25, 2).Draw(t, "cut")) * measure.Inch
	}
	return s
}

func TestFitProperties(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anySlice(t, cat)
		if err := s.check(); err != nil {
			t.Fatal(err)
		}
		on := Bed{
			Diameter: measure.Length(rapid.Float64Range(0.75, 2).Draw(t, "under")) * measure.Inch,
			Reach:    rapid.SampledFrom([]float64{0, 0.8, 0.5}).Draw(t, "reach"),
		}
		l := Fit(on, s, &cat.Limits)

		for name, v := range map[string]float64{
			"stretch": l.Stretch, "mean stretch": l.MeanStretch, "shortening": l.Shortening, "wall": float64(l.Wall),
			"outer": float64(l.Outer), "cut": float64(l.Cut), "mass": float64(l.Mass), "mass tolerance": float64(l.MassTol),
			"wall tolerance": float64(l.WallTol), "ledge": float64(l.Ledge), "reach": l.Reach, "coverage": l.Coverage,
		} {
			if !(v > 0) || math.IsInf(v, 0) {
				t.Errorf("%s is %g", name, v)
			}
		}
		if !(l.Outer > l.Under) {
			t.Errorf("outer %v is not over under %v", l.Outer, l.Under)
		}
		if l.Coverage > 1 || l.Overhang < 0 {
			t.Errorf("coverage %g, overhang %v", l.Coverage, l.Overhang)
		}
		if slack := l.Verdict == Slack; slack != (l.Stretch <= cat.Limits.SlackStretch.Value) {
			t.Errorf("%s at a stretch of %g", l.Verdict, l.Stretch)
		}
		if l.Stretch <= 1 {
			if l.GripPa != 0 || l.HandN != 0 || l.CutMax != 0 || l.Wall > s.Tube.Wall*(1+1e-12) {
				t.Errorf("unstretched, yet %+v", l)
			}
			return
		}
		if !(l.Wall < s.Tube.Wall && l.Wall < l.Ledge*(1+1e-9) && l.Ledge <= s.Tube.Wall*(1+1e-9)) {
			t.Errorf("wall %v at the equator, %v at its ends, %v unstretched", l.Wall, l.Ledge, s.Tube.Wall)
		}
		if !(l.Shortening < 1 && l.MeanStretch > 1 && l.MeanStretch < l.Stretch) {
			t.Errorf("shortening %g, mean stretch %g of %g", l.Shortening, l.MeanStretch, l.Stretch)
		}
		if !(l.GripPa > 0 && l.HandN > 0) {
			t.Errorf("stretched, yet grip %g Pa and hand force %g N", l.GripPa, l.HandN)
		}
		if s.Cut == 0 && l.Cut > l.CutMax*(1+1e-9) && l.CutMax >= measure.Inch/16 {
			t.Errorf("recommends %v, grips to %v", l.Cut, l.CutMax)
		}
	})
}

// A thicker wall or a narrower bore is heavier to pull on, grips harder and
// stands higher; a longer slice is heavier.
func TestFitIsMonotone(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anySlice(t, cat)
		s.Cut = measure.Length(rapid.Float64Range(0.25, 2).Draw(t, "length")) * measure.Inch
		s.Tube.Wall = min(s.Tube.Wall, s.Tube.Bore/2)
		on := Bed{Diameter: s.Tube.Bore * measure.Length(rapid.Float64Range(1.05, 3).Draw(t, "stretch"))}
		base := Fit(on, s, &cat.Limits)

		thick := s
		thick.Tube.Wall *= 1.1
		if l := Fit(on, thick, &cat.Limits); !(l.Wall > base.Wall && l.GripPa > base.GripPa && l.HandN > base.HandN && l.Mass > base.Mass && l.Outer > base.Outer) {
			t.Errorf("thicker: %+v\nthan:    %+v", l, base)
		}
		narrow := s
		narrow.Tube.Bore *= 0.97
		if l := Fit(on, narrow, &cat.Limits); !(l.Stretch > base.Stretch && l.HandN > base.HandN && l.Wall < base.Wall && l.CutMax > base.CutMax) {
			t.Errorf("narrower: %+v\nthan:     %+v", l, base)
		}
		long := s
		long.Cut *= 1.1
		if l := Fit(on, long, &cat.Limits); !(l.Mass > base.Mass && l.HandN > base.HandN && l.Reach >= base.Reach) {
			t.Errorf("longer: %+v\nthan:   %+v", l, base)
		}
	})
}

// Whatever Check passes, however unlikely, comes to numbers.
func TestFitOfAnythingIsFinite(t *testing.T) {
	cat := catalogue(t)
	latex, _ := cat.Material("latex")
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(float64(leastBore), float64(mostBore)).Draw(t, "bore")
		wall := rapid.Float64Range(float64(leastWall), min(bore, float64(mostWall))).Draw(t, "wall")
		s := Slice{Rubber: latex, Tube: knowledge.Tube{ID: "drawn", Bore: measure.Length(bore), Wall: measure.Length(wall)}}
		if rapid.Bool().Draw(t, "given cut") {
			s.Cut = measure.Length(rapid.Float64Range(float64(leastCut), float64(mostCut)).Draw(t, "cut"))
		}
		if err := s.check(); err != nil {
			t.Fatal(err)
		}
		on := Bed{Diameter: measure.Length(rapid.Float64Range(float64(leastCore), float64(mostCore)).Draw(t, "under"))}
		l := Fit(on, s, &cat.Limits)
		if on.Diameter > s.Tube.Bore {
			g := stretched(s.Tube.Bore, s.Tube.Wall, on.Diameter)
			if again := stretched(s.Tube.Bore, s.Tube.Wall, on.Diameter*(1+1e-9)); !within(again.short, g.short, 1e-6) || !within(again.grip, g.grip, 1e-3) {
				t.Errorf("a hair more stretch jumps from %+v to %+v", g, again)
			}
		}
		for name, v := range map[string]float64{
			"stretch": l.Stretch, "stretch tolerance": l.StretchTol, "mean stretch": l.MeanStretch, "shortening": l.Shortening,
			"wall": float64(l.Wall), "wall tolerance": float64(l.WallTol), "outer": float64(l.Outer), "hand": l.HandN,
			"hand tolerance": l.HandTolN, "grip": l.GripPa, "longest cut": float64(l.CutMax), "easy cut": float64(l.EasyCut),
			"cut": float64(l.Cut), "span": float64(l.Span), "reach": l.Reach, "coverage": l.Coverage, "ledge": float64(l.Ledge),
			"overhang": float64(l.Overhang), "mass": float64(l.Mass), "mass tolerance": float64(l.MassTol),
		} {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Errorf("%s is %g", name, v)
			}
		}
	})
}
