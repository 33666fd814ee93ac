package rules

import (
	"slices"

	"mallow/rules/schema"
)

// Scorer puts many sets of facts to the rules on one thing that refuse or
// prefer. It is for one goroutine.
type Scorer[F any] struct {
	refuse []*entry
	prefer []*entry
	bound  *bound[F]
}

// Scorer returns a scorer for the rules on the thing named.
func (b *Book[F]) Scorer(on string, known Known) *Scorer[F] {
	s := &Scorer[F]{bound: bind[F](b.l.facts)}
	s.bound.known = knownOf(b.l.facts, known)
	for _, e := range b.rules {
		switch {
		case e.rule.On != on:
		case e.rule.Do == Refuse:
			s.refuse = append(s.refuse, e)
		case e.rule.Do == Prefer:
			s.prefer = append(s.prefer, e)
		}
	}
	return s
}

// Score returns the sum of the weights of the prefer rules that fire on f,
// or the first rule that refuses it. It allocates nothing.
func (s *Scorer[F]) Score(f *F) (score float64, refused *Rule) {
	s.bound.facts = *f
	for _, e := range s.refuse {
		if s.bound.holds(e) == yes {
			return 0, e.rule
		}
	}
	for _, e := range s.prefer {
		if s.bound.holds(e) == yes {
			score += e.rule.Weight
		}
	}
	return score, nil
}

// fold replaces what hangs on fixed facts alone by its value. What has none,
// being unknown or not finite, stays as it is.
func (c *cells) fold(n *node, fixed []bool) *node {
	if n.hangsOn(fixed) {
		switch v := c.value(n).(type) {
		case float64:
			return &node{op: opNumber, kind: schema.Number, num: v, src: n.src}
		case string:
			return &node{op: opText, kind: schema.Text, text: v, src: n.src}
		case bool:
			return &node{op: opTruth, kind: schema.Truth, truth: v, src: n.src}
		}
		return n
	}
	out := *n
	out.kids = make([]*node, len(n.kids))
	for i, k := range n.kids {
		out.kids[i] = c.fold(k, fixed)
	}
	switch n.op {
	case opAnd, opOr:
		for i, k := range out.kids {
			if k.op == opTruth && k.truth == (n.op == opOr) {
				return k // true or x, false and x
			}
			if k.op == opTruth {
				return out.kids[1-i] // false or x, true and x
			}
		}
	case opIf:
		if k := out.kids[0]; k.op == opTruth && k.truth {
			return out.kids[1]
		} else if k.op == opTruth {
			return out.kids[2]
		}
	}
	return &out
}

// hangsOn reports whether n reads no other facts than those.
func (n *node) hangsOn(facts []bool) bool {
	return (n.op != opFact || facts[n.fact]) && !slices.ContainsFunc(n.kids, func(k *node) bool { return !k.hangsOn(facts) })
}
