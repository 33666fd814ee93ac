package page

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/tw"
)

// Widths that text is fitted to.
const (
	MinWidth = 40
	MaxWidth = 100 // longer lines are hard to read
)

// Style is how text is rendered.
type Style struct {
	Width int  // columns; out of MinWidth..MaxWidth it is brought inside
	Plain bool // no box drawing: tables become one sentence a row
	Bold  bool // headings in bold, for a terminal that shows it
}

// columns is the width to wrap at.
func (s Style) columns() int { return min(max(s.Width, MinWidth), MaxWidth) }

// Text writes p as text.
func Text(w io.Writer, p Page, s Style) error {
	var b bytes.Buffer
	for i, block := range p {
		if i > 0 {
			b.WriteByte('\n')
		}
		if err := s.block(&b, block); err != nil {
			return err
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (s Style) block(b *bytes.Buffer, block Block) error {
	switch v := block.(type) {
	case Heading:
		s.heading(b, v)
	case Para:
		b.WriteString(Wrap(string(v), s.columns(), "") + "\n")
	case List:
		for i, item := range v.Items {
			mark := "- "
			if v.Numbered {
				mark = fmt.Sprintf("%d. ", i+1)
			}
			hang := strings.Repeat(" ", len(mark))
			b.WriteString(mark + strings.TrimPrefix(Wrap(item, s.columns(), hang), hang) + "\n")
		}
	case Table:
		return s.table(b, v)
	case Picture:
		if s.Plain {
			b.WriteString(Wrap(v.Alt, s.columns(), "") + "\n")
			return nil
		}
		for _, l := range v.Lines {
			b.WriteString(strings.TrimRight(Clean(l), " ") + "\n")
		}
	}
	return nil
}

func (s Style) heading(b *bytes.Buffer, h Heading) {
	text := Wrap(h.Text, s.columns(), "")
	switch {
	case s.Bold:
		b.WriteString("\x1b[1m" + text + "\x1b[0m\n")
	case h.Level == 1 && !s.Plain:
		b.WriteString(text + "\n" + strings.Repeat("=", widest(text)) + "\n")
	default:
		b.WriteString(text + "\n")
	}
}

// Wrap fits text to columns, each line after indent. Words longer than a line
// are left whole.
func Wrap(text string, columns int, indent string) string {
	var lines []string
	for para := range strings.SplitSeq(Clean(text), "\n") {
		line := indent
		for word := range strings.FieldsSeq(para) {
			if line != indent && width(line)+1+width(word) > columns {
				lines = append(lines, line)
				line = indent
			}
			if line != indent {
				line += " "
			}
			line += word
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return strings.Join(lines, "\n")
}

// width is the columns that s takes. Ambiguous characters count as narrow
// whatever the locale, so that output is the same everywhere.
func width(s string) int {
	return (&runewidth.Condition{}).StringWidth(s)
}

func widest(text string) int {
	most := 0
	for l := range strings.SplitSeq(text, "\n") {
		most = max(most, width(l))
	}
	return most
}

// table writes t in a frame, or as records where it can't be framed in the
// width or frames are not wanted.
func (s Style) table(b *bytes.Buffer, t Table) error {
	if t.Title != "" {
		b.WriteString(Wrap(t.Title, s.columns(), "") + "\n")
	}
	widths, ok := fit(t, s.columns())
	if s.Plain || !ok {
		s.records(b, t)
		return nil
	}
	align := make(tw.Alignment, len(t.Head))
	perColumn := tw.NewMapper[int, int]()
	for i := range t.Head {
		align[i] = tw.AlignLeft
		if i < len(t.Right) && t.Right[i] {
			align[i] = tw.AlignRight
		}
		perColumn.Set(i, widths[i]+2) // the padding counts
	}
	table := tablewriter.NewTable(b,
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithAlignment(align),
		tablewriter.WithColumnWidths(perColumn),
		tablewriter.WithRowAutoWrap(tw.WrapNormal),
		tablewriter.WithHeaderAutoWrap(tw.WrapNormal),
		tablewriter.WithEastAsian(tw.Off),
	)
	table.Header(cleaned(t.Head, len(t.Head)))
	for _, r := range t.Rows {
		if err := table.Append(cleaned(r, len(t.Head))); err != nil {
			return fmt.Errorf("table %q: %w", t.Title, err)
		}
	}
	if err := table.Render(); err != nil {
		return fmt.Errorf("table %q: %w", t.Title, err)
	}
	return nil
}

// cleaned returns cells made safe and padded to n.
func cleaned(cells []string, n int) []string {
	out := make([]string, n)
	for i := range min(n, len(cells)) {
		out[i] = Clean(cells[i])
	}
	return out
}

// fit returns the column widths that bring t into columns, taking from the
// widest column first but never less than its longest word, and whether that
// can be done.
func fit(t Table, columns int) ([]int, bool) {
	widths, least := make([]int, len(t.Head)), make([]int, len(t.Head))
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		for i := range min(len(r), len(widths)) {
			widths[i] = max(widths[i], widest(r[i]))
			least[i] = max(least[i], longestWord(r[i]))
		}
	}
	room := columns - 1 - 3*len(widths) // frame and padding
	for sum(widths) > room {
		most := -1
		for i := range widths {
			if widths[i] > least[i] && (most < 0 || widths[i] > widths[most]) {
				most = i
			}
		}
		if most < 0 {
			return nil, false
		}
		widths[most]--
	}
	return widths, true
}

func longestWord(s string) int {
	most := 0
	for w := range strings.FieldsSeq(s) {
		most = max(most, width(w))
	}
	return most
}

func sum(xs []int) int {
	total := 0
	for _, x := range xs {
		total += x
	}
	return total
}

// records writes each row as "first: head value; head value."
func (s Style) records(b *bytes.Buffer, t Table) {
	for _, r := range t.Rows {
		var parts []string
		for i := 1; i < min(len(r), len(t.Head)); i++ {
			if r[i] != "" {
				parts = append(parts, strings.TrimSpace(t.Head[i]+" "+r[i]))
			}
		}
		line := ""
		if len(r) > 0 {
			line = strings.TrimSpace(t.Head[0] + " " + r[0])
		}
		if len(parts) > 0 {
			line += ": " + strings.Join(parts, "; ")
		}
		hang := Wrap(line, s.columns()-2, "")
		b.WriteString(strings.ReplaceAll(hang, "\n", "\n  ") + "\n")
	}
}
