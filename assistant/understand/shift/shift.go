// Package shift knows the shapes in which people say by how much a figure is to move:
// put five grams on, goes down by seven, an eighth less. It makes moves of such figures
// in a chart, so that none is taken for what a head should come to; it takes nothing.
package shift

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// marker marks the figures of one chart.
type marker struct{ *cover.Chart }

// Mark makes moves of the figures of a chart that say by how much something is to move:
// the word for the way becomes a relative wish, which the figure belongs to.
func Mark(c *cover.Chart) {
	m := marker{c}
	m.counted()
	for i := range m.Items {
		if q := m.Item(i).Qty; q != nil && !m.Item(i).Harm {
			m.mark(i)
		}
	}
}

// counted joins a number to a unit that stands apart from it: four more grams, grams 6.
func (m marker) counted() {
	for i := range m.Items {
		q := m.Item(i).Qty
		if unit := m.unit(i); q == nil && unit != "" && unit != "money" && m.HasWord(i-2, i, "few", "couple") { // a few grams up
			q = &quantity.Quantity{Dim: quantity.Plain, Value: 3}
			if m.HasWord(i-2, i, "couple") {
				q.Value = 2
			}
			q.SetUnit(quantity.Unit(unit))
			*m.Item(i) = cover.Item{From: m.Item(i).From, To: m.Item(i).To, Qty: q}
		}
		if q == nil || q.Dim != quantity.Plain || q.Frac {
			continue
		}
		for _, j := range []int{i + 2, i - 1} {
			switch x := m.Item(i + 1).Has("move"); {
			case j > i && x != nil && x.Value == facts.WantMassG && m.Says(i+1, "grams", "gram") && m.Says(i+1, "more", "extra", "less", "fewer"): // one phrase
				q.SetUnit(quantity.Unit("g"))
			case j > i && !m.Is(i+1, "more", "extra", "less", "fewer", "additional", "further"), m.Item(j).Qty != nil, j < i && m.unit(i+1) != "":
			case m.unit(j) != "":
				q.SetUnit(quantity.Unit(m.unit(j)))
				m.Drop(j)
			}
		}
	}
}

// unit returns the unit of mass or length, or of money, that item i is, or "".
func (m marker) unit(i int) string {
	it := m.Item(i)
	if it.To != it.From+1 || it.Qty != nil {
		return ""
	}
	switch {
	case m.Is(i, "grams", "grammes", "gram", "gramme"): // also words for weight
		return "g"
	case m.Is(i, "millimetres", "millimeters", "millimetre", "millimeter", "mm"):
		return "mm"
	case m.Is(i, "dollars", "euros", "euro", "pounds", "quid", "bucks", "rupees"):
		return "money"
	}
	return ""
}

// mark makes a move of the figure at item i, if words for a way stand beside it.
func (m marker) mark(i int) {
	from, to := m.span(i)
	verb := m.verb(i, from)
	way, at, end := m.over(i)
	much := way != "" // too much is an order, not a tale
	if !much {
		way, at, end = m.behind(i, from, to, verb)
	}
	if way == "" {
		way, at, end = m.before(i, from, verb)
	}
	if way == "" || !m.step(i) || m.aside(i, from, to, verb.at) {
		return
	}
	path := m.path(i, from, to, at)
	if path == "" {
		return
	}
	if !much && (m.told(i, from, to) || m.ofLimit(from, i)) {
		*m.Item(i) = cover.Item{From: m.Item(i).From, To: m.Item(i).To} // not what a head should come to either
		return
	}
	for j := min(at, verb.at, i); j < max(end, i); j++ {
		if j != i {
			m.Drop(j)
		}
	}
	for j := from; j < to; j++ {
		if m.topic(j, j+1) == path {
			m.Drop(j) // what moves
		}
	}
	by := 1.0
	if way == "down" {
		by = -1
	}
	if at < i {
		at = i - 1
	}
	m.Item(at).Senses = []*lexis.Sense{{Slot: "move", Value: path, Num: by, Say: m.Said(at, at+1)}}
}

// told reports whether the clause from..to of the figure at item i tells how something is
// or was, and orders nothing: the old ones weigh 5 g more; I took 5 g off.
func (m marker) told(i, from, to int) bool {
	if m.HasWord(from, to, "took", "went", "came", "lost", "gained", "added", "shaved", "knocked", "was", "were", "had", "ago", "already", "last") {
		return true
	}
	if m.HasWord(from, i, "should", "must", "want", "wants", "make", "need", "needs", "like", "could", "can", "may", "might", "would", "please", "to", "id", "let", "lets", "if") {
		return false
	}
	if m.HasWord(from, i, "weigh", "weighs", "is", "are", "cost", "costs", "measure", "measures", "theyre", "its", "charge", "charges", "asks") {
		return true
	}
	for j := from; j < i; j++ {
		if m.Starts(j, "i", "we", "he", "she", "they", "you") && !m.Starts(j+1, "go", "come") {
			return true
		}
	}
	return false
}

// ofLimit reports whether a limit is what the items from..to say that moves: lower the
// ceiling by 5 g.
func (m marker) ofLimit(from, to int) bool {
	return m.HasWord(from, to, "limit", "ceiling", "cap", "floor", "maximum", "minimum") && m.HasWord(from, to, "by") ||
		m.Item(to-1).Has("bound") != nil && m.Item(to-1).Has("bound").Value != "about"
}

// span returns the items from..to of the clause of the figure at item i that are
// nearer to it than to another figure.
func (m marker) span(i int) (from, to int) {
	stop := func(j int) bool {
		it := m.Item(j)
		return it.Mark != "" && it.Mark != "-" && it.Mark != "+" || it.Qty != nil || m.Is(j, "and", "but", "so", "then", "because", "if", "or", "which", "when")
	}
	from, to = i, i+1
	for from > 0 && !stop(from-1) {
		from--
	}
	for to < len(m.Items) && !stop(to) {
		to++
	}
	return from, to
}

// way returns the way of the longest phrase of slot that item i begins, up or down,
// and the item behind it.
func (m marker) way(i int, slot string) (x string, end int) {
	if m.Item(i).From < 0 {
		return "", i
	}
	s, n := m.Lex.Longest(m.Tokens, m.Item(i).From, slot)
	if s == nil {
		return "", i
	}
	for end = i; m.Item(end).From >= 0 && m.Item(end).From < m.Item(i).From+n; end++ {
	}
	return s.Value, end
}

// over returns the way out of what is said to be too much by the figure at item i, where
// the words for that stand, and the item behind them: 2 mm too big.
func (m marker) over(i int) (way string, at, end int) {
	x := m.Item(i + 2).Has("wish")
	if !m.Is(i+1, "too") || x == nil || x.Value != facts.WantMassG && x.Value != facts.WantDiameterMM {
		return "", i, i
	}
	if x.Num > 0 {
		return "down", i + 1, i + 3
	}
	return "up", i + 1, i + 3
}

// verb is a verb that moves what stands behind it.
type verb struct {
	way  string // up or down, "" for none
	at   int
	bare bool // it moves nothing without a word like up or off
}

// behind returns the way that is said behind the figure at item i, where the word for it
// stands, and the item behind that: ten grams less, two grams off the head.
func (m marker) behind(i, from, to int, v verb) (way string, at, end int) {
	j := i + 1
	way, end = m.way(j, "shifted")
	switch {
	case way == "", m.Starts(end, "or", "like", "is", "are", "welcome", "even"), m.HasWord(max(from, i-2), i, "to", "at"):
	case m.Starts(end, "than") && m.Item(end+1).Qty != nil, m.Starts(end, "would") && !m.HasWord(end, end+3, "better", "good", "great", "nice", "ideal", "perfect", "right", "lovely", "best"):
	case m.Is(j, "on") && v.way != "up", m.Is(j, "up", "down") && v.way == "" && m.topic(from, i) == "": // 30 g on the kitchen scale; 24 g up
	case m.Is(j, "off") && m.HasWord(end, min(end+4, to), "bar", "bars", "centre", "center", "floor", "ground", "edge"):
	default:
		return way, j, end
	}
	return "", i, i
}

// before returns the way that is said before the figure at item i, and where the words
// for it begin: go up half an ounce, another 5 g, the weight goes down by seven.
func (m marker) before(i, from int, v verb) (way string, at, end int) {
	way, end = m.way(i-1, "extra")
	switch {
	case way != "" && end == i && !m.Says(i-1, "than", "then") && (!m.Is(i-1, "plus", "minus") || i-1 == from && m.SentenceEnds(i-2)):
		return way, i - 1, i
	case m.Item(i-1).Mark == "+" && m.Item(i-2).Qty == nil: // weight +4
		return "up", i - 1, i
	case v.bare:
		return "", i, i
	}
	return v.way, v.at, i
}

// verb returns the verb before the figure at item i. One that names where it should come
// to moves nothing: bring it down to 24 g.
func (m marker) verb(i, from int) verb {
	for j := i - 1; j >= from; j-- {
		if x := m.Item(j).Has("bound"); x != nil && x.Value == "most" && m.Says(j, "to") && m.Says(j, "up") { // up to 50 dollars
			break
		}
		if way, end := m.way(j, "shift"); way != "" && end <= i {
			v := verb{way: way, at: j}
			if m.Says(j, "bring", "take", "move", "get", "push", "nudge", "go", "goes", "going", "come", "comes", "put", "stick", "slap", "pile", "pack", "load", "bung") {
				switch {
				case m.HasWord(j, i, "up", "on"):
					v.way = "up"
				case m.HasWord(j, i, "down", "off"):
					v.way = "down"
				default:
					v.bare = true
				}
			}
			if m.order(from, j) {
				return v
			}
			break
		}
		if m.Starts(j, "to", "at", "than", "is", "of", "under", "over", "for", "from", "between", "as") || m.Item(j).Has("bound") != nil && m.Item(j).Has("bound").Value != "about" || m.OfPart(j) {
			break
		}
	}
	return verb{at: i}
}

// order reports whether what stands before item j in its clause leaves a verb there one
// that orders: please, could you, the weight, it can.
func (m marker) order(from, j int) bool {
	for k := from; k < j; k++ {
		if !m.Filler(k) && !m.Item(k).Any("join", "social", "degree", "topic", "mend", "role") && !m.Subject(k) &&
			!m.Starts(k, "please", "can", "could", "would", "will", "just", "lets", "now", "want", "i", "to", "maybe", "you", "we", "head", "heads", "should", "must", "may", "might", "make", "have", "need", "needs") {
			return false
		}
	}
	return !m.HasWord(from, j, "didnt", "dont", "not", "never", "cant", "wont", "already")
}

// topic returns the fact that the items from..to name as what moves, or "".
func (m marker) topic(from, to int) string {
	for j := from; j < to; j++ {
		if t := m.Item(j).Has("topic"); t != nil {
			for _, x := range t.Topic {
				switch x.ID {
				case facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents:
					return x.ID
				}
			}
		}
		switch {
		case m.Is(j, "diameter", "width", "across"):
			return facts.WantDiameterMM
		case m.Says(j, "purse", "price", "money"):
			return facts.WantBudgetCents
		}
	}
	return ""
}

// path returns the fact that the figure at item i moves, or "", and puts a bare figure
// in the unit of what moves.
func (m marker) path(i, from, to, at int) string {
	q := m.Item(i).Qty
	if q.Dim != quantity.Plain {
		return figure.Of(q.Dim)
	}
	topic := m.topic(from, to)
	for k := from; topic == "" && m.Starts(from, "that", "it", "this", "which", "they") && k > 0 && !m.SentenceEnds(k-1); k-- {
		topic = m.topic(k-1, k) // everything but the weight, that goes down by seven
	}
	if topic == "" || at > i && !m.Is(at, "off") {
		return ""
	}
	unit := "money"
	switch {
	case topic == facts.WantMassG:
		unit = "g"
	case topic == facts.WantDiameterMM && q.Frac:
		unit = "in"
	case topic == facts.WantDiameterMM:
		unit = "mm"
	}
	q.SetUnit(quantity.Unit(unit))
	return topic
}

// step reports whether the figure at item i lies where people move a head by, and not
// where heads lie: 24 g, 32 mm.
func (m marker) step(i int) bool {
	q := m.Item(i).Qty
	switch q.Dim {
	case quantity.Mass:
		return measure.Mass(q.Value).Grams() <= 15
	case quantity.Length:
		return measure.Length(q.Value).MM() <= 14
	}
	return true
}

// aside reports whether the figure at item i is one of a part or a stock of it: 2 mm off
// the dowel, another 5 g of wool. At is the word for its way.
func (m marker) aside(i, from, to, at int) bool {
	for j := from; j < to; j++ {
		switch it := m.Item(j); {
		case m.OfPart(j) && (m.Item(i).Qty.Dim == quantity.Length || j > i && j < i+5):
			return true
		case j != at && it.Any("holding") && it.Has("holding").Value != "want" && it.Has("holding").Value != "need":
			return true
		}
	}
	return false
}
