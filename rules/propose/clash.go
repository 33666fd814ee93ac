package propose

import (
	"fmt"
	"strings"
)

// Clash is the error of a request that no buildable head meets.
type Clash struct {
	// Wishes are those of the request's that can't be met together: with any
	// one of them given up, the others can.
	Wishes []string
	Asked  []Wish // the same, by what asks for them
	// Nearest are heads that can be built: for each wish that may be given up,
	// the best head without it; for a softness out of reach, the best head on
	// each side of it.
	Nearest []Alternative
	// Open says that the search ended before it was certain: a head may exist.
	Open bool
	// Against is why no head that meets the wishes is proposed, though one can be
	// built; empty where none can.
	Against string
}

// Add names one more wish that stands in the way.
func (c *Clash) Add(w Wish) {
	c.Wishes = append(c.Wishes, w.Text)
	c.Asked = append(c.Asked, w)
}

// Wish is something that a request asks of a head.
type Wish struct {
	Fact string // the fact, or the pin, that asks for it
	Text string // in a few words
	Firm bool   // it keeps somebody safe and is not to be given up
}

func (c *Clash) Error() string {
	if len(c.Wishes) == 0 {
		return "the rules refuse every head that these parts make"
	}
	s := "no head that can be built has "
	switch {
	case c.Against != "":
		s = fmt.Sprintf("no maker would build one (%s) that has ", c.Against)
	case c.Open:
		s = "no head was found that has "
	}
	if len(c.Wishes) > 1 {
		s += "all of "
	}
	s += strings.Join(c.Wishes, "; ")
	for i, n := range c.Nearest {
		s += fmt.Sprintf("%s %s: %s, %+.1f notches, %.1f g", []string{"; the nearest,", ";"}[min(i, 1)], n.Kind, n.Stack, n.Facts.Head.Softness, n.Facts.Head.MassG)
	}
	return s
}
