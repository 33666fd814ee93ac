package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"io"

	"mallow/assistant/chart"
	"mallow/assistant/draw"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Bundle is the sheets of several heads under one overview: a graded set, or
// a class.
type Bundle struct {
	Title  string  `json:"title"`
	Rows   []Row   `json:"heads"`
	Buy    *Buy    `json:"buy,omitempty"` // for all of them together
	Sheets []Sheet `json:"sheets"`

	plots []draw.Plot
}

// Row is one head of a bundle at a glance.
type Row struct {
	Name string `json:"name"` // whom or what it is for
	reply.Pick
	Heads int `json:"heads"`
}

// Entry is one head of a bundle to be made.
type Entry struct {
	Candidate propose.Candidate
	Options   Options // For names the row
}

// Set returns the sheets of a graded set, hardest or softest first as given,
// with its ladder. The order is for all of it; nil leaves it out.
func (m *Maker) Set(title string, set []Entry, order *stock.Order) (Bundle, error) {
	b, err := m.Class(title, set, order)
	heads := make([]chart.Head, len(set))
	for i, e := range set {
		heads[i] = shown(fmt.Sprint(i+1), e.Candidate)
	}
	b.plots = m.charts.Ladder(heads)
	return b, err
}

// Class returns the sheets of several makers. The order is for all of them;
// nil leaves it out. The error joins what keeps each sheet from being made;
// the bundle holds the others all the same.
func (m *Maker) Class(title string, class []Entry, order *stock.Order) (Bundle, error) {
	b := Bundle{Title: title, Buy: m.buy(order)}
	var errs []error
	for i, e := range class {
		name := cmp.Or(e.Options.For, fmt.Sprint(i+1))
		s, err := m.Sheet(e.Candidate, e.Options)
		if err != nil {
			errs = append(errs, fmt.Errorf("no sheet for %s: %w", name, err))
			continue
		}
		b.Rows = append(b.Rows, Row{name, reply.NewPick(e.Candidate), s.Heads})
		b.Sheets = append(b.Sheets, s)
	}
	return b, errors.Join(errs...)
}

// Page returns the overview and then every sheet.
func (b Bundle) Page(width int) page.Page {
	t := page.Table{Title: "The heads", Head: []string{"for", "stack", "grade", "softness", "mass", "diameter", "to build"},
		Right: []bool{false, false, false, true, true, true, true}}
	for _, r := range b.Rows {
		t.Rows = append(t.Rows, []string{r.Name, r.Stack, r.Grade, fmt.Sprintf("%+.1f", r.Softness),
			fmt.Sprintf("%.1f g", r.MassG), length(r.DiameterMM), fmt.Sprint(r.Heads)})
	}
	p := page.Page{page.Heading{Level: 1, Text: b.Title}, t}
	p = append(p, b.Buy.page()...)
	for _, s := range b.Sheets {
		p = append(p, s.Page(width)...)
	}
	return p
}

// Text writes the bundle for a terminal.
func (b Bundle) Text(w io.Writer, style page.Style) error {
	return page.Text(w, b.Page(style.Width), style)
}

// Markdown writes the bundle as Markdown.
func (b Bundle) Markdown(w io.Writer) error { return page.Markdown(w, b.Page(page.MaxWidth)) }

// JSON writes the bundle as indented JSON.
func (b Bundle) JSON(w io.Writer) error {
	return page.JSON(w, b)
}

// HTML writes the bundle as one page that stands alone.
func (b Bundle) HTML(w io.Writer) error { return write(w, b) }
