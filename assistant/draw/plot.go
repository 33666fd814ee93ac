package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"
)

// Plot is lines and marks against two axes.
type Plot struct {
	Title string
	Desc  string // what it shows, in words
	X, Y  Axis
	Lines []Line // drawn in order, later ones over earlier ones
	Notes []Label
}

// Axis is a scale with its unit in the title.
type Axis struct {
	Title    string
	Min, Max float64
	Ticks    []Tick
}

// Tick is a labelled place on an axis.
type Tick struct {
	At   float64
	Text string
}

// Line is a run of places on a plot. An empty Name keeps it out of the key.
type Line struct {
	Name string
	X, Y []float64
	Look Look
}

// Label is text at a place on a plot.
type Label struct {
	X, Y float64
	Text string
}

// Look is how a line is drawn. The looks differ in black and white.
type Look int

// Looks.
const (
	Solid  Look = iota
	Dashed      // long dashes
	Dotted      // short ones
	Mixed       // dash and dot
	Fine        // thin and unbroken
	Far         // long dashes far apart
	Bold        // thick and unbroken: the one that matters
	Small       // small marks, no line
	Large       // large marks, no line
	Area1       // filled down to the axis, palest to darkest
	Area2
	Area3
	Area4
	Area5
	Area6
)

// LineLook is the look of the i-th of several lines, from 0.
func LineLook(i int) Look { return []Look{Solid, Dashed, Dotted, Mixed, Fine, Far}[i%6] }

// AreaLook is the look of the i-th of several areas, from 0.
func AreaLook(i int) Look { return []Look{Area6, Area5, Area4, Area3, Area2, Area1}[i%6] }

func (l Look) style() chartdraw.Style {
	black, grey := drawing.Color{A: 255}, drawing.Color{R: 140, G: 140, B: 140, A: 255}
	s := chartdraw.Style{StrokeColor: black, StrokeWidth: 1.6}
	switch l {
	case Dashed:
		s.StrokeDashArray = []float64{9, 4}
	case Dotted:
		s.StrokeDashArray = []float64{2, 3}
	case Mixed:
		s.StrokeDashArray = []float64{9, 3, 2, 3}
	case Fine:
		s.StrokeWidth = 0.6
	case Far:
		s.StrokeDashArray = []float64{16, 8}
	case Bold:
		s.StrokeWidth = 3
	case Small:
		s.StrokeWidth, s.DotWidth, s.DotColor = chartdraw.Disabled, 1.8, grey
	case Large:
		s.StrokeWidth, s.DotWidth, s.DotColor = chartdraw.Disabled, 5.5, black
	case Area1, Area2, Area3, Area4, Area5, Area6:
		level := uint8(240 - 34*int(l-Area1))
		s.StrokeWidth, s.FillColor = 0.8, drawing.Color{R: level, G: level, B: level, A: 255}
	}
	return s
}

// NewAxis returns an axis that holds values, with about five round ticks.
func NewAxis(title string, values ...float64) Axis {
	low, high := bounds(values)
	pad := cmp.Or((high-low)*0.06, math.Abs(high)*0.1, 1)
	low, high = low-pad, high+pad
	step := roundStep((high - low) / 5)
	a := Axis{Title: title, Min: low, Max: high}
	for k := math.Ceil(low / step); k*step <= high; k++ {
		a.Ticks = append(a.Ticks, Tick{k * step, num(k * step)})
	}
	return a
}

// From0 returns an axis from zero up to values.
func From0(title string, values ...float64) Axis {
	a := NewAxis(title, append(values, 0)...)
	a.Min = 0
	a.Ticks = slices.DeleteFunc(a.Ticks, func(t Tick) bool { return t.At < 0 })
	return a
}

// OctaveAxis returns an axis of frequencies on which an octave is 1: places
// on it are log₂ of the frequency in hertz.
func OctaveAxis(title string, hz ...float64) Axis {
	low, high := bounds(hz)
	low, high = math.Log2(max(low, 1))-0.1, math.Log2(max(high, 1))+0.1
	a := Axis{Title: title, Min: low, Max: high}
	for decade := 1.0; decade < 1e6; decade *= 10 {
		for _, k := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
			if at := math.Log2(k * decade); at >= low && at <= high {
				a.Ticks = append(a.Ticks, Tick{at, num(k * decade)})
			}
		}
	}
	return a
}

func bounds(values []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			low, high = min(low, v), max(high, v)
		}
	}
	if low > high {
		return 0, 1
	}
	return low, high
}

// roundStep returns 1, 2 or 5 times a power of ten, at least about v.
func roundStep(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 2, 5} {
		if k*unit >= v*0.999 {
			return k * unit
		}
	}
	return 10 * unit
}

// SVG returns the plot. The id must be unique on the page.
func (p Plot) SVG(id string) (string, error) {
	const width, height = 560, 360
	text := chartdraw.FontStyle{FontSize: 11, FontColor: drawing.Color{A: 255}}
	axis := chartdraw.Style{FontStyle: text, StrokeColor: drawing.Color{A: 255}, StrokeWidth: 1}
	grid := chartdraw.Style{StrokeColor: drawing.Color{R: 215, G: 215, B: 215, A: 255}, StrokeWidth: 0.7}
	ticks := func(a Axis) []chartdraw.Tick {
		// The library takes the ends of the axis from the outer ticks.
		list := []chartdraw.Tick{{Value: a.Min}}
		for _, t := range a.Ticks {
			list = append(list, chartdraw.Tick{Value: t.At, Label: strings.ReplaceAll(t.Text, "-", "−")})
		}
		return append(list, chartdraw.Tick{Value: a.Max})
	}
	lines := func(a Axis) []chartdraw.GridLine {
		var list []chartdraw.GridLine
		for _, t := range a.Ticks {
			list = append(list, chartdraw.GridLine{Value: t.At, Style: grid})
		}
		return list
	}
	c := chartdraw.Chart{
		Width: width, Height: height,
		Background: chartdraw.Style{Padding: chartdraw.Box{Top: 36, Left: 34, Right: 28, Bottom: 10, IsSet: true}},
		XAxis: chartdraw.XAxis{Name: p.X.Title, NameStyle: axis, Style: axis, Ticks: ticks(p.X), GridLines: lines(p.X),
			GridMajorStyle: grid, Range: &chartdraw.ContinuousRange{Min: p.X.Min, Max: p.X.Max}},
		YAxis: chartdraw.YAxis{AxisType: chartdraw.YAxisSecondary, Style: axis,
			Ticks: ticks(p.Y), GridLines: lines(p.Y), GridMajorStyle: grid,
			Range: &chartdraw.ContinuousRange{Min: p.Y.Min, Max: p.Y.Max}},
		YAxisSecondary: chartdraw.YAxis{Style: chartdraw.Hidden()},
	}
	for _, l := range p.Lines {
		c.Series = append(c.Series, chartdraw.ContinuousSeries{Name: l.Name, XValues: l.X, YValues: l.Y, Style: l.Look.style()})
	}
	if len(p.Notes) > 0 {
		notes := chartdraw.AnnotationSeries{Style: chartdraw.Style{FontStyle: text, FillColor: drawing.Color{R: 255, G: 255, B: 255, A: 255},
			StrokeColor: drawing.Color{A: 255}, StrokeWidth: 0.8}}
		for _, n := range p.Notes {
			notes.Annotations = append(notes.Annotations, chartdraw.Value2{XValue: n.X, YValue: n.Y, Label: n.Text})
		}
		c.Series = append(c.Series, notes)
	}
	var b bytes.Buffer
	if err := c.Render(chartdraw.SVG, &b); err != nil {
		return "", fmt.Errorf("plot %q: %w", p.Title, err)
	}
	// The library's own root element has no title, size or role.
	_, inside, ok := strings.Cut(b.String(), ">")
	inside, closed := strings.CutSuffix(strings.TrimSpace(inside), "</svg>")
	if !ok || !closed {
		return "", fmt.Errorf("plot %q: the plotting library wrote no SVG", p.Title)
	}
	const px = 25.4 / 96 // millimetres
	frame := newCanvas(id, p.Title, p.Desc, 0, 0, width, height, px)
	frame.b.WriteString(inside)
	// Its axis title would run into wide tick labels, and its key has no room
	// for marks and areas.
	frame.text(0, 0, "middle", p.Y.Title, "font-size", "14.5", "transform", "translate(18 "+num(height/2)+") rotate(-90)")
	p.key(frame)
	return frame.done(), nil
}

// key names the lines above the plot.
func (p Plot) key(c *canvas) {
	x := 60.0
	for _, l := range p.Lines {
		if l.Name == "" {
			continue
		}
		s := l.Look.style()
		switch {
		case l.Look >= Area1:
			c.empty("rect", "x", num(x), "y", "9", "width", "24", "height", "12", "fill", s.FillColor.String(), "stroke", "#000", "stroke-width", "0.8")
		case s.DotWidth > 0:
			c.empty("circle", "cx", num(x+12), "cy", "15", "r", num(s.DotWidth), "fill", s.DotColor.String())
		default:
			var dash []string
			for _, d := range s.StrokeDashArray {
				dash = append(dash, num(d))
			}
			c.line(x, 15, x+24, 15, "stroke", "#000", "stroke-width", num(s.StrokeWidth), "stroke-dasharray", cmp.Or(strings.Join(dash, " "), "none"))
		}
		c.text(x+29, 20, "start", l.Name, "font-size", "14")
		x += 29 + 7.2*float64(len([]rune(l.Name))) + 18 // about the width of the name
	}
}
