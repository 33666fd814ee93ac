package main

import (
	"context"
	"errors"

	"github.com/alecthomas/kong"

	"mallow/rules/propose"
)

// commands is the table of commands: parsing, help, the manual page and
// completion are all made from it.
type commands struct {
	Version kong.VersionFlag `help:"Print the version and leave."`
	Plain   bool             `help:"No box drawing and no colour, for screen readers and logs."`
	Parts   []string         `placeholder:"FILE" help:"Read more parts, words, steps or lessons from this YAML file."`
	Rules   []string         `placeholder:"FILE" help:"Read more rules from this YAML file."`
	NoShelf bool             `help:"Leave out what is on your shelf; see mallow shelf."`

	Talk       talkCmd       `cmd:"" default:"withargs" help:"Talk: questions, a proposal, a build sheet. This is what mallow does without a command." group:"choose" example:"mallow"`
	Build      buildCmd      `cmd:"" help:"Build, re-wrap or re-shaft a head step by step, and follow what you measure." group:"build" example:"mallow build 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'"`
	Head       headCmd       `cmd:"" help:"Compute one stack: fit, mass, size and strokes." group:"choose" example:"mallow head 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'"`
	Sheet      sheetCmd      `cmd:"" help:"Write the build sheet of a head, or of the best head for a wish." group:"build" example:"mallow sheet --want 'medium, marimba, adults, latex is fine' --html sheet.html"`
	Advise     adviseCmd     `cmd:"" help:"The best head from parts on hand, and the one purchase that would help most." group:"choose" example:"mallow advise --have 'two 1 1/8 in plastic balls, a foot of 3/4 by 1/8 latex' --want 'medium, marimba'"`
	Set        setCmd        `cmd:"" help:"A graded set: evenly spaced softness, shared stock, least cost." group:"choose" example:"mallow set 4 --want 'marimba, two mallets'"`
	Match      matchCmd      `cmd:"" help:"What could be under the yarn of a finished head." group:"build" example:"mallow match --diameter '37 mm' --mass '22 g'"`
	Pair       pairCmd       `cmd:"" help:"Which balls, slices or heads of a bag go together, by weight or size: pairs or fours that differ least." group:"build" example:"mallow pair 14.2g 14.6g 13.9g 14.1g --of 2"`
	Class      classCmd      `cmd:"" help:"A class: a head and a sheet for each student, one order, within a budget." group:"teach" example:"mallow class roster.yaml --html class.html"`
	Change     changeCmd     `cmd:"" help:"The cheapest change of a head you have: softer, harder, lighter, smaller, cheaper, no latex." group:"choose" example:"mallow change 'poly-1-1/8 + 3/4x1/8@1 + wool-medium' --want 'a bit softer, not heavier'"`
	Compare    compareCmd    `cmd:"" help:"Two to four heads side by side, in words and in pictures at one scale." group:"choose" example:"mallow compare 'poly-1-1/8 + wool-medium' 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'"`
	Hear       hearCmd       `cmd:"" help:"Write a sound sketch of heads as a WAV file." group:"choose" example:"mallow hear 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'"`
	Shelf      shelfCmd      `cmd:"" help:"What you own: list it, add to it, take from it, say what you paid. Heads are built from it first." group:"build" example:"mallow shelf add '40 plastic balls 1 1/8 in' '200 g of wool'"`
	Built      builtCmd      `cmd:"" help:"Record a head you have built and measured; predictions then use your own figures." group:"build" example:"mallow built 'poly-1-1/8 + 3/4x1/8@1 + wool-medium' --mass '22.8 g' --diameter '39 mm'"`
	PartsCmd   partsCmd      `cmd:"" name:"parts" help:"List and show parts, words, steps and all else that is known, with sources; what is yours with its file and line." group:"know" example:"mallow parts tubing"`
	RulesCmd   rulesCmd      `cmd:"" name:"rules" help:"List and show the rules, and the facts they read." group:"know" example:"mallow rules list"`
	Check      checkCmd      `cmd:"" help:"Check parts, words, steps, cautions, rules and sources, with your own: what passes loads and runs." group:"know" example:"mallow check --parts mine.yaml"`
	Read       readCmd       `cmd:"" help:"What would be taken from a line in plain words, without talking." group:"know" example:"mallow read 'dark but not heavy, nothing below C4'"`
	Man        manCmd        `cmd:"" help:"Print the manual page (view it with: mallow man | man -l -)." group:"know" example:"mallow man | man -l -"`
	Completion completionCmd `cmd:"" help:"Print a completion script for a shell." group:"know" example:"mallow completion bash"`
}

type manCmd struct{}

func (manCmd) Run(a *app) error { return writeMan(a.out, a.model, version()) }

type completionCmd struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (c completionCmd) Run(a *app) error { return writeCompletion(a.out, a.model, c.Shell) }

// errSaid is returned once the trouble has already been told.
var errSaid = errors.New("already said")

// exitCode turns a command's error into the exit code.
func exitCode(ctx context.Context, err error) int {
	var usage usageError
	var none nothingFits
	var clash *propose.Clash
	switch {
	case err == nil:
		return exitDone
	case ctx.Err() != nil || errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &usage):
		return exitUsage
	case errors.As(err, &none), errors.As(err, &clash):
		return exitNothingFits
	}
	return exitFailed
}
