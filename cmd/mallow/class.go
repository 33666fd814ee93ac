package main

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/sheet"
	"mallow/rules/class"
	"mallow/rules/propose"
)

type classCmd struct {
	Roster string `arg:"" help:"YAML file with the students' wishes; testdata/class/demo.yaml is an example."`
	Sheets bool   `help:"Hand out every student's build sheet."`
	outputs
}

func (c classCmd) Run(a *app) error {
	if err := c.ready(); err != nil {
		return err
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	data, err := readFile(c.Roster)
	if err != nil {
		return fmt.Errorf("roster: %w", err)
	}
	roster := class.ReadRoster(kit.Finder, c.Roster, data)
	if roster.Bin == nil && kit.Owned() > 0 {
		roster.Bin = kit.Shelf()
		a.usingShelf(kit)
	}
	for _, e := range roster.Broken {
		fmt.Fprintf(a.err, "mallow: %s\n", oneLine(e))
	}
	if n := len(roster.Unsafe); n > 0 {
		return usagef("roster %s: a field that keeps somebody from harm can't be read (line %d), so nothing is planned for anybody", c.Roster, roster.Unsafe[0].Line)
	}
	if !slices.ContainsFunc(roster.Students, func(s class.Student) bool { return len(s.Broken) == 0 }) {
		return usagef("roster %s: no student's wishes can be used", c.Roster)
	}
	planned, err := class.Plan(a.ctx, kit.Finder, roster, func(text string) (propose.Request, []string, error) {
		w := kit.Wish(text)
		return w.Request, w.Missed, nil
	})
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
		err = c.write(a, bundle)
	} else {
		err = c.output().show(a, v)
	}
	if err == nil {
		err = without(planned, len(roster.Broken))
	}
	return err
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
