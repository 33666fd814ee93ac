package main

import (
	"errors"
	"fmt"
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/save"
	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/rules/pair"
)

type pairCmd struct {
	Things []string `arg:"" optional:"" name:"measure" help:"Weights, sizes or both of balls, slices or heads: '14.2 g' '14.6 g', or 'A: 14.2 g 28.5 mm'. A single '-' reads standard input."`
	From   string   `placeholder:"FILE" help:"Read them from this file, one or more a line; - is standard input."`
	Of     int      `default:"2" help:"How many go together: 2 for pairs, 4 for fours (default ${default})."`
	Unit   string   `placeholder:"UNIT" help:"Unit of numbers that have none: g, oz, mm or in."`
	Within string   `placeholder:"MEASURES" help:"The most that one group may differ by, such as '0.5 g' or '0.5 g 0.2 mm'; what fits nowhere is left over."`
	output
}

// Help says how a bag is sorted.
func (pairCmd) Help() string {
	return "Says which of a bag go together so that the differences within the groups add up to the least. " +
		"Where things have a weight and a size, half a gram counts as much as a quarter of a millimetre (common practice, no source). " +
		"A number without a unit takes --unit, or the only unit that is given anywhere."
}

func (c pairCmd) Run(a *app) error {
	things, err := c.read(a)
	if err != nil {
		return err
	}
	if c.Of < 2 { // zero is what pair.Options takes for not said
		return usagef("--of %d: at least 2 go together", c.Of)
	}
	o := pair.Options{Of: c.Of}
	if c.Within != "" {
		most, err := pair.Read("", c.Within, c.Unit)
		if err != nil {
			return usagef("--within: %w", err)
		}
		if len(most) != 1 {
			return usagef("--within %s: want one weight, one size or one of each, such as '0.5 g 0.2 mm'", measure.Quote(c.Within))
		}
		o.MassWithin, o.SizeWithin = most[0].Mass, most[0].Size
	}
	sorted, err := pair.Sort(things, o)
	if err != nil {
		return usageError{err}
	}
	v := reply.NewPairs(sorted, c.Of)
	if err := c.show(a, v); err != nil {
		return err
	}
	if len(v.Groups) == 0 {
		return nothingFits{errSaid}
	}
	return nil
}

// read returns the things on the command line, in a file or on standard
// input.
func (c pairCmd) read(a *app) ([]pair.Thing, error) {
	from := c.From
	if len(c.Things) == 1 && c.Things[0] == "-" {
		from, c.Things = "-", nil
	}
	switch {
	case from != "" && len(c.Things) > 0:
		return nil, usagef("give the measures or a file of them, not both")
	case from == "" && len(c.Things) == 0:
		return nil, usagef("nothing to sort; give weights or sizes, such as mallow pair '14.2 g' '14.6 g', or --from FILE")
	case from == "":
		things, err := pair.Read("", strings.Join(c.Things, " "), c.Unit)
		if err != nil {
			return nil, usageError{c.placed(err)}
		}
		return things, nil
	}
	data, file, err := []byte(nil), from, error(nil)
	if from == "-" {
		file = "standard input"
		data, err = save.ReadAll(a.in, file)
	} else {
		data, err = save.Read(from)
	}
	if err != nil {
		return nil, err
	}
	things, err := pair.Read(file, string(data), c.Unit)
	if err != nil {
		return nil, usageError{err}
	}
	return things, nil
}

// placed names the argument where a column of all arguments joined was meant.
func (c pairCmd) placed(err error) error {
	var one *fault.Error
	if !errors.As(err, &one) || one.Col == 0 {
		return err
	}
	at := one.Col - 1
	for i, arg := range c.Things {
		if n := len([]rune(arg)) + 1; at >= n {
			at -= n
			continue
		}
		e := *one
		e.Line, e.Col = 0, 0
		return fmt.Errorf("argument %d: %w", i+1, &e)
	}
	return err
}
