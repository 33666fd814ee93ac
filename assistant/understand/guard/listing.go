package guard

import (
	"slices"

	"mallow/assistant/understand/cover"
)

// Listing reports whether the clause goes on with a list of the parts that there are,
// which were asked for where that is so: then its sizes and weights and its words of
// many meanings describe them. "Balls, 30 mm, quite light, 12 g each"; not "soft ones
// please".
func (g Guard) Listing(asked bool) bool {
	return asked && slices.ContainsFunc(g.Items, func(it cover.Item) bool { return it.Any("kind", "material", "form") || it.ID != "" }) &&
		!g.HasWord(g.From, g.To, "want", "wants", "wanted", "wish", "wishes", "hope", "hoping", "prefer", "please", "pls", "should", "must", "something", "smth", "aim", "aiming", "target", "after", "looking",
			"head", "heads", "mallet", "mallets", "beater", "beaters", "finished", "sound", "sounds", "sounding", "tone", "attack", "notes", "note", "bars", "play", "playing", "budget", "spend", "id", "gimme")
}

// Attributive reports whether the word at item i only describes something that is no
// head: it stands between an article and a noun that mallow has no use for, and nothing
// is wished for. Glue lets go in a warm car.
func (g Guard) Attributive(i int) bool {
	if g.Item(i).To != g.Item(i).From+1 || !g.Starts(i-1, "a", "an", "the", "my", "our", "his", "her", "their", "this", "that", "some", "in") || !g.Unknown(i+1) || g.Item(i+1).To != g.Item(i+1).From+1 || g.Wishing() {
		return false
	}
	return g.ClauseEnds(i+2) || g.Item(i+2).Has("join") != nil || g.Starts(i+2, "in", "on", "at", "with", "from", "for", "of", "is", "was", "has", "and")
}
