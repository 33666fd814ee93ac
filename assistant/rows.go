package assistant

import (
	"fmt"
	"slices"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/understand"
	"mallow/rules/propose"
)

// moved shows what differs between two heads, and nothing else.
func (t teller) moved(r *Reply, title string, a, b propose.Candidate) {
	rows := slices.DeleteFunc(t.words().SideBySide(a, b), func(row []string) bool { return row[1] == row[2] })
	if len(rows) == 0 {
		r.Say("%s, nothing moves: the same head stays the best.", title)
		return
	}
	r.Page = append(r.Page, page.Table{Title: title + ", this moves:", Head: []string{"", "now", "then"}, Rows: rows})
	if f := b.Refused(); f != nil {
		r.Say("That head is refused: %s", reply.Reason(*f))
	}
}

// compare puts two heads side by side: two choices, the best with two parts,
// or the two best.
func (t teller) compare(r *Reply, in understand.Reading) {
	var heads []propose.Candidate
	var names []string
	for _, p := range in.Parts {
		if c, ok := t.kit.offers.With(&t.now.State, p); ok {
			heads, names = append(heads, c), append(names, "with "+p.Text)
		}
	}
	for _, about := range in.About {
		if about.Kind != "choice" {
			continue
		}
		if c, ok := t.kit.offers.Choice(&t.now.State, about.N); ok {
			heads, names = append(heads, c), append(names, fmt.Sprintf("choice %d", about.N))
		}
	}
	for n := 1; len(heads) < 2; n++ {
		c, ok := t.kit.offers.Choice(&t.now.State, n)
		if !ok {
			r.Say("There are no two heads to compare yet. Name two parts or two choices, such as compare 1 and 2.")
			return
		}
		if len(heads) == 1 && heads[0].Stack.String() == c.Stack.String() {
			continue
		}
		heads, names = append(heads, c), append(names, fmt.Sprintf("choice %d", n))
	}
	r.Page = append(r.Page, page.Table{Head: []string{"", names[0], names[1]}, Rows: t.words().SideBySide(heads[0], heads[1])})
	r.Say("The second against the first: %s", reply.Against(heads[0], heads[1]))
}
