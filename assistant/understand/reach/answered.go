package reach

import "mallow/assistant/understand/reading"

// answered gives the parts of segment k their holding where each is answered behind it
// and nothing else is said: yarn yes shafts yes cores no. It reports whether that is so.
func (r *reader) answered(k int) bool {
	type answer struct {
		from, at int
		hold     reading.Holding
	}
	var all []answer
	s, from := r.segs[k], -1
	for i := s.from; i < s.to; i++ {
		switch {
		case from >= 0 && r.Is(i, "yes", "yep", "yeah", "yup"):
			all, from = append(all, answer{from, i, reading.Have}), -1
		case from >= 0 && r.Is(i, "no", "nope", "nah", "none"):
			all, from = append(all, answer{from, i, reading.Lack}), -1
		case r.names(i) && from < 0:
			from = i
		case !r.names(i) && !r.Filler(i):
			return false
		}
	}
	if len(all) < 2 || from >= 0 {
		return false
	}
	for _, a := range all {
		r.give(k, a.hold, a.from, a.at)
		r.Spent[a.at] = true
	}
	return true
}

// without returns the item of segment s behind item i from which on there is none of
// what it names, after something that there is; or 0.
func (r *reader) without(i int, s segment) int {
	named := false
	for i++; i < s.to; i++ {
		if named && r.Starts(i, "no", "zero", "nae") && (r.tool(i) || r.names(i+1)) {
			return i
		}
		named = named || r.names(i)
	}
	return 0
}
