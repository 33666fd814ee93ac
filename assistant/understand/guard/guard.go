// Package guard keeps words of many meanings from being taken for a wish: middle,
// bright, clangy. It knows whom and what a clause speaks of, and takes nothing.
package guard

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/rules/facts"
)

// Guard watches one clause, in which Asked was asked.
type Guard struct {
	figure.Place
	Asked string
}

// Doubtful reports whether the answer that sense x of item i gives may be said of
// something else than the head, and is left or asked.
func (g Guard) Doubtful(i int, x *lexis.Sense) bool {
	if g.Asked == x.Slot || g.Item(i).Has("weak") == nil {
		return false
	}
	if x.Slot == facts.WantRegister {
		return !g.ofRange(i)
	}
	return strings.HasPrefix(x.Slot, "want.") && g.ofPeople(i)
}

// NoRegister reports whether the part of the keyboard that item i names is none that
// somebody plays: the end at which a note lies, the middle of a head, every note that
// is to be clear.
func (g Guard) NoRegister(i int, x *lexis.Sense) bool {
	if x.Slot != facts.WantRegister || g.Asked == x.Slot {
		return false
	}
	switch {
	case g.HasWord(max(g.From, i-4), i, "bother", "worry", "fuss", "fret") || g.HasWord(max(g.From, i-3), i, "just", "only") && g.HasWord(max(g.From, i-3), i, "not"): // don't bother about the top; not just the top
		return true
	case g.endNote(i), g.HasWord(g.From, i, "too") && !g.HasWord(g.From, g.To, "want", "need", "for", "play", "playing", "only", "mostly"): // those are too clacky up top
		return true
	case g.Says(i, "middle", "middles", "centre", "center"):
		return slices.ContainsFunc(g.Items, func(it cover.Item) bool {
			k := it.Has("kind")
			return k != nil && (k.Value == "core" || k.Value == "tube")
		}) && !g.HasWord(0, len(g.Items), "note", "notes", "range", "register", "keyboard", "octave", "octaves", "play", "plays", "playing", "part", "bars")
	case g.Says(i, "note", "notes") && g.Says(i, "every", "each"):
		return g.HasWord(g.From, g.To, "speak", "speaks", "heard", "hear", "clear", "clearly", "crisp", "marked", "articulated", "articulate", "separate", "distinct", "pop", "start", "count", "counts", "clean", "defined", "ring", "must", "has", "own", "apart", "separately", "itself")
	}
	return false
}

// OfMallets reports whether the word at item i stands straight before a word for mallets, and
// so says how they are to be, whatever else the line says: hard ones for my son.
func OfMallets(g Guard, i int) bool {
	return g.Is(i+1, "ones", "mallets", "mallet", "beaters", "heads") && g.Starts(i+2, "for", "please", "on", "to", "", "and", "with")
}

// OfKeyboard reports whether the word at item i, which may answer a question about the
// sound, says where on the keyboard it is played: the middle, mostly.
func OfKeyboard(g Guard, i int) bool {
	x := g.Item(i).Has(facts.WantRegister)
	return x != nil && g.Asked != x.Slot && (g.HasWord(g.From, g.To, "mostly", "mainly", "octave", "octaves", "notes", "bars", "keyboard", "register", "play") ||
		g.HasWord(g.To, min(g.To+2, len(g.Items)), "mostly", "mainly"))
}

// endNote reports whether the words at item i only say at which end of the keyboard a
// note lies: the bottom bar is C3, A2 at the bottom.
func (g Guard) endNote(i int) bool {
	for j := i + 1; j < g.To && j < i+6; j++ {
		if g.Item(j).Note != nil {
			return true
		}
		if !g.Filler(j) && !g.Is(j, "is", "at", "starts", "start", "note", "bar", "end", "goes", "being", "begins", "ends", "called", "call", "on", "=", "what", "they", "down", "to") && g.Item(j).Has("span") == nil {
			break
		}
	}
	j := i - 1
	for j > g.From && (g.Filler(j) || g.Is(j, "at", "the", "on")) {
		j--
	}
	return j < i-1 && g.Item(j).Note != nil
}

// OneHead reports whether the words of item i are of how many heads to build: not
// one mallet in a hand, one that is heavier, or just one pair or slice.
func (g Guard) OneHead(i int) bool {
	return !g.HasWord(max(0, i-6), i, "hand", "hands", "hold", "arm") && !g.HasWord(g.From, g.To, "hand", "hands", "hold", "never", "each", "other", "made", "have", "broke", "broken", "lost", "is", "has") &&
		!g.Says(i+1, "pair", "set", "slice", "layer", "ball", "core", "kind", "sort", "type", "thing", "cut", "of", "more", "or", "turn", "at", "notch", "step", "size", "inch", "colour", "color")
}

// ofRange reports whether the clause of item i speaks of notes, so that middle or
// top is a part of the keyboard.
func (g Guard) ofRange(i int) bool {
	if g.Item(i).To-g.Item(i).From > 1 && !g.Says(i, "middle", "bottom", "top") {
		return true
	}
	for j := g.From; j < g.To; j++ {
		if g.Item(j).Note != nil {
			return false // low note is C3
		}
		if j != i && g.Item(j).Any("instrument.kind", "instrument.bars") {
			return true
		}
	}
	alone := g.short() && (!g.SoftnessSaid() || !g.Says(i, "middle"))
	return alone || g.HasWord(g.From, g.To, "note", "notes", "range", "register", "registers", "end", "octave", "octaves", "bars", "keys", "keyboard", "half", "play", "plays", "playing",
		"stuff", "part", "parts", "line", "lines", "melody", "only", "mostly", "mainly", "treble", "bass", "down", "up", "reach", "voice", "hi", "for", "lows", "highs")
}

// short reports whether the clause is one or two words, or one said again.
func (g Guard) short() bool {
	first := g.From
	for j := first; j < g.To; j++ {
		if g.Word(j) != g.Word(first) && g.To-first > 2 {
			return false
		}
	}
	return true
}

// SoftnessSaid reports whether the line speaks of how soft or hard the head is.
func (g Guard) SoftnessSaid() bool {
	return slices.ContainsFunc(g.Items, func(it cover.Item) bool { return it.Has(facts.WantSoftness) != nil }) || g.Asked == facts.WantSoftness
}

// NoteSaid reports whether the clause names a note.
func (g Guard) NoteSaid() bool {
	return slices.ContainsFunc(g.Items[g.From:g.To], func(it cover.Item) bool { return it.Note != nil })
}

// ofPeople reports whether the clause of item i describes somebody: they're great
// kids, bright as anything.
func (g Guard) ofPeople(i int) bool {
	people := false
	for j := max(0, i-8); j <= i+2; j++ {
		if g.Item(j).From >= 0 && g.Says(j, "kids", "kid", "students", "student", "pupils", "pupil", "children", "child", "shes", "hes", "theyre", "boy", "girl", "workers", "worker", "daughter", "son", "teacher", "people", "lads", "bunch") {
			people = true
		}
	}
	return people && !g.HasWord(max(0, i-8), min(i+6, len(g.Items)), "sound", "sounds", "mallet", "mallets", "head", "heads", "tone", "want", "wants", "need", "needs", "like", "likes", "something", "make", "beaters", "it", "them", "pair", "for", "set", "should", "sticks", "notes")
}

// Sour reports whether item i is a word that people use for what they don't want,
// said of a head that there is: I find it rather clangy.
func (g Guard) Sour(i int) bool {
	return g.Item(i).Has("sour") != nil &&
		!g.HasWord(g.From, g.To, "want", "wants", "wanted", "need", "needs", "like", "something", "make", "prefer", "please", "love", "looking", "after", "should", "hoping", "no", "or", "must", "for", "fine", "ok", "okay", "good", "great", "welcome", "alright") &&
		g.HasWord(g.From, g.To, "find", "sounds", "sound", "sounding", "is", "its", "are", "theyre", "gone", "getting", "feels", "came", "too", "this", "these", "bit", "rather", "quite", "very", "still", "so")
}

// Report reports whether item i tells how heads were that somebody had: the old ones
// were rock hard.
func (g Guard) Report(i int) bool {
	return g.HasWord(g.From, i, "was", "were", "been") && g.HasWord(g.From, i, "old", "last", "previous", "broken", "borrowed", "schools", "shop", "store", "originals", "original", "first") &&
		!g.HasWord(g.From, g.To, "want", "wants", "should", "must", "need", "needs", "like", "too", "same", "again", "if")
}

// OfThing reports whether item i describes an instrument or some other thing that there
// is, and no head: tinny little thing.
func (g Guard) OfThing(i int) bool {
	for j := i + 1; j < g.To && j < i+4; j++ {
		if g.Is(j, "thing", "instrument", "contraption", "affair") || g.Starts(j, "thing", "instrument") {
			return !g.HasWord(0, len(g.Items), "want", "wants", "need", "needs", "like", "make", "please", "should", "must", "mallet", "mallets", "head", "heads", "sound", "prefer", "give")
		}
		if !g.Filler(j) && !g.Item(j).Any("degree", "wish", "weak") {
			return false
		}
	}
	return false
}

// Outcome reports whether item i is how heads come out, and not how they are to:
// they all end up clicky.
func (g Guard) Outcome(i int) bool {
	if g.HasWord(g.From, g.To, "want", "wants", "should", "must", "need", "needs", "to", "like", "hope", "please", "if", "so", "make") {
		return false
	}
	for j := max(g.From, i-6); j < i; j++ {
		if g.Item(j).Has("mend") == nil && g.Says(j, "end", "ends", "ended", "come", "comes", "came", "turn", "turns", "turned", "wind", "coming", "turning", "ending") && g.HasWord(j, min(j+2, g.To), "up", "out") {
			return true
		}
	}
	return false
}

// Predicate reports whether the word at item i is said of the head: it ends its
// clause, or a word for the head follows.
func (g Guard) Predicate(i int) bool {
	for j := i + 1; g.Item(j).Has("wish") != nil || g.Item(j).Has("want.softness") != nil || g.Is(j, "and"); j++ {
		i = j
	}
	wishes := g.To-g.From <= 2 || g.HasWord(g.From, g.To, "want", "wants", "something", "make", "need", "needs", "like", "mallet", "mallets", "head", "heads", "pair", "be", "should", "prefer", "them", "gimme", "give", "looking")
	for j := g.From; j < g.To && !wishes; j++ {
		if g.Unknown(j) {
			break
		}
		wishes = j == g.To-1
	}
	if !wishes && g.Asked == "" {
		return false
	}
	return g.ClauseEnds(i+1) || g.Starts(i+1, "for", "and", "please", "to", "with", "but") && g.Asked == "" || g.Item(i+1).Any("enough", "after") || g.Starts(i+1, "head", "heads", "mallet", "mallets", "beater", "beaters", "ones", "one")
}

// OfHead reports whether the size that item i speaks of is a head's.
func (g Guard) OfHead(i int) bool {
	return g.To-g.From <= 2 && len(g.Items) <= 3 || g.adjectives() || g.besideWish(i) || g.HasWord(g.From, min(g.To+1, len(g.Items)), "head", "heads", "mallet", "mallets", "beater", "beaters", "them", "ones", "something", "make", "pair", "want", "fat", "enough")
}

// besideWish reports whether a wish for the sound stands joined to item i: very
// soft and big.
func (g Guard) besideWish(i int) bool {
	for _, j := range []int{i - 1, i + 1} {
		if g.Item(j).Has("join") != nil {
			j += j - i
		}
		if f := g.Item(j).Fact(); f != nil && strings.HasPrefix(f.Slot, "want.") {
			return true
		}
	}
	return false
}

// adjectives reports whether the clause holds nothing but wishes and what joins
// them: bright & hard & small.
func (g Guard) adjectives() bool {
	n := 0
	for j := g.From; j < g.To; j++ {
		switch it := g.Item(j); {
		case it.Has("wish") != nil:
		case it.Fact() != nil && strings.HasPrefix(it.Fact().Slot, "want."):
			n++
		case it.Any("join", "degree") && it.Qty == nil:
		default:
			return false
		}
	}
	return n > 0
}

// EitherOr reports whether the wish at item i is one of two, of which either would do:
// dark or even.
func (g Guard) EitherOr(i int, x *lexis.Sense) bool {
	return (x.Slot == facts.WantColour || x.Slot == facts.WantAttack) && g.Is(i+1, "or") && g.Is(i+2, "even", "neutral", "balanced")
}

// Likened reports whether the instrument at item i is one that another is held
// against: like a xylophone; without turning into a marimba mallet.
func (g Guard) Likened(i int, x *lexis.Sense) bool {
	other := slices.ContainsFunc(g.Items, func(it cover.Item) bool {
		y := it.Has(facts.InstrumentKind)
		return y != nil && y.Value != x.Value
	})
	for i--; g.Starts(i, "a", "an", "the", "of"); i-- {
	}
	return other && g.Starts(i, "like", "unlike", "into", "than", "resembling", "becoming")
}

// Wishing reports whether the clause wishes for something: then most of its words
// may be strange and those that are known still count.
func (g Guard) Wishing() bool {
	return g.HasWord(g.From, g.To, "want", "wants", "wanted", "need", "needs", "like", "something", "smth", "looking", "hoping", "make", "should", "must", "prefer", "please", "pls", "for", "sound", "sounds", "mallets", "mallet", "head", "heads", "attack", "tone", "asked")
}

// Refused reports whether a no, or a verdict like one, that ends its clause stands at
// item i: drill no, soft no, bright is out.
func (g Guard) Refused(i int) bool {
	x := g.Item(i).Has("reply")
	if x != nil && x.Value == "no" && g.ClauseEnds(i+1) {
		return true
	}
	for g.Filler(i) {
		i++
	}
	h := g.Item(i).Has("holding")
	return (g.Item(i).Has("bad") != nil || g.Is(i, "out") || h != nil && h.Value == "avoid") && g.ClauseEnds(i+1)
}

// Foreign reports whether the word at item i, said by itself a wish, hardly is one
// here: nothing else of the line is of mallets, sound or wishing, and it stands before
// or behind words that mallow has no use for. Dark chocolate helps me think; wall to
// wall rain this week.
func (g Guard) Foreign(i int, x *lexis.Sense) bool {
	if it := g.Item(i); g.Asked != "" || it.To-it.From > 2 && !(it.To-it.From == 3 && g.Unknown(i+1)) || !strings.HasPrefix(x.Slot, "want.") && x.Slot != facts.PlayerLevel {
		return false
	}
	strange := 0
	end := g.To
	if simile(g, i+1) {
		end = i + 1
	}
	for j := range g.Items {
		it := g.Item(j)
		switch {
		case j == i, it.Has(x.Slot) != nil && it.Has(x.Slot).Value == x.Value:
		case it.Any("topic", "kind", "material", "move", "wish", "count", "bound", "keep", "withdraw", "mend", "names") || it.Fact() != nil || it.Note != nil || it.Qty != nil && it.Qty.Unit > 0:
			return false
		case j >= g.From && j < end && g.Unknown(j) && g.At(it.From).To-g.At(it.From).From > 2:
			strange++
		}
	}
	if g.HasWord(max(g.From, i-3), i, "been", "was", "were") { // it's been hard since she left
		strange += 2
	}
	if strange == 0 || strange == 1 && g.Item(i+1).Has("join") != nil { // dark and worm
		return false
	}
	return !g.HasWord(0, len(g.Items), "want", "wants", "wanted", "need", "needs", "like", "something", "smth", "looking", "hoping", "make", "should", "must", "prefer", "please", "pls", "asked",
		"sound", "sounds", "mallets", "mallet", "head", "heads", "beaters", "pair", "ones", "attack", "tone", "timbre", "colour", "hardness", "softness", "firmness", "volume", "register", "octave", "range",
		"play", "playing", "plays", "played", "feel", "feels", "note", "notes", "music", "strike", "hit", "bars", "keys", "keyboard", "stroke", "strokes", "piece", "pieces", "roll", "rolls", "suit",
		"winding", "wind", "concert", "solo", "ending", "climax", "peak")
}
