package limit

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// pointer marks what is only pointed at or stands in a row: the figure that "that" is, the
// second of two, and grades, loudnesses and notes, on which limits are put as on figures.
type pointer struct{ marker }

// that puts a limit on the figure that is only pointed at: I ran out of patience at 40 g,
// so lighter than that.
func (m pointer) that() {
	for i := range m.Items {
		x := m.Item(i).Has("past")
		if x == nil || x.Value == "crosses" || !m.Starts(i+1, "than", "then") || !m.Is(i+2, "that", "this") || !m.ClauseEnds(i+3) {
			continue
		}
		at := -1
		for j := i - 1; j >= 0 && at < 0 && j > i-16; j-- {
			if m.Item(j).Qty != nil {
				at = j
			}
		}
		if at < 0 || !m.limitable(at) || m.limited(at) {
			continue
		}
		side := x.Value
		if d := m.denial(i, i+3); d >= 0 {
			m.Drop(d)
			side = cover.Opposite(side)
		} else if m.OfPart(at + 1) {
			continue
		}
		m.Item(at).Limit = side
		for j := i; j < i+3; j++ {
			m.Drop(j)
		}
	}
}

// pushed makes the most of the second of two figures that one could go to if one had to:
// 12 quid, 13 at a push. The first is then about what is wanted, or nothing to spend up to.
func (m pointer) pushed() {
	for i := range m.Items {
		q, end := m.Item(i).Qty, m.Item(i+1).Has("bound")
		if q == nil || m.Item(i).Limit != Most && (m.Item(i).Limit != "" || end == nil || end.Value != Most || !m.ClauseEnds(i+2)) {
			continue
		}
		for j := i - 1; j >= 0 && j > i-6; j-- {
			o := m.Item(j).Qty
			if o == nil {
				if m.Item(j).Any("span", "topic") {
					break
				}
				if m.Item(j).Mark == "" && !m.Filler(j) && !m.Is(j, "or", "but", "maybe", "and", "together") && !m.Unknown(j) {
					break
				}
				continue
			}
			if q.Dim == quantity.Plain && alike(q.Value, o.Value/max(o.Unit, 1e-9)) && o.Dim != quantity.Plain && m.limitable(j) {
				m.Share(i, j)
			}
			if q.Dim != o.Dim || q.Value <= o.Value || m.Item(j).Limit == Least || q.Value > 2*o.Value {
				break
			}
			if m.Item(i).Limit == "" {
				m.Item(i).Limit = Most
				m.Drop(i + 1)
			}
			if o.Dim == quantity.Money {
				m.Drop(j)
			} else if !m.limited(j) && m.Item(j).Limit == "" {
				m.Item(j).Limit = "about"
			}
			break
		}
	}
}

// level reports whether item i is a grade of softness, a loudness or a note, on which
// limits are put as on figures.
func (m pointer) level(i int) bool {
	it := m.Item(i)
	return it.Note != nil || it.Any(facts.WantLoudest, facts.WantSoftness) && it.Qty == nil
}

// levels marks the grades of softness, the loudnesses and the notes that are limits: hard
// is the limit; medium is as hard as I go; nothing higher than C7.
func (m pointer) levels() {
	for i := range m.Items {
		if !m.level(i) || m.Item(i).Limit != "" {
			continue
		}
		m.passed(i)
		if m.Item(i).Limit == "" && m.Item(i).Any(facts.WantSoftness) {
			m.graded(i)
		}
	}
}

// passed marks the note or loudness at item i that is not gone past, and the grade that
// has a bad end if it is.
func (m pointer) passed(i int) {
	at := i - 1
	for m.Filler(at) && !m.Says(at, "than") {
		at--
	}
	if m.Says(at, "than") && !m.Says(at, "higher", "lower", "louder", "quieter", "softer", "harder", "above", "deeper") {
		at--
	}
	side := ""
	switch {
	case m.Says(at, "higher", "above", "past", "beyond", "over", "louder", "harder"):
		side = Most
	case m.Says(at, "lower", "below", "under", "beneath", "deeper", "quieter", "softer"):
		side = Least
	default:
		return
	}
	if m.Item(i).Any(facts.WantSoftness) {
		if x := m.Item(at).Has("move"); x != nil && x.Value == facts.WantSoftness && m.premise(i) {
			m.Item(i).Limit = Against(x.Num)
			m.dropFrom(at, i)
		}
		return
	}
	d := m.denial(at, i)
	if d < 0 || m.Item(at).Has("bound") != nil && m.Item(i).Note == nil || m.Says(at, "softer") {
		return
	}
	m.Item(i).Limit = side
	m.dropFrom(d, i)
}

// dropFrom makes the items from..to carry nothing, but for figures and notes.
func (m pointer) dropFrom(from, to int) {
	for k := from; k < to; k++ {
		if m.Item(k).Qty == nil && m.Item(k).Note == nil {
			m.Drop(k)
		}
	}
}

// graded marks the grade at item i that an edge is said of. On the hard side an edge is
// one of hardness: hard is the ceiling.
func (m pointer) graded(i int) {
	x := m.Item(i).Has(facts.WantSoftness)
	v, ok := x.Fact.(float64)
	if !ok {
		return
	}
	if b := m.Item(i - 1).Has("bound"); b != nil && m.Starts(i-1, "at", "no") && m.Says(i-1, "least", "most", "less") && v != 0 { // at least medium hard
		m.Item(i).Limit = b.Value
		if v < 0 {
			m.Item(i).Limit = cover.Opposite(b.Value)
		}
		m.Drop(i - 1)
		return
	}
	j := i + 1
	for m.Filler(j) && !m.Is(j, "as") || m.Is(j, "absolute", "very") {
		j++
	}
	var say *lexis.Sense
	for _, slot := range []string{"edge", "bound"} {
		if y := m.Item(j).Has(slot); y != nil && say == nil && (y.Value == Most || y.Value == Least) && m.Says(j, "limit", "ceiling", "max", "maximum", "cap", "tops", "floor", "min", "minimum", "roof", "lid", "top", "hard", "soft", "hardest", "softest") {
			say = y
		}
	}
	switch {
	case m.Is(j, "as") && m.Says(j+1, "hard", "soft") && m.Is(j+2, "as") && m.Subject(j+3): // as hard as I go
		m.Item(i).Limit = Against(1)
		if m.Says(j+1, "hard") {
			m.Item(i).Limit = Against(-1)
		}
		end := j + 4
		for end < len(m.Items) && m.Filler(end) {
			end++
		}
		m.dropFrom(j, end)
	case say == nil || m.OfPart(i+1):
	case m.Says(j, "hardest"), m.Says(j, "softest"):
		m.Item(i).Limit = Most
		if m.Says(j, "hardest") {
			m.Item(i).Limit = Least
		}
		m.Drop(j)
	default:
		m.Item(i).Limit = say.Value
		if v <= 0 {
			m.Item(i).Limit = cover.Opposite(say.Value)
		}
		m.Drop(j)
	}
}

// called gives a figure that is only called the one meant the unit of the one before it:
// mine were 30 g, call it 22.
func (m pointer) called() {
	for i := range m.Items {
		q := m.Item(i).Qty
		if q == nil || q.Dim != quantity.Plain || !m.limitable(i) || !m.Starts(i-1, "call", "make") && !(m.Is(i-1, "it") && m.Says(i-2, "call", "make")) {
			continue
		}
		for j := i - 1; j >= 0 && j > i-20; j-- {
			if o := m.Item(j).Qty; o != nil && o.Dim != quantity.Plain && m.limitable(j) && m.beside(j, i) && alike(q.Value, o.Value/max(o.Unit, 1e-9)) {
				m.Share(i, j)
			}
		}
	}
}
