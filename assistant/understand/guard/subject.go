package guard

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/rules/facts"
)

// person is whom the words before an item speak of.
type person byte

const (
	nobody person = iota
	speaker
	another
)

// subject is who or what the words of a guarded clause speak of.
type subject struct{ Guard }

// nearest returns who stands nearest before item i, in its clause or the ones before.
func (g subject) nearest(i int) person {
	for j := i; j >= 0 && j > i-9; j-- {
		switch {
		case g.Says(j, "i", "im", "ive", "id", "me", "mine", "myself", "we", "weve", "us", "our", "ours"):
			return speaker
		case g.another(j):
			return another
		}
	}
	return nobody
}

// another reports whether item j names somebody who is not the speaker.
func (g subject) another(j int) bool {
	return g.Says(j, "he", "hes", "shes", "she", "flatmate", "flatmates", "roommate", "roommates", "roomie", "cousin", "cousins", "friend", "friends", "mate", "mates", "pal", "buddy", "brother", "brothers",
		"sister", "sisters", "dad", "dads", "mum", "mums", "mom", "moms", "father", "mother", "uncle", "aunt", "auntie", "grandad", "grandpa", "grandma", "granny", "nan", "husband", "husbands", "wife", "wifes",
		"partner", "partners", "boyfriend", "girlfriend", "teacher", "teachers", "colleague", "colleagues", "neighbour", "neighbours", "neighbor", "neighbors", "boss", "tutor", "instructor", "landlord", "someone", "somebody",
		"lady", "fellow", "guy", "bloke", "chap", "everyone", "everybody", "people", "others", "whoever", "lodger", "desk partner")
}

// Elsewhere reports whether the instrument that sense x of item i names is none that is to be
// played on: another is held against it, somebody else has it, it is only supposed or
// remembered, or it is a thing with its name. If I had a vibraphone; my friend has a
// marimba, mine is a xylophone; the ringtone is a marimba.
func (g Guard) Elsewhere(i int, x *lexis.Sense) bool {
	if x.Slot != facts.InstrumentKind {
		return false
	}
	of := subject{g}
	if g.Likened(i, x) || g.Former(i, x) || of.supposed(i) || of.nameOnly(i) {
		return true
	}
	own := slices.IndexFunc(g.Items, func(it cover.Item) bool {
		y := it.Has(facts.InstrumentKind)
		return y != nil && y.Value != x.Value
	})
	if own < 0 {
		return false
	}
	who := of.nearest(own)
	if own > i && of.nearest(i) == another && who == speaker && !g.HasWord(0, len(g.Items), "she", "he", "her", "his", "hers", "us", "both", "each", "together", "on", "husband", "wife", "first", "wants", "needs") {
		return true
	}
	return (own > i || who == speaker) && g.HasWord(max(g.From, i-6), i, "promised", "wanted", "asked", "learned", "learnt", "rival", "calls", "heard", "saw", "tried", "sold", "dreamt", "dreamed", "wished", "borrowed") &&
		!g.HasWord(g.From, g.To, "not", "for")
}

// supposed reports whether item i is only supposed: if I had one, were it one.
func (g subject) supposed(i int) bool {
	return g.HasWord(max(g.From, i-5), i, "if", "wish", "unless") && g.HasWord(max(g.From, i-4), i, "had", "owned", "were", "got")
}

// nameOnly reports whether a thing stands beside item i that only bears the name of an
// instrument, or that only has to do with one.
func (g subject) nameOnly(i int) bool {
	if i+1 >= len(g.Items) {
		return false
	}
	t, _ := g.Lex.Longest(g.Tokens, g.Item(i+1).From, "thing")
	return t != nil && t.Value == "instrument" || g.HasWord(g.From, g.To, "ringtone", "ringtones", "museum", "emoji", "fridge")
}

// ofSubject reports whether the word at item i is said of a thing that stands before is or
// a word like it: the piece is hard, my hands are soft.
func (g subject) ofSubject(i int) bool {
	j, is := i-1, false
	for ; j >= g.From && (g.Filler(j) || g.Item(j).Any("degree", "too", "wish", "join") || g.isBe(j)); j-- {
		is = is || g.isBe(j)
	}
	if j < g.From || !is && !g.isBe(j) {
		return false
	}
	if g.HasWord(g.From, i, "sound", "sounds", "tone", "mallet", "mallets", "head", "heads", "beater", "beaters", "note", "notes", "stick", "sticks", "pair", "it", "they", "them", "should", "must", "if") {
		return false
	}
	for k := j; k >= g.From && k > j-2; k-- {
		if t, _ := g.Lex.Longest(g.Tokens, g.Item(k).From, "thing"); t != nil && t.Value == "any" {
			return true
		}
	}
	return false
}

func (g subject) isBe(j int) bool {
	return g.HasWord(j, j+1, "is", "are", "was", "were", "gets", "get", "got", "looks", "look", "feels", "feel", "been", "being", "went", "goes", "stays", "seems", "turned")
}
