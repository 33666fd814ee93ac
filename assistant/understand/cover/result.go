package cover

// results drops the figures that a sum is done with, of which the outcome is said last:
// twenty-six, plus the new lad, so 27; we lost two, so 18; she throws in a tenner, so 25.
func (c chooser) results() {
	for i := range c.Items {
		if !c.Is(i, "so", "makes", "making", "thats", "leaves", "leaving", "equals", "totals") && !c.Says(i, "makes", "leaves") {
			continue
		}
		x := c.PastFiller(i + 1)
		for c.Is(x, "it", "us", "that", "now", "makes", "were", "is", "at", "in", "we", "have", "thats", "about", "only") && x < i+5 {
			x++
		}
		if !c.figure(x) || c.Item(x).Note != nil || !c.ClauseEnds(x+1) && !c.Item(x+1).Any("count", "unit", "share") {
			continue
		}
		from := i - 1
		for from > 0 && from > i-16 && c.Item(from).Mark != "." && c.Item(from).Mark != "?" && c.Item(from).Mark != ";" {
			from--
		}
		if !c.HasWord(max(0, from), i, "plus", "minus", "another", "lost", "more", "joined", "add", "added", "adding", "extra", "left", "gone", "dropped", "fewer", "less", "joins", "quit", "arrived", "chips", "throw", "throws", "chip", "gave", "gained", "new") {
			continue
		}
		c.Contrasts = true
		for y := max(0, from); y < i; y++ {
			if q := c.Item(y).Qty; q != nil && c.alike(x, y) {
				c.yield(x, y)
				c.Drop(y)
			}
		}
	}
}
