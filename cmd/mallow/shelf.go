package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mallow/assistant"
	"mallow/assistant/hand"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/shelf"
	"mallow/knowledge/head"
	"mallow/rules/stock"
)

type shelfCmd struct {
	List  shelfListCmd  `cmd:"" default:"withargs" help:"List what you own, and what it is worth."`
	Add   shelfAddCmd   `cmd:"" help:"Put parts on the shelf."`
	Take  shelfTakeCmd  `cmd:"" help:"Take parts off the shelf, or what finished heads used."`
	Price shelfPriceCmd `cmd:"" help:"Say what you paid for a part."`
}

// Help says who uses the shelf.
func (shelfCmd) Help() string {
	return "The shelf is your own file of parts on hand. The conversation and every command that chooses parts use it before they buy anything, and say so; " +
		"--no-shelf leaves it out, and --have takes its place."
}

type shelfListCmd struct{ output }

type shelfAddCmd struct {
	What []string `arg:"" help:"Parts in words, such as '40 plastic balls 1 1/8' '3 ft of 3/4 by 1/8 latex' '200 g of wool'."`
	output
}

type shelfTakeCmd struct {
	What    []string `arg:"" optional:"" help:"Parts in words; without an amount, all there is."`
	Built   []string `sep:"none" placeholder:"STACK" help:"What heads of this stack used; may be given more than once."`
	Class   string   `placeholder:"FILE" help:"What the heads of a class used, by its roster."`
	Session bool     `help:"What the heads of the last conversation used."`
	Heads   int      `help:"How many heads were built; without it, as many as the conversation came to, or two."`
	output
}

type shelfPriceCmd struct {
	What string `arg:"" help:"The part, in words or by its id."`
	Paid string `arg:"" help:"What you paid: '4.50 for 10', '12 for 2 ft'; without an amount, for a pack."`
	output
}

// owned opens the shelf for a command that changes or lists it.
func (a *app) owned() (*assistant.Kit, string, error) {
	kit, err := a.bareKit()
	if err != nil {
		return nil, "", err
	}
	path, err := shelf.Path(a.getenv)
	return kit, path, err
}

func (c shelfListCmd) Run(a *app) error {
	kit, path, err := a.owned()
	if err != nil {
		return err
	}
	s, err := shelf.Read(kit.Catalogue, path)
	if err != nil {
		return err
	}
	return c.show(a, reply.NewShelf(kit.Catalogue, s, path))
}

// change changes the shelf and shows what it is then.
func (o output) change(a *app, kit *assistant.Kit, path string, notes []string, do func(*shelf.Shelf) ([]string, error)) error {
	var v reply.Shelf
	err := shelf.Change(kit.Catalogue, path, func(s *shelf.Shelf) error {
		did, err := do(s)
		if err != nil {
			return usageError{err}
		}
		v = reply.NewShelf(kit.Catalogue, s, path)
		v.Did, v.Notes = append(v.Did, did...), append(v.Notes, notes...)
		return nil
	})
	if err != nil {
		return err
	}
	return o.show(a, v)
}

// named reads parts, and fails where it has to be asked which is meant: what
// is on a shelf lasts.
func named(kit *assistant.Kit, text string, only []string) (hand.Hand, error) {
	h, err := hand.Among(kit.Catalogue, kit.Reader(), text, only)
	if err != nil {
		return h, usageError{err}
	}
	if len(h.Asks) > 0 {
		return h, usagef("%s", strings.ReplaceAll(strings.Join(h.Asks, " "), " Until you say, the one that suits best is taken.", ""))
	}
	if len(h.Bin.Items) == 0 {
		return h, usagef("no part was understood in %q", text)
	}
	return h, nil
}

func (c shelfAddCmd) Run(a *app) error {
	kit, path, err := a.owned()
	if err != nil {
		return err
	}
	h, err := named(kit, phrases(c.What), nil)
	if err != nil {
		return err
	}
	return c.change(a, kit, path, h.Notes, func(s *shelf.Shelf) ([]string, error) {
		s.Add(kit.Catalogue, h.Bin)
		return reply.PutOrTaken(kit.Catalogue, "Put there", h.Bin.Items), nil
	})
}

// phrases joins arguments that are phrases of their own, or single words of
// one phrase.
func phrases(args []string) string {
	for _, a := range args {
		if !strings.Contains(strings.TrimSpace(a), " ") {
			return strings.Join(args, " ")
		}
	}
	return strings.Join(args, "; ")
}

func (c shelfTakeCmd) Run(a *app) error {
	ways := 0
	for _, is := range []bool{len(c.What) > 0, len(c.Built) > 0, c.Class != "", c.Session} {
		if is {
			ways++
		}
	}
	if ways != 1 {
		return usagef("say what to take in words, or by --built STACK, --class FILE or --session: one of these")
	}
	if c.Heads < 0 || c.Heads > mostHeads {
		return usagef("--heads %d: from 1 to %d can have been built", c.Heads, mostHeads)
	}
	kit, path, err := a.owned()
	if err != nil {
		return err
	}
	switch {
	case c.Session:
		if err := a.withShelf(kit); err != nil { // as the conversation had it
			return err
		}
		s, err := a.lastSheet(kit)
		if err != nil {
			return err
		}
		c.Heads, c.Built = cmp.Or(c.Heads, s.Heads), []string{s.Stack}
		return c.built(a, kit, path)
	case c.Class != "":
		if err := a.withShelf(kit); err != nil { // as it was planned
			return err
		}
		_, planned, err := a.planned(kit, c.Class)
		if err != nil {
			return err
		}
		return c.used(a, kit, path, planned.Batches())
	case len(c.Built) > 0:
		return c.built(a, kit, path)
	}
	var h hand.Hand
	return c.change(a, kit, path, nil, func(s *shelf.Shelf) ([]string, error) {
		var only []string
		for _, it := range s.Bin.Items {
			only = append(only, it.Part)
		}
		if h, err = named(kit, phrases(c.What), slices.Concat(only, []string{""})); err != nil {
			return nil, err
		}
		return reply.PutOrTaken(kit.Catalogue, reply.TakenOff, h.Bin.Items), s.Take(kit.Catalogue, h.Bin)
	})
}

// built takes off what heads of some stacks used.
func (c shelfTakeCmd) built(a *app, kit *assistant.Kit, path string) error {
	var made []stock.Batch
	for _, text := range c.Built {
		stack, err := a.stack(kit.Catalogue, text)
		if err != nil {
			return usageError{err}
		}
		made = append(made, stock.Batch{Head: head.New(stack, kit.Catalogue.Limits), Heads: cmp.Or(c.Heads, 2)})
	}
	return c.used(a, kit, path, made)
}

// used takes off what heads used.
func (c shelfTakeCmd) used(a *app, kit *assistant.Kit, path string, made []stock.Batch) error {
	return c.change(a, kit, path, nil, func(s *shelf.Shelf) ([]string, error) {
		left, used, err := s.Bin.Left(kit.Catalogue, made)
		if err != nil {
			return nil, err
		}
		s.Bin = left
		if len(used) == 0 {
			return []string{"Nothing of what these heads are made of is on the shelf."}, nil
		}
		var items []stock.Item
		var short []string
		for _, u := range used {
			items = append(items, stock.Item{Part: u.Part, Amount: u.Amount})
			if u.Short > 0 {
				short = append(short, fmt.Sprintf("Of %s the shelf had %s too little.", u.Part, stock.Amount(kit.Catalogue, u.Part, u.Short)))
			}
		}
		return append(reply.PutOrTaken(kit.Catalogue, reply.TakenOff, items), short...), nil
	})
}

func (c shelfPriceCmd) Run(a *app) error {
	kit, path, err := a.owned()
	if err != nil {
		return err
	}
	return c.change(a, kit, path, nil, func(s *shelf.Shelf) ([]string, error) {
		var only []string
		for _, it := range s.Bin.Items {
			only = append(only, it.Part)
		}
		h, err := named(kit, c.What, slices.Concat(only, []string{""}))
		if err != nil {
			return nil, err
		}
		id := h.Bin.Items[0].Part
		paid, err := shelf.ParsePaid(kit.Catalogue, id, c.Paid)
		if err != nil {
			return nil, err
		}
		s.Paid[id] = paid
		return []string{fmt.Sprintf("%s: %s for %s.", reply.In(kit.Catalogue).Part(id), paid.Price, stock.Amount(kit.Catalogue, id, paid.Amount))}, nil
	})
}

// withShelf lets a kit use what its owner has, unless told not to, and says so.
func (a *app) withShelf(kit *assistant.Kit) error {
	if a.flags.NoShelf {
		return nil
	}
	path, err := shelf.Path(a.getenv)
	if err != nil {
		return nil // nowhere to have kept one
	}
	s, err := shelf.Read(kit.Catalogue, path)
	if err != nil {
		return fmt.Errorf("%w; --no-shelf goes on without", err)
	}
	if len(s.Bin.Items) > 0 {
		kit.Use(s.Bin)
	}
	return nil
}

// usingShelf says on standard error that what is on the shelf is used.
func (a *app) usingShelf(kit *assistant.Kit) {
	if n := kit.Owned(); n > 0 {
		fmt.Fprintf(a.err, "mallow: %s\n", page.Clean(assistant.UsesShelf(n)))
	}
}
