// Package limit knows the shapes in which people put a limit on a figure: the word
// beside it, the second of two, the verdict on what lies past it. It marks the
// figures of a chart with what it finds, and takes nothing of them.
package limit

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// The two limits, as a reading names them.
const (
	Most  = "most"
	Least = "least"
)

// Against returns the limit that stands against a move by, most against one up.
func Against(by float64) string {
	if by > 0 {
		return Most
	}
	return Least
}

// marker marks the figures of one chart.
type marker struct{ *cover.Chart }

// Mark marks the figures of a chart that are limits, and gives those without a unit
// that of another limit nearby.
func Mark(c *cover.Chart) {
	m := marker{c}
	pointer{m}.that()
	pointer{m}.levels()
	m.sharp()
	likeness{m}.allowed()
	likeness{m}.likened()
	likeness{m}.beyond()
	m.past()
	m.trailing()
	m.within()
	m.through()
	m.open()
	m.pairs()
	m.spans()
	m.edges()
	m.verdicts()
	m.units()
	pointer{m}.called()
	pointer{m}.pushed()
}

// open marks the figures that are written with an open end, and joins a unit that
// stands behind that: 24+ g, 24 g plus, three or more pairs.
func (m marker) open() {
	for i := range m.Items {
		q, next := m.Item(i).Qty, m.Item(i+1)
		if !m.limitable(i) {
			continue
		}
		unit := m.Item(i + 2)
		mark := func(bound string) {
			m.Item(i).Limit = bound
			if x := unit.Has("unit"); x != nil && q.Dim == quantity.Plain && m.inUnit(q, x.Value) {
				m.Drop(i + 2)
			}
			m.Drop(i + 1)
		}
		if m.Is(i+1, "odd") && !m.ClauseEnds(i+2) { // forty odd shafts
			m.Drop(i + 1)
			continue
		}
		if next.Mark == "-" && m.Is(i+2, "odd") { // forty-odd
			m.Drop(i + 1)
			m.Drop(i + 2)
			continue
		}
		if next.Mark == "-" && m.Is(i+2, "ish") { // thirty-ish
			m.Drop(i + 1)
			m.Drop(i + 2)
			m.Item(i).Limit = "about"
			continue
		}
		switch {
		case q.Form == "decade" && m.Item(i).Limit == "": // in the twenties
			m.Item(i).Limit = "about"
		case m.Is(i+1, "ish") && m.Item(i).Limit == "": // 28ish, 30ish grams
			mark("about")
		case next.Mark == "+" || m.Is(i+1, "plus") && (m.ClauseEnds(i+2) || unit.Has("role") != nil):
			if unit.Qty != nil || unit.Mark == "/" {
				continue // 20 + 5, 20 +/- 2
			}
			mark(Least)
		case next.Has("bound") != nil && m.Starts(i+1, "or") && q.Dim == quantity.Plain:
			switch x := unit.Has("unit"); {
			case x != nil && m.inUnit(q, x.Value):
			case m.Is(i+2, "pairs", "pair") && q.Whole:
				q.Dim, q.Form = quantity.Pieces, "pair"
			case m.Is(i+2, "grams", "gram"): // also a word for weight
				m.inUnit(q, "g")
			default:
				continue
			}
			m.Item(i).Limit = next.Has("bound").Value
			m.Drop(i + 1)
			m.Drop(i + 2)
		}
	}
}

// pairs marks two numbers of pairs between which it may lie: two or three pairs, 2-3
// pairs, between two and four pairs; three pairs or four.
func (m marker) pairs() {
	whole := func(i int) bool {
		q := m.Item(i).Qty
		return q != nil && q.Whole && q.Dim == quantity.Plain && !m.Item(i).Harm
	}
	for i := range m.Items {
		if j := i - 1; m.Item(i).Qty == nil && m.Is(i, "pairs") { // a couple of pairs
			for m.Is(j, "of") {
				j--
			}
			if m.Item(j).Qty == nil && (m.Says(j, "couple") || m.Is(j, "pair")) {
				m.Item(i).Qty = &quantity.Quantity{Dim: quantity.Pieces, Value: 2, Form: "pair", Whole: true, Spelt: true}
				m.Drop(j)
			}
		}
		if m.another(i) {
			continue
		}
		q := m.Item(i).Qty
		if q == nil || q.Dim != quantity.Pieces || q.Form != "pair" || !q.Whole {
			continue
		}
		link := func(j int) bool {
			x := m.Item(j).Has("span")
			return m.Item(j).Mark == "-" || m.Is(j, "or") || x != nil && x.Value == "to" || m.Is(j, "and") && m.Item(j-2).Has("span") != nil
		}
		low, high := -1, -1
		switch {
		case whole(i-2) && link(i-1) && m.Item(i-2).Qty.Value < q.Value:
			low, high = i-2, i
		case whole(i+2) && m.Is(i+1, "or") && m.Item(i+2).Qty.Value > q.Value && !m.Item(i+3).Any("unit", "kind", "form", "material"):
			low, high = i, i+2
		default:
			continue
		}
		for _, j := range []int{low, high} {
			m.Item(j).Qty.Dim, m.Item(j).Qty.Form = quantity.Pieces, "pair"
		}
		m.Item(low).Limit, m.Item(high).Limit = Least, Most
		m.Drop(low + 1)
	}
}

// another counts the one that is told apart from the pair at item i, and reports whether
// there is one: a pair for me and one for my sister.
func (m marker) another(i int) bool {
	if !m.Says(i, "pair") || m.Item(i).Fact() != nil || m.Item(i).Qty != nil && m.Item(i).Qty.Value != 1 || !m.Starts(i+1, "for") {
		return false
	}
	for j := i + 2; j < i+8 && j < len(m.Items) && !m.SentenceEnds(j); j++ {
		one := m.Item(j).Qty
		if one == nil {
			continue
		}
		if one.Dim != quantity.Plain || one.Value != 1 || !m.Is(j-1, "and", "&", "plus") || !m.Starts(j+1, "for") {
			return false
		}
		m.Item(i).Qty = &quantity.Quantity{Dim: quantity.Pieces, Value: 2, Form: "pair", Whole: true, Spelt: true}
		m.Drop(j)
		return true
	}
	return false
}

// spans marks two figures of a kind with up to between them: 20 g up to 30 g.
func (m marker) spans() {
	for i := range m.Items {
		q, high := m.Item(i).Qty, m.Item(i+2).Qty
		if q != nil && high != nil && m.Item(i+1).Has("bound") != nil && m.Starts(i+1, "up") && m.Says(i+1, "to") && (q.Value < high.Value || q.Dim == quantity.Plain && q.Value*high.Unit < high.Value) && (q.Dim == high.Dim || q.Dim == quantity.Plain) && m.limitable(i) && !m.limited(i-2) {
			m.Share(i, i+2)
			m.Item(i).Limit, m.Item(i+2).Limit = Least, Most
			m.Drop(i + 1)
		}
	}
}

// inUnit makes a bare figure one in a unit of the word list. It reports whether the
// unit is one of mass or length.
func (m marker) inUnit(q *quantity.Quantity, unit string) bool {
	dim, size := quantity.Unit(unit)
	if dim != quantity.Mass && dim != quantity.Length {
		return false
	}
	q.SetUnit(dim, size)
	return true
}

// edges marks the figures that a word for an edge stands beside: 30 g is the floor
// and 36 the ceiling; the widest I'd go is an inch and a quarter.
func (m marker) edges() {
	for i := range m.Items {
		x := m.Item(i).Has("edge")
		if x == nil {
			continue
		}
		at := m.before(i)
		if at < 0 || m.Item(at).Limit != "" {
			at = m.after(i)
		}
		if mark := m.Item(i - 1).Mark; at < 0 && (mark == "," || mark == "." || mark == "-" || mark == ";") && m.Starts(i, "thats", "and", "but", "if", "no", "that", "or", "nothing") { // 36 grams, if not more
			at = m.before(i - 1)
		}
		if at < 0 || m.Item(at).Limit != "" {
			switch {
			case m.takesBack(): // the floor can go too
			case Compared(m.Chart, i) != "": // softer and no heavier
				m.Item(i).Senses = []*lexis.Sense{{Slot: "bound", Value: x.Value, Say: x.Say}}
			default:
				m.forget(i, "edge")
			}
			continue
		}
		m.Item(at).Limit = x.Value
		if x.Value == "else" { // 40 g or it's no use
			m.Item(at).Limit = Least
			if m.Item(at).Qty.Dim == quantity.Money {
				m.Item(at).Limit = Most
			}
		}
		m.measure(at, i)
		m.Drop(i)
	}
}

// takesBack reports whether the text takes something back.
func (m marker) takesBack() bool {
	return slices.ContainsFunc(m.Items, func(it cover.Item) bool { return it.Has("withdraw") != nil })
}

// forget leaves item i without its senses of slot, of which nothing was made.
func (m marker) forget(i int, slot string) {
	it := m.Item(i)
	it.Senses = slices.DeleteFunc(slices.Clone(it.Senses), func(x *lexis.Sense) bool { return x.Slot == slot })
}

// before returns the figure that stands before item i, with no more between than
// what goes with it, or -1: 30 mm across is the floor, 20 a pair at the very top.
func (m marker) before(i int) int {
	for j := i - 1; j > i-6 && j >= 0; j-- {
		switch it := m.Item(j); {
		case m.limitable(j):
			return j
		case m.Filler(j), it.Any("role", "share", "bound"), m.Is(j, "as", "or", "and", "at"):
		default:
			return -1
		}
	}
	return -1
}

// after returns the figure that item i is said of and that follows it, or -1: the
// ceiling for me is 24; floor: 20 g.
func (m marker) after(i int) int {
	for j := i + 1; j < i+8 && j < len(m.Items); j++ {
		switch it := m.Item(j); {
		case m.limitable(j):
			return j
		case m.Filler(j), it.Any("topic", "role", "share", "kind"), it.Mark == ":", it.Mark == "," && j == i+1 && m.Says(i, "limit", "ceiling", "floor", "cap", "maximum", "minimum"), it.Mark == "=", m.Is(j, "at", "on", "of", "is", "=", "to"):
		case it.Has("bound") != nil && it.Has("bound").Value == "about":
		default:
			return -1
		}
	}
	return -1
}

// limitable reports whether item i is a figure that a limit can be put on.
func (m marker) limitable(i int) bool {
	q := m.Item(i).Qty
	if q == nil {
		return false
	}
	switch q.Dim {
	case quantity.Mass, quantity.Length, quantity.Money, quantity.Notches:
		return true
	case quantity.Plain:
		t := m.At(m.Item(i).To)
		return !m.Item(i).Harm && !(t.Near && (t.Is("th") || t.Is("st") || t.Is("nd") || t.Is("rd"))) // until the 28th
	case quantity.Pieces:
		return q.Form == "pair"
	}
	return false
}

// units gives a bare number that is a limit the unit of another limit nearby: not
// below 20 and not above 26 mm; 20 g as a minimum, and the ceiling for me is 24.
func (m marker) units() {
	for i := range m.Items {
		q := m.Item(i).Qty
		if q == nil || q.Dim != quantity.Plain || !m.limitable(i) || !m.limited(i) || m.Item(i+1).Any("role", "count", "topic", "kind", "form", "share") {
			continue
		}
		if m.measure(i, m.wordBefore(i)) || m.measure(i, i+1) {
			continue
		}
		if m.topical(i) {
			continue
		}
		if q.Frac {
			for j := i - 1; j > i-8; j-- {
				if o := m.Item(j).Qty; o != nil && o.Dim == quantity.Length && o.Frac && m.beside(j, i) && alike(q.Value, o.Value/o.Unit) {
					m.Share(i, j) // roughly 1 1/4 in, never above 1 3/8
				}
			}
			continue
		}
		if m.spoken(i) {
			continue
		}
		for far := 2; far < 26; far++ {
			for _, j := range []int{i + far, i - far} {
				if o := m.Item(j).Qty; o != nil && (o.Dim == quantity.Mass || o.Dim == quantity.Length || o.Dim == quantity.Money) && q.Dim == quantity.Plain && (m.limited(j) || j < i && m.beside(j, i)) && alike(q.Value, o.Value/o.Unit) {
					m.Share(i, j)
				}
			}
		}
	}
}

// topical gives the bare limit at item i the unit of the measure that its own clause names
// before it: weight: max 30, size: max 35. It reports whether it did.
func (m marker) topical(i int) bool {
	for j := i - 1; j >= 0 && j > i-8 && (m.Item(j).Mark == "" || m.Item(j).Mark == ":"); j-- {
		t := m.Item(j).Has("topic")
		if m.Item(j).Qty != nil || m.OfPart(j) {
			return false
		}
		if t == nil {
			continue
		}
		q := m.Item(i).Qty
		switch t.Topic[0].ID {
		case facts.WantMassG:
			return m.inUnit(q, "g")
		case facts.WantDiameterMM:
			q.SetUnit(quantity.Length, quantity.GuessUnit(*q))
			return true
		}
		return false
	}
	return false
}

// beside reports whether the figure at item j is the last before that at item i, and no
// part is spoken of between: about 30 g, not over 32.
func (m marker) beside(j, i int) bool {
	if m.Starts(j+1, "of") || m.Item(j).Qty.Dim != quantity.Money && m.Item(j).Qty.Unit > 0.03 {
		return false
	}
	for k := j + 1; k < i; k++ {
		if m.Item(k).Qty != nil || m.OfPart(k) || m.Item(k).Any("count", "instrument.kind", "topic") {
			return false
		}
	}
	return true
}

// spoken gives the bare limit at item i the unit of the one thing that its sentence
// compares: take some grams off, not below 24. It reports whether it did.
func (m marker) spoken(i int) bool {
	at := -1
	for j := i - 1; j >= 0 && j > i-14 && !m.SentenceEnds(j); j-- {
		if m.Item(j).Qty != nil {
			return false
		}
		if at < 0 && m.Says(j, "grams", "gram", "weight", "heavier", "lighter", "mass", "heft") {
			at = j
		}
		if m.OfPart(j) || m.Says(j, "pairs", "students", "kids", "pupils", "softer", "harder", "wider", "bigger", "smaller", "note", "notes", "mm") {
			return false
		}
	}
	if q := m.Item(i).Qty; at >= 0 && q.Value >= 4 && q.Value <= 100 {
		return m.inUnit(q, "g")
	}
	return false
}

// alike reports whether two figures may be the two limits of one thing.
func alike(a, b float64) bool { return a > 0 && b > 0 && max(a, b)/min(a, b) < 5 }

// limited reports whether the figure at item i is marked as a limit, or a word for
// one stands before it or straight after it: not over the 38; 24 g up; heavier than 30.
func (m marker) limited(i int) bool {
	after := m.Item(i + 1)
	if m.Item(i).Limit != "" || after.Has("bound") != nil || after.Has("span") != nil && after.Has("span").Value == "up" {
		return true
	}
	j := m.wordBefore(i)
	b := m.Item(j).Has("bound")
	return b != nil && b.Value != "about" || m.Item(j).Any("move", "wish") && m.Starts(j+1, "than")
}

// wordBefore returns the item before the figure at item i, past fillers and degrees
// that are no word for a limit.
func (m marker) wordBefore(i int) int {
	j := i - 1
	for m.Item(j).Has("bound") == nil && (m.Filler(j) || m.Starts(j, "than") || m.Item(j).Has("degree") != nil) {
		j--
	}
	return j
}

// measured is one of the things that limits are put on.
type measured struct {
	dim      quantity.Dim
	path     string
	compares []string // words that compare it with what there is: heavier
	says     []string // others that say that it is limited: the most I'd pay
}

// all are the things that limits are put on.
func all() []measured {
	return []measured{
		{quantity.Mass, facts.WantMassG, []string{"heavier", "lighter"},
			[]string{"heaviest", "lightest", "weigh", "weighs", "weighing", "gram", "gramme", "scales", "heavy", "light", "lift"}},
		{quantity.Length, facts.WantDiameterMM, []string{"wider", "narrower", "bigger", "larger", "smaller", "fatter", "thicker", "thinner"},
			[]string{"widest", "narrowest", "biggest", "largest", "smallest", "fattest", "thickest", "thinnest", "wide", "big", "small", "mm", "millimetre", "millimeter"}},
		{quantity.Money, facts.WantBudgetCents, []string{"dearer", "pricier", "cheaper", "costlier"},
			[]string{"dearest", "priciest", "spend", "spending", "pay", "paying", "afford", "cost", "costs", "costing", "purse", "wallet", "penny", "cent"}},
	}
}

// measure gives the bare figure at item i the unit of what the words for a limit at
// item j compare: nothing heavier than 30; the most I'd pay is 20. It reports whether
// it did.
func (m marker) measure(i, j int) bool {
	q := m.Item(i).Qty
	if q.Dim != quantity.Plain || m.Item(j).From < 0 {
		return false
	}
	for _, x := range all() {
		if !m.Says(j, x.compares...) && !m.Says(j, x.says...) {
			continue
		}
		unit := map[quantity.Dim]float64{quantity.Mass: float64(measure.Gram), quantity.Length: quantity.GuessUnit(*q), quantity.Money: 100}[x.dim]
		q.SetUnit(x.dim, unit)
		return true
	}
	return false
}

// Compared returns the fact that the words for a limit at item i compare with what
// there is, or "": no heavier.
func Compared(c *cover.Chart, i int) string {
	if !c.Says(i, "no", "not", "any", "nor") || c.Says(i, "than") {
		return ""
	}
	for _, x := range all() {
		if c.Says(i, x.compares...) {
			return x.path
		}
	}
	return ""
}
