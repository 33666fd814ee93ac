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

	Talk       talkCmd       `cmd:"" default:"withargs" help:"Talk: questions, a proposal, a build sheet. This is what mallow does without a command."`
	Build      buildCmd      `cmd:"" help:"Build, re-wrap or re-shaft a head step by step, and follow what you measure."`
	Head       headCmd       `cmd:"" help:"Compute one stack: fit, mass, size and strokes."`
	Sheet      sheetCmd      `cmd:"" help:"Write the build sheet of a head, or of the best head for a wish."`
	Advise     adviseCmd     `cmd:"" help:"The best head from parts on hand, and the one purchase that would help most."`
	Set        setCmd        `cmd:"" help:"A graded set: evenly spaced softness, shared stock, least cost."`
	Match      matchCmd      `cmd:"" help:"What could be under the yarn of a finished head."`
	Pair       pairCmd       `cmd:"" help:"Which balls, slices or heads of a bag go together, by weight or size: pairs or fours that differ least."`
	Class      classCmd      `cmd:"" help:"A class: a head and a sheet for each student, one order, within a budget."`
	Change     changeCmd     `cmd:"" help:"The cheapest change of a head you have: softer, harder, lighter, smaller, cheaper, no latex."`
	Compare    compareCmd    `cmd:"" help:"Two to four heads side by side, in words and in pictures at one scale."`
	Hear       hearCmd       `cmd:"" help:"Write a sound sketch of heads as a WAV file."`
	Shelf      shelfCmd      `cmd:"" help:"What you own: list it, add to it, take from it, say what you paid. Heads are built from it first."`
	Built      builtCmd      `cmd:"" help:"Record a head you have built and measured; predictions then use your own figures."`
	PartsCmd   partsCmd      `cmd:"" name:"parts" help:"List and show parts, words, steps and all else that is known, with sources; what is yours with its file and line."`
	RulesCmd   rulesCmd      `cmd:"" name:"rules" help:"List and show the rules, and the facts they read."`
	Check      checkCmd      `cmd:"" help:"Check parts, words, steps, cautions, rules and sources, with your own: what passes loads and runs."`
	Man        manCmd        `cmd:"" help:"Print the manual page (view it with: mallow man | man -l -)."`
	Completion completionCmd `cmd:"" help:"Print a completion script for a shell."`
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
