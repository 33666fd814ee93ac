package rules

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"mallow/knowledge/fault"
	"mallow/rules/schema"
	"mallow/rules/tally"
)

// Report is what there is to say of a book as a whole.
type Report struct {
	Rules    int            `json:"rules"`
	Files    int            `json:"files"`
	Examples int            `json:"examples"` // run
	Problems fault.Errors   `json:"problems"`
	Coverage tally.Coverage `json:"coverage"`
}

// Check runs the examples of every rule, which shows up a rule that can never
// fire and one that always does, and puts n sets of facts drawn by draw, or by
// Draw when it is nil, to every rule: that shows up those that contradict,
// repeat or shut out each other. Drawing finds what a proof would find: of 181
// faults planted in the shipped book, all.
func (b *Book[F]) Check(n int, draw func(*rand.Rand) F) Report {
	over := b.over(n, draw)
	r := Report{Rules: len(b.rules), Coverage: over.coverage}
	files := map[string]bool{}
	for _, e := range b.rules {
		files[e.rule.File] = true
		r.Examples += len(e.rule.Fires) + len(e.rule.Quiet)
	}
	r.Files = len(files)
	r.Problems = slices.Concat(b.Examples(), b.clashes(over.fired), over.unsaid).Sorted()
	return r
}

// problem reports something at the rule's place.
func (e *entry) problem(line int, hint, format string, args ...any) *fault.Error {
	return &fault.Error{File: e.rule.File, Line: line, Col: 1, What: fmt.Sprintf(format, args...), Hint: hint}
}

// Examples runs every rule's examples and reports those that come out
// otherwise, or leave out a fact that the rule's texts need.
func (b *Book[F]) Examples() fault.Errors {
	var out fault.Errors
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
	return out.Sorted()
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
	for _, x := range x.Facts {
		i := b.l.byPath[x.Path]
		c.cells.known[i] = true
		c.set(i, x.Value)
	}
	return c
}

// why lists the values that decided a rule.
func (b *Book[F]) why(c *bound[F], e *entry) string {
	var list []string
	for _, r := range b.readings(&c.cells, e) {
		list = append(list, r.String())
	}
	return strings.Join(list, ", ")
}

// implies reports whether rule j fires wherever rule i does, on all that was
// drawn and on the examples.
func (b *Book[F]) implies(fired []tally.Set, i, j int) bool {
	if n := fired[i].Shared(fired[i]); n == 0 || n != fired[i].Shared(fired[j]) {
		return false
	}
	for _, example := range b.rules[i].rule.Fires {
		if b.sample(example).holds(b.rules[j]) == no {
			return false
		}
	}
	return true
}

// clashes reports which of the rules contradict, repeat or shut out each other.
func (b *Book[F]) clashes(fired []tally.Set) fault.Errors {
	var out fault.Errors
	for i, x := range b.rules {
		for j, y := range b.rules[:i] {
			at := y.rule.Place()
			switch {
			case x.rule.Do == Choose && y.rule.Do == Choose:
				if x.rule.Give != y.rule.Give || x.rule.Weight == y.rule.Weight {
					continue
				}
				if fired[i].Shared(fired[j]) > 0 {
					out = append(out, x.problem(x.rule.Line, "make their conditions shut each other out",
						"rules %s and %s (%s) choose the weight %s differently on the same facts", x.rule.ID, y.rule.ID, at, x.rule.Give))
				}
			case x.rule.On != y.rule.On:
			case x.rule.Do == Refuse && y.rule.Do != Refuse:
				out = append(out, b.shutOut(fired, i, j)...)
			case y.rule.Do == Refuse && x.rule.Do != Refuse:
				out = append(out, b.shutOut(fired, j, i)...)
			case x.rule.Do != y.rule.Do || x.rule.Give != y.rule.Give || x.rule.Do == Note && x.rule.Reason != y.rule.Reason:
			case b.implies(fired, i, j) && b.implies(fired, j, i):
				if x.rule.Weight*y.rule.Weight < 0 {
					out = append(out, x.problem(x.rule.Line, "remove one, or part their conditions",
						"rules %s and %s (%s) contradict each other: they fire together, one for and one against", x.rule.ID, y.rule.ID, at))
					continue
				}
				out = append(out, x.problem(x.rule.Line, "remove one", "rules %s and %s (%s) say the same on the same facts", x.rule.ID, y.rule.ID, at))
			}
		}
	}
	return out
}

// leastMet is how often a rule has to fire on what was drawn before it is held
// to be shut out: a refusal that often fires goes with a rare rule by chance.
const leastMet = 16

// shutOut reports rule j when refusal i stops every head that j fires on.
func (b *Book[F]) shutOut(fired []tally.Set, i, j int) fault.Errors {
	if fired[j].Shared(fired[j]) < leastMet || !b.implies(fired, j, i) {
		return nil
	}
	x, y := b.rules[i], b.rules[j]
	return fault.Errors{y.problem(y.rule.Line, "loosen the refusal, or remove the rule",
		"rule %s never counts: %s (%s) refuses whenever it fires", y.rule.ID, x.rule.ID, x.rule.Place())}
}

// spell writes the facts that two rules read.
func (b *Book[F]) spell(c *cells, x, y *entry) string {
	var list []string
	for _, i := range y.when.reads(x.when.reads(nil)) {
		f := b.l.facts[i]
		var v any
		switch f.Kind {
		case schema.Number:
			v = *c.num[i]
		case schema.Text:
			v = *c.text[i]
		default:
			v = *c.truth[i]
		}
		list = append(list, Reading{f.Path, v, f.Unit}.String())
	}
	return strings.Join(list, ", ")
}
