package tell

import (
	"math"
	"slices"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Moved says how b differs from a as a player would, and shows what differs and
// nothing else.
func (t Teller) Moved(r *Said, title string, a, b propose.Candidate) {
	rows := slices.DeleteFunc(t.Words().SideBySide(a, b), func(row []string) bool { return row[1] == row[2] })
	if len(rows) == 0 {
		r.Say("%s, nothing changes: the same head stays the best.", title)
		return
	}
	r.Say("%s: %s.", title, played(a.Facts.Head, b.Facts.Head))
	r.Page = append(r.Page, page.Table{Head: []string{"", "now", "then"}, Rows: rows})
	if f := b.Refused(); f != nil {
		r.Say("That head is refused: %s", reply.Reason(*f))
	}
}

// What a player makes of a difference, least first: not heard, heard side by
// side, heard at once.
const (
	unheard = 0.4 // notches
	heard   = 1.5
	unfelt  = 1 // g
	felt    = 4
)

// played says how head b differs from a in what a player hears and feels.
func played(a, b facts.Head) string {
	return degree(b.Softness-a.Softness, unheard, heard,
		"clearly harder and brighter, with a crisp start to the note", "a little harder, with a clearer start to the note",
		"it sounds about the same",
		"a little softer and rounder", "clearly softer, rounder and darker, with less start to the note") + "; " +
		degree(b.MassG-a.MassG, unfelt, felt,
			"much lighter in the hand", "a little lighter in the hand", "as heavy in the hand", "a little heavier in the hand", "much heavier in the hand")
}

// degree puts a difference in words: far below, below, about the same, above and
// far above.
func degree(d, little, much float64, farBelow, below, same, above, farAbove string) string {
	switch {
	case math.Abs(d) < little:
		return same
	case d > much:
		return farAbove
	case d > 0:
		return above
	case d < -much:
		return farBelow
	}
	return below
}
