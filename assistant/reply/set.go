package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/rules/propose"
)

// Set shows a graded set.
func Set(s propose.Set, each int) page.Page {
	t := page.Table{
		Title: fmt.Sprintf("%d grades, hardest first, %d heads of each", len(s.Rungs), each),
		Head:  []string{"", "stack", "notches", "asked", "mass g", "over it"},
		Right: []bool{true, false, true, true, true, false},
	}
	for i, r := range s.Rungs {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), r.Stack, fmt.Sprintf("%+.1f", r.Softness), fmt.Sprintf("%+.1f", r.Want), fmt.Sprintf("%.1f", r.MassG), both(r.MM),
		})
	}
	how := "No other choice among them is better: this was proven."
	if !s.Exact {
		how = "The search was cut short, so a better choice may exist."
	}
	p := page.Page{t, page.Para(fmt.Sprintf("Chosen from %d heads. %s", s.Items, how))}
	for i, r := range s.Rungs {
		p = append(p, page.Para(fmt.Sprintf("Pair %d: %s", i+1, matching(r.Match))))
	}
	return append(p, orderTable(s.Order)...)
}

// matching says what to weigh so that heads come out alike.
func matching(m propose.Matching) string {
	var weigh []string
	for _, w := range m.Weigh {
		weigh = append(weigh, fmt.Sprintf("%s (± %.2f g)", w.Part, w.TolG))
	}
	s := fmt.Sprintf("unmatched heads differ by about %.1f g", m.MassG)
	if len(weigh) > 0 {
		s += fmt.Sprintf("; weigh and pair %s, and they come within about %.1f g", strings.Join(weigh, ", "), m.PairedG)
	}
	return s + "."
}

// orderTable is what to buy and how to cut it.
func orderTable(o propose.Order) page.Page {
	t := page.Table{
		Title: "To buy, at the catalogue's invented prices",
		Head:  []string{"part", "need", "spare", "have", "packs", "cost"},
		Right: []bool{false, true, true, true, true, true},
	}
	for _, l := range o.Lines {
		unit := ""
		if l.Unit == "m" {
			unit = " m"
		}
		t.Rows = append(t.Rows, []string{
			l.Name, amount(l.Need) + unit, amount(l.Spare) + unit, amount(l.Have) + unit, fmt.Sprint(l.Packs), l.Cost.String(),
		})
	}
	t.Rows = append(t.Rows, []string{"all together", "", "", "", "", o.Total.String()})
	return page.Page{t}
}

// amount prints a number of pieces or metres without needless decimals.
func amount(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
}
