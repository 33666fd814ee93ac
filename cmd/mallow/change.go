package main

import (
	"errors"
	"fmt"

	"mallow/assistant/reply"
	"mallow/rules/advise"
	"mallow/rules/change"
)

type changeCmd struct {
	Stack string `arg:"" help:"The head that exists, as stack text."`
	Want  string `required:"" placeholder:"TEXT" help:"What it should become: 'two notches softer', 'darker but not heavier', 'smaller', 'no latex'; and what the head is for."`
	Have  string `placeholder:"FILE|TEXT" help:"Parts on hand, used before anything is bought: a YAML file, or words."`
	output
}

func (c changeCmd) Run(a *app) error {
	kit, err := a.kit()
	if err != nil {
		return err
	}
	stack, err := a.stack(kit.Catalogue, c.Stack)
	if err != nil {
		return usageError{err}
	}
	wish, err := a.wish(kit, c.Want, c.Stack)
	if err != nil {
		return err
	}
	was, err := kit.Finder.Consider(stack, wish.Request)
	if err != nil {
		return err
	}
	aim, note, err := wish.Aim(was, c.Want, c.Stack)
	if err != nil {
		return usageError{err}
	}
	if note != "" {
		fmt.Fprintf(a.err, "mallow: %s\n", note)
	}
	if stack.Latex() { // it is theirs as it is
		wish.Request.Pass = wish.Request.Pass.Given()
	}
	if err := a.have(kit, c.Have, &wish); err != nil {
		return err
	}
	a.assumed(&wish)
	found, err := change.FromStock(a.ctx, kit.Finder, stack, aim, wish.Request, 3)
	if none := (*change.Cannot)(nil); errors.As(err, &none) {
		if err := c.show(a, reply.NewCannot(reply.In(kit.Catalogue), stack, none)); err != nil {
			return err
		}
		if x := advise.Change(a.ctx, kit.Finder, stack, aim, wish.Request); x != nil {
			fmt.Fprintf(a.err, "mallow: %s\n", reply.In(kit.Catalogue).Binding(*x))
		}
		return nothingFits{errSaid}
	}
	if errors.Is(err, change.ErrNone) {
		return usagef("%q: %w", c.Want, err)
	}
	if err != nil {
		return err
	}
	v, err := reply.NewChange(reply.Default(kit.Catalogue), stack, aim, found)
	if err != nil {
		return err
	}
	return c.show(a, v)
}
