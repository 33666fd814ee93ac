package main

import (
	"slices"

	"mallow/assistant/reply"
	"mallow/knowledge/words"
)

type partsCmd struct {
	What string `arg:"" optional:"" help:"A kind, such as cores, tubing or words, or the id of one record. Without it: the kinds, and what is your own."`
	output
}

// Help says which file has the last word.
func (partsCmd) Help() string {
	return "Knowledge lies in layers, later ones over earlier: what mallow ships; the .yaml files in $XDG_CONFIG_HOME/mallow, " +
		"in the order of their names; each --parts file, as given. A record whose id is known already changes only the fields that it gives, " +
		"a list being one field; any other is new. hide: true takes a record away, hide: false brings it back. " +
		"Rules go the same way, from $XDG_CONFIG_HOME/mallow/rules and each --rules file: see mallow rules list. " +
		"What is yours is shown with its file and line."
}

func (c partsCmd) Run(a *app) error {
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	all := reply.Records(cat, func(kind, id string) bool { return c.JSON && c.What == "" || kind == c.What || id == c.What })
	var list []reply.Record
	var known []string
	kind := false
	for _, r := range all {
		if r.Kind == c.What || r.ID == c.What || c.What == "" {
			list, kind = append(list, r), kind || r.Kind == c.What
		}
		if !slices.Contains(known, r.Kind) {
			known = append(known, r.Kind)
		}
	}
	if len(list) == 0 {
		for _, h := range cat.Hidden {
			if h.ID == c.What {
				return usagef("%s %s is hidden: %s", h.Kind, h.ID, h.Origin)
			}
		}
		for _, r := range all {
			known = append(known, r.ID)
		}
		return unknown(words.Hint(c.What, known), "no kind and no record is called %q; `mallow parts` lists the kinds", c.What)
	}
	return c.show(a, reply.Parts{List: list, Kind: kind, All: c.What == "", Hidden: cat.Hidden})
}
