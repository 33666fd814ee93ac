package draw

import (
	"fmt"
	"slices"
	"strings"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// mm turns metres into a canvas's millimetres.
func mm(metres float64) float64 { return metres * 1000 }

// SVG returns the section drawn scale times as large as life, with its
// measures in both units. The id must be unique on the page.
func (s Section) SVG(id string, scale float64) string {
	r, z := s.Size()
	const margin, row, labels = 4, 4.6, 52
	measures := s.measures()
	top := mm(z) + margin + row*float64(len(measures))
	bottom := mm(z) + 8
	if s.ShaftR > 0 {
		bottom += 8
	}
	left := max(mm(r)+margin, 22)
	width := left + max(mm(r)+margin, 22) + labels
	c := newCanvas(id, "Cross-section of the head", strings.Join(s.List(), " "),
		-left, -top, width, top+bottom, scale)
	c.patterns(id)
	fill := func(name string) string { return "url(#" + id + "-" + name + ")" }
	edge := []string{"stroke", "#000", "stroke-width", "0.2"}

	if len(s.Yarn) > 0 {
		c.empty("path", append([]string{"class", "yarn", "d", path(both(s.Yarn), true), "fill", fill("yarn")}, edge...)...)
	}
	for i, l := range slices.Backward(s.Layers) {
		// What a slice bridges, and the gap under a slack one, is air.
		air := append(slices.Clone(l.Inner), Point{0, l.End})
		air = append([]Point{{0, -l.End}}, air...)
		c.empty("path", "class", "air", "d", path(both(air), true), "fill", "#fff")
		c.start("g", append([]string{"class", fmt.Sprintf("layer layer-%d", i+1), "fill", fill(fmt.Sprintf("slice%d", i%4+1))}, edge...)...)
		for _, side := range []float64{1, -1} {
			c.empty("path", "d", path(ring(l, side), true))
		}
		c.end()
	}
	c.empty("circle", append([]string{"class", "core", "cx", "0", "cy", "0", "r", num(mm(s.CoreR)), "fill", fill("core")}, edge...)...)
	s.drawShaft(c, z)
	for i, l := range s.Layers {
		s.drawSlack(c, i, l)
	}

	c.line(-mm(r)-2, 0, mm(r)+2, 0, "class", "axis", "stroke", "#000", "stroke-width", "0.1", "stroke-dasharray", "2 .6 .4 .6")
	c.line(0, -mm(z)-2, 0, mm(z)+2, "class", "axis", "stroke", "#000", "stroke-width", "0.1", "stroke-dasharray", "2 .6 .4 .6")
	for i, m := range measures {
		y := -mm(z) - margin - row*float64(i)
		for _, x := range []float64{-m.half, m.half} {
			c.line(mm(x), 0, mm(x), y-0.6, "stroke", "#666", "stroke-width", "0.08")
		}
		c.across(mm(-m.half), mm(m.half), y, m.text, m.class)
	}
	s.drawLabels(c, mm(r)+5)
	c.text(-left+1, bottom-1, "start", fmt.Sprintf("Drawn %s : 1 when printed at full size.", num(scale)), "font-size", "2.2")
	return c.done()
}

// span is a diameter to be drawn as a measure.
type span struct {
	class string
	half  float64
	text  string
}

func (s Section) measures() []span {
	list := []span{{"core-diameter", s.CoreR, "core: " + measure.Length(2*s.CoreR).String()}}
	for i, l := range s.Head.Layers {
		list = append(list, span{fmt.Sprintf("layer-%d-diameter", i+1), float64(l.Outer) / 2,
			fmt.Sprintf("over layer %d: %s", i+1, l.Outer)})
	}
	if len(s.Yarn) > 0 {
		list = append(list, span{"head-diameter", float64(s.Head.Diameter) / 2, "over the yarn: " + s.Head.Diameter.String()})
	}
	return list
}

// both mirrors half an outline about the axis and joins the halves.
func both(right []Point) []xy {
	var pts []xy
	for _, p := range right {
		pts = append(pts, xy{mm(p.R), -mm(p.Z)})
	}
	for _, p := range slices.Backward(right) {
		pts = append(pts, xy{-mm(p.R), -mm(p.Z)})
	}
	return pts
}

// ring is the cut face of a slice on one side of the axis.
func ring(l Profile, side float64) []xy {
	var pts []xy
	for _, p := range l.Outer {
		pts = append(pts, xy{side * mm(p.R), -mm(p.Z)})
	}
	for _, p := range slices.Backward(l.Inner) {
		pts = append(pts, xy{side * mm(p.R), -mm(p.Z)})
	}
	return pts
}

func (s Section) drawShaft(c *canvas, z float64) {
	if s.BoreR > 0 {
		c.empty("rect", "class", "bore", "x", num(-mm(s.BoreR)), "y", num(mm(s.CoreR-s.BoreDepth)),
			"width", num(mm(2*s.BoreR)), "height", num(mm(s.BoreDepth)), "fill", "#fff", "stroke", "#000", "stroke-width", "0.2")
	}
	if s.ShaftR == 0 {
		return
	}
	r, top, end := mm(s.ShaftR), mm(s.CoreR-s.BoreDepth), mm(z)+11
	// The shaft goes on beyond the picture: a wavy break.
	c.empty("path", "class", "shaft", "d", fmt.Sprintf("M%s %s V%s q%s -1.5 %s 0 t%s 0 V%s Z", num(-r), num(top), num(end),
		num(r/2), num(r), num(r), num(top)), "fill", "#fff", "stroke", "#000", "stroke-width", "0.25")
	for _, x := range []float64{-0.4, 0.15, 0.6} {
		c.line(x*r, top+1.5, x*r*0.9, end-1.5, "stroke", "#aaa", "stroke-width", "0.12")
	}
}

// drawSlack marks the ends of a slice that hang loose.
func (s Section) drawSlack(c *canvas, i int, l Profile) {
	if l.Slack() <= 1e-4 {
		return
	}
	for _, side := range []float64{1, -1} {
		for _, end := range []float64{1, -1} {
			var pts []xy
			for _, p := range l.Outer {
				if end*p.Z >= l.Grip {
					pts = append(pts, xy{side * (mm(p.R) + 0.6), -mm(p.Z)})
				}
			}
			if len(pts) > 1 {
				c.empty("path", "class", fmt.Sprintf("slack slack-%d", i+1), "d", path(pts, false),
					"fill", "none", "stroke", "#000", "stroke-width", "0.35", "stroke-dasharray", "0.8 0.6")
			}
		}
	}
}

// drawLabels names the parts at the right, each with a line to it.
func (s Section) drawLabels(c *canvas, x float64) {
	type label struct {
		at    Point
		lines []string
	}
	h := s.Head
	var list []label
	if n := len(s.Yarn); n > 0 {
		p := s.Yarn[n*13/16]
		k := 1 - float64(h.YarnWall)/2/max(float64(h.Diameter)/2, 1e-6)
		list = append(list, label{Point{p.R * k, p.Z * k}, []string{"yarn, " + h.YarnWall.Mm() + " thick on the belt"}})
	}
	for i, l := range slices.Backward(h.Layers) {
		p := s.Layers[i]
		j := samples/2 + samples*i/(4*len(h.Layers)) // outer layers higher up, as their labels are
		at := Point{(p.Inner[j].R + p.Outer[j].R) / 2, p.Inner[j].Z}
		lines := []string{
			fmt.Sprintf("layer %d: cut %s", i+1, l.Cut),
			fmt.Sprintf("wall %s, from %s", l.Wall.Mm(), l.Slice.Tube.Wall.Mm()),
			"height on the ball " + measure.Length(2*p.End).Mm(),
		}
		switch {
		case l.Verdict == head.Slack:
			lines = append(lines, "SLACK: it stands off and slaps")
		case p.Slack() > 1e-4:
			lines = append(lines, "loose "+measure.Length(p.Slack()).Mm()+" at each end (dashed)")
		case l.Overhang > 1e-4:
			lines = append(lines, "each end "+l.Overhang.Mm()+" past the layer below")
		}
		list = append(list, label{at, lines})
	}
	list = append(list, label{Point{s.CoreR * 0.55, -s.CoreR * 0.5}, []string{"core, " + h.Stack.Material.Name}})
	if shaft := h.Stack.Shaft; shaft != nil {
		_, z := s.Size()
		list = append(list, label{Point{s.ShaftR * 0.6, -z - 0.006}, []string{"shaft, " + shaft.Diameter.String()}})
	}
	const step, gap = 3.2, 2.2
	total := -gap
	for _, l := range list {
		total += step*float64(len(l.lines)) + gap
	}
	y := -total/2 + 4
	for _, l := range list {
		c.start("g", "class", "label")
		c.line(x-0.5, y-0.9, mm(l.at.R), -mm(l.at.Z), "stroke", "#000", "stroke-width", "0.12")
		c.empty("circle", "cx", num(mm(l.at.R)), "cy", num(-mm(l.at.Z)), "r", "0.4")
		for _, t := range l.lines {
			c.text(x, y, "start", t)
			y += step
		}
		c.end()
		y += gap
	}
}
