// Package page holds what mallow says as values, and renders them: as text for
// a terminal, as plain text for a screen reader or a log, and as Markdown.
package page

import "strings"

// Page is a run of blocks, first to last.
type Page []Block

// Block is one of Heading, Para, List, Table or Picture.
type Block interface{ block() }

// Heading is a title. Level 1 is the page's own.
type Heading struct {
	Level int
	Text  string
}

// Para is a paragraph, wrapped to the width when rendered.
type Para string

// List is a list of short items.
type List struct {
	Numbered bool
	Items    []string
}

// Table is rows under a head. Rows may be shorter than Head.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
	// Right marks the columns of numbers, which are set flush right.
	Right []bool
}

// Picture is a drawing made of text lines, with the words that stand in for
// it where it can't be seen.
type Picture struct {
	Lines []string
	Alt   string
}

func (Heading) block() {}
func (Para) block()    {}
func (List) block()    {}
func (Table) block()   {}
func (Picture) block() {}

// Clean returns s with every control character but the newline replaced, so
// that text from a file or an answer can't steer a terminal.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r == '\u2028', r == '\u2029',
			r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069':
			return '\ufffd'
		}
		return r
	}, s)
}
