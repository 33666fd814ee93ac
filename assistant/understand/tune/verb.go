package tune

import "mallow/assistant/understand/cover"

// Orders reports whether item i stands where an order stands in the clause that begins
// at item from, or behind the quality it is of: could the tone lose some sparkle.
func Orders(c *cover.Chart, from, i int) bool {
	j := i - 1
	for j > from && (c.Filler(j) || c.Item(j).Any("topic", "names")) {
		j--
	}
	return verb(c, from, i) || verb(c, from, j+1) || j == from && c.Starts(j, "can", "could", "let", "have")
}

// Way returns which way a verb at item i moves a figure, 0 for none, in the clause that
// begins at item from.
func Way(c *cover.Chart, from, i int) float64 {
	switch {
	case c.Dropped(i):
	case c.Starts(i, "increase", "raise", "up", "boost", "add", "gain", "enlarge") && verb(c, from, i):
		return 1
	case c.Starts(i, "reduce", "decrease", "lower", "cut", "drop", "knock", "shave", "trim", "lose", "shed", "take", "bring") && verb(c, from, i):
		return -1
	}
	return 0
}

// verb reports whether item i stands where the verb of an order stands.
func verb(c *cover.Chart, from, i int) bool {
	if c.Filler(i) && !c.Starts(i, "take", "up") {
		return false
	}
	for j := from; j < i; j++ {
		if !c.Filler(j) && !c.Item(j).Any("join", "social", "degree") && !c.Starts(j, "please", "can", "could", "just", "lets", "now", "want", "i", "to", "maybe") {
			return false
		}
	}
	return true
}
