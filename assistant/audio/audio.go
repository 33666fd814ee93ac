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

// The sound's format, and times in seconds.
const (
	Rate    = 48000 // samples a second
	Bits    = 24
	lead    = 0.5  // silence before the first note
	least   = 1.1  // from one stroke to the next
	longest = 4.0  // that a note is left to ring; then it is damped by hand
	fade    = 0.15 // of the damping
	rest    = 0.1  // after a note has rung
	between = 0.8  // silence between heads
	perStep = 8    // steps of force to a sample
	ceiling = 0.89 // of full scale, 1 dB below it
)

// MaxHeads is the number of heads that one sketch holds.
const MaxHeads = 16

// Voice is a head to be heard.
type Voice struct {
	Name string
	Head head.Head
}

// Phrase is what is played.
type Phrase string

// Phrases.
const (
	Strokes Phrase = "strokes" // one stroke at each dynamic, low, in the middle and high; where heads alternate, low and high at one dynamic only
	Line    Phrase = "line"    // up and down a fifth in the middle
	Chord   Phrase = "chord"   // a chord at each dynamic
	Roll    Phrase = "roll"    // two mallets on one bar, growing from the softest to the loudest
)

// Level is how loud notes are against each other.
type Level string

// Levels.
const (
	True    Level = "true"    // as they are: a heavier head sounds louder
	Matched Level = "matched" // every head equally loud over what it plays
	Even    Level = "even"    // every note equally loud, so that soft strokes can be heard on a laptop
)

// Score is what each head plays.
type Score struct {
	Instrument knowledge.Instrument
	Low, High  measure.Note        // range asked for; zero takes the instrument's
	Dynamics   []knowledge.Dynamic // in playing order, softest first
	Phrase     Phrase              // empty is Strokes
	Level      Level               // empty is True
	// Alternate plays each stroke with every head in turn and the first again
	// (A, B, A); without it, each head plays all in turn.
	Alternate bool
}

// Sketch is a finished sound.
type Sketch struct {
	Samples []float64 // at Rate, within ±1
	Cues    []Cue
	Level   Level
	starts  []int // sample at which each head's part begins; nil when heads alternate
}

// Cue says when a stroke begins, or the first of several.
type Cue struct {
	Seconds  float64      `json:"start_s"`
	Head     string       `json:"head"`
	Register string       `json:"register"` // low, middle, high, or the phrase
	Note     measure.Note `json:"note"`
	Dynamic  string       `json:"dynamic"`
}

// beat is a stroke on one or several bars.
type beat struct {
	register string
	notes    []measure.Note
	dynamic  int     // of the score's
	wait     float64 // s to the next; zero waits until it has rung
	silent   bool    // no cue of its own
	to       int     // for the first of several: the dynamic of the last
}

// Play renders the phrase with the heads.
func Play(voices []Voice, sc Score) (Sketch, error) {
	switch {
	case len(voices) == 0:
		return Sketch{}, errors.New("no head to hear")
	case len(voices) > MaxHeads:
		return Sketch{}, fmt.Errorf("%d heads to hear; at most %d fit in one sketch", len(voices), MaxHeads)
	case len(sc.Dynamics) == 0:
		return Sketch{}, errors.New("no dynamics to play at")
	}
	beats, err := sc.beats()
	if err != nil {
		return Sketch{}, err
	}
	var players []*player
	for _, v := range voices {
		p, err := newPlayer(v, sc)
		if err != nil {
			return Sketch{}, err
		}
		for _, b := range beats {
			if err := p.learn(b); err != nil {
				return Sketch{}, err
			}
		}
		players = append(players, p)
	}
	s := Sketch{Level: sc.Level}
	at := lead
	for _, turn := range turns(len(voices), beats, sc.Alternate) {
		p := players[turn.voice]
		if !sc.Alternate {
			s.starts = append(s.starts, even(samples(at-lead)))
		}
		gain := p.gain(sc.Level, beats)
		for _, b := range turn.beats {
			end := at + s.add(p, b, at, gain)
			if !b.silent {
				s.Cues = append(s.Cues, Cue{Seconds: float64(samples(at)) / Rate, Head: p.Name, Register: b.register, Note: b.notes[0], Dynamic: sc.between(b)})
			}
			if b.wait > 0 {
				at += b.wait
			} else {
				at = max(at+least, end+rest)
			}
		}
		if turn.last {
			at += between
		}
	}
	s.Samples = append(s.Samples, make([]float64, len(s.Samples)%2)...)
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

// even rounds down: an odd number of samples takes an odd number of bytes,
// which readers of the format stumble over.
func even(n int) int { return n &^ 1 }

// add mixes a beat in and returns how long it rings, in seconds.
func (s *Sketch) add(p *player, b beat, at, gain float64) float64 {
	most := 0
	for _, n := range b.notes {
		note := p.notes[key{n, b.dynamic}]
		from := samples(at)
		if need := from + len(note) + samples(rest); need > len(s.Samples) {
			s.Samples = append(s.Samples, make([]float64, need-len(s.Samples))...)
		}
		by := gain
		if s.Level == Even {
			by = 1 / max(rms(note[:min(len(note), samples(least))]), 1e-30)
		}
		for i, v := range note {
			s.Samples[from+i] += by * v
		}
		most = max(most, len(note))
	}
	return float64(most) / Rate
}

// turn is what one head plays before the next does.
type turn struct {
	voice int
	beats []beat
	last  bool // a silence follows
}

// turns are who plays what when.
func turns(voices int, beats []beat, alternate bool) []turn {
	var list []turn
	if !alternate || voices == 1 {
		for v := range voices {
			list = append(list, turn{v, beats, true})
		}
		return list
	}
	for from := 0; from < len(beats); {
		to := from + 1
		for to < len(beats) && beats[to].silent {
			to++
		}
		for v := range voices + 1 { // and the first again
			list = append(list, turn{v % voices, beats[from:to], v == voices})
		}
		from = to
	}
	return list
}

// beats are the strokes of the phrase.
func (sc Score) beats() ([]beat, error) {
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
	// Bars a sixth, a half and five sixths of the way up, where the report
	// looks too.
	at := func(i int) measure.Note {
		return low + measure.Note(math.Round(float64(high-low)*float64(2*i+1)/6))
	}
	middle := at(1)
	within := func(steps ...measure.Note) []measure.Note {
		var list []measure.Note
		for _, n := range steps {
			if middle+n >= low && middle+n <= high {
				list = append(list, middle+n)
			}
		}
		return list
	}
	loudest := len(sc.Dynamics) - 1
	var list []beat
	switch sc.Phrase {
	case "", Strokes:
		for i, register := range []string{"low", "middle", "high"} {
			for d := range sc.Dynamics {
				if sc.Alternate && i != 1 && d != min(1, loudest) {
					continue // a comparison is to be short enough to listen to
				}
				list = append(list, beat{register: register, notes: []measure.Note{at(i)}, dynamic: d})
			}
		}
	case Line:
		notes := within(0, 2, 4, 5, 7, 5, 4, 2, 0)
		for i, n := range notes {
			b := beat{register: "line", notes: []measure.Note{n}, dynamic: min(1, loudest), wait: 0.25, silent: i > 0}
			if i == len(notes)-1 {
				b.wait = 0
			}
			list = append(list, b)
		}
	case Chord:
		for d := range sc.Dynamics {
			list = append(list, beat{register: "chord", notes: within(0, 4, 7, 12), dynamic: d})
		}
	case Roll:
		const strokes, apart = 32, 0.08
		for i := range strokes {
			b := beat{register: "roll", notes: []measure.Note{middle}, dynamic: i * (loudest + 1) / strokes, wait: apart, silent: i > 0, to: loudest}
			if i == strokes-1 {
				b.wait = 0
			}
			list = append(list, b)
		}
	default:
		return nil, fmt.Errorf("no phrase is called %q (strokes, line, chord or roll)", sc.Phrase)
	}
	return list, nil
}

// between is the dynamic of a beat, or of the first and the last of several.
func (sc Score) between(b beat) string {
	if b.to > b.dynamic {
		return sc.Dynamics[b.dynamic].ID + " to " + sc.Dynamics[b.to].ID
	}
	return sc.Dynamics[b.dynamic].ID
}

// player is a head with the notes that it has learnt.
type player struct {
	Voice
	sc    Score
	body  strike.Body
	notes map[key][]float64
}

type key struct {
	note    measure.Note
	dynamic int
}

func newPlayer(v Voice, sc Score) (*player, error) {
	body, err := strike.FromHead(v.Head)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", v.Name, err)
	}
	return &player{v, sc, body, map[key][]float64{}}, nil
}

// learn renders the notes of a beat, each as long as it rings.
func (p *player) learn(b beat) error {
	for _, n := range b.notes {
		k := key{n, b.dynamic}
		if p.notes[k] != nil {
			continue
		}
		bar, err := strike.NewBar(p.sc.Instrument, n)
		if err != nil {
			return err
		}
		d := p.sc.Dynamics[b.dynamic]
		pulse, err := strike.Full(&p.body, &bar, d.SpeedMS.Value)
		if err != nil {
			return fmt.Errorf("%s, %s at %s: %w", p.Name, n, d.ID, err)
		}
		modes := Modes(&bar, p.sc.Instrument.Resonators)
		rings := 0.0
		for _, m := range modes {
			rings = max(rings, ring.T60(m.DecayS))
		}
		note := make([]float64, samples(min(max(rings, least), longest)))
		ring.Add(note, Rate, modes, Force(pulse), perStep)
		damp(note)
		p.notes[k] = note
	}
	return nil
}

// Force is a stroke's force as a bar is driven with it: perStep values to a
// sample.
func Force(p *strike.Pulse) []float64 { return p.Force(1.0 / (Rate * perStep)) }

// gain is what the notes of a head are multiplied by.
func (p *player) gain(l Level, beats []beat) float64 {
	if l != Matched {
		return 1
	}
	energy := 0.0
	for _, b := range beats {
		for _, n := range b.notes {
			for _, v := range p.notes[key{n, b.dynamic}] {
				energy += v * v
			}
		}
	}
	return 1 / max(math.Sqrt(energy), 1e-30)
}

// Split returns the part of each head by itself, all at the level that they
// have together; a sketch in which heads alternate stays whole.
func (s Sketch) Split() []Sketch {
	if len(s.starts) < 2 {
		return []Sketch{s}
	}
	var list []Sketch
	for i, from := range s.starts {
		to := len(s.Samples)
		if i+1 < len(s.starts) {
			to = s.starts[i+1]
		}
		part := Sketch{Samples: s.Samples[from:to], Level: s.Level}
		for _, c := range s.Cues {
			if at := samples(c.Seconds); at >= from && at < to {
				c.Seconds -= float64(from) / Rate
				part.Cues = append(part.Cues, c)
			}
		}
		list = append(list, part)
	}
	return list
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

// Guide says what is heard when: a line for each head, or, where heads
// alternate, for each stroke.
func (s Sketch) Guide() []string {
	var list []string
	for i, c := range s.Cues {
		stroke := fmt.Sprintf("%s %s", c.Register, c.Note)
		if i > 0 && c.Register == s.Cues[i-1].Register && c.Note == s.Cues[i-1].Note && c.Dynamic == s.Cues[i-1].Dynamic {
			list[len(list)-1] += fmt.Sprintf(", %s at %s", c.Head, clock(c.Seconds))
			continue
		}
		if i > 0 && c.Head == s.Cues[i-1].Head && s.starts != nil {
			if c.Register != s.Cues[i-1].Register || c.Note != s.Cues[i-1].Note {
				list[len(list)-1] += fmt.Sprintf("; %s from %s: %s", stroke, clock(c.Seconds), c.Dynamic)
			} else {
				list[len(list)-1] += " " + c.Dynamic
			}
			continue
		}
		if s.starts != nil {
			list = append(list, fmt.Sprintf("%s %s: %s: %s", clock(c.Seconds), c.Head, stroke, c.Dynamic))
		} else {
			list = append(list, fmt.Sprintf("%s at %s: %s at %s", stroke, c.Dynamic, c.Head, clock(c.Seconds)))
		}
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
	switch s.Level {
	case Matched:
		level = "Heads brought to the same level."
	case Even:
		level = "Every note brought to the same level."
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
	_, err := w.Write(withCues(file.data, s.Cues))
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
