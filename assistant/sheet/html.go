package sheet

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"mallow/assistant/draw"
	"mallow/assistant/page"
)

//go:embed sheet.html sheet.css
var files embed.FS

// figure is a picture for the HTML page.
type figure struct {
	SVG     template.HTML // made by package draw, which escapes what it is given
	Caption string
}

// parse makes the template. It takes about a millisecond, once a page.
func parse() (*template.Template, error) {
	css, err := files.ReadFile("sheet.css")
	if err != nil {
		return nil, err
	}
	return template.New("sheet.html").Funcs(template.FuncMap{
		"style":          func() template.CSS { return template.CSS(css) },
		"decibels":       decibels,
		"registersTitle": func() string { return registersTitle },
		"heads":          heads,
		"briefly":        func() string { return briefly },
		"wait":           wait,
		"inc":            func(i int) int { return i + 1 },
		"length":         length,
		"percent":        percent,
		"second":         second,
		"at": func(step int, c Caution) any {
			return struct {
				At int
				C  Caution
			}{step, c}
		},
	}).ParseFS(files, "sheet.html")
}

// view is a sheet as the template sees it.
type view struct {
	Sheet
	ID          string // starts every id of this sheet
	Section     figure
	SectionList []string
	Plots       []figure
	Templates   []template.HTML
}

// HTML writes the sheet as one page that stands alone: no script, nothing
// fetched, made to be printed on A4 or US Letter and to be read aloud.
func (s Sheet) HTML(w io.Writer) error {
	title := s.Title
	if s.For != "" {
		title += " for " + s.For
	}
	return write(w, Bundle{Title: title, Sheets: []Sheet{s}})
}

// write renders a bundle; one without rows has no overview.
func write(w io.Writer, b Bundle) error {
	t, err := parse()
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	data := struct {
		Title  string
		Rows   []Row
		Buy    *Buy
		Plots  []figure
		Sheets []view
	}{Title: b.Title, Rows: b.Rows, Buy: b.Buy}
	if data.Plots, err = figures("all-", b.plots); err != nil {
		return err
	}
	for i, s := range b.Sheets {
		v := view{Sheet: s, ID: fmt.Sprintf("s%d-", i+1), SectionList: s.section.List()}
		v.Section = figure{template.HTML(s.section.SVG(v.ID+"section", 2)), "Cross-section, twice full size when printed at 100 %."}
		if v.Plots, err = figures(v.ID, s.plots); err != nil {
			return err
		}
		for _, svg := range draw.Templates(v.ID+"templates", s.section) {
			v.Templates = append(v.Templates, template.HTML(svg))
		}
		data.Sheets = append(data.Sheets, v)
	}
	var out strings.Builder
	if err := t.Execute(&out, data); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	// The template escapes what HTML gives a meaning; control characters are
	// not among it.
	_, err = io.WriteString(w, page.Clean(out.String()))
	return err
}

// figures draws plots under ids that start with prefix.
func figures(prefix string, plots []draw.Plot) ([]figure, error) {
	var list []figure
	for i, p := range plots {
		svg, err := p.SVG(fmt.Sprintf("%splot%d", prefix, i+1))
		if err != nil {
			return nil, err
		}
		list = append(list, figure{template.HTML(svg), p.Title + ". " + p.Desc})
	}
	return list, nil
}
