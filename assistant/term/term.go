// Package term reads a person's lines, from a terminal with editing, history
// and completion, or from a pipe or a simple terminal without.
//
// Rules for the terminal:
//   - Standard input alone decides whether a person is typing. Where it is
//     not a terminal, lines are read as they come and echoed after the
//     prompt, so that a transcript reads as if typed.
//   - The editor is used on a terminal that can move its cursor. A dumb
//     terminal, and a plain one for a screen reader, keep the system's own
//     line editing, which never redraws a line.
//   - The terminal is in raw mode only while a line is being typed. Whatever
//     ends the program, the mode is put back.
//   - Ctrl-C gives ErrInterrupt, at the prompt or between prompts; Ctrl-D on
//     an empty line gives io.EOF; Ctrl-Z does nothing while a line is typed.
//   - Nothing typed is written to the terminal before page.Clean has seen it,
//     but for the editor's own echo of printable characters.
package term

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"
)

// ErrInterrupt is returned for Ctrl-C.
var ErrInterrupt = errors.New("interrupted")

// ErrStopped is returned for Ctrl-C where nobody types who could say what is next.
var ErrStopped = fmt.Errorf("stopped: %w", ErrInterrupt)

// ErrTooLong is returned for a line longer than MaxLine bytes, which is lost.
var ErrTooLong = errors.New("line too long")

// MaxLine is the longest line read, in bytes.
const MaxLine = 4096

// Reader reads lines. After io.EOF it must not be asked again.
type Reader interface {
	// ReadLine shows the prompt and returns the next line without its end.
	ReadLine(prompt string) (string, error)
	Close() error
}

// Config says where lines come from.
type Config struct {
	In       *os.File
	Out      io.Writer
	Simple   bool                       // no cursor movement: a dumb or plain terminal
	History  string                     // file for the editor's history, in a folder of its owner; empty for none
	Complete func(line string) []string // what the line's last word may be
}

// Interrupts returns where a Reader of this package learns of Ctrl-C between prompts: who takes
// one from there has it instead of the next ReadLine. It is nil for any other.
func Interrupts(r Reader) <-chan os.Signal {
	switch r := r.(type) {
	case *plain:
		return r.signal
	case *editor:
		return r.keys.signal
	}
	return nil
}

// Aside returns w where it is a terminal, on which people may be told what is no answer, and
// else nil.
func Aside(w io.Writer) io.Writer {
	if f, ok := w.(*os.File); ok && IsTerminal(f) {
		return f
	}
	return nil
}

// Open returns a Reader for c. Cancelling ctx ends a pending ReadLine with
// io.EOF.
func Open(ctx context.Context, c Config) (Reader, error) {
	typed := IsTerminal(c.In)
	if !typed || c.Simple {
		return openPlain(ctx, c.In, c.Out, typed), nil
	}
	return openEditor(ctx, c)
}

// IsTerminal reports whether f is a terminal.
func IsTerminal(f *os.File) bool { return f != nil && term.IsTerminal(int(f.Fd())) }

// Width returns the columns of f where it is a terminal, else 80.
func Width(f *os.File) int {
	if w, _, ok := size(f); ok {
		return w
	}
	return 80
}

// Rows returns the rows of f where it is a terminal, else 0.
func Rows(f *os.File) int {
	_, h, _ := size(f)
	return h
}

func size(f *os.File) (w, h int, ok bool) {
	if !IsTerminal(f) {
		return 0, 0, false
	}
	w, h, err := term.GetSize(int(f.Fd()))
	return w, h, err == nil && w > 0
}

// Colour reports whether out may be sent bold text and the like: it is a
// terminal, NO_COLOR is unset or empty, and TERM is not dumb.
func Colour(getenv func(string) string, out *os.File) bool {
	return IsTerminal(out) && getenv("NO_COLOR") == "" && !Dumb(getenv)
}

// Dumb reports whether the terminal can't move its cursor.
func Dumb(getenv func(string) string) bool {
	t := getenv("TERM")
	return t == "dumb" || t == ""
}
