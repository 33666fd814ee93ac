package part

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// Other describes the second of two parts like the last of list, of which the items from
// i, before item to, give nothing but a size, and returns where that ends, i where they
// don't: one ball is 25 mm, the other 28. The last of list is then one piece as well.
func Other(s Describer, list []reading.Part, i, to int) (p reading.Part, end int) {
	if len(list) == 0 || !s.Says(i, "other", "second") {
		return p, i
	}
	p = list[len(list)-1]
	if p.Unit != "piece" || p.Amount > 2 || p.Diameter == 0 || p.Kind != "core" && p.Kind != "shaft" {
		return p, i
	}
	j := i + 1
	for j < to && (s.Filler(j) || s.Is(j, "one", "ball", "rod", "dowel", "shaft", "is", "at", "measures", "about", "being") && (s.Item(j).Qty == nil || s.Item(j+1).Qty != nil || s.Filler(j+1))) {
		j++
	}
	q := s.Item(j).Qty
	if q == nil || j >= to || q.Dim != quantity.Length && q.Dim != quantity.Plain || !s.ClauseEnds(j+1) {
		return p, i
	}
	list[len(list)-1].Amount = 1
	p.Diameter, p.Amount, p.IDs, p.Text = s.LengthOf(q), 1, nil, s.Said(i, j+1)
	p.IDs = s.Stock.Match(p)
	return p, j + 1
}

// Across reports whether the length at item i is said to be one across, and a ball on
// hand that is the last of list has none: squash balls I found, 40 mm across.
func Across(c *cover.Chart, list []reading.Part, i int) bool {
	n := len(list)
	x := c.Item(i + 1).Has("role")
	return n > 0 && x != nil && x.Value == "across" && list[n-1].Kind == "core" && list[n-1].Holding == reading.Have && list[n-1].Diameter == 0
}

// Rest returns list with the kinds of part that it does not name, held so: all but the glue
// is here. With no holding, list is as it was, without what is only allowed.
func Rest(list []reading.Part, how reading.Holding) []reading.Part {
	for _, kind := range []string{"core", "tube", "yarn", "shaft", "glue"} {
		if how != "" && !slices.ContainsFunc(list, func(p reading.Part) bool { return p.Kind == kind }) {
			list = append(list, reading.Part{Holding: how, Kind: kind, Text: kind, Sure: 1})
		}
	}
	return slices.DeleteFunc(list, func(p reading.Part) bool { return p.Holding == reading.Allow })
}

// Kept returns how the part of the items i..end is held, which is how by the words for having
// and lacking: to be avoided where it is to be left out, or has to be in nothing. Leave
// polyester out of it; not a scrap of plastic in it.
//
// No needle is that there is none, and no wish.
func Kept(c *cover.Chart, p reading.Part, i, end int, how reading.Holding) reading.Holding {
	if p.Kind == reading.Tool && how == "" && p.Holding == reading.Avoid {
		return reading.Lack
	}
	if p.Kind == reading.Tool {
		return how
	}
	out := c.Is(end, "out") && c.HasWord(i-3, i, "leave", "leaving", "keep", "cut", "count", "take", "rule")
	nowhere := p.Material+p.Made != "" && how == reading.Lack && (c.Is(end, "in") && c.Says(end+1, "it", "them", "mine", "these", "any") || c.Says(end, "anywhere"))
	if out || nowhere || c.Is(i-1, "to") && c.HasWord(0, i, "prefer", "preferred", "prefers") { // I prefer cotton to wool
		return reading.Avoid
	}
	return how
}

// OnlyRubber reports whether the part of the items i..end is rubber and nothing more.
func OnlyRubber(c *cover.Chart, p reading.Part, i, end int) bool {
	return p.Material == "rubber" && !p.Sized() && p.Amount == 0 && end == i+1 && c.Item(i).Has("kind") == nil
}

// Idle reports whether the tool at item i is only spoken of: the one with the knife, the
// rule for the lathe.
func Idle(c *cover.Chart, p reading.Part, i int, how reading.Holding) bool {
	if p.Kind != reading.Tool {
		return false
	}
	if c.Item(i).Slips > 0 && c.Item(i+1).Mark == "" && c.At(c.Item(i).To).Is("of") { // a lath of ash
		return true
	}
	k := c.Item(i).From - 1
	for t := c.At(k); t.Is("a") || t.Is("an") || t.Is("the") || t.Is("my") || t.Is("their") || t.Is("our") || t.Is("his") || t.Is("her") || t.Is("every") || t.Is("some"); t = c.At(k) {
		k--
	}
	switch c.At(k).Text {
	case "with", "for", "near", "by", "at", "on", "about", "of", "from", "to", "under", "in", "through", "into", "touch", "touches", "handle", "handles", "point", "use", "uses", "using", "wind", "cut":
		return true
	}
	return how == "" && p.Holding == reading.Named
}
