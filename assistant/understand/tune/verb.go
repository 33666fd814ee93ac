package tune

import (
	"math"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// Orders reports whether item i stands where an order stands in the clause that begins
// at item from, or behind the quality it is of: could the tone lose some sparkle.
func Orders(c *cover.Chart, from, i int) bool {
	j := i - 1
	for j > from && (c.Filler(j) || c.Item(j).Any("topic", "names")) {
		j--
	}
	return verb(c, from, i) || verb(c, from, j+1) || j == from && c.Starts(j, "can", "could", "let", "have")
}

// way returns which way a verb at item i moves a figure, 0 for none, in the clause that
// begins at item from.
func way(c *cover.Chart, from, i int) float64 {
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

// Adjust reads an order at item i, in the clause from..to, to move something that is named
// and no figure with it, but notches: reduce the diameter, bring the size up. It returns
// the fact that moves, or "", how far, in which unit, and the item behind the order.
func Adjust(c *cover.Chart, from, i, to int) (path string, by float64, unit string, end int) {
	by, end = way(c, from, i), i+1
	if by == 0 {
		return "", 0, "", i
	}
	if by < 0 && c.Starts(i, "take", "bring") && c.HasWord(i, min(i+5, to), "up") {
		by = 1
	}
	for j := i + 1; j < to && j < i+8; j++ {
		it := c.Item(j)
		switch {
		case it.Has("topic") != nil && it.Has("topic").Topic[0].Kind == "fact" && path == "":
			path, end = it.Has("topic").Topic[0].ID, j+1
		case c.Starts(j, "off") && path != "":
			end = j + 1
		case c.Starts(j, "to", "at"), c.OfPart(j), it.Any("holding", "keep", "same"):
			j = to
		}
	}
	switch path {
	case facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents:
		return path, by, "", end
	case facts.WantSoftness:
	default:
		return "", 0, "", i
	}
	by *= 2
	if c.HasWord(i, end, "hardness") {
		by = -by
	}
	at := end
	for c.Filler(at) {
		at++ // reduce the hardness by two notches
	}
	if q := c.Item(at).Qty; q != nil && q.Dim == quantity.Notches {
		by, end = math.Copysign(q.Value, by), at+1
	}
	return path, by, "notches", end
}
