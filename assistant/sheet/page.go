package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
)

// Page returns the sheet as blocks for a terminal or for Markdown: a card to
// cut and shop by, the steps, what to expect, and safety. Width is the room in
// columns.
func (s Sheet) Page(width int) page.Page {
	p := append(s.card(width), page.Heading{Level: 2, Text: "Steps"})
	for _, step := range s.Steps {
		p = append(p, step.page()...)
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
	p = append(p, s.Safety.page()...)
	return append(p, page.Heading{Level: 2, Text: "How far to trust this"}, page.List{Items: s.Trust})
}

// sectionColumns is the most room that the drawing takes on the card.
const sectionColumns = 29

// card is what a maker needs to cut and to shop: at most three screens of 24
// lines of 80 columns.
func (s Sheet) card(width int) page.Page {
	p := page.Page{page.Heading{Level: 1, Text: s.Title}}
	together := heads(s.Heads)
	if s.Heads > 1 {
		together += "; do each step for every head before you go on"
	}
	about := fmt.Sprintf("Stack, inside out: %s. To build: %s. %s", s.Stack, together, s.Effort)
	if s.For != "" {
		about = "For " + s.For + ". " + about
	}
	p = append(p, s.Assumptions.Page()...)
	p = append(p, page.Para(about), page.List{Items: lines(s.Summary)},
		page.Picture{Lines: s.section.Rows(min(width, sectionColumns)), Alt: strings.Join(s.section.List(), " ")})
	p = append(p, page.Heading{Level: 2, Text: "Cut and buy, for " + heads(s.Heads)}, page.List{Items: s.shopping()})
	if b := s.Buy; b != nil {
		p = append(p, page.Para(strings.TrimSpace(fmt.Sprintf("All to be bought comes to %s. %s", b.Total, b.Note))))
	}
	return append(p, page.Para("Tools: "+strings.Join(s.toolList(), "; ")+"."))
}

// shopping is what heads take, part by part from the inside out: what to cut,
// and what to buy.
func (s Sheet) shopping() []string {
	var list, done []string
	for _, x := range s.Parts {
		if slices.Contains(done, x.ID) {
			continue
		}
		done = append(done, x.ID)
		text := x.Name + x.own() + ": "
		var cuts []string
		for _, c := range s.Cuts {
			if c.Part == x.ID {
				cuts = append(cuts, c.words())
			}
		}
		if len(cuts) > 0 {
			text += strings.Join(cuts, "; ")
		} else {
			text += x.Amount
		}
		list = append(list, text+s.Buy.of(x.ID)+".")
	}
	return list
}

// words is a cut with its count, spares included and said.
func (c Cut) words() string {
	text := fmt.Sprintf("cut %d of %s, give or take %s", c.Count, length(c.CutMM), length(c.TolMM))
	if c.Spare > 0 {
		text += fmt.Sprintf(" (%d to use, %d spare)", c.Count-c.Spare, c.Spare)
	}
	return text
}

// toolList is every tool with how to get or improvise it.
func (s Sheet) toolList() []string {
	var list []string
	for _, t := range s.Tools {
		list = append(list, t.words())
	}
	return list
}

func (t Tool) words() string {
	text := short(t.Name)
	if t.Or != "" {
		text += " (or: " + t.Or + ")"
	}
	if t.Optional {
		text += ", optional"
	}
	return text
}

// Heading is the step's number and title.
func (s Step) Heading() string {
	text := fmt.Sprintf("%d. %s", s.Number, s.Title)
	if s.Optional {
		text += " (optional)"
	}
	return text
}

// page is the step with its cautions before it.
func (s Step) page() page.Page {
	var p page.Page
	if s.Before != "" {
		p = append(p, page.Para(s.Before))
	}
	p = append(p, page.Heading{Level: 3, Text: s.Heading()})
	if s.Only != "" {
		p = append(p, page.Para("Only for "+s.Only+"."))
	}
	for _, c := range s.Whole() {
		p = append(p, page.Para(fmt.Sprintf("CAUTION, %s. %s %s %s", c.Name, c.Hazard, c.Do, c.Defer)))
	}
	if again := s.Again(); again != "" {
		p = append(p, page.Para(strings.ToUpper(again[:7])+again[7:]+" "+briefly))
	}
	return append(p, page.Para(s.Says()), page.List{Items: s.notes()})
}

// Says is the text of the step, or where the same stands already.
func (s Step) Says() string {
	if s.As > 0 {
		return fmt.Sprintf("As step %d.", s.As)
	}
	return s.Text
}

// page gathers every caution, whole.
func (s Safety) page() page.Page {
	p := page.Page{page.Heading{Level: 2, Text: "Safety"}, page.Para(s.Rule)}
	for _, c := range s.Cautions {
		p = append(p, page.Para(fmt.Sprintf("%s: %s %s %s (From step %d.)", c.Name, c.Hazard, c.Do, c.Defer, c.First)))
	}
	return append(p, s.solvents()...)
}

// briefly is whom every caution defers to.
const briefly = "Label, safety data sheet, local rules and the responsible person decide."

// Whole are the cautions that stand at the step for the first time.
func (s Step) Whole() []Caution {
	return slices.DeleteFunc(slices.Clone(s.Cautions), func(c Caution) bool { return c.First != s.Number })
}

// Again names the cautions that stood whole at an earlier step, in one line;
// nothing when there is none.
func (s Step) Again() string {
	var list []string
	for _, c := range s.Cautions {
		if c.First != s.Number {
			list = append(list, fmt.Sprintf("%s (step %d)", c.Name, c.First))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "Caution: " + strings.Join(list, ", ") + "."
}

// notes are what follows the text of a step.
func (s Step) notes() []string {
	var list []string
	for _, x := range []Item{{"Check", s.Check}, {"If not", s.IfOff}, {"To undo", s.Undo}} {
		if x.Value != "" && (s.As == 0 || x.Name == "Check") {
			list = append(list, x.Name+": "+x.Value)
		}
	}
	if s.WaitMin > 0 {
		list = append(list, "Wait: "+wait(s.WaitMin)+".")
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

const registersTitle = "Second partial against the fundamental, on the instrument asked for; a dip is a partial that the length of the stroke cancels"

// second is the level of a stroke's second partial.
func second(st reply.Stroke) string {
	if len(st.PartialsDB) < 2 {
		return "none"
	}
	return decibels(st.PartialsDB[1])
}

// percent is a share in words.
func percent(x float64) string { return fmt.Sprintf("%.0f %%", 100*x) }

// length is a length of so many millimetres as a rule shows it.
func length(mm float64) string { return (measure.Length(mm) * measure.Millimetre).Rule() }

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
