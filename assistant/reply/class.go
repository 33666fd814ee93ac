package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/measure"
	"mallow/rules/class"
)

// Class is a class: who gets which head, what there is to look out for, and
// the one order for all.
type Class struct {
	Title       string    `json:"title,omitempty"`
	Students    []Student `json:"students"` // in the roster's order
	Warnings    []Warning `json:"warnings,omitempty"`
	Broken      []string  `json:"broken,omitempty"` // of the roster, not used
	Order       Order     `json:"order"`
	BudgetCents int64     `json:"budget_cents,omitempty"`
	Within      bool      `json:"within"`     // the order is within the budget, or there is none
	BestCents   int64     `json:"best_cents"` // what the order comes to when everybody has the best head
	Lost        float64   `json:"lost_points"`
	Points      float64   `json:"points"`
	LeastPoints float64   `json:"points_lower_bound"`
	// Least is the cheapest order found where the budget can't be met.
	LeastCents      int64 `json:"least_cents,omitempty"`
	LeastBoundCents int64 `json:"least_lower_bound_cents,omitempty"`
	Partial         bool  `json:"partial,omitempty"` // stopped before all was weighed
}

// Student is one student's head, or the trouble with it.
type Student struct {
	Name   string  `json:"name"`
	Line   int     `json:"line"` // in the roster
	Heads  int     `json:"heads"`
	Stack  string  `json:"stack,omitempty"`
	Plain  string  `json:"plain,omitempty"` // in words
	Head   *Head   `json:"head,omitempty"`
	Score  float64 `json:"score_points"`
	Wanted string  `json:"wanted,omitempty"` // the best head's stack, where another is chosen for the class's sake
	Lost   float64 `json:"lost_points,omitempty"`
	Alike  string  `json:"alike,omitempty"` // the first student with the same head
	Assumptions
	Binds   []string `json:"binds,omitempty"`  // what nobody said, and what would be better otherwise
	Missed  []string `json:"missed,omitempty"` // of the wish, not understood
	Minor   bool     `json:"minor"`
	NoLatex bool     `json:"no_latex"`
	Trouble string   `json:"trouble,omitempty"`
}

// Warning is what a teacher has to know before anything is bought.
type Warning struct {
	Caution  string   `json:"caution"` // id
	Hazard   string   `json:"hazard"`
	Do       string   `json:"do"`
	Defer    string   `json:"defer"`
	Students []string `json:"students"`
}

// NewClass gathers what is shown of a class.
func NewClass(w Writer, c class.Class) (Class, error) {
	v := Class{
		Title: c.Title, Students: []Student{}, Order: NewOrder(c.Order), BudgetCents: int64(c.Budget), Within: c.Within,
		BestCents: int64(c.Best), Lost: Round(c.Lost, 2), Points: Round(c.Points, 3), LeastPoints: Round(c.PointsBound, 3),
		LeastCents: int64(c.Least), LeastBoundCents: int64(c.LeastBound), Partial: c.Partial,
	}
	for _, s := range c.Students {
		x := Student{Name: s.Name, Line: s.Line, Heads: s.Heads, Score: Round(s.Score, 2), Wanted: s.Wanted, Lost: Round(s.Lost, 2),
			Alike: s.Alike, Assumptions: Assuming(w.cat, s.Request.Pass), Missed: s.Missed, Minor: s.Minor, NoLatex: s.NoLatex}
		if s.Err != nil {
			x.Trouble = s.Trouble
		} else {
			made, err := w.On(s.Head).Write(s.Head.Stack)
			if err != nil {
				return Class{}, err
			}
			x.Stack, x.Plain, x.Head = made.Stack, made.Plain, &made.Head
			for _, b := range s.Binds {
				x.Binds = append(x.Binds, w.Words().Binding(b))
			}
		}
		v.Students = append(v.Students, x)
	}
	for _, x := range c.Warnings {
		v.Warnings = append(v.Warnings, Warning(x))
	}
	for _, e := range c.Broken {
		v.Broken = append(v.Broken, e.Error())
	}
	return v, nil
}

// Page is the class for people.
func (v Class) Page() page.Page {
	title := v.Title
	if title == "" {
		title = "A class"
	}
	t := page.Table{
		Head:  []string{"student", "heads", "made of", "notches", "mass g", "note"},
		Right: []bool{false, true, false, true, true, false},
	}
	for _, s := range v.Students {
		row := []string{s.Name, "", "", "", "", s.note()}
		if h := s.Head; h != nil {
			row = []string{s.Name, fmt.Sprint(s.Heads), s.Plain, fmt.Sprintf("%+.1f", h.Softness), fmt.Sprintf("%.1f", h.MassG), s.note()}
		}
		t.Rows = append(t.Rows, row)
	}
	p := append(v.assumed(), page.Heading{Level: 1, Text: title}, t)
	for _, n := range v.Notes() {
		p = append(p, page.Para(n))
	}
	p = append(p, v.Order.Page()...)
	return append(p, page.Para(v.budget()))
}

// Notes are what a teacher has to know before anything is bought: whom to keep
// something from, and what of the roster was not used.
func (v Class) Notes() []string {
	var list []string
	for _, w := range v.Warnings {
		list = append(list, fmt.Sprintf("CAUTION for %s. %s %s %s", strings.Join(w.Students, ", "), w.Hazard, w.Do, w.Defer))
	}
	for _, b := range v.Broken {
		list = append(list, "Not used: "+b+".")
	}
	return list
}

// assumed is what nobody was asked, with the students of whom it is true.
func (v Class) assumed() page.Page {
	var says, list []string
	whom := map[string][]string{}
	for _, s := range v.Students {
		for _, x := range append(s.Says(), s.Binds...) {
			if whom[x] == nil {
				says = append(says, x)
			}
			whom[x] = append(whom[x], s.Name)
		}
	}
	for _, x := range says {
		if n := len(whom[x]); n < len(v.Students) {
			x = strings.Join(whom[x], ", ") + ": " + x
		}
		list = append(list, x)
	}
	if len(list) == 0 {
		return nil
	}
	return page.Page{page.Para(notAsked), page.List{Items: list}}
}

// note is what a teacher should know of one student's head.
func (s Student) note() string {
	var notes []string
	switch {
	case s.Head == nil:
		notes = append(notes, "no head: "+s.Trouble)
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
func (v Class) budget() string {
	money := func(cents int64) string { return measure.Money(cents).String() }
	switch {
	case v.BudgetCents == 0:
		return fmt.Sprintf("All together %s at the catalogue's invented prices.", money(v.Order.TotalCents))
	case !v.Within:
		return fmt.Sprintf("The budget of %s can't be met: the cheapest order found is %s, and none of the heads weighed allow less than %s.",
			money(v.BudgetCents), money(v.LeastCents), money(v.LeastBoundCents))
	case v.Lost > 0:
		return fmt.Sprintf("Within the budget of %s; with the best head for everybody, sharing nothing, it would be %s. Sharing costs the class %.1f points of score.",
			money(v.BudgetCents), money(v.BestCents), v.Lost)
	}
	return fmt.Sprintf("Within the budget of %s, and everybody has the best head.", money(v.BudgetCents))
}
