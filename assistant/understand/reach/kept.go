package reach

import "mallow/assistant/understand/reading"

// theirs is what words say of parts that somebody else has and keeps.
const theirs = "theirs"

// kept takes what somebody else has and won't give away for no part on hand: my
// brother has a bag of balls, but he won't part with them.
func (r *reader) kept() {
	for k, s := range r.all {
		for i := s.from; i < s.to; i++ {
			if x := r.Item(i).Has("held"); x == nil || x.Value != theirs {
				continue
			}
			if from, to := r.others(k, i); to > from {
				for j := from; j < to; j++ {
					if r.names(j) && r.Of[j] != reading.Avoid {
						r.Of[j] = reading.Allow
					}
				}
				r.Spent[i] = true
			}
		}
	}
}

// others returns the items of the last segment up to segment k, before item i, that
// names a part, where somebody other than the speaker is said to have it. They are
// none where the speaker is.
func (r *reader) others(k, i int) (from, to int) {
	for ; k >= 0; k-- {
		s := r.all[k]
		s.to = min(s.to, i)
		if !r.namesIn(s.from, s.to) {
			continue
		}
		if r.HasWord(s.from, s.to, "i", "ive", "weve", "we") {
			return 0, 0
		}
		return s.from, s.to
	}
	return 0, 0
}
