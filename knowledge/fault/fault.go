// Package fault knows how to say to a person what is wrong, where, and what
// would be right: in a file that they wrote, or in what they asked for. It
// never holds what is wrong with mallow itself; that is any other error.
package fault

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Error is one thing wrong in words that a person can act on. It has no
// prefix of a package.
type Error struct {
	File  string `json:"file,omitempty"` // as people call it; empty when no file is meant
	Line  int    `json:"line,omitempty"` // 1-based; zero when the whole file is meant
	Col   int    `json:"col,omitempty"`  // 1-based
	What  string `json:"what"`
	Hint  string `json:"hint,omitempty"` // what would be valid; may be empty
	Ends  bool   `json:"-"`              // nothing after it in the file was read
	Layer int    `json:"-"`              // order of the file's layer, base first
	cause error
}

// Errorf returns an error about what a person asked for. A %w keeps its cause.
func Errorf(format string, args ...any) *Error {
	err := fmt.Errorf(format, args...)
	return &Error{What: err.Error(), cause: err}
}

// Error returns "file:line:col: what (hint)", from whatever of it is known.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	switch {
	case e.Line > 0 && e.Col > 0:
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Col)
	case e.Line > 0:
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	b.WriteString(e.What)
	if e.Hint != "" {
		b.WriteString(" (" + e.Hint + ")")
	}
	return b.String()
}

// Unwrap returns what %w named.
func (e *Error) Unwrap() error { return e.cause }

// Errors is everything wrong, base files before overlays, then by file and
// place.
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

// Err returns es as an error, nil when nothing is wrong.
func (es Errors) Err() error {
	if len(es) == 0 {
		return nil
	}
	return es
}

// Sorted returns es in order and without repeats: a value that is reached
// through an alias twice is wrong only once.
func (es Errors) Sorted() Errors {
	slices.SortStableFunc(es, func(a, b *Error) int {
		return cmp.Or(
			cmp.Compare(a.Layer, b.Layer),
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.What, b.What),
		)
	})
	return slices.CompactFunc(es, func(a, b *Error) bool {
		return a.Layer == b.Layer && a.File == b.File && a.Line == b.Line && a.Col == b.Col && a.What == b.What && a.Hint == b.Hint
	})
}
