package strike_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/strike"
)

// calibration is what testdata/model/calibrate.py --record wrote.
type calibration struct {
	Figures map[string]struct {
		Value, Spread float64 // one standard deviation
		Starts        []float64
	}
	Costs    []float64
	Facts    []struct{ Fact string }
	CutoffHz map[string][]float64 `json:"cutoff_hz"` // by stack, at p, mf, f and ff
}

func calibrated(t *testing.T) (c calibration) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "model", "calibration.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// The catalogue's figures are the calibration's means, their tolerances two of its
// spreads; two starts agree within 1 %, and no fact was left out of the record.
func TestCalibrationIsCarriedOver(t *testing.T) {
	cat, c := knowledgetest.Catalogue(t), calibrated(t)
	material := func(id string) knowledge.Material {
		m, ok := cat.Material(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		return m
	}
	yarn, ok := cat.Yarn("wool-medium")
	if !ok {
		t.Fatal("no wool-medium")
	}
	if len(c.Figures) != 9 || len(c.Facts) != 27 {
		t.Errorf("%d figures and %d facts", len(c.Figures), len(c.Facts))
	}
	for name, q := range map[string]knowledge.Quantity{
		"T": cat.Limits.TensionN, "phi0": yarn.Loose, "KE": yarn.CrushPa, "hold": cat.Limits.SliceHold,
		"rate": material("wool").Impact, "rubber": material("rubber").Impact, "latex": material("latex").Impact,
		"loss": material("wool").LossFactor, "poly": material("polypropylene").ModulusPa,
	} {
		f := c.Figures[name]
		// Rounded to the digits that its spread leaves.
		if math.Abs(q.Value-f.Value) > 0.05*f.Spread {
			t.Errorf("%s: the catalogue has %g, the calibration %.4g ± %.2g", name, q.Value, f.Value, f.Spread)
		}
		if r := q.Tol / (2 * f.Spread); r < 0.9 || r > 1.1 {
			t.Errorf("%s: the catalogue has ± %g, two spreads are %.3g", name, q.Tol, 2*f.Spread)
		}
		for _, x := range f.Starts {
			if math.Abs(x/f.Value-1) > 0.01 {
				t.Errorf("%s: two starts end at %v", name, f.Starts)
			}
		}
	}
	if d := math.Abs(c.Costs[0] - c.Costs[1]); d > 1e-3 {
		t.Errorf("costs %v from two starts", c.Costs)
	}
}

// What the catalogue leaves open holds as much of each figure as the calibration
// left: its directions, added up, are two of its spreads.
func TestDoubtIsTheCalibrations(t *testing.T) {
	cat, c := knowledgetest.Catalogue(t), calibrated(t)
	share := func(name string) float64 { return c.Figures[name].Spread / c.Figures[name].Value }
	for _, x := range []struct {
		name string
		of   func(knowledge.Doubt) float64
		want float64
	}{
		{"tension", func(d knowledge.Doubt) float64 { return d.Tension }, 2 * share("T")},
		{"loose", func(d knowledge.Doubt) float64 { return d.Loose }, 2 * c.Figures["phi0"].Spread},
		{"crush", func(d knowledge.Doubt) float64 { return d.Crush }, 2 * share("KE")},
		{"fibre in a blow", func(d knowledge.Doubt) float64 { return d.FibreBlow }, 2 * share("rate")},
		{"rubber in a blow", func(d knowledge.Doubt) float64 { return d.RubberBlow }, 2 * share("rubber")},
		{"latex in a blow", func(d knowledge.Doubt) float64 { return d.LatexBlow }, 2 * share("latex")},
		{"loss", func(d knowledge.Doubt) float64 { return d.Loss }, 2 * share("loss")},
		{"plastic", func(d knowledge.Doubt) float64 { return d.Plastic }, 2 * share("poly")},
		{"hold", func(d knowledge.Doubt) float64 { return d.Hold }, 2 * c.Figures["hold"].Spread},
	} {
		sum := 0.0
		for _, d := range cat.Scale.Doubt {
			sum += x.of(d) * x.of(d)
		}
		if r := math.Sqrt(sum) / x.want; r < 0.85 || r > 1.2 {
			t.Errorf("%s: the directions come to %.3f, two spreads are %.3f", x.name, math.Sqrt(sum), x.want)
		}
	}
}

// The laws written down again in Python give what the Go ones give: the stacks of
// the calibration, at p, mf, f and ff, within 3 % of cut-off.
func TestAgainstTheCalibrationsModel(t *testing.T) {
	cat, c := knowledgetest.Catalogue(t), calibrated(t)
	worst := 0.0
	for stack, want := range c.CutoffHz {
		r := report(t, cat, stack)
		for i, p := range r.Reference {
			off := p.CutoffHz/want[i] - 1
			worst = max(worst, math.Abs(off))
			if math.Abs(off) > 0.03 {
				t.Errorf("%s at %s: %.0f Hz, the script has %.0f", stack, p.Dynamic, p.CutoffHz, want[i])
			}
		}
	}
	if t.Logf("%d stacks, %.1f %% at worst", len(c.CutoffHz), 100*worst); len(c.CutoffHz) < 12 {
		t.Errorf("%d stacks", len(c.CutoffHz))
	}
}

// On the other instruments medium lies as many notches above the marimba's as
// scale.yaml says; softness on each is counted from there.
func TestMediaOfInstruments(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	marimba := cat.Scale.MediumHz.Value
	for kind, harder := range map[string]float64{"vibraphone": 2.5, "xylophone": 10, "bells": 20} {
		s := cat.Scale.For(kind)
		if got := -strike.Softness(s.MediumHz.Value, cat.Scale); math.Abs(got-harder) > 0.01 {
			t.Errorf("%s: medium lies %.2f notches above the marimba's, %.0f Hz, want %g", kind, got, marimba, harder)
		}
		if s.MediumHz.Source == cat.Scale.MediumHz.Source || s.MediumHz.Source == "practice" {
			t.Errorf("%s: medium_hz from %s, which can't give hertz", kind, s.MediumHz.Source)
		}
	}
}
