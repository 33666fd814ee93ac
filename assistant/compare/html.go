package compare

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"mallow/assistant/draw"
	"mallow/assistant/page"
	"mallow/assistant/web"
)

//go:embed compare.html
var body string

// HTML writes the comparison as a page that stands alone.
func (v Comparison) HTML(w io.Writer) error {
	t, err := template.New("compare").Parse(body)
	if err != nil {
		return fmt.Errorf("compare: %w", err)
	}
	scale := "Cut through the shaft, all at one scale."
	if draw.RowWide(v.cuts) <= draw.PageWidth {
		scale = "Cut through the shaft, all at one scale: life-size when printed at 100 %."
	}
	data := struct {
		Comparison
		Trouble []string
		Table   page.Table
		Trust   string
		Row     web.Figure
		Figures []web.Figure
	}{v, v.trouble(), v.table(), trust, web.Figure{SVG: template.HTML(draw.Row("cuts", v.cuts)), Title: scale, Caption: v.inWords()}, nil}
	opening, mass, size := v.charts.Opening(v.shown), v.charts.Mass(v.shown), v.charts.Size(v.shown)
	for _, f := range []struct {
		id             string
		is             web.Picture
		title, caption string
	}{{"opening", opening, opening.Title, opening.Desc}, {"mass", mass, mass.Title, ""}, {"size", size, size.Title, ""}} {
		figure, err := web.Draw(f.id, f.is, f.title, f.caption)
		if err != nil {
			return fmt.Errorf("compare: %w", err)
		}
		data.Figures = append(data.Figures, figure)
	}
	var out strings.Builder
	if err := t.Execute(&out, data); err != nil {
		return fmt.Errorf("compare: %w", err)
	}
	return web.Write(w, v.Title, template.HTML(out.String()))
}
