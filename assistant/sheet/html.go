package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"mallow/assistant/draw"
	"mallow/assistant/web"
)

//go:embed sheet.html
var body string

// parse makes the template. It takes about a millisecond, once a page.
func parse() (*template.Template, error) {
	return template.New("sheet.html").Funcs(template.FuncMap{
		"length":         length,
		"percent":        percent,
		"second":         second,
		"registersTitle": func() string { return registersTitle },
		"heads":          heads,
		"briefly":        func() string { return briefly },
		"wait":           wait,
		"inc":            func(i int) int { return i + 1 },
		"printed":        func(i, rows int) bool { return i < 2*rows },
		"h":              heading,
	}).Parse(body)
}

// heading is a heading of a level with an id.
func heading(level int, id, text string) template.HTML {
	return template.HTML(fmt.Sprintf(`<h%d id="%s">%s</h%d>`, level, template.HTMLEscapeString(id), template.HTMLEscapeString(text), level))
}

// view is a sheet as the template sees it.
type view struct {
	Sheet
	ID        string // starts every id of this sheet
	Level     int    // of its title
	Card      []string
	ToolList  []string
	Section   web.Figure
	Plots     []web.Figure
	Templates []template.HTML
	Work      []web.Figure // pictures of the work, by the number of the step
	Rows      int          // of plots that are printed, two in a row
}

// papers are what is printed on, as shares of a page: measured in a browser, by words before
// the templates and how far down these begin.
var papers = []struct{ words, fixed float64 }{
	{1330, 0.17}, // A4
	{1290, 0.22}, // US Letter
}

// What the parts after the templates and a row of plots take, as shares of a
// page of so many millimetres.
const (
	closing, rowOfPlots = 0.15, 0.24
	paper               = 275.0
)

// rows is how many rows of plots are printed, so that the last page is no
// half-empty one on either paper. high is what templates take, in mm.
func (s Sheet) rows(high float64) int {
	words := float64(s.words())
	best, most := 0, 0.0
	for rows := range 3 {
		worst := 1.0
		for _, p := range papers {
			end := words/p.words + p.fixed + high/paper + closing + rowOfPlots*float64(rows)
			_, full := math.Modf(end)
			if end > 3.96 && rows > 0 || full > 0.96 {
				full = 0
			}
			worst = min(worst, full)
		}
		if worst > most+0.05 {
			best, most = rows, worst
		}
	}
	return best
}

// words is about how many words are printed before the templates.
func (s Sheet) words() int {
	text := []string{s.Title, s.For, s.Effort.String(), s.Safety.Rule, s.Stack}
	text = append(append(append(text, s.Says()...), s.shopping()...), s.toolList()...)
	text = append(text, lines(s.Summary)...)
	if s.Buy != nil {
		text = append(text, s.Buy.Note)
	}
	whole := func(c Caution) { text = append(text, c.Name, c.Hazard, c.Do, c.Defer) }
	for _, x := range s.Steps {
		text = append(text, x.Heading(), x.Before, x.Again(), x.Says())
		text = append(text, x.notes()...)
		for _, c := range x.Whole() {
			whole(c)
		}
	}
	for _, c := range s.Safety.Cautions {
		whole(c)
	}
	return len(strings.Fields(strings.Join(text, " ")))
}

// at is a step with the sheet that it stands on.
type at struct {
	View view
	Step Step
}

// At is a step of the sheet.
func (v view) At(s Step) at { return at{v, s} }

// L is a level under the sheet's title.
func (v view) L(n int) int { return v.Level + n }

// Picture is the picture of the work at a step, nil when there is none.
func (v view) Picture(step int) *web.Figure {
	if step-1 < len(v.Work) && v.Work[step-1].SVG != "" {
		return &v.Work[step-1]
	}
	return nil
}

// newView puts a sheet into the template's terms.
func newView(id string, level int, s Sheet) (view, error) {
	v := view{Sheet: s, ID: id, Level: level, Card: s.shopping(), ToolList: s.toolList()}
	v.Section = web.Figure{SVG: template.HTML(s.section.SVG(id+"section", 1)), Caption: "Cross-section, life-size when printed at 100 %. " + strings.Join(s.section.List(), " ")}
	var err error
	if v.Plots, err = web.Figures(id, s.plots); err != nil {
		return view{}, err
	}
	high := 0.0
	for _, t := range draw.Templates(id+"templates", s.section) {
		v.Templates, high = append(v.Templates, template.HTML(t.SVG)), high+t.High
	}
	v.Rows = s.rows(high)
	shown := map[string]bool{}
	for _, step := range s.Steps {
		var f web.Figure
		if w, ok := draw.Work(step.ID, fmt.Sprintf("%swork%d", id, step.Number), s.section, s.trials); ok && !shown[step.ID] {
			f, shown[step.ID] = web.Figure{SVG: template.HTML(w.SVG), Caption: w.Desc}, true
		}
		v.Work = append(v.Work, f)
	}
	return v, nil
}

// HTML writes the sheet as one page that stands alone: no script, nothing
// fetched, made to be printed on A4 or US Letter and to be read aloud.
func (s Sheet) HTML(w io.Writer) error {
	v, err := newView("s1-", 1, s)
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	title := s.Title
	if s.For != "" {
		title += " for " + s.For
	}
	return write(w, title, "sheet", v)
}

// write renders one of the template's parts as a page.
func write(w io.Writer, title, part string, data any) error {
	t, err := parse()
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	var out strings.Builder
	if err := t.ExecuteTemplate(&out, part, data); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	return web.Write(w, title, template.HTML(out.String()))
}
