package main

import (
	"fmt"

	"mallow/assistant/reply"
	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/rules/class"
	"mallow/rules/propose"
)

type classCmd struct {
	Roster string `arg:"" help:"YAML file with the students' wishes; testdata/class/demo.yaml is an example."`
	Sheets bool   `help:"Hand out every student's build sheet."`
	outputs
}

func (c classCmd) Run(a *app) error {
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
	if len(roster.Students) == 0 {
		return usagef("roster %s: no student's wishes can be used", c.Roster)
	}
	class, err := class.Plan(a.ctx, kit.Finder, roster, func(text string) (propose.Request, []string, error) {
		w := kit.Wish(text)
		return w.Request, w.Missed, nil
	})
	if err != nil {
		return err
	}
	switch {
	case c.Sheets || c.HTML != "" || c.MD != "":
		var entries []sheet.Entry
		for _, s := range class.Students {
			if s.Err == nil {
				entries = append(entries, sheet.Entry{Candidate: s.Head, Options: sheet.Options{For: s.Name, Heads: s.Heads}})
			}
		}
		bundle, bad := kit.Sheets().Class(class.Title, entries, &class.Order)
		if bad != nil {
			fmt.Fprintf(a.err, "mallow: %s\n", oneLine(bad))
		}
		err = c.write(a, bundle)
	default:
		err = c.class(a, kit.Catalogue, class)
	}
	if err == nil && len(roster.Broken) > 0 {
		return fmt.Errorf("%d places of the roster could not be used, named above; everybody else is served: %w", len(roster.Broken), errSaid)
	}
	return err
}

// class shows who gets which head.
func (c classCmd) class(a *app, cat *knowledge.Catalogue, class class.Class) error {
	v, err := reply.NewClass(reply.Default(cat), class)
	if err != nil {
		return err
	}
	return c.output().show(a, v)
}
