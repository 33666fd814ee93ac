package cover

import (
	"slices"
	"strings"

	"mallow/assistant/understand/lexis"
)

// names returns, by token, the qualities that the stretch of a token names: attack:
// middling; as for hardness, low; how firm? ordinary. Words that answer a question
// about a quality answer it there too, although it was not asked.
func (c *Chart) names() [][]string {
	type stretch struct {
		from, to int
		keys     []string // of the quality named; nil for none or more than one
		head     bool     // it does nothing else
	}
	var all []stretch
	any := false
	for from := 0; from < len(c.Tokens); {
		x := stretch{from: from, to: from, head: true}
		several := false
		for ; x.to < len(c.Tokens) && !c.parts(x.to); x.to++ {
			s, n := c.SlotAt(x.to, "names")
			switch {
			case s != nil:
				keys := strings.Fields(s.Value)
				several = several || x.keys != nil && keys[len(keys)-1] != x.keys[len(x.keys)-1]
				x.keys = keys
				x.to += n - 1
			case !c.leading(x.to):
				x.head = false
			}
		}
		if several {
			x.keys = nil
		}
		if x.to > x.from {
			all, any = append(all, x), any || x.keys != nil
		}
		from = x.to + 1
	}
	if !any {
		return nil
	}
	out := make([][]string, len(c.Tokens))
	for k, x := range all {
		switch {
		case x.keys != nil:
		case k > 0 && all[k-1].head:
			x.keys = all[k-1].keys
		case k+1 < len(all) && all[k+1].head && c.Tokens[x.to].Is(","):
			x.keys = all[k+1].keys
		}
		for i := x.from; i < x.to; i++ {
			out[i] = x.keys
		}
	}
	return out
}

// parts reports whether token i stands between two stretches.
func (c *Chart) parts(i int) bool {
	t := c.Tokens[i]
	return t.Kind == lexis.Mark && strings.Contains(",;:.!?()", t.Text) || t.Is("but")
}

// leading reports whether token i may lead to a quality, or follow it, without
// saying anything of it: when it comes to the hardness; that's how soft.
func (c *Chart) leading(i int) bool {
	if s, _ := c.SlotAt(i, "filler"); s != nil {
		return true
	}
	return slices.Contains([]string{"as", "for", "on", "in", "to", "of", "when", "it", "comes", "wise", "regards", "regarding", "concerning", "about", "with", "terms", "respect", "thats", "that", "is", "the", "my", "and", "-", "what", "whats", "i", "want", "would", "like", "here", "im", "after"}, c.Tokens[i].Text)
}

// Named returns the sense of item i that answers the question about a quality which
// is named beside it, or nil. A word that says something by itself answers only
// where it is a place on whatever scale is spoken of, as medium is.
func (c *Chart) Named(i int) *lexis.Sense {
	it := c.Item(i)
	for _, x := range it.Senses {
		if x.Slot != "asked" || !slices.Contains(it.Names, x.Value) {
			continue
		}
		if f := it.Fact(); f == nil || f.Slot != x.Path && (x.Value == "winding" || slices.Contains([]string{"want.softness", "want.register", "want.loudest"}, f.Slot)) {
			return x
		}
	}
	return nil
}

// Answers reports whether item i says how the quality at path is to be, which is
// named beside it.
func (c *Chart) Answers(i int, path string) bool {
	it := c.Item(i)
	if !slices.Contains(it.Names, path) || it.Has("names") != nil {
		return false
	}
	x := c.Named(i)
	return it.Has(path) != nil || x != nil && x.Path == path
}

// quality returns the path of the quality that a sense of slot names is of.
func quality(x *lexis.Sense) string { return x.Value[strings.LastIndex(x.Value, " ")+1:] }

// Heading returns the path of the quality that items from..to name, where they do
// nothing else and item to+1 is in a stretch that says how it is to be; else "".
func (c *Chart) Heading(from, to int) string {
	path := ""
	for i := from; i < to; i++ {
		switch x := c.Item(i).Has("names"); {
		case x != nil:
			path = quality(x)
		case !c.leading(c.Item(i).From):
			return ""
		}
	}
	for i := to + 1; path != "" && i < len(c.Items) && c.Item(i).Mark == ""; i++ {
		if c.Answers(i, path) {
			return path
		}
	}
	return ""
}

// OnlyNames reports whether item i names a quality and another beside it says how
// that is to be: the loudest is mf.
func (c *Chart) OnlyNames(i int) bool {
	x := c.Item(i).Has("names")
	if x == nil {
		return false
	}
	path := quality(x)
	near := func(step int) bool {
		for j := i + step; j >= 0 && j < len(c.Items) && j-i < 12 && i-j < 12; j += step {
			if c.Answers(j, path) {
				return true
			}
		}
		return false
	}
	return near(1) || near(-1)
}
