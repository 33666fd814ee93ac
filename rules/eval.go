package rules

import (
	"slices"
	"strconv"

	"mallow/rules/schema"
)

// verdict is the truth of an expression as far as it can be told.
type verdict uint8

const (
	no      verdict = iota
	yes             // of a number or a text: it has a value
	unknown         // it hangs on a fact that is not known
	broken          // it hangs on a number that is not finite, such as 1/0
)

func decided(b bool) verdict {
	if b {
		return yes
	}
	return no
}

func (v verdict) not() verdict {
	switch v {
	case yes:
		return no
	case no:
		return yes
	}
	return v
}

// isTrue evaluates a truth. An "and" with a side known to be false is false
// even when the other is unknown, and likewise "or".
func (c *cells) isTrue(n *node) verdict {
	switch n.op {
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return unknown
		}
		return decided(*c.truth[n.fact])
	case opTruth:
		return decided(n.truth)
	case opNot:
		return c.isTrue(n.kids[0]).not()
	case opAnd:
		a := c.isTrue(n.kids[0])
		if a == no {
			return no
		}
		if b := c.isTrue(n.kids[1]); b == no || a == yes {
			return b
		}
		return a
	case opOr:
		a := c.isTrue(n.kids[0])
		if a == yes {
			return yes
		}
		if b := c.isTrue(n.kids[1]); b == yes || a == no {
			return b
		}
		return a
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.isTrue(n.kids[1])
		case no:
			return c.isTrue(n.kids[2])
		default:
			return a
		}
	case opEqTruth:
		a, b := c.isTrue(n.kids[0]), c.isTrue(n.kids[1])
		if a > yes || b > yes {
			return max(a, b)
		}
		return decided(a == b)
	case opEqText:
		a, va := c.textOf(n.kids[0])
		b, vb := c.textOf(n.kids[1])
		if va != yes || vb != yes {
			return max(va, vb)
		}
		return decided(a == b)
	case opInText:
		a, va := c.textOf(n.kids[0])
		if va != yes {
			return va
		}
		return decided(slices.Contains(n.texts, a))
	case opInNum:
		a, va := c.numberOf(n.kids[0])
		if va != yes {
			return va
		}
		return decided(slices.Contains(n.nums, a))
	}
	a, va := c.numberOf(n.kids[0])
	b, vb := c.numberOf(n.kids[1])
	if va != yes || vb != yes {
		return max(va, vb)
	}
	if n.op == opCompare {
		return decided(n.by.is(a, b))
	}
	return decided(a == b)
}

// textOf evaluates a text; the verdict is yes, unknown or broken.
func (c *cells) textOf(n *node) (string, verdict) {
	switch n.op {
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return "", unknown
		}
		return *c.text[n.fact], yes
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.textOf(n.kids[1])
		case no:
			return c.textOf(n.kids[2])
		default:
			return "", a
		}
	case opString:
		x, v := c.numberOf(n.kids[0])
		if v != yes {
			return "", v
		}
		return strconv.FormatFloat(x, 'g', -1, 64), yes
	case opJoin:
		a, va := c.textOf(n.kids[0])
		b, vb := c.textOf(n.kids[1])
		if va != yes || vb != yes {
			return "", max(va, vb)
		}
		return a + b, yes
	}
	return n.text, yes
}

// numberOf evaluates a number; the verdict is yes, unknown or broken.
func (c *cells) numberOf(n *node) (float64, verdict) {
	var x float64
	switch n.op {
	case opNumber:
		return n.num, yes
	case opFact:
		if c.known != nil && !c.known[n.fact] {
			return 0, unknown
		}
		x = *c.num[n.fact]
	case opIf:
		switch a := c.isTrue(n.kids[0]); a {
		case yes:
			return c.numberOf(n.kids[1])
		case no:
			return c.numberOf(n.kids[2])
		default:
			return 0, a
		}
	default:
		a, v := c.numberOf(n.kids[0])
		if v != yes {
			return 0, v
		}
		x = a
		if n.by.one != nil {
			x = n.by.one(a)
			break
		}
		for _, k := range n.kids[1:] {
			b, v := c.numberOf(k)
			if v != yes {
				return 0, v
			}
			x = n.by.two(x, b)
		}
	}
	if x-x != 0 { // NaN or infinite
		return 0, broken
	}
	return x, yes
}

// value evaluates n to a float64, string or bool, or nil when it has none.
func (c *cells) value(n *node) any {
	switch n.kind {
	case schema.Number:
		if x, v := c.numberOf(n); v == yes {
			return x
		}
	case schema.Text:
		if s, v := c.textOf(n); v == yes {
			return s
		}
	default:
		if v := c.isTrue(n); v <= yes {
			return v == yes
		}
	}
	return nil
}
