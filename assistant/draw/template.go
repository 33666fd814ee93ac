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

// Templates returns pages at full size: a ruler to check the print, a strip
// for every slice, the drilling guide of section s, and how the yarn runs. Ids start
// with id, which must be unique on the page.
func Templates(id string, s Section) []string {
	h := s.Head
	pieces := []piece{ruler()}
	for i, l := range h.Layers {
		pieces = append(pieces, strip(i+1, l))
		if i == 0 && s.BoreR > 0 && !s.Drilled { // there is room beside the first strip
			pieces = append(pieces, boreGauge(s))
		}
	}
	if s.BoreR > 0 && !s.Drilled {
		if len(h.Layers) == 0 {
			pieces = append(pieces, boreGauge(s))
		}
		pieces = append(pieces, drillGuide(s))
	}
	if h.Turns > 0 {
		pieces = append(pieces, column(wrap(h, false), wrap(h, true)))
	}
	return layOut(id, pieces, contents(s))
}

// Strips are the full-size strips for the slices of a section, with the ruler
// to check the print; none for a head without slices.
func Strips(id string, s Section) []string {
	var pieces []piece
	var said []string
	for i, l := range s.Head.Layers {
		pieces = append(pieces, strip(i+1, l))
		said = append(said, fmt.Sprintf("the slice for layer %d, %s long", i+1, l.Cut.Rule()))
	}
	if len(pieces) == 0 {
		return nil
	}
	pieces = append([]piece{ruler()}, pieces...)
	return layOut(id, pieces, "Print at 100 per cent. A ruler of 150 mm and 6 in. Strips to cut by: "+strings.Join(said, "; ")+".")
}

// layOut puts pieces on as many pages as they take.
func layOut(id string, pieces []piece, desc string) []string {
	const gap = 3.5
	var pages [][]piece
	var places [][]xy
	x, y, row := 0.0, 0.0, 0.0
	for _, p := range pieces {
		if x > 0 && x+p.width > PageWidth {
			x, y, row = 0, y+row+gap, 0
		}
		if len(pages) == 0 || y+p.height > PageHeight {
			pages, places = append(pages, nil), append(places, nil)
			x, y, row = 0, 0, 0
		}
		last := len(pages) - 1
		pages[last], places[last] = append(pages[last], p), append(places[last], xy{x, y})
		x, row = x+p.width+gap, max(row, p.height)
	}
	out := make([]string, len(pages))
	for i := range pages {
		high := 0.0
		for j, p := range pages[i] {
			high = max(high, places[i][j].y+p.height)
		}
		c := newCanvas(fmt.Sprintf("%s-%d", id, i+1), fmt.Sprintf("Full-size templates, page %d of %d", i+1, len(pages)),
			desc, 0, 0, PageWidth, high+1, 1)
		for j, p := range pages[i] {
			p.draw(c, places[i][j].x, places[i][j].y)
		}
		out[i] = c.done()
	}
	return out
}

// contents says what templates hold, with their measures.
func contents(s Section) string {
	list := []string{"A ruler of 150 mm and 6 in"}
	for i, l := range s.Head.Layers {
		list = append(list, fmt.Sprintf("a strip to cut the slice for layer %d by, %s long", i+1, l.Cut))
	}
	if s.BoreR > 0 && !s.Drilled {
		list = append(list, fmt.Sprintf("the bore, %s wide and %s deep", measure.Length(2*s.BoreR), measure.Length(s.BoreDepth)),
			fmt.Sprintf("a star that finds the poles of a ball of %s", measure.Length(2*s.CoreR)))
	}
	if s.Head.Turns > 0 {
		list = append(list, fmt.Sprintf("the path of the yarn, %d turns in two layers", s.Head.Turns))
	}
	return "Print at 100 per cent. " + strings.Join(list, "; ") + "."
}

// column stacks pieces.
func column(pieces ...piece) piece {
	var all piece
	for _, p := range pieces {
		all.width, all.height = max(all.width, p.width), all.height+p.height
	}
	all.draw = func(c *canvas, x, y float64) {
		for _, p := range pieces {
			p.draw(c, x, y)
			y += p.height
		}
	}
	return all
}

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
	return piece{PageWidth, 22, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Print at 100 % (no fit to page). Hold a rule against this one: if it is not 150 mm and 6 in long, use nothing else here.")
		x++
		c.line(x, y+8, x+150, y+8, "class", "ruler-mm", "stroke", "#000", "stroke-width", "0.2")
		for i := range 151 {
			tick := 1.5
			switch {
			case i%10 == 0:
				tick = 3.5
				c.text(x+float64(i), y+7.2, "middle", fmt.Sprint(i), "font-size", "2")
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
				c.text(x+float64(i)*25.4/16, y+15.2, "middle", fmt.Sprint(i/16), "font-size", "2")
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
	return piece{round + tab, cut + 5, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", fmt.Sprintf("Slice for layer %d: wrap round the %s tubing, edges meeting.", number, l.Slice.Tube.ID), "font-size", "2.3")
		rect(c, x, y+4.5, round, cut, cutLine, "class", fmt.Sprintf("strip strip-%d", number))
		rect(c, x+round, y+4.5, tab, cut, foldLine)
		c.text(x+round/2, y+4.5+cut/2+1, "middle", "cut length "+l.Cut.String())
		c.line(x+3, y+4.5, x+3, y+4.5+cut)
		for _, end := range []float64{0, cut} {
			dy := 1.2 - 2.4*end/cut
			c.empty("path", "d", path([]xy{{x + 2.6, y + 4.5 + end + dy}, {x + 3, y + 4.5 + end}, {x + 3.4, y + 4.5 + end + dy}}, true))
		}
		c.text(x+round+tab/2, y+4.5+cut/2+0.8, "middle", "lap", "font-size", "2")
	}}
}

// drillGuide is a star whose four arms meet at the pole opposite its middle
// when it is laid over the ball.
func drillGuide(s Section) piece {
	const wide = 5.0
	arm := math.Pi * mm(s.CoreR)
	side := 2*arm + 2
	return piece{side, side + 9, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Drilling guide: cut out the star and lay it over the bare core.", "font-size", "2.3")
		c.text(x, y+6.2, "start", "Prick at the middle and where the four points meet.", "font-size", "2.3")
		cx, cy := x+side/2, y+8+side/2
		var pts []xy
		for k := range 4 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 2)
			at := func(along, aside float64) xy { return xy{cx + along*cos - aside*sin, cy + along*sin + aside*cos} }
			pts = append(pts, at(wide/2, -wide/2), at(arm-wide, -wide/2), at(arm, 0), at(arm-wide, wide/2))
			a, b := at(arm/2, -wide/2), at(arm/2, wide/2)
			c.line(a.x, a.y, b.x, b.y, append([]string{"class", "equator"}, foldLine...)...)
		}
		c.empty("path", append([]string{"class", "drill-guide", "d", path(pts, true)}, cutLine...)...)
		c.line(cx-arm, cy, cx+arm, cy, "class", "drill-axis", "stroke", "#000", "stroke-width", "0.1")
		c.line(cx, cy-arm, cx, cy+arm, "stroke", "#000", "stroke-width", "0.1")
		c.empty("circle", "cx", num(cx), "cy", num(cy), "r", "0.5")
		c.text(cx+arm/2, cy-wide/2-0.8, "middle", "equator", "font-size", "2")
	}}
}

// boreGauge is the bore's width and depth, to set bit and stop by.
func boreGauge(s Section) piece {
	w, d := mm(2*s.BoreR), mm(s.BoreDepth)
	return piece{max(w+24, 44), max(d, mm(2*s.CoreR)) + 14, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", "Bore: set bit and stop by this.", "font-size", "2.3")
		r := mm(s.CoreR)
		cx, cy := x+r+1, y+8+r
		c.empty("circle", append([]string{"class", "gauge-core", "cx", num(cx), "cy", num(cy), "r", num(r)}, foldLine...)...)
		rect(c, cx-w/2, cy+r-d, w, d, cutLine, "class", "gauge-bore")
		c.text(cx, cy+r-d/2, "middle", measure.Length(2*s.BoreR).In(), "font-size", "1.9")
		c.text(x, cy+r+4, "start", measure.Length(2*s.BoreR).String()+" wide, "+measure.Length(s.BoreDepth).String()+" deep", "font-size", "2.1")
	}}
}

// wrap shows the head from its crown with some of the turns: the first layer
// passes close by the crown, the second keeps away from it.
func wrap(h head.Head, second bool) piece {
	r := mm(float64(h.Bare) / 2)
	turns, off, name := int(math.Round(0.6*float64(h.Turns))), 1.2, "First layer"
	if second {
		turns, off, name = h.Turns-turns, r*0.45, "Second layer"
	}
	const shown = 16
	return piece{max(2*r+4, 56), 2*r + 14, func(c *canvas, x, y float64) {
		c.text(x, y+3, "start", fmt.Sprintf("%s, seen from the crown: %d turns;", name, turns), "font-size", "2.3")
		c.text(x, y+6.2, "start", fmt.Sprintf("%d are drawn. Turn the ball after each.", shown), "font-size", "2.3")
		cx, cy := x+r+1, y+9+r
		c.empty("circle", "class", "wrap", "cx", num(cx), "cy", num(cy), "r", num(r), "fill", "none", "stroke", "#000", "stroke-width", "0.2")
		half := math.Sqrt(r*r - off*off)
		for k := range shown {
			sin, cos := math.Sincos(math.Pi * float64(k) / shown)
			aside := off
			if k%2 == 1 {
				aside = -off
			}
			c.line(cx-half*cos-aside*sin, cy-half*sin+aside*cos, cx+half*cos-aside*sin, cy+half*sin+aside*cos, "stroke", "#000", "stroke-width", "0.25")
		}
		c.empty("circle", "cx", num(cx), "cy", num(cy), "r", "0.7")
	}}
}
