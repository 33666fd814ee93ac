// Package audio makes a sound sketch of heads: the same phrase played with each
// on the bars of an instrument, synthesised from the computed force of every
// stroke.
package audio

import (
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/go-audio/audio"
	"github.com/go-audio/wav"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/ring"
	"mallow/knowledge/strike"
)

// Caveat says what a sketch is. It is in every file's comment and belongs
// beside every mention of one.
const Caveat = "A sketch to compare heads by, computed from a model, not a recording: " +
	"believe which head is softer or brighter, not how the instrument sounds."

// The sound's format, and the times of the phrase in seconds.
const (
	Rate     = 48000 // samples a second
	Bits     = 24
	apart    = 1.1  // between notes
	sounding = 1.08 // of a note before it is gone
	fade     = 0.15 // at its end, as if damped by hand
	between  = 0.9  // silence between heads
	perStep  = 8    // steps of force to a sample
	ceiling  = 0.89 // of full scale, 1 dB below it
)

// MaxHeads is the number of heads that one sketch holds.
const MaxHeads = 16

// Voice is a head to be heard.
type Voice struct {
	Name string
	Head head.Head
}

// Score is what each head plays.
type Score struct {
	Instrument knowledge.Instrument
	Low, High  measure.Note        // range asked for; zero takes the instrument's
	Dynamics   []knowledge.Dynamic // in playing order, softest first
	// Matched brings every head to the same loudness over its phrase; without
	// it a heavier head sounds louder, as it is.
	Matched bool
}

// Sketch is a finished sound.
type Sketch struct {
	Samples []float64 // at Rate, within ±1
	Cues    []Cue
	Matched bool
}

// Cue says when a note begins.
type Cue struct {
	Seconds  float64      `json:"seconds"`
	Head     string       `json:"head"`
	Register string       `json:"register"` // low, middle, high
	Note     measure.Note `json:"note"`
	Dynamic  string       `json:"dynamic"`
}

// Play renders the phrase with each head in turn: for a low, a middle and a
// high note of the range, one stroke at each dynamic.
func Play(voices []Voice, sc Score) (Sketch, error) {
	switch {
	case len(voices) == 0:
		return Sketch{}, errors.New("no head to hear")
	case len(voices) > MaxHeads:
		return Sketch{}, fmt.Errorf("%d heads to hear; at most %d fit in one sketch", len(voices), MaxHeads)
	case len(sc.Dynamics) == 0:
		return Sketch{}, errors.New("no dynamics to play at")
	}
	bars, err := sc.bars()
	if err != nil {
		return Sketch{}, err
	}
	phrase := len(bars) * len(sc.Dynamics)
	each := samples(float64(phrase)*apart + between)
	s := Sketch{Samples: make([]float64, each*len(voices)), Matched: sc.Matched}
	for i, v := range voices {
		body, err := strike.FromHead(v.Head)
		if err != nil {
			return Sketch{}, fmt.Errorf("%s: %w", v.Name, err)
		}
		part := s.Samples[i*each : (i+1)*each]
		at := 0.0
		for j := range bars {
			for _, d := range sc.Dynamics {
				p, err := strike.Full(&body, &bars[j].bar, d.SpeedMS.Value)
				if err != nil {
					return Sketch{}, fmt.Errorf("%s, %s at %s: %w", v.Name, bars[j].bar.Note, d.ID, err)
				}
				start := samples(at)
				note := part[start:min(start+samples(sounding), len(part))]
				ring.Add(note, Rate, Modes(&bars[j].bar, sc.Instrument.Resonators), p.Force(1.0/(Rate*perStep)), perStep)
				damp(note)
				s.Cues = append(s.Cues, Cue{Seconds: float64(i*each)/Rate + at, Head: v.Name,
					Register: bars[j].register, Note: bars[j].bar.Note, Dynamic: d.ID})
				at += apart
			}
		}
		if sc.Matched {
			scale(part, 1/max(rms(part), 1e-30))
		}
	}
	most := 0.0
	for _, v := range s.Samples {
		most = max(most, math.Abs(v))
	}
	if !(most > 0) {
		return Sketch{}, errors.New("nothing to hear: no bar moved")
	}
	scale(s.Samples, ceiling/most)
	return s, nil
}

// place is a bar of the phrase.
type place struct {
	register string
	bar      strike.Bar
}

// bars returns bars a sixth, a half and five sixths of the way up the range,
// where the report looks too.
func (sc Score) bars() ([]place, error) {
	low, high := sc.Low, sc.High
	if low == 0 {
		low = sc.Instrument.Low
	}
	if high == 0 {
		high = sc.Instrument.High
	}
	if high < low {
		return nil, fmt.Errorf("the range %s to %s runs downward", low, high)
	}
	var list []place
	for i, name := range []string{"low", "middle", "high"} {
		bar, err := strike.NewBar(sc.Instrument, low+measure.Note(math.Round(float64(high-low)*float64(2*i+1)/6)))
		if err != nil {
			return nil, err
		}
		list = append(list, place{name, bar})
	}
	return list, nil
}

// Modes returns the partials of a bar as they are heard. The air answers to
// how fast a small source changes its speed, so a partial counts by its speed
// times its ratio to the fundamental; a resonator helps the fundamental where
// there is one. How loud bars are against each other is left as their speeds
// are: no published figures were found.
func Modes(b *strike.Bar, resonator bool) []ring.Mode {
	var modes []ring.Mode
	for _, m := range b.Modes {
		if m.Shape == 0 || m.Damping <= 0 {
			continue
		}
		modes = append(modes, ring.Mode{Hz: m.Omega / (2 * math.Pi), DecayS: 1 / (m.Damping * m.Omega),
			Gain: m.Mobility / m.Shape * m.Omega / b.Modes[0].Omega})
	}
	if resonator {
		modes = ring.Over(modes)
	}
	return modes
}

// damp fades the end of a note out.
func damp(x []float64) {
	n := min(samples(fade), len(x))
	for i := range n {
		x[len(x)-1-i] *= 0.5 - 0.5*math.Cos(math.Pi*float64(i)/float64(n))
	}
}

func samples(seconds float64) int { return int(math.Round(seconds * Rate)) }

func scale(x []float64, by float64) {
	for i := range x {
		x[i] *= by
	}
}

func rms(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum / float64(max(len(x), 1)))
}

// Seconds is how long the sketch lasts.
func (s Sketch) Seconds() float64 { return float64(len(s.Samples)) / Rate }

// Guide says what is heard when, a line for each head.
func (s Sketch) Guide() []string {
	var list []string
	last := ""
	for i, c := range s.Cues {
		if i > 0 && c.Head == last {
			if c.Register != s.Cues[i-1].Register {
				list[len(list)-1] += fmt.Sprintf("; %s %s at %s", c.Register, c.Note, clock(c.Seconds))
			}
			continue
		}
		last = c.Head
		list = append(list, fmt.Sprintf("%s %s: %s %s", clock(c.Seconds), c.Head, c.Register, c.Note))
	}
	return list
}

func clock(seconds float64) string {
	return fmt.Sprintf("%d:%04.1f", int(seconds)/60, math.Mod(seconds, 60))
}

// WAV writes the sketch: one channel, 48 kHz, 24 bit.
func (s Sketch) WAV(w io.Writer) error {
	var file memory
	e := wav.NewEncoder(&file, Rate, Bits, 1, 1)
	level := "True level."
	if s.Matched {
		level = "Heads brought to the same level."
	}
	comment := Caveat + " " + level
	if len(comment)%2 == 0 {
		comment += " " // with its closing zero an odd text fills whole words, which the library does not see to
	}
	e.Metadata = &wav.Metadata{Comments: comment, Software: "mallow."}
	data := make([]int, len(s.Samples))
	const full = 1<<(Bits-1) - 1
	for i, v := range s.Samples {
		data[i] = int(math.Round(min(max(v, -1), 1) * full))
	}
	if err := e.Write(&audio.IntBuffer{Format: &audio.Format{NumChannels: 1, SampleRate: Rate}, Data: data, SourceBitDepth: Bits}); err != nil {
		return fmt.Errorf("wav: %w", err)
	}
	if err := e.Close(); err != nil {
		return fmt.Errorf("wav: %w", err)
	}
	_, err := w.Write(file.data)
	return err
}

// memory is a file in memory: the encoder goes back to fill in sizes.
type memory struct {
	data []byte
	at   int
}

func (m *memory) Write(p []byte) (int, error) {
	if grow := m.at + len(p) - len(m.data); grow > 0 {
		m.data = append(m.data, make([]byte, grow)...)
	}
	m.at += copy(m.data[m.at:], p)
	return len(p), nil
}

func (m *memory) Seek(offset int64, whence int) (int64, error) {
	base := map[int]int{io.SeekStart: 0, io.SeekCurrent: m.at, io.SeekEnd: len(m.data)}[whence]
	at := base + int(offset)
	if at < 0 || at > len(m.data) {
		return 0, fmt.Errorf("seek to %d of %d", at, len(m.data))
	}
	m.at = at
	return int64(at), nil
}
