package cover

import (
	"strings"

	"mallow/assistant/understand/quantity"
)

// chooser drops figures and words of a chart that others of their kind stand for.
type chooser struct{ *Chart }

// contrast drops what something else of its kind replaces: 28, not 82; not 18, 80;
// 30? no, 28; I meant 20 mm no 20 cm; replace 30 with 26.
func (c chooser) contrast() {
	for i := range c.Items {
		switch {
		case c.Is(i, "not") && c.opposed(i):
			c.Drop(i + 1)
			c.Drop(i)
		case c.Is(i, "not", "instead", "nae") || c.Starts(i, "not", "instead", "rather") && c.Item(i).Any("not", "holding", "mend", "about"):
			c.denies(i)
		case c.amends(i):
		case c.Is(i, "no", "nope", "nah", "naw"):
			c.replaces(i)
		case c.Is(i, "so") && c.Item(i-1).Mark == "," && c.ClauseEnds(i+2):
			c.sums(i)
		case c.Item(i).Mark == "." && c.Item(i+1).Qty != nil && c.Item(i+2).Mark != "": // 24 pair, plus one for me. 25.
			c.sums(i)
		case c.Starts(i, "replace", "change", "swap", "switch"):
			c.swaps(i)
		case c.Is(i, "from"):
			c.leaves(i)
		case c.Item(i).Has("withdraw") != nil:
			c.withdraws(i)
		case c.Says(i, "typed", "said", "wrote", "put", "entered"):
			c.slipped(i)
		case c.Starts(i, "was", "were"):
			c.boasts(i)
		}
	}
}

// denies drops the figure after item i, a not, where another stands for it.
func (c chooser) denies(i int) {
	y := c.PastFiller(i + 1)
	if c.Starts(y, "of", "than") {
		y++
	}
	if !c.figure(y) || c.Starts(y+1, "more", "over", "past", "further", "above", "beyond", "extra", "less", "under") { // not a gram more
		return
	}
	x := c.figureBefore(i)
	if x < 0 && c.Item(i-1).Any("player.grip", "player.mallets") && c.Item(y).Qty != nil { // 2 mallets not 4
		c.Contrasts = true
		for j := i; j <= y; j++ {
			c.Drop(j)
		}
		return
	}
	if x < 0 || !c.alike(x, y) {
		x = c.figureAfter(y)
	}
	if x < 0 {
		return
	}
	c.yield(x, y)
	for j := i; j <= y; j++ {
		c.Drop(j)
	}
	if c.Is(i-1, "and") {
		c.Drop(i - 1)
	}
}

// opposed reports whether two ways to move one thing stand round item i, a not: lighter
// not heavier.
func (c chooser) opposed(i int) bool {
	a, b := c.Item(i-1).Has("move"), c.Item(i+1).Has("move")
	return a != nil && b != nil && a.Value == b.Value && a.Num*b.Num < 0
}

// replaces drops the figure or the word before item i, a no, that the one after it
// stands for: 30? no, 28. After meant the first one holds: I meant 20 mm no 20 cm.
func (c chooser) replaces(i int) {
	y, x := i-1, i+1
	for c.Item(y).Mark == "?" || c.Item(y).Mark == "," {
		y--
	}
	for c.Item(x).Mark == "," || c.Filler(x) || c.Item(x).Has("mend") != nil {
		x++
	}
	if y < 0 || x >= len(c.Items) || !(c.figure(x) && c.figure(y) && c.alike(x, y) || c.sameFact(x, y)) {
		return
	}
	if c.figure(x) && y == i-1 && (c.Is(y-1, "meant", "ment") || c.Says(y-1, "meant", "ment")) {
		c.yield(y, x)
		for j := i; j <= x; j++ {
			c.Drop(j)
		}
		return
	}
	if y == i-1 || c.Item(i-1).Mark != "?" { // 28 no 30 is not plain
		return
	}
	c.yield(x, y)
	for j := y; j <= i; j++ {
		c.Drop(j)
	}
}

// amends drops the figure before item i, a word for mending with nothing but marks on
// either side, that the figure after it stands for: thirty, no wait, thirty-four; 30.
// I mean 34. It reports whether it did.
func (c chooser) amends(i int) bool {
	mends := func(j int) bool {
		return c.Item(j).Has("mend") != nil || c.Is(j, "no", "nope", "er", "erm", "um", "uh", "well", "sorry", "wait", "actually", "rather", "correction") || c.Says(j, "scratch", "rather") && c.Item(j).Qty == nil
	}
	marks := func(j int) bool {
		return c.Item(j).From >= 0 && strings.Contains(".,-;", c.Item(j).Mark) && c.Item(j).Mark != ""
	}
	if !mends(i) || c.Item(i).Has("not") != nil && c.Item(i).Has("mend") == nil {
		return false
	}
	y, x := i-1, i+1
	for marks(y) || c.Is(y, "or", "er", "um") {
		y--
	}
	if !c.figure(y) || mends(i-1) || y == i-1 && c.Is(i, "no", "nope", "actually") && !c.bare(y, x) {
		return false // 28 no 30 is not plain, 50 no 15 pounds is
	}
	for marks(x) || mends(x) || c.Is(x, "that", "make", "it", "its", "is") {
		x++
	}
	if !c.figure(x) || !c.alike(x, y) || c.Starts(x+1, "was", "were") || c.OfPart(x+1) || c.OfPart(y+1) || c.Item(x+1).Has("count") != nil || c.Item(x).Qty != nil && c.Item(x).Qty.Form == "pair" != (c.Item(y).Qty.Form == "pair") {
		return false
	}
	c.yield(x, y)
	for j := y; j < x; j++ {
		c.Drop(j)
	}
	return true
}

// bare reports whether the figure at item y is a number alone and that at item x one of
// something.
func (c chooser) bare(y, x int) bool {
	a, b := c.Item(y).Qty, c.Item(x).Qty
	return a != nil && b != nil && a.Dim == quantity.Plain && b.Dim != quantity.Plain && b.Dim != quantity.Pieces
}

// sums drops the number that somebody counts on from to the one after item i, a so or
// the end of a sentence: twenty-six, plus the new lad, so 27; 24 pair, plus one. 25.
func (c chooser) sums(i int) {
	x, y := i+1, c.figureBefore(i)
	if y > 0 && c.HasWord(y-2, y, "plus", "minus", "another") {
		y = c.figureBefore(y)
	}
	if y < 0 || c.Item(x).Qty == nil || c.Item(y).Qty == nil || !c.HasWord(y, i, "plus", "and", "more", "another", "minus", "less", "without", "joined", "left") {
		return
	}
	a, b := c.Item(x).Qty, c.Item(y).Qty
	if a.Dim != quantity.Plain || !a.Whole || b.Dim != quantity.Plain && b.Dim != quantity.Pieces || c.Item(i).Mark == "." && !c.HasWord(y, i, "plus", "minus") {
		return
	}
	if b.Dim == quantity.Pieces {
		a.Dim, a.Form = b.Dim, b.Form
	}
	c.yield(x, y)
	for j := y; j <= i; j++ {
		c.Drop(j)
	}
}

// swaps drops the first of two figures that is to become the second: change 30 to 26.
func (c chooser) swaps(i int) {
	y := c.PastFiller(i + 1)
	x := c.PastFiller(y + 1)
	if c.Starts(x, "to", "with", "by", "for", "into") && c.Item(x).Qty == nil {
		x = c.PastFiller(x + 1)
	}
	if x > y && (c.figure(x) && c.figure(y) && c.alike(x, y) || c.sameFact(x, y)) {
		c.yield(x, y)
		for j := i; j < x; j++ {
			c.Drop(j)
		}
	}
}

// leaves drops the first of two figures after item i, a from, where the second is where it
// should come to: take it from 30 to 26; from 30 g down to 26; not from 24 to 30 g.
func (c chooser) leaves(i int) {
	y, x := i+1, i+2
	for c.Is(x, "down", "up", "to") || c.Starts(x, "to", "down", "up") && c.Item(x).Qty == nil {
		x++
	}
	if x == i+2 || !c.figure(x) || !c.figure(y) || c.Item(x).Qty == nil || c.Item(y).Qty == nil || !c.alike(x, y) {
		return
	}
	moved := c.HasWord(i-3, i, "take", "bring", "move", "go", "drop", "raise", "cut", "lower", "change", "get", "reduce", "up", "increase") && !c.HasWord(i-3, i, "anywhere", "anything")
	a, b := c.Item(y).Qty, c.Item(x).Qty
	said := func(q *quantity.Quantity) float64 {
		if q.Unit > 0 {
			return q.Value / q.Unit
		}
		return q.Value
	}
	down := said(a) > said(b)
	if !moved && !(down && b.Unit+a.Unit > 0 && c.HasWord(y, x, "down")) {
		return
	}
	c.yield(x, y)
	for j := i; j < x; j++ {
		c.Drop(j)
	}
}

// withdraws drops the figure that is taken back in favour of one that follows:
// ignore the 16, it's three quarters of an inch; cancel medium, soft.
func (c chooser) withdraws(i int) {
	y := c.PastFiller(i + 1)
	if !c.figure(y) || c.Item(y).Note != nil {
		return
	}
	if x := c.figureAfter(y); x >= 0 {
		c.yield(x, y)
		for j := i; j <= y; j++ {
			c.Drop(j)
		}
	}
}

// slipped drops the figure after item i, a verb for saying, that another was meant for:
// I typed 300 g, I wanted 30.
func (c chooser) slipped(i int) {
	y := c.PastFiller(i + 1)
	if !c.figure(y) || c.Item(y).Qty == nil {
		return
	}
	x := y + 1
	for x < y+6 && (c.Item(x).Mark == "," || c.Filler(x) || c.Is(x, "i", "but", "we", "and") || c.Says(x, "wanted", "meant", "ment")) {
		x++
	}
	if !c.figure(x) || c.Item(x).Qty == nil || !c.HasWord(y+1, x, "wanted", "meant", "ment") || !c.alike(x, y) {
		return
	}
	c.yield(x, y)
	for j := i; j < x; j++ {
		c.Drop(j)
	}
}

// boasts drops the wish before item i, a was, that was not meant: ff was me showing off.
func (c chooser) boasts(i int) {
	if c.Item(i-1).Fact() == nil || !c.At(c.Item(i).From+1).Is("me") && !c.HasWord(i, i+3, "joke", "joking", "typo", "mistake", "slip", "dreaming") {
		return
	}
	for j := i - 1; j == i-1 || j < len(c.Items) && c.Item(j).Mark == ""; j++ {
		c.Drop(j)
	}
	c.Contrasts = true
}

// yield lets the figure at item x stand for that at item y.
func (c chooser) yield(x, y int) {
	c.Contrasts = true
	if old := c.Item(y).Qty; old != nil {
		was := *old
		c.Denied = &was
	}
	c.Share(x, y)
}

// sameFact reports whether items x and y answer the same fact in two ways.
func (c chooser) sameFact(x, y int) bool {
	a, b := c.Item(x).Fact(), c.Item(y).Fact()
	return a != nil && b != nil && a.Slot == b.Slot && a.Value != b.Value
}

// figure reports whether item i is a quantity or a note.
func (c chooser) figure(i int) bool { return c.Item(i).Qty != nil || c.Item(i).Note != nil }

// alike reports whether the figures at items x and y can stand for one another.
func (c chooser) alike(x, y int) bool {
	a, b := c.Item(x).Qty, c.Item(y).Qty
	if a == nil || b == nil {
		return a == b
	}
	return a.Dim == b.Dim || a.Dim == quantity.Plain || b.Dim == quantity.Plain
}

// figureBefore returns the figure that stands before item i in its sentence, or -1.
func (c chooser) figureBefore(i int) int {
	for j := i - 1; j >= 0 && j > i-8 && !c.SentenceEnds(j); j-- {
		if c.figure(j) {
			return j
		}
	}
	return -1
}

// figureAfter returns the figure that replaces that at item y and follows it,
// with nothing between but a comma, but, or "it is"; or -1.
func (c chooser) figureAfter(y int) int {
	for j := y + 1; j < len(c.Items) && j < y+5; j++ {
		switch {
		case c.figure(j) && c.alike(y, j):
			return j
		case c.figure(j):
			return -1
		case c.Filler(j), c.Item(j).Mark == ",", c.Is(j, "but"), c.Item(j).Has("mend") != nil:
		default:
			return -1
		}
	}
	return -1
}

// Share gives the figure at item x the unit of that at item y: 1.6, not 3.2 mm.
func (c *Chart) Share(x, y int) {
	if a, b := c.Item(x).Qty, c.Item(y).Qty; a != nil && a.Dim == quantity.Plain && b.Dim != quantity.Plain && b.Unit > 0 {
		a.SetUnit(b.Dim, b.Unit)
	} else if a != nil && b != nil && a.Dim == quantity.Plain && a.Whole && b.Dim == quantity.Pieces && b.Form == "pair" { // not one pair, three
		a.Dim, a.Form = b.Dim, b.Form
	}
}
