package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"mallow/assistant/draw"
)

func TestPlot(t *testing.T) {
	p := draw.Plot{
		Title: "A <plot> & more", Desc: `say "what"`,
		X: draw.NewAxis("mass, g", 20, 35), Y: draw.OctaveAxis("cut-off, Hz", 430, 1300),
		Lines: []draw.Line{
			{Name: "one & <two>", X: []float64{20, 30, 35}, Y: []float64{9, 9.5, 10}, Look: draw.Dashed},
			{Name: "marks", X: []float64{25}, Y: []float64{9.2}, Look: draw.Large},
			{X: []float64{22}, Y: []float64{9.2}, Look: draw.Small},
		},
		Notes: []draw.Label{{X: 25, Y: 9.2, Text: "</svg><script>"}},
	}
	svg, err := p.SVG("p")
	if err != nil {
		t.Fatal(err)
	}
	all := parse(t, svg)
	texts := map[string]bool{}
	for _, e := range all {
		texts[strings.TrimSpace(e.text)] = true
		if e.name == "script" {
			t.Error("a script in the plot")
		}
	}
	for _, want := range []string{"A <plot> & more", "mass, g", "cut-off, Hz", "one & <two>", "marks", "</svg><script>", "20", "25", "500", "1000"} {
		if !texts[want] {
			t.Errorf("no text %q in the plot", want)
		}
	}
	if all[0].attrs["role"] != "img" {
		t.Error("the plot has no name for a screen reader")
	}
	if _, err := (draw.Plot{Title: "empty"}).SVG("p"); err == nil {
		t.Error("an empty plot is drawn")
	}
}

func TestAxes(t *testing.T) {
	for _, test := range []struct {
		name string
		axis draw.Axis
		want string
	}{
		{"round steps", draw.NewAxis("", 22, 38), "25 30 35"},
		{"across zero", draw.NewAxis("", -6.8, 2.1), "-6 -4 -2 0 2"},
		{"one value", draw.NewAxis("", 30), "28 30 32"},
		{"nothing", draw.NewAxis(""), "0 0.5 1"},
		{"from zero", draw.From0("", 0, 3.1), "0 1 2 3"},
		{"octaves", draw.OctaveAxis("", 430, 1300), "500 600 800 1000"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var got []string
			last := test.axis.Min - 1
			for _, tick := range test.axis.Ticks {
				got = append(got, tick.Text)
				if tick.At < test.axis.Min || tick.At > test.axis.Max || tick.At <= last {
					t.Errorf("tick %v on an axis from %g to %g", tick, test.axis.Min, test.axis.Max)
				}
				last = tick.At
			}
			if s := strings.Join(got, " "); s != test.want {
				t.Errorf("ticks %s, want %s", s, test.want)
			}
		})
	}
}

// Values that are one but for rounding have an axis like one value, and no
// ticks without end.
func TestAxisOfOneValue(t *testing.T) {
	for _, v := range []float64{21, -0.8, 1e6, 1e-6} {
		one, near := draw.NewAxis("g", v), draw.NewAxis("g", v, math.Nextafter(v, math.Inf(1)))
		if len(near.Ticks) < 2 || len(near.Ticks) > 12 || len(near.Ticks) != len(one.Ticks) {
			t.Errorf("%g: %d ticks, %d for the one value", v, len(near.Ticks), len(one.Ticks))
		}
	}
}

// Looks of one kind differ without colour.
func TestLooksDiffer(t *testing.T) {
	seen := map[string]int{}
	for i := range 6 {
		p := draw.Plot{Title: "t", X: draw.From0("x", 1), Y: draw.From0("y", 1),
			Lines: []draw.Line{{Name: "n", X: []float64{0, 1}, Y: []float64{0, 1}, Look: draw.LineLook(i)}}}
		svg, err := p.SVG("p")
		if err != nil {
			t.Fatal(err)
		}
		if j, ok := seen[svg]; ok {
			t.Errorf("lines %d and %d look the same", i, j)
		}
		seen[svg] = i
	}
}

func ExampleNewAxis() {
	for _, t := range draw.NewAxis("mass, g", 22, 38).Ticks {
		fmt.Println(t.Text)
	}
	// Output:
	// 25
	// 30
	// 35
}
