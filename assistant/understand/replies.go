package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/guard"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
)

// replier takes answers of a word or two.
type replier struct{ *walk }

// takeReply takes a word like no at the beginning of a clause that goes on: "no
// vibes" corrects, "no i have one" replies, "no drill" denies.
func (w replier) takeReply(i int) int {
	it := w.Item(i)
	x := it.Has("reply")
	if x == nil || w.content || i != w.clause.From || !w.clause.First {
		return 0
	}
	if w.Asked(it.Senses) && w.ClauseEnds(i+1) {
		return 0 // the word answers the question outright
	}
	next := w.Item(i + 1)
	if x.Value == "no" {
		switch {
		case next.Any("instrument.kind", "player.grip", "player.mallets"):
			f := next.Fact()
			if !w.Is(i, "no") { // nah two mallets
				w.Out.Corrects = true
				return 1
			}
			if f == nil || w.Ctx.Asked == f.Slot || !slices.ContainsFunc(w.Ctx.Before.Takes, func(t reading.Take) bool { return t.Path == f.Slot }) {
				return 0 // no bells
			}
			w.Out.Corrects = true
			return 1
		case next.Has("mend") != nil:
			return 1
		case next.Has("reply") != nil:
			return 1
		case !w.Filler(i+1) && !next.Any("holding", "not", "age") || next.Any("kind", "topic", "bench.drill", "bench.scale", "bench.caliper"):
			return 0
		case w.Filler(i+1) && (next.Has("count") != nil || w.Is(i+1, "other", "more", "one", "such", "need")):
			return 0
		}
	}
	if v, ok := w.r.reply(w.Ctx.Asked, x.Value == "yes"); ok && !harm.Settles(w.Ctx.Asked) {
		w.add(reading.Take{Path: w.Ctx.Asked, Value: v, Degree: 1, Text: w.Said(i, i+1), Sure: it.Sure()})
		w.content, w.replied = false, true
	}
	w.Act(reading.Act(x.Value))
	return 1
}

// takeAlone takes a reply that ends a clause which says nothing else: weight
// doesn't matter.
func (w replier) takeAlone(i int) int {
	x := w.Item(i).Has("alone")
	if x == nil || w.Size() > w.before || !w.ClauseEnds(i+1) || w.neg || w.Asked(w.Item(i).Senses) {
		return 0
	}
	switch a := reading.Act(x.Value); a {
	case reading.Default, reading.Unsure, reading.Skip:
		if a != reading.Default && w.topic == "" {
			return 0
		}
		w.Act(a)
		w.changed = true
		return 1
	}
	return 0
}

// takeAsked takes words that mean something only as an answer to the open
// question, or to one about a quality that is named beside them.
func (w replier) takeAsked(i int) int {
	it := w.Item(i)
	if x := w.Named(i); x != nil && !w.Answered(x.Path) {
		w.answer(i, i+1, x, x.Path)
		return 1
	}
	if w.Ctx.Asked == "" || w.Answered(w.Ctx.Asked) && !w.replied || it.Has(w.Ctx.Asked) != nil ||
		w.replied && strings.HasPrefix(w.Ctx.Asked, "bench.") { // no, the kitchen one went with the wife
		return 0
	}
	next := w.Item(i + 1)
	if it.Has("reply") != nil && !w.ClauseEnds(i+1) && (next.Harm || next.Any("harm", "kind", "material")) { // no allergies, no glue
		return 0
	}
	for _, x := range it.Senses {
		if x.Slot == "asked" && x.Value == w.Ctx.Asked && !guard.OfKeyboard(w.guard(), i) {
			w.answer(i, i+1, x, x.Path)
			return 1
		}
	}
	return 0
}
