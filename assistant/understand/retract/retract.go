// Package retract finds what a clause takes back of what was said before: forget the
// budget; the floor can go too; strike the last one. It names facts and kinds of part,
// and changes nothing.
package retract

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/revise"
	"mallow/rules/facts"
)

// Clause is a clause of a text, From..To, and what the same person said before it.
type Clause struct {
	*cover.Chart
	From, To int
	Before   reading.Reading
}

// At returns what is taken back by the words from item i on, and where they end;
// nothing when they take nothing back.
func (c Clause) At(i int) (paths []string, end int) {
	x := c.Item(i).Has("withdraw")
	switch {
	case x != nil && x.Value == "known":
		return c.known(c.objects(i+1, false)), c.To
	case x != nil && x.Value != "after":
		if paths = c.objects(i+1, x.Value == "bare"); len(paths) == 0 && c.ClauseEnds(i+1) { // the thing about the register, delete
			paths = c.sentenceTo(i)
		}
		if len(paths) == 0 && len(c.Before.Takes) == 1 && len(c.Before.Parts) == 0 && x.Value == "true" { // drop the bit about shouting over the band
			paths = c.last(func(reading.Take) bool { return true })
		}
		return paths, c.To
	case x != nil && c.ClauseEnds(i+1) && !c.names(c.From) && i-c.From < 3: // …, so scrap it
		return c.known(c.sentenceTo(i)), c.To
	case c.needless(i): // it needn't be under 30 g any more
		return c.known(c.objects(i+1, false)), c.To
	case i == c.From && c.allows():
		return c.kept(c.objects(i+1, false)), c.To
	case i == c.From && c.limitsOff(): // both limits off please
		return c.bounded(c.HasWord(c.From, c.To, "both", "all", "limits", "bounds", "caps")), c.To
	case c.splits(i):
		return c.objects(i+1, false), c.To
	case i == c.From:
		for j := i + 1; j < c.To; j++ {
			if y := c.Item(j).Has("withdraw"); y != nil && y.Value == "after" && c.over(j+1) {
				return c.known(Clause{c.Chart, i, j, c.Before}.objects(i, false)), c.To
			}
		}
	}
	return nil, i
}

// needless reports whether item i says that what follows need no longer be so.
func (c Clause) needless(i int) bool {
	denied := c.Says(i, "neednt") || c.HasWord(i, i+2, "dont", "doesnt", "no") && c.HasWord(i, i+2, "need", "have") && c.HasWord(i, i+4, "to")
	return denied && (c.HasWord(i, c.To, "anymore", "any", "now", "longer") || c.HasWord(i, c.To, "after") && c.HasWord(i, c.To, "all")) && len(c.known(c.objects(i+1, false))) > 0
}

// allows reports whether the clause says that what was to stay may change after all:
// you can touch the core after all; the yarn may change now.
func (c Clause) allows() bool {
	if len(c.Before.Keeps) == 0 || !c.HasWord(c.From, c.To, "can", "may", "could", "ok", "okay", "fine", "free", "allowed") || c.HasWord(c.From, c.To, "not", "cant", "dont", "only") {
		return false
	}
	return c.HasWord(c.From, c.To, "touch", "change", "swap", "alter", "replace", "go", "vary", "move") && (c.HasWord(c.From, c.To, "now") || c.HasWord(c.From, c.To, "after") && c.HasWord(c.From, c.To, "all"))
}

// kept returns those of facts and kinds of part that were to stay.
func (c Clause) kept(paths []string) (out []string) {
	for _, path := range paths {
		if slices.Contains(c.Before.Keeps, path) {
			out = append(out, path)
		}
	}
	return out
}

// limitsOff reports whether the clause takes a limit off and says nothing else.
func (c Clause) limitsOff() bool {
	limit, off := false, false
	for j := c.From; j < c.To; j++ {
		switch {
		case c.Item(j).Qty != nil || c.OfPart(j):
			return false
		case c.Says(j, "limit", "limits", "bounds", "ceiling", "cap", "caps", "floor"):
			limit = true
		case limit && c.Says(j, "off", "gone", "away", "lifted", "out"):
			off = true
		}
	}
	return limit && off
}

// bounded returns the facts that a limit was put on before, or the last of them.
func (c Clause) bounded(all bool) (paths []string) {
	for _, t := range slices.Backward(c.Before.Takes) {
		if (t.Bound == "most" || t.Bound == "least") && !slices.Contains(paths, t.Path) && (all || len(paths) == 0) {
			paths = append(paths, t.Path)
		}
	}
	return paths
}

// sentenceTo returns what the sentence of item i names before it.
func (c Clause) sentenceTo(i int) []string {
	from, _ := c.Sentence(i, i)
	return Clause{c.Chart, from, i, c.Before}.objects(from, false)
}

// over reports whether the clause says nothing more from item i on.
func (c Clause) over(i int) bool {
	for c.Item(i).Has("mend") != nil && i < c.To { // doesn't matter after all
		i++
	}
	return c.ClauseEnds(i)
}

// splits reports whether a verb at item i and the last word of the clause say together
// that something is taken back: I take the ceiling back; strike the hardness off; but
// not take 5 g off.
func (c Clause) splits(i int) bool {
	if !c.Starts(i, "take", "taking", "strike", "cross", "leave", "scratch", "knock", "wipe", "call", "leaving") || c.Item(i).Has("act") != nil {
		return false
	}
	for j := c.To - 1; j > i+1; j-- {
		if (slices.Contains([]string{"back", "off", "out"}, c.Chart.At(c.Item(j).To-1).Text) || c.Starts(i, "leave", "leaving") && c.Is(j, "open", "undecided", "blank", "empty", "unset", "unsaid")) && !c.Figured(i, c.To) {
			return true
		}
		if !c.Filler(j) && !c.Is(j, "again", "please", "now", "list", "the") {
			break
		}
	}
	return false
}

// objects returns what the items from i on name that may be taken back. Of a bare word
// such as drop, only what follows at once may be.
func (c Clause) objects(i int, bare bool) (paths []string) {
	for j := i; j < c.To; j++ {
		n := c.Item(j)
		if n.Has("join") != nil && n.Has("join").Value == "but" || bare && n.Qty != nil && n.Qty.Form != "pair" && !c.Starts(j-1, "the") {
			break
		}
		for _, path := range c.named(j) {
			if !slices.Contains(paths, path) {
				paths = append(paths, path)
			}
			n.Used = true
		}
		if bare && len(paths) == 0 && !c.Filler(j) && n.Has("topic") == nil {
			break
		}
	}
	return paths
}

// named returns the facts or the kind of part that item j names, or what was said
// before that it points at: forget the 30, the ceiling, the last one.
func (c Clause) named(j int) (paths []string) {
	n := c.Item(j)
	switch {
	case c.Is(j, "total") || c.Says(j, "total") && n.Has("share") != nil:
		return c.said([]string{"want.total_budget"})
	case c.Says(j, "pairs"):
		return c.said([]string{"want.pairs"})
	case c.Says(j, "last", "latest") && c.HasWord(j, min(j+3, c.To), "one", "thing", "bit", "answer", "wish", "part", "item", "limit", "figure", "number", "condition", "request"), c.ClauseEnds(j+1) && c.Says(j, "last"):
		return c.last(func(reading.Take) bool { return true })
	case n.Any("edge", "bound") && c.Says(j, "ceiling", "cap", "lid", "roof", "max", "maximum", "upper", "most"):
		return c.last(func(t reading.Take) bool { return t.Bound == "most" })
	case n.Any("edge", "bound") && c.Says(j, "floor", "minimum", "min", "lower", "least"):
		return c.last(func(t reading.Take) bool { return t.Bound == "least" })
	case n.Has("topic") != nil:
		for _, t := range n.Has("topic").Topic {
			if t.Kind == "fact" {
				paths = append(paths, t.ID)
			}
		}
		if len(paths) > 1 {
			if said := c.said(paths); len(said) > 0 {
				return said
			}
		}
		return c.total(paths)
	case n.Fact() != nil:
		return []string{n.Fact().Slot}
	case n.Has("kind") != nil:
		return []string{n.Has("kind").Value}
	case n.Has("material") != nil && !c.Item(j+1).Any("kind"):
		return c.known([]string{n.Has("material").Material().Kind})
	case n.Has("role") != nil && c.Says(j, "wide", "width", "diameter", "across"):
		return c.said([]string{facts.WantDiameterMM})
	case n.Has("unit") != nil: // forget the inch
		return c.said([]string{map[string]string{"in": facts.WantDiameterMM, "mm": facts.WantDiameterMM, "cm": facts.WantDiameterMM, "g": facts.WantMassG, "oz": facts.WantMassG}[n.Has("unit").Value]})
	case n.Any("edge", "bound") && c.Says(j, "limit") && !c.names(j+1):
		return c.last(func(t reading.Take) bool { return t.Bound == "most" || t.Bound == "least" })
	case n.Qty == nil:
		return nil
	case n.Qty.Dim == quantity.Money:
		return c.total([]string{facts.WantBudgetCents})
	case n.Qty.Dim == quantity.Mass:
		return []string{facts.WantMassG}
	}
	if r, ok := revise.Find(c.Before, revise.Figure{New: *n.Qty, Old: n.Qty}); ok && r.Take != nil {
		return []string{r.Take.Path}
	}
	return nil
}

// names reports whether something else that can be taken back is named in the clause
// from item i on: the limit on the width.
func (c Clause) names(i int) bool {
	for ; i < c.To; i++ {
		if c.Item(i).Any("topic", "role", "kind") || c.Item(i).Qty != nil {
			return true
		}
	}
	return false
}

// total puts the sum for all in place of that for a pair, where only that was said.
func (c Clause) total(paths []string) []string {
	if slices.Equal(paths, []string{facts.WantBudgetCents}) && len(c.said(paths)) == 0 {
		if said := c.said([]string{"want.total_budget"}); len(said) > 0 {
			return said
		}
	}
	return paths
}

// known returns those of facts and kinds of part that were spoken of before.
func (c Clause) known(paths []string) []string {
	out := c.said(paths)
	for _, kind := range paths {
		if slices.ContainsFunc(c.Before.Parts, func(p reading.Part) bool { return p.Kind == kind }) {
			out = append(out, kind)
		}
	}
	return out
}

// said returns those of paths that were answered before.
func (c Clause) said(paths []string) (out []string) {
	for _, path := range paths {
		if slices.ContainsFunc(c.Before.Takes, func(t reading.Take) bool { return t.Path == path }) {
			out = append(out, path)
		}
	}
	return out
}

// last returns the last fact answered before that is of a kind, or the kind of the
// last part; no fact of harm.
func (c Clause) last(is func(reading.Take) bool) []string {
	for _, t := range slices.Backward(c.Before.Takes) {
		if is(t) && !harm.Settles(t.Path) {
			return []string{t.Path}
		}
	}
	return nil
}
