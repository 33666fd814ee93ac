// Package compare puts two to four heads side by side: how they differ in
// words and figures, and in pictures at one scale, for a terminal and as a
// page. It computes no head and chooses none.
package compare

import (
	"fmt"
	"strings"

	"mallow/assistant/chart"
	"mallow/assistant/draw"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/gate"
)

// Most is how many heads can be compared; one alone is held against the
// scale.
const Most = 4

// Comparison is heads side by side. The first is what the others are held
// against.
type Comparison struct {
	reply.Assumptions
	Title   string   `json:"title"`
	Heads   []Named  `json:"heads"`
	Against []string `json:"against_first"` // a sentence for each head but the first

	charts chart.Maker
	shown  []chart.Head
	cuts   []draw.Named
}

// Title is the title of a comparison of n heads.
func Title(n int) string {
	if n == 1 {
		return "One head against the scale"
	}
	return fmt.Sprintf("%d heads side by side", n)
}

// Named is one head of a comparison.
type Named struct {
	Name string `json:"name"` // A, B, C, D, or what it was called
	reply.Made
}

// Entry is a head to compare. An empty name gives it a letter.
type Entry struct {
	Name  string
	Stack head.Stack
}

// New compares heads on an instrument.
func New(cat *knowledge.Catalogue, inst knowledge.Instrument, title string, entries []Entry) (Comparison, error) {
	if len(entries) == 0 || len(entries) > Most {
		return Comparison{}, fmt.Errorf("%d heads to compare: from 1 to %d can be", len(entries), Most)
	}
	v := Comparison{Title: title, Against: []string{}, charts: chart.New(cat)}
	w := reply.NewWriter(cat, inst)
	stacks := make([]head.Stack, len(entries))
	for i, e := range entries {
		stacks[i] = e.Stack
	}
	v.Assumptions = w.Assuming(gate.Pass{}.Given(), stacks...)
	set := strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}
	for i, e := range entries {
		name := e.Name
		if name == "" {
			name = string(rune('A' + i))
		}
		made, err := w.Write(e.Stack)
		if err != nil {
			return Comparison{}, fmt.Errorf("%s: %w", e.Stack, err)
		}
		h := head.New(e.Stack, cat.Limits)
		r, err := strike.Of(h, set)
		if err != nil {
			return Comparison{}, fmt.Errorf("%s: %w", e.Stack, err)
		}
		v.Heads = append(v.Heads, Named{name, made})
		v.shown = append(v.shown, chart.Head{Name: name, Head: h, Report: r})
		v.cuts = append(v.cuts, draw.Named{Name: name, Section: draw.NewSection(h, &cat.Limits)})
		if i > 0 {
			v.Against = append(v.Against, v.against(i))
		}
	}
	return v, nil
}

// against says how the ith head differs from the first.
func (v Comparison) against(i int) string {
	a, b := v.Heads[0], v.Heads[i]
	var list []string
	if strike.AboutSame(v.shown[0].Report, v.shown[i].Report) {
		list = append(list, "about as soft")
	} else {
		list = append(list, reply.Moved("notches", b.Head.Softness-a.Head.Softness))
	}
	for _, d := range []struct {
		unit      string
		by, least float64
	}{{"g", b.Head.MassG - a.Head.MassG, 0.5}, {"mm", b.Head.DiameterMM - a.Head.DiameterMM, 0.5}, {"octaves", b.Head.OpensUp - a.Head.OpensUp, 0.1}} {
		if d.by >= d.least || d.by <= -d.least {
			list = append(list, reply.Moved(d.unit, d.by))
		}
	}
	return fmt.Sprintf("%s against %s: %s.", b.Name, a.Name, strings.Join(list, ", "))
}

// trouble says what is wrong with a head that can't be built as it is.
func (v Comparison) trouble() []string {
	var list []string
	for _, h := range v.Heads {
		for _, t := range h.Head.Trouble() {
			list = append(list, h.Name+": "+t)
		}
	}
	return list
}

// table is the figures, a column for each head.
func (v Comparison) table() page.Table {
	t := page.Table{Head: []string{""}, Right: []bool{false}}
	for _, h := range v.Heads {
		t.Head, t.Right = append(t.Head, h.Name), append(t.Right, true)
	}
	row := func(name string, of func(reply.Head) string) {
		cells := []string{name}
		for _, h := range v.Heads {
			cells = append(cells, of(h.Head))
		}
		t.Rows = append(t.Rows, cells)
	}
	row("grade", func(h reply.Head) string { return h.Grade })
	row("softness, notches", func(h reply.Head) string { return fmt.Sprintf("%+.1f ± %.1f", h.Softness+0, h.SoftnessTol) })
	row("mass, g", func(h reply.Head) string { return fmt.Sprintf("%.1f ± %.1f", h.MassG, h.MassTolG) })
	row("size, mm", func(h reply.Head) string { return fmt.Sprintf("%.1f ± %.1f", h.DiameterMM, h.DiameterTolMM) })
	row("brighter when loud, octaves", func(h reply.Head) string { return fmt.Sprintf("%.1f", h.OpensUp) })
	row("serves", func(h reply.Head) string {
		if len(h.Serves) < 2 {
			return "nothing"
		}
		return h.Serves[0] + " to " + h.Serves[1]
	})
	return t
}

// Page is the comparison for a terminal of the width.
func (v Comparison) Page(width int) page.Page {
	p := append(v.Assumptions.Page(), page.Heading{Level: 1, Text: v.Title})
	var names []string
	for _, h := range v.Heads {
		names = append(names, h.Name+": "+h.Stack)
	}
	p = append(p, page.List{Items: names})
	for _, t := range v.trouble() {
		p = append(p, page.Para(t))
	}
	for _, a := range v.Against {
		p = append(p, page.Para(a))
	}
	p = append(p, v.table(), v.charts.Rows(v.shown, width), v.charts.Reach(v.shown, width),
		page.Picture{Lines: draw.Beside(v.cuts, width), Alt: v.inWords()})
	return append(p, page.Para(trust))
}

// trust says what can be believed of a comparison.
const trust = "Believe the order and the differences; a difference smaller than its ± is none."

// inWords are the sections in words.
func (v Comparison) inWords() string {
	var list []string
	for _, c := range v.cuts {
		list = append(list, c.Name+". "+strings.Join(c.Section.List(), " "))
	}
	return strings.Join(list, " ")
}
