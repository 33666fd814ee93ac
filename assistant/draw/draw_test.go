package draw_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"mallow/assistant/draw"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func section(t testing.TB, text string) draw.Section {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	s, err := head.Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	return draw.NewSection(head.New(s, cat.Limits), &cat.Limits)
}

// element is one SVG element with what it needs for measuring.
type element struct {
	name  string
	attrs map[string]string
	text  string
	in    []string // classes of the elements around it
}

func (e element) num(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(e.attrs[name], "mm"), 64)
	if err != nil {
		t.Fatalf("<%s %s=%q>: %v", e.name, name, e.attrs[name], err)
	}
	return v
}

func (e element) is(class string) bool {
	return slices.Contains(strings.Fields(e.attrs["class"]), class) || slices.Contains(e.in, class)
}

// parse reads an SVG strictly.
func parse(t *testing.T, svg string) []element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	d.Strict = true
	var all []element
	var open []int
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attrs: map[string]string{}}
			for _, a := range x.Attr {
				if _, twice := e.attrs[a.Name.Local]; twice {
					t.Fatalf("<%s> has %s twice", e.name, a.Name.Local)
				}
				e.attrs[a.Name.Local] = a.Value
			}
			for _, i := range open {
				e.in = append(e.in, strings.Fields(all[i].attrs["class"])...)
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(x)
			}
		}
	}
	return all
}

// box is the extent of path data made of M, L and Z.
func box(t *testing.T, data string) (left, top, right, bottom float64) {
	t.Helper()
	left, top, right, bottom = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	f := strings.Fields(strings.NewReplacer("M", "", "L", "", "Z", "").Replace(data))
	for i := 0; i+1 < len(f); i += 2 {
		x, errX := strconv.ParseFloat(f[i], 64)
		y, errY := strconv.ParseFloat(f[i+1], 64)
		if err := errors.Join(errX, errY); err != nil {
			t.Fatal(err)
		}
		left, right, top, bottom = min(left, x), max(right, x), min(top, y), max(bottom, y)
	}
	return left, top, right, bottom
}

var stacks = map[string]string{
	"one layer":                 "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16",
	"two layers":                "rubber-50a-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium",
	"too long":                  "poly-1-1/8 + 3/4x1/8@1-3/4 + wool-medium*140",
	"slack":                     "poly-1-1/8 + 1-1/4x1/8@1 + birch-16",
	"bare":                      "poly-1",
	"longer than the one below": "poly-1 + 5/8x1/8@3/4 + 3/4x1/8@1-3/8",
}

// What is drawn is what was computed: diameters and heights, measured off the
// SVG in millimetres, against head's.
func TestSVGDimensions(t *testing.T) {
	for name, text := range stacks {
		t.Run(name, func(t *testing.T) {
			s := section(t, text)
			all := parse(t, s.SVG("x", 2))
			near := func(what string, got, want float64) {
				t.Helper()
				if math.Abs(got-want) > 0.002 { // the SVG is rounded to a thousandth
					t.Errorf("%s drawn %.3f mm, computed %.3f mm", what, got, want)
				}
			}
			h := s.Head
			bore := h.Stack.Core.Bore
			if h.Stack.Shaft != nil {
				bore = max(bore, h.Stack.Shaft.Diameter)
			}
			seen := map[string]int{}
			for _, e := range all {
				switch {
				case e.name == "circle" && e.is("core"):
					near("core", 2*e.num(t, "r"), h.Stack.Core.Diameter.MM())
					seen["core"]++
				case e.name == "path" && e.is("yarn"):
					l, _, r, _ := box(t, e.attrs["d"])
					near("head", r-l, h.Diameter.MM())
					seen["yarn"]++
				case e.name == "path" && e.is("layer"):
					i := slices.IndexFunc(h.Layers, func(head.Layer) bool { return true })
					for j := range h.Layers {
						if e.is(fmt.Sprintf("layer-%d", j+1)) {
							i = j
						}
					}
					l, top, r, bottom := box(t, e.attrs["d"])
					near(fmt.Sprintf("over layer %d", i+1), 2*max(r, -l), h.Layers[i].Outer.MM())
					near(fmt.Sprintf("height of layer %d", i+1), bottom-top, h.Layers[i].Span.MM())
					seen["layer"]++
				case e.name == "rect" && e.is("bore"):
					near("bore", e.num(t, "width"), bore.MM())
					seen["bore"]++
				case e.name == "line" && e.is("measure"):
					width := e.num(t, "x2") - e.num(t, "x1")
					for i, l := range h.Layers {
						if e.is(fmt.Sprintf("layer-%d-diameter", i+1)) {
							near("measure over a layer", width, l.Outer.MM())
							seen["measure"]++
						}
					}
					if e.is("core-diameter") {
						near("measure of the core", width, h.Stack.Core.Diameter.MM())
					}
					if e.is("head-diameter") {
						near("measure of the head", width, h.Diameter.MM())
					}
				}
			}
			want := map[string]int{"core": 1}
			if n := len(h.Layers); n > 0 {
				want["layer"], want["measure"] = 2*n, n // both sides of the cut
			}
			if h.YarnWall > 0 {
				want["yarn"] = 1
			}
			if bore > 0 {
				want["bore"] = 1
			}
			if d := cmp.Diff(want, seen); d != "" {
				t.Errorf("parts drawn (-want +got):\n%s", d)
			}
			svg := all[0]
			if got, want := svg.num(t, "width"), 2*parseBox(t, svg)[2]; math.Abs(got-want) > 0.01 {
				t.Errorf("at 2 : 1 the picture is %.2f mm wide, its contents %.2f", got, want)
			}
		})
	}
}

func parseBox(t *testing.T, svg element) [4]float64 {
	t.Helper()
	var b [4]float64
	for i, f := range strings.Fields(svg.attrs["viewBox"]) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		b[i] = v
	}
	return b
}

// A slack slice stands off the ball, an overlong one has ends that stand
// straight out and are marked, a good one touches all the way.
func TestSlackLooksSlack(t *testing.T) {
	gap := func(s draw.Section, z float64) float64 {
		p := s.Layers[0].Inner
		i := slices.IndexFunc(p, func(q draw.Point) bool { return q.Z >= z })
		return p[i].R - math.Sqrt(max(0, s.CoreR*s.CoreR-p[i].Z*p[i].Z))
	}
	marks := func(s draw.Section) int {
		n := 0
		for _, e := range parse(t, s.SVG("x", 1)) {
			if e.is("slack") {
				n++
			}
		}
		return n
	}
	good := section(t, stacks["one layer"])
	if g := gap(good, 0); math.Abs(g) > 1e-6 || marks(good) != 0 {
		t.Errorf("a good slice: gap %g m at the equator, %d slack marks", g, marks(good))
	}
	slack := section(t, stacks["slack"])
	if g, want := gap(slack, 0), (1.25-1.125)/2*0.0254; math.Abs(g-want) > 1e-6 || marks(slack) == 0 {
		t.Errorf("a slack slice: gap %g m, want %g; %d slack marks", g, want, marks(slack))
	}
	long := section(t, stacks["too long"])
	p := long.Layers[0]
	if p.Slack() < 0.002 || marks(long) != 4 {
		t.Errorf("an overlong slice hangs loose by %g m with %d marks, want 4", p.Slack(), marks(long))
	}
	if end := p.Inner[len(p.Inner)-1]; math.Abs(end.R-0.75*0.0254/2) > 1e-6 {
		t.Errorf("the loose end has a radius of %g m inside, its bore is %g", end.R, 0.75*0.0254/2)
	}
}

// A picture has a name and a description for those who can't see it, no
// script and nothing to fetch.
func TestSVGStandsAlone(t *testing.T) {
	s := section(t, stacks["two layers"])
	s.Head.Stack.Material.Name = `<script>alert("x")</script> & ]]> \x00`
	pages := []string{s.SVG("x", 2)}
	for _, t := range draw.Templates("t", s) {
		pages = append(pages, t.SVG)
	}
	for _, svg := range pages {
		all := parse(t, svg)
		if all[0].attrs["role"] != "img" || all[0].attrs["aria-labelledby"] == "" {
			t.Error("the picture has no name for a screen reader")
		}
		ids := map[string]bool{}
		for _, e := range all {
			if id := e.attrs["id"]; id != "" {
				if ids[id] {
					t.Errorf("id %q twice", id)
				}
				ids[id] = true
			}
			if e.name == "script" || e.name == "image" || e.name == "use" || e.name == "style" || e.name == "foreignObject" {
				t.Errorf("<%s> in a picture", e.name)
			}
			for name, value := range e.attrs {
				if strings.Contains(value, "://") && name != "xmlns" || strings.HasPrefix(name, "on") {
					t.Errorf("<%s %s=%q>", e.name, name, value)
				}
			}
		}
		for id := range strings.FieldsSeq(all[0].attrs["aria-labelledby"]) {
			if !ids[id] {
				t.Errorf("no element %q to name the picture", id)
			}
		}
	}
}

// No text of a picture is under 8 pt on paper: a plot is printed on half an A4 page
// but for its margins, a drawing of the work 34 mm wide, the rest at the size it says.
func TestPrintIsReadable(t *testing.T) {
	const column, beside = (210 - 2*10 - 6) / 2, 34.0 // mm, as the style sheet has it
	s := section(t, stacks["two layers"])
	pictures := map[string]float64{s.SVG("s", 1): 0, s.SVG("l", 2): 0} // to the width it is printed at; 0 for its own
	for _, page := range draw.Templates("t", s) {
		pictures[page.SVG] = 0
	}
	for _, step := range []string{"drill-core", "pull-slice", "centre-slice", "wrap-first", "wrap-second", "crown-stitch", "finish-yarn", "pull-test", "squeeze-test"} {
		p, ok := draw.Work(step, step, s, draw.Trials{PullKg: 2.5, SqueezeMM: 1.5, SqueezeKg: 12.5})
		if !ok {
			t.Errorf("%s has no picture", step)
		}
		pictures[p.SVG] = beside
	}
	plot, err := draw.Plot{Title: "plot", X: draw.NewAxis("mass, g", 20, 35), Y: draw.NewAxis("size, mm", 20, 35),
		Lines: []draw.Line{{Name: "one", X: []float64{20, 35}, Y: []float64{20, 30}}, {Name: "area", X: []float64{20, 35}, Y: []float64{20, 30}, Look: draw.Area1}}}.SVG("p")
	if err != nil {
		t.Fatal(err)
	}
	bars, err := draw.Bars{Title: "bars", Rows: []draw.Bar{{Name: "A", Value: 3, Text: "3 g"}}}.SVG("b")
	if err != nil {
		t.Fatal(err)
	}
	pictures[plot], pictures[bars] = column, column
	for svg, width := range pictures {
		all := parse(t, svg)
		own := all[0].num(t, "width")
		if width == 0 {
			width = own
		}
		usual, scale := all[0].num(t, "font-size"), width/parseBox(t, all[0])[2]
		for _, e := range all {
			if e.name != "text" {
				continue
			}
			size := usual
			if e.attrs["font-size"] != "" {
				size = e.num(t, "font-size")
			}
			if pt := size * scale * 72 / 25.4; pt < 8 {
				t.Errorf("%q is printed at %.1f pt", e.text, pt)
			}
		}
	}
}

// The templates are full size: strips as long as the cut and once round the
// tubing, arms of the drilling guide half round the ball, a ruler of 150 mm
// and 6 in.
func TestTemplates(t *testing.T) {
	s := section(t, stacks["one layer"])
	l := s.Head.Layers[0]
	seen := 0
	near := func(what string, got, want float64) {
		t.Helper()
		seen++
		if math.Abs(got-want) > 0.002 {
			t.Errorf("%s is %.3f mm, want %.3f", what, got, want)
		}
	}
	for _, page := range draw.Templates("t", s) {
		all := parse(t, page.SVG)
		near("a millimetre", all[0].num(t, "width")/parseBox(t, all[0])[2], 1)
		if w, h := all[0].num(t, "width"), all[0].num(t, "height"); w > draw.PageWidth || h > draw.PageHeight+1 {
			t.Errorf("a page of %g × %g mm", w, h)
		}
		for _, e := range all {
			switch {
			case e.is("ruler-mm"):
				near("the ruler in millimetres", e.num(t, "x2")-e.num(t, "x1"), 150)
			case e.is("ruler-in"):
				near("the ruler in inches", e.num(t, "x2")-e.num(t, "x1"), 152.4)
			case e.is("strip"):
				near("the strip's height", e.num(t, "height"), l.Cut.MM())
				near("the strip's length", e.num(t, "width"), math.Pi*(0.75+2*0.125)*25.4)
			case e.is("drill-axis"):
				near("the drilling guide from tip to tip", e.num(t, "x2")-e.num(t, "x1"), math.Pi*1.125*25.4)
			case e.is("gauge-bore"):
				near("the bore", e.num(t, "width"), 5.0/16*25.4)
			case e.is("gauge-core"):
				near("the core", 2*e.num(t, "r"), 1.125*25.4)
			}
		}
	}
	if seen != 11 {
		t.Errorf("%d sizes checked, want 11", seen)
	}
}

func TestRowsGolden(t *testing.T) {
	for name, text := range stacks {
		t.Run(name, func(t *testing.T) {
			s := section(t, text)
			got := text + "\n\n" + strings.Join(s.Rows(51), "\n") + "\n\n" + strings.Join(s.List(), "\n") + "\n"
			path := filepath.Join("testdata", strings.ReplaceAll(name, " ", "-")+".txt")
			if *update {
				if err := os.MkdirAll("testdata", 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), got); d != "" {
				t.Errorf("drawing differs (-want +got); run with -update if it should:\n%s", d)
			}
		})
	}
}

// Any stack that parses can be drawn: no panic, well-formed, every layer outside
// what it lies on, rows within their width.
func TestAnyStack(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.SampledFrom(cat.Cores).Draw(r, "core").ID
		for range rapid.IntRange(0, 4).Draw(r, "layers") {
			text += " + " + rapid.SampledFrom(cat.Tubing).Draw(r, "tube").ID
			if rapid.Bool().Draw(r, "cut") {
				text += fmt.Sprintf("@%dmm", rapid.IntRange(3, 90).Draw(r, "mm"))
			}
		}
		if rapid.Bool().Draw(r, "wrapped") {
			text += " + " + rapid.SampledFrom(cat.Yarns).Draw(r, "yarn").ID
		}
		st, err := head.Parse(cat, text)
		if err != nil {
			r.Skip(err)
		}
		s := draw.NewSection(head.New(st, cat.Limits), &cat.Limits)
		d := xml.NewDecoder(strings.NewReader(s.SVG("x", 2)))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				r.Fatalf("%s: %v", text, err)
			}
		}
		if strings.Contains(s.SVG("x", 2), "NaN") || strings.Contains(s.SVG("x", 2), "Inf") {
			r.Fatalf("%s: a number is missing", text)
		}
		for i, l := range s.Layers {
			for j := range l.Inner {
				if l.Outer[j].R <= l.Inner[j].R {
					r.Fatalf("%s: layer %d has no wall at %g", text, i+1, l.Inner[j].Z)
				}
				if in := math.Hypot(l.Inner[j].R, l.Inner[j].Z); in < s.CoreR-2e-6 { // the ball is drawn as a polygon
					r.Fatalf("%s: layer %d runs through the core", text, i+1)
				}
			}
		}
		for _, row := range s.Rows(51) {
			if len(row) > 51 {
				r.Fatalf("%s: a row of %d", text, len(row))
			}
		}
	})
}

func ExampleSection_List() {
	cat, err := knowledge.Default()
	if err != nil {
		panic(err)
	}
	s, err := head.Parse(cat, "poly-1-1/8 + 3/4x1/8@1")
	if err != nil {
		panic(err)
	}
	for _, line := range draw.NewSection(head.New(s, cat.Limits), &cat.Limits).List() {
		fmt.Println(line)
	}
	// Output:
	// Core: 1 1/8 in (29 mm) across.
	// Layer 1: a slice cut 1 in (25 mm) long, 20.5 mm high once it is on; wall 2.62 mm, stretched from 3.18 mm; 1 5/16 in (34 mm) over it.
}
