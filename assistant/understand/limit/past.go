package limit

import (
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
)

// past makes one limit of a denial, a word for what lies past a figure, and the
// figure, whatever verb stands between: it must be not lighter as 30 g; we can't do
// with fewer than five pairs; it mustn't run past 40; should not cross 2000.
func (m marker) past() {
	for i := range m.Items {
		if m.Item(i).Mark == "." && m.Says(i-1, "min", "max", "approx", "ca", "abt") && (m.Item(i+1).Qty != nil || m.Item(i+1).Any("topic", "role") && (m.Item(i+2).Qty != nil || m.Item(i+3).Qty != nil)) { // min. 20 g
			m.Drop(i)
		}
	}
	for i := range m.Items {
		if !m.limitable(i) || m.Item(i).Limit != "" {
			continue
		}
		at, side, crosses := m.side(i)
		if side == "" {
			continue
		}
		denial := m.denial(at, i)
		switch {
		case denial >= 0:
			m.Drop(denial)
			for k := denial + 1; k < at; k++ {
				if m.Unknown(k) {
					m.Drop(k)
				}
			}
			side = cover.Opposite(side)
		case crosses && !m.due(at), m.Item(at).Has("bound") != nil:
			continue
		}
		m.measure(i, at)
		for k := at + 1; k < i; k++ {
			m.Drop(k)
		}
		m.Item(at).Senses = []*lexis.Sense{{Slot: "bound", Value: side, Say: m.Said(at, at+1)}}
	}
	for i := range m.Items {
		m.welcome(i)
	}
	for i := range m.Items {
		if m.Item(i).Has("past") != nil {
			m.forget(i, "past")
		}
	}
}

// welcome makes a limit of the figure at item i that more or less than that is said
// to be as good: 35 g, more is welcome; three pairs, likely more.
func (m marker) welcome(i int) {
	if !m.limitable(i) || m.limited(i) {
		return
	}
	j, apart, free := i+1, false, false
	for ; j < len(m.Items) && j < i+9; j++ {
		it := m.Item(j)
		if it.Has("past") != nil {
			break
		}
		switch {
		case it.Mark == "," || it.Mark == "-" || it.Mark == ";":
			apart = true
		case m.Says(j, "or", "likely", "maybe", "perhaps", "possibly", "probably", "even"):
			apart, free = true, true
		case it.Any("role", "share", "degree", "filler", "join", "more", "unit"), m.Starts(j, "anything"):
		default:
			return
		}
	}
	x := m.Item(j).Has("past")
	if x == nil || x.Value == "crosses" || !apart || m.Starts(j+1, "than", "then") {
		return
	}
	k := j + 1
	for ; m.Filler(k) || m.Starts(k, "is", "are", "would", "be", "also", "even", "if"); k++ {
		free = free || m.Says(k, "welcome", "fine", "ok", "okay", "good", "great", "lovely", "nice", "better")
	}
	for ; m.Says(k, "welcome", "fine", "ok", "okay", "good", "great", "lovely", "nice", "better", "allowed", "acceptable", "possible", "preferred", "preferable", "appreciated"); k++ {
		free = true
	}
	if !free || !m.ClauseEnds(k) {
		return
	}
	for at := i + 1; at < k; at++ {
		m.Drop(at)
	}
	m.Item(i).Limit = x.Value
}

// side returns the item before the figure at item i that says on which side of it
// something lies, the limit that this puts, and whether it is a verb for crossing it:
// over, lighter than, narrower as, hits.
func (m marker) side(i int) (at int, side string, crosses bool) {
	at = i - 1
	than := false
	for ; at >= 0; at-- {
		switch x := m.Item(at).Has("past"); {
		case x != nil && x.Value == "crosses":
			return at, Least, true
		case x != nil && than:
			return at, x.Value, false
		case m.Is(at, "than", "then", "as", "to"), m.Is(at, "of") && m.Is(at-1, "less", "more"): // less of 30 g
			than = true
			continue
		case than && m.Is(at+1, "of") && m.Says(at, "less"): // cost less of 2 euro
			return at, Most, false
		case m.crossed(at):
			return at, Least, true
		case m.Item(at).Has("bound") != nil && m.Item(at).Has("bound").Value != "about" && !m.Says(at, denials...) && m.Says(at, "over", "above", "past", "beyond", "under", "below", "beneath", "than", "then", "as", "short", "shy", "excess", "upwards"):
			return at, m.Item(at).Has("bound").Value, false
		}
		if !m.Filler(at) && !m.Starts(at, "the", "a", "this", "that") || m.Item(at).Mark != "" {
			break
		}
	}
	return -1, "", false
}

// crossed reports whether the phrase at item at ends in a verb for going past a figure:
// should not touch, which is also said of what is to stay.
func (m marker) crossed(at int) bool {
	it := m.Item(at)
	if it.Has("keep") == nil {
		return false
	}
	x, n := m.SlotAt(it.To-1, "past")
	return x != nil && n == 1 && x.Value == "crosses"
}

// denials are the words that turn a side round.
var denials = []string{"not", "no", "nor", "never", "nothing", "none", "nobody", "neither", "without", "dont", "doesnt", "didnt", "cant", "cannot", "couldnt", "mustnt", "shouldnt",
	"shant", "wont", "wouldnt", "isnt", "arent", "aint", "maynt", "neednt", "nowt", "nae", "naw", "nope", "avoid", "prevent", "stop", "refuse"}

// denial returns the item that denies what lies past the figure at item i, with
// nothing but verbs between it and the word for that at item at, or -1.
func (m marker) denial(at, i int) int {
	if m.crossed(at) && m.Says(at, denials...) {
		return at
	}
	for k := at - 1; k >= 0 && k > at-7; k-- {
		it := m.Item(k)
		switch {
		case it.Mark != "", it.Qty != nil && !(it.Qty.Spelt && it.Qty.Value == 1), it.Has("bound") != nil, m.OfPart(k):
			return -1
		case m.Says(k, "know", "mind", "care", "sure", "matter", "understand", "remember", "problem", "but", "if", "only", "just", "neednt", "need", "worry"):
			return -1
		case m.Says(k, denials...) && !m.Dropped(k): // not a gram below 26: dropped is what was read already
			return k
		}
	}
	return -1
}

// due reports whether what the verb at item at crosses has to be crossed: has to
// reach 30 g.
func (m marker) due(at int) bool {
	return m.HasWord(max(0, at-3), at, "must", "should", "ought", "needs", "need", "has", "have", "shall", "to", "let", "make") && !m.HasWord(max(0, at-3), at, "if", "when", "would", "will")
}

// trailing gives bare figures the unit that is told after them, in a sentence or brackets
// of its own: 20 to 29, grams I mean; thirty. grams.; 1 3/8 (inches obviously).
func (m marker) trailing() {
	for j := range m.Items {
		x := m.Item(j).Has("unit")
		if x == nil || m.Item(j).Qty != nil || !strings.Contains(",.;:(-", m.Item(j-1).Mark) || m.Item(j-1).Mark == "" || m.Item(j).To != m.Item(j).From+1 {
			continue
		}
		if dim, _ := quantity.Unit(x.Value); dim != quantity.Mass && dim != quantity.Length && dim != quantity.Money {
			continue
		}
		end := j + 1
		for m.Filler(end) || m.Is(end, "i", "mean", "that", "is", "obviously", "naturally", "mind", "of", "course", "please") || m.Item(end).Has("mend") != nil {
			end++
		}
		if m.Item(end).Mark == "" {
			continue
		}
		given := false
		for i := j - 2; i >= 0; i-- {
			q := m.Item(i).Qty
			if q == nil || q.Dim != quantity.Plain || !m.limitable(i) || m.OfPart(i+1) || m.Item(i+1).Any("count", "instrument.kind", "unit") {
				continue
			}
			dim, size := quantity.Unit(x.Value)
			if dim == quantity.Length && (size > 0.02 && q.Value > 4 || size > 0.5) { // inches; yards of it
				continue
			}
			q.SetUnit(dim, size)
			given = true
		}
		for k := j - 1; given && k < end; k++ {
			if k >= j || m.Item(k).Mark != "." || m.Item(j-2).Qty != nil {
				m.Drop(k)
			}
		}
	}
}

// through makes a limit of the opening that something has to fit: has to fit through a
// 38 mm hole, must go in a 40 mm tube.
func (m marker) through() {
	fits := []string{"fit", "fits", "fitting", "pass", "passes", "go", "goes", "slide", "slip", "get", "squeeze"}
	into := []string{"through", "thru", "into", "in", "inside"}
	for i := range m.Items {
		q := m.Item(i).Qty
		if q == nil || q.Dim != quantity.Length || m.limited(i) || !m.Says(i+1, "hole", "holes", "gap", "slot", "opening", "mouth", "ring", "hoop", "loop", "case", "pouch", "box", "drawer", "sleeve") {
			continue
		}
		j := i - 1
		for m.Filler(j) {
			j--
		}
		if !m.HasWord(j, i, into...) || !m.HasWord(j-2, j+1, fits...) {
			continue
		}
		for k := j - 2; k < i; k++ {
			if m.Says(k, fits...) || m.Says(k, into...) {
				m.Drop(k)
			}
		}
		m.Item(i).Limit = Most
		m.Drop(i + 1)
	}
}

// within makes a range of two figures that one word says to lie between: within 28
// and 33 mm.
func (m marker) within() {
	for i := range m.Items {
		q, high := m.Item(i).Qty, m.Item(i+2).Qty
		if q == nil || high == nil || !m.limitable(i+2) || !m.Is(i+1, "and", "to", "till", "&") || !m.Says(i-1, "within", "inside", "betwixt", "anywhere", "somewhere") {
			continue
		}
		if q.Dim != high.Dim && q.Dim != quantity.Plain {
			continue
		}
		m.Share(i, i+2)
		if q.Value < high.Value {
			m.Item(i).Limit, m.Item(i+2).Limit = Least, Most
			m.Drop(i - 1)
			m.Drop(i + 1)
		}
	}
}
