// Package strike computes what a head does when it meets a bar: how long it
// stays, how hard it pushes, which layer is squeezed, and which partials
// sound.
package strike

import "mallow/knowledge/measure"

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
	StepsTol  float64
	Grade     string       // very soft .. very hard
	OpensUp   float64      // octaves of cut-off from p to ff
	Low, High measure.Note // the span of notes the head serves
}
