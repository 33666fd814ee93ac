package strike_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/strike"
)

func setting(t testing.TB, cat *knowledge.Catalogue) strike.Setting {
	t.Helper()
	inst, ok := cat.Instrument("marimba-5")
	if !ok {
		t.Fatal("no marimba-5")
	}
	return strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}
}

func build(t testing.TB, cat *knowledge.Catalogue, text string) head.Head {
	t.Helper()
	s, err := head.Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	return head.New(s, cat.Limits)
}

func report(t testing.TB, cat *knowledge.Catalogue, text string) strike.Report {
	t.Helper()
	r, err := strike.Of(build(t, cat, text), setting(t, cat))
	if err != nil {
		t.Fatal(text, err)
	}
	return r
}

// The scale's zero: a hard plastic ball of 1 1/8 in with one 1/8 in layer of
// latex under a plain wool wrap is medium. Common practice, no source.
func TestAnchor(t *testing.T) {
	r := report(t, knowledgetest.Catalogue(t), "poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	if math.Abs(r.Softness) > 0.05 || r.Grade != "medium" {
		t.Errorf("%.3f notches, %s: medium_hz in scale.yaml should be %.1f", r.Softness, r.Grade, r.Reference[1].CutoffHz)
	}
}

// notchesBetween returns how much softer b is than a at a dynamic.
func notchesBetween(a, b strike.Report, dynamic int) float64 {
	return 6 * math.Log2(a.Reference[dynamic].CutoffHz/b.Reference[dynamic].CutoffHz)
}

// least is how far apart two heads of an order have to be at every dynamic.
const least = 0.1 // notches

// From hard to soft, at p, mf, f and ff, each by at least 0.1 notch. Common
// practice, no source.
func TestOrder(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, c := range []struct {
		name   string
		stacks []string // hardest first
	}{
		{"tubing on plastic", []string{
			"poly-1-1/8",
			"poly-1-1/8 + wool-medium",
			"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium",
		}},
		{"a set on plastic", []string{
			"poly-1-1/8 + wool-medium",
			"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium",
			"poly-1 + 3/4x1/8@1 + 7/8x1/8@1 + 1x1/16@1 + wool-medium",
		}},
		{"a set on rubber", []string{
			"rubber-75a-1-1/8 + wool-medium",
			"rubber-75a-1-1/8 + 3/4x1/16@1 + wool-medium",
			"rubber-60a-1-1/8 + 3/4x1/16@1 + wool-medium",
			"rubber-55a-1-1/8 + 3/4x1/16@1 + wool-medium",
			"rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium",
			"rubber-40a-1-1/8 + 3/4x1/8@1 + wool-medium",
		}},
		{"one slice of more wall", []string{
			"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
			"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
			"poly-1-1/8 + 3/4x3/16@1 + wool-medium",
		}},
		{"bare balls", []string{"poly-1-1/8", "rubber-75a-1-1/8", "rubber-60a-1-1/8", "rubber-50a-1-1/8", "rubber-40a-1-1/8"}},
		{"wound rubber balls", []string{
			"rubber-75a-1-1/8 + wool-medium", "rubber-60a-1-1/8 + wool-medium",
			"rubber-55a-1-1/8 + wool-medium", "rubber-50a-1-1/8 + wool-medium", "rubber-40a-1-1/8 + wool-medium",
		}},
		{"rubber balls under a slice", []string{
			"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
			"rubber-75a-1-1/8 + 3/4x1/8@1 + wool-medium", "rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium",
			"rubber-40a-1-1/8 + 3/4x1/8@1 + wool-medium",
		}},
		{"turns of yarn", []string{
			"poly-1-1/8 + 3/4x1/16@1", "poly-1-1/8 + 3/4x1/16@1 + wool-medium*60",
			"poly-1-1/8 + 3/4x1/16@1 + wool-medium*140", "poly-1-1/8 + 3/4x1/16@1 + wool-medium*220",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before strike.Report
			for i, s := range c.stacks {
				r := report(t, cat, s)
				for d, now := range r.Reference {
					if i == 0 {
						continue
					}
					apart := notchesBetween(before, r, d)
					if apart < least {
						t.Errorf("%s at %s is %.2f notches softer than %s, want %.1f", s, now.Dynamic, apart, c.stacks[i-1], least)
					}
				}
				before = r
			}
		})
	}
}

// In a set on plastic each softer head is heavier and larger; in the set on
// rubber the third from the soft end is lighter and smaller than the second.
// The medium head is 38 to 42 mm over all, the softest 43 to 46. Common practice, no source.
func TestSizes(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	var before head.Head
	for i, s := range []string{
		"poly-1-1/8 + wool-medium",
		"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium",
		"poly-1 + 3/4x1/8@1 + 7/8x1/8@1 + 1x1/16@1 + wool-medium",
	} {
		h := build(t, cat, s)
		t.Logf("%s: %.1f g, %.1f mm", s, h.Mass.Grams(), h.Diameter.MM())
		if i > 0 && (h.Mass <= before.Mass || h.Diameter <= before.Diameter) {
			t.Errorf("%s is no heavier or no larger than the one before", s)
		}
		before = h
		if mm := h.Diameter.MM(); i == 2 && (mm < 38 || mm > 42) || i == 4 && (mm < 43 || mm > 46) {
			t.Errorf("%s is %.1f mm across", s, mm)
		}
	}
	second := build(t, cat, "rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium")
	third := build(t, cat, "rubber-55a-1-1/8 + 3/4x1/16@1 + wool-medium")
	if third.Mass >= second.Mass || third.Diameter >= second.Diameter {
		t.Errorf("the third has %v and %v, the second %v and %v", third.Mass, third.Diameter, second.Mass, second.Diameter)
	}
}

// Soft strokes hide the core: what cores of 40 and 60 durometer differ by under the
// same 1/8 in layer is at least 1.6 times as much at ff as at p. Common
// practice, no source.
func TestSoftStrokesHideTheCore(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	hard := report(t, cat, "rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium")
	soft := report(t, cat, "rubber-40a-1-1/8 + 3/4x1/8@1 + wool-medium")
	p, ff := notchesBetween(hard, soft, 0), notchesBetween(hard, soft, 3)
	if t.Logf("%.2f notches at p, %.2f at ff", p, ff); ff < 1.6*p {
		t.Errorf("%.2f notches at p, %.2f at ff: %.2f times", p, ff, ff/p)
	}
}

// The words that go with total rubber of 1/16, 1/8, 3/16 and 5/16 in (the
// last in three layers on a 1 in core). Common practice, no source.
func TestGradesOfRubber(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, c := range []struct {
		stack string
		words []string
	}{
		{"poly-1-1/8 + wool-medium", []string{"very hard", "hard"}},
		{"poly-1-1/8 + 3/4x1/16@1 + wool-medium", []string{"hard"}},
		{"poly-1-1/8 + 3/4x1/8@1 + wool-medium", []string{"medium"}},
		{"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium", []string{"medium soft", "soft"}},
		{"poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium", []string{"soft"}},
		{"poly-1 + 3/4x1/8@1 + 7/8x1/8@1 + 1x1/16@1 + wool-medium", []string{"very soft"}},
		{"poly-1-1/8", []string{"very hard"}},
	} {
		if r := report(t, cat, c.stack); !slices.Contains(c.words, r.Grade) {
			t.Errorf("%s is %s (%.2f notches), want %v", c.stack, r.Grade, r.Softness, c.words)
		}
	}
}

// On every instrument each word has heads that the trade calls by it, and they
// are computed to be what they are called. Common practice, no source.
func TestWordsOfEveryInstrument(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, kind := range []string{"marimba", "vibraphone", "xylophone", "bells"} {
		scale := cat.Scale.For(kind)
		for _, g := range scale.Grades {
			if len(g.Heads) == 0 {
				t.Errorf("%s: nothing is called %s", kind, g.ID)
			}
			for _, s := range g.Heads {
				b, err := strike.FromHead(build(t, cat, s))
				if err != nil {
					t.Fatal(err)
				}
				ref := strike.Reference()
				notches := strike.Softness(strike.Quick(nil, &b, &ref, []float64{setting(t, cat).Speed()})[0].CutoffHz, scale)
				if got := strike.Grade(notches, scale); got != g.ID {
					t.Errorf("%s: %s is %s (%+.2f notches), the trade calls it %s", kind, s, got, notches, g.ID)
				}
			}
		}
	}
}

// One 1/8 in layer over a 1 1/8 in plastic ball is within 1.2 notches of
// medium with every usual yarn, lightly to fully wound as far as 60 to 220
// turns go, at ordinary tension. Common practice, no source. Cords, and firm and loose
// winding, are reported beside it.
func TestMediumWithAnyYarn(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	const stack = "poly-1-1/8 + 3/4x1/8@1 + "
	worst := 0.0
	for _, y := range cat.Yarns {
		for _, turns := range []int{y.Wraps.Light, y.Wraps.Plain, y.Wraps.Full} {
			turns = min(max(turns, 60), 220)
			h := build(t, cat, fmt.Sprintf("%s%s*%d", stack, y.ID, turns))
			of := func(tension float64) float64 {
				w := *h.Stack.Wrap
				w.TensionN = tension
				r, err := strike.Of(h.Rewrap(&w, &cat.Limits), setting(t, cat))
				if err != nil {
					t.Fatal(err)
				}
				return r.Softness
			}
			at := of(0)
			cord := !slices.Contains([]string{"wool", "acrylic", "wool-nylon", "wool-acrylic"}, y.Fibre)
			t.Logf("%s*%d: %+.2f notches; loose %+.2f, firm %+.2f", y.ID, turns, at, of(cat.Limits.TensionLooseN.Value), of(cat.Limits.TensionFirmN.Value))
			if cord {
				continue
			}
			worst = max(worst, math.Abs(at))
			if math.Abs(at) > 1.2 {
				t.Errorf("with %s*%d it is %+.2f notches off medium", y.ID, turns, at)
			}
		}
	}
	t.Logf("at most %.2f notches off", worst)
}

// A layer of tubing does more than a notch of core hardness of ten points, and
// yarn does less than a layer. Common practice, no source.
func TestLayerOutweighsTenPointsOfCore(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	notches := func(s string) float64 { return report(t, cat, s).Softness }
	hard, soft := notches("rubber-60a-1-1/8 + wool-medium"), notches("rubber-50a-1-1/8 + wool-medium")
	layer := notches("rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium")
	if layer-hard <= soft-hard {
		t.Errorf("a layer softens by %.2f notches, ten points of core by %.2f", layer-hard, soft-hard)
	}
	bare, wound := notches("poly-1-1/8 + 3/4x1/8@1"), notches("poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	thick := notches("poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1")
	if !(wound > bare && wound-bare < thick-bare) {
		t.Errorf("yarn softens by %.2f notches, a layer by %.2f", wound-bare, thick-bare)
	}
}

// Soft strokes hide the core and loud strokes reach it: heads with unlike
// cores lie closer together at p than at ff, the yarn's share falls from p to
// ff on a rubber core, and the core's grows. Common practice, no source.
func TestLoudStrokesReachTheCore(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, over := range []string{" + 3/4x1/8@1 + wool-medium", " + 3/4x1/8@1 + 1x1/8@1 + wool-medium", " + wool-medium"} {
		a, b := report(t, cat, "poly-1-1/8"+over), report(t, cat, "rubber-60a-1-1/8"+over)
		apart := func(i int) float64 { return math.Log2(a.Reference[i].CutoffHz / b.Reference[i].CutoffHz) }
		if soft, loud := apart(0), apart(len(a.Reference)-1); soft >= loud {
			t.Errorf("cores under%s: %.2f octaves apart at p, %.2f at ff", over, soft, loud)
		}
		first, last := b.Reference[0].Share, b.Reference[len(b.Reference)-1].Share
		if n := len(first) - 1; first[n] <= last[n] || first[0] >= last[0] {
			t.Errorf("shares on rubber under%s: %.2f at p, %.2f at ff", over, first, last)
		}
	}
}

// On one core, heads with unlike rubber sound more alike at p than at ff.
// Common practice, no source. (It is not so between 1/8 in on a 1 1/8 in ball
// and 5/16 in on a 1 in one, which stay as far apart at every dynamic.)
func TestAlikeWhenSoft(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	stacks := []string{
		"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium",
	}
	for i := 1; i < len(stacks); i++ {
		a, b := report(t, cat, stacks[i-1]), report(t, cat, stacks[i])
		last := len(a.Reference) - 1
		soft := math.Log2(a.Reference[0].CutoffHz / b.Reference[0].CutoffHz)
		loud := math.Log2(a.Reference[last].CutoffHz / b.Reference[last].CutoffHz)
		if soft >= loud {
			t.Errorf("%s and %s are %.2f octaves apart at p, %.2f at ff", stacks[i-1], stacks[i], soft, loud)
		}
	}
}

// Thick soft yarn over a hard core opens up more from soft to loud than a thin
// wrap over rubber, and both more than bare rubber, whose contact time hardly
// changes with speed (Hertz: v to the −1/5). Common practice, no source.
func TestYarnOpensUp(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	wall := &strike.Bar{}
	open := func(s string) float64 {
		b, err := strike.FromHead(build(t, cat, s))
		if err != nil {
			t.Fatal(err)
		}
		q := strike.Quick(nil, &b, wall, []float64{1, 5})
		return math.Log2(q[1].CutoffHz / q[0].CutoffHz)
	}
	if got, want := open("rubber-60a-1-1/8"), math.Log2(5)/5; math.Abs(got-want) > 0.02 {
		t.Errorf("on a wall a bare rubber ball opens up %.3f octaves, Hertz has %.3f", got, want)
	}
	thick, thin := report(t, cat, "poly-1-1/8 + wool-heavy*135"), report(t, cat, "rubber-60a-1-1/8 + wool-fine*60")
	bare := report(t, cat, "rubber-60a-1-1/8")
	t.Logf("%.2f octaves, %.2f, %.2f", thick.OpensUp, thin.OpensUp, bare.OpensUp)
	if thick.OpensUp < thin.OpensUp+0.2 || thin.OpensUp <= bare.OpensUp {
		t.Errorf("thick yarn on plastic opens up %.2f octaves, a thin wrap on rubber %.2f, rubber %.2f", thick.OpensUp, thin.OpensUp, bare.OpensUp)
	}
}

// A softer head serves lower notes, a harder one higher. Common practice, no
// source.
func TestServes(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	hard := report(t, cat, "poly-1-1/8 + 3/4x1/16@1 + wool-medium")
	medium := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	soft := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium")
	if !(hard.High > medium.High && medium.High > soft.High) || !(hard.Low > medium.Low && medium.Low > soft.Low) {
		t.Errorf("hard serves %v to %v, medium %v to %v, soft %v to %v", hard.Low, hard.High, medium.Low, medium.High, soft.Low, soft.High)
	}
	for _, r := range []strike.Report{hard, medium, soft} {
		if r.High-r.Low < 24 {
			t.Errorf("a head that serves only %v to %v", r.Low, r.High)
		}
	}
	// What is said of partials agrees: harder is brighter, at f, low down.
	bright := func(r strike.Report) float64 { return r.Registers[0].Strokes[2].PartialsDB[1] }
	if !(bright(hard) > bright(medium) && bright(medium) > bright(soft)) {
		t.Errorf("second partial at f: %.1f, %.1f, %.1f dB", bright(hard), bright(medium), bright(soft))
	}
}

// Rebound of bare balls: hard plastic comes back faster than rubber, and both
// in the range that such balls are known for (from memory: about 0.5 to 0.95
// of the speed).
func TestRebound(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	wall := &strike.Bar{}
	for _, s := range []string{"poly-1-1/8", "acetal-1", "rubber-60a-1-1/8", "maple-1"} {
		b, err := strike.FromHead(build(t, cat, s))
		if err != nil {
			t.Fatal(err)
		}
		p, err := strike.Full(&b, wall, 2)
		if err != nil {
			t.Fatal(err)
		}
		if p.Rebound < 0.5 || p.Rebound > 0.99 {
			t.Errorf("%s comes back at %.2f of its speed", s, p.Rebound)
		}
	}
}

// A pull that was read off a balance leaves less open than one that was not, and a
// word leaves more open than a figure.
func TestToldTension(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	const stack = "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140"
	tol := map[string]float64{}
	for _, at := range []string{"", "@3.7N", "@7N", "@7.1N"} {
		r := report(t, cat, stack+at)
		tol[at] = r.SoftnessTol
		t.Logf("%s: %+.2f ± %.2f notches, squeezed %.1f ± %.1f N", at, r.Softness, r.SoftnessTol, r.Squeeze.ForceN, r.Squeeze.TolN)
	}
	if !(tol["@3.7N"] < tol[""] && tol["@7.1N"] < tol["@7N"] && tol["@7N"] < tol[""]) {
		t.Errorf("± %v", tol)
	}
}

// The mark of a stroke past what the laws were checked for tells heads apart: loud strokes
// on little rubber over a hard ball carry it, softer ones and thick heads don't.
func TestBeyondSeparates(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	ref := strike.Reference()
	var marked, all [4]int
	for _, core := range []string{"poly-1", "poly-1-1/8", "acetal-1", "rubber-40a-1-1/8", "rubber-60a-1-1/8", "rubber-75a-1-1/8"} {
		for _, rubber := range []string{"", " + 3/4x1/16@1", " + 3/4x1/8@1", " + 3/4x1/8@1 + 1x1/8@1"} {
			for _, yarn := range []string{"", " + wool-medium", " + wool-fine*60", " + cotton-medium"} {
				b, err := strike.FromHead(build(t, cat, core+rubber+yarn))
				if err != nil {
					t.Fatal(err)
				}
				for i, d := range cat.Dynamics {
					p, err := strike.Full(&b, &ref, d.SpeedMS.Value)
					if err != nil {
						t.Fatal(err)
					}
					all[i]++
					if p.Beyond {
						marked[i]++
					}
				}
			}
		}
	}
	t.Logf("marked at p, mf, f and ff: %d of %d", marked, all)
	if marked[0] > 0 || marked[1]*20 > all[1] || marked[3] == 0 || marked[3]*3 > all[3] {
		t.Errorf("marked at p, mf, f and ff: %d of %d", marked, all)
	}
}

// Errors that two heads share cancel: what the model leaves open moves a head
// and the same with a thin slice more alike, so that they are told apart although
// that alone is more than half of what lies between them; two wools that differ by
// nothing but their tex are about the same.
func TestAboutSame(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	one := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	two := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium")
	if strike.AboutSame(one, two) {
		t.Errorf("%.2f ± %.2f and %.2f ± %.2f notches are called about the same", one.Softness, one.SoftnessTol, two.Softness, two.SoftnessTol)
	}
	if !strike.AboutSame(one, one) {
		t.Error("a head differs from itself")
	}
	light := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-light")
	if !strike.AboutSame(one, light) {
		t.Errorf("two wools: %.2f and %.2f notches are told apart", one.Softness, light.Softness)
	}
	for _, r := range []strike.Report{one, two} {
		if !(r.WithinTol > 0 && r.WithinTol < r.SoftnessTol) || len(r.Errors) < 5 {
			t.Errorf("%d errors, ± %.2f, within its kind ± %.2f", len(r.Errors), r.SoftnessTol, r.WithinTol)
		}
	}
	// Across kinds the model's doubt does not cancel.
	rubber := report(t, cat, "rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium")
	if a, b := modelApart(one, two), modelApart(one, rubber); a >= b {
		t.Errorf("the model leaves ± %.2f open within a kind, ± %.2f across", a, b)
	}
}

// modelApart is how far the model's doubt may move two heads apart.
func modelApart(a, b strike.Report) float64 {
	left := map[string]float64{}
	for _, e := range a.Errors {
		if e.Model {
			left[e.Part] += e.Softness
		}
	}
	for _, e := range b.Errors {
		if e.Model {
			left[e.Part] -= e.Softness
		}
	}
	sum := 0.0
	for _, x := range left {
		sum += x * x
	}
	return math.Sqrt(sum)
}

func TestBadSettings(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	h := build(t, cat, "poly-1 + wool-medium")
	for name, spoil := range map[string]func(*strike.Setting){
		"no dynamics": func(s *strike.Setting) { s.Dynamics = nil },
		"loud first":  func(s *strike.Setting) { s.Dynamics = slices.Clone(s.Dynamics); slices.Reverse(s.Dynamics) },
		"standstill": func(s *strike.Setting) {
			s.Dynamics = slices.Clone(s.Dynamics)
			s.Dynamics[0].SpeedMS.Value = 0
		},
		"no scale":    func(s *strike.Setting) { s.Scale = knowledge.Scale{} },
		"no bar mass": func(s *strike.Setting) { s.Instrument.BarMass = nil },
	} {
		set := setting(t, cat)
		spoil(&set)
		if _, err := strike.Of(h, set); err == nil {
			t.Errorf("%s: Of finds nothing wrong", name)
		}
	}
}

// Ordinary bare balls of xylophone and bells serve them from their lowest note, and
// hard ones to the highest; no note is said not to sound. Common practice, no source.
func TestBareBallsServe(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, kind := range []string{"xylophone", "bells"} {
		for _, inst := range cat.Instruments {
			if inst.Kind != kind {
				continue
			}
			set := setting(t, cat)
			set.Instrument = inst
			for s, top := range map[string]bool{
				"acetal-1": true, "acetal-3/4": true, "nylon-7/8": true, "phenolic-3/4": true, "pmma-3/4": true, "poly-1-1/8": true,
				"maple-1-1/8": true, "brass-5/8": true, "hard-rubber-70d-1": false, "rubber-90a-1": false, "rubber-75a-1-1/8": false,
			} {
				r, err := strike.Of(build(t, cat, s), set)
				if err != nil {
					t.Fatal(err)
				}
				if r.Low != inst.Low || top && r.High != inst.High || r.High <= r.Low {
					t.Errorf("%s on %s serves %v to %v of %v to %v", s, inst.ID, r.Low, r.High, inst.Low, inst.High)
				}
			}
		}
	}
}

// Every head serves a span of notes in its order, or none at all.
func TestServesEveryInstrument(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, inst := range cat.Instruments {
		set := setting(t, cat)
		set.Instrument = inst
		some := false
		for _, s := range []string{"acetal-1", "poly-1-1/8 + wool-medium", "poly-1-1/8 + 3/4x1/8@1 + wool-medium", "rubber-40a-1-1/4 + wool-heavy"} {
			r, err := strike.Of(build(t, cat, s), set)
			if err != nil {
				t.Fatal(err)
			}
			if (r.Low == 0) != (r.High == 0) || r.Low > r.High || r.Low != 0 && (r.Low < inst.Low || r.High > inst.High) {
				t.Errorf("%s on %s serves %d to %d", s, inst.ID, r.Low, r.High)
			}
			some = some || r.Low != 0
			if len(r.Registers) != 3 || r.Registers[0].Note >= r.Registers[2].Note {
				t.Errorf("registers %+v", r.Registers)
			}
		}
		if !some {
			t.Errorf("no head serves any note of %s", inst.ID)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	cat := knowledgetest.Catalogue(b)
	h, set := build(b, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-medium"), setting(b, cat)
	for b.Loop() {
		if _, err := strike.Of(h, set); err != nil {
			b.Fatal(err)
		}
	}
}

// Another slice softens, leaving one out hardens, and both by about what the
// heads with and without it show.
func TestMoreAndLess(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	one := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	two := report(t, cat, "poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium")
	if want := two.Softness - one.Softness; math.Abs(one.More-want) > 0.4 || math.Abs(two.Less-want) > 0.4 {
		t.Errorf("a second slice adds %.2f notches; said %.2f before and %.2f after", want, one.More, two.Less)
	}
	if r := report(t, cat, "rubber-60a-1-1/8"); r.More != 0 || r.Less != 0 {
		t.Errorf("no slices, but %.2f more and %.2f less", r.More, r.Less)
	}
}
