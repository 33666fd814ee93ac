package tell

import (
	"slices"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/rules/propose"
)

// Moved shows what differs between two heads, and nothing else.
func (t Teller) Moved(r *Said, title string, a, b propose.Candidate) {
	rows := slices.DeleteFunc(t.Words().SideBySide(a, b), func(row []string) bool { return row[1] == row[2] })
	if len(rows) == 0 {
		r.Say("%s, nothing changes: the same head stays the best.", title)
		return
	}
	r.Page = append(r.Page, page.Table{Title: title + ", this moves:", Head: []string{"", "now", "then"}, Rows: rows})
	if f := b.Refused(); f != nil {
		r.Say("That head is refused: %s", reply.Reason(*f))
	}
}
