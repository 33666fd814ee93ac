package limit

import "mallow/assistant/understand/lexis"

// sharp makes one limit of words such as "not a penny more": a denial, the
// smallest piece of something, and what goes past.
func (m marker) sharp() {
	for i := range m.Items {
		if m.Item(i).Has("not") == nil && m.Item(i).Has("reply") == nil && !m.Starts(i, "no", "nor", "nae") {
			continue
		}
		j, small := i+1, false
		for ; j < i+6; j++ {
			if m.Starts(j, "a", "an", "one", "single", "even") && m.Item(j).Qty == nil && m.Item(j).To-m.Item(j).From == 1 {
				continue
			}
			if q := m.Item(j).Qty; q != nil && q.Value <= 1 || m.Says(j, "penny", "cent", "gram", "gramme", "g", "mm", "millimetre", "millimeter", "dollar", "pound", "euro", "hair", "dime", "buck", "quid", "rupee", "ounce", "bit", "notch", "jot", "farthing") {
				small = true
				continue
			}
			break
		}
		less := small && m.Says(j, "less", "under", "below", "lighter", "short", "shy", "smaller", "narrower")
		if !less && !small || !less && !m.Says(j, "more", "mor", "over", "past", "further", "above", "beyond", "extra", "dearer") && !(m.Says(j, "heavier", "bigger", "wider", "larger", "higher") && m.Starts(j+1, "than")) {
			continue
		}
		if m.Starts(j+1, "than") {
			j++
		}
		for at := i; at <= j; at++ { // not a gram over thirty
			if k := m.PastFiller(j + 1); m.Item(k).Qty != nil && at < j && m.measure(k, at) {
				break
			}
		}
		for k := i; k <= j; k++ {
			m.Drop(k)
		}
		m.Item(j).Senses = []*lexis.Sense{{Slot: "bound", Value: Most, Say: "at most"}}
		if less {
			m.Item(j).Senses = []*lexis.Sense{{Slot: "bound", Value: Least, Say: "at least"}}
		}
	}
}
