package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Plot is lines and marks against two axes.
type Plot struct {
	Title string
	Desc  string // what it shows, in words
	X, Y  Axis
	Lines []Line // drawn in order, later ones over earlier ones
	Notes []Label
	Bands []Band
}

// Band is a stretch of the vertical axis with a name.
type Band struct {
	From, To float64
	Text     string
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

// ink is how a look is put on paper. Lengths are units of the plot.
type ink struct {
	width float64 // of the line; 0 for none
	dash  string
	dot   float64 // radius of its marks; 0 for none
	fill  string  // of the marks, or of the area
	area  bool
}

func (l Look) ink() ink {
	switch l {
	case Dashed:
		return ink{width: 1.6, dash: "9 4"}
	case Dotted:
		return ink{width: 1.8, dash: "2 3"}
	case Mixed:
		return ink{width: 1.6, dash: "9 3 2 3"}
	case Fine:
		return ink{width: 0.7}
	case Far:
		return ink{width: 1.6, dash: "16 8"}
	case Bold:
		return ink{width: 3}
	case Small:
		return ink{dot: 1.8, fill: "#8c8c8c"}
	case Large:
		return ink{dot: 5, fill: "#000"}
	case Area1, Area2, Area3, Area4, Area5, Area6:
		level := 240 - 34*int(l-Area1)
		return ink{width: 0.8, fill: fmt.Sprintf("#%02x%02x%02x", level, level, level), area: true}
	}
	return ink{width: 1.6}
}

// NewAxis returns an axis that holds values, with about five round ticks.
func NewAxis(title string, values ...float64) Axis {
	low, high := bounds(values)
	span := high - low
	if span <= 1e-9*max(math.Abs(low), math.Abs(high)) { // one value, but for rounding
		span = 0
	}
	pad := cmp.Or(span*0.06, math.Abs(high)*0.1, 1)
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

// The frame of a plot, in its own units, of which there are perMM to a
// millimetre of paper.
const (
	plotWidth, plotHeight = 460.0, 246.0
	plotLeft, plotBottom  = 62.0, 46.0
	plotFont, smallFont   = 15.0, 14.5 // 8 pt and more where two plots stand side by side on paper
	perMM                 = 96 / 25.4
	lead                  = 14.0 // from the frame to the names at its right
)

// SVG returns the plot. The id must be unique on the page. Lines and notes
// are named in the margin at the right, each at the height where it ends or
// stands, with a thin line to it; areas and marks are named above.
func (p Plot) SVG(id string) (string, error) {
	if len(p.Lines) == 0 || !(p.X.Max > p.X.Min) || !(p.Y.Max > p.Y.Min) {
		return "", fmt.Errorf("plot %q: there is nothing to draw", p.Title)
	}
	keys := p.keys()
	f := frame{Plot: p, top: 10 + 20*float64(len(keys)), right: plotWidth - 12, bottom: plotHeight - plotBottom}
	names := p.names()
	widest := 0.0
	for _, n := range names {
		widest = max(widest, textWidth(n.Text, smallFont))
	}
	for _, b := range p.Bands {
		widest = max(widest, textWidth(b.Text, smallFont))
	}
	if widest > 0 {
		f.right = plotWidth - lead - widest - 4
	}
	f.c = newCanvas(id, p.Title, p.Desc, 0, 0, plotWidth, plotHeight, 1/perMM)
	f.axes()
	f.c.start("g", "class", "lines")
	for _, l := range p.Lines {
		f.line(l)
	}
	f.c.end()
	f.name(names)
	f.key(keys)
	return f.c.done(), nil
}

// frame is a plot being drawn.
type frame struct {
	Plot
	c                  *canvas
	top, right, bottom float64
}

func (f *frame) x(v float64) float64 {
	return plotLeft + (f.right-plotLeft)*(v-f.X.Min)/(f.X.Max-f.X.Min)
}

func (f *frame) y(v float64) float64 {
	return f.bottom - (f.bottom-f.top)*(v-f.Y.Min)/(f.Y.Max-f.Y.Min)
}

// axes draws bands, grid and scales.
func (f *frame) axes() {
	size := num(plotFont)
	for _, b := range f.Bands {
		from, to := max(b.From, f.Y.Min), min(b.To, f.Y.Max)
		if from < to {
			f.c.empty("rect", "class", "band", "x", num(plotLeft), "y", num(f.y(to)), "width", num(f.right-plotLeft), "height", num(f.y(from)-f.y(to)), "fill", "#ececec")
		}
	}
	f.c.start("g", "stroke", "#d4d4d4", "stroke-width", "0.7")
	for _, t := range f.X.Ticks {
		f.c.line(f.x(t.At), f.top, f.x(t.At), f.bottom, "class", "grid")
	}
	for _, t := range f.Y.Ticks {
		f.c.line(plotLeft, f.y(t.At), f.right, f.y(t.At), "class", "grid")
	}
	f.c.end()
	for _, t := range f.X.Ticks {
		f.c.text(f.x(t.At), f.bottom+17, "middle", minus(t.Text), "font-size", size)
	}
	for _, t := range f.Y.Ticks {
		f.c.text(plotLeft-6, f.y(t.At)+5, "end", minus(t.Text), "font-size", size)
	}
	f.c.empty("rect", "class", "frame", "x", num(plotLeft), "y", num(f.top), "width", num(f.right-plotLeft), "height", num(f.bottom-f.top), "fill", "none", "stroke", "#000", "stroke-width", "1")
	f.c.text((plotLeft+f.right)/2, plotHeight-8, "middle", f.X.Title, "font-size", size)
	f.c.text(0, 0, "middle", f.Y.Title, "font-size", size, "transform", "translate(15 "+num((f.top+f.bottom)/2)+") rotate(-90)")
}

// minus writes a number with the sign that print has for it.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// line draws one line, area or cloud of marks, as far as it lies within the
// frame.
func (f *frame) line(l Line) {
	var pts []xy
	for i := range min(len(l.X), len(l.Y)) {
		pts = append(pts, xy{f.x(min(max(l.X[i], f.X.Min), f.X.Max)), f.y(min(max(l.Y[i], f.Y.Min), f.Y.Max))})
	}
	k := l.Look.ink()
	switch {
	case len(pts) == 0:
	case k.area:
		closed := append([]xy{{pts[0].x, f.bottom}}, pts...)
		closed = append(closed, xy{pts[len(pts)-1].x, f.bottom})
		f.c.empty("path", "class", "line", "d", path(closed, true), "fill", k.fill, "stroke", "#000", "stroke-width", num(k.width))
	case k.dot > 0:
		for _, p := range pts {
			f.c.empty("circle", "class", "mark", "cx", num(p.x), "cy", num(p.y), "r", num(k.dot), "fill", k.fill)
		}
	default:
		f.c.empty("path", "class", "line", "d", path(pts, false), "fill", "none", "stroke", "#000", "stroke-width", num(k.width), "stroke-dasharray", cmp.Or(k.dash, "none"))
	}
}

// names are what stands in the right margin: the lines at their ends, the
// notes and the bands at their height.
func (p Plot) names() []Label {
	var list []Label
	for _, l := range p.Lines {
		if k := l.Look.ink(); l.Name != "" && !k.area && k.dot == 0 && len(l.X) > 0 {
			list = append(list, Label{l.X[len(l.X)-1], l.Y[len(l.Y)-1], l.Name})
		}
	}
	return append(list, p.Notes...)
}

// name writes names into the margin, none over another.
func (f *frame) name(list []Label) {
	for _, b := range f.Bands {
		if from, to := max(b.From, f.Y.Min), min(b.To, f.Y.Max); from < to {
			list = append(list, Label{f.X.Max, (from + to) / 2, b.Text})
		}
	}
	slices.SortStableFunc(list, func(a, b Label) int { return cmp.Compare(b.Y, a.Y) })
	at := make([]float64, len(list))
	for i, n := range list {
		at[i] = f.y(min(max(n.Y, f.Y.Min), f.Y.Max))
	}
	spread(at, smallFont+3, f.top+4, plotHeight-10)
	for i, n := range list {
		x, y := f.x(min(max(n.X, f.X.Min), f.X.Max)), f.y(min(max(n.Y, f.Y.Min), f.Y.Max))
		f.c.line(x, y, f.right+lead-3, at[i], "class", "lead", "stroke", "#000", "stroke-width", "0.6")
		f.c.text(f.right+lead, at[i]+4.5, "start", n.Text, "font-size", num(smallFont))
	}
}

// spread moves rising heights apart to at least gap, as little as that takes,
// and keeps them between low and high where there is room.
func spread(at []float64, gap, low, high float64) {
	for i := range at {
		at[i] = max(at[i], low)
		if i > 0 {
			at[i] = max(at[i], at[i-1]+gap)
		}
	}
	for i := len(at) - 1; i >= 0; i-- {
		top := high - gap*float64(len(at)-1-i)
		at[i] = min(at[i], top)
	}
}

// keys are the names of areas and marks in rows that fit the plot.
func (p Plot) keys() [][]Line {
	var rows [][]Line
	x := plotWidth
	for _, l := range p.Lines {
		k := l.Look.ink()
		if l.Name == "" || !k.area && k.dot == 0 {
			continue
		}
		w := keyMark + textWidth(l.Name, smallFont) + 16
		if x+w > plotWidth-plotLeft || len(rows) == 0 {
			rows, x = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], l)
		x += w
	}
	return rows
}

// keyMark is the room that a key's sample takes.
const keyMark = 26.0

// key writes the keys above the frame.
func (f *frame) key(rows [][]Line) {
	for i, row := range rows {
		x, y := plotLeft, 12+20*float64(i)
		for _, l := range row {
			if k := l.Look.ink(); k.area {
				f.c.empty("rect", "x", num(x), "y", num(y-6), "width", "20", "height", "12", "fill", k.fill, "stroke", "#000", "stroke-width", "0.8")
			} else {
				f.c.empty("circle", "cx", num(x+10), "cy", num(y), "r", num(k.dot), "fill", k.fill)
			}
			f.c.text(x+keyMark, y+4.5, "start", l.Name, "font-size", num(smallFont))
			x += keyMark + textWidth(l.Name, smallFont) + 16
		}
	}
}

// textWidth is about the most that text takes in a sans-serif face of the
// size, in its unit.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("mwMW%±+@", r):
			w += 1
		case strings.ContainsRune("iljtfr.,:;'() ", r):
			w += 0.42
		default:
			w += 0.66
		}
	}
	return w * size
}
