package page

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Markdown writes p as Markdown with tables.
func Markdown(w io.Writer, p Page) error {
	var b bytes.Buffer
	for i, block := range p {
		if i > 0 {
			b.WriteByte('\n')
		}
		switch v := block.(type) {
		case Heading:
			fmt.Fprintf(&b, "%s %s\n", strings.Repeat("#", max(v.Level, 1)), escape(v.Text))
		case Para:
			b.WriteString(escape(string(v)) + "\n")
		case List:
			for j, item := range v.Items {
				mark := "-"
				if v.Numbered {
					mark = fmt.Sprintf("%d.", j+1)
				}
				fmt.Fprintf(&b, "%s %s\n", mark, escape(item))
			}
		case Table:
			markdownTable(&b, v)
		case Picture:
			fmt.Fprintf(&b, "```text\n%s\n```\n\n%s\n", Clean(strings.Join(v.Lines, "\n")), escape(v.Alt))
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

func markdownTable(b *bytes.Buffer, t Table) {
	if t.Title != "" {
		b.WriteString(escape(t.Title) + "\n\n")
	}
	row := func(cells []string) {
		b.WriteByte('|')
		for _, c := range cleaned(cells, len(t.Head)) {
			b.WriteString(" " + escape(c) + " |")
		}
		b.WriteByte('\n')
	}
	row(t.Head)
	b.WriteByte('|')
	for i := range t.Head {
		if i < len(t.Right) && t.Right[i] {
			b.WriteString(" ---: |")
		} else {
			b.WriteString(" --- |")
		}
	}
	b.WriteByte('\n')
	for _, r := range t.Rows {
		row(r)
	}
}

// escape makes text safe inside a Markdown line or table cell.
func escape(s string) string {
	s = strings.NewReplacer(
		`\`, `\\`, "|", `\|`, "\n", " ", "*", `\*`, "_", `\_`, "`", "\\`",
		"[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "#", `\#`,
	).Replace(Clean(s))
	return strings.TrimSpace(s)
}
