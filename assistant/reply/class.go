package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/rules/propose"
)

// Class shows a class: who gets which head, what there is to look out for, and
// the one order for all.
func Class(c propose.Class) page.Page {
	title := c.Title
	if title == "" {
		title = "A class"
	}
	t := page.Table{
		Head:  []string{"student", "heads", "stack", "notches", "mass g", "note"},
		Right: []bool{false, true, false, true, true, false},
	}
	for _, s := range c.Students {
		row := []string{s.Name, "", "", "", "", placeNote(s)}
		if s.Err == nil {
			h := s.Head.Facts.Head
			row = []string{s.Name, fmt.Sprint(s.Heads), s.Stack, fmt.Sprintf("%+.1f", h.Softness), fmt.Sprintf("%.1f", h.MassG), placeNote(s)}
		}
		t.Rows = append(t.Rows, row)
	}
	p := page.Page{page.Heading{Level: 1, Text: title}, t}
	for _, w := range c.Warnings {
		p = append(p, page.Para(fmt.Sprintf("CAUTION for %s. %s %s %s", strings.Join(w.Students, ", "), w.Hazard, w.Do, w.Defer)))
	}
	p = append(p, orderTable(c.Order)...)
	return append(p, page.Para(budget(c)))
}

// placeNote is what a teacher should know of one student's head.
func placeNote(s propose.Place) string {
	var notes []string
	switch {
	case s.Err != nil:
		notes = append(notes, "no head: "+Sentence(s.Err))
	case s.Alike != "":
		notes = append(notes, "as "+s.Alike)
	}
	if s.NoLatex {
		notes = append(notes, "no latex")
	}
	if s.Minor {
		notes = append(notes, "minor")
	}
	if s.Wanted != "" {
		notes = append(notes, "instead of "+s.Wanted+", to share packs")
	}
	for _, m := range s.Missed {
		notes = append(notes, fmt.Sprintf("made nothing of %q", m))
	}
	return strings.Join(notes, "; ")
}

// budget says how the order stands to the budget.
func budget(c propose.Class) string {
	switch {
	case c.Budget == 0:
		return fmt.Sprintf("All together %s at the catalogue's invented prices.", c.Order.Total)
	case !c.Within:
		return fmt.Sprintf("The budget of %s can't be met: the cheapest order found is %s, and none of the heads weighed allow less than %s.", c.Budget, c.Least, c.LeastBound)
	case c.Lost > 0:
		return fmt.Sprintf("Within the budget of %s; with the best head for everybody, sharing nothing, it would be %s. Sharing costs the class %.1f points of score.", c.Budget, c.Best, c.Lost)
	}
	return fmt.Sprintf("Within the budget of %s, and everybody has the best head.", c.Budget)
}
