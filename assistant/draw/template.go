package draw

import (
	"fmt"
	"math"
	"strings"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// The printable area that A4 (210 × 297 mm) and US Letter (215.9 × 279.4 mm)
// have in common inside margins of 10 mm, less room for the page's heading.
const (
	PageWidth  = 190.0 // mm
	PageHeight = 246.0 // mm
)

// piece is one thing to cut out or hold against the work, in millimetres.
type piece struct {
	width, height float64
	draw          func(c *canvas, x, y float64)
}

// Templates returns what is cut out or held against the work at full size, in
// pieces that each stay on one page: a ruler to check the print, a strip for
// every slice, and the drilling guide of section s. Ids start with id, which must
// be unique on the page.
func Templates(id string, s Section) []Template {
	rows := [][]piece{{ruler()}}
	for i, l := range s.Head.Layers {
		rows = append(rows, []piece{strip(i+1, l)})
	}
	if s.BoreR > 0 && !s.Drilled {
		for i, p := range []piece{drillGuide(s), boreGauge(s)} {
			if i+1 < len(rows) && rows[i+1][0].width+gap+p.width <= PageWidth { // beside a strip
				rows[i+1] = append(rows[i+1], p)
			} else {
				rows = append(rows, []piece{p})
			}
		}
	}
	return rowsOf(id, rows, contents(s))
}

// Strips are the full-size strips for the slices of a section, with the ruler
// to check the print; none for a head without slices.
func Strips(id string, s Section) []Template {
	rows := [][]piece{{ruler()}}
	var said []string
	for i, l := range s.Head.Layers {
		rows = append(rows, []piece{strip(i+1, l)})
		said = append(said, fmt.Sprintf("the slice for layer %d, %s long", i+1, l.Cut.Rule()))
	}
	if len(said) == 0 {
		return nil
	}
	return rowsOf(id, rows, "Print at 100 per cent. A ruler of 150 mm and 6 in. Strips to cut by: "+strings.Join(said, "; ")+".")
}

// Template is something at full size, so many millimetres high.
type Template struct {
	SVG  string
	High float64
}

// gap is the room between pieces, in millimetres.
const gap = 3.5

// rowsOf draws each row of pieces as a picture of its own.
func rowsOf(id string, rows [][]piece, desc string) []Template {
	var out []Template
	for i, row := range rows {
		high, x := 0.0, 0.0
		for _, p := range row {
			high = max(high, p.height)
		}
		c := newCanvas(fmt.Sprintf("%s-%d", id, i+1), fmt.Sprintf("Full-size templates, %d of %d", i+1, len(rows)), desc, 0, 0, PageWidth, high+1, 1)
		for _, p := range row {
			p.draw(c, x, 0)
			x += p.width + gap
		}
		out = append(out, Template{c.done(), high + 1})
	}
	return out
}

// contents says what templates hold, with their measures.
func contents(s Section) string {
	list := []string{"A ruler of 150 mm and 6 in"}
	for i, l := range s.Head.Layers {
		list = append(list, fmt.Sprintf("a strip to cut the slice for layer %d by, %s long", i+1, l.Cut.Rule()))
	}
	if s.BoreR > 0 && !s.Drilled {
		list = append(list, fmt.Sprintf("the bore, %s wide and %s deep", measure.Length(2*s.BoreR).Rule(), measure.Length(s.BoreDepth).Rule()),
			fmt.Sprintf("two strips that find the poles of a ball of %s", measure.Length(2*s.CoreR).Rule()))
	}
	return "Print at 100 per cent. " + strings.Join(list, "; ") + "."
}

// small is the size of the texts beside what is cut out, in millimetres: 8 pt.
const small = "2.85"

var (
	cutLine  = []string{"fill", "none", "stroke", "#000", "stroke-width", "0.3"}
	foldLine = []string{"fill", "none", "stroke", "#000", "stroke-width", "0.2", "stroke-dasharray", "1.5 1"}
)

func rect(c *canvas, x, y, w, h float64, style []string, more ...string) {
	attrs := append([]string{"x", num(x), "y", num(y), "width", num(w), "height", num(h)}, style...)
	c.empty("rect", append(attrs, more...)...)
}

// ruler is 150 mm and 6 in, to hold a real rule against.
func ruler() piece {
	return piece{PageWidth, 20, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Print at 100 % (no fit to page). Hold a rule against this one: if it is not 150 mm and 6 in long, use nothing else here.")
		x++
		c.line(x, y+8, x+150, y+8, "class", "ruler-mm", "stroke", "#000", "stroke-width", "0.2")
		for i := range 151 {
			tick := 1.5
			switch {
			case i%10 == 0:
				tick = 3.5
				c.text(x+float64(i), y+7.2, "middle", fmt.Sprint(i), "font-size", num(labelSize))
			case i%5 == 0:
				tick = 2.5
			}
			c.line(x+float64(i), y+8, x+float64(i), y+8+tick)
		}
		c.text(x+155, y+9.5, "start", "mm")
		c.line(x, y+16, x+6*25.4, y+16, "class", "ruler-in", "stroke", "#000", "stroke-width", "0.2")
		for i := range 6*16 + 1 {
			tick := 1.2
			switch {
			case i%16 == 0:
				tick = 3.5
				c.text(x+float64(i)*25.4/16, y+15.2, "middle", fmt.Sprint(i/16), "font-size", num(labelSize))
			case i%8 == 0:
				tick = 2.8
			case i%4 == 0:
				tick = 2
			}
			c.line(x+float64(i)*25.4/16, y+16, x+float64(i)*25.4/16, y+16+tick)
		}
		c.text(x+155, y+17.5, "start", "in")
	}}
}

// strip goes once round the tubing: its two long edges mark both cuts square.
func strip(number int, l head.Layer) piece {
	const tab = 8
	round := math.Pi * mm(float64(l.Slice.Tube.Bore+2*l.Slice.Tube.Wall))
	cut := mm(float64(l.Cut))
	return piece{max(round+tab, 88), cut + 6, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", fmt.Sprintf("Layer %d: wrap round the %s tubing, edges meeting.", number, l.Slice.Tube.ID), "font-size", small)
		rect(c, x, y+5, round, cut, cutLine, "class", fmt.Sprintf("strip strip-%d", number))
		rect(c, x+round, y+5, tab, cut, foldLine)
		c.text(x+round/2, y+5+cut/2+1, "middle", "cut length "+l.Cut.Rule())
		c.line(x+3, y+5, x+3, y+5+cut)
		for _, end := range []float64{0, cut} {
			dy := 1.2 - 2.4*end/cut
			c.empty("path", "d", path([]xy{{x + 2.6, y + 5 + end + dy}, {x + 3, y + 5 + end}, {x + 3.4, y + 5 + end + dy}}, true))
		}
		c.text(x+round+tab/2, y+5+cut/2+0.8, "middle", "lap", "font-size", num(labelSize))
	}}
}

// drillGuide is two strips that go halfway round the ball: crossed on their
// middles over one pole, their four points meet at the other.
func drillGuide(s Section) piece {
	const wide = 5.0
	arm := math.Pi * mm(s.CoreR)
	return piece{2*arm + 2, 2*wide + 10, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Poles: cross both strips on their middles, over the bare core.", "font-size", small)
		c.text(x, y+6.6, "start", "Prick there and where the four points meet.", "font-size", small)
		for i := range 2 {
			cx, cy := x+1+arm, y+8+wide/2+float64(i)*(wide+1)
			pts := []xy{{cx - arm, cy}, {cx - arm + wide, cy - wide/2}, {cx + arm - wide, cy - wide/2}, {cx + arm, cy}, {cx + arm - wide, cy + wide/2}, {cx - arm + wide, cy + wide/2}}
			c.empty("path", append([]string{"class", "drill-guide", "d", path(pts, true)}, cutLine...)...)
			c.line(cx-arm, cy, cx+arm, cy, "class", "drill-axis", "stroke", "#000", "stroke-width", "0.1")
			c.line(cx, cy-wide/2, cx, cy+wide/2, "stroke", "#000", "stroke-width", "0.2")
			c.empty("circle", "cx", num(cx), "cy", num(cy), "r", "0.5")
			for _, side := range []float64{-1, 1} {
				c.line(cx+side*arm/2, cy-wide/2, cx+side*arm/2, cy+wide/2, append([]string{"class", "equator"}, foldLine...)...)
			}
		}
	}}
}

// boreGauge is the bore's width and depth, to set bit and stop by.
func boreGauge(s Section) piece {
	w, d := mm(2*s.BoreR), mm(s.BoreDepth)
	r := mm(s.CoreR)
	return piece{2*r + 34, max(d, 2*r) + 7, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Bore: set bit and stop by this.", "font-size", small)
		cx, cy := x+r+1, y+5+r
		c.empty("circle", append([]string{"class", "gauge-core", "cx", num(cx), "cy", num(cy), "r", num(r)}, foldLine...)...)
		rect(c, cx-w/2, cy+r-d, w, d, cutLine, "class", "gauge-bore")
		c.text(cx+r+3, cy-1, "start", measure.Length(2*s.BoreR).Rule()+" wide,", "font-size", small)
		c.text(cx+r+3, cy+3, "start", measure.Length(s.BoreDepth).Rule()+" deep", "font-size", small)
	}}
}
