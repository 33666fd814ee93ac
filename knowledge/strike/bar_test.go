package strike

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

// A uniform free bar (Euler and Bernoulli): ratios 1 : 2.757 : 5.404 : 8.933,
// nodes 0.2242 of the length from each end (seen as 22.4 %), and a moving mass
// in the first mode of 0.677 of the bar's, struck in the middle (derived).
func TestFreeBar(t *testing.T) {
	for i, want := range []float64{1, 2.757, 5.404, 8.933} {
		near(t, "ratio", FreeRatio(i), want, 0.0002)
	}
	if s := FreeShape(0, 0.2242); math.Abs(s) > 0.001 {
		t.Errorf("shape at the node is %g", s)
	}
	mid := FreeShape(0, 0.5)
	near(t, "moving mass", 1/(mid*mid), 0.677, 0.001)
	if s := FreeShape(1, 0.5); math.Abs(s) > 1e-9 {
		t.Errorf("the second mode moves in the middle: %g", s)
	}
	for i := range 3 {
		near(t, "shape at the end", FreeShape(i, 0), 2, 1e-9)
		square := quad.Fixed(func(x float64) float64 { s := FreeShape(i, x); return s * s }, 0, 1, 60, nil, 0)
		near(t, "mean square", square, 1, 1e-6)
		force := quad.Fixed(func(x float64) float64 { return FreeShape(i, x) }, 0, 1, 60, nil, 0)
		turn := quad.Fixed(func(x float64) float64 { return (x - 0.5) * FreeShape(i, x) }, 0, 1, 60, nil, 0)
		if math.Abs(force) > 1e-6 || math.Abs(turn) > 1e-6 {
			t.Errorf("mode %d moves the bar as a whole: %g, %g", i, force, turn)
		}
	}
}

// Tuned ratios: marimba 1 : 4 : about 10 and xylophone 1 : 3 (seen),
// vibraphone 1 : 4 (from memory). An arch of the usual shape gives them in the
// low and middle range; towards the top bars are too short for it, and the third
// partial falls from 9.7 at the bottom (beam finite elements, see
// testdata/model/bars.py).
func TestTunedRatios(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	seen := map[string]bool{}
	for _, inst := range cat.Instruments {
		want := map[string][]float64{"marimba": {4, 10}, "xylophone": {3}, "vibraphone": {4}, "bells": {2.757, 5.404}}[inst.Kind]
		for n := inst.Low; n <= inst.High; n++ {
			b, err := NewBar(inst, n)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "fundamental", b.Modes[0].Omega/(2*math.Pi), n.Hz(), 1e-12)
			for i, r := range want {
				got := b.Modes[i+1].Omega / b.Modes[0].Omega
				if low := float64(n-inst.Low) < 0.5*float64(inst.High-inst.Low); low && i == 0 || inst.Kind == "bells" {
					near(t, inst.ID, got, r, 0.09)
				} else if got > 1.05*r || got < 0.6*r {
					t.Errorf("%s %v: partial %d is %.2f", inst.ID, n, i+2, got)
				}
			}
			if !(b.Mass > 0.01 && b.Mass < 2) {
				t.Errorf("%s: bar of %v weighs %g kg", inst.ID, n, b.Mass)
			}
		}
		seen[inst.Kind] = true
	}
	for _, kind := range []string{"marimba", "vibraphone", "xylophone"} {
		if !seen[kind] {
			t.Errorf("no %s in the catalogue", kind)
		}
	}
}

// Rosewood's loss factor of 0.45 % (seen) rings 2.2/(f·η) seconds: 1.87 s at
// C4 (derived).
func TestDecay(t *testing.T) {
	inst := knowledge.Instrument{ID: "x", Ratios: []float64{1, 4, 10}, BarMass: []knowledge.BarMass{{Note: 60, Mass: 0.4}},
		LossFactor: knowledge.Quantity{Value: 0.0045}}
	b, err := NewBar(inst, 60)
	if err != nil {
		t.Fatal(err)
	}
	m := b.Modes[0]
	near(t, "60 dB", math.Log(1000)/(m.Damping*m.Omega), 1.87, 0.005)
}

func TestBarMassBetweenNotes(t *testing.T) {
	inst := knowledge.Instrument{ID: "x", BarMass: []knowledge.BarMass{
		{Note: 72, Mass: 0.1}, {Note: 48, Mass: 0.4}, {Note: 60, Mass: 0.2}, // in any order
	}}
	for note, want := range map[measure.Note]float64{48: 0.4, 54: 0.2 * math.Sqrt2, 60: 0.2, 72: 0.1, 84: 0.05} {
		b, err := NewBar(inst, note)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mass", b.Mass, want, 1e-9)
	}
	for _, bad := range []knowledge.Instrument{{ID: "x"}, {ID: "x", BarMass: []knowledge.BarMass{{Note: 60}}}} {
		if _, err := NewBar(bad, 60); err == nil || !strings.Contains(err.Error(), "bar mass") {
			t.Errorf("error %v", err)
		}
	}
}
