package strike

import (
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Bar is a bar as the head meets it: how freely the point of the strike moves
// as a rigid body and in the first three bending modes, and how its surface
// gives.
//
// Modes of undercut bars are computed by beam finite elements from bars of
// usual sizes (testdata/model/bars.py) and stand in the catalogue; a uniform
// bar's would feel 1.2 to 2.3 times as heavy.
type Bar struct {
	Note  measure.Note
	Mass  float64 // kg
	Rigid float64 // 1/kg: one over the mass felt as the bar moves whole, on soft cords
	Modes [3]Mode // the tuned partials, lowest first
	Flat  float64 // 1/Pa: (1−ν²)/E of its surface; 0 does not give
}

// Mode is one bending mode at the point of the strike.
type Mode struct {
	Omega    float64 // rad/s
	Damping  float64 // of critical
	Mobility float64 // 1/kg: shape squared over the bar's mass
	Shape    float64 // at the strike, where its square averages 1 over the bar, by mass
}

// strikeAt is where along the bar the head lands: a little off the middle,
// where the second mode would be silent. Common practice, no source.
const strikeAt = 0.42

// free is one over the mass that the struck point of the bar has at first.
func (b *Bar) free() float64 {
	y := b.Rigid
	for i := range b.Modes {
		y += b.Modes[i].Mobility
	}
	return y
}

// flatPoisson stands for 1−ν² of a bar's surface, ν about 0.3.
const flatPoisson = 0.91

// NewBar returns the bar of an instrument that sounds a note. The note need
// not lie in the instrument's range.
func NewBar(inst knowledge.Instrument, note measure.Note) (Bar, error) {
	at, err := barAt(inst, note)
	if err != nil {
		return Bar{}, err
	}
	flat := 0.0
	if e := inst.SurfacePa.Value; e > 0 {
		flat = flatPoisson / e
	}
	return newBar(at, note.Hz(), inst.LossFactor.Value, flat), nil
}

// Reference is the bar that the softness scale is read on: A4 of a five-octave
// marimba, near the middle of what is played, undercut by the arch that tunes it
// to 440 Hz and 1 : 4 (testdata/model/bars.py: 365 × 53.5 × 22.35 mm), with the
// loss factor measured on rosewood marimba bars (0.45 %). Its top is taken not to
// give, so that the scale tells hard heads apart whatever they are played on.
func Reference() Bar {
	return newBar(knowledge.BarMass{
		Note: 69, Mass: 0.3439, Whole: 1.0680,
		Ratios: []float64{1, 4, 8.451}, Shapes: []float64{1.4152, 1.1200, 1.1764},
	}, 440, 0.0045, 0)
}

func newBar(at knowledge.BarMass, hz, loss, flat float64) Bar {
	m := float64(at.Mass)
	b := Bar{Note: at.Note, Mass: m, Rigid: at.Whole / m, Flat: flat}
	for i := range b.Modes {
		w, s := 2*math.Pi*hz*at.Ratios[i], at.Shapes[i]
		b.Modes[i] = Mode{Omega: w, Damping: loss / 2, Mobility: s * s / m, Shape: s}
	}
	return b
}

// barAt reads the instrument's bars, all of it linear in pitch, and the mass
// in its logarithm, between and beyond the notes given.
func barAt(inst knowledge.Instrument, note measure.Note) (knowledge.BarMass, error) {
	ms := slices.Clone(inst.BarMass)
	slices.SortFunc(ms, func(a, b knowledge.BarMass) int { return int(a.Note - b.Note) })
	for i := range ms {
		if ms[i].Mass <= 0 {
			return knowledge.BarMass{}, fmt.Errorf("strike: %s: bar mass at note %d is %g kg; it has to be above zero", inst.ID, ms[i].Note, float64(ms[i].Mass))
		}
		ms[i] = whole(ms[i], inst.Ratios)
	}
	switch len(ms) {
	case 0:
		return knowledge.BarMass{}, fmt.Errorf("strike: %s gives no bar mass", inst.ID)
	case 1:
		ms[0].Note = note
		return ms[0], nil
	}
	i := 1
	for i < len(ms)-1 && ms[i].Note < note {
		i++
	}
	a, b := ms[i-1], ms[i]
	if a.Note == b.Note {
		return a, nil
	}
	t := float64(note-a.Note) / float64(b.Note-a.Note)
	mix := func(a, b float64) float64 { return a + t*(b-a) }
	out := knowledge.BarMass{
		Note:  note,
		Mass:  measure.Mass(math.Exp(mix(math.Log(float64(a.Mass)), math.Log(float64(b.Mass))))),
		Whole: max(1, mix(a.Whole, b.Whole)),
	}
	for k := range 3 {
		out.Ratios = append(out.Ratios, mix(a.Ratios[k], b.Ratios[k]))
		out.Shapes = append(out.Shapes, max(0.1, mix(a.Shapes[k], b.Shapes[k])))
	}
	return out, nil
}

// whole fills in what a bar of the catalogue leaves out: the instrument's
// partials, and the shapes of a bar of even thickness.
func whole(b knowledge.BarMass, ratios []float64) knowledge.BarMass {
	b.Ratios, b.Shapes = slices.Clone(b.Ratios), slices.Clone(b.Shapes)
	for k := range 3 {
		if k >= len(b.Ratios) {
			if k < len(ratios) {
				b.Ratios = append(b.Ratios, ratios[k])
			} else {
				b.Ratios = append(b.Ratios, FreeRatio(k))
			}
		}
		if k >= len(b.Shapes) {
			b.Shapes = append(b.Shapes, math.Abs(FreeShape(k, strikeAt)))
		}
	}
	if b.Whole == 0 {
		const off = strikeAt - 0.5
		b.Whole = 1 + 12*off*off // moving whole, and turning about its middle
	}
	return b
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
