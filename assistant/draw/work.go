package draw

import (
	"fmt"
	"math"

	"mallow/knowledge/measure"
)

// Picture is a drawing of the work, with what it shows in words.
type Picture struct{ SVG, Desc string }

// Trials are the figures of the tests of a finished head; zero for a test that
// is not made.
type Trials struct {
	PullKg    float64 // hung from the shaft
	SqueezeMM float64 // that the head is pressed narrower by
	SqueezeKg float64 // what a scale shows then
}

// The width of a drawing of the work, and its texts, in millimetres: 8 pt where it
// is printed 34 mm wide beside its step.
const workWidth, workText = 76.0, "6.4"

// Work draws what hands do at a step, from the figures of the head; ok is
// false for a step that needs no picture.
func Work(step, id string, s Section, t Trials) (p Picture, ok bool) {
	w := work{s: s, t: t, r: mm(s.CoreR), high: 33}
	var draw func()
	switch step {
	case "drill-core":
		if s.BoreR == 0 {
			return p, false
		}
		w.title, w.high, draw = "Boring on centre", 36, w.bore
		p.Desc = fmt.Sprintf("Left: the ball clamped with one pole up under the bit, %s wide, stopped at %s. Right: on a rod in the bore, the equator must not wander.",
			measure.Length(2*s.BoreR).Rule(), measure.Length(s.BoreDepth).Rule())
	case "pull-slice":
		if len(s.Layers) == 0 {
			return p, false
		}
		w.title, w.high, draw = "Pulling a slice on", 38, w.pull
		p.Desc = "Left: one edge over the pole with both thumbs. Right, from above: then a little on every side in turn, 1 to 4, never one side all the way."
	case "centre-slice":
		if len(s.Layers) == 0 {
			return p, false
		}
		w.title, w.high, draw = "Centring a slice", 28, w.centre
		p.Desc = fmt.Sprintf("The slice, %s high on the ball, with its middle on the equator: as much ball shows over it as under it, a above and a below.",
			measure.Length(2*s.Layers[0].End).Rule())
	case "wrap-first":
		w.title, w.high, draw = "The first turns", 28, func() { w.turns(1.2) }
		p.Desc = "After 1, 2, 3 and 16 turns, seen from the crown: each, the last drawn thick, passes just beside the crown, left and right of it in turn, and the ball is turned by one yarn's width, as the arrow shows, after each."
	case "wrap-second":
		w.title, w.high, draw = "The second layer", 28, func() { w.turns(w.bare() * 0.45) }
		p.Desc = "After 1, 2, 3 and 16 turns of the second layer, seen from the crown: each, the last drawn thick, keeps a finger's breadth from the crown, and the ball is turned as the arrow shows."
	case "crown-stitch":
		w.title, w.high, draw = "The crown stitch", 28, w.stitch
		p.Desc = "The crown seen from above: a ring of 8 stitches a finger's breadth (about 15 mm) out, each under 2 or 3 turns; drawn in, it holds the turns together. A second ring goes outside it."
	case "finish-yarn":
		w.title, w.high, draw = "Tying off", 34, w.tie
		p.Desc = "In 1 and 2: half hitches round the shaft under the head; 3: the needle takes the end up through the wrap and it is cut close."
	case "pull-test":
		if t.PullKg == 0 {
			return p, false
		}
		w.title, w.high, draw = "Trying the shaft", 40, w.pulled
		p.Desc = fmt.Sprintf("The head lies over a gap between two boards, its shaft down through the gap; %.1f kg of water hang from a cord hitched to the shaft, a hand above the floor.", t.PullKg)
	case "squeeze-test":
		if t.SqueezeKg == 0 {
			return p, false
		}
		w.title, w.high, draw = "The squeeze test", 36, w.squeezed
		p.Desc = fmt.Sprintf("The head on its side between two flat blocks on a kitchen scale, pressed until it is %.1f mm narrower; the scale shows about %.1f kg.", t.SqueezeMM, t.SqueezeKg)
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
	t     Trials
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

func (w *work) say(x, y float64, anchor, text string) {
	w.c.text(x, y, anchor, text, "font-size", workText)
}

// turned draws an arrow clockwise round (x, y) at a radius, between two angles
// in degrees, of which 0 points right and 90 up.
func (w *work) turned(x, y, r, from, to float64) {
	at := func(deg, r float64) xy {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return xy{x + r*cos, y - r*sin}
	}
	a, b := at(from, r), at(to, r)
	w.path(fmt.Sprintf("M%s %s A%s %s 0 0 1 %s %s", num(a.x), num(a.y), num(r), num(r), num(b.x), num(b.y)), pen)
	back := 1.8 / r * 180 / math.Pi
	w.c.empty("path", "d", path([]xy{at(to+back, r-0.9), at(to-back*0.3, r), at(to+back, r+0.9)}, true), "fill", "#000")
}

func (w *work) bore() {
	r := w.size(w.r)
	k := r / w.r
	b, d := mm(w.s.BoreR)*k, mm(w.s.BoreDepth)*k
	x, y := 19.0, 23.0
	for _, side := range []float64{1, -1} { // the jaws of the jig
		w.path(path([]xy{{x + side*(r+5), y + r + 1}, {x + side*(r+5), y - 4}, {x + side*(r-1.2), y - 4}, {x + side*r, y}, {x + side*(r-1.2), y + 4}, {x + side*(r+0.6), y + r + 1}}, true),
			append([]string{"fill", "#e4e4e4"}, pen[2:]...))
	}
	w.c.empty("circle", append([]string{"cx", num(x), "cy", num(y), "r", num(r), "fill", "#fff"}, pen[2:]...)...)
	rect(w.c, x-b, y-r, 2*b, d, foldLine)
	w.path(path([]xy{{x - b, 1}, {x - b, y - r - 2}, {x, y - r}, {x + b, y - r - 2}, {x + b, 1}}, true), pen)
	w.arrow(xy{x + b + 4, 2}, xy{x + b + 4, 9})
	x, y = 56, 15
	w.c.line(x-r-5, y, x+r+5, y, foldLine...)
	w.ball(x, y, r)
	rect(w.c, x-b, y+r-d, 2*b, d, foldLine)
	w.path(path([]xy{{x - b*0.9, y + r}, {x - b*0.9, 35}, {x + b*0.9, 35}, {x + b*0.9, y + r}}, false), pen)
	w.turned(x, y+r+4.5, 5.5, 150, 30)
}

func (w *work) pull() {
	r := w.size(w.r)
	x, y := 20.0, 26.0
	w.ball(x, y, r)
	// the slice as a tube, tilted, its lower rim over one side of the pole
	w.c.start("g", "transform", fmt.Sprintf("rotate(-18 %s %s)", num(x), num(y)))
	half, low, high := r*0.82, y-r*0.35, y-r*1.85
	w.path(fmt.Sprintf("M%s %s V%s A%s 2 0 0 1 %s %s V%s A%s 2 0 0 1 %s %s Z", num(x-half), num(low), num(high), num(half), num(x+half), num(high), num(low), num(half), num(x-half), num(low)),
		append([]string{"fill", "#e4e4e4", "fill-opacity", "0.8"}, pen[2:]...))
	w.c.empty("ellipse", append([]string{"cx", num(x), "cy", num(high), "rx", num(half), "ry", "2"}, pen...)...)
	w.c.end()
	w.arrow(xy{x - r - 7, y - r - 4}, xy{x - r - 0.5, y - 2})
	w.arrow(xy{x + r + 6, y - r - 8}, xy{x + r*0.75, y - r*0.85})
	x, y = 56, 20
	w.ball(x, y, r)
	w.ball(x, y, r*0.68)
	for i, a := range []float64{-90, 90, 0, 180} {
		sin, cos := math.Sincos(a * math.Pi / 180)
		w.arrow(xy{x + r*0.3*cos, y + r*0.3*sin}, xy{x + (r-0.4)*cos, y + (r-0.4)*sin})
		w.say(x+(r+3.6)*cos, y+(r+3.6)*sin+2.2, "middle", fmt.Sprint(i+1))
	}
}

func (w *work) centre() {
	l := w.s.Layers[0]
	r := w.size(w.r)
	k := r / w.r
	x, y := 32.0, 14.0
	w.ball(x, y, r)
	top := mm(l.End) * k
	out := mm(l.Outer[len(l.Outer)/2].R) * k
	edge := math.Sqrt(max(r*r-top*top, 0.2*r*r))
	w.path(path([]xy{{x - edge, y - top}, {x - out, y - top*0.6}, {x - out, y + top*0.6}, {x - edge, y + top}, {x + edge, y + top}, {x + out, y + top*0.6}, {x + out, y - top*0.6}, {x + edge, y - top}}, true),
		append([]string{"fill", "#d4d4d4"}, pen[2:]...))
	w.c.line(x-out-3, y, x+out+3, y, append([]string{"class", "equator"}, foldLine...)...)
	w.say(x+out+4, y+2, "start", "equator")
	for _, end := range []float64{-1, 1} {
		at := x - out - 5
		w.c.line(at-1, y+end*r, x-1, y+end*r, thin...)
		w.c.line(at-1, y+end*top, x-edge, y+end*top, thin...)
		w.c.line(at, y+end*r, at, y+end*top, pen...)
		w.say(at-1.5, y+end*(r+top)/2+1.8, "end", "a")
	}
}

// shown is how many turns the last of the pictures of turns has.
const shown = 16

// turns draws the first three turns at a distance from the crown, then all of
// the first sixteen.
func (w *work) turns(off float64) {
	const r = 7.2
	off = max(off*r/max(w.bare(), 1e-9), 0.5)
	for i, n := range []int{1, 2, 3, shown} {
		x, y := 9.5+19*float64(i), 12.0
		w.ball(x, y, r)
		by := 0.3
		if n == shown {
			by = math.Pi / shown
		}
		for k := range n {
			sin, cos := math.Sincos(float64(k)*by - 0.35)
			aside := off
			if k%2 == 1 {
				aside = -off
			}
			half := math.Sqrt(r*r - aside*aside)
			width := "0.3"
			if k == n-1 {
				width = "1"
			}
			w.c.line(x-half*sin-aside*cos, y+half*cos-aside*sin, x+half*sin-aside*cos, y-half*cos-aside*sin, "stroke", "#000", "stroke-width", width)
		}
		w.c.empty("circle", "cx", num(x), "cy", num(y), "r", "0.7")
		w.turned(x, y, r+1.7, 62, 8)
		w.say(x, 27, "middle", fmt.Sprint(n))
	}
}

func (w *work) stitch() {
	for n, shut := range []bool{false, true} {
		x, y, r := 18+40*float64(n), 14.0, 12.5
		w.ball(x, y, r)
		for k := range 12 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 12)
			w.c.line(x-r*cos, y-r*sin, x+r*cos, y+r*sin, "stroke", "#999", "stroke-width", "0.2")
		}
		ring := 6.5
		if shut {
			ring = 2.6
		}
		for k := range 8 {
			a := 2 * math.Pi * float64(k) / 8
			s1, c1 := math.Sincos(a)
			s2, c2 := math.Sincos(a + 0.5)
			w.c.line(x+ring*c1, y+ring*s1, x+ring*c2, y+ring*s2, "stroke", "#000", "stroke-width", "1")
		}
		if shut {
			w.c.empty("circle", "cx", num(x), "cy", num(y), "r", "6.5", "fill", "none", "stroke", "#000", "stroke-width", "0.6", "stroke-dasharray", "2.4 1.6")
		}
	}
	w.arrow(xy{33, 14}, xy{43, 14})
}

func (w *work) tie() {
	for n := range 3 {
		x, y := 13+25*float64(n), 11.0
		w.path(fmt.Sprintf("M%s %s A9 9 0 0 0 %s %s", num(x-9), num(y-8), num(x+9), num(y-8)), pen)
		for _, side := range []float64{-2, 2} {
			w.c.line(x+side, y+0.7, x+side, 33, pen...)
		}
		hitch := func(y float64) { w.c.line(x-3, y+0.7, x+3, y-0.7, "stroke", "#000", "stroke-width", "1.2") }
		hitch(y + 4)
		if n > 0 {
			hitch(y + 7)
		}
		if n < 2 {
			w.path(fmt.Sprintf("M%s %s q5 2 6 9", num(x+3), num(y+3.3+3*float64(n))), []string{"fill", "none", "stroke", "#000", "stroke-width", "0.7"})
		} else {
			w.path(fmt.Sprintf("M%s %s q3.5 -2 2 -8.5", num(x+3), num(y+6.3)), foldLine)
			w.arrow(xy{x + 5.2, y - 2.4}, xy{x + 3.8, y - 9})
		}
		w.say(x-7, 30, "middle", fmt.Sprint(n+1))
	}
}

// head draws the finished head, of radius r about (x, y).
func (w *work) head(x, y, r float64) {
	w.c.empty("circle", append([]string{"cx", num(x), "cy", num(y), "r", num(r), "fill", "#e4e4e4"}, pen[2:]...)...)
}

func (w *work) pulled() {
	const x, r, shelf = 30.0, 8.0, 18.0
	for _, side := range []float64{-1, 1} {
		w.path(path([]xy{{x + side*3.4, shelf}, {x + side*24, shelf}, {x + side*24, shelf + 3}, {x + side*3.4, shelf + 3}}, true), append([]string{"fill", "#fff"}, pen[2:]...))
	}
	rect(w.c, x-1.5, shelf-2, 3, 13, pen)
	w.head(x, shelf-7.2, r)
	w.path(path([]xy{{x - 2.4, shelf + 7.3}, {x + 2.4, shelf + 6.3}}, false), []string{"fill", "none", "stroke", "#000", "stroke-width", "1.1"})
	w.path(fmt.Sprintf("M%s %s q6 1 7 4", num(x+2.4), num(shelf+6.3)), pen)
	rect(w.c, x+5.4, shelf+10.5, 8, 9, append([]string{"fill", "#d4d4d4"}, pen[2:]...))
	w.say(x+15, shelf+16.5, "start", fmt.Sprintf("%.1f kg", w.t.PullKg))
	w.c.line(2, 39.4, 74, 39.4, pen...)
}

func (w *work) squeezed() {
	const x, r = 24.0, 8.0
	rect(w.c, x-16, 30, 32, 5, pen) // the scale
	w.c.line(x-18, 29, x+18, 29, pen...)
	w.say(x+19, 34.8, "start", fmt.Sprintf("%.1f kg", w.t.SqueezeKg))
	board := append([]string{"fill", "#fff"}, pen[2:]...)
	rect(w.c, x-12, 26.5, 24, 2.5, board)
	w.c.empty("ellipse", append([]string{"cx", num(x), "cy", "19", "rx", num(r), "ry", "7.5", "fill", "#e4e4e4"}, pen[2:]...)...)
	rect(w.c, x-1.5, 17.5, 3, 3, pen) // the shaft's end, towards the eye
	rect(w.c, x-12, 9, 24, 2.5, board)
	for _, dx := range []float64{-8, 8} {
		w.arrow(xy{x + dx, 1}, xy{x + dx, 8})
	}
	at := x + 15.0
	w.c.line(at, 11.5, at, 26.5, pen...)
	for _, y := range []float64{11.5, 26.5} {
		w.c.line(at-2, y, at+2, y, pen...)
	}
	w.say(at+3, 21.2, "start", fmt.Sprintf("−%.1f mm", w.t.SqueezeMM))
}
