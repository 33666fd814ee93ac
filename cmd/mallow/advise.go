package main

import (
	"fmt"
	"strings"

	"mallow/assistant"
	"mallow/assistant/reply"
	"mallow/rules/advise"
	"mallow/rules/stock"
)

type adviseCmd struct {
	Have string `required:"" placeholder:"FILE|TEXT" help:"Parts on hand: a YAML file, or words such as 'two 1 1/8 plastic balls, a foot of 3/4 by 1/8 latex, grey wool'."`
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
	notes, err := have(kit, &wish, c.Have)
	if err != nil {
		return err
	}
	advice, err := advise.From(a.ctx, kit.Finder, wish.Request)
	if err != nil {
		return err
	}
	v, err := reply.NewAdvice(reply.Default(kit.Catalogue), advice, wish.Request.Pass, notes)
	if err != nil {
		return err
	}
	err = c.show(a, v)
	if err == nil && advice.Best == nil && len(advice.Buy) == 0 {
		return nothingFits{errSaid}
	}
	return err
}

// have lets a wish be built from parts on hand alone, read out of a file, when
// there is one of that name or the name says YAML, else out of the text itself.
// It returns what was assumed of the parts.
func have(kit *assistant.Kit, wish *assistant.Wish, have string) (notes []string, err error) {
	data, err := readFile(have)
	switch {
	case len(data) > mostBytes:
		return nil, err
	case err == nil:
		bin, err := stock.ReadBin(kit.Catalogue, have, data)
		if err != nil {
			return nil, usageError{err}
		}
		wish.Request.Bin = bin
		return nil, nil
	case strings.HasSuffix(have, ".yaml") || strings.HasSuffix(have, ".yml"):
		return nil, fmt.Errorf("parts on hand: %w", err)
	}
	bin, notes, err := kit.Bin(have)
	if err != nil {
		return nil, usageError{err}
	}
	wish.Request.Bin = bin
	wish.Heed(kit.Stated(have))
	return notes, nil
}
