// Package bars finds an instrument of the catalogue by its kind, its bars and how
// many octaves it has. It reads no text.
package bars

import (
	"math"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// List is the instruments of a catalogue.
type List []knowledge.Instrument

// Nearest returns the instrument of a kind, and with the bars that were
// named, whose range is nearest to that many octaves, if one comes near. An
// empty kind or bars is any.
func (l List) Nearest(kind, bars string, octaves float64) (id, ofKind string) {
	best := 0.2 // a 4 1/3 octave instrument is sold as 4.3 and has 4 1/4
	for _, in := range l {
		d := math.Abs(float64(in.High-in.Low)/12 - octaves)
		if d < best && (kind == "" || in.Kind == kind) && (bars == "" || in.Bars == bars) {
			best, id, ofKind = d, in.ID, in.Kind
		}
	}
	return id, ofKind
}

// Kind returns the kind of an instrument of the catalogue, or "".
func (l List) Kind(id string) string {
	for _, in := range l {
		if in.ID == id {
			return in.Kind
		}
	}
	return ""
}

// Span returns the range of an instrument of the catalogue.
func (l List) Span(id string) (low, high measure.Note, ok bool) {
	for _, in := range l {
		if in.ID == id {
			return in.Low, in.High, true
		}
	}
	return 0, 0, false
}
