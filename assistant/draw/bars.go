package draw

import "fmt"

// Bars are values as bars on one scale from zero, each named at its left and
// said in full at its right.
type Bars struct {
	Title string
	Desc  string // what it shows, in words with its figures
	Rows  []Bar
}

// Bar is one value, not below zero.
type Bar struct {
	Name  string
	Value float64
	Text  string
}

// SVG returns the bars. The id must be unique on the page.
func (b Bars) SVG(id string) (string, error) {
	const row, bar = 30.0, 18.0
	names, texts, most := 0.0, 0.0, 0.0
	for _, r := range b.Rows {
		names, texts, most = max(names, textWidth(r.Name, plotFont)), max(texts, textWidth(r.Text, plotFont)), max(most, r.Value)
	}
	if most <= 0 {
		return "", fmt.Errorf("bars %q: there is nothing to draw", b.Title)
	}
	c := newCanvas(id, b.Title, b.Desc, 0, 0, plotWidth, row*float64(len(b.Rows))+8, 1/perMM)
	left := names + 12
	room := plotWidth - left - texts - 16
	for i, r := range b.Rows {
		y := 4 + row*float64(i)
		c.text(names+4, y+bar/2+5, "end", r.Name, "font-size", num(plotFont))
		c.empty("rect", "class", "bar", "x", num(left), "y", num(y), "width", num(room*r.Value/most), "height", num(bar), "fill", "#c8c8c8", "stroke", "#000", "stroke-width", "1")
		c.text(left+room*r.Value/most+6, y+bar/2+5, "start", r.Text, "font-size", num(plotFont))
	}
	return c.done(), nil
}
