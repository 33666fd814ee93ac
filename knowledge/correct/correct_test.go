package correct

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

func catalogue(t testing.TB) (*knowledge.Catalogue, strike.Setting) {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	inst, _ := cat.Instrument("marimba-5")
	return cat, strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}
}

func build(t testing.TB, cat *knowledge.Catalogue, stack string) head.Head {
	t.Helper()
	s, err := head.Parse(cat, stack)
	if err != nil {
		t.Fatal(err)
	}
	return head.New(s, cat.Limits)
}

// changed is the catalogue with figures changed, all of which it has to have.
func changed(t testing.TB, cat *knowledge.Catalogue, adjust []Adjustment) *knowledge.Catalogue {
	t.Helper()
	for _, a := range adjust {
		if q := find(cat, a); q == nil || math.Abs(q.Value-a.Was) > 1e-9*a.Was {
			t.Fatalf("the catalogue has no %s %s of %g", a.ID, a.Field, a.Was)
		}
	}
	return Apply(cat, adjust)
}

var stacks = []string{
	"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
	"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
	"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium*180",
	"poly-1 + 3/4x1/8@1 + wool-medium*90",
}

// A bench whose wool winds tighter and whose latex is denser than the
// catalogue says, within tolerance: from a few heads the fit has to find most
// of the difference, and to predict a head it has not seen.
func TestFitFindsTheBench(t *testing.T) {
	cat, set := catalogue(t)
	truth := changed(t, cat, []Adjustment{
		{Kind: "limits", ID: "hand", Field: "tension_n", Was: 3.6, Now: 5.8, Left: 2},
		{Kind: "yarn", ID: "wool-medium", Field: "tex", Was: 370, Now: 400, Left: 40},
		{Kind: "material", ID: "latex", Field: "density_kgm3", Was: 950, Now: 965, Left: 20},
	})
	var l Log
	for i, s := range stacks {
		h := build(t, truth, s)
		l.Heads = append(l.Heads, Built{Name: string(rune('a' + i)), Stack: s, Mass: h.Mass, Diameter: h.Diameter})
	}
	l, moved, err := Fit(cat, set, l)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range moved {
		was, now := math.Abs(float64(m.MassWas-m.MassMeasured)), math.Abs(float64(m.MassNow-m.MassMeasured))
		if now > 0.5*was {
			t.Errorf("%s: mass off by %.2f g before, %.2f after", m.Name, was*1e3, now*1e3)
		}
		was, now = math.Abs(float64(m.DiameterWas-m.DiameterMeasured)), math.Abs(float64(m.DiameterNow-m.DiameterMeasured))
		if now > 0.9*was {
			t.Errorf("%s: diameter off by %.2f mm before, %.2f after", m.Name, was*1e3, now*1e3)
		}
	}
	const unseen = "poly-1-1/4 + 3/4x1/8@1 + wool-medium"
	want, before, after := build(t, truth, unseen), build(t, cat, unseen), build(t, Apply(cat, l.Adjust), unseen)
	if a, b := math.Abs(float64(after.Mass-want.Mass)), math.Abs(float64(before.Mass-want.Mass)); a > 0.5*b {
		t.Errorf("unseen head: mass off by %.2f g before, %.2f after", b*1e3, a*1e3)
	}
	for _, a := range l.Adjust {
		if math.Abs(a.Now-a.Was) > a.Tol*1.0001 {
			t.Errorf("%s %s: %g is outside %g ± %g", a.ID, a.Field, a.Now, a.Was, a.Tol)
		}
		if a.Left > a.Tol || a.Left <= 0 {
			t.Errorf("%s %s: tolerance %g became %g", a.ID, a.Field, a.Tol, a.Left)
		}
	}
}

// Measurements that agree with the catalogue move nothing, and make it surer.
func TestFitKeepsWhatIsRight(t *testing.T) {
	cat, set := catalogue(t)
	var l Log
	for i, s := range stacks {
		h := build(t, cat, s)
		l.Heads = append(l.Heads, Built{Name: string(rune('a' + i)), Stack: s, Mass: h.Mass, Diameter: h.Diameter})
	}
	l, _, err := Fit(cat, set, l)
	if err != nil {
		t.Fatal(err)
	}
	surer := false
	for _, a := range l.Adjust {
		if math.Abs(a.Now-a.Was) > 1e-6*a.Was {
			t.Errorf("%s %s moved from %g to %g", a.ID, a.Field, a.Was, a.Now)
		}
		surer = surer || a.Left < 0.9*a.Tol
	}
	if !surer {
		t.Error("no tolerance became smaller")
	}
}

// A measurement past all tolerances moves figures to their edge and no
// further.
func TestFitStaysWithinTolerance(t *testing.T) {
	cat, set := catalogue(t)
	h := build(t, cat, stacks[1])
	l, _, err := Fit(cat, set, Log{Heads: []Built{{Name: "a", Stack: stacks[1], Mass: 3 * h.Mass, Diameter: 2 * h.Diameter}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range l.Adjust {
		if math.Abs(a.Now-a.Was) > a.Tol*1.0001 {
			t.Errorf("%s %s: %g is outside %g ± %g", a.ID, a.Field, a.Now, a.Was, a.Tol)
		}
	}
}

// Two heads that differ only in yarn: hearing the acrylic one as harder than
// the wool one, against the catalogue, pulls their stiffnesses towards that
// and reports what it could not reconcile.
func TestFitHearsComparisons(t *testing.T) {
	cat, set := catalogue(t)
	l := Log{Heads: []Built{
		{Name: "wool", Stack: "poly-1-1/8 + 3/4x1/16@1 + wool-medium"},
		{Name: "acrylic", Stack: "poly-1-1/8 + 3/4x1/16@1 + acrylic-medium", HarderThan: []string{"wool"}},
	}}
	_, moved, err := Fit(cat, set, l)
	if err != nil {
		t.Fatal(err)
	}
	was := moved[0].SoftnessWas - moved[1].SoftnessWas
	now := moved[0].SoftnessNow - moved[1].SoftnessNow
	if was >= 0 {
		t.Fatalf("the catalogue already has wool %.2f notches softer", was)
	}
	if now < was+0.2 {
		t.Errorf("wool is %.2f notches softer than acrylic, was %.2f", now, was)
	}
	if (now <= 0) != (len(moved[1].Contradicts) == 1) {
		t.Errorf("%.2f notches softer, contradicts %v", now, moved[1].Contradicts)
	}
}

func TestApplyLeavesTheCatalogue(t *testing.T) {
	cat, _ := catalogue(t)
	before, _ := cat.Yarn("wool-medium")
	out := Apply(cat, []Adjustment{{Kind: "yarn", ID: "wool-medium", Field: "loose", Was: before.Loose.Value, Now: 0.25, Left: 0.03}})
	after, _ := cat.Yarn("wool-medium")
	if diff := cmp.Diff(before, after); diff != "" {
		t.Error("the catalogue itself changed:", diff)
	}
	if got, _ := out.Yarn("wool-medium"); got.Loose.Value != 0.25 || got.Loose.Tol != 0.03 {
		t.Errorf("loose %+v", got.Loose)
	}
	stale := Apply(cat, []Adjustment{{Kind: "yarn", ID: "wool-medium", Field: "loose", Was: 0.30, Now: 0.32, Left: 0.03}})
	if got, _ := stale.Yarn("wool-medium"); got.Loose != before.Loose {
		t.Errorf("an adjustment of another value was applied: %+v", got.Loose)
	}
}

func TestLogRoundTrip(t *testing.T) {
	cat, set := catalogue(t)
	l := Log{Version: Version, Heads: []Built{
		{Name: "first pair", Stack: stacks[0], Mass: 18.4 * measure.Gram, Diameter: 34.2 * measure.Millimetre},
		{Name: "second", Stack: stacks[1], Mass: 22 * measure.Gram, SofterThan: []string{"first pair"}},
	}}
	l, _, err := Fit(cat, set, l)
	if err != nil {
		t.Fatal(err)
	}
	data, err := Encode(l)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Decode("built.yaml", data)
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	if diff := cmp.Diff(l, got); diff != "" {
		t.Error(diff)
	}
}

func TestDecodeErrors(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"not YAML", "version: [", "built.yaml:1:1: not YAML"},
		{"empty", "", "version 0"},
		{"newer", "version: 7\nheads: []\nsmell: nice\n", "a newer mallow wrote it, as version 7; this one reads version 1"},
		{"unknown field", "version: 1\nheads: [{name: a, stack: poly-1, weight: 3 g}]\n", "weight"},
		{"no name", "version: 1\nheads: [{stack: poly-1}]\n", "needs a name"},
		{"no stack", "version: 1\nheads: [{name: a}]\n", "no stack"},
		{"twice", "version: 1\nheads: [{name: a, stack: poly-1}, {name: a, stack: poly-1}]\n", "named twice"},
		{"heavy", "version: 1\nheads: [{name: a, stack: poly-1, mass: 9 kg}]\n", "1 to 500 g"},
		{"below zero", "version: 1\nheads: [{name: a, stack: poly-1, mass: -3 g}]\n", "below zero"},
		{"stranger", "version: 1\nheads: [{name: a, stack: poly-1, softer_than: [b]}]\n", `"b", which is not in the log`},
		{"itself", "version: 1\nheads: [{name: a, stack: poly-1, softer_than: [a]}]\n", "compared with itself"},
		{"far adjustment", "version: 1\nheads: []\nadjust: [{kind: yarn, id: w, field: loose, was: 0.4, tol: 0.1, now: 0.9, left: 0.1}]\n", "outside"},
		{"wrong adjustment", "version: 1\nheads: []\nadjust: [{kind: yarn, id: w, field: price, was: 1, tol: 1, now: 1, left: 1}]\n", `no field "price"`},
		{"two documents", "version: 1\nheads: []\n---\nversion: 1\n", "a second YAML document"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Decode("built.yaml", []byte(c.text))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q in it", err, c.want)
			}
		})
	}
}

func TestFitNamesABrokenStack(t *testing.T) {
	cat, set := catalogue(t)
	_, _, err := Fit(cat, set, Log{Heads: []Built{{Name: "a", Stack: "pony-1"}}})
	if err == nil || !strings.Contains(err.Error(), `built head "a"`) {
		t.Error(err)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte("version: 1\nheads: [{name: a, stack: poly-1, mass: 20 g, diameter: 30 mm}]\n"))
	f.Add([]byte("version: 1\nheads: []\nadjust: [{kind: yarn, id: w, field: loose, was: 0.4, tol: 0.1, now: 0.45, left: 0.1}]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Decode("built.yaml", data)
		if err != nil {
			return
		}
		out, err := Encode(l)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode("built.yaml", out)
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if diff := cmp.Diff(l.Heads, again.Heads, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
	})
}

func BenchmarkFit(b *testing.B) {
	cat, set := catalogue(b)
	var l Log
	for i := range 10 {
		s := stacks[i%len(stacks)]
		h := build(b, cat, s)
		l.Heads = append(l.Heads, Built{Name: string(rune('a' + i)), Stack: s, Mass: h.Mass * 1.04, Diameter: h.Diameter})
	}
	for b.Loop() {
		if _, _, err := Fit(cat, set, l); err != nil {
			b.Fatal(err)
		}
	}
}
