package understand

import (
	"slices"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// item is a stretch of tokens that means one thing.
type item struct {
	from, to int // tokens
	senses   []*lexis.Sense
	qty      *quantity
	note     *measure.Note
	id       string // of a part
	mark     string // punctuation
	slips    int
	used     bool // something was made of it, or it is attached to what was
	harm     bool // package harm made something of it
	lost     bool // taken up, but without sense
}

// has returns the item's sense of a slot, or nil.
func (it *item) has(slot string) *lexis.Sense {
	for _, x := range it.senses {
		if x.Slot == slot {
			return x
		}
	}
	return nil
}

// any reports whether the item has a sense of one of slots.
func (it *item) any(slots ...string) bool {
	return slices.ContainsFunc(it.senses, func(x *lexis.Sense) bool { return slices.Contains(slots, x.Slot) })
}

// fact returns a sense of the item that answers a fact, or nil.
func (it *item) fact() *lexis.Sense {
	for _, x := range it.senses {
		if x.Fact != nil && x.Slot != "asked" {
			return x
		}
	}
	return nil
}

// keeps returns the item's sense of keeping what it stands before or, with
// behind, what it stands behind; nil when it has none.
func (it *item) keeps(behind bool) *lexis.Sense {
	for _, x := range it.senses {
		if x.Slot == "keep" && (x.Value == "after") == behind {
			return x
		}
	}
	return nil
}

// empty reports whether the item carries nothing.
func (it *item) empty() bool {
	if it.qty != nil || it.note != nil || it.id != "" {
		return false
	}
	if it.mark != "" || it.has("filler") != nil {
		return true
	}
	if it.any("plain", "paint") || it.fact() != nil || it.any("move", "wish", "kind", "material") {
		return false
	}
	return len(it.senses) > 0 && it.slips == 0
}

// chart is a text cut into tokens and items, the best cover of it by phrases
// and quantities.
type chart struct {
	words // tokens, and the sizes they spell
	r     *Reader
	ctx   Context
	items []item
}

func newChart(r *Reader, text string, ctx Context) *chart {
	c := &chart{words: words{lex: r.words, text: text, tokens: r.words.Tokens(text)}, r: r, ctx: ctx}
	c.scan()
	return c
}

// scan cuts the tokens into items, phrases and quantities, so that the sum of
// the squares of their lengths is greatest: "I can't use latex" holds "can't
// use latex", not "I can't".
func (c *chart) scan() {
	type cut struct {
		score int
		n     int
		qty   *quantity
		what  []*lexis.Sense
	}
	best := make([]cut, len(c.tokens)+1)
	defines := c.defines()
	for i := len(c.tokens) - 1; i >= 0; i-- {
		b := cut{score: 1 + best[i+1].score, n: 1}
		c.lex.Phrases(c.tokens, i, func(senses []*lexis.Sense, n int) {
			if !c.open(senses, defines) {
				return
			}
			if score := n*n + best[i+n].score; score > b.score || n == 1 {
				b = cut{score: score, n: n, what: senses}
			}
		})
		if q, n := c.quantityAt(i); n > 0 {
			score := n*n + best[i+n].score
			if score > b.score || score == b.score && !c.asked(b.what) {
				b = cut{score: score, n: n, qty: &q}
			}
		}
		best[i] = b
	}
	for i := 0; i < len(c.tokens); i += best[i].n {
		t, b := c.tokens[i], best[i]
		it := item{from: i, to: i + b.n, qty: b.qty, senses: b.what}
		switch {
		case t.Kind == lexis.PartID:
			it = item{from: i, to: i + 1, id: t.Text}
		case it.qty != nil:
		case it.has("note") != nil:
			it.note = noteOf(it.has("note").Value)
		case len(it.senses) == 0 && t.Kind == lexis.Word:
			it.note = noteOf(t.Text)
		case t.Kind == lexis.Mark && b.n == 1:
			it.mark = t.Text
		}
		for _, t := range c.tokens[i:it.to] {
			it.slips = max(it.slips, t.Slips)
		}
		c.items = append(c.items, it)
	}
}

// open reports whether a phrase has a sense beside answers to questions that
// are not open and, unless the text asks what words mean, terms of the
// glossary.
func (c *chart) open(senses []*lexis.Sense, defines bool) bool {
	return slices.ContainsFunc(senses, func(x *lexis.Sense) bool {
		switch x.Slot {
		case "asked":
			return x.Value == c.ctx.Asked
		case "term":
			return defines
		}
		return true
	})
}

// defines reports whether the text may ask what a word means.
func (c *chart) defines() bool {
	if n := len(c.tokens); n > 0 && c.tokens[n-1].Is("?") {
		return true
	}
	for i := range c.tokens {
		if x, _ := c.slotAt(i, "act"); x != nil && Act(x.Value) == Define {
			return true
		}
	}
	return false
}

// asked reports whether one of the senses answers the open question.
func (c *chart) asked(senses []*lexis.Sense) bool {
	return slices.ContainsFunc(senses, func(x *lexis.Sense) bool { return x.Slot == "asked" && x.Value == c.ctx.Asked })
}

// noteOf reads a note name, or returns nil.
func noteOf(text string) *measure.Note {
	n, err := measure.ParseNote(text)
	if err != nil {
		return nil
	}
	return &n
}

// said returns the text of items from..to.
func (c *chart) said(from, to int) string {
	return c.text[c.tokens[c.items[from].from].From:c.tokens[c.items[to-1].to-1].To]
}

// item returns items[i], or an empty one past either end.
func (c *chart) item(i int) *item {
	if i < 0 || i >= len(c.items) {
		return &item{mark: ".", from: -1, to: -1}
	}
	return &c.items[i]
}

// word returns the first token of item i.
func (c *chart) word(i int) string { return c.at(c.item(i).from).Text }

// is reports whether item i is one word, and one of words.
func (c *chart) is(i int, words ...string) bool {
	it := c.item(i)
	return it.to == it.from+1 && slices.Contains(words, c.word(i))
}

// starts reports whether item i begins with one of words.
func (c *chart) starts(i int, words ...string) bool { return slices.Contains(words, c.word(i)) }

// filler reports whether items[i] carries nothing and ends nothing.
func (c *chart) filler(i int) bool { return c.item(i).has("filler") != nil && c.item(i).qty == nil }

// clauseEnds reports whether nothing but fillers stands between item i and
// the end of its clause.
func (c *chart) clauseEnds(i int) bool {
	for c.filler(i) {
		i++
	}
	it := c.item(i)
	return it.mark != "" && it.mark != "-" || it.has("join") != nil && it.has("join").Value == "but"
}

// pastFiller returns i past fillers and commas.
func (c *chart) pastFiller(i int) int {
	for c.filler(i) || c.item(i).mark == "," && i < len(c.items) {
		i++
	}
	return i
}

// names reports whether the item settles one of the facts.
func (c *chart) names(it *item, paths ...string) bool { return it.any(paths...) }

// clip shortens a stretch that is said back.
func clip(text string) string {
	const most = 60
	n := 0
	for i := range text {
		if n++; n > most {
			return text[:i] + "…"
		}
	}
	return text
}
