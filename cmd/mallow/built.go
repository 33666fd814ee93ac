package main

import (
	"fmt"
	"strings"
	"unicode"

	"mallow/assistant/built"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/reply/learnt"
	"mallow/assistant/shelf"
	"mallow/knowledge"
	"mallow/knowledge/correct"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

type builtCmd struct {
	Stack      string   `arg:"" optional:"" help:"What the head is made of. Without it, what has been learnt so far is shown."`
	Name       string   `placeholder:"NAME" help:"What you call the head; head 1, head 2 and so on when left out. A name given again corrects that head."`
	Mass       string   `placeholder:"MASS" help:"Measured mass of the head without its shaft, such as '22.4 g'."`
	Diameter   string   `placeholder:"LENGTH" help:"Measured diameter over the yarn, such as '36.8 mm' or '1.45 in'."`
	Squeeze    []string `placeholder:"READING" sep:"none" help:"A reading of the squeeze test, such as '2 mm at 3.1 kg'; may be given again."`
	Forget     string   `placeholder:"NAME" help:"Take the head of this name out of the log."`
	SofterThan []string `placeholder:"NAME" help:"A head in the log that this one sounds softer than."`
	HarderThan []string `placeholder:"NAME" help:"A head in the log that this one sounds harder than."`
	output
}

func (c builtCmd) Run(a *app) error {
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
	if c.Stack == "" && c.Forget == "" {
		log, err := built.Read(path, a.err)
		if err != nil {
			return err
		}
		log, moved, err := correct.Fit(cat, set, log)
		if err != nil {
			return err
		}
		return c.show(a, learnt.New(log, moved, path))
	}
	var head correct.Built
	if c.Stack != "" {
		if head, err = c.built(a, cat); err != nil {
			return err
		}
	}
	var said learnt.Built
	if err := built.Change(path, a.err, func(log *correct.Log) error {
		said, err = c.enter(cat, set, log, head)
		said.Path = path
		return err
	}); err != nil {
		return err
	}
	if c.Stack != "" && !a.flags.NoShelf {
		if path, err := shelf.Path(a.getenv); err == nil {
			if s, err := shelf.Read(cat, path); err == nil && len(s.Bin.Items) > 0 {
				fmt.Fprintf(a.err, "mallow: mallow shelf take --built takes off your shelf what such heads used\n")
			}
		}
	}
	return c.show(a, said)
}

// enter takes a head out of the log, puts one in, or both, and fits the rest.
func (c builtCmd) enter(cat *knowledge.Catalogue, set strike.Setting, log *correct.Log, head correct.Built) (said learnt.Built, err error) {
	if c.Forget != "" && !log.Remove(c.Forget) {
		return said, usagef("--forget: no head called %q has been recorded; `mallow built` lists them", c.Forget)
	}
	var moved []correct.Moved
	if c.Stack == "" {
		*log, moved, err = correct.Fit(cat, set, *log)
		return learnt.New(*log, moved, ""), err
	}
	var e correct.Entry
	if *log, moved, e, err = correct.Enter(cat, set, *log, head); err != nil {
		return said, usageError{err}
	}
	said = learnt.New(*log, moved, "")
	said.Noted = learnt.NewNoted(e)
	return said, nil
}

// plainName is a name as a file can hold it: without what page.Clean replaces.
func plainName(s string) string {
	return strings.Join(strings.FieldsFunc(page.Clean(s), func(r rune) bool { return unicode.IsSpace(r) || r == '\ufffd' }), " ")
}

// built reads the flags into a built head.
func (c builtCmd) built(a *app, cat *knowledge.Catalogue) (b correct.Built, err error) {
	measured := c.Mass != "" || c.Diameter != "" || len(c.Squeeze)+len(c.SofterThan)+len(c.HarderThan) > 0
	stack, err := a.stack(cat, c.Stack)
	switch {
	case err != nil && !measured: // "mallow built list"
		return b, usagef("%w; `mallow built` alone lists what is recorded", err)
	case err != nil:
		return b, usageError{err}
	case !measured:
		return b, usagef("give at least one of --mass, --diameter, --squeeze, --softer-than and --harder-than")
	}
	b = correct.Built{Name: plainName(c.Name), Stack: stack.String(), SofterThan: c.SofterThan, HarderThan: c.HarderThan}
	if c.Mass != "" {
		if b.Mass, err = measure.ParseMass(c.Mass, measure.Gram); err != nil {
			return b, usagef("--mass: %w", err)
		}
	}
	if c.Diameter != "" {
		if b.Diameter, err = measure.ParseLength(c.Diameter, measure.Millimetre); err != nil {
			return b, usagef("--diameter: %w", err)
		}
	}
	for _, text := range c.Squeeze {
		q, err := correct.ParseSqueeze(text)
		if err != nil {
			return b, usagef("--squeeze: %w", err)
		}
		b.Squeezes = append(b.Squeezes, q)
	}
	return b, nil
}

// usual is the setting that built heads are computed in.
func (a *app) usual(cat *knowledge.Catalogue) (strike.Setting, error) {
	inst, err := a.instrument(cat, reply.DefaultInstrument)
	return strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}, err
}
