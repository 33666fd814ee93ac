package strike

import (
	"math"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Keyboard is all the bars of an instrument. Nobody changes it.
type Keyboard struct {
	low, high measure.Note
	bars      []Bar
	hz        []float64 // of the notes
	flat      float64   // 1/Pa, of their surface
	top       float64   // highest note that keeps its weight over the cut-off on its bar
	bottom    []float64 // by bar: lowest note that is full over the cut-off
}

// NewKeyboard returns the bars of an instrument, judged by a scale.
func NewKeyboard(in knowledge.Instrument, sc knowledge.Scale) (*Keyboard, error) {
	k := &Keyboard{low: in.Low, high: in.High, flat: flatPoisson / max(in.SurfacePa.Value, 1e8), top: math.Sqrt(sc.ServeDB.Value / 10)}
	for n := in.Low; n <= in.High; n++ {
		bar, err := NewBar(in, n)
		if err != nil {
			return nil, err
		}
		most, base := 0.0, bar.Modes[0]
		for _, m := range bar.Modes[1:] {
			db := sc.FillDB.Value + decibels(math.Abs(m.Shape), math.Abs(base.Shape))
			ratio := m.Omega / base.Omega
			most = max(most, db/(10*(ratio*ratio-1)))
		}
		k.bars, k.hz, k.bottom = append(k.bars, bar), append(k.hz, n.Hz()), append(k.bottom, math.Sqrt(most))
	}
	return k, nil
}

// bar returns the bar of a note, or the nearest there is.
func (k *Keyboard) bar(n measure.Note) *Bar { return &k.bars[min(max(n, k.low), k.high)-k.low] }

// Served returns the lowest and highest note that a head serves when struck at
// a speed in m/s, and 0, 0 when it serves none.
//
// A note keeps its weight while the push has fallen no further than ServeDB
// at its fundamental; above, it still sounds, but the stroke outlasts more and more
// of its period. A note is full while it stands FillDB above its partials;
// below, the head is too light and too hard for the note. Near its cut-off fc
// the spectrum of a push falls by about 10·(f/fc)² dB.
func (k *Keyboard) Served(b *Body, v float64) (low, high measure.Note) {
	var c curve
	k.squeeze(&c, b, v)
	return k.served(&c, b, v)
}

// squeeze fills the curve of a head that is struck at about a speed.
func (k *Keyboard) squeeze(c *curve, b *Body, v float64) {
	c.fill(b, k.flat, b.energy(v*(1+speedSpread)), reportPoints)
}

func (k *Keyboard) served(c *curve, b *Body, v float64) (low, high measure.Note) {
	var p push
	// The cut-off depends a little on the bar, so each end is found twice, from
	// the reference bar's note on.
	from := min(max(Reference().Note, k.low), k.high)
	first := c.stroke(b, k.bar(from), v, &p).CutoffHz
	end := func(share func(at measure.Note) float64) float64 {
		hz := first * share(from)
		for range 2 {
			n := min(max(measure.NoteNear(hz), k.low), k.high)
			hz = c.stroke(b, k.bar(n), v, &p).CutoffHz * share(n)
		}
		return hz
	}
	top := end(func(measure.Note) float64 { return k.top })
	bottom := end(func(n measure.Note) float64 { return k.bottom[n-k.low] })
	for i, hz := range k.hz {
		if hz < bottom || hz > top {
			continue
		}
		if high = k.low + measure.Note(i); low == 0 {
			low = high
		}
	}
	return low, high
}

// Partials returns the level of each partial of a bar against its fundamental
// when a head strikes it at about a speed, in dB, as a Report does. top is the
// fastest of the speeds that the report is for.
func Partials(b *Body, bar *Bar, v, top float64) []float64 {
	var c curve
	c.fill(b, bar.Flat, b.energy(top*(1+speedSpread)), reportPoints)
	return c.partials(b, bar, v)
}
