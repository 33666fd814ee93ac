package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/rules/change"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// Change is the cheapest change of a head.
type Change struct {
	Assumptions
	From      string  `json:"from"` // stack of the head as it is
	Was       string  `json:"was"`  // that in words
	Moves     []Move  `json:"moves"`
	Edits     []Edit  `json:"edits"`
	Work      int     `json:"work"`       // pieces that come off, go on or go back on, the core for three
	CostCents float64 `json:"cost_cents"` // of new parts a head, packs shared out
	Made              // what it becomes
	Trades    []Trade `json:"trades"`
	Others    []Pick  `json:"others"` // dearer or further off
}

// Move is one way that a head is changed.
type Move struct {
	Way string  `json:"way"` // softer, harder, lighter, smaller, cheaper or no latex, to name some
	By  float64 `json:"by"`  // notches, grams, millimetres or cents; 0 is a little
}

// Edit is one piece that comes off, goes on or is swapped.
type Edit struct {
	Do   string `json:"do"`   // add, remove or swap
	What string `json:"what"` // layer 1, layer 2, …, yarn, core
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
	Says string `json:"says"` // in words
}

// edit says an edit in words.
func (w Words) edit(e search.Edit) string {
	from, to := w.piece(e.From), w.piece(e.To)
	switch {
	case e.From == "":
		return fmt.Sprintf("add %s: %s", e.What, to)
	case e.To == "":
		return fmt.Sprintf("take off %s: %s", e.What, from)
	case e.What == "yarn" && w.plainly(yarnOf(e.From)) == w.plainly(yarnOf(e.To)):
		return fmt.Sprintf("wind the yarn anew: %s for %s", to, from)
	}
	return fmt.Sprintf("swap the %s: %s for %s", e.What, to, from)
}

// piece is a part of an edit in words; of yarn, with the turns.
func (w Words) piece(id string) string {
	if yarn, turns, ok := strings.Cut(id, "*"); ok {
		turns, _, _ = strings.Cut(turns, "@")
		return turns + " turns of " + w.plainly(yarn)
	}
	return w.Short(id)
}

func yarnOf(text string) string {
	id, _, _ := strings.Cut(text, "*")
	return id
}

// Trade is a figure in which two heads differ. The fact's name ends in its
// unit.
type Trade struct {
	Fact string  `json:"fact"`
	Unit string  `json:"unit,omitempty"`
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// NewChange gathers what is shown of a change.
func NewChange(w Writer, from head.Stack, aim change.Aim, c change.Change) (Change, error) {
	w = w.On(c.Head)
	was, err := w.Write(from)
	if err != nil {
		return Change{}, err
	}
	is, err := w.Write(c.Head.Stack)
	if err != nil {
		return Change{}, err
	}
	v := Change{Assumptions: w.Assuming(c.Head.Pass, from, c.Head.Stack), From: was.Stack, Was: was.Plain, Moves: []Move{}, Made: is, Edits: []Edit{}, Work: c.Work,
		CostCents: Round(c.CostCents, 1), Trades: newTrades(c.Trades), Others: []Pick{}}
	for _, m := range aim.Moves {
		v.Moves = append(v.Moves, Move{m.Way, m.By})
	}
	for _, e := range c.Edits {
		v.Edits = append(v.Edits, Edit{e.Do, e.What, e.From, e.To, w.Words().edit(e)})
	}
	for _, o := range c.Others {
		v.Others = append(v.Others, w.Words().NewPick(o))
	}
	return v, nil
}

func newTrades(list []propose.Trade) []Trade {
	out := []Trade{}
	for _, x := range list {
		out = append(out, Trade{x.Fact, x.Unit, Round(x.From, 3), Round(x.To, 3)})
	}
	return out
}

// Page is the change for people.
func (v Change) Page() page.Page {
	var ways, without []string
	for _, m := range v.Moves {
		switch m.Way {
		case change.NoLatex:
			without = append(without, " without latex")
		case change.Without:
			without = append(without, ", without what is to be left out")
		default:
			ways = append(ways, m.Way)
		}
	}
	title := v.Was + strings.Join(without, "")
	if len(ways) > 0 {
		title = Capital(change.List(ways)) + " than " + title
	}
	var edits []string
	for _, e := range v.Edits {
		edits = append(edits, Capital(e.Says))
	}
	p := append(v.Assumptions.Page(), page.Heading{Level: 1, Text: title})
	if len(edits) > 0 {
		p = append(p, page.List{Numbered: true, Items: edits})
	}
	p = append(p, page.Para(fmt.Sprintf("That makes %s: %s, %s, %.1f g, %s. New parts cost about %.2f a head at the catalogue's invented prices.",
		v.Plain, v.Head.Grade, Notches(v.Head.Softness), v.Head.MassG, both(v.Head.DiameterMM), v.CostCents/100)))
	if len(v.Trades) > 0 {
		p = append(p, tradeTable("What it moves", v.Trades))
	}
	if len(v.Others) > 0 {
		var ways []string
		for _, o := range v.Others {
			ways = append(ways, o.String())
		}
		p = append(p, page.Para("Other ways, dearer or further off:"), page.List{Items: ways})
	}
	return p
}

// Cannot is a change that can't be had.
type Cannot struct {
	From    string   `json:"from"`
	Was     string   `json:"was"` // that in words
	Aim     string   `json:"aim"` // in words
	Keeping []string `json:"in_the_way"`
	Kept    *Pick    `json:"nearest_that_keeps_to_all"`
	But     string   `json:"but,omitempty"` // of several moves, what that one is not
	Made    *Pick    `json:"nearest_that_is_so"`
}

// NewCannot gathers what is shown of a change that can't be had.
func NewCannot(w Words, from head.Stack, e *change.Cannot) Cannot {
	v := Cannot{From: from.String(), Was: w.Brief(from), Aim: e.Aim.String(), Keeping: append([]string{}, e.Keeping...), But: e.But()}
	pick := func(c *propose.Candidate) *Pick {
		if c == nil {
			return nil
		}
		p := w.NewPick(*c)
		return &p
	}
	v.Kept, v.Made = pick(e.Kept), pick(e.Made)
	return v
}

// Sentences say what can't be had, why, and what comes nearest.
func (v Cannot) Sentences() []string {
	list := []string{fmt.Sprintf("%s: within two changes it can't be made %s.", Capital(v.Was), v.Aim)}
	if len(v.Keeping) > 0 {
		list = append(list, "What stands in the way: "+strings.Join(v.Keeping, "; ")+".")
	}
	if v.Kept != nil {
		list = append(list, "Nearest that keeps to all that was asked"+v.But+": "+v.Kept.String()+".")
	}
	if v.Made != nil {
		list = append(list, Capital(v.Aim)+", without keeping to that: "+v.Made.String()+".")
	}
	if v.Kept == nil && v.Made == nil {
		list = append(list, "Nothing within two changes comes nearer.")
	}
	return list
}

// Page is what can't be had for people.
func (v Cannot) Page() (p page.Page) {
	for _, text := range v.Sentences() {
		p = append(p, page.Para(text))
	}
	return p
}

// tradeTable is what two heads differ in.
func tradeTable(title string, list []Trade) page.Table {
	t := page.Table{Title: title, Head: []string{"what", "before", "after", "unit"}, Right: []bool{false, true, true, false}}
	for _, x := range list {
		name := strings.ReplaceAll(strings.TrimPrefix(x.Fact, "head."), "_", " ")
		t.Rows = append(t.Rows, []string{name, fmt.Sprintf("%.2f", x.From), fmt.Sprintf("%.2f", x.To), x.Unit})
	}
	return t
}
