package correct

import (
	"math"
	"testing"

	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// A head that pushes back more than computed was wound firmer: the pull of the
// hand is learnt, and the computed force moves towards the reading.
func TestFitLearnsFromTheSqueeze(t *testing.T) {
	cat, set := catalogue(t)
	h := build(t, cat, stacks[1])
	n, err := strike.SqueezeN(h, 2e-3)
	if err != nil {
		t.Fatal(err)
	}
	read := Squeeze{2 * measure.Millimetre, measure.Mass(1.5 * n / 9.81)}
	l, moved, err := Fit(cat, set, Log{Heads: []Built{{Name: "a", Stack: stacks[1], Squeezes: []Squeeze{read}}}})
	if err != nil {
		t.Fatal(err)
	}
	q := moved[0].Squeezes[0]
	if math.Abs(q.WasN/n-1) > 1e-6 || q.NowN < 1.1*n || q.NowN > 1.6*n {
		t.Errorf("computed %.1f N, now %.1f, read %.1f", q.WasN, q.NowN, 1.5*n)
	}
	firmer := false
	for _, a := range l.Adjust {
		firmer = firmer || a.Field == "tension_n" && a.Now > a.Was
	}
	if !firmer {
		t.Errorf("no firmer hand was learnt: %+v", l.Adjust)
	}
}

// A 22 g head reported as 48 g had its shaft left on: it is named, and
// nothing is learnt from it.
func TestOddIsAskedAbout(t *testing.T) {
	cat, set := catalogue(t)
	h := build(t, cat, stacks[1])
	l, moved, err := Fit(cat, set, Log{Heads: []Built{{Name: "a", Stack: stacks[1], Mass: 48 * measure.Gram, Diameter: h.Diameter}}})
	if err != nil {
		t.Fatal(err)
	}
	if len(moved[0].Odd) != 1 || moved[0].Odd[0].What != "mass" || math.Abs(float64(moved[0].MassNow-moved[0].MassWas)) > 1e-6 {
		t.Errorf("%+v", moved[0])
	}
	if l.Check() != nil {
		t.Error(l.Check())
	}
}

func TestParseSqueeze(t *testing.T) {
	q, err := ParseSqueeze("2 mm at 3.1 kg")
	if err != nil || q != (Squeeze{2 * measure.Millimetre, 3.1 * measure.Kilogram}) {
		t.Errorf("%+v, %v", q, err)
	}
	for _, bad := range []string{"", "2 mm", "2 mm at 3.1 apples", "40 mm at 3 kg", "2 mm at 900 kg"} {
		if _, err := ParseSqueeze(bad); err == nil {
			t.Errorf("%q is read", bad)
		}
	}
}

func TestRemove(t *testing.T) {
	l := Log{Heads: []Built{{Name: "a", Stack: "poly-1"}, {Name: "b", Stack: "poly-1", SofterThan: []string{"a"}}}}
	if l.Remove("c") || !l.Remove("a") || len(l.Heads) != 1 || len(l.Heads[0].SofterThan) != 0 || l.Check() != nil {
		t.Errorf("%+v", l)
	}
}
