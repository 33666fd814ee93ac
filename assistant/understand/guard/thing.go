package guard

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/rules/facts"
)

// Describes reports whether the word at item i, said by itself a wish, describes a
// thing that is no head: a bright room, a really hard piece, a dark brown frame.
func (g Guard) Describes(i int, x *lexis.Sense) bool {
	if x.Slot == facts.WantSoftness && how(g, i) || g.Is(i, "brown") && g.Is(i+1, "one", "ones") {
		return true
	}
	kind := "any"
	switch x.Slot {
	case facts.WantSoftness, facts.WantColour, facts.WantAttack, facts.WantOpening:
		if (subject{g}).ofSubject(i) {
			return true
		}
	case facts.WantRegister:
		kind = "register"
	case facts.WantLoudest:
		kind = "loud"
	default:
		return false
	}
	for j := i + 1; j < len(g.Items); j++ {
		it := g.Item(j)
		if t, _ := g.Lex.Longest(g.Tokens, it.From, "thing"); t != nil && t.Value == kind {
			return true
		}
		if g.Is(j, "little", "small", "old", "big", "tiny", "great", "huge", "narrow", "long", "cold", "stone", "wooden", "smoky", "noisy", "new") && j < i+3 {
			continue // a dark little club
		}
		if it.Mark != "" || !it.Any("wish", "paint", facts.WantSoftness, facts.WantColour) { // a big dark room
			return false
		}
	}
	return false
}

// how reports whether item i says how somebody strikes or works: they hit hard.
func how(g Guard, i int) bool {
	j := i - 1
	for g.Starts(j, "it", "them", "very", "really", "pretty", "so", "too", "quite", "rather", "the", "bars") && j > g.From {
		j--
	}
	return g.Is(i, "hard", "soft") && g.Says(j, "hit", "hits", "hitting", "strike", "strikes", "whack", "bash", "bashes", "work", "works", "worked", "working", "try", "tried", "trying", "practise", "practice", "study", "studied", "train", "lean", "leans", "push", "pushes", "think", "thought", "rained", "raining")
}

// Former reports whether the instrument at item i is one that heads were for which somebody
// had, while another is named for those to come: my old pair was for marimba.
func (g Guard) Former(i int, x *lexis.Sense) bool {
	return g.HasWord(g.From, i, "was", "were") && g.HasWord(g.From, i, "old", "last", "previous", "first", "former", "original") &&
		slices.ContainsFunc(g.Items, func(it cover.Item) bool {
			y := it.Has(facts.InstrumentKind)
			return y != nil && y.Value != x.Value
		})
}

// Condition reports whether the loudness at item i only says at which stroke a sound is to
// be as wished for: dark even if I smash it; when I hit strong, still warm.
func (g Guard) Condition(i int, x *lexis.Sense) bool {
	if x.Slot != facts.WantLoudest || x.Value != "f" && x.Value != "ff" || !g.Says(i, "hit", "smash", "bash", "whack", "strike", "wallop", "pound", "slam", "belt", "hammer", "thrash", "lay", "dig", "lean") {
		return false
	}
	if !g.HasWord(max(g.From, i-4), i, "when", "if", "whenever", "once", "wenn") {
		return false
	}
	return slices.ContainsFunc(g.Items, func(it cover.Item) bool { return it.Any(facts.WantColour, facts.WantAttack, facts.WantOpening) })
}

// Opposed reports whether the word at item i is named as what is not wanted but its
// opposite: the very opposite of dull.
func (g Guard) Opposed(i int) bool {
	j := i - 1
	for j > g.From && (g.Filler(j) || g.Starts(j, "of", "to", "from", "a", "the")) && !opposite(g, j) {
		j--
	}
	return opposite(g, j)
}

// Existing reports whether the word at item i tells how heads are that somebody has, and
// not how they are to be: everything I own is hard; mine are like rocks; my colleague's
// mallets are bright.
func (g Guard) Existing(i int) bool {
	j := g.From
	for j < i && !g.Starts(j, "my", "mine", "our", "the", "everything", "all", "his", "her", "their", "most") && (g.Filler(j) || g.Item(j).Any("join", "social", "reply", "mend")) {
		j++
	}
	owned := g.Starts(j, "mine", "ours", "his", "hers", "theirs") ||
		g.Starts(j, "everything", "all", "most", "the") && g.HasWord(j, i, "own", "have", "ive", "got", "borrowed", "bought", "inherited", "use", "used", "had") ||
		g.Starts(j, "my", "our", "his", "her", "their", "the") && g.HasWord(j, i, "colleague", "friend", "teacher", "neighbour", "school", "daughter", "son", "section") && g.HasWord(j, i, "mallets", "sticks", "beaters", "heads", "ones", "pair", "set") ||
		g.Starts(j, "my", "our", "his", "her", "their", "the") && g.HasWord(j, i, "current", "existing", "present", "old", "last", "previous", "shop", "store", "bought")
	return owned && g.HasWord(j, i, "are", "is", "sound", "sounds", "feel", "feels", "were", "was", "play", "come", "came", "seem") &&
		!g.HasWord(g.From, g.To, "too", "want", "should", "must", "need", "needs", "would", "could", "may", "can", "like", "id", "please", "if", "prefer", "for", "than", "to", "not", "isnt", "arent")
}

// opposite reports whether item i says that the opposite is meant.
func opposite(g Guard, i int) bool {
	return g.Says(i, "opposite", "reverse", "contrary", "antithesis", "inverse")
}

// OfSound reports whether the sentence is of the sound, before any word for a head, so that
// heavy and light in it weigh nothing.
func (g Guard) OfSound() bool {
	from, _ := g.Sentence(g.From, g.From)
	for j := from; j < g.To; j++ {
		switch {
		case g.Says(j, "head", "heads", "mallet", "mallets", "stick", "sticks", "beater", "beaters", "pair", "them", "hand", "hands", "hold", "weight"):
			return false
		case g.Says(j, "sound", "tone", "timbre") && !g.Says(j, "sounding"):
			return true
		}
	}
	return false
}

// Scant reports whether as good as nothing is wanted of the quality at item i: as little
// click as possible, hardly any edge.
func (g Guard) Scant(i int) bool {
	q, _ := g.Lex.Longest(g.Tokens, g.Item(i).From, "quality")
	j := i - 1
	for j > g.From && g.Is(j, "of", "the", "any") {
		j--
	}
	return q != nil && g.Says(j, "little", "least", "minimal", "minimum", "barely", "hardly", "scarcely", "scant") && !g.Says(j, "a") && !g.Starts(j-1, "a", "at", "the")
}

// AllRound reports whether the word at item i, which is medium where nothing else is
// said, says nothing beside another softness: medium soft, for all-round use.
func (g Guard) AllRound(i int, x *lexis.Sense) bool {
	return x.Slot == facts.WantSoftness && g.Says(i, "round", "around", "purpose", "rounder") && slices.ContainsFunc(g.Items, func(it cover.Item) bool {
		y := it.Has(x.Slot)
		return y != nil && y.Value != x.Value
	})
}
