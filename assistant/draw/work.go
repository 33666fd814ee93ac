package draw

import (
	"fmt"
	"math"

	"mallow/knowledge/measure"
)

// Picture is a drawing of the work, with what it shows in words.
type Picture struct{ SVG, Desc string }

// The width of a drawing of the work, in millimetres.
const workWidth = 76.0

// Work draws what hands do at a step, from the figures of the head; ok is
// false for a step that needs no picture.
func Work(step, id string, s Section) (p Picture, ok bool) {
	w := work{s: s, r: mm(s.CoreR), high: 33}
	var draw func()
	switch step {
	case "drill-core":
		if s.BoreR == 0 {
			return p, false
		}
		w.title, draw = "Boring on centre", w.bore
		p.Desc = fmt.Sprintf("Left: the ball clamped with one pole up under the bit, %s wide, stopped at %s. Right: on a rod in the bore, the equator must not wander.",
			measure.Length(2*s.BoreR).Rule(), measure.Length(s.BoreDepth).Rule())
	case "pull-slice":
		if len(s.Layers) == 0 {
			return p, false
		}
		w.title, draw = "Pulling a slice on", w.pull
		p.Desc = "Left: one edge over the pole with both thumbs. Right: then a little on every side in turn, 1 to 4, never one side all the way."
	case "centre-slice":
		if len(s.Layers) == 0 {
			return p, false
		}
		w.title, draw = "Centring a slice", w.centre
		p.Desc = fmt.Sprintf("The slice, %s high on the ball, with its middle on the equator: as much ball shows over it as under it, a above and a below.",
			measure.Length(2*s.Layers[0].End).Rule())
	case "wrap-first":
		w.title, w.high, draw = "The first turns", 29, func() { w.turns(1.2) }
		p.Desc = "The first turns seen from the crown, 1 to 4: each passes just beside the crown, left and right of it in turn, and the ball is turned by one yarn's width, as the arrow shows, after each."
	case "wrap-second":
		w.title, w.high, draw = "The second layer", 29, func() { w.turns(w.bare() * 0.45) }
		p.Desc = "Turns of the second layer seen from the crown, 1 to 4: each keeps a finger's breadth from the crown, and the ball is turned as the arrow shows."
	case "crown-stitch":
		w.title, draw = "The crown stitch", w.stitch
		p.Desc = "The crown seen from above: a ring of 8 stitches a finger's breadth (about 15 mm) out, each under 2 or 3 turns; drawn in, it holds the turns together. A second ring goes outside it."
	case "finish-yarn":
		w.title, draw = "Tying off", w.tie
		p.Desc = "1 and 2: half hitches round the shaft under the head; 3: the needle takes the end up through the wrap and it is cut close."
	default:
		return p, false
	}
	w.c = newCanvas(id, w.title, p.Desc, 0, 0, workWidth, w.high, 1)
	draw()
	p.SVG = w.c.done()
	return p, true
}

// work is a drawing being made.
type work struct {
	s     Section
	c     *canvas
	title string
	r     float64 // mm, of the core
	high  float64 // mm, of the drawing
}

// bare is the radius in millimetres that the yarn is wound on.
func (w *work) bare() float64 { return 1000 * float64(w.s.Head.Bare) / 2 }

// size is the radius at which a ball is drawn: at most eleven millimetres.
func (w *work) size(r float64) float64 { return min(r, 11) }

var (
	pen  = []string{"fill", "none", "stroke", "#000", "stroke-width", "0.3"}
	thin = []string{"fill", "none", "stroke", "#000", "stroke-width", "0.15"}
)

func (w *work) ball(x, y, r float64) {
	w.c.empty("circle", append([]string{"cx", num(x), "cy", num(y), "r", num(r)}, pen...)...)
}

func (w *work) path(d string, style []string) {
	w.c.empty("path", append([]string{"d", d}, style...)...)
}

// arrow draws a line with a head from a to b.
func (w *work) arrow(a, b xy) {
	w.c.line(a.x, a.y, b.x, b.y, "stroke", "#000", "stroke-width", "0.25")
	l := math.Hypot(b.x-a.x, b.y-a.y)
	ux, uy := (b.x-a.x)/l, (b.y-a.y)/l
	w.c.empty("path", "d", path([]xy{{b.x - 1.6*ux + 0.7*uy, b.y - 1.6*uy - 0.7*ux}, b, {b.x - 1.6*ux - 0.7*uy, b.y - 1.6*uy + 0.7*ux}}, true), "fill", "#000")
}

func (w *work) say(x, y float64, text string) { w.c.text(x, y, "middle", text, "font-size", "2.4") }

func (w *work) bore() {
	r := w.size(w.r)
	k := r / w.r
	b, d := mm(w.s.BoreR)*k, mm(w.s.BoreDepth)*k
	x, y := 18.0, 21.0
	w.ball(x, y, r)
	w.path(path([]xy{{x - r - 3, y + r + 1}, {x - r - 3, y - 1}, {x - r - 0.4, y - 1}}, false), pen)
	w.path(path([]xy{{x + r + 3, y + r + 1}, {x + r + 3, y - 1}, {x + r + 0.4, y - 1}}, false), pen)
	rect(w.c, x-b, y-r, 2*b, d, foldLine)
	w.path(path([]xy{{x - b, 2}, {x - b, y - r - 2}, {x, y - r}, {x + b, y - r - 2}, {x + b, 2}}, false), pen)
	w.arrow(xy{x + b + 4, 3}, xy{x + b + 4, 8})
	x = 56
	w.ball(x, y-3, r)
	rect(w.c, x-b*0.9, y-3+r-d, 1.8*b, d+4, thin)
	w.path(fmt.Sprintf("M%s %s a%s %s 0 0 0 %s 0", num(x-r), num(y-3), num(r), num(r*0.25), num(2*r)), foldLine)
	w.path(fmt.Sprintf("M%s %s a3 1.2 0 1 0 5 0", num(x-2.5), num(y+r+0.5)), thin)
}

func (w *work) pull() {
	r := w.size(w.r)
	x, y := 18.0, 20.0
	w.ball(x, y, r)
	h := r * 0.9
	w.path(path([]xy{{x - r*0.75, y - r - h*0.55}, {x - r*0.95, y - r*0.25}, {x + r*0.55, y - r*0.85}, {x + r*0.4, y - r - h}, {x - r*0.75, y - r - h*0.55}}, true), pen)
	w.arrow(xy{x - r - 5, y - r - 1}, xy{x - r*0.95 - 0.8, y - r*0.3})
	w.arrow(xy{x + r + 3, y - r - 2}, xy{x + r*0.7, y - r*0.8})
	x, y = 56, 18
	w.ball(x, y, r)
	w.ball(x, y, r*0.72)
	for i, a := range []float64{-90, 90, 0, 180} {
		sin, cos := math.Sincos(a * math.Pi / 180)
		w.arrow(xy{x + r*0.45*cos, y + r*0.45*sin}, xy{x + (r-0.3)*cos, y + (r-0.3)*sin})
		w.c.text(x+(r+2.4)*cos, y+(r+2.4)*sin+0.9, "middle", fmt.Sprint(i+1), "font-size", "2.6")
	}
}

func (w *work) centre() {
	l := w.s.Layers[0]
	r := w.size(w.r)
	k := r / w.r
	x, y := 38.0, 17.0
	w.ball(x, y, r)
	top := mm(l.End) * k
	out := mm(l.Outer[len(l.Outer)/2].R) * k
	for _, side := range []float64{1, -1} {
		w.path(path([]xy{{x + side*r*0.72, y - top}, {x + side*out, y - top*0.6}, {x + side*out, y + top*0.6}, {x + side*r*0.72, y + top}}, true), append([]string{"fill", "#c8c8c8"}, pen[2:]...))
	}
	w.c.line(x-out-4, y, x+out+4, y, append([]string{"class", "equator"}, foldLine...)...)
	w.c.text(x+out+5, y+0.9, "start", "equator", "font-size", "2.4")
	for _, end := range []float64{-1, 1} {
		w.c.line(x-out-7, y+end*r, x-1, y+end*r, thin...)
		w.c.line(x-out-7, y+end*top, x-r*0.72, y+end*top, thin...)
		w.c.text(x-out-9, y+end*(r+top)/2+0.9, "end", "a", "font-size", "2.6")
		w.c.line(x-out-7, y+end*r, x-out-7, y+end*top, pen...)
	}
}

// turns draws four turns at a distance from the crown.
func (w *work) turns(off float64) {
	r := w.size(w.bare())
	off *= r / max(w.bare(), 1e-9)
	off = max(off, 0.5)
	for i := range 4 {
		x, y := 11+18*float64(i), 16.0
		rr := min(r, 7.6)
		o := off * rr / r
		w.ball(x, y, rr)
		for k := range i + 1 {
			sin, cos := math.Sincos(float64(k)*0.22 - 0.3)
			aside := o
			if k%2 == 1 {
				aside = -o
			}
			half := math.Sqrt(rr*rr - aside*aside)
			width := "0.3"
			if k == i {
				width = "0.7"
			}
			w.c.line(x-half*sin-aside*cos, y+half*cos-aside*sin, x+half*sin-aside*cos, y-half*cos-aside*sin, "stroke", "#000", "stroke-width", width)
		}
		w.c.empty("circle", "cx", num(x), "cy", num(y), "r", "0.6")
		w.path(fmt.Sprintf("M%s %s a%s %s 0 0 1 %s %s", num(x+rr*0.5), num(y-rr-1.6), num(rr+2), num(rr+2), num(rr*0.6), num(rr*0.55)), thin)
		w.arrow(xy{x + rr*1.02, y - rr*0.95}, xy{x + rr*1.12, y - rr*0.72})
		w.say(x, y+rr+4, fmt.Sprint(i+1))
	}
}

func (w *work) stitch() {
	for n, shut := range []bool{false, true} {
		x, y, r := 19+38*float64(n), 16.0, 13.0
		w.ball(x, y, r)
		for k := range 12 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 12)
			w.c.line(x-r*cos, y-r*sin, x+r*cos, y+r*sin, "stroke", "#999", "stroke-width", "0.2")
		}
		ring := 6.5
		if shut {
			ring = 3
		}
		for k := range 8 {
			a := 2 * math.Pi * float64(k) / 8
			s1, c1 := math.Sincos(a)
			s2, c2 := math.Sincos(a + 0.5)
			w.c.line(x+ring*c1, y+ring*s1, x+ring*c2, y+ring*s2, "stroke", "#000", "stroke-width", "0.8")
		}
		if shut {
			w.c.empty("circle", "cx", num(x), "cy", num(y), "r", "6", "fill", "none", "stroke", "#000", "stroke-width", "0.5", "stroke-dasharray", "2 1.2")
		}
	}
	w.arrow(xy{34.5, 16}, xy{41.5, 16})
}

func (w *work) tie() {
	for n := range 3 {
		x, y := 13+25*float64(n), 8.0
		w.path(fmt.Sprintf("M%s %s a9 7 0 0 0 18 0", num(x-9), num(y-4)), pen)
		w.c.line(x-2, y+2.6, x-2, 32, pen...)
		w.c.line(x+2, y+2.6, x+2, 32, pen...)
		hitch := func(y float64) { w.c.line(x-2.6, y+0.6, x+2.6, y-0.6, "stroke", "#000", "stroke-width", "1") }
		hitch(y + 5)
		if n > 0 {
			hitch(y + 7.4)
		}
		if n < 2 {
			w.path(fmt.Sprintf("M%s %s q6 3 7 8", num(x+2.6), num(y+4.4+2.4*float64(n))), pen)
		} else {
			w.path(fmt.Sprintf("M%s %s q3 -3 2.4 -9", num(x+2.6), num(y+6.8)), foldLine)
			w.arrow(xy{x + 5, y - 1.4}, xy{x + 4.8, y - 5})
		}
		w.say(x-7, 30, fmt.Sprint(n+1))
	}
}
