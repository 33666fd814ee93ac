package main

import (
	"fmt"

	"mallow/assistant/compare"
	"mallow/assistant/page"
	"mallow/assistant/reply"
)

type compareCmd struct {
	Stacks     []string `arg:"" name:"stack" help:"Two to four heads, each as one stack text; one alone is shown against the scale."`
	Instrument string   `default:"marimba-5" placeholder:"NAME" help:"Instrument to be played on (default ${default})."`
	HTML       outFile  `name:"html" placeholder:"FILE" help:"Write one self-contained HTML page with pictures at one scale."`
	Force      bool     `help:"Replace the file if it exists."`
	output
}

func (c compareCmd) Run(a *app) error {
	if err := ready(c.Force, c.HTML); err != nil {
		return err
	}
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	if len(c.Stacks) > compare.Most {
		return usagef("%d heads to compare: at most %d can be", len(c.Stacks), compare.Most)
	}
	inst, err := a.instrument(cat, c.Instrument)
	if err != nil {
		return err
	}
	var entries []compare.Entry
	for _, text := range c.Stacks {
		stack, err := a.stack(cat, text)
		if err != nil {
			return usageError{err}
		}
		entries = append(entries, compare.Entry{Stack: stack})
	}
	v, err := compare.New(cat, inst, compare.Title(len(entries)), entries)
	if err != nil {
		return err
	}
	if c.HTML != "" {
		if err := saveFile(string(c.HTML), c.Force, v.HTML); err != nil {
			return err
		}
		fmt.Fprintf(a.err, "mallow: wrote %s\n", page.Clean(string(c.HTML)))
		if !c.JSON {
			return nil
		}
	}
	return c.show(a, sized{v, a.style().Width})
}

// sized is a comparison as wide as the terminal; its JSON is the comparison's.
type sized struct {
	compare.Comparison
	width int
}

func (s sized) Page() page.Page { return s.Comparison.Page(s.width) }

var _ reply.Answer = sized{}
