package limit

import (
	"strings"

	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// verdicts turns round the limits that a bad verdict is given on: above 33 g I drop
// them; anything short of 26 grams feels like a toy.
func (m marker) verdicts() {
	for i := range m.Items {
		if !m.limitable(i) {
			continue
		}
		if at := m.bad(i); at >= 0 && m.lies(i) {
			m.Item(i).Turned = true
			m.Drop(at)
		} else if m.lies(i) && m.premise(i) {
			m.Item(i).Turned = true
		}
		m.tooMuch(i)
		m.aches(i)
	}
	for i := range m.Items {
		if m.Item(i).Has("bad") != nil && !m.ofWish(i) {
			m.forget(i, "bad")
		}
	}
}

// ofWish reports whether a wish stands just before item i: bright is out.
func (m marker) ofWish(i int) bool {
	for i--; m.Filler(i); i-- {
	}
	f := m.Item(i).Fact()
	return f != nil && strings.HasPrefix(f.Slot, "want.") || m.Item(i).Has("move") != nil
}

// lies reports whether the figure at item i only says on which side something lies,
// and puts no limit by itself: over 30, anything short of 26, 30 and up.
func (m marker) lies(i int) bool {
	if m.Item(i+1).Has("span") != nil && m.Starts(i+1, "up", "upwards", "and", "on", "down") || m.Starts(i+1, "or") && m.Item(i+1).Has("bound") != nil {
		return true
	}
	j := m.wordBefore(i)
	b := m.Item(j)
	if b.Any("move", "wish") && m.Starts(j+1, "than") {
		return !m.denied(j)
	}
	return b.Has("bound") != nil && !m.Says(j, "no", "not", "never", "nothing", "at", "max", "must", "nor", "dont", "cant", "keep", "to", "may", "shouldnt", "nae", "nowt", "limit", "maximum", "minimum") && !m.denied(j)
}

// denied reports whether a word like not stands just before item j.
func (m marker) denied(j int) bool {
	for k := j - 1; k > j-4; k-- {
		if m.Item(k).Any("not", "reply") || m.Starts(k, "nothing", "no", "not", "never") {
			return true
		}
		if !m.Filler(k) {
			break
		}
	}
	return false
}

// bad returns the bad verdict on what lies past the figure at item i, or -1.
func (m marker) bad(i int) int {
	if at := m.badAfter(i); at >= 0 {
		return at
	}
	return m.badBefore(i)
}

// badAfter returns the bad verdict that follows the figure at item i, with no reason
// between that makes it one on something else, or -1: at least 20 g, or it hurts.
func (m marker) badAfter(i int) int {
	commas := 0
	for j := i + 1; j < len(m.Items) && j < i+16 && !m.SentenceEnds(j); j++ {
		it := m.Item(j)
		switch {
		case it.Has("bad") != nil:
			if m.denied(j) {
				return -1
			}
			return j
		case it.Has("holding") != nil && (it.Has("holding").Value == "lack" || it.Has("holding").Value == "avoid") && m.ClauseEnds(j+1): // I'm out
			return j
		case it.Mark == ",":
			if commas++; commas > 1 {
				return -1
			}
		case j > i+1 && (it.Has("bound") != nil || it.Qty != nil), m.Is(j, "because", "cos", "since", "as", "or", "else", "otherwise", "for", "but", "so", "please", "pls"):
			return -1
		}
	}
	return -1
}

// badBefore returns the bad verdict given before the figure at item i on what lies past
// it, or -1: my wife will kill me if a pair is over 40.
func (m marker) badBefore(i int) int {
	for j := i - 1; j >= 0 && j > i-12 && m.Item(j).Mark == "" && m.Item(j).Qty == nil; j-- {
		if m.Item(j).Has("bad") != nil && (m.HasWord(j, i, "if", "when", "once") || m.Starts(j+1, "at", "with", "anything", "heads", "one", "ones") || m.Item(j+1).Has("bound") != nil) {
			return j
		}
	}
	return -1
}

// aches makes a limit of the weight at item i at which a hand gives out: at 30 g my wrist
// complains.
func (m marker) aches(i int) {
	if m.Item(i).Qty.Dim != quantity.Mass || m.limited(i) || m.Item(i).Turned {
		return
	}
	j := i + 1
	for m.Filler(j) && !m.Subject(j) || m.Is(j, "and") || m.Item(j).Mark == "," {
		j++
	}
	end := j
	for end < len(m.Items) && m.Item(end).Mark == "" {
		end++
	}
	if m.Starts(j, "my", "her", "his") && m.HasWord(j, j+3, "wrist", "wrists", "hand", "hands", "arm", "arms", "fingers", "elbow", "elbows", "tendon", "tendons", "shoulder", "thumb", "thumbs") &&
		!m.praised(j, end) && !m.HasWord(j, end, "small", "big", "is", "are", "in", "so") && end > j && (i == 0 || m.Is(i-1, "at") || m.SentenceEnds(i-1)) {
		m.Item(i).Limit = Most
	}
}

// tooMuch makes a limit of the figure at item i that is said to be too much: 30 g is
// too heavy; 20 would be too light.
func (m marker) tooMuch(i int) {
	j := i + 1
	for m.Filler(j) || m.Item(j).Any("degree", "role", "share") {
		j++
	}
	if m.Item(j).Has("too") == nil || m.Item(i).Limit != "" || m.limited(i) && !m.lies(i) {
		return
	}
	if !m.Says(j, "much", "many", "little", "few") { // too much, one phrase
		j++
	}
	x := m.Item(j).Has("wish")
	much := m.Says(j, "much", "many") && m.ClauseEnds(j+1)
	little := m.Says(j, "little", "few") && m.ClauseEnds(j+1)
	if !much && !little && (x == nil || x.Value == facts.WantBudgetCents && m.Item(i).Qty.Dim != quantity.Money) {
		return
	}
	m.Item(i).Limit = Least
	if much || !little && x.Num > 0 {
		m.Item(i).Limit = Most
	}
	if j-1 > i { // not the figure itself: 31 g too much
		m.Drop(j - 1)
	}
	m.Drop(j)
}
