package strike

import (
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
)

// Bar is a bar as the head meets it: how freely the point of the strike moves
// as a rigid body and in the first three bending modes.
//
// The mode shapes and so the modal masses are those of a uniform free bar.
// Undercutting tunes the ratios and moves mass about; no published modal
// masses of undercut bars were found, so these are estimates.
type Bar struct {
	Note  measure.Note
	Mass  float64 // kg
	Rigid float64 // 1/kg: one over the mass felt as the bar moves whole, on soft cords
	Modes [3]Mode // the tuned partials, lowest first
}

// Mode is one bending mode at the point of the strike.
type Mode struct {
	Omega    float64 // rad/s
	Damping  float64 // of critical
	Mobility float64 // 1/kg: shape squared over the bar's mass
	Shape    float64 // at the strike, where its square averages 1 over the bar
}

// strikeAt is where along the bar the head lands: a little off the middle,
// where the second mode would be silent. Common practice, no source.
const strikeAt = 0.42

// NewBar returns the bar of an instrument that sounds a note. The note need
// not lie in the instrument's range.
func NewBar(inst knowledge.Instrument, note measure.Note) (Bar, error) {
	m, err := barMass(inst, note)
	if err != nil {
		return Bar{}, err
	}
	return newBar(note, note.Hz(), m, inst.Ratios, inst.LossFactor.Value), nil
}

// Reference is the bar that the softness scale is read on: the blank of a
// published beam example (60 × 19.15 × 300 mm, 837 kg/m³, 300 Hz, ratios 4
// and 9.8; second-hand; its mass derived), with the loss factor measured on
// rosewood marimba bars (0.45 %).
func Reference() Bar {
	return newBar(62, 300, 0.289, []float64{1, 4, 9.8}, 0.0045)
}

func newBar(note measure.Note, hz, mass float64, ratios []float64, loss float64) Bar {
	b := Bar{Note: note, Mass: mass}
	off := strikeAt - 0.5
	b.Rigid = (1 + 12*off*off) / mass // moving whole, and turning about its middle
	for i := range b.Modes {
		w := 2 * math.Pi * hz
		if i < len(ratios) {
			w *= ratios[i]
		} else {
			w *= FreeRatio(i)
		}
		s := FreeShape(i, strikeAt)
		b.Modes[i] = Mode{Omega: w, Damping: loss / 2, Mobility: s * s / mass, Shape: s}
	}
	return b
}

// barMass reads the instrument's bar masses, the logarithm linear in pitch
// between and beyond the notes given.
func barMass(inst knowledge.Instrument, note measure.Note) (float64, error) {
	ms := slices.Clone(inst.BarMass)
	slices.SortFunc(ms, func(a, b knowledge.BarMass) int { return int(a.Note - b.Note) })
	for _, m := range ms {
		if m.Mass <= 0 {
			return 0, fault.Errorf("%s: bar mass at note %d is %g kg; it has to be above zero", inst.ID, m.Note, float64(m.Mass))
		}
	}
	switch len(ms) {
	case 0:
		return 0, fault.Errorf("%s gives no bar mass", inst.ID)
	case 1:
		return float64(ms[0].Mass), nil
	}
	i := 1
	for i < len(ms)-1 && ms[i].Note < note {
		i++
	}
	a, b := ms[i-1], ms[i]
	if a.Note == b.Note {
		return float64(a.Mass), nil
	}
	t := float64(note-a.Note) / float64(b.Note-a.Note)
	return math.Exp((1-t)*math.Log(float64(a.Mass)) + t*math.Log(float64(b.Mass))), nil
}

// freeRoot returns the root βL of cos(βL)·cosh(βL) = 1 for bending mode i of
// a uniform free bar, counted from 0.
func freeRoot(i int) float64 {
	x := (float64(i) + 1.5) * math.Pi
	for range 5 {
		f := math.Cos(x) - 1/math.Cosh(x)
		g := -math.Sin(x) + math.Sinh(x)/(math.Cosh(x)*math.Cosh(x))
		x -= f / g
	}
	return x
}

// FreeRatio returns the frequency of bending mode i of a uniform free bar,
// counted from 0, over that of mode 0: 1, 2.757, 5.404, …
// (Euler and Bernoulli).
func FreeRatio(i int) float64 {
	r := freeRoot(i) / freeRoot(0)
	return r * r
}

// FreeShape returns the shape of bending mode i of a uniform free bar at x,
// 0 to 1 along it, scaled so that its square averages 1 (and it is 2 at the
// end).
func FreeShape(i int, x float64) float64 {
	k := freeRoot(i)
	s := (math.Cosh(k) - math.Cos(k)) / (math.Sinh(k) - math.Sin(k))
	return math.Cosh(k*x) + math.Cos(k*x) - s*(math.Sinh(k*x)+math.Sin(k*x))
}

// felt returns one over the mass that a stroke of length t seconds meets: a
// mode slower than the stroke gives way like a free mass; one that springs
// back within it pushes the head off sooner or later, and counts as less, or
// as less than nothing.
//
// To first order a mode moves the end of a stroke on a spring by ∫F·q̈ dt.
// Each is weighted by that integral for a half-sine push, over its value for
// a free mass (derived).
func (b *Bar) felt(t float64) float64 {
	y := b.Rigid
	for i := range b.Modes {
		y += b.Modes[i].Mobility * yield(b.Modes[i].Omega*t/math.Pi)
	}
	return y
}

// yield is the weight of a mode whose frequency is r times that of the push:
// 1 for a mode much slower than the push, and below 0 for a faster one, which
// is a spring in series. The last term stands for what the first order leaves
// out; its one number is fitted to the full integration over the catalogue.
func yield(r float64) float64 {
	if math.Abs(r-1) < 0.01 { // both terms pass all bounds at r = 1
		return 0.5 * (yield(0.985) + yield(1.015))
	}
	q := r*r - 1
	return 1 - r/q*(r+2/math.Pi*math.Sin(math.Pi*r)/q) - 0.2*r*r/(1+r*r)
}
