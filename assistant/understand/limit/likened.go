package limit

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
)

// likeness marks the figures whose limit is told the long way round: by a likeness, by what
// is said of the one past it, by pointing back.
type likeness struct{ marker }

// likened makes a limit of the figure that is only told after the thing it is likened to:
// no wider than a ping pong ball, 40 mm; nothing fatter than a walnut, say an inch; never
// more than a pizza, so 12 dollars.
func (m likeness) likened() {
	for i := range m.Items {
		if !m.limitable(i) || m.Item(i).Limit != "" || m.Item(i).Qty.Dim == quantity.Pieces || m.Item(i).Qty.Dim == quantity.Notches {
			continue
		}
		at, side := m.thing(i)
		if side == "" {
			continue
		}
		from := at
		if d := m.denial(at, i); d >= 0 && !m.Says(at, denials...) {
			side, from = cover.Opposite(side), d
		}
		m.measure(i, at)
		for k := from; k < i; k++ {
			m.Drop(k)
		}
		m.Item(i).Limit = side
	}
}

// thing returns the item that compares with a thing told just before the figure at item
// i, set off from it, and the limit that puts; "" where none does.
func (m likeness) thing(i int) (at int, side string) {
	j, apart := i-1, false
	for ; j > 0 && (m.Filler(j) || m.Item(j).Mark != "" || m.Is(j, "so", "or", "and", "thats", "ie", "is") || m.Item(j).Has("bound") != nil && m.Item(j).Has("bound").Value == "about"); j-- {
		if m.SentenceEnds(j) || m.Is(j, "a", "an") && m.Item(j+1).Qty == nil {
			break
		}
		apart = apart || m.Item(j).Mark != "" || m.Says(j, "say", "so", "thats", "ie", "meaning")
	}
	if !apart {
		return -1, ""
	}
	for k, n := j, 0; k >= 0 && n < 12 && !m.SentenceEnds(k); k, n = k-1, n+1 {
		it := m.Item(k)
		if it.Qty != nil && !(it.Qty.Spelt && it.Qty.Value <= 2) {
			return -1, ""
		}
		x, b := it.Has("past"), it.Has("bound")
		last := m.At(it.To - 1)
		switch {
		case k == j: // nothing is likened to
		case b != nil && (b.Value == Most || b.Value == Least) && it.To > it.From+1 && (last.Is("than") || last.Is("then") || last.Is("over") || last.Is("under")):
			return k, b.Value
		case x != nil && x.Value != "crosses" && m.Starts(k+1, "than", "then"):
			return k, x.Value
		}
	}
	return -1, ""
}

// allowed makes a limit of the first of two figures of which one is allowed and the other
// is not: thirty grams: yes, thirty-one: no.
func (m likeness) allowed() {
	for i := range m.Items {
		j := m.answered(i, "yes", "fine", "ok", "okay", "good", "great", "yep", "aye", "yeah")
		if j < 0 {
			continue
		}
		for k := j + 1; k < j+6; k++ {
			o, q := m.Item(k).Qty, m.Item(i).Qty
			if o == nil {
				continue
			}
			end := m.answered(k, "no", "nope", "never", "nah", "nae")
			if end < 0 || o.Dim != q.Dim && o.Dim != quantity.Plain && q.Dim != quantity.Plain {
				break
			}
			if q.Dim == quantity.Plain {
				m.Share(i, k)
			} else if o.Dim == quantity.Plain {
				m.Share(k, i)
			}
			side := Most
			if o.Value < q.Value {
				side = Least
			}
			for at := i + 1; at <= end; at++ {
				m.Drop(at)
			}
			m.Item(i).Limit = side
			break
		}
	}
}

// answered returns the word of words that the figure at item i is answered with, or -1.
func (m likeness) answered(i int, words ...string) int {
	if !m.limitable(i) || m.Item(i).Limit != "" || m.Item(i).Qty.Dim == quantity.Pieces {
		return -1
	}
	j := i + 1
	for m.Item(j).Mark == ":" || m.Item(j).Mark == "," || m.Item(j).Mark == "-" || m.Is(j, "is", "its", "then", "a") {
		j++
	}
	if m.Says(j, words...) && m.ClauseEnds(j+1) {
		return j
	}
	return -1
}

// beyond makes a limit of the figure beyond which something bad is said to begin, where it
// is only pointed back at: thirty the pair, and my accountant cries past that.
func (m likeness) beyond() {
	for i := range m.Items {
		side := ""
		switch {
		case !m.Is(i+1, "that", "it") || !m.Says(i, "past", "beyond", "over", "above", "below", "under", "beneath"):
		case m.Says(i, "below", "under", "beneath"):
			side = Least
		default:
			side = Most
		}
		at := -1
		for j := i - 1; side != "" && j >= 0 && j > i-14 && at < 0; j-- {
			if m.limitable(j) {
				at = j
			}
		}
		if at < 0 || m.Item(at).Limit != "" || m.limited(at) && !m.Dropped(at+1) || m.Item(at).Qty.Dim == quantity.Pieces || m.OfPart(at+1) {
			continue
		}
		from := i
		for from > at+1 && m.Item(from-1).Mark == "" && m.Item(from-1).Has("join") == nil {
			from--
		}
		to := i + 2
		for to < len(m.Items) && m.Item(to).Mark == "" {
			to++
		}
		if from == at+1 || m.praised(from, to) || m.HasWord(from, to, "can", "could", "might", "fine", "ok", "go", "bit", "little", "if", "put", "gets", "hand", "get") && !m.HasWord(from, to, "not", "cant", "dont", "wont", "never", "no", "nothing", "couldnt", "wouldnt", "mustnt") {
			continue
		}
		for k := from; k < to; k++ {
			m.Drop(k)
		}
		m.Item(at).Limit = side
	}
}
