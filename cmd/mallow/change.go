package main

import (
	"errors"
	"fmt"

	"mallow/assistant/hand"
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
	wish, err := a.wish(kit, c.Want)
	if err != nil {
		return err
	}
	aims, err := wish.Aims()
	if err != nil {
		return usageError{err}
	}
	if len(aims) == 0 {
		was, err := kit.Finder.Consider(stack, wish.Request)
		if err != nil {
			return err
		}
		if aim, off := change.Within(&was.Facts.Head, &wish.Request); off {
			aims = append(aims, wish.Keeping(aim))
		} else if h, w := &was.Facts.Head, &wish.Request.Facts.Want; w.LeastG+w.LeastMM > 0 {
			return usagef("%q leaves nothing to change: the head comes to %.1f g and %.1f mm", c.Want, h.MassG, h.DiameterMM)
		}
	}
	if len(aims) != 1 {
		return usagef("%q asks for %d changes; one at a time, such as 'two notches softer'", c.Want, len(aims))
	}
	if said := hand.Weighed(c.Stack); said > 0 {
		was, err := kit.Finder.Consider(stack, wish.Request)
		if err != nil {
			return err
		}
		computed := was.Facts.Head.MassG
		aims[0], wish.Request = change.Weighed(aims[0], wish.Request, computed, said.Grams())
		fmt.Fprintf(a.err, "mallow: you say %s; its parts come to %.1f g as computed, so that what comes of it will be %+.1f g off as well: limits of weight are kept to by your scale\n", said, computed, said.Grams()-computed)
	}
	if stack.Latex() { // it is theirs as it is
		wish.Request.Pass = wish.Request.Pass.Given()
	}
	if err := a.have(kit, c.Have, &wish); err != nil {
		return err
	}
	a.assumed(&wish)
	found, err := change.FromStock(a.ctx, kit.Finder, stack, aims[0], wish.Request, 3)
	if none := (*change.Cannot)(nil); errors.As(err, &none) {
		if err := c.show(a, reply.NewCannot(reply.In(kit.Catalogue), stack, none)); err != nil {
			return err
		}
		if x := advise.Change(a.ctx, kit.Finder, stack, aims[0], wish.Request); x != nil {
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
	v, err := reply.NewChange(reply.Default(kit.Catalogue), stack, aims[0], found)
	if err != nil {
		return err
	}
	return c.show(a, v)
}
