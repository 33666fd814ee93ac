package sheet

import (
	"fmt"
	"io"
	"math"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
)

// Page returns the sheet as blocks for a terminal or for Markdown. Width is
// the room that the cross-section may take, in columns.
func (s Sheet) Page(width int) page.Page {
	p := page.Page{page.Heading{Level: 1, Text: s.Title}}
	if s.For != "" {
		p = append(p, page.Para("For "+s.For+"."))
	}
	p = append(p, s.Assumptions.Page()...)
	p = append(p, page.Para(fmt.Sprintf("Stack, inside out: %s. Heads to build: %d. "+
		"The numbers below are for one head; do each step for every head before you go on.", s.Stack, s.Heads)))
	p = append(p, page.List{Items: lines(s.Summary)})
	if len(s.Layers) > 0 {
		t := page.Table{Title: "Rubber layers, inside out", Head: []string{"layer", "cut", "stretch", "wall", "over it", "mass", "to open", "fit"},
			Right: []bool{false, true, true, true, true, true, true, false}}
		for i, l := range s.Layers {
			t.Rows = append(t.Rows, []string{fmt.Sprintf("%d: %s", i+1, l.Part), length(l.CutMM), fmt.Sprintf("%.2f", l.Stretch),
				fmt.Sprintf("%.1f mm", l.WallMM), length(l.OuterMM), fmt.Sprintf("%.1f g", l.MassG), fmt.Sprintf("%.0f N", l.HandN), l.VerdictIs})
		}
		p = append(p, t)
	}
	p = append(p,
		page.Heading{Level: 2, Text: "Cross-section"},
		page.Picture{Lines: s.section.Rows(min(width, 51)), Alt: strings.Join(s.section.List(), " ")})

	p = append(p, page.Heading{Level: 2, Text: "Parts, cuts and shopping"})
	var rows [][]string
	for _, x := range s.Parts {
		rows = append(rows, []string{x.Name, x.Amount, x.ID + x.own()})
	}
	p = append(p, table("Parts of one head", []string{"part", "amount", "id"}, rows))
	if len(s.Cuts) > 0 {
		rows = nil
		for _, c := range s.Cuts {
			rows = append(rows, []string{c.What, length(c.CutMM) + " ± " + length(c.TolMM), fmt.Sprint(c.Count)})
		}
		p = append(p, table(fmt.Sprintf("Cut list for %s", heads(s.Heads)), []string{"cut", "length", "pieces"}, rows))
	}
	p = append(p, s.Buy.page()...)
	rows = nil
	for _, t := range s.Tools {
		rows = append(rows, []string{t.Name, t.For})
	}
	p = append(p, table("Tools", []string{"tool", "for"}, rows))

	p = append(p, page.Heading{Level: 2, Text: "Steps"})
	for _, step := range s.Steps {
		p = append(p, page.Heading{Level: 3, Text: fmt.Sprintf("%d. %s", step.Number, step.Title)})
		for _, c := range step.Cautions {
			p = append(p, page.Para(c.at(step.Number)))
		}
		p = append(p, page.Para(step.Text), page.List{Items: step.notes()})
	}

	p = append(p, page.Heading{Level: 2, Text: "What to expect"})
	if len(s.Sound.Reading) > 0 {
		p = append(p, page.List{Items: s.Sound.Reading})
	}
	if len(s.Sound.Strokes) > 0 {
		p = append(p, s.Sound.table())
	}
	if len(s.Sound.Registers) > 0 {
		p = append(p, s.Sound.registers())
	}

	p = append(p, page.Heading{Level: 2, Text: "Safety"}, page.Para(s.Safety.Rule))
	for _, c := range s.Safety.Cautions {
		p = append(p, page.Para(fmt.Sprintf("%s %s %s (From step %d.)", c.Hazard, c.Do, c.Defer, c.First)))
	}
	p = append(p, s.Safety.solvents()...)
	p = append(p, page.Heading{Level: 2, Text: "How far to trust this"}, page.List{Items: s.Trust})
	return p
}

// briefly is whom every caution defers to.
const briefly = "The label, the safety data sheet, local rules and the responsible person decide."

// at is the caution as it stands at a step: in full where it comes first.
func (c Caution) at(step int) string {
	if step == c.First {
		return fmt.Sprintf("CAUTION. %s %s %s", c.Hazard, c.Do, c.Defer)
	}
	return fmt.Sprintf("CAUTION, as at step %d. %s %s", c.First, c.Hazard, briefly)
}

// notes are what follows the text of a step.
func (s Step) notes() []string {
	var list []string
	for _, x := range []Item{{"Check", s.Check}, {"If not", s.IfOff}, {"To undo", s.Undo}} {
		if x.Value != "" {
			list = append(list, x.Name+": "+x.Value)
		}
	}
	if s.WaitMin > 0 {
		list = append(list, "Wait: "+wait(s.WaitMin)+".")
	}
	if len(s.Tools) > 0 {
		list = append(list, "Tools: "+strings.Join(s.Tools, "; ")+".")
	}
	if s.Own != "" {
		list = append(list, "Yours: this step is as "+s.Own+" has it.")
	}
	return list
}

// wait is a time in words.
func wait(minutes float64) string {
	if minutes < 90 {
		return fmt.Sprintf("%.0f min", minutes)
	}
	return fmt.Sprintf("%g h", round(minutes/60))
}

// round rounds to a tenth.
func round(v float64) float64 { return math.Round(v*10) / 10 }

func heads(n int) string {
	if n == 1 {
		return "1 head"
	}
	return fmt.Sprintf("%d heads", n)
}

func (s Sound) table() page.Table {
	t := page.Table{Title: "Strokes on the reference bar", Head: []string{"", "speed", "contact", "peak force", "cut-off"},
		Right: []bool{false, true, true, true, true}}
	for _, name := range s.Of {
		t.Head, t.Right = append(t.Head, name), append(t.Right, true)
	}
	for _, st := range s.Strokes {
		row := []string{st.Dynamic, fmt.Sprintf("%.1f m/s", st.SpeedMS), fmt.Sprintf("%.2f ms", st.ContactMS),
			fmt.Sprintf("%.0f N", st.PeakN), fmt.Sprintf("%.0f Hz", st.CutoffHz)}
		for _, x := range st.Share {
			row = append(row, percent(x))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (s Sound) registers() page.Table {
	t := page.Table{Title: registersTitle, Head: []string{"register"}, Right: []bool{false}}
	for _, l := range s.Registers[0].Strokes {
		t.Head, t.Right = append(t.Head, l.Dynamic), append(t.Right, true)
	}
	for _, r := range s.Registers {
		row := []string{r.Name + ", " + r.Note}
		for _, st := range r.Strokes {
			row = append(row, second(st))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

const registersTitle = "Second partial against the fundamental, on the instrument asked for: higher is brighter"

// second is the level of a stroke's second partial.
func second(st reply.Stroke) string {
	if len(st.PartialsDB) < 2 {
		return "none"
	}
	return decibels(st.PartialsDB[1])
}

// percent is a share in words.
func percent(x float64) string { return fmt.Sprintf("%.0f %%", 100*x) }

// length is a length of so many millimetres in people's units.
func length(mm float64) string { return (measure.Length(mm) * measure.Millimetre).String() }

// decibels is a level in words; below 60 dB under there is nothing to hear.
func decibels(db float64) string {
	if db < -60 {
		return "none"
	}
	return fmt.Sprintf("%.0f dB", db)
}

func (s Safety) solvents() page.Page {
	if len(s.Solvents) == 0 {
		return page.Page{page.Para("No solvent-based glue is used here. Don't put one in place of a glue named above without a new sheet.")}
	}
	t := page.Table{Title: "Solvents in the glues of this build, as published",
		Head: []string{"solvent", "flash point", "lower explosive limit", "legal limit, 8 h (US)", "advised limit, 10 h (US)", "note"}}
	var cites []string
	for _, v := range s.Solvents {
		t.Rows = append(t.Rows, []string{v.Name, v.Flash(), v.LEL(), v.Legal(), v.Advised(), v.Note})
		for _, c := range v.Sources {
			cites = append(cites, v.Name+": "+c)
		}
	}
	return page.Page{t, page.List{Items: cites}}
}

func lines(list []Item) []string {
	var out []string
	for _, x := range list {
		out = append(out, x.Name+": "+x.Value+".")
	}
	return out
}

func table(title string, head []string, rows [][]string) page.Table {
	return page.Table{Title: title, Head: head, Rows: rows}
}

// Text writes the sheet for a terminal.
func (s Sheet) Text(w io.Writer, style page.Style) error {
	return page.Text(w, s.Page(style.Width), style)
}

// Markdown writes the sheet as Markdown.
func (s Sheet) Markdown(w io.Writer) error { return page.Markdown(w, s.Page(page.MaxWidth)) }

// JSON writes the sheet as indented JSON. Fields that end in a unit are SI.
func (s Sheet) JSON(w io.Writer) error {
	return page.JSON(w, s)
}
