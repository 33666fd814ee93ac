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
	const margin, row = 3.0, 4.2
	measures := s.measures()
	names := s.labels()
	labels := 0.0
	for _, l := range names {
		for _, t := range l.lines {
			labels = max(labels, 0.9*textWidth(t, labelSize))
		}
	}
	above := row*float64(len(measures)) + margin
	half := labelsHeight(names) / 2
	top := max(mm(z)+above, half+2)
	bottom := max(mm(z)+5+map[bool]float64{true: 7}[s.ShaftR > 0], half+2) + 3
	left := mm(r) + margin
	// Measures stand over the left half, their texts at the left of the widest.
	widest := 0.0
	for _, m := range measures {
		widest = max(widest, 0.9*textWidth(m.text, labelSize)) // digits and small letters
	}
	left += widest + 2
	c := newCanvas(id, "Cross-section of the head", strings.Join(s.List(), " "), -left, -top, left+mm(r)+5+labels, top+bottom, scale)
	c.patterns(id)
	s.paint(c, id)
	for i, m := range measures {
		y := -mm(z) - margin - row*float64(i)
		for _, x := range []float64{-m.half, m.half} {
			c.line(mm(x), 0, mm(x), y-0.6, "class", "extension", "stroke", "#666", "stroke-width", "0.08")
		}
		c.start("g", "class", m.class)
		c.across(mm(-m.half), mm(m.half), y)
		c.text(-mm(r)-2, y+0.9, "end", m.text)
		c.end()
	}
	s.drawLabels(c, names, mm(r)+5)
	c.text(-left+1, bottom-1, "start", fmt.Sprintf("Drawn %s : 1 when printed at 100 %%.", num(scale)), "font-size", num(labelSize))
	return c.done()
}

// labelSize is the size of a section's texts, in millimetres.
const labelSize = 2.9

// paint draws the head itself about the origin.
func (s Section) paint(c *canvas, id string) {
	r, z := s.Size()
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
}

// Named is a section with its name in a row of several.
type Named struct {
	Name    string
	Section Section
}

// Row returns sections side by side at one scale, life-size when printed at
// 100 %, each with its name and its size. The id must be unique on the page.
func Row(id string, list []Named) string {
	const under = 15.0
	at, x := places(list)
	high := 0.0
	var said []string
	for _, n := range list {
		_, z := n.Section.Size()
		high = max(high, mm(z))
		said = append(said, n.Name+": "+strings.Join(n.Section.List(), " "))
	}
	c := newCanvas(id, "Cross-sections at one scale", strings.Join(said, " "), 0, -high-4, x, 2*high+8+8+under, 1)
	for i, n := range list {
		own := fmt.Sprintf("%s-%d", id, i+1)
		c.start("g", "transform", "translate("+num(at[i])+" 0)")
		c.patterns(own)
		n.Section.paint(c, own)
		c.text(0, high+8+under-7, "middle", n.Name, "font-size", num(labelSize+0.4))
		c.text(0, high+8+under-3, "middle", n.size(), "font-size", num(labelSize+0.4))
		c.end()
	}
	return c.done()
}

// RowWide is the width of a row in millimetres: past that of a page it is printed
// smaller than life.
func RowWide(list []Named) float64 {
	_, wide := places(list)
	return wide
}

// places are the middles of the sections of a row, and its width.
func places(list []Named) (at []float64, wide float64) {
	const gap = 4.0
	wide = gap
	for _, n := range list {
		r, _ := n.Section.Size()
		w := max(2*mm(r)+2, textWidth(n.Name, labelSize+0.4), textWidth(n.size(), labelSize+0.4))
		at = append(at, wide+w/2)
		wide += w + gap
	}
	return at, wide
}

// size is what it measures across.
func (n Named) size() string { return n.Section.Head.Diameter.Rule() }

// span is a diameter to be drawn as a measure.
type span struct {
	class string
	half  float64
	text  string
}

func (s Section) measures() []span {
	list := []span{{"core-diameter", s.CoreR, "core: " + measure.Length(2*s.CoreR).Rule()}}
	for i, l := range s.Head.Layers {
		list = append(list, span{fmt.Sprintf("layer-%d-diameter", i+1), float64(l.Outer) / 2,
			fmt.Sprintf("layer %d: %s", i+1, l.Outer.Rule())})
	}
	if len(s.Yarn) > 0 {
		list = append(list, span{"head-diameter", float64(s.Head.Diameter) / 2, "yarn: " + s.Head.Diameter.Rule()})
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

// label names a part beside the section.
type label struct {
	at    Point
	lines []string
}

// labels are the names of the parts, outside in.
func (s Section) labels() []label {
	h := s.Head
	var list []label
	if n := len(s.Yarn); n > 0 {
		p := s.Yarn[n*13/16]
		k := 1 - float64(h.YarnWall)/2/max(float64(h.Diameter)/2, 1e-6)
		list = append(list, label{Point{p.R * k, p.Z * k}, []string{"yarn, " + h.YarnWall.Mm() + " thick"}})
	}
	for i, l := range slices.Backward(h.Layers) {
		p := s.Layers[i]
		j := samples/2 + samples*i/(4*len(h.Layers)) // outer layers higher up, as their labels are
		at := Point{(p.Inner[j].R + p.Outer[j].R) / 2, p.Inner[j].Z}
		lines := []string{
			fmt.Sprintf("layer %d: cut %s", i+1, l.Cut.Rule()),
			fmt.Sprintf("wall %s, from %s", l.Wall.Mm(), l.Slice.Tube.Wall.Mm()),
			measure.Length(2*p.End).Mm() + " high on the ball",
		}
		switch {
		case l.Verdict == head.Slack:
			lines = append(lines, "SLACK: it stands off and slaps")
		case p.Slack() > 1e-4:
			lines = append(lines, "loose "+measure.Length(p.Slack()).Mm()+" at the ends")
		case l.Overhang > 1e-4:
			lines = append(lines, "its ends "+l.Overhang.Mm()+" past that below")
		}
		list = append(list, label{at, lines})
	}
	list = append(list, label{Point{s.CoreR * 0.55, -s.CoreR * 0.5}, []string{"core, " + h.Stack.Material.Name}})
	if shaft := h.Stack.Shaft; shaft != nil {
		_, z := s.Size()
		list = append(list, label{Point{s.ShaftR * 0.6, -z - 0.006}, []string{"shaft, " + shaft.Diameter.Rule()}})
	}
	return list
}

// The pitch of a label's lines and the gap to the next, in millimetres.
const labelStep, labelGap = 3.6, 1.6

func labelsHeight(list []label) float64 {
	total := -labelGap
	for _, l := range list {
		total += labelStep*float64(len(l.lines)) + labelGap
	}
	return total
}

// drawLabels writes labels at the right, each with a line to its part.
func (s Section) drawLabels(c *canvas, list []label, x float64) {
	y := -labelsHeight(list)/2 + labelSize
	for _, l := range list {
		c.start("g", "class", "label")
		c.line(x-0.5, y-0.9, mm(l.at.R), -mm(l.at.Z), "stroke", "#000", "stroke-width", "0.12")
		c.empty("circle", "cx", num(mm(l.at.R)), "cy", num(-mm(l.at.Z)), "r", "0.4")
		for _, t := range l.lines {
			c.text(x, y, "start", t)
			y += labelStep
		}
		c.end()
		y += labelGap
	}
}
