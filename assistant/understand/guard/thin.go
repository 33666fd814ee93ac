package guard

import (
	"strings"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// Thin reports whether most words of the clause are none that mallow knows, so that
// a word of many meanings in it hardly means a mallet: the tube to work. Of is how
// the person stands to what each item names.
func (g Guard) Thin(of []reading.Holding) bool {
	if figure.Apart(g.Chart) { // me soft, my sister hard
		return false
	}
	known, unknown := 0, 0
	for i := g.From; i < g.To; i++ {
		it := g.Item(i)
		if simile(g, i) {
			known += 2
			break
		}
		if h := it.Has("holding"); h != nil && (h.Value == "want" || h.Value == "need") {
			if f := g.Item(g.PastFiller(i + 1)).Fact(); f != nil && strings.HasPrefix(f.Slot, "want.") {
				return false // I need hard and brilliant, so that it carries
			}
		}
		switch {
		case of[i] != "":
			known += 2 // a neighbour would lend us a drill
		case it.Fact() != nil && g.Is(i+1, "one", "ones", "pair", "pairs") && g.Starts(i+2, "for") && strings.HasPrefix(it.Fact().Slot, "want."): // hard ones for gigs
			known += 3
		case it.Has("weak") != nil, g.Filler(i), it.Mark != "":
		case it.Qty != nil || it.Note != nil || it.ID != "":
			known++
		case it.Fact() != nil, it.Any("move", "wish", "kind", "material", "count", "keep"):
			known += 2
		case len(it.Senses) == 0, it.Any("plain", "social"):
			unknown++
		}
	}
	return 2*unknown > known
}

// simile reports whether the words from item i on only liken what stands before them: dark
// like a cello; dull as an old penny.
func simile(g Guard, i int) bool {
	f := g.Item(i - 1).Fact()
	return i > g.From && g.Starts(i, "like", "as") && f != nil && (f.Slot == facts.WantColour || f.Slot == facts.WantAttack || f.Slot == facts.WantSoftness) &&
		!g.HasWord(i, g.To, "in", "outside", "here", "outdoors", "ever", "soon", "long", "far", "much", "before")
}

// Effort reports whether the comparative at item i says how hard something is to do or to
// grasp, and nothing of a head: this is harder than I thought.
func (g Guard) Effort(i int) bool {
	if !g.Says(i, "harder", "heavier", "tougher", "softer", "lighter") || !g.HasWord(i+1, min(i+3, g.To), "than") || !g.Is(g.PastFiller(g.From), "this", "that", "it", "its", "thats", "hmm") && !g.HasWord(g.From, i, "this", "that", "it", "its", "thats") {
		return false
	}
	return g.HasWord(i+2, g.To, "thought", "expected", "imagined", "looks", "look", "looked", "seems", "bargained", "reckoned", "guessed", "sounds") &&
		!g.HasWord(0, len(g.Items), "head", "heads", "mallet", "mallets", "they", "them", "one", "ones", "pair", "sound")
}
