// Package tune reads orders to have more or less of a quality: ease off on the
// hardness, add some glitter. It knows what turns a quality up or down and which way
// that moves a head, and never takes anything.
package tune

import (
	"strings"

	"mallow/assistant/understand/cover"
)

// Order is a quality that is to be turned up or down, at the items from one on.
type Order struct {
	Path string  // of the fact that moves, "" for no order
	By   float64 // its way
	End  int     // the item behind it
}

// far is how many words may stand between an order and its quality.
const far = 5

// At reads an order that begins at item i and ends before item to.
func At(c *cover.Chart, i, to int) Order {
	it := c.Item(i)
	if it.Qty != nil || it.Mark != "" || it.From < 0 || c.Dropped(i) || it.Fact() != nil || it.Any("move", "wish") {
		return Order{}
	}
	x, n := c.Lex.Longest(c.Tokens, it.From, "tune")
	if x == nil {
		return Order{}
	}
	by := 1.0
	if x.Value == "down" {
		by = -1
	}
	last := c.Item(to - 1).To
	for t := it.From + n; t < last && t <= it.From+n+far; {
		if q, m := c.Lex.Longest(c.Tokens, t, "quality"); q != nil && t+m <= last {
			path, way, _ := strings.Cut(q.Value, " ")
			if way == "-" {
				by = -by
			}
			end := i
			for end < to && c.Item(end).From < t+m {
				end++
			}
			if after := c.Item(end); after.Qty != nil || after.Any("bound") || c.Is(end, "limit", "should", "is", "are", "than") {
				return Order{} // lower mass limit 18 g
			}
			if x.Value == "up" && c.Is(end, "down", "off", "out", "back") { // bring the treble down
				by = -by
			}
			return Order{Path: path, By: by, End: end}
		}
		if !between(c, t) {
			return Order{}
		}
		t++
	}
	return Order{}
}

// between reports whether the word at token t may stand between an order and its
// quality.
func between(c *cover.Chart, t int) bool {
	if c.At(t).Is("like") { // more like a bass mallet
		return false
	}
	for _, slot := range []string{"filler", "degree", "more"} {
		if x, _ := c.Lex.Longest(c.Tokens, t, slot); x != nil {
			return true
		}
	}
	switch c.At(t).Text {
	case "the", "some", "of", "on", "in", "off", "a", "bit", "its", "that", "more", "much", "any", "little", "touch", "lot", "hint", "dash", "into", "from", "shade", "back", "down", "up", "it", "them", "few":
		return true
	}
	return false
}
