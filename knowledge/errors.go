package knowledge

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Error is one thing wrong with a knowledge file.
type Error struct {
	File      string // as in Origin
	Line, Col int    // 1-based; zero when the whole file is meant
	What      string
	Hint      string // what would be valid; may be empty
	Ends      bool   // nothing after it in the file was read
	layer     int    // order of the file's layer, base first
}

// Error returns "file:line:col: what (hint)".
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Col)
	}
	b.WriteString(": " + e.What)
	if e.Hint != "" {
		b.WriteString(" (" + e.Hint + ")")
	}
	return b.String()
}

// Errors is everything wrong with the knowledge, base files before overlays,
// then by file and place.
type Errors []*Error

// Error returns one error a line.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the errors for errors.As.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}

// sorted returns es in order and without repeats: a value that is reached
// through an alias twice is wrong only once.
func (es Errors) sorted() Errors {
	order := func(a, b *Error) int {
		return cmp.Or(
			cmp.Compare(a.layer, b.layer),
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.What, b.What),
		)
	}
	slices.SortStableFunc(es, order)
	return slices.CompactFunc(es, func(a, b *Error) bool { return *a == *b })
}
