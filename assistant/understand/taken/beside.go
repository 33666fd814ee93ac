package taken

import (
	"slices"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/reading"
)

// LimitedTo reports whether the last figure taken is a limit on path that a move of by
// would cross.
func LimitedTo(l *Line, path string, by float64) bool {
	n := len(l.Out.Takes)
	return n > 0 && l.Out.Takes[n-1].Path == path && l.Out.Takes[n-1].Bound == limit.Against(by)
}

// SecondPair reports whether the comparative at item i, in a clause that ends at item to,
// is of a pair beside the first: and a harder pair.
func SecondPair(l *Line, i, to int) bool {
	return len(l.Out.Takes)+len(l.Out.Moves) == 0 && len(l.Ctx.Before.Takes) > 0 && l.Says(i+1, "pair", "set") && l.Says(i-1, "a", "another", "second") &&
		(l.HasWord(i-3, i, "and", "also", "plus", "another", "second") || l.HasWord(i+2, to, "too", "also", "same"))
}

// SizeAlone reports whether the length at item i is all that is wished for in the clause
// that begins at item from, and nothing else has a size: I'd want 30 mm.
func SizeAlone(l *Line, from, i int) bool {
	if !l.ClauseEnds(i+1) || !figure.Likely("want.diameter_mm", l.Item(i).Qty) || len(l.Ctx.Before.Parts) > 0 {
		return false
	}
	for j := from; j < i; j++ {
		if it := l.Item(j); it.Has("holding") == nil && !l.Filler(j) && !it.Any("bound", "degree", "social", "join") && !l.Is(j, "them", "it", "i", "we") {
			return false
		}
	}
	return !slices.ContainsFunc(l.Out.Parts, func(p reading.Part) bool { return p.Holding != reading.Avoid && p.Holding != reading.Lack })
}
