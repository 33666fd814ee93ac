package knowledge

import (
	"math"
	"slices"
	"strconv"
)

// Said is a softness that was asked for by its word, on a kind of instrument.
type Said struct {
	Word     string
	From, To float64 // notches; the ends of the scale are infinite
	At       float64 // in its midst
}

// SoftnessSaid returns the word that a softness was asked for by: the value of
// a choice of the question about it stands for the choice's word, and means
// the midst of what that word means on the kind of instrument; where that has no
// end, the choice itself. Any other figure is no word.
func (c *Catalogue) SoftnessSaid(kind string, notches float64) (Said, bool) {
	q, _ := c.Question("want.softness")
	at := slices.IndexFunc(q.Choices, func(x Choice) bool {
		v, err := strconv.ParseFloat(x.Value, 64)
		return err == nil && v == notches
	})
	if at < 0 {
		return Said{}, false
	}
	s, ok := c.Scale.For(kind).Said(q.Choices[at].Say)
	if open := math.IsInf(s.From, 0) || math.IsInf(s.To, 0); ok && open && s.From <= notches && notches < s.To {
		s.At = notches
	}
	return s, ok
}

// Said returns what a word means on a scale. The ends of the scale reach a
// notch on from their neighbour.
func (s Scale) Said(word string) (Said, bool) {
	at := slices.IndexFunc(s.Grades, func(g Grade) bool { return g.ID == word })
	if at < 0 {
		return Said{}, false
	}
	x := Said{Word: word, From: math.Inf(-1), To: math.Inf(1)}
	if at > 0 {
		x.From = s.Grades[at].From
	}
	if at+1 < len(s.Grades) {
		x.To = s.Grades[at+1].From
	}
	switch {
	case math.IsInf(x.From, 0) && math.IsInf(x.To, 0):
	case math.IsInf(x.From, 0):
		x.At = x.To - 1
	case math.IsInf(x.To, 0):
		x.At = x.From + 1
	default:
		x.At = (x.From + x.To) / 2
	}
	return x, true
}
