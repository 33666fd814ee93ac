// Package draw makes pictures of a head: a cross-section to scale, as SVG and
// out of characters, a page of full-size templates, and plots.
//
// Geometry is worked out first, as values in metres, and only then drawn.
// Every SVG stands alone: no script, no fonts, nothing fetched, a title and a
// description for those who can't see it, and patterns rather than colours
// for those who print in black and white.
package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// Point is a place in the plane that holds the shaft's axis: R is the
// distance from the axis, Z the height over the equator, both in metres.
type Point struct{ R, Z float64 }

// Profile is the right-hand half of a fitted slice, cut lengthwise. Inner
// and Outer run from the lower end to the upper one and share their heights.
type Profile struct {
	Inner, Outer []Point
	// Grip is the height up to which the rubber is stretched round what lies
	// below; between it and End it hangs loose.
	Grip, End float64
	Verdict   head.Verdict
}

// Section is a head cut lengthwise through its shaft.
type Section struct {
	Head      head.Head
	CoreR     float64
	BoreR     float64 // zero without a bore
	BoreDepth float64 // from the lower pole
	Drilled   bool    // the core comes with a bore that the shaft fits
	ShaftR    float64 // zero without a shaft
	Layers    []Profile
	// Yarn is the outside of the wrap from the lower pole to the upper one;
	// empty without yarn.
	Yarn []Point
}

// samples is the number of heights at which a slice is drawn.
const samples = 121

// NewSection returns the section of h, bored to the depth that lim gives.
//
// A slice follows what lies below it as far as the chord there is wider than
// its bore, bridges steps as a stretched skin does, and stands off as a plain
// tube from there on. Its wall grows from the stretched wall at the equator to
// the tubing's own where it is not stretched, in proportion to the stretch.
func NewSection(h head.Head, lim *knowledge.Limits) Section {
	s := Section{Head: h, CoreR: float64(h.Stack.Core.Diameter) / 2}
	s.BoreR, s.BoreDepth = float64(h.Stack.Core.Bore)/2, 2*s.CoreR*min(max(lim.BoreDepth.Value, 0), 1)
	if shaft := h.Stack.Shaft; shaft != nil {
		s.ShaftR = float64(shaft.Diameter) / 2
		s.BoreR = max(s.BoreR, s.ShaftR)
	}
	s.Drilled = s.BoreR > 0 && s.BoreR == float64(h.Stack.Core.Bore)/2
	below := ball(s.CoreR)
	for _, l := range h.Layers {
		p := profile(l, below)
		s.Layers = append(s.Layers, p)
		below = hull(append(below, p.Outer...))
	}
	if h.YarnWall > 0 {
		s.Yarn = grow(below, float64(h.YarnWall))
	}
	return s
}

// ball is half the outline of a ball, from the lower pole to the upper.
func ball(r float64) []Point {
	pts := make([]Point, samples)
	for i := range pts {
		sin, cos := math.Sincos(math.Pi * (float64(i)/(samples-1) - 0.5))
		pts[i] = Point{R: r * cos, Z: r * sin}
	}
	return pts
}

func profile(l head.Layer, below []Point) Profile {
	bore, wall := float64(l.Slice.Tube.Bore)/2, float64(l.Slice.Tube.Wall)
	p := Profile{Verdict: l.Verdict, End: float64(l.Span) / 2}
	if l.Stretch > 1 {
		p.Grip = min(float64(l.Under)/2*math.Sin(l.Reach), p.End)
	}
	for i := range samples {
		z := p.End * (2*float64(i)/(samples-1) - 1)
		in := max(outline(below, z), bore)
		out := in + wall
		if l.Stretch > 1 {
			share := min((in/bore-1)/(l.Stretch-1), 1)
			out = in + wall + (float64(l.Wall)-wall)*share
		}
		p.Inner = append(p.Inner, Point{in, z})
		p.Outer = append(p.Outer, Point{out, z})
	}
	return p
}

// outline returns the distance from the axis to a chain of points that rises
// in Z, at height z; zero beyond its ends.
func outline(pts []Point, z float64) float64 {
	i, _ := slices.BinarySearchFunc(pts, z, func(p Point, z float64) int { return cmp.Compare(p.Z, z) })
	switch {
	case i < len(pts) && pts[i].Z == z:
		return pts[i].R
	case i == 0 || i == len(pts):
		return 0
	}
	a, b := pts[i-1], pts[i]
	return a.R + (b.R-a.R)*(z-a.Z)/(b.Z-a.Z)
}

// hull returns the convex chain round pts seen from the axis, rising in Z: the
// shape that a skin stretched over them takes.
func hull(pts []Point) []Point {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(a, b Point) int { return cmp.Or(cmp.Compare(a.Z, b.Z), cmp.Compare(a.R, b.R)) })
	var out []Point
	for _, p := range pts {
		for len(out) > 0 && out[len(out)-1].Z == p.Z {
			out = out[:len(out)-1] // p is farther out
		}
		for len(out) > 1 {
			a, b := out[len(out)-2], out[len(out)-1]
			if (b.R-a.R)*(p.Z-a.Z) > (p.R-a.R)*(b.Z-a.Z) {
				break // b stands out
			}
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out
}

// grow returns the chain pts moved out from the centre by t.
func grow(pts []Point, t float64) []Point {
	out := make([]Point, samples)
	for i := range out {
		sin, cos := math.Sincos(math.Pi * (float64(i)/(samples-1) - 0.5))
		r := reach(pts, cos, sin) + t
		out[i] = Point{R: r * cos, Z: r * sin}
	}
	return out
}

// reach is how far the chain pts lies from the centre in direction (r, z).
func reach(pts []Point, r, z float64) float64 {
	far := 0.0
	for i := range pts {
		a := pts[max(i-1, 0)]
		b := pts[i]
		// The ray t·(r,z) meets a + u·(b−a).
		dr, dz := b.R-a.R, b.Z-a.Z
		if det := r*dz - z*dr; math.Abs(det) > 1e-15 {
			t, u := (a.R*dz-a.Z*dr)/det, (a.R*z-a.Z*r)/det
			if u >= -1e-9 && u <= 1+1e-9 {
				far = max(far, t)
			}
		}
	}
	for _, p := range []Point{pts[0], pts[len(pts)-1]} { // the flat at a pole
		if z*p.Z > 0 {
			if t := p.Z / z; math.Abs(t*r) <= p.R {
				far = max(far, t)
			}
		}
	}
	return far
}

// Slack is the height of loose rubber at each end, or the whole half slice
// where nothing is stretched.
func (p Profile) Slack() float64 { return p.End - p.Grip }

// Size returns the greatest distance from the axis and the greatest height.
func (s Section) Size() (r, z float64) {
	r, z = s.CoreR, s.CoreR
	for _, l := range s.Layers {
		z = max(z, l.End)
		for _, p := range l.Outer {
			r = max(r, p.R)
		}
	}
	for _, p := range s.Yarn {
		r, z = max(r, p.R), max(z, p.Z)
	}
	return r, z
}

// Parts of a section, as At names them; a slice is its number, from 1.
const (
	inAir = -iota
	inCore
	inYarn
	inBore
	inShaft
)

// at returns what is at a place: one of the constants or a slice's number.
func (s Section) at(r, z float64) int {
	r = math.Abs(r)
	if r < s.BoreR && z < s.BoreDepth-s.CoreR {
		_, bottom := s.Size()
		switch {
		case r < s.ShaftR:
			return inShaft
		case z > -s.CoreR:
			return inBore
		case z < -bottom:
			return inAir
		}
	}
	if math.Hypot(r, z) <= s.CoreR {
		return inCore
	}
	for i, l := range s.Layers {
		if math.Abs(z) <= l.End && r >= outline(l.Inner, z) && r <= outline(l.Outer, z) {
			return i + 1
		}
	}
	if len(s.Yarn) > 0 && r <= outline(s.Yarn, z) && !s.covered(r, z) {
		return inYarn
	}
	return inAir
}

// covered reports whether a place lies under a slice, or in the pocket that a
// slice bridges, where no yarn gets.
func (s Section) covered(r, z float64) bool {
	for _, l := range s.Layers {
		if math.Abs(z) <= l.End && r < outline(l.Inner, z) {
			return true
		}
	}
	return false
}

// Rows returns the section drawn out of characters, at most columns wide, and
// the key to it. A character cell counts as twice as high as wide.
func (s Section) Rows(columns int) []string {
	r, _ := s.Size()
	columns = min(max(columns, 21), 61)
	return append(s.cells(2*r/float64(columns-1), columns), s.legend(columns)...)
}

// Beside returns sections drawn out of characters side by side at one scale,
// with their names, at most columns wide.
func Beside(list []Named, columns int) []string {
	wide := 0.0
	for _, n := range list {
		r, _ := n.Section.Size()
		wide = max(wide, r)
	}
	each := min(max((columns-2*(len(list)-1))/max(len(list), 1), 7), 41)
	each -= 1 - each%2 // the axis in the middle
	cell := 2 * wide / float64(each-1)
	var rows []string
	for i, n := range list {
		part := n.Section.cells(cell, each)
		part = append(part, strings.Repeat(" ", max(each/2-len([]rune(n.Name))/2, 0))+n.Name)
		for len(rows) < len(part) { // heads stand on the same line
			rows = append([]string{""}, rows...)
		}
		off := len(rows) - len(part)
		for j, row := range part {
			at := i * (each + 2)
			rows[off+j] = fmt.Sprintf("%-*s%s", at, rows[off+j], row)
		}
	}
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	return rows
}

// cells draws the section in cells so many metres wide.
func (s Section) cells(cell float64, columns int) []string {
	_, z := s.Size()
	half := int(math.Ceil(z / (2 * cell)))
	marks := map[int]byte{inAir: ' ', inCore: '.', inYarn: '~', inBore: ' ', inShaft: '|'}
	for i := range s.Layers {
		marks[i+1] = byte('1' + min(i, 8))
	}
	var rows []string
	for j := half; j >= -half-2; j-- {
		var row strings.Builder
		for i := range columns {
			row.WriteByte(marks[s.at((float64(i)-float64(columns-1)/2)*cell, float64(j)*2*cell)])
		}
		rows = append(rows, strings.TrimRight(row.String(), " "))
	}
	return rows
}

// legend is the key to a section out of characters.
func (s Section) legend(columns int) []string {
	key := []string{". core"}
	for i := range s.Layers {
		key = append(key, fmt.Sprintf("%d rubber layer", i+1))
	}
	if len(s.Yarn) > 0 {
		key = append(key, "~ yarn")
	}
	if s.ShaftR > 0 {
		key = append(key, "| shaft")
	}
	rows := []string{"", key[0]}
	for _, k := range key[1:] {
		if last := len(rows) - 1; len(rows[last])+3+len(k) <= columns {
			rows[last] += "   " + k
		} else {
			rows = append(rows, k)
		}
	}
	return rows
}

// List describes the section in words, inside out, one part a line.
func (s Section) List() []string {
	h := s.Head
	list := []string{fmt.Sprintf("Core: %s across.", h.Stack.Core.Diameter.Rule())}
	if s.BoreR > 0 {
		list[0] = fmt.Sprintf("Core: %s across, bored %s.", h.Stack.Core.Diameter.Rule(), measure.Length(2*s.BoreR).Rule())
	}
	for i, l := range h.Layers {
		p := s.Layers[i]
		line := fmt.Sprintf("Layer %d: a slice cut %s long, %s high once it is on; wall %s, stretched from %s; %s over it.",
			i+1, l.Cut.Rule(), measure.Length(2*p.End).Mm(), l.Wall.Mm(), l.Slice.Tube.Wall.Mm(), l.Outer.Rule())
		switch {
		case l.Verdict == head.Slack:
			line += " It is slack: it stands off what lies below and slaps."
		case p.Slack() > 1e-4:
			line += fmt.Sprintf(" %s at each end lies loose.", measure.Length(p.Slack()).Mm())
		case l.Overhang > 1e-4:
			line += fmt.Sprintf(" Each end reaches %s past the layer below.", l.Overhang.Mm())
		}
		list = append(list, line)
	}
	if len(s.Yarn) > 0 {
		list = append(list, fmt.Sprintf("Yarn: %s thick on the belt; %s over it.", h.YarnWall.Mm(), h.Diameter.Rule()))
	}
	if shaft := h.Stack.Shaft; shaft != nil {
		list = append(list, fmt.Sprintf("Shaft: %s thick.", shaft.Diameter.Rule()))
	}
	return list
}
