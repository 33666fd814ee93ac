package main

import (
	"os"
	"slices"
	"strings"

	"mallow/assistant/chart"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/term"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/words"
	"mallow/rules/facts"
	"mallow/rules/gate"
)

type headCmd struct {
	Stack string `arg:"" help:"Parts from the inside out, joined by ' + ', such as 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'."`
	output
	Instrument string `default:"marimba-5" placeholder:"NAME" help:"Instrument for the registers, such as glockenspiel (default ${default})."`
}

func (c headCmd) Run(a *app) error {
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	stack, err := a.stack(cat, c.Stack)
	if err != nil {
		return usageError{err}
	}
	inst, err := a.instrument(cat, c.Instrument)
	if err != nil {
		return err
	}
	given, err := reply.NewWriter(cat, inst).Given(stack, gate.Pass{})
	if err != nil {
		return err
	}
	return c.show(a, cut{given, chart.Cut(head.New(stack, cat.Limits), &cat.Limits, a.style().Width)})
}

// cut is a head with its section.
type cut struct {
	reply.Given
	picture page.Picture
}

// Page has the section before the first table, where a head that slaps shows.
func (c cut) Page() page.Page {
	p := c.Given.Page()
	i := max(slices.IndexFunc(p, func(b page.Block) bool { _, ok := b.(page.Table); return ok }), 0)
	return slices.Insert(p, i, page.Block(c.picture))
}

// instrument looks up an instrument by its id, or by what a player calls it.
func (a *app) instrument(cat *knowledge.Catalogue, name string) (knowledge.Instrument, error) {
	inst, ok := cat.Instrument(name)
	if ok {
		return inst, nil
	}
	if kit, err := a.kit(); err == nil && !strings.ContainsAny(name, "-0123456789") { // or it is a misspelt id
		w := kit.Wish(name)
		if inst, ok := cat.Instrument(w.Instrument); ok {
			return inst, nil
		}
		for _, inst := range cat.Instruments { // the first of its kind
			if w.Request.Known[facts.InstrumentKind] && inst.Kind == w.Request.Facts.Instrument.Kind {
				return inst, nil
			}
		}
	}
	var ids []string
	for _, i := range cat.Instruments {
		ids = append(ids, i.ID)
	}
	return inst, unknown(words.Hint(name, ids), "no instrument is called %q", name)
}

// output is how every command that answers gives its answer.
type output struct {
	JSON bool `name:"json" help:"Write JSON."`
}

// show writes an answer to standard output.
func (o output) show(a *app, v reply.Answer) error {
	if o.JSON {
		return page.JSON(a.out, v)
	}
	return page.Text(a.out, v.Page(), a.style())
}

// style is how text is rendered on this standard output.
func (a *app) style() page.Style {
	f, _ := a.out.(*os.File) // nil when it is no file, and then no terminal
	return page.Style{
		Width: term.Width(f),
		Plain: a.flags.Plain || plainLocale(a.getenv),
		Bold:  !a.flags.Plain && term.Colour(a.getenv, f),
	}
}

// plainLocale reports whether the locale was set to one without box
// characters.
func plainLocale(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := getenv(name); v != "" {
			return v == "C" || v == "POSIX"
		}
	}
	return false
}
