package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
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
	path, err := built.Path(a.getenv)
	if err != nil {
		return anew.bareKit()
	}
	dir, _ := a.configDir()
	_, err = os.Stat(path)
	switch built := !errors.Is(err, fs.ErrNotExist); {
	case built, len(a.flags.Rules) > 0, holdsYAML(dir), holdsYAML(filepath.Join(dir, "rules")):
		return anew.bareKit()
	case len(a.flags.Parts) > 0:
		return mine.kit(&anew)
	}
	kit, err := shipped()
	if err != nil {
		return nil, err
	}
	return kit.Afresh()
}

// mine is the kit with the parts of one's own that were named last.
var mine lately

// lately is a kit and the names and contents of the files it was loaded from.
type lately struct {
	mu   sync.Mutex
	of   string
	last *assistant.Kit
}

// kit returns the kit of a command with parts of one's own.
func (l *lately) kit(a *app) (*assistant.Kit, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	of := ""
	for _, name := range a.flags.Parts {
		data, err := os.ReadFile(name)
		if err != nil {
			return a.bareKit()
		}
		of += name + "\n" + string(data) + "\n"
	}
	if l.of != of {
		kit, err := a.bareKit()
		if err != nil {
			return nil, err
		}
		l.of, l.last = of, kit
	}
	return l.last.Afresh()
}

// home is the environment of somebody who keeps all that is theirs in a folder.
func home(dir string) func(string) string {
	return func(name string) string {
		switch name {
		case "XDG_STATE_HOME", "XDG_DATA_HOME":
			return dir
		case "XDG_CONFIG_HOME":
			return filepath.Join(dir, "config")
		}
		return os.Getenv(name)
	}
}

// printing is where a command of a test writes, with a home in dir.
func printing(dir string, out, errs io.Writer) stdio {
	return stdio{out: out, err: errs, getenv: home(dir), load: reused}
}
