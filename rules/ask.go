package rules

import (
	"slices"
)

// Ask puts the facts to every rule on the thing named and returns each
// rule's answer, in the order of the book.
func (b *Book[F]) Ask(on string, f F, known Known) []Firing {
	return b.AskOf(func(r *Rule) bool { return r.On == on }, f, known)
}

// AskOf is Ask of those rules alone that of holds for.
func (b *Book[F]) AskOf(of func(*Rule) bool, f F, known Known) []Firing {
	c := b.borrow(f, known)
	defer b.pool.Put(c)
	list := make([]Firing, 0, len(b.rules))
	for _, e := range b.rules {
		if of(e.rule) {
			list = append(list, b.answer(&c.cells, e))
		}
	}
	return list
}

func (b *Book[F]) answer(c *cells, e *entry) Firing {
	f := Firing{Rule: e.rule, State: Quiet, Values: b.readings(c, e)}
	switch c.holds(e) {
	case yes:
		f.State = Fired
		f.Reason = e.reason.fill(c)
		if e.change != nil {
			f.Change = e.change.fill(c)
		}
	case unknown, broken:
		f.State = CannotTell
	}
	return f
}

// Weights returns the numbers of the search, its weights above all, that the
// choose rules set for f. Where several set the same one, the largest holds.
func (b *Book[F]) Weights(f F, known Known) map[string]float64 {
	c := b.borrow(f, known)
	defer b.pool.Put(c)
	out := map[string]float64{}
	for _, e := range b.rules {
		if e.rule.Do == Choose && c.holds(e) == yes {
			if old, twice := out[e.rule.Give]; !twice || e.rule.Weight > old {
				out[e.rule.Give] = e.rule.Weight
			}
		}
	}
	return out
}

// Open returns, for each fact that is not known, the rules on the thing
// named that can't tell yet for want of it, in the order of the book.
func (b *Book[F]) Open(on string, f F, known Known) map[string][]*Rule {
	c := b.borrow(f, known)
	defer b.pool.Put(c)
	out := map[string][]*Rule{}
	for _, e := range b.rules {
		if e.rule.On != on || c.holds(e) != unknown {
			continue
		}
		for _, i := range e.when.reads(nil) {
			if !c.known[i] {
				path := b.l.facts[i].Path
				out[path] = append(out[path], e.rule)
			}
		}
	}
	return out
}

// look is a part of an expression whose value a trace shows.
type look struct {
	node *node
	text string
	unit string
}

// looks adds the facts, comparisons and sums of n to list, the parts before
// the whole, each once. How and, or and not join them can be read off the
// rule.
func (l *language) looks(n *node, list []look) []look {
	kids := n.kids
	unequal := n.not // != is a not over an ==
	if unequal {
		kids = kids[0].kids
	}
	for _, k := range kids {
		list = l.looks(k, list)
	}
	at := look{node: n, text: n.src}
	switch n.op {
	case opNumber, opText, opTruth, opAnd, opOr:
		return list
	case opNot:
		if !unequal {
			return list
		}
	case opFact:
		at.text, at.unit = l.facts[n.fact].Path, l.facts[n.fact].Unit
	}
	if slices.ContainsFunc(list, func(seen look) bool { return seen.text == at.text }) {
		return list
	}
	return append(list, at)
}
