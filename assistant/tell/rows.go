package tell

import (
	"math"
	"slices"
	"strings"

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
	var list []string
	switch d := b.Softness - a.Softness; {
	case math.Abs(d) < unheard:
		list = append(list, "it sounds about the same")
	case d > heard:
		list = append(list, "clearly softer, rounder and darker, with less start to the note")
	case d > 0:
		list = append(list, "a little softer and rounder")
	case d < -heard:
		list = append(list, "clearly harder and brighter, with a crisp start to the note")
	default:
		list = append(list, "a little harder, with a clearer start to the note")
	}
	switch d := b.MassG - a.MassG; {
	case math.Abs(d) < unfelt:
		list = append(list, "as heavy in the hand")
	case d > felt:
		list = append(list, "much heavier in the hand")
	case d > 0:
		list = append(list, "a little heavier in the hand")
	case d < -felt:
		list = append(list, "much lighter in the hand")
	default:
		list = append(list, "a little lighter in the hand")
	}
	return strings.Join(list, "; ")
}
