package head

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// anyStack draws a stack of shipped parts.
func anyStack(t *rapid.T) Stack {
	cat, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	material := func(id string) knowledge.Material {
		m, ok := cat.Material(id)
		if !ok {
			t.Fatalf("no material %s", id)
		}
		return m
	}
	s := Stack{Core: rapid.SampledFrom(cat.Cores).Draw(t, "core")}
	s.Material = material(s.Core.Material)
	for range rapid.IntRange(0, 4).Draw(t, "layers") {
		sl := Slice{Tube: rapid.SampledFrom(cat.Tubing).Draw(t, "tube")}
		sl.Rubber = material(sl.Tube.Material)
		if rapid.Bool().Draw(t, "given cut") {
			sl.Cut = measure.Length(rapid.Float64Range(0.07, 3).Draw(t, "cut")) * measure.Inch
		}
		s.Slices = append(s.Slices, sl)
	}
	if rapid.Bool().Draw(t, "yarn") {
		w := Wrap{Yarn: rapid.SampledFrom(cat.Yarns).Draw(t, "yarn id"), Turns: rapid.IntRange(0, 300).Draw(t, "turns")}
		w.Fibre = material(w.Yarn.Fibre)
		s.Wrap = &w
	}
	if rapid.Bool().Draw(t, "shaft") {
		sh := rapid.SampledFrom(cat.Shafts).Draw(t, "shaft id")
		s.Shaft = &sh
	}
	return s
}

func TestHeadProperties(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anyStack(t)
		if err := s.Check(); err != nil {
			t.Skip(err)
		}
		h := New(s, cat.Limits)

		// A layer more never takes mass or size away.
		if n := len(s.Slices); n > 0 {
			fewer := s
			fewer.Slices = s.Slices[:n-1]
			fewer.Wrap = nil
			bare := h.Rewrap(nil, &cat.Limits)
			if less := New(fewer, cat.Limits); !(bare.Mass > less.Mass && bare.Diameter > less.Diameter && bare.MassTol > less.MassTol) {
				t.Errorf("%s: %v, %v; without its outermost slice %v, %v", s, bare.Mass, bare.Diameter, less.Mass, less.Diameter)
			}
		}
		if s.Wrap != nil {
			bare := h.Rewrap(nil, &cat.Limits)
			if !(h.Mass > bare.Mass && h.Diameter > bare.Diameter && h.DiameterTol > bare.DiameterTol) {
				t.Errorf("%s: yarn adds nothing", s)
			}
			if bare.Mass != h.BareMass || bare.Diameter != h.Bare {
				t.Errorf("%s: bare %v, %v, unwrapped %v, %v", s, h.BareMass, h.Bare, bare.Mass, bare.Diameter)
			}
		}
		// The parts add up, and each slice lies on the one before.
		sum, under := h.CoreMass+h.YarnMass, s.Core.Diameter
		for _, l := range h.Layers {
			sum += l.Mass
			if l.Under != under {
				t.Errorf("%s: slice on %v, below it %v", s, l.Under, under)
			}
			under = l.Outer
		}
		if !within(float64(sum), float64(h.Mass), 1e-12) || under != h.Bare {
			t.Errorf("%s: parts come to %v, head to %v", s, sum, h.Mass)
		}
		// Putting fitted layers together is the same as fitting them.
		if diff := cmp.Diff(h, Assemble(s.Core, s.Material, h.Layers, s.Wrap, s.Shaft, &cat.Limits)); diff != "" {
			t.Errorf("%s (-New +Assemble):\n%s", s, diff)
		}
		if sw := h.Swing; (s.Shaft != nil) != (sw.InertiaKgM2 > 0 && sw.Balance > 0 && sw.Balance < s.Shaft.Length && sw.Mass > h.Mass) {
			t.Errorf("%s: swing %+v", s, sw)
		}
	})
}

// Common practice, no source: what fits what.
func TestFitsOfTheTrade(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       []Verdict // of each slice, inside out
	}{
		{"3/4 by 1/8 goes on a 1 1/8 ball by hand", "poly-1-1/8 + 3/4x1/8", []Verdict{Good}},
		{"1 in bore slaps on a 1 in ball", "poly-1 + 1x1/8", []Verdict{Slack}},
		{"thin wall slaps as well", "poly-1 + 1x1/16", []Verdict{Slack}},
		{"1 in goes over another layer", "poly-1-1/8 + 3/4x1/8 + 1x1/16", []Verdict{Good, Good}},
		{"1 in goes on an oversized core", "poly-1-1/4 + 1x1/8", []Verdict{Good}},
		{"three layers on the smaller core", "poly-1 + 3/4x1/8 + 7/8x1/16 + 1x1/8", []Verdict{Good, Good, Good}},
		{"no hand opens 1/4 in tubing over 1 1/2 in", "poly-1-1/2 + 1/4x1/16", []Verdict{Over}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []Verdict
			for _, l := range build(t, tt.text).Layers {
				got = append(got, l.Verdict)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// Common practice, no source: 3/4 by 1/8 on a 1 1/8 ball takes some effort,
// and a slice of about 1 in suits it and covers where the bar is met.
func TestUsualSlice(t *testing.T) {
	lim := catalogue(t).Limits
	l := build(t, "poly-1-1/8 + 3/4x1/8").Layers[0]
	if in := l.Cut.Inches(); in < 15./16 || in > 17./16 {
		t.Errorf("recommends %v", l.Cut)
	}
	if l.Coverage != 1 {
		t.Errorf("covers %.2f of the strike zone", l.Coverage)
	}
	thin := build(t, "poly-1-1/8 + 3/4x1/16").Layers[0]
	if !(l.HandN > lim.EasyHandN.Value/2 && l.HandN < lim.EasyHandN.Value && thin.HandN < l.HandN) {
		t.Errorf("opens at %.0f N, easy to %.0f N; with a 1/16 wall %.0f N", l.HandN, lim.EasyHandN.Value, thin.HandN)
	}
}

// Common practice, no source: the usual ladder of rubber, 1/16, 1/8 and 3/16 in
// on a 1 1/8 core, then 5/16 in on a 1 in core. Each is heavier and larger than
// the one before, and the smaller core keeps the last from growing too large.
func TestLadderOfTheTrade(t *testing.T) {
	ladder := []string{
		"poly-1-1/8 + 3/4x1/16",
		"poly-1-1/8 + 3/4x1/8",
		"poly-1-1/8 + 3/4x1/8 + 1x1/16",
		"poly-1 + 3/4x1/8 + 7/8x1/16 + 1x1/8",
	}
	last := build(t, "poly-1-1/8")
	for _, text := range ladder {
		h := build(t, text)
		if !(h.Mass > last.Mass && h.Diameter > last.Diameter) {
			t.Errorf("%s: %v, %v; the one before %v, %v", text, h.Mass, h.Diameter, last.Mass, last.Diameter)
		}
		last = h
	}
	larger := build(t, "poly-1-1/8 + 3/4x1/8 + 7/8x1/16 + 1x1/8")
	if !(larger.Diameter-last.Diameter > 2*measure.Millimetre && larger.Mass > last.Mass) {
		t.Errorf("on 1 in: %v, %v; on 1 1/8 in: %v, %v", last.Diameter, last.Mass, larger.Diameter, larger.Mass)
	}
}

// Common practice, no source: a rubber core is heavier than a plastic one.
func TestRubberCoresAreHeavier(t *testing.T) {
	plastic := build(t, "poly-1-1/8-drilled")
	for _, text := range []string{"rubber-40a-1-1/8", "rubber-50a-1-1/8", "rubber-55a-1-1/8", "rubber-60a-1-1/8", "rubber-75a-1-1/8"} {
		if h := build(t, text); !(h.Mass > plastic.Mass) {
			t.Errorf("%s %v, plastic %v", text, h.Mass, plastic.Mass)
		}
	}
}

// A slice whose longest cut is hard on the hands is cut shorter, as long as it
// still covers where the bar is met.
func TestRecommendedCutSparesTheHands(t *testing.T) {
	lim := catalogue(t).Limits
	for _, tt := range []struct {
		text string
		want Verdict
	}{
		{"poly-1-1/8 + 5/8x1/8", Good},
		{"poly-1-1/8 + 3/4x1/4", Good},
		{"poly-1-1/8 + 1/2x1/8", Hard},
	} {
		l := build(t, tt.text).Layers[0]
		if l.Verdict != tt.want || l.Coverage != 1 || l.Cut >= l.CutMax-measure.Inch/16 {
			t.Errorf("%s: cut %v of at most %v covers %.2f and is %s", tt.text, l.Cut, l.CutMax, l.Coverage, l.Verdict)
		}
		longer := l.Slice
		longer.Cut = l.Cut + measure.Inch/16
		shorter := l.Slice
		shorter.Cut = l.Cut - measure.Inch/16
		switch next, less := Fit(Bed{Diameter: l.Under}, longer, &lim), Fit(Bed{Diameter: l.Under}, shorter, &lim); {
		case tt.want == Good && next.Verdict != Hard:
			t.Errorf("%s: 1/16 in longer would be %s", tt.text, next.Verdict)
		case tt.want == Hard && less.Coverage == 1:
			t.Errorf("%s: 1/16 in shorter would still cover the zone", tt.text)
		}
	}
}

// A ball weighs π/6·d³ times its density. Published densities: polypropylene
// 0.895 to 0.93 g/cm³ (seen, two public notes); nylon 1.14 (seen, Morton and
// Hearle, Table 5.1).
func TestBallMass(t *testing.T) {
	for _, tt := range []struct {
		text        string
		inches      float64
		least, most float64 // g/cm³
	}{
		{"poly-1-1/8", 1.125, 0.895, 0.93},
		{"poly-1", 1, 0.895, 0.93},
		{"nylon-1", 1, 1.135, 1.145},
	} {
		cm := tt.inches * 2.54
		volume := math.Pi / 6 * cm * cm * cm
		if got := build(t, tt.text).Mass.Grams() / volume; got < tt.least || got > tt.most {
			t.Errorf("%s: %.4f g/cm³, published %g to %g", tt.text, got, tt.least, tt.most)
		}
	}
}

// The bore takes the mass of a rod as long as it is deep, to the small caps
// at the ball's surface; a shaft asks for one in a ball that has none.
func TestBore(t *testing.T) {
	lim := catalogue(t).Limits
	solid, drilled := build(t, "poly-1-1/8"), build(t, "poly-1-1/8-drilled")
	bore, core := float64(drilled.Stack.Core.Bore), float64(drilled.Stack.Core.Diameter)
	rod := math.Pi / 4 * bore * bore * core * lim.BoreDepth.Value * solid.Stack.Material.DensityKgM3.Value
	if got := float64(solid.CoreMass - drilled.CoreMass); got > rod || !within(got, rod, 0.06) {
		t.Errorf("the bore takes %.3g kg, a rod that size %.3g kg", got, rod)
	}
	fitted := build(t, "poly-1-1/8 + birch-16")
	if fitted.Stack.Shaft.Diameter != drilled.Stack.Core.Bore {
		t.Fatal("the shaft is not as thick as the bore")
	}
	if fitted.CoreMass != drilled.CoreMass {
		t.Errorf("drilled for its shaft %v, sold drilled %v", fitted.CoreMass, drilled.CoreMass)
	}
}

// Yarn: the ring at the equator holds what 2·turns yarns hold. A relaxed
// yarn's packing of 0.07, which its wraps per inch imply (derived from a
// published chart), would overstate the yarn's own diameter about twofold, and
// the wrap by nearly the square of that.
func TestYarn(t *testing.T) {
	cat := catalogue(t)
	h := build(t, "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140")
	w := h.Stack.Wrap
	ring := math.Pi / 4 * float64(h.Diameter*h.Diameter-h.Bare*h.Bare)
	fibre := 2 * 140 * w.Yarn.Tex.Value * 1e-6 / w.Fibre.DensityKgM3.Value
	// Turn by turn from the outside in, packed by the turns further out: van
	// Wyk's law, summed.
	var room float64
	const parts = 20000
	for i := range parts {
		p := h.RestPa + h.PressPa*(float64(i)+0.5)/parts
		room += 1 / Packing(p, w.Yarn.CrushPa.Value) / parts
	}
	packing := fibre / ring
	if !within(packing, 1/room, 2e-3) {
		t.Errorf("packing at the equator %.4f, want %.4f", packing, 1/room)
	}
	mid := float64(h.Bare+h.YarnWall) / 2
	if want := Press(140, h.TensionN, mid); !within(h.PressPa, want, 2e-3) {
		t.Errorf("the turns press with %.0f Pa, want %.0f", h.PressPa, want)
	}
	// tex is grams per kilometre (ISO 1144, from memory).
	if want := float64(h.YarnLength) / 1000 * w.Yarn.Tex.Value; !within(h.YarnMass.Grams(), want, 1e-12) {
		t.Errorf("yarn %v, want %.3f g", h.YarnMass, want)
	}
	// A turn is no shorter than the way round the core and no longer than
	// the way round the finished head.
	turn := h.YarnLength / 140
	if !(turn > math.Pi*h.Stack.Core.Diameter && turn < math.Pi*h.Diameter) {
		t.Errorf("a turn is %v", turn)
	}
	// Laid side by side, the yarns fill as much as they do in the ring.
	side := math.Sqrt(4 * w.Yarn.Tex.Value * 1e-6 / (w.Fibre.DensityKgM3.Value * packing * math.Pi))
	if want := 2 * 140 * side / (math.Pi * float64(h.Bare)); !within(h.YarnCover, want, 1e-12) {
		t.Errorf("covers %.2f times, want %.2f", h.YarnCover, want)
	}
	// A wound ball for play, machine-wound from some 1700 turns of wool, is
	// packed to 0.35 to 0.45 (derived from its published mass, size and lengths of
	// yarn); a head's turns by hand stay below, and above the 0.06 to 0.08 of
	// a relaxed skein (derived from a published chart of wraps per inch).
	if packing < 0.15 || packing > 0.4 {
		t.Errorf("wound to %.2f", packing)
	}
	// A firmer hand winds thinner.
	firm, loose := *w, *w
	firm.TensionN, loose.TensionN = 8, 2
	if a, b := h.Rewrap(&firm, &cat.Limits), h.Rewrap(&loose, &cat.Limits); a.YarnWall >= h.YarnWall || b.YarnWall <= h.YarnWall {
		t.Errorf("firm %v, ordinary %v, loose %v", a.YarnWall, h.YarnWall, b.YarnWall)
	}
}

// Without turns a wrap is the plain one, in proportion to the head.
func TestPlainTurns(t *testing.T) {
	y := build(t, "poly-1-1/8 + wool-medium").Stack.Wrap.Yarn
	if got := PlainTurns(y, 1.25*measure.Inch); got != y.Wraps.Plain {
		t.Errorf("%d turns on 1 1/4 in, want %d", got, y.Wraps.Plain)
	}
	if got := PlainTurns(y, 2.5*measure.Inch); got != 2*y.Wraps.Plain {
		t.Errorf("%d turns on 2 1/2 in, want %d", got, 2*y.Wraps.Plain)
	}
	// Turns in proportion cover a large head as often as a small one, but for how tightly
	// they lie: N/r² of them press less on the larger ball, so each is a little
	// wider there, as the root of the room that its fibres take.
	small, large := build(t, "poly-1 + wool-medium"), build(t, "poly-1-1/2 + wool-medium")
	wider := func(h Head) float64 { return math.Sqrt(bulk(h.RestPa, h.PressPa, y.CrushPa.Value)) }
	if small.Turns >= large.Turns || !(small.YarnCover > 1) || !within(small.YarnCover/wider(small), large.YarnCover/wider(large), 0.01) {
		t.Errorf("%d and %d turns cover %.2f and %.2f times, of strands %.3f times as wide on the larger",
			small.Turns, large.Turns, small.YarnCover, large.YarnCover, wider(large)/wider(small))
	}
}

// The swing of a head on its shaft against the shaft in short pieces and the
// head at its centre; and of a bare shaft against m·l²/3 about its end.
func TestSwing(t *testing.T) {
	lim := catalogue(t).Limits
	h := build(t, "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16")
	sh, hand := h.Stack.Shaft, float64(h.Swing.FromButt)
	core := float64(h.Stack.Core.Diameter)
	centre := float64(sh.Length) - lim.BoreDepth.Value*core + core/2
	const pieces = 10000
	var about, moment float64
	for i := range pieces {
		x := (float64(i) + 0.5) / pieces * float64(sh.Length)
		about += float64(sh.Mass) / pieces * (x - hand) * (x - hand)
		moment += float64(sh.Mass) / pieces * x
	}
	about += float64(h.Mass) * (centre - hand) * (centre - hand)
	moment += float64(h.Mass) * centre
	if balance := moment / float64(h.Mass+sh.Mass); !within(float64(h.Swing.Balance), balance, 1e-6) {
		t.Errorf("balance %v, want %.4f m", h.Swing.Balance, balance)
	}
	// The head's own turning adds less than that of all its mass in a shell.
	shell := float64(h.Mass*measure.Mass(h.Diameter*h.Diameter)) / 6
	if own := h.Swing.InertiaKgM2 - about; !(own > 0 && own < shell) {
		t.Errorf("inertia %g, of which the head about itself %g", h.Swing.InertiaKgM2, own)
	}
	if further := h.SwingAt(0, &lim); !(further.InertiaKgM2 > h.Swing.InertiaKgM2) {
		t.Errorf("held at the butt %g, held at %v %g", further.InertiaKgM2, h.Swing.FromButt, h.Swing.InertiaKgM2)
	}
	h.Mass, h.CoreMass, h.YarnMass, h.Layers = 0, 0, 0, nil
	bare := h.SwingAt(0, &lim)
	if want := float64(sh.Mass) * float64(sh.Length*sh.Length) / 3; !within(bare.InertiaKgM2, want, 1e-12) {
		t.Errorf("bare shaft %g, want %g", bare.InertiaKgM2, want)
	}
}

// An end that goes past the slice below is said to.
func TestOverhang(t *testing.T) {
	if l := build(t, "poly-1-1/8 + 3/4x1/8@1/2 + 7/8x1/16@1").Layers[1]; !(l.Overhang > 3*measure.Millimetre) || l.CutMax > 0.7*measure.Inch {
		t.Errorf("1 in over 1/2 in: overhang %v, grips to %v", l.Overhang, l.CutMax)
	}
	if l := build(t, "poly-1-1/8 + 3/4x1/8@1/2 + 7/8x1/16").Layers[1]; l.Overhang > 0.01*measure.Millimetre {
		t.Errorf("recommended cut of %v hangs over by %v", l.Cut, l.Overhang)
	}
}

// From end to end a slice spans the chord it lies on; ends too long to grip
// stand straight out.
func TestSpan(t *testing.T) {
	l := build(t, "poly-1-1/8 + 3/4x1/8@1").Layers[0]
	if want := l.Under * measure.Length(math.Sin(l.Reach)); l.Span != want || !(l.Span < l.Cut) {
		t.Errorf("spans %v, want %v", l.Span, want)
	}
	grips := build(t, "poly-1-1/8 + 3/4x1/8").Layers[0].CutMax
	long := build(t, "poly-1-1/8 + 3/4x1/8@2").Layers[0]
	z := math.Sqrt(1.125*1.125 - 0.75*0.75)
	if want := z + 2 - grips.Inches(); !within(long.Span.Inches(), want, 1e-6) {
		t.Errorf("2 in spans %v, want %.3f in", long.Span, want)
	}
	if slack := build(t, "poly-1 + 1x1/8@1").Layers[0]; slack.Span != slack.Cut {
		t.Errorf("a slack slice of %v spans %v", slack.Cut, slack.Span)
	}
}

func TestCheck(t *testing.T) {
	good := build(t, "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16").Stack
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		spoil func(*Stack)
		want  string
	}{
		{"no core", func(s *Stack) { s.Core = knowledge.Core{} }, "core : a diameter of 0 in (0 mm) is not between 5 mm and 100 mm"},
		{"undefined", func(s *Stack) { s.Core.Diameter = measure.Length(math.NaN()) }, "core poly-1-1/8: a diameter of NaN in (NaN mm) is not between 5 mm and 100 mm"},
		{"bore", func(s *Stack) { s.Core.Bore = 2 * measure.Inch }, "core poly-1-1/8: a bore of 2 in (50.8 mm) does not fit in a ball of 1 1/8 in (28.6 mm)"},
		{"no material", func(s *Stack) { s.Material = knowledge.Material{} }, `core poly-1-1/8: material "" has no density`},
		{"no rubber", func(s *Stack) { s.Slices[0].Rubber = knowledge.Material{} }, `tubing latex-3/4x1/8: material "" has no density`},
		{"not a rubber", func(s *Stack) { s.Slices[0].Rubber = s.Material }, "tubing latex-3/4x1/8: its rubber has no durometer reading"},
		{"paper wall", func(s *Stack) { s.Slices[0].Tube.Wall = measure.Inch / 1000 }, "tubing latex-3/4x1/8: a wall of 0.001 in (0.03 mm) is not between 0.2 mm and 25 mm"},
		{"turns", func(s *Stack) { s.Wrap.Turns = -1 }, "yarn wool-medium: -1 turns is not between 1 and 5000"},
		{"thick shaft", func(s *Stack) { s.Shaft.Diameter = 2 * measure.Inch }, "shaft birch-16: 2 in (50.8 mm) thick does not fit in a ball of 1 1/8 in (28.6 mm)"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := good
			s.Slices = slices.Clone(good.Slices)
			wrap, shaft := *good.Wrap, *good.Shaft
			s.Wrap, s.Shaft = &wrap, &shaft
			tt.spoil(&s)
			err := s.Check()
			if err == nil {
				t.Fatal("passes")
			}
			if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
				t.Errorf("error (-want +got):\n%s", diff)
			}
		})
	}
}

func BenchmarkFit(b *testing.B) {
	cat := catalogue(b)
	s, err := Parse(cat, "poly-1-1/8 + 3/4x1/8")
	if err != nil {
		b.Fatal(err)
	}
	on := Ball(s.Core)
	b.ReportAllocs()
	for b.Loop() {
		_ = Fit(on, s.Slices[0], &cat.Limits)
	}
}

func BenchmarkNew(b *testing.B) {
	cat := catalogue(b)
	s, err := Parse(cat, "poly-1 + 3/4x1/8 + 7/8x1/16 + 1x1/8 + wool-medium*140 + birch-16")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		_ = New(s, cat.Limits)
	}
}

func BenchmarkRewrap(b *testing.B) {
	cat := catalogue(b)
	h := build(b, "poly-1 + 3/4x1/8 + 7/8x1/16 + 1x1/8 + wool-medium*140 + birch-16")
	b.ReportAllocs()
	for b.Loop() {
		_ = h.Rewrap(h.Stack.Wrap, &cat.Limits)
	}
}

func BenchmarkParse(b *testing.B) {
	cat := catalogue(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(cat, "poly-1 + 3/4x1/8@3/4 + 7/8x1/16 + 1x1/8 + wool-medium*140 + birch-16"); err != nil {
			b.Fatal(err)
		}
	}
}
