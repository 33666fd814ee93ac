package rules

import (
	"fmt"
	"slices"
	"strings"
)

// problem reports something at the rule's place.
func (e *entry) problem(line int, hint, format string, args ...any) Problem {
	return Problem{e.rule.File, line, 1, fmt.Sprintf(format, args...), hint}
}

// Examples runs every rule's examples and reports those that come out
// otherwise, or leave out a fact that the rule's texts need.
func (b *Book[F]) Examples() Problems {
	var out Problems
	for _, e := range b.rules {
		for _, x := range e.rule.Fires {
			c := b.sample(x)
			if v := c.holds(e); v != yes {
				out = append(out, e.problem(x.Line, b.why(c, e), "rule %s must fire on this example, and %s", e.rule.ID, saw(v)))
				continue
			}
			texts := e.reason.reads()
			if e.change != nil {
				texts = append(texts, e.change.reads()...)
			}
			if i := slices.IndexFunc(texts, func(i int) bool { return !c.known[i] }); i >= 0 {
				path := b.l.facts[texts[i]].Path
				out = append(out, e.problem(x.Line, "add "+path, "rule %s says {%s}, which this example leaves out", e.rule.ID, path))
				continue
			}
			if !e.reason.whole(&c.cells) || e.change != nil && !e.change.whole(&c.cells) {
				out = append(out, e.problem(x.Line, "", "a text of rule %s has no finite value on this example", e.rule.ID))
			}
		}
		for _, x := range e.rule.Quiet {
			c := b.sample(x)
			if v := c.holds(e); v != no {
				out = append(out, e.problem(x.Line, b.why(c, e), "rule %s must stay quiet on this example, and %s", e.rule.ID, saw(v)))
			}
		}
	}
	out.sort()
	return out
}

func saw(v verdict) string {
	switch v {
	case yes:
		return "fires"
	case no:
		return "stays quiet"
	case unknown:
		return "can't tell"
	}
	return "meets a number that is not finite"
}

// sample returns cells that hold an example.
func (b *Book[F]) sample(x Example) *bound[F] {
	c := bind[F](b.l.facts)
	c.cells.known = make([]bool, len(b.l.facts))
	for path, v := range x.Facts {
		i := b.l.byPath[path]
		c.cells.known[i] = true
		c.set(i, v)
	}
	return c
}

// why lists the values that decided a rule.
func (b *Book[F]) why(c *bound[F], e *entry) string {
	var list []string
	for _, r := range b.l.readings(&c.cells, e.when, nil) {
		list = append(list, r.String())
	}
	return strings.Join(list, ", ")
}
