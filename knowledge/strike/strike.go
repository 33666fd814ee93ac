// Package strike computes what a head does when it meets a bar: how long it
// stays, how hard it pushes, which layer is squeezed, and which partials
// sound.
//
// A head is reduced to a Body, an instrument's note to a Bar. Quick computes
// a stroke by a reduced form for searching, Full integrates it, and Of makes
// the Report that people read.
//
// Each layer law stands in a function of its own with its source and range.
// One patch of contact serves all layers, and a depth below it shares in the
// squeeze by how far the load has spread; see series.squeeze.
//
// Order and difference between heads are trustworthy; absolute numbers are
// estimates until a built head has been measured. Left out: the slices' edges
// and their pull, which the thin-layer factors know nothing of; the shaft in
// the core and its swing; a bar that comes back and knocks the head again; the
// bar's undercut, twisting and cords.
package strike

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// Stroke is one stroke at one dynamic on one bar.
type Stroke struct {
	Dynamic    string
	SpeedMS    float64
	ContactS   float64
	PeakN      float64
	ImpulseNS  float64
	CutoffHz   float64   // the force spectrum is 10 dB down
	Share      []float64 // of the compression: core, each slice, yarn; sums to 1
	PartialsDB []float64 // level of each tuned partial against the fundamental, over a spread of speeds
	Rebound    float64   // speed of parting over speed of approach
	Beyond     bool      // a layer law was used past its range
}

// Register is the strokes on one bar, softest first.
type Register struct {
	Name    string // low, middle, high
	Note    measure.Note
	Strokes []Stroke
}

// Report is what a head does over an instrument.
type Report struct {
	Reference   []Stroke // on the reference bar, softest first
	Registers   []Register
	Instrument  string  // its id; the words and notches count from its medium
	Softness    float64 // notches from the instrument's medium; higher is softer
	SoftnessTol float64 // half-width of about 95 %
	Errors      []Error // what SoftnessTol is made of
	// WithinTol is what is left of SoftnessTol where two heads share the kind
	// of core and the yarn, so that the model is off alike for both.
	WithinTol float64
	Grade     string  // very soft .. very hard
	OpensUp   float64 // octaves of cut-off from the softest dynamic to the loudest
	// More and Less are the notches that another slice like the outermost
	// would add, and that leaving that one out would take away; 0 without
	// slices.
	More, Less float64
	// Low and High bound the notes that the head serves; both are 0 when
	// it serves none of the instrument's. Above High notes lose weight:
	// FadesDB more at its octave than at High itself; 0 where High is the
	// instrument's top.
	Low, High measure.Note
	FadesDB   float64
	// Squeeze is the point of the squeeze test that a kitchen scale and a
	// caliper read best, zero for a head too hard for it.
	Squeeze      Squeezed
	SqueezeCurve []Squeezed
}

// Error is how far one uncertain figure may move the softness.
type Error struct {
	Part     string  // what is uncertain; the same text in two heads is the same error
	Model    bool    // it is the model's own, not a part's
	Softness float64 // move for the figure at the top of its tolerance
}

// Setting is what a head is judged against.
type Setting struct {
	Instrument knowledge.Instrument
	Low, High  measure.Note // range asked for; zero takes the instrument's
	Dynamics   []knowledge.Dynamic
	Scale      knowledge.Scale
}

// Of reports what a head does, each stroke integrated in full. It takes some
// milliseconds.
func Of(h head.Head, set Setting) (Report, error) {
	b, err := FromHead(h)
	if err != nil {
		return Report{}, err
	}
	if err := set.check(); err != nil {
		return Report{}, err
	}
	set.Scale = set.Scale.For(set.Instrument.Kind)
	r, err := report(&b, set)
	if err != nil {
		return Report{}, err
	}
	r.Instrument = set.Instrument.ID
	r.Errors = errorsOf(h, b, set.Speed(), toldTension(h, set.Scale.Doubt))
	r.SoftnessTol = spread(r.Errors)
	r.WithinTol = spread(slices.DeleteFunc(slices.Clone(r.Errors), func(e Error) bool { return e.Model }))
	r.More, r.Less = slicesMore(h, b, set.Speed())
	r.Squeeze, r.SqueezeCurve, err = SqueezeTest(h, set.Scale.Doubt)
	return r, err
}

// slicesMore returns the notches that a further slice like the outermost would
// add to a head, and that leaving the outermost out would take away.
func slicesMore(h head.Head, b Body, v float64) (more, less float64) {
	n := len(b.Rubber)
	if n == 0 {
		return 0, 0
	}
	ref := Reference()
	hz := func(b Body) float64 { return Quick(nil, &b, &ref, []float64{v})[0].CutoffHz }
	last, outer := b.Rubber[n-1], h.Layers[n-1]
	grown := float64(outer.Outer) / float64(outer.Under) // its ring is so much larger

	with, without := b, b
	with.Rubber = append(slices.Clone(b.Rubber), last)
	with.Radius += last.Wall
	with.Mass += float64(outer.Mass) * grown
	without.Rubber = b.Rubber[:n-1]
	without.Radius -= last.Wall
	without.Mass -= float64(outer.Mass)
	at := hz(b)
	return notchesPerOctave * math.Log2(at/hz(with)), notchesPerOctave * math.Log2(hz(without)/at)
}

// report plays every stroke of a report.
func report(b *Body, set Setting) (Report, error) {
	strokes := func(bar Bar) ([]Stroke, error) {
		out := make([]Stroke, len(set.Dynamics))
		top := set.Dynamics[len(set.Dynamics)-1].SpeedMS.Value
		var c curve
		c.fill(b, bar.Flat, b.energy(top*(1+speedSpread)), reportPoints)
		for i, d := range set.Dynamics {
			p, err := Full(b, &bar, d.SpeedMS.Value)
			if err != nil {
				return nil, fmt.Errorf("%w (%s on note %d)", err, d.ID, bar.Note)
			}
			out[i] = p.stroke(d.ID)
			out[i].PartialsDB = c.partials(b, &bar, d.SpeedMS.Value)
		}
		return out, nil
	}
	var r Report
	var err error
	if r.Reference, err = strokes(Reference()); err != nil {
		return Report{}, err
	}
	first, last := r.Reference[0], r.Reference[len(r.Reference)-1]
	r.OpensUp = math.Log2(last.CutoffHz / first.CutoffHz)
	r.Softness = Softness(r.Reference[set.middle()].CutoffHz, set.Scale)
	r.Grade = Grade(r.Softness, set.Scale)

	low := cmp.Or(set.Low, set.Instrument.Low)
	high := cmp.Or(set.High, set.Instrument.High)
	for i, name := range []string{"low", "middle", "high"} {
		note := low + measure.Note(math.Round(float64(high-low)*float64(2*i+1)/6))
		bar, err := NewBar(set.Instrument, note)
		if err != nil {
			return Report{}, err
		}
		reg := Register{Name: name, Note: note}
		if reg.Strokes, err = strokes(bar); err != nil {
			return Report{}, err
		}
		r.Registers = append(r.Registers, reg)
	}
	return r, r.serves(b, set)
}

// speedSpread is by how much hands miss the speed of a dynamic: levels of
// partials are averaged over so much to either side, in spreadSteps strokes.
// At one speed a partial can sit in a null of the push's spectrum and come
// 20 dB up with the next stroke. An assumption.
const (
	speedSpread = 0.45
	spreadSteps = 9
)

// partials returns the level of each partial against the fundamental at about
// a speed, in dB: the mean of what strokes of a spread of speeds leave in the
// bar.
func (c *curve) partials(b *Body, bar *Bar, v float64) []float64 {
	var sum [3]float64
	var p push
	for i := range spreadSteps {
		off := speedSpread * (2*float64(i)/(spreadSteps-1) - 1)
		c.stroke(b, bar, v*(1+off), &p)
		for k, x := range p.bend {
			sum[k] += x * x
		}
	}
	out := make([]float64, len(sum))
	for k, x := range sum {
		out[k] = decibels(math.Sqrt(x), math.Sqrt(sum[0]))
	}
	return out
}

// Speed returns the head speed at mf in m/s, or 0 without dynamics.
func (s Setting) Speed() float64 {
	if len(s.Dynamics) == 0 {
		return 0
	}
	return s.Dynamics[s.middle()].SpeedMS.Value
}

func (s Setting) check() error {
	if len(s.Dynamics) == 0 {
		return fault.Errorf("no dynamics given")
	}
	for i, d := range s.Dynamics {
		if d.SpeedMS.Value <= 0 || i > 0 && d.SpeedMS.Value < s.Dynamics[i-1].SpeedMS.Value {
			return fault.Errorf("dynamic %s has speed %g m/s; speeds have to be above zero, softest first", d.ID, d.SpeedMS.Value)
		}
	}
	if s.Scale.MediumHz.Value <= 0 || len(s.Scale.Grades) == 0 {
		return fault.Errorf("the softness scale has no zero or no grades")
	}
	return nil
}

// middle returns the index of mf, or of the dynamic nearest the middle.
func (s Setting) middle() int {
	for i, d := range s.Dynamics {
		if d.ID == "mf" {
			return i
		}
	}
	return (len(s.Dynamics) - 1) / 2
}

func (p *Pulse) stroke(dynamic string) Stroke {
	s := Stroke{
		Dynamic: dynamic, SpeedMS: p.SpeedMS, ContactS: p.ContactS, PeakN: p.PeakN,
		ImpulseNS: p.ImpulseNS, CutoffHz: p.CutoffHz, Rebound: p.Rebound, Beyond: p.Beyond,
	}
	total := 0.0
	for _, d := range p.Squeeze {
		total += d
	}
	for _, d := range p.Squeeze {
		s.Share = append(s.Share, d/total)
	}
	return s
}

// decibels returns the level of a over b, held within what can be heard.
func decibels(a, b float64) float64 {
	return 20 * math.Log10(max(a, 1e-5*b, 1e-300)/max(b, 1e-300))
}

// notchesPerOctave is how finely softness is counted.
const notchesPerOctave = 6

// Softness returns the softness of a cut-off at mf on the reference bar.
func Softness(cutoffHz float64, sc knowledge.Scale) float64 {
	return notchesPerOctave * math.Log2(sc.MediumHz.Value/cutoffHz)
}

// Grade returns the word for a softness.
func Grade(notches float64, sc knowledge.Scale) string {
	word := ""
	for i, g := range sc.Grades {
		if i == 0 || notches >= g.From {
			word = g.ID
		}
	}
	return word
}

// serves finds the notes that the head serves at mf, and how they fade above.
func (r *Report) serves(b *Body, set Setting) error {
	k, err := NewKeyboard(set.Instrument, set.Scale)
	if err != nil {
		return err
	}
	v := set.Speed()
	var c curve
	k.squeeze(&c, b, v)
	r.Low, r.High = k.served(&c, b, v)
	if r.High == 0 || r.High == set.Instrument.High {
		return nil
	}
	// How much an octave more takes away.
	var here, above float64
	var p push
	for i := range spreadSteps {
		off := speedSpread * (2*float64(i)/(spreadSteps-1) - 1)
		c.stroke(b, k.bar(r.High), v*(1+off), &p)
		x, y := p.level(2*math.Pi*r.High.Hz()), p.level(4*math.Pi*r.High.Hz())
		here, above = here+x*x, above+y*y
	}
	r.FadesDB = decibels(math.Sqrt(here), math.Sqrt(above))
	return nil
}
