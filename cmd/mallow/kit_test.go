package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"sync"

	"mallow/assistant"
	"mallow/assistant/built"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// shipped is what mallow ships, for all tests of commands: the readers are made
// once, and what was computed of heads stays known. What scripts run is the built
// program, which loads for itself.
var shipped = sync.OnceValues(func() (*assistant.Kit, error) {
	cat, err := knowledge.Default()
	if err != nil {
		return nil, err
	}
	book, err := facts.Book()
	if err != nil {
		return nil, err
	}
	return assistant.Shipped(cat, book)
})

// reused returns the shipped kit with nothing proposed yet, or loads one where there
// are parts, rules or heads of one's own.
func reused(a *app) (*assistant.Kit, error) {
	anew := *a
	anew.load = nil
	path, err := built.Path(os.Getenv)
	if err != nil {
		return anew.bareKit()
	}
	if _, err := os.Stat(path); a.own() || !errors.Is(err, fs.ErrNotExist) {
		return anew.bareKit()
	}
	kit, err := shipped()
	if err != nil {
		return nil, err
	}
	return kit.Afresh()
}

// printing is where a command of a test writes.
func printing(out, errs io.Writer) stdio { return stdio{out: out, err: errs, load: reused} }
