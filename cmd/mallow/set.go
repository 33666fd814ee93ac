package main

import (
	"errors"
	"fmt"

	"mallow/assistant/reply"
	"mallow/assistant/reply/sets"
	"mallow/assistant/sheet"
	"mallow/rules/graded"
	"mallow/rules/graded/ladder"
)

type setCmd struct {
	N       int      `arg:"" name:"n" help:"Grades of softness, 2 to 8."`
	Want    string   `placeholder:"TEXT" help:"What it is for, in a sentence."`
	Have    string   `placeholder:"FILE|TEXT" help:"Parts on hand, used before anything is bought: a YAML file, or words."`
	Each    int      `default:"2" help:"Heads of each grade: 2 for a pair, 4 for fours (default ${default})."`
	Gap     float64  `placeholder:"NOTCHES" help:"Notches from one grade to the next; 2, or what the words of --want span."`
	Hardest *float64 `placeholder:"NOTCHES" help:"Softness of the hardest grade; without it the set lies round what --want asks."`
	Mass    string   `enum:"usual,grow,level,free" default:"usual" help:"Mass from grade to grade: grow with softness, level, or free; usual grows where heads are wound."`
	Size    string   `enum:"usual,grow,level,free" default:"usual" help:"Size from grade to grade, likewise."`
	Sheets  bool     `help:"Hand out the build sheets of the whole set."`
	outputs
}

func (c setCmd) Run(a *app) error {
	if c.N < 2 || c.N > 8 {
		return usagef("a set has 2 to 8 grades, not %d", c.N)
	}
	if c.Each != 2 && c.Each != 4 {
		return usagef("--each %d: a grade is a pair (2) or fours (4)", c.Each)
	}
	if err := c.ready(); err != nil {
		return err
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	wish, err := a.wish(kit, c.Want)
	if err != nil {
		return err
	}
	if err := a.have(kit, c.Have, &wish); err != nil {
		return err
	}
	a.assumed(&wish)
	set, err := kit.Set(a.ctx, wish, c.Want, graded.Options{Rungs: c.N, Each: c.Each, Gap: c.Gap, Hardest: c.Hardest, Mass: trend(c.Mass), Size: trend(c.Size)})
	var short *graded.Short
	if err != nil && !errors.As(err, &short) {
		return err
	}
	if short != nil { // the nearest is shown, and what it falls short of
		v, err := sets.New(reply.Default(kit.Catalogue), set, c.Each)
		if err == nil {
			err = c.output().show(a, v.Short(short))
		}
		if err != nil {
			return err
		}
		return nothingFits{short}
	}
	if c.Sheets || c.HTML != "" || c.MD != "" {
		var entries []sheet.Entry
		for i, r := range set.Rungs {
			entries = append(entries, sheet.Entry{Candidate: r.Head, Options: sheet.Options{For: fmt.Sprintf("grade %d of %d", i+1, c.N), Heads: c.Each}})
		}
		bundle, err := kit.Sheets().Set(fmt.Sprintf("A set of %d grades", c.N), entries, &set.Order)
		if err != nil {
			return err
		}
		return c.write(a, bundle)
	}
	v, err := sets.New(reply.Default(kit.Catalogue), set, c.Each)
	if err != nil {
		return err
	}
	if c.Have == "" && kit.Owned() > 0 {
		fmt.Fprintf(a.err, "mallow: %s\n", reply.TakeOff(c.Each, v.Stacks()...))
	}
	return c.output().show(a, v)
}

// trend is what a flag says of mass or size.
func trend(flag string) ladder.Trend {
	if flag == "usual" {
		return ""
	}
	return ladder.Trend(flag)
}
