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
