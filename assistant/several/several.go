// Package several knows that more than one head was asked for: which wishes
// belong to which, and what each is called. It never looks for a head, and
// settles nothing.
package several

import (
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// Head is a head that is wanted after the one at hand.
type Head struct {
	Takes []reading.Take
	Name  string         // a hard head for xylophone
	Kind  string         // of instrument; empty where none is said
	State *settled.State // how far it has come, where it was begun; else nil
}

// Apart cuts what was said of several heads into what is said of the first and
// the heads that come after it. Who they are for is said of all; so is what is
// said only once.
func Apart(st *settled.State, in reading.Reading) (first reading.Reading, later []Head) {
	many := 0
	for _, t := range in.Takes {
		many = max(many, t.Head)
	}
	if many == 0 {
		return in, nil
	}
	heads := make([][]reading.Take, many+1)
	for _, t := range in.Takes {
		same := func(o reading.Take) bool { return o.Path == t.Path && o.Head != t.Head }
		if ofHead(t.Path) && slices.ContainsFunc(in.Takes, same) {
			heads[t.Head] = append(heads[t.Head], t)
			continue
		}
		for i := range heads {
			if i == 0 || ofHead(t.Path) {
				heads[i] = append(heads[i], t)
			}
		}
	}
	for i := range heads {
		for j := range heads[i] {
			heads[i][j].Head = 0
		}
	}
	first = in
	first.Takes = heads[0]
	for i, takes := range heads[1:] {
		switch {
		case slices.ContainsFunc(heads[:i+1], func(o []reading.Take) bool { return slices.EqualFunc(o, takes, alike) }):
		case !slices.ContainsFunc(takes, shapes):
			first.Takes = append(first.Takes, takes...) // 30 tops, 4 a pair
		default:
			later = append(later, New(st, takes))
		}
	}
	if len(later) > 0 { // how many there are is seen by what is said back
		first.Asks = slices.DeleteFunc(slices.Clone(in.Asks), func(d reading.Doubt) bool { return d.Path == "want.pairs" })
	}
	return first, later
}

// alike reports whether two answers say the same of one fact.
func alike(a, b reading.Take) bool {
	return a.Path == b.Path && a.Value == b.Value && a.Not == b.Not && a.Bound == b.Bound
}

// shapes reports whether an answer tells one head from another: what it is for, or
// how it shall be, and not what it may cost.
func shapes(t reading.Take) bool {
	return ofHead(t.Path) && t.Path != facts.WantBudgetCents
}

// New returns a head of which some is said, named for what would then be
// settled.
func New(st *settled.State, takes []reading.Take) Head {
	at := After(st, takes)
	h := Head{Takes: takes, Name: Name(&at)}
	if at.Known["instrument.kind"] {
		h.Kind = at.Facts.Instrument.Kind
	}
	return h
}

// After is what is settled when a head is begun after another: who makes and
// plays it, what there is and what was said of all stays; the wishes are new.
func After(st *settled.State, takes []reading.Take) settled.State {
	at := st.Another()
	for _, t := range takes {
		at.Answer(t) // what can't be is asked when its turn comes
	}
	at.Settle()
	return at
}

// Name is a head by what was said of it: a soft head for marimba, the low end.
func Name(st *settled.State) string {
	said := func(path string) string { words, _ := st.Said(path); return words }
	name := "a head"
	if soft := said("want.softness"); soft != "" && !strings.ContainsAny(soft, "0123456789") {
		name = "a " + soft + " head"
	}
	if on := said("instrument.kind"); on != "" {
		name += " for " + on
	}
	for _, path := range []string{"want.register", "want.colour"} {
		if words := said(path); words != "" && (path != "want.register" || st.Facts.Want.Register != "whole") {
			if _, is, ok := strings.Cut(words, ": "); ok { // dark or bright: dark
				words = is
			}
			name += ", " + words
			break
		}
	}
	return name
}

// ofHead reports whether a fact is of one head and not of who makes them.
func ofHead(path string) bool {
	switch path {
	case "want.pairs", "want.total_budget":
		return false
	}
	return strings.HasPrefix(path, "want.") || strings.HasPrefix(path, "instrument.")
}

// more are the words with which a further head is asked for.
var more = []string{"another one", "another pair", "another set", "another head", "another mallet", "one more pair", "one more set", "one more head", "a second pair", "a second one", "second pair", "also one", "also a pair", "also something", "and one for", "and a pair", "and something for", "additionally", "as well as"}

// Further reports whether a line asks for one more head beside the one at
// hand: another one for marimba too. It has to name what it is for, or how it
// shall be.
func Further(st *settled.State, in reading.Reading, line string) bool {
	plain := " " + answer.Plain(line) + " "
	asks := slices.ContainsFunc(more, func(w string) bool { return strings.Contains(plain, " "+w+" ") })
	other := false
	for _, t := range in.Takes {
		if !ofHead(t.Path) || t.Not {
			continue
		}
		if t.Path == "instrument.kind" || t.Path == "instrument.id" {
			other = other || Kind(st.Catalogue, t) != st.Facts.Instrument.Kind
			asks = asks || strings.Contains(plain, " too ") || strings.HasSuffix(plain, " as well ") || strings.HasPrefix(plain, " also ") || strings.HasPrefix(plain, " and also ")
		}
	}
	return asks && (other || len(in.Takes) > 0) && st.Known["instrument.kind"]
}

// Kind is the kind of instrument that an answer names.
func Kind(cat *knowledge.Catalogue, t reading.Take) string {
	v, _ := t.Value.(string)
	if inst, ok := cat.Instrument(v); ok && t.Path == "instrument.id" {
		return inst.Kind
	}
	return v
}

// KindIn is the kind of instrument that answers name last; empty for none.
func KindIn(cat *knowledge.Catalogue, takes []reading.Take) string {
	kind := ""
	for _, t := range takes {
		if t.Path == "instrument.kind" || t.Path == "instrument.id" {
			kind = Kind(cat, t)
		}
	}
	return kind
}

// Pick is the place in a list of the head for a kind of instrument.
func Pick(list []Head, kind string) (int, bool) {
	i := slices.IndexFunc(list, func(h Head) bool { return h.Kind == kind })
	return i, i >= 0
}

// Add puts a head behind the others, or what is said of it to the one for the
// same instrument, where there is one.
func Add(st *settled.State, list []Head, h Head) []Head {
	list = slices.Clone(list)
	i, ok := Pick(list, h.Kind)
	if !ok || h.Kind == "" || list[i].State != nil {
		return append(list, h)
	}
	var takes []reading.Take
	for _, t := range list[i].Takes {
		if !slices.ContainsFunc(h.Takes, func(o reading.Take) bool { return o.Path == t.Path }) {
			takes = append(takes, t)
		}
	}
	list[i] = New(st, append(takes, h.Takes...))
	return list
}

// Names are the names of heads, in order.
func Names(list []Head) string {
	var names []string
	for _, h := range list {
		names = append(names, h.Name)
	}
	return strings.Join(names, ", then ")
}
