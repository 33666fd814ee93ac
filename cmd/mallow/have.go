package main

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant"
	"mallow/assistant/hand"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/save"
	"mallow/rules/advise"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// have puts the parts given with --have in the place of the shelf.
func (a *app) have(kit *assistant.Kit, text string, w *assistant.Wish) error {
	if text == "" {
		a.usingShelf(kit)
		return nil
	}
	h, err := onHand(kit, text)
	if err != nil {
		return err
	}
	w.Request.Bin = h.Bin
	if h.Drill && !w.Request.Known[facts.BenchDrill] {
		w.Request.Facts.Bench.Drill = true
		w.Request.Known[facts.BenchDrill] = true
	}
	w.Assumed = slices.Concat(h.Asks, h.Notes)
	w.Heed(kit.Stated(text))
	return nil
}

// assumed says on standard error what was assumed of the parts on hand.
func (a *app) assumed(w *assistant.Wish) {
	for _, s := range w.Assumed {
		fmt.Fprintf(a.err, "mallow: %s\n", page.Clean(s))
	}
}

// binds says on standard error what nobody said that keeps a request from a better
// head than the one it gets; that of a search that found none has no mass.
func (a *app) binds(kit *assistant.Kit, q propose.Request, best *propose.Candidate) {
	if best.Head.Mass == 0 {
		best = nil
	}
	list, err := advise.Binds(a.ctx, kit.Finder, q, best)
	for _, x := range list {
		if err == nil {
			fmt.Fprintf(a.err, "mallow: %s\n", reply.In(kit.Catalogue).Binding(x))
		}
	}
}

// stockFirst settles what may be bought besides the parts on hand.
func (a *app) stockFirst(kit *assistant.Kit, q propose.Request) (propose.Request, error) {
	c, err := advise.First(a.ctx, kit.Finder, q)
	return c.Request, err
}

// onHand reads parts on hand out of a file, when there is one of that name or
// the name says YAML, else out of the text itself.
func onHand(kit *assistant.Kit, have string) (hand.Hand, error) {
	data, err := save.Read(have)
	switch {
	case len(data) > save.MostBytes:
		return hand.Hand{}, err
	case err == nil:
		bin, err := stock.ReadBin(kit.Catalogue, have, data)
		if err != nil {
			return hand.Hand{}, usageError{err}
		}
		return hand.Hand{Bin: bin}, nil
	case strings.HasSuffix(have, ".yaml") || strings.HasSuffix(have, ".yml"):
		return hand.Hand{}, fmt.Errorf("parts on hand: %w", err)
	}
	h, err := hand.Read(kit.Catalogue, kit.Reader(), have)
	if err != nil {
		return hand.Hand{}, usageError{err}
	}
	return h, nil
}
