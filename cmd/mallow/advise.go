package main

import (
	"mallow/assistant/reply"
	"mallow/rules/advise"
	"mallow/rules/graded"
)

type adviseCmd struct {
	Have string `placeholder:"FILE|TEXT" help:"Parts on hand, in place of your shelf: a YAML file, or words such as 'two 1 1/8 plastic balls, a foot of 3/4 by 1/8 latex, grey wool'."`
	Want string `placeholder:"TEXT" help:"What it is for, in a sentence."`
	output
}

func (c adviseCmd) Run(a *app) error {
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
	if wish.Request.Bin == nil {
		return usagef("say with --have what is on hand, or put it on the shelf: mallow shelf add --help")
	}
	advice, err := advise.From(a.ctx, kit.Finder, wish.Request)
	if err != nil {
		return err
	}
	v, err := reply.NewAdvice(reply.Default(kit.Catalogue), advice, wish.Request.Pass, wish.Assumed)
	if err != nil {
		return err
	}
	if advice.Best != nil {
		if serves, short := graded.Serves(a.ctx, kit.Finder, *advice.Best, wish.Request); short {
			v.Range, v.Beside = reply.In(kit.Catalogue).Range(*advice.Best, serves)
		}
	}
	err = c.show(a, v)
	if err == nil && advice.Best == nil && len(advice.Buy) == 0 {
		return nothingFits{errSaid}
	}
	return err
}
