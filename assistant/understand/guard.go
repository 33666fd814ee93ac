package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// guard keeps words of many meanings from being taken for a wish.
type guard struct{ *walk }

// doubtful reports whether the answer that sense x of item i gives may be said of
// something else than the head, and is left or asked.
func (g guard) doubtful(i int, x *lexis.Sense) bool {
	if g.Ctx.Asked == x.Slot || g.Item(i).Has("weak") == nil {
		return false
	}
	if x.Slot == facts.WantRegister {
		return !g.ofRange(i)
	}
	return strings.HasPrefix(x.Slot, "want.") && g.ofPeople(i)
}

// ofRange reports whether the clause of item i speaks of notes, so that middle or
// top is a part of the keyboard.
func (g guard) ofRange(i int) bool {
	if g.Item(i).To-g.Item(i).From > 1 && !g.HasWord(i, i+1, "middle", "bottom", "top") {
		return true
	}
	for j := g.clause.From; j < g.clause.To; j++ {
		if g.Item(j).Note != nil {
			return false // low note is C3
		}
		if j != i && g.Item(j).Any("instrument.kind", "instrument.bars") {
			return true
		}
	}
	alone := g.short() && (!g.softnessSaid() || !g.HasWord(i, i+1, "middle"))
	return alone || g.HasWord(g.clause.From, g.clause.To, "note", "notes", "range", "register", "registers", "end", "octave", "octaves", "bars", "keys", "keyboard", "half", "play", "plays", "playing",
		"stuff", "part", "parts", "line", "lines", "melody", "only", "mostly", "mainly", "treble", "bass", "down", "up", "reach", "voice", "half", "hi", "for", "lows", "highs")
}

// short reports whether the clause is one or two words, or one said again.
func (g guard) short() bool {
	first := g.clause.From
	for j := first; j < g.clause.To; j++ {
		if g.word(j) != g.word(first) && g.clause.To-first > 2 {
			return false
		}
	}
	return true
}

// softnessSaid reports whether the line speaks of how soft or hard the head is.
func (g guard) softnessSaid() bool {
	return slices.ContainsFunc(g.Items, func(it cover.Item) bool { return it.Has(facts.WantSoftness) != nil }) || g.Ctx.Asked == facts.WantSoftness
}

// noteSaid reports whether the clause names a note.
func (g guard) noteSaid() bool {
	return slices.ContainsFunc(g.Items[g.clause.From:g.clause.To], func(it cover.Item) bool { return it.Note != nil })
}

// ofPeople reports whether the clause of item i describes somebody: they're great
// kids, bright as anything.
func (g guard) ofPeople(i int) bool {
	people := false
	for j := max(0, i-8); j <= i+2; j++ {
		if g.Item(j).From >= 0 && g.HasWord(j, j+1, "kids", "kid", "students", "student", "pupils", "pupil", "children", "child", "shes", "hes", "theyre", "boy", "girl", "workers", "worker", "daughter", "son", "teacher", "people", "lads", "bunch") {
			people = true
		}
	}
	return people && !g.HasWord(max(0, i-8), min(i+6, len(g.Items)), "sound", "sounds", "mallet", "mallets", "head", "heads", "tone", "want", "wants", "need", "needs", "like", "likes", "something", "make", "beaters", "it", "them", "pair", "for", "set", "should", "sticks", "notes")
}

// sour reports whether item i is a word that people use for what they don't want,
// said of a head that there is: I find it rather clangy.
func (g guard) sour(i int) bool {
	return g.Item(i).Has("sour") != nil && !g.neg && g.hold != reading.Avoid && !g.tooMuch &&
		!g.HasWord(g.clause.From, g.clause.To, "want", "wants", "wanted", "need", "needs", "like", "something", "make", "prefer", "please", "love", "looking", "after", "should", "hoping", "no", "or", "must", "for") &&
		g.HasWord(g.clause.From, g.clause.To, "find", "sounds", "sound", "sounding", "is", "its", "are", "theyre", "gone", "getting", "feels", "came", "too", "this", "these", "bit", "rather", "quite", "very", "still", "so")
}
