package strike_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/strike"
)

// drawStack draws a core, up to three slices that hold on it, and perhaps a
// wrap.
func drawStack(t *rapid.T, cat *knowledge.Catalogue) head.Stack {
	c := rapid.SampledFrom(cat.Cores).Draw(t, "core")
	s := head.Stack{Core: c}
	s.Material, _ = cat.Material(c.Material)
	bed := head.Ball(c)
	for range rapid.IntRange(0, 3).Draw(t, "slices") {
		fits := holding(cat, bed)
		if len(fits) == 0 {
			break
		}
		l := rapid.SampledFrom(fits).Draw(t, "slice")
		s.Slices = append(s.Slices, l.Slice)
		bed = l.Bed()
	}
	if rapid.Bool().Draw(t, "wound") {
		y := rapid.SampledFrom(cat.Yarns).Draw(t, "yarn")
		fibre, _ := cat.Material(y.Fibre)
		s.Wrap = &head.Wrap{Yarn: y, Fibre: fibre, Turns: rapid.IntRange(30, 300).Draw(t, "turns")}
	}
	return s
}

// holding returns every slice that holds on what lies below.
func holding(cat *knowledge.Catalogue, bed head.Bed) []head.Layer {
	var fits []head.Layer
	for _, tube := range cat.Tubing {
		m, _ := cat.Material(tube.Material)
		l := head.Fit(bed, head.Slice{Tube: tube, Rubber: m}, &cat.Limits)
		if l.Verdict != head.Slack && l.Verdict != head.Over {
			fits = append(fits, l)
		}
	}
	return fits
}

func bodyOf(t *rapid.T, s head.Stack, cat *knowledge.Catalogue) strike.Body {
	b, err := strike.FromHead(head.New(s, cat.Limits))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func full(t *rapid.T, b *strike.Body, bar *strike.Bar, v float64) *strike.Pulse {
	p, err := strike.Full(b, bar, v)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A stroke of any head on any bar: energy is never gained, the push only
// pushes, everything is finite, and shares add up.
func TestStrokeProperties(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		b := bodyOf(t, drawStack(t, cat), cat)
		inst := rapid.SampledFrom(cat.Instruments).Draw(t, "instrument")
		note := inst.Low
		for range rapid.IntRange(0, int(inst.High-inst.Low)).Draw(t, "semitones") {
			note++
		}
		bar, err := strike.NewBar(inst, note)
		if err != nil {
			t.Fatal(err)
		}
		v := rapid.Float64Range(0.3, 6).Draw(t, "speed")
		p := full(t, &b, &bar, v)
		mass := p.Mass()
		had := 0.5 * mass * v * v
		if p.Lost < -1e-6*had || p.Damped < -1e-6*had || p.Lost+p.Damped > had*1.001 {
			t.Errorf("of %.3g J, %.3g J went to heat in the head and %.3g in the bar", had, p.Lost, p.Damped)
		}
		for _, x := range []float64{p.ContactS, p.PeakN, p.ImpulseNS, p.CutoffHz} {
			if !(x > 0) || math.IsInf(x, 0) {
				t.Errorf("%+v", p)
			}
		}
		// A head can't leave faster than it came, by more than the bar
		// throws it.
		if left := v - p.ImpulseNS/mass; left < -v*1.001 {
			t.Errorf("came at %g m/s and left at %g", v, -left)
		}
		for _, s := range p.Samples(30) {
			if s.F < 0 || slices.Min(s.Squeeze) < 0 {
				t.Errorf("pulled: %+v", s)
			}
		}
	})
}

// On a wall, a faster stroke is shorter, harder and opens the spectrum.
func TestFasterIsShorter(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	wall := &strike.Bar{}
	rapid.Check(t, func(t *rapid.T) {
		b := bodyOf(t, drawStack(t, cat), cat)
		v := rapid.Float64Range(0.3, 4).Draw(t, "speed")
		faster := v * rapid.Float64Range(1.1, 2).Draw(t, "times")
		p, q := full(t, &b, wall, v), full(t, &b, wall, faster)
		if q.ContactS >= p.ContactS || q.PeakN <= p.PeakN || q.CutoffHz <= p.CutoffHz {
			t.Errorf("at %.2f m/s %.4g s, %.4g N, %.4g Hz; at %.2f m/s %.4g s, %.4g N, %.4g Hz",
				v, p.ContactS, p.PeakN, p.CutoffHz, faster, q.ContactS, q.PeakN, q.CutoffHz)
		}
	})
}

// A layer of tubing never makes the same core harder at mf. Common practice,
// no source.
func TestLayerNeverHardens(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	ref := strike.Reference()
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t, cat)
		bed := head.Ball(s.Core)
		for _, l := range head.New(s, cat.Limits).Layers {
			bed = l.Bed()
		}
		fits := holding(cat, bed)
		if len(fits) == 0 {
			return
		}
		more := s
		more.Slices = append(slices.Clone(s.Slices), rapid.SampledFrom(fits).Draw(t, "one more").Slice)
		a, b := bodyOf(t, s, cat), bodyOf(t, more, cat)
		if p, q := full(t, &a, &ref, 2), full(t, &b, &ref, 2); q.CutoffHz > p.CutoffHz {
			t.Errorf("%s has %.1f Hz, %s has %.1f", s, p.CutoffHz, more, q.CutoffHz)
		}
	})
}

// A harder rubber core makes a harder head of the same build.
func TestHarderCore(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	ref := strike.Reference()
	core, _ := cat.Core("rubber-50a-1-1/8")
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t, cat)
		b := bodyOf(t, s, cat)
		soft := core
		soft.DurometerA = rapid.Float64Range(25, 75).Draw(t, "durometer")
		hard := soft
		hard.DurometerA += rapid.Float64Range(1, 20).Draw(t, "harder by")
		m, _ := cat.Material(core.Material)
		of := func(c knowledge.Core) float64 {
			h, err := strike.FromHead(head.New(head.Stack{Core: c, Material: m}, cat.Limits))
			if err != nil {
				t.Fatal(err)
			}
			x := b
			x.Core.Modulus, x.Core.Poisson = h.Core.Modulus, h.Core.Poisson
			return full(t, &x, &ref, 2).CutoffHz
		}
		if a, b := of(soft), of(hard); b <= a {
			t.Errorf("%.1f A gives %.2f Hz, %.1f A gives %.2f", soft.DurometerA, a, hard.DurometerA, b)
		}
	})
}

// The reduced form makes no garbage.
func TestQuickAllocates(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	b, err := strike.FromHead(build(t, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-medium"))
	if err != nil {
		t.Fatal(err)
	}
	ref := strike.Reference()
	dst := make([]strike.Reduced, 0, 4)
	if n := testing.AllocsPerRun(100, func() { dst = strike.Quick(dst[:0], &b, &ref, []float64{1, 2, 3.5, 5}) }); n != 0 {
		t.Errorf("%g allocations a head", n)
	}
}
