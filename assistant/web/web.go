// Package web writes HTML pages that stand alone: no script, nothing fetched,
// made to be read on a phone, printed on A4 or US Letter in black and white,
// and read aloud. It knows how a page looks and never what stands on it.
package web

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"mallow/assistant/draw"
	"mallow/assistant/page"
)

//go:embed page.css
var css string

const shell = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"/>
<meta name="generator" content="mallow"/>
<meta name="color-scheme" content="light dark"/>
<title>{{.Title}}</title>
<style>{{.Style}}</style>
</head>
<body>
<main>
{{.Body}}
</main>
</body>
</html>
`

// Write writes a page with one main part. The body has to be escaped already.
func Write(w io.Writer, title string, body template.HTML) error {
	t, err := template.New("page").Parse(shell)
	if err != nil {
		return fmt.Errorf("web: %w", err)
	}
	var out strings.Builder
	err = t.Execute(&out, struct {
		Title string
		Style template.CSS
		Body  template.HTML
	}{title, template.CSS(css), body})
	if err != nil {
		return fmt.Errorf("web: %w", err)
	}
	// The template escapes what HTML gives a meaning; control characters are
	// not among it.
	_, err = io.WriteString(w, page.Clean(out.String()))
	return err
}

// Figure is a picture with its caption.
type Figure struct {
	SVG     template.HTML // made by package draw, which escapes what it is given
	Title   string        // may be empty
	Caption string
}

// Picture is what can be drawn: a plot or bars.
type Picture interface {
	SVG(id string) (string, error)
}

// Figures draws plots under ids that start with prefix.
func Figures(prefix string, plots []draw.Plot) ([]Figure, error) {
	var list []Figure
	for i, p := range plots {
		f, err := Draw(fmt.Sprintf("%splot%d", prefix, i+1), p, p.Title, p.Desc)
		if err != nil {
			return nil, err
		}
		list = append(list, f)
	}
	return list, nil
}

// Draw makes a figure of a picture.
func Draw(id string, p Picture, title, caption string) (Figure, error) {
	svg, err := p.SVG(id)
	return Figure{template.HTML(svg), title, caption}, err
}
