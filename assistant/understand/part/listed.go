package part

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// Listed returns what words at item i of a clause up to to say of parts without
// describing one: that there is to be no yarn; balls in a list of sizes. It returns i
// where there are none. Hold is how somebody stands to parts there, before is what was
// named so far, the last of it just before if straight.
func (s Describer) Listed(i, to int, hold reading.Holding, before []reading.Part, straight bool) (list []reading.Part, end int) {
	if n := len(before); straight && n > 0 && before[n-1].Kind == "yarn" && s.Is(i, "synthetic", "manmade", "artificial") { // wool, not synthetic
		return []reading.Part{{Kind: "yarn", Material: "acrylic/polyester/nylon", Made: "synthetic", Holding: hold, Text: s.Said(i, i+1), Sure: 1}}, i + 1
	}
	if s.Item(i).Has("bare") != nil {
		if bare(s.Chart, i, to) && (hold == reading.Named || hold == reading.Need) && !without(before, "yarn") {
			list = []reading.Part{{Kind: "yarn", Holding: reading.Avoid, Text: "yarn", Sure: s.Item(i).Sure()}}
		}
		return list, i + 1
	}
	if s.OfPart(i) && s.Starts(i-1, "those", "these") && s.Is(i+1, "ones", "mallets", "heads", "beaters", "sticks") && s.Starts(i+2, "are", "were", "sound", "feel", "hit", "play") { // those brass ones are too heavy
		return nil, i + 2
	}
	if avoided := hold == reading.Avoid || hold == reading.Lack; avoided && s.Is(i, "metal") && (s.ClauseEnds(i+1) || s.Starts(i+1, "in", "anywhere", "at", "please", "whatsoever")) { // bright, without metal
		p := reading.Part{Kind: "core", Material: "metal", Holding: reading.Avoid, Text: "metal", Sure: 1}
		p.IDs = s.Stock.Match(p)
		return []reading.Part{p}, i + 1
	}
	list, end = sized(s, i)
	for k := range list {
		list[k].Holding = hold
	}
	return list, end
}

// bare reports whether the word for a head without yarn at item i is a wish: all bare;
// bare mallets like the others have. Where it describes what there is (over the bare
// ball, the bare ones are too loud) it is none.
func bare(c *cover.Chart, i, to int) bool {
	if c.Starts(i-1, "the", "this", "that", "these", "those", "my", "our", "on", "over", "onto", "from", "than") {
		return false
	}
	for j := i + 1; j < to; j++ {
		if c.Item(j).Has("too") != nil {
			return false
		}
	}
	if c.ClauseEnds(i+1) || c.Is(i+1, "and") || c.Starts(i, "plain", "naked") {
		return true
	}
	if c.Item(i).To > c.Item(i).From+1 { // no wrap on these
		return c.Starts(i+1, "on", "for", "around", "round", "over", "thanks", "please")
	}
	for j := i + 1; j < to; j++ {
		switch it := c.Item(j); {
		case c.Says(j, "mallet", "mallets", "head", "heads", "ball", "balls", "one", "ones", "pair", "pairs", "beater", "beaters", "stick", "sticks", "tips"):
			return true
		case it.Qty == nil && it.Fact() == nil && it.Has("material") == nil && !c.Filler(j):
			return false
		}
	}
	return false
}

// without reports whether a list leaves a kind of part out altogether.
func without(list []reading.Part, kind string) bool {
	return slices.ContainsFunc(list, func(p reading.Part) bool {
		return p.Kind == kind && p.Material+p.Made+p.Weight == "" && (p.Holding == reading.Avoid || p.Holding == reading.Lack)
	})
}

// sized describes balls whose sizes follow in a list, of which the last alone needs a
// unit, and whose materials may follow those: balls 22, 25 and 28 mm from rubber or
// nylon. It returns where that ends, i where there is no such list.
func sized(s Describer, i int) (list []reading.Part, end int) {
	kind := s.Item(i).Has("kind")
	if kind == nil || kind.Value != "core" || s.Item(i-1).Qty != nil {
		return nil, i
	}
	j := i + 1
	for s.Is(j, "of", "in", "with", "from", "only", "at", "are", "metric") || s.Item(j).Mark == "(" || s.Item(j).Mark == "," && s.Is(j+1, "metric") {
		j++
	}
	var sizes [][2]int
	for open := true; open; j++ {
		q := s.Item(j).Qty
		if q == nil || !s.size(j) && (q.Dim != quantity.Plain || q.Frac || q.Value < 12 || q.Value > 60) {
			return nil, i
		}
		sizes = append(sizes, [2]int{j, j + 1})
		open = !s.size(j) || inList(s.Chart, j+1) && s.size(afterJoin(s.Chart, j+1))
		if open {
			if !inList(s.Chart, j+1) {
				return nil, i
			}
			j = afterJoin(s.Chart, j+1) - 1
		}
	}
	if len(sizes) < 2 {
		return nil, i
	}
	shares := reading.Part{Kind: "core", Holding: reading.Named, Sure: s.Item(i).Sure()}
	if m := s.within(s.Item(i), "material"); m != nil { // rubber balls of 25 and 30 mm
		shares.Material, shares.Made = m.Material().ID, m.Material().Made
	}
	of, end := madeOf(s.Chart, j)
	for _, m := range append(of, shares)[:max(1, len(of))] {
		m.Holding, m.Sure = shares.Holding, shares.Sure
		for _, p := range s.Members(sizes, m, reading.Part{}) {
			p.Text += " " + s.Said(i, i+1)
			list = append(list, p)
		}
	}
	return list, end
}

// OnlyMade reports whether a ball is named by its material alone, and nobody said that it
// is there: a count behind it is of heads then. Bells, brass, a quick pair.
func OnlyMade(p reading.Part) bool {
	return p.Kind == "core" && p.Holding == reading.Named && !p.Sized() && !strings.Contains(p.Text, " ")
}

// inList reports whether a list goes on at item i with a comma or a word.
func inList(c *cover.Chart, i int) bool { return c.Item(i).Mark == "," || c.Is(i, "and", "or", "&") }

// afterJoin returns the item past a comma, a word that joins, or both.
func afterJoin(c *cover.Chart, i int) int {
	if c.Item(i).Mark == "," {
		i++
	}
	if c.Is(i, "and", "or", "&") {
		i++
	}
	return i
}

// madeOf returns balls of the materials that follow from item i on, and where those end.
func madeOf(c *cover.Chart, i int) (list []reading.Part, end int) {
	j := i
	for c.Item(j).Mark == ")" || c.Item(j).Mark == "," || c.Is(j, "from", "of", "in", "made") {
		j++
	}
	for {
		x := c.Item(j).Has("material")
		if x == nil || x.Material().Kind == "glue" || c.Item(j).Has("kind") != nil || c.Item(j+1).Has("kind") != nil {
			return nil, i
		}
		m := x.Material()
		list = append(list, reading.Part{Kind: "core", Material: m.ID, Made: m.Made})
		j++
		next := afterJoin(c, j)
		if next == j || c.Item(next).Has("material") == nil {
			return list, j
		}
		j = next
	}
}
