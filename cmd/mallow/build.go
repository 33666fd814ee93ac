package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"mallow/assistant/built"
	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/talk"
	"mallow/knowledge/correct"
)

type buildCmd struct {
	Stack   string `arg:"" optional:"" help:"The head, as stack text. Without it, the build that was broken off goes on."`
	Rewrap  bool   `xor:"job" help:"Take the old yarn off and wrap this head anew; without a stack, what it is is found from what it measures and weighs."`
	Shaft   bool   `xor:"job" help:"Put a new shaft in this head."`
	Session bool   `help:"Build the head that the last conversation came to."`
	Want    string `placeholder:"TEXT" help:"Who makes and plays it, in a sentence: latex, age, glue, instrument, grip."`
	Name    string `placeholder:"NAME" help:"What this build is called; several are kept side by side by their names."`
	List    bool   `help:"List the builds that are under way, by their names, with the step each has come to."`
	Answers string `placeholder:"FILE" help:"Take the answers from this file, line by line, instead of standard input."`
}

// longestName is how long the name of a build may be; it is a folder's too.
const longestName = 64

func (c buildCmd) Run(a *app) error {
	if c.List {
		return a.builds()
	}
	if c.Stack != "" && c.Session {
		return usagef("--session takes the last conversation's head; leave out the stack")
	}
	if strings.ContainsAny(c.Name, `/\`) || strings.HasPrefix(c.Name, ".") || len(c.Name) > longestName || !utf8.ValidString(c.Name) ||
		strings.ContainsFunc(c.Name, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return usagef("--name %.80q: a name is letters, digits and blanks, at most %d", c.Name, longestName)
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	x := sitting{answers: c.Answers, room: filepath.Join("builds", c.Name), resume: talk.Never}
	order := "build"
	if c.Rewrap {
		order = "rewrap"
	} else if c.Shaft {
		order = "new shaft"
	}
	switch {
	case c.Session:
		last, err := a.last()
		if err != nil {
			return err
		}
		x.first = append(last.Session().Said(), order)
	case c.Stack == "" && (c.Rewrap || c.Shaft): // which head is found out
		if c.Want != "" {
			x.first = append(x.first, c.Want)
		}
		x.first = append(x.first, order+" an old head")
	case c.Stack != "":
		st, err := a.stack(kit.Catalogue, c.Stack)
		if err != nil {
			return usageError{err}
		}
		if c.Want != "" {
			x.first = append(x.first, c.Want)
		}
		x.first = append(x.first, order+" "+st.String())
	default:
		x.resume = talk.Always
	}
	return a.sit(kit, x)
}

// unnamed is what the build is called that nobody gave a name.
const unnamed = "(no name)"

// builds lists the builds under way.
func (a *app) builds() error {
	dir, err := journal.Dir(a.getenv)
	if err != nil {
		return err
	}
	rooms := filepath.Join(dir, "builds")
	names := []string{""}
	entries, err := os.ReadDir(rooms)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("builds: %w", err)
	}
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	t := page.Table{Head: []string{"name", "build", "last at it"}}
	for _, name := range names {
		if len(entries) == 0 {
			break
		}
		shelf, err := journal.Open(filepath.Join(rooms, name))
		if err != nil {
			return err
		}
		last, bad, err := shelf.Last()
		if err != nil {
			return err
		}
		for _, b := range bad {
			fmt.Fprintf(a.err, "mallow: %s\n", oneLine(b))
		}
		if last == nil {
			continue
		}
		if s := last.Session(); !s.Done {
			t.Rows = append(t.Rows, []string{cmp.Or(name, unnamed), s.About, s.Lines[len(s.Lines)-1].At.Local().Format("Mon 2 Jan 2006, 15:04")})
		}
	}
	p := page.Page{page.Para("No build is under way. `mallow build STACK --name NAME` begins one.")}
	if len(t.Rows) > 0 {
		p = page.Page{t, page.Para("`mallow build --name NAME` goes on with one at its step; without a name, the one that has none.")}
	}
	return page.Text(a.out, p, a.style())
}

// learn puts heads that were built along into the maker's log, and fits the
// figures to them.
func (a *app) learn(heads []correct.Built) error {
	cat, err := a.shipped()
	if err != nil {
		return err
	}
	set, err := a.usual(cat)
	if err != nil {
		return err
	}
	path, err := built.Path(a.getenv)
	if err != nil {
		return err
	}
	return built.Change(path, a.err, func(log *correct.Log) error {
		log.Beside(heads)
		fitted, _, err := correct.Fit(cat, set, *log)
		*log = fitted
		return err
	})
}
