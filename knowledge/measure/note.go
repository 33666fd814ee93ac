package measure

import (
	"math"
	"strconv"
	"strings"
)

// The lowest and highest notes that have a name here.
const (
	LowestNote  Note = 0   // C-1
	HighestNote Note = 127 // G9
)

// ParseNote reads a note name with its octave, C-1 to G9, where C4 is middle
// C and A4 the tuning note: F#3, Gb3, f♯3. The error is a *ParseError.
func ParseNote(text string) (Note, error) {
	fail := func(what, try string) (Note, error) {
		return 0, &ParseError{Text: clip(text), What: what, Try: try}
	}
	const try = "C2, F#3 or Bb4"
	if len(text) > MaxText {
		return fail("too long to be a note", try)
	}
	s := strings.TrimSpace(text)
	if s == "" {
		return fail("no note written", try)
	}
	var n int
	switch s[0] {
	case 'C', 'c':
		n = 0
	case 'D', 'd':
		n = 2
	case 'E', 'e':
		n = 4
	case 'F', 'f':
		n = 5
	case 'G', 'g':
		n = 7
	case 'A', 'a':
		n = 9
	case 'B', 'b':
		n = 11
	case 'H', 'h':
		return fail("notes are named A to G, and the note below C is B", "B"+s[1:])
	default:
		return fail("isn't a note", try)
	}
	s = s[1:]
	for _, a := range []struct {
		sign string
		step int
	}{{"#", 1}, {"♯", 1}, {"b", -1}, {"♭", -1}} {
		if rest, ok := strings.CutPrefix(s, a.sign); ok {
			s, n = rest, n+a.step
			break
		}
	}
	s = strings.Replace(strings.TrimSpace(s), "−", "-", 1)
	if s == "" {
		return fail("the note has no octave", strings.TrimSpace(text)+"4")
	}
	octave, err := strconv.Atoi(s)
	if err != nil || s[0] == '+' || len(s) > 2 {
		return fail("isn't a note", try)
	}
	n += 12 * (octave + 1)
	if n < int(LowestNote) || n > int(HighestNote) {
		return fail("is outside C-1 to G9", try)
	}
	return Note(n), nil
}

// String returns the note's name with sharps, such as F#3.
func (n Note) String() string {
	names := [12]string{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"}
	octave := int(n) / 12
	if n < 0 {
		octave = (int(n) - 11) / 12
	}
	return names[int(n)-12*octave] + strconv.Itoa(octave-1)
}

// Hz returns the note's frequency in equal temperament from A4 = 440 Hz, the
// standard tuning frequency of ISO 16:1975.
func (n Note) Hz() float64 { return 440 * math.Exp2(float64(n-69)/12) }

// NoteNear returns the note whose frequency is nearest to hz on the scale of
// semitones, clamped to the notes that have a name.
func NoteNear(hz float64) Note {
	n := math.Round(69 + 12*math.Log2(hz/440))
	if !(n > float64(LowestNote)) { // also for what has no logarithm
		return LowestNote
	}
	return Note(min(n, float64(HighestNote)))
}
