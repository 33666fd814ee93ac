package assistant

import (
	"fmt"
	"mallow/assistant/page"
	"mallow/assistant/understand"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
	"math"
	"slices"
)

// moved shows what differs between two heads, and nothing else.
func (t teller) moved(r *Reply, title string, a, b propose.Candidate) {
	rows := slices.DeleteFunc(t.rows(a, b), func(row []string) bool { return row[1] == row[2] })
	if len(rows) == 0 {
		r.Say("%s, nothing moves: the same head stays the best.", title)
		return
	}
	r.Page = append(r.Page, page.Table{Title: title + ", this moves:", Head: []string{"", "now", "then"}, Rows: rows})
	if f := b.Refused(); f != nil {
		r.Say("That head is refused: %s", reason(*f))
	}
}

// rows are the facts of two heads side by side.
func (t teller) rows(a, b propose.Candidate) [][]string {
	x, y := a.Facts.Head, b.Facts.Head
	var rows [][]string
	row := func(name, now, then string) { rows = append(rows, []string{name, now, then}) }
	num := func(name, form string, now, then float64) {
		row(name, fmt.Sprintf(form, now+0), fmt.Sprintf(form, then+0))
	}
	row("core", t.partName(a.Stack.Core.ID), t.partName(b.Stack.Core.ID))
	for i := range max(len(a.Stack.Slices), len(b.Stack.Slices)) {
		row(fmt.Sprintf("layer %d", i+1), t.layerName(a.Stack, i), t.layerName(b.Stack, i))
	}
	row("yarn", t.yarnName(a.Stack), t.yarnName(b.Stack))
	row("grade", a.Report.Grade, b.Report.Grade)
	num("softness, notches", "%+.1f", x.Softness, y.Softness)
	num("mass, g", "%.1f", x.MassG, y.MassG)
	num("size, mm", "%.1f", x.DiameterMM, y.DiameterMM)
	num("cut-off at p, Hz", "%.0f", x.CutoffPHz, y.CutoffPHz)
	num("cut-off at ff, Hz", "%.0f", x.CutoffFFHz, y.CutoffFFHz)
	num("opens up, octaves", "%.1f", x.OpensUp, y.OpensUp)
	num("second partial at f, dB", "%.0f", x.BrightDB, y.BrightDB)
	num("hardest pull, N", "%.0f", x.HandN, y.HandN)
	row("cost of a pair", measure.Money(math.Round(2*x.CostCents)).String(), measure.Money(math.Round(2*y.CostCents)).String())
	return rows
}

func (t teller) layerName(st head.Stack, i int) string {
	if i >= len(st.Slices) {
		return "none"
	}
	return t.partName(st.Slices[i].Tube.ID)
}

func (t teller) yarnName(st head.Stack) string {
	if st.Wrap == nil {
		return "none"
	}
	return fmt.Sprintf("%s, %d turns", t.partName(st.Wrap.Yarn.ID), st.Wrap.Turns)
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
	r.Page = append(r.Page, page.Table{Head: []string{"", names[0], names[1]}, Rows: t.rows(heads[0], heads[1])})
	r.Say("The second against the first: %s", t.against(heads[0], heads[1]))
}
