package along

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/knowledge"
)

// Find returns the trouble that a line tells of, and whether it tells of little
// else.
func Find(cat *knowledge.Catalogue, line string) (found knowledge.Trouble, alone, ok bool) {
	plain, longest := answer.Plain(line), 0
	for _, t := range cat.Troubles {
		for _, ask := range t.Asks {
			if len(ask) > longest && (answer.Holds(plain, ask) || strings.HasPrefix(ask, "it ") && strings.HasSuffix(plain, " "+ask)) {
				found, longest = t, len(ask)
			}
		}
	}
	return found, len(plain) < 2*longest, longest > 0
}

// Doctor looks into a trouble, one check at a time. The zero value looks into
// none.
type Doctor struct {
	ID string // of the trouble
	At int    // the open check, from 0

	NoSlices, NoYarn bool // the head has none, so nothing is asked about them
}

// skip passes over checks of what the head has not.
func (d *Doctor) skip(t knowledge.Trouble) {
	for d.At < len(t.Checks) && (t.Checks[d.At].Of == knowledge.OfSlices && d.NoSlices || t.Checks[d.At].Of == knowledge.OfYarn && d.NoYarn) {
		d.At++
	}
}

// Question is the open check.
func (d Doctor) Question(cat *knowledge.Catalogue) string {
	for _, t := range cat.Troubles {
		if t.ID == d.ID && d.At < len(t.Checks) {
			return t.Checks[d.At].Do
		}
	}
	return ""
}

// Say takes the answer to the open check, and reports whether the matter is
// over and whether the line was an answer at all.
func (d *Doctor) Say(cat *knowledge.Catalogue, plain string, r *Reply) (over, ok bool) {
	i := slices.IndexFunc(cat.Troubles, func(t knowledge.Trouble) bool { return t.ID == d.ID })
	if i < 0 || d.At >= len(cat.Troubles[i].Checks) {
		return true, true
	}
	t := cat.Troubles[i]
	switch {
	case slices.Contains([]string{"yes", "y", "it does", "it is", "yes it does", "yes it is", "a bit", "yep", "yeah"}, plain):
		c := t.Checks[d.At]
		r.say("%s", c.Yes)
		for _, id := range c.Cautions {
			if x, ok := cat.Caution(id); ok {
				r.say("CAUTION. %s %s %s", x.Hazard, x.Do, x.Defer)
			}
		}
		return true, true
	case slices.Contains([]string{"", "no", "n", "next", "nope", "it does not", "it doesnt", "it is not", "not sure", "dont know", "i dont know"}, plain):
		d.At++
		if d.skip(t); d.At == len(t.Checks) {
			r.say("%s", t.Else)
			return true, true
		}
		return false, true
	case slices.Contains([]string{"back", "stop", "never mind", "cancel", "done"}, plain):
		r.say("All right.")
		return true, true
	}
	return false, false
}

// First is what is said before the first check.
func First(t knowledge.Trouble) string { return fmt.Sprintf("%s. %s", t.Title, t.First) }

// woe is a trouble that is being looked into.
type woe struct {
	Doctor
	from mode // to go back to
}

// trouble begins to look into what went wrong, where a line says so.
func (b *Build) trouble(plain string) (Reply, bool) {
	t, _, ok := Find(b.g.cat, plain)
	if !ok {
		return Reply{}, false
	}
	return b.Look(t.ID), true
}

// Look begins to look into a trouble of the catalogue.
func (b *Build) Look(id string) Reply {
	var r Reply
	t, _ := b.g.cat.Trouble(id)
	stack := b.Stack()
	d := Doctor{ID: id, NoSlices: len(stack.Slices) == 0, NoYarn: stack.Wrap == nil}
	if d.skip(t); d.At == len(t.Checks) {
		r.say("%s", t.Bare)
		return b.ask(r)
	}
	r.say("%s", First(t))
	b.woe = woe{d, b.mode}
	b.mode = checking
	return b.ask(r)
}

// check takes the answer to a check.
func (b *Build) check(plain string) (Reply, bool) {
	var r Reply
	over, ok := b.woe.Say(b.g.cat, plain, &r)
	if !ok {
		return Reply{}, false
	}
	if over {
		b.mode = b.woe.from
	}
	return b.ask(r), true
}
