package main

import (
	_ "embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"mallow/assistant"
	"mallow/assistant/reply"
	"mallow/assistant/save"
	"mallow/assistant/sheet"
	"mallow/rules/class"
	"mallow/rules/propose"
)

// rosterForm is a roster to fill in.
//
//go:embed roster.yaml
var rosterForm string

type classCmd struct {
	Roster  string  `arg:"" optional:"" help:"YAML file with the students' wishes; --example prints one."`
	Example bool    `help:"Print the form of a roster, to fill in."`
	Sheets  bool    `help:"Hand out every student's build sheet, with a plan of lessons."`
	Period  float64 `default:"45" placeholder:"MIN" help:"Minutes of a lesson, for the plan (default ${default})."`
	Knives  int     `default:"4" placeholder:"N" help:"How many can cut at a time (default ${default})."`
	Drills  int     `default:"1" placeholder:"N" help:"How many can drill at a time (default ${default})."`
	outputs
}

func (c classCmd) Run(a *app) error {
	if c.Example {
		_, err := io.WriteString(a.out, rosterForm)
		return err
	}
	if c.Roster == "" {
		return usagef("name a roster; `mallow class --example` prints the form of one")
	}
	if c.Period < 20 || c.Period > 600 || c.Knives < 1 || c.Drills < 1 {
		return usagef("--period takes 20 to 600 minutes, --knives and --drills at least 1")
	}
	if err := c.ready(); err != nil {
		return err
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	roster, planned, err := a.planned(kit, c.Roster)
	if err != nil {
		return err
	}
	v, err := reply.NewClass(reply.Default(kit.Catalogue), planned)
	if err != nil {
		return err
	}
	if c.Sheets || c.HTML != "" || c.MD != "" {
		var entries []sheet.Entry
		for _, s := range planned.Students {
			entries = append(entries, sheet.Entry{Candidate: s.Head, Options: sheet.Options{For: s.Name, Heads: s.Heads}, Trouble: s.Trouble})
		}
		bundle, bad := kit.Sheets().Class(planned.Title, entries, &planned.Order)
		if bad != nil {
			fmt.Fprintf(a.err, "mallow: %s\n", oneLine(bad))
		}
		bundle.Notes = v.Notes()
		bundle = bundle.Taught(sheet.Room{LessonMin: c.Period, Knives: c.Knives, Drills: c.Drills})
		err = c.write(a, bundle)
	} else {
		err = c.output().show(a, v)
	}
	if kit.Owned() > 0 && roster.Bin == kit.Shelf() {
		fmt.Fprintf(a.err, "mallow: once they are built, mallow shelf take --class %s takes off your shelf what they used\n", c.Roster)
	}
	if err == nil {
		err = without(planned, len(roster.Broken))
	}
	return err
}

// planned reads a roster and plans its class, from the shelf where the roster has
// no bin of its own.
func (a *app) planned(kit *assistant.Kit, file string) (class.Roster, class.Class, error) {
	data, err := save.Read(file)
	if err != nil {
		return class.Roster{}, class.Class{}, fmt.Errorf("roster: %w", err)
	}
	roster := class.ReadRoster(kit.Finder, file, data)
	if roster.Bin == nil && kit.Owned() > 0 {
		roster.Bin = kit.Shelf()
		a.usingShelf(kit)
	}
	for _, e := range roster.Broken {
		fmt.Fprintf(a.err, "mallow: %s\n", oneLine(e))
	}
	if n := len(roster.Unsafe); n > 0 {
		return roster, class.Class{}, usagef("roster %s: a field that keeps somebody from harm can't be read (line %d), so nothing is planned for anybody", file, roster.Unsafe[0].Line)
	}
	if !slices.ContainsFunc(roster.Students, func(s class.Student) bool { return len(s.Broken) == 0 }) {
		return roster, class.Class{}, usagef("roster %s: no student's wishes can be used", file)
	}
	planned, err := class.Plan(a.ctx, kit.Finder, roster, func(text string) (propose.Request, []string, error) {
		w := kit.Wish(text)
		return w.Request, w.Missed, nil
	})
	return roster, planned, err
}

// without says for whom there is no head, and that places of the roster could
// not be used; nil where all is well.
func without(c class.Class, broken int) error {
	var list []string
	for _, s := range c.Students {
		if s.Err != nil {
			list = append(list, s.Name)
		}
	}
	switch {
	case broken > 0 && len(list) > 0:
		return fmt.Errorf("%d places of the roster could not be used, named above; no head for %s", broken, strings.Join(list, ", "))
	case broken > 0:
		return fmt.Errorf("%d places of the roster could not be used, named above", broken)
	case len(list) > 0:
		return nothingFits{fmt.Errorf("no head for %s: the table says why", strings.Join(list, ", "))}
	}
	return nil
}
