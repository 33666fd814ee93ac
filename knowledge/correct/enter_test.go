package correct

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// What a name that is given again, or not at all, makes of a log. Each case
// enters heads one after the other; stacks[1] comes to 22.3 g.
func TestEnter(t *testing.T) {
	const g, mm, kg = measure.Gram, measure.Millimetre, measure.Kilogram
	cat, set := catalogue(t)
	good := Built{Stack: stacks[1], Mass: 22.9 * g}
	named := func(name string, b Built) Built { b.Name = name; return b }
	for _, c := range []struct {
		name     string
		heads    []Built
		masses   map[string]float64 // grams, of every head in the log
		replaced string             // of the last
		kept     int
		fault    string
	}{
		{name: "a pair has two heads of one stack", heads: []Built{good, {Stack: stacks[1], Mass: 22.1 * g}},
			masses: map[string]float64{"head 1": 22.9, "head 2": 22.1}},
		{name: "an outlier without a name stands beside a good one", heads: []Built{good, {Stack: stacks[1], Mass: 48 * g}},
			masses: map[string]float64{"head 1": 22.9, "head 2": 48}},
		{name: "an outlier under the same name changes nothing", heads: []Built{good, {Name: "head 1", Stack: stacks[1], Mass: 48 * g}},
			masses: map[string]float64{"head 1": 22.9}, kept: 1},
		{name: "a good one under the name of an outlier mends it", heads: []Built{{Stack: stacks[1], Mass: 48 * g}, named("head 1", good)},
			masses: map[string]float64{"head 1": 22.9}, replaced: "mass 48.0 g"},
		{name: "a name given again corrects", heads: []Built{named("a", good), {Name: "a", Stack: stacks[1], Mass: 22.4 * g}},
			masses: map[string]float64{"a": 22.4}, replaced: "mass 22.9 g"},
		{name: "what is not given again stays", heads: []Built{named("a", good), {Name: "a", Stack: stacks[1], Diameter: 39.5 * mm}},
			masses: map[string]float64{"a": 22.9}},
		{name: "readings of other squeezes add up, of the same one take its place", heads: []Built{
			{Name: "a", Stack: stacks[1], Squeezes: []Squeeze{{1 * mm, 0.8 * kg}, {1.5 * mm, 2 * kg}}},
			{Name: "a", Stack: stacks[1], Squeezes: []Squeeze{{1.5 * mm, 2.2 * kg}, {2 * mm, 3.9 * kg}}}},
			masses: map[string]float64{"a": 0}, replaced: "squeeze 1.5 mm at 2 kg"},
		{name: "an odd squeeze leaves the good one", heads: []Built{
			{Name: "a", Stack: stacks[1], Squeezes: []Squeeze{{1.5 * mm, 2 * kg}}},
			{Name: "a", Stack: stacks[1], Squeezes: []Squeeze{{1.5 * mm, 20 * kg}}}},
			masses: map[string]float64{"a": 0}, kept: 1},
		{name: "a name of a head of other parts", heads: []Built{named("a", good), {Name: "a", Stack: stacks[0], Mass: 20 * g}},
			fault: "other parts"},
		{name: "the number of a name that was chosen is not given out", heads: []Built{named("head 1", good), good},
			masses: map[string]float64{"head 1": 22.9, "head 2": 22.9}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var l Log
			var e Entry
			var err error
			for _, b := range c.heads {
				if l, _, e, err = Enter(cat, set, l, b); err != nil && c.fault == "" {
					t.Fatal(err)
				}
			}
			if c.fault != "" {
				if err == nil || !strings.Contains(err.Error(), c.fault) {
					t.Errorf("error %v, want %q", err, c.fault)
				}
				return
			}
			got := map[string]float64{}
			for _, b := range l.Heads {
				got[b.Name] = math.Round(b.Mass.Grams()*10) / 10
			}
			if len(got) != len(c.masses) {
				t.Errorf("heads %v, want %v", got, c.masses)
			}
			for name, want := range c.masses {
				if got[name] != want {
					t.Errorf("%s weighs %g g, want %g", name, got[name], want)
				}
			}
			if r := strings.Join(e.Replaced, ", "); r != c.replaced || len(e.Kept) != c.kept {
				t.Errorf("replaced %q, want %q; kept %v, want %d", r, c.replaced, e.Kept, c.kept)
			}
			if len(e.Beside) != len(l.Heads)-1 {
				t.Errorf("beside %v of %d heads", e.Beside, len(l.Heads))
			}
		})
	}
}

// What was learnt from a good head is still learnt when an outlier comes in, under
// any name.
func TestOutlierTeachesNothing(t *testing.T) {
	cat, set := catalogue(t)
	before, _, _, err := Enter(cat, set, Log{}, Built{Stack: stacks[1], Mass: 22.9 * measure.Gram})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", "head 1", "other"} {
		after, _, _, err := Enter(cat, set, before, Built{Name: name, Stack: stacks[1], Mass: 48 * measure.Gram})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(after.Adjust, before.Adjust) || len(after.Learnt()) == 0 {
			t.Errorf("as %q: %+v became %+v", name, before.Adjust, after.Adjust)
		}
	}
	// Nor does a comparison that no such heads can bear.
	if two, _, _, err := Enter(cat, set, before, Built{Stack: "poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium", HarderThan: []string{"head 1"}}); err != nil {
		t.Fatal(err)
	} else {
		for i, a := range two.Adjust[:len(before.Adjust)] {
			if a.Now != before.Adjust[i].Now {
				t.Errorf("%s %s: %g became %g", a.ID, a.Field, before.Adjust[i].Now, a.Now)
			}
		}
	}
	only, _, _, err := Enter(cat, set, Log{}, Built{Stack: stacks[1], Mass: 48 * measure.Gram})
	if err != nil || len(only.Learnt()) != 0 {
		t.Errorf("alone it teaches %+v, %v", only.Learnt(), err)
	}
}

// Heads that were built along stand beside what is there, and are not kept twice.
func TestBeside(t *testing.T) {
	pair := []Built{{Stack: stacks[1], Mass: 22.9 * measure.Gram}, {Stack: stacks[1], Mass: 22.9 * measure.Gram}}
	l := Log{Heads: []Built{{Name: "head 1", Stack: stacks[0], Mass: 20 * measure.Gram}}}
	l.Beside(pair)
	l.Beside(pair)
	var names []string
	for _, b := range l.Heads {
		names = append(names, b.Name)
	}
	if !slices.Equal(names, []string{"head 1", "head 2", "head 3"}) || l.Check() != nil {
		t.Errorf("%q, %v", names, l.Check())
	}
}

// A hand that winds loosely or firmly is found out by the squeeze test: what is learnt
// from three heads, squeezed at three widths, lies towards it, and another head
// comes out as soft as that hand makes it.
func TestFitLearnsTheHand(t *testing.T) {
	cat, set := catalogue(t)
	for _, c := range []struct{ n, least, most float64 }{{2, 0, 3.4}, {7, 4, 8}} {
		truth := *cat
		truth.Limits.TensionN.Value = c.n
		var l Log
		for i, s := range stacks[:3] {
			h := build(t, &truth, s)
			b := Built{Name: string(rune('a' + i)), Stack: s, Mass: h.Mass, Diameter: h.Diameter}
			for _, mm := range []float64{1, 1.5, 2} {
				n, err := strike.SqueezeN(h, mm*1e-3)
				if err != nil {
					t.Fatal(err)
				}
				b.Squeezes = append(b.Squeezes, Squeeze{measure.Length(mm) * measure.Millimetre, measure.Mass(n / measure.Gravity)})
			}
			l.Heads = append(l.Heads, b)
		}
		l, _, err := Fit(cat, set, l)
		if err != nil {
			t.Fatal(err)
		}
		learnt := Apply(cat, l.Adjust)
		if n := learnt.Limits.TensionN.Value; n < c.least || n > c.most {
			t.Errorf("a hand of %g N is taken for one of %.1f", c.n, n)
		}
		soft := func(cat *knowledge.Catalogue) float64 {
			r, err := strike.Of(build(t, cat, stacks[3]), set)
			if err != nil {
				t.Fatal(err)
			}
			return r.Softness
		}
		was, now, want := soft(cat), soft(learnt), soft(&truth)
		t.Logf("%g N: learnt %.2f ± %.2f N; a head not measured %+.2f notches, now %+.2f, in truth %+.2f", c.n, learnt.Limits.TensionN.Value, learnt.Limits.TensionN.Tol, was, now, want)
		if math.Abs(now-want) > 0.3*math.Abs(was-want) {
			t.Errorf("%g N: a head not measured is %+.2f notches, was %+.2f, in truth %+.2f", c.n, now, was, want)
		}
	}
}
