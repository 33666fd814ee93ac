// Package cover lays the phrases of the word list and the quantities of a text
// over it, so that every word belongs to one item. It knows what stands beside
// what; it never decides what a sentence means.
package cover

import (
	"slices"

	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
)

// Item is a stretch of tokens that means one thing.
type Item struct {
	From, To int // tokens
	Senses   []*lexis.Sense
	Qty      *quantity.Quantity
	Note     *measure.Note
	ID       string   // of a part
	Mark     string   // punctuation
	Names    []string // qualities that its stretch names
	Slips    int
	Used     bool // something was made of it, or it is attached to what was
	Harm     bool // package harm made something of it
	Lost     bool // taken up, but without sense

	Of     string // the fact that the figure is of, where its place in a list of short answers says so
	Limit  string // most or least, where the figure is put as a limit
	Turned bool   // the limit that the words beside the figure put is the other one
}

// Has returns the item's sense of a slot, or nil.
func (it *Item) Has(slot string) *lexis.Sense {
	for _, x := range it.Senses {
		if x.Slot == slot {
			return x
		}
	}
	return nil
}

// Any reports whether the item has a sense of one of slots.
func (it *Item) Any(slots ...string) bool {
	return slices.ContainsFunc(it.Senses, func(x *lexis.Sense) bool { return slices.Contains(slots, x.Slot) })
}

// Fact returns a sense of the item that answers a fact, or nil.
func (it *Item) Fact() *lexis.Sense {
	for _, x := range it.Senses {
		if x.Fact != nil && x.Slot != "asked" {
			return x
		}
	}
	return nil
}

// Sure returns the confidence that the item's spelling leaves.
func (it *Item) Sure() float64 {
	switch it.Slips {
	case 0:
		return 1
	case 1:
		return 0.9
	}
	return 0.75
}

// Keeps returns the item's sense of keeping what it stands before or, with
// behind, what it stands behind; nil when it has none.
func (it *Item) Keeps(behind bool) *lexis.Sense {
	for _, x := range it.Senses {
		if x.Slot == "keep" && (x.Value == "after") == behind {
			return x
		}
	}
	return nil
}

// Turn returns a limit that the words beside the item's figure put on it, turned
// round where a verdict on what lies past it does that.
func (it *Item) Turn(bound string) string {
	if it.Turned {
		return Opposite(bound)
	}
	return bound
}

// Opposite returns the other limit for most or least, and what is no limit as it is.
func Opposite(bound string) string {
	switch bound {
	case "most":
		return "least"
	case "least":
		return "most"
	}
	return bound
}

// Empty reports whether the item carries nothing.
func (it *Item) Empty() bool {
	if it.Qty != nil || it.Note != nil || it.ID != "" {
		return false
	}
	if it.Mark != "" || it.Has("filler") != nil {
		return true
	}
	if it.Any("plain", "paint", "bored") || it.Fact() != nil || it.Any("move", "wish", "kind", "material") {
		return false
	}
	return len(it.Senses) > 0 && it.Slips == 0
}

// Chart is a text cut into tokens and items, the best cover of it by phrases
// and quantities.
type Chart struct {
	quantity.Words // tokens, and the sizes they spell
	Items          []Item

	line *lexis.Line // the tokens, as their phrases are looked for

	Open      string             // the path of the fact that was asked about, or ""
	Contrasts bool               // a figure or a word was denied in favour of another
	Denied    *quantity.Quantity // the figure that was
}

// New covers a text that answers to the open question.
func New(lex *lexis.Lexicon, text, open string) *Chart {
	c := &Chart{Words: quantity.Words{Lex: lex, Text: text, Tokens: lex.Tokens(text)}, Open: open}
	c.line = lex.Over(c.Tokens)
	c.scan()
	chooser{c}.contrast()
	chooser{c}.results()
	c.pairs()
	return c
}

// pairs makes a number one of pairs where what they are for or like stands between
// the two: four vibraphone pairs, three soft marimba pairs.
func (c *Chart) pairs() {
	const between = 3
	for i := range c.Items {
		q := c.Item(i).Qty
		if q == nil || q.Dim != quantity.Plain || !q.Whole || q.Value < 2 {
			continue
		}
		j := i + 1
		for j <= i+between && (c.Item(j).Fact() != nil || c.Item(j).Has("degree") != nil) && c.Item(j).Qty == nil {
			j++
		}
		switch {
		case j == i+1:
			continue
		case c.Is(j, "pairs", "pair"):
			c.Drop(j)
		case !c.At(c.Item(j-1).To - 1).Is("pairs"): // of one phrase: soft pairs
			continue
		}
		q.Dim, q.Form = quantity.Pieces, "pair"
	}
}

// Drop makes item i carry nothing.
func (c *Chart) Drop(i int) {
	it := c.Item(i)
	it.Qty, it.Note, it.Mark, it.ID = nil, nil, "", ""
	it.Senses = []*lexis.Sense{{Slot: "filler"}}
}

// Dropped reports whether item i was made to carry nothing.
func (c *Chart) Dropped(i int) bool {
	senses := c.Item(i).Senses
	return len(senses) == 1 && senses[0].Slot == "filler" && senses[0].Value == ""
}

// scan cuts the tokens into items, phrases and quantities, so that the sum of
// the squares of their lengths is greatest: "I can't use latex" holds "can't
// use latex", not "I can't".
func (c *Chart) scan() {
	type cut struct {
		score int
		n     int
		qty   *quantity.Quantity
		what  []*lexis.Sense
	}
	best := make([]cut, len(c.Tokens)+1)
	defines, names := c.defines(), c.names()
	named := func(i int) []string {
		if names == nil {
			return nil
		}
		return names[i]
	}
	for i := len(c.Tokens) - 1; i >= 0; i-- {
		b := cut{score: 1 + best[i+1].score, n: 1}
		c.Phrases(i, func(senses []*lexis.Sense, n int) {
			if !c.counts(senses, named(i), defines) {
				return
			}
			weight := n * n
			if len(senses) == 1 && senses[0].Slot == "names" {
				weight = min(n*n, n+1) // it only says what the words beside it are about
			}
			if score := weight + best[i+n].score; score > b.score || n == 1 {
				b = cut{score: score, n: n, what: senses}
			}
		})
		if q, n := c.QuantityAt(i); n > 0 {
			score := n*n + best[i+n].score
			if score > b.score || score == b.score && (!c.Asked(b.what) || c.PartWord(i+n)) { // I have 2 pine rods, though two mallets are asked about
				b = cut{score: score, n: n, qty: &q}
			}
		}
		best[i] = b
	}
	for i := 0; i < len(c.Tokens); i += best[i].n {
		t, b := c.Tokens[i], best[i]
		it := Item{From: i, To: i + b.n, Qty: b.qty, Senses: b.what, Names: named(i)}
		switch {
		case t.Kind == lexis.PartID:
			it = Item{From: i, To: i + 1, ID: t.Text}
		case it.Qty != nil:
		case it.Has("note") != nil:
			it.Note = noteOf(it.Has("note").Value)
		case len(it.Senses) == 0 && t.Kind == lexis.Word:
			it.Note = noteOf(t.Text)
		case t.Kind == lexis.Mark && b.n == 1:
			it.Mark = t.Text
		}
		for _, t := range c.Tokens[i:it.To] {
			it.Slips = max(it.Slips, t.Slips)
		}
		c.Items = append(c.Items, it)
	}
}

// Phrases calls found with every phrase at token i, as a lexis.Line does.
func (c *Chart) Phrases(i int, found func(senses []*lexis.Sense, n int)) { c.line.Phrases(i, found) }

// counts reports whether a phrase has a sense beside answers to questions that
// are neither open nor named beside it and, unless the text asks what words mean, terms of the
// glossary.
func (c *Chart) counts(senses []*lexis.Sense, named []string, defines bool) bool {
	return slices.ContainsFunc(senses, func(x *lexis.Sense) bool {
		switch x.Slot {
		case "asked":
			return x.Value == c.Open || slices.Contains(named, x.Value)
		case "term":
			return defines
		case "stroke", "tune", "quality", "shift", "shifted", "extra", "thing", "slip", "compose":
			return false
		}
		return true
	})
}

// defines reports whether the text may ask what a word means.
func (c *Chart) defines() bool {
	if n := len(c.Tokens); n > 0 && c.Tokens[n-1].Is("?") {
		return true
	}
	for i := range c.Tokens {
		if x, _ := c.SlotAt(i, "act"); x != nil && reading.Act(x.Value) == reading.Define {
			return true
		}
	}
	return false
}

// Asked reports whether one of the senses answers the open question.
func (c *Chart) Asked(senses []*lexis.Sense) bool {
	return slices.ContainsFunc(senses, func(x *lexis.Sense) bool { return x.Slot == "asked" && x.Value == c.Open })
}

// noteOf reads a note name, or returns nil.
func noteOf(text string) *measure.Note {
	n, err := measure.ParseNote(text)
	if err != nil {
		return nil
	}
	return &n
}

// Said returns the text of items from..to.
func (c *Chart) Said(from, to int) string {
	return c.Text[c.Tokens[c.Items[from].From].From:c.Tokens[c.Items[to-1].To-1].To]
}

// Item returns items[i], or an empty one past either end.
func (c *Chart) Item(i int) *Item {
	if i < 0 || i >= len(c.Items) {
		return &Item{Mark: ".", From: -1, To: -1}
	}
	return &c.Items[i]
}

// Word returns the first token of item i.
func (c *Chart) Word(i int) string { return c.At(c.Item(i).From).Text }

// Is reports whether item i is one word, and one of words.
func (c *Chart) Is(i int, words ...string) bool {
	it := c.Item(i)
	return it.To == it.From+1 && slices.Contains(words, c.Word(i))
}

// Starts reports whether item i begins with one of words.
func (c *Chart) Starts(i int, words ...string) bool { return slices.Contains(words, c.Word(i)) }

// Filler reports whether items[i] carries nothing and ends nothing.
func (c *Chart) Filler(i int) bool { return c.Item(i).Has("filler") != nil && c.Item(i).Qty == nil }

// ClauseEnds reports whether nothing but fillers stands between item i and
// the end of its clause.
func (c *Chart) ClauseEnds(i int) bool {
	for c.Filler(i) {
		i++
	}
	it := c.Item(i)
	return it.Mark != "" && it.Mark != "-" || it.Has("join") != nil && it.Has("join").Value == "but"
}

// SentenceEnds reports whether item i is a mark that ends a sentence, or stands past
// either end.
func (c *Chart) SentenceEnds(i int) bool {
	switch c.Item(i).Mark {
	case ".", ";", "!", "?", "!?":
		return true
	}
	return false
}

// Sentence returns the items from..to with all that stands on either side of them in the
// same sentence.
func (c *Chart) Sentence(from, to int) (first, end int) {
	for !c.SentenceEnds(from - 1) {
		from--
	}
	for !c.SentenceEnds(to) {
		to++
	}
	return from, to
}

// PastFiller returns i past fillers and commas.
func (c *Chart) PastFiller(i int) int {
	for c.Filler(i) || c.Item(i).Mark == "," && i < len(c.Items) {
		i++
	}
	return i
}

// Minus reports whether the number at item i is written as below zero.
func (c *Chart) Minus(i int) bool {
	sign, number := c.At(c.Item(i).From-1), c.At(c.Item(i).From)
	return sign.Is("-") && number.Near && !sign.Near
}

// OfPart reports whether item i belongs to a part.
func (c *Chart) OfPart(i int) bool {
	it := c.Item(i)
	return it.Has("kind") != nil || it.Has("material") != nil
}

// Subject reports whether item i may be the subject of a clause.
func (c *Chart) Subject(i int) bool {
	return c.Starts(i, "i", "im", "ive", "ill", "id", "we", "weve", "were", "he", "hes", "she", "shes", "they", "theyre", "theyd", "you", "its", "it", "my", "our", "the", "this", "that", "there", "theres", "his", "her", "one")
}

// HasWord reports whether one of words stands in the items from..to, as far as
// there are any.
func (c *Chart) HasWord(from, to int, words ...string) bool {
	from, to = max(from, 0), min(to, len(c.Items))
	if from >= to {
		return false
	}
	for k := c.Item(from).From; k < c.Item(to-1).To; k++ {
		if slices.Contains(words, c.At(k).Text) {
			return true
		}
	}
	return false
}

// Figured reports whether a quantity stands among the items from..to.
func (c *Chart) Figured(from, to int) bool {
	for i := from; i < to; i++ {
		if c.Item(i).Qty != nil {
			return true
		}
	}
	return false
}

// Says reports whether one of words stands in item i.
func (c *Chart) Says(i int, words ...string) bool { return c.HasWord(i, i+1, words...) }

// Unknown reports whether item i is a word that the word list gives no use for.
func (c *Chart) Unknown(i int) bool {
	it := c.Item(i)
	return it.Mark == "" && it.Qty == nil && it.Note == nil && it.ID == "" && (len(it.Senses) == 0 || it.Has("plain") != nil) && !it.Used
}

// KindNear returns the kind of instrument the sentence names, nearest to item
// i, or "".
func (c *Chart) KindNear(i int) string {
	best, far := "", len(c.Items)+1
	for j := range c.Items {
		for _, x := range c.Items[j].Senses {
			if d := max(j-i, i-j); x.Slot == "instrument.kind" && d < far {
				best, far = x.Value, d
			}
		}
	}
	return best
}

// Clip shortens a stretch that is said back.
func Clip(text string) string {
	const most = 60
	n := 0
	for i := range text {
		if n++; n > most {
			return text[:i] + "…"
		}
	}
	return text
}
