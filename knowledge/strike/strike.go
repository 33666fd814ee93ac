// Package strike computes what a head does when it meets a bar: how long it
// stays, how hard it pushes, which layer is squeezed, and which partials
// sound.
//
// A head is reduced to a Body, an instrument's note to a Bar. Quick computes
// a stroke by a reduced form for searching, Full integrates it, and Of makes
// the Report that people read. Order and difference between heads are
// trustworthy; absolute numbers are estimates.
package strike

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"mallow/knowledge"
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
	PartialsDB []float64 // level of each tuned partial against the fundamental
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
	Reference []Stroke // on the reference bar, softest first
	Registers []Register
	Steps     float64 // softness; higher is softer
	StepsTol  float64 // half-width of about 95 %
	Errors    []Error // what StepsTol is made of
	Grade     string  // very soft .. very hard
	OpensUp   float64 // octaves of cut-off from the softest dynamic to the loudest
	// Low and High bound the notes that the head serves; both are 0 when
	// it serves none of the instrument's.
	Low, High measure.Note
}

// Error is how far one uncertain figure may move the softness.
type Error struct {
	Part  string  // what is uncertain; the same text in two heads is the same error
	Steps float64 // move for the figure at the top of its tolerance
}

// Setting is what a head is judged against.
type Setting struct {
	Instrument knowledge.Instrument
	Low, High  measure.Note // range asked for; zero takes the instrument's
	Dynamics   []knowledge.Dynamic
	Scale      knowledge.Scale
}

// Of reports what a head does.
func Of(h head.Head, set Setting) (Report, error) {
	b, err := FromHead(h)
	if err != nil {
		return Report{}, err
	}
	if err := set.check(); err != nil {
		return Report{}, err
	}
	var r Report
	ref := Reference()
	if r.Reference, err = strokes(&b, &ref, set.Dynamics); err != nil {
		return Report{}, err
	}
	first, last := r.Reference[0], r.Reference[len(r.Reference)-1]
	r.OpensUp = math.Log2(last.CutoffHz / first.CutoffHz)
	mf := middle(set.Dynamics)
	r.Steps = Steps(r.Reference[mf].CutoffHz, set.Scale)
	r.Grade = Grade(r.Steps, set.Scale)

	low := cmp.Or(set.Low, set.Instrument.Low)
	high := cmp.Or(set.High, set.Instrument.High)
	for i, name := range []string{"low", "middle", "high"} {
		note := low + measure.Note(math.Round(float64(high-low)*float64(2*i+1)/6))
		bar, err := NewBar(set.Instrument, note)
		if err != nil {
			return Report{}, err
		}
		reg := Register{Name: name, Note: note}
		if reg.Strokes, err = strokes(&b, &bar, set.Dynamics); err != nil {
			return Report{}, err
		}
		r.Registers = append(r.Registers, reg)
	}
	speed := set.Dynamics[mf].SpeedMS.Value
	r.Errors = errorsOf(h, b, speed)
	r.StepsTol = spread(r.Errors)
	r.Low, r.High, err = serves(&b, set, speed)
	return r, err
}

func (s Setting) check() error {
	if len(s.Dynamics) == 0 {
		return errors.New("strike: no dynamics given")
	}
	for i, d := range s.Dynamics {
		if d.SpeedMS.Value <= 0 || i > 0 && d.SpeedMS.Value < s.Dynamics[i-1].SpeedMS.Value {
			return fmt.Errorf("strike: dynamic %s has speed %g m/s; speeds have to be above zero, softest first", d.ID, d.SpeedMS.Value)
		}
	}
	if s.Scale.MediumHz.Value <= 0 || len(s.Scale.Grades) == 0 {
		return errors.New("strike: the softness scale has no zero or no grades")
	}
	return nil
}

// middle returns the index of mf, or of the dynamic nearest the middle.
func middle(ds []knowledge.Dynamic) int {
	for i, d := range ds {
		if d.ID == "mf" {
			return i
		}
	}
	return (len(ds) - 1) / 2
}

// strokes plays a head on a bar at each dynamic.
func strokes(b *Body, bar *Bar, ds []knowledge.Dynamic) ([]Stroke, error) {
	out := make([]Stroke, 0, len(ds))
	for _, d := range ds {
		p, err := Full(b, bar, d.SpeedMS.Value)
		if err != nil {
			return nil, fmt.Errorf("%w (at %s)", err, d.ID)
		}
		out = append(out, p.stroke(d.ID))
	}
	return out, nil
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
	for _, v := range p.Bend {
		s.PartialsDB = append(s.PartialsDB, 20*math.Log10(max(v, 1e-12)/max(p.Bend[0], 1e-12)))
	}
	return s
}

// stepsPerOctave is how finely softness is counted.
const stepsPerOctave = 6

// Steps returns the softness of a cut-off at mf on the reference bar.
func Steps(cutoffHz float64, sc knowledge.Scale) float64 {
	return stepsPerOctave * math.Log2(sc.MediumHz.Value/cutoffHz)
}

// Grade returns the word for a softness.
func Grade(steps float64, sc knowledge.Scale) string {
	word := ""
	for i, g := range sc.Grades {
		if i == 0 || steps >= g.From {
			word = g.ID
		}
	}
	return word
}

// serves returns the lowest and highest note of the instrument on which the
// head both fills the bar out and keeps its fundamental, at speed v.
func serves(b *Body, set Setting, v float64) (low, high measure.Note, err error) {
	var c curve
	c.fill(b, 0.5*b.Mass*v*v, 26)
	for n := set.Instrument.Low; n <= set.Instrument.High; n++ {
		bar, err := NewBar(set.Instrument, n)
		if err != nil {
			return 0, 0, err
		}
		if b.Mass < set.Scale.FillShare.Value*bar.Mass {
			continue
		}
		if Hz(n) > c.stroke(b, &bar, v).CutoffHz {
			continue
		}
		if low == 0 {
			low = n
		}
		high = n
	}
	return low, high, nil
}
