package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/rules/propose"
)

// Change shows the cheapest change of a head.
func Change(from head.Stack, aim propose.Aim, c propose.Change) page.Page {
	p := page.Page{page.Heading{Level: 1, Text: capital(aim.Way) + " than " + from.String()}}
	if aim.Way == "no latex" {
		p[0] = page.Heading{Level: 1, Text: from.String() + " without latex"}
	}
	var edits []string
	for _, e := range c.Edits {
		edits = append(edits, edit(e))
	}
	p = append(p,
		page.List{Numbered: true, Items: edits},
		page.Para(fmt.Sprintf("That makes %s: %s, %.1f notches, %.1f g, %s. New parts cost about %.2f a head at the catalogue's invented prices.",
			c.Stack, c.Head.Report.Grade, c.Head.Facts.Head.Softness, c.Head.Facts.Head.MassG, both(c.Head.Facts.Head.DiameterMM), c.CostCents/100)),
		Trades("What it moves", c.Trades))
	if len(c.Others) > 0 {
		var ways []string
		for _, o := range c.Others {
			ways = append(ways, fmt.Sprintf("%s: %.1f notches, %.1f g, %s", o.Stack, o.Facts.Head.Softness, o.Facts.Head.MassG, both(o.Facts.Head.DiameterMM)))
		}
		p = append(p, page.Para("Other ways, dearer or further off:"), page.List{Items: ways})
	}
	return p
}

func edit(e propose.Edit) string {
	switch {
	case e.From == "":
		return fmt.Sprintf("%s %s: %s", e.Do, e.What, e.To)
	case e.To == "":
		return fmt.Sprintf("%s %s: %s", e.Do, e.What, e.From)
	}
	return fmt.Sprintf("%s %s: %s for %s", e.Do, e.What, e.To, e.From)
}

// Trades is what two heads differ in.
func Trades(title string, list []propose.Trade) page.Table {
	t := page.Table{Title: title, Head: []string{"what", "before", "after", "unit"}, Right: []bool{false, true, true, false}}
	for _, x := range list {
		name := strings.ReplaceAll(strings.TrimPrefix(x.Fact, "head."), "_", " ")
		t.Rows = append(t.Rows, []string{name, fmt.Sprintf("%.2f", x.From), fmt.Sprintf("%.2f", x.To), x.Unit})
	}
	return t
}
