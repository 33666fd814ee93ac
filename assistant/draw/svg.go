package draw

import (
	"bytes"
	"encoding/xml"
	"strconv"
	"strings"
)

// canvas writes one SVG. Lengths are millimetres; y grows downward.
type canvas struct {
	b    bytes.Buffer
	open []string
}

// newCanvas starts a picture of width by height millimetres, printed scale
// times as large. The id must be unique on the page that it is put on.
func newCanvas(id, title, desc string, x, y, width, height, scale float64) *canvas {
	c := new(canvas)
	c.start("svg",
		"xmlns", "http://www.w3.org/2000/svg", "role", "img", "aria-labelledby", id+"-title "+id+"-desc",
		"width", num(width*scale)+"mm", "height", num(height*scale)+"mm",
		"viewBox", num(x)+" "+num(y)+" "+num(width)+" "+num(height),
		"font-family", "sans-serif", "font-size", "2.9", "stroke-linejoin", "round", "stroke", "none", "fill", "#000")
	c.elem("title", title, "id", id+"-title")
	c.elem("desc", desc, "id", id+"-desc")
	return c
}

// start opens an element with attributes given as name, value, ….
func (c *canvas) start(name string, attrs ...string) {
	c.tag(name, attrs)
	c.b.WriteByte('>')
	c.open = append(c.open, name)
}

// end closes the innermost open element.
func (c *canvas) end() {
	last := len(c.open) - 1
	c.b.WriteString("</" + c.open[last] + ">\n")
	c.open = c.open[:last]
}

// empty writes an element without content.
func (c *canvas) empty(name string, attrs ...string) {
	c.tag(name, attrs)
	c.b.WriteString("/>\n")
}

// elem writes an element that holds text.
func (c *canvas) elem(name, text string, attrs ...string) {
	c.tag(name, attrs)
	c.b.WriteByte('>')
	c.escape(text)
	c.b.WriteString("</" + name + ">\n")
}

func (c *canvas) tag(name string, attrs []string) {
	c.b.WriteString("<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		c.b.WriteString(" " + attrs[i] + `="`)
		c.escape(attrs[i+1])
		c.b.WriteByte('"')
	}
}

// escape writes text with the characters that XML gives a meaning written
// out, and those that it forbids replaced.
func (c *canvas) escape(text string) {
	xml.EscapeText(&c.b, []byte(text)) // writing to a bytes.Buffer can't fail
}

// text writes a line of text at (x, y); anchor is start, middle or end.
func (c *canvas) text(x, y float64, anchor, s string, more ...string) {
	c.elem("text", s, append([]string{"x", num(x), "y", num(y), "text-anchor", anchor}, more...)...)
}

// line draws a thin line.
func (c *canvas) line(x1, y1, x2, y2 float64, more ...string) {
	attrs := []string{"x1", num(x1), "y1", num(y1), "x2", num(x2), "y2", num(y2)}
	if len(more) == 0 {
		more = []string{"stroke", "#000", "stroke-width", "0.15"}
	}
	c.empty("line", append(attrs, more...)...)
}

// across draws a horizontal measure from x1 to x2 at height y.
func (c *canvas) across(x1, x2, y float64) {
	c.start("g", "stroke", "#000", "stroke-width", "0.15")
	c.line(x1, y, x2, y, "class", "measure")
	c.arrow(x1, y, 1)
	c.arrow(x2, y, -1)
	c.end()
}

// arrow draws the head of a measure that points away from direction.
func (c *canvas) arrow(x, y, direction float64) {
	tip := []xy{{x + 1.2*direction, y - 0.4}, {x, y}, {x + 1.2*direction, y + 0.4}}
	c.empty("path", "d", path(tip, true), "fill", "#000", "stroke", "none")
}

// done closes what is open and returns the picture.
func (c *canvas) done() string {
	for len(c.open) > 0 {
		c.end()
	}
	return c.b.String()
}

// xy is a place on a canvas, in millimetres.
type xy struct{ x, y float64 }

// path returns path data through pts.
func path(pts []xy, closed bool) string {
	var b strings.Builder
	for i, p := range pts {
		if i == 0 {
			b.WriteString("M")
		} else {
			b.WriteString(" L")
		}
		b.WriteString(num(p.x) + " " + num(p.y))
	}
	if closed {
		b.WriteString(" Z")
	}
	return b.String()
}

// num prints v to a thousandth.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// fills are patterns that differ in black and white: their ids and content.
// The first is the core's, the second the yarn's, the rest the slices'.
var fills = []struct{ id, content string }{
	{"core", `<rect width="3" height="3" fill="#fff"/><path d="M0 3L3 0" stroke="#888" stroke-width=".15"/>`},
	{"yarn", `<rect width="3" height="3" fill="#fff"/>` +
		`<path d="M0 .75q.75 -.7 1.5 0t1.5 0M0 2.25q.75 -.7 1.5 0t1.5 0" fill="none" stroke="#777" stroke-width=".15"/>`},
	{"slice1", `<rect width="3" height="3" fill="#c8c8c8"/>`},
	{"slice2", `<rect width="3" height="3" fill="#efefef"/>` +
		`<circle cx=".75" cy=".75" r=".2" fill="#444"/><circle cx="2.25" cy="2.25" r=".2" fill="#444"/>`},
	{"slice3", `<rect width="3" height="3" fill="#a8a8a8"/><path d="M0 0L3 3" stroke="#fff" stroke-width=".25"/>`},
	{"slice4", `<rect width="3" height="3" fill="#fff"/><path d="M0 1.5H3M1.5 0V3" stroke="#666" stroke-width=".15"/>`},
}

// patterns defines the fills under ids that start with prefix.
func (c *canvas) patterns(prefix string) {
	c.start("defs")
	for _, f := range fills {
		c.start("pattern", "id", prefix+"-"+f.id, "width", "3", "height", "3", "patternUnits", "userSpaceOnUse")
		c.b.WriteString(f.content) // our own constants, not text from outside
		c.end()
	}
	c.end()
}
