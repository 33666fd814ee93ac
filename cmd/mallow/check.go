package main

import (
	"fmt"
	"io"
	"strings"

	"mallow/assistant/check"
	"mallow/assistant/page"
	"mallow/assistant/save"
	"mallow/rules/class"
	"mallow/rules/stock"
)

type checkCmd struct {
	Roster []string `placeholder:"FILE" help:"Check this roster of a class as well."`
	Bin    []string `placeholder:"FILE" help:"Check this file of parts on hand as well."`
	Sets   int      `default:"20000" placeholder:"N" help:"Sets of facts to generate for the rules (default ${default})."`
	JSON   bool     `name:"json" help:"Write JSON."`
}

func (c checkCmd) Run(a *app) error {
	r, err := c.check(a)
	if err != nil {
		return err
	}
	if c.JSON {
		err = page.JSON(a.out, r)
	} else {
		err = writeReport(a.out, r)
	}
	if err == nil && len(r.Problems) > 0 {
		err = fmt.Errorf("%d problems, listed above", len(r.Problems))
	}
	return err
}

// check loads and checks everything. What does not load is in the report.
func (c checkCmd) check(a *app) (check.Report, error) {
	cat, catErr := a.catalogue()
	book, bookErr := a.book()
	if broken := append(check.Faults(catErr), check.Faults(bookErr)...); len(broken) > 0 {
		return check.Report{Problems: broken.Sorted()}, nil
	}
	r, kit := check.Check(a.ctx, cat, book, c.Sets)
	if kit == nil {
		return r, nil
	}
	for _, name := range c.Roster {
		data, err := save.Read(name)
		if err != nil {
			return r, fmt.Errorf("roster: %w", err)
		}
		r.Problems = append(r.Problems, class.ReadRoster(kit.Finder, name, data).Broken...)
	}
	for _, name := range c.Bin {
		data, err := save.Read(name)
		if err != nil {
			return r, fmt.Errorf("bin: %w", err)
		}
		if _, err := stock.ReadBin(cat, name, data); err != nil {
			r.Problems = append(r.Problems, check.Faults(err)...)
		}
	}
	return r, nil
}

// writeReport writes the problems, each as file:line:col, and then what was
// looked at.
func writeReport(w io.Writer, r check.Report) error {
	var b strings.Builder
	for _, p := range r.Problems {
		fmt.Fprintln(&b, page.Clean(p.Error()))
	}
	if r.Records > 0 {
		c, quiet := r.Coverage, r.Coverage.Quiet()
		fmt.Fprintf(&b, "%d records of knowledge, %d rules, %d examples run, %d sheets written\n", r.Records, r.Rules, r.Examples, r.Sheets)
		fmt.Fprintf(&b, "over %d sets of facts, %d of %d rules fired\n", c.Sets, len(c.Counts)-len(quiet), len(c.Counts))
		if len(quiet) > 0 {
			fmt.Fprintf(&b, "not met: %s\n", strings.Join(quiet, ", "))
		}
	}
	fmt.Fprintf(&b, "%d problems\n", len(r.Problems))
	_, err := io.WriteString(w, b.String())
	return err
}
