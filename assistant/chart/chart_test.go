package chart_test

import (
	"math"
	"strings"
	"testing"

	"mallow/assistant/chart"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/strike"
)

func shown(t *testing.T, name, text string) (chart.Maker, chart.Head) {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	s, err := head.Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	inst, _ := cat.Instrument("marimba-5")
	h := head.New(s, cat.Limits)
	r, err := strike.Of(h, strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale})
	if err != nil {
		t.Fatal(err)
	}
	return chart.New(cat), chart.Head{Name: name, Head: h, Report: r}
}

const plain = "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16"

// At mf a line stands at the head's softness; a head alone has lines one notch
// off on both sides, and the band of medium.
func TestOpening(t *testing.T) {
	m, h := shown(t, "mine", plain)
	p := m.Opening([]chart.Head{h})
	if len(p.Lines) != 3 || len(p.Bands) != 1 {
		t.Fatalf("%d lines, %d bands", len(p.Lines), len(p.Bands))
	}
	const mf = 1
	if got := p.Lines[0].Y[mf]; math.Abs(got-h.Report.Softness) > 0.01 {
		t.Errorf("at mf the line stands at %.2f, the head's softness is %.2f", got, h.Report.Softness)
	}
	for i := range p.Lines[0].Y {
		if d := p.Lines[1].Y[i] - p.Lines[2].Y[i]; math.Abs(d-2) > 1e-9 {
			t.Errorf("one notch softer and one harder are %.2f apart", d)
		}
	}
	if !strings.Contains(p.Desc, "mine goes from +2.6 at p") {
		t.Errorf("description without figures: %q", p.Desc)
	}
	if two := m.Opening([]chart.Head{h, h}); len(two.Lines) != 2 {
		t.Errorf("%d lines for two heads", len(two.Lines))
	}
}

// Both squeezes are on one scale, so that they can be compared by eye.
func TestSqueezesShareTheirScale(t *testing.T) {
	m, h := shown(t, "mine", plain)
	list, err := m.Strokes(h.Head, []string{"core", "rubber", "yarn"})
	if err != nil || len(list) != 3 {
		t.Fatalf("%d plots, %v", len(list), err)
	}
	if a, b := list[1], list[2]; a.Y.Max != b.Y.Max || a.X.Max != b.X.Max {
		t.Errorf("axes to %.2f and %.2f mm, %.2f and %.2f ms", a.Y.Max, b.Y.Max, a.X.Max, b.X.Max)
	}
}

// One head far off does not crush the rest of the plot, and is told.
func TestFieldKeepsOutliersAtTheEdge(t *testing.T) {
	m, h := shown(t, "chosen", plain)
	var pool [][2]float64
	for i := range 20 {
		pool = append(pool, [2]float64{20 + float64(i)/5, float64(i)/10 - 1})
	}
	near := m.Field(h, nil, pool)
	far := m.Field(h, nil, append(pool, [2]float64{400, 60}))
	if near.X.Max != far.X.Max || near.Y.Max != far.Y.Max {
		t.Errorf("axes end at %.1f g, %.1f notches; with an outlier at %.1f, %.1f", near.X.Max, near.Y.Max, far.X.Max, far.Y.Max)
	}
	if !strings.Contains(far.Desc, "1 of them lie past the edge") {
		t.Errorf("the outlier is not told: %q", far.Desc)
	}
}

// A set's picture says its gaps, even or not.
func TestLadder(t *testing.T) {
	m, a := shown(t, "1", plain)
	_, b := shown(t, "2", "poly-1-1/8-drilled + 3/4x1/8 + 1x1/8 + acrylic-heavy + birch-16")
	list := m.Ladder([]chart.Head{a, b})
	if len(list) != 3 || !strings.Contains(list[1].Desc, "From one to the next it is +") {
		t.Errorf("%d plots, mass: %q", len(list), list[1].Desc)
	}
}

func TestSmallPictures(t *testing.T) {
	m, a := shown(t, "A", plain)
	_, b := shown(t, "B", "maple-1 + 3/4x1/16 + wool-medium")
	for _, width := range []int{40, 80} {
		ladder, reach := m.Rows([]chart.Head{a, b}, width), m.Reach([]chart.Head{a, b}, width)
		for _, l := range append(ladder.Lines, reach.Lines...) {
			if len(l) > width {
				t.Errorf("width %d: %q", width, l)
			}
		}
		if strings.Index(ladder.Lines[0], "#") <= strings.Index(ladder.Lines[1], "#") {
			t.Errorf("the softer head stands no farther right:\n%s", strings.Join(ladder.Lines, "\n"))
		}
		if !strings.Contains(reach.Alt, "at ff") || !strings.Contains(ladder.Alt, "notches") {
			t.Errorf("in words: %q, %q", ladder.Alt, reach.Alt)
		}
	}
}
