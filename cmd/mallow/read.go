package main

import (
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
)

type readCmd struct {
	Text   string   `arg:"" help:"What somebody says, in plain words."`
	Before []string `sep:"none" placeholder:"TEXT" help:"What the same person said earlier; may be given again."`
	Asked  string   `placeholder:"FACT" help:"The question that is open, by its fact, such as want.mass_g; parts for the parts on hand."`
	JSON   bool     `name:"json" help:"Write JSON."`
}

// Help says what the command is for.
func (readCmd) Help() string {
	return "Says what would be taken from a line, without talking: what is settled, what would be asked, and what was not understood. " +
		"For people who write rosters and wishes, and for reports of what was misread. `mallow rules facts` lists the facts."
}

func (c readCmd) Run(a *app) error {
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	r, err := understand.New(cat)
	if err != nil {
		return err
	}
	var before reading.Reading
	for _, line := range c.Before {
		before = before.Then(r.Read(line, understand.Context{Before: before}))
	}
	in := r.Read(c.Text, understand.Context{Asked: c.Asked, Before: before})
	if c.JSON {
		return page.JSON(a.out, in.Report())
	}
	return page.Text(a.out, reply.Reading(in), a.style())
}
