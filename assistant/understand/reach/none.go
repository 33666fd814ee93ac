package reach

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/reading"
)

// nary reports whether items from i on say that there is not one of the part they name:
// not a ball, not one shaft.
func (r *reader) nary(i int) bool {
	j := i + 1
	for ; r.Is(j, "a", "an", "one", "1", "single"); j++ {
	}
	return j > i+1 && r.Is(i, "not", "nary") && r.names(j)
}

// nothing settles that no part is here where the question which there are is answered
// so: nothing; not a ball, not a stick.
func (r *reader) nothing() {
	if r.Open != "parts" || len(r.all) < 2 || !r.Is(r.all[0].from, "nothing", "none", "nowt", "zilch", "nada", "nil") || !r.ends(r.all[0].from+1, r.all[0]) {
		return
	}
	for _, of := range r.Of {
		if of != "" && of != reading.Lack {
			return
		}
	}
	r.Rest = reading.Lack
}

// rest reads how the person stands to all that is not named: the rest is here, we
// haven't got anything else.
func (r *reader) rest(s segment, h reading.Holding, at int) {
	if !r.namesIn(0, len(r.Items)) {
		return
	}
	for i := s.from; i < s.to; i++ {
		all := r.Says(i, "rest", "remainder") || r.Says(i, "everything", "anything", "nothing", "all") && r.HasWord(i, min(i+2, s.to), "else")
		if !all || r.Item(i).Any("keep") || r.HasWord(i+1, s.to, "change", "changed", "changes", "alter", "altered", "touched") { // nothing else shall be altered
			continue
		}
		if h == "" && r.whole { // not got: everything else
			h = r.carry
		}
		switch {
		case r.Says(i, "nothing"), h == reading.Lack:
			r.Rest = reading.Lack
		case !slices.ContainsFunc(r.Items, func(it cover.Item) bool { return it.Any("kind", "material") || it.ID != "" }): // all but a drill
		case h == reading.Have || h == reading.Need:
			r.Rest = h
		default:
			continue
		}
		r.Spent[i] = true
		for j := i; j < s.to && (j < i+2 || j == at); j++ {
			r.Spent[j] = true
		}
		return
	}
}

// lackAfter returns the item behind item i of segment s that says there is none, or 0.
func (r *reader) lackAfter(i int, s segment) int {
	for i++; i < s.to; i++ {
		if x := r.Item(i).Has("holding"); x != nil && x.Value == "lack" {
			return i
		}
	}
	return 0
}

// ownsLater reports whether a segment behind segment k says what there is.
func (r *reader) ownsLater(k int) bool {
	for _, s := range r.segs[k+1:] {
		if r.begins(s) || !r.namesIn(s.from, s.to) && !r.counted(s) {
			continue
		}
		for i := s.from; i < s.to; i++ {
			if x := r.Item(i).Has("holding"); x != nil && x.Value == "have" && !r.denied(i, s) {
				return true
			}
		}
	}
	return false
}

// insteadIn is where words for what takes the place of another begin, behind the first
// part of a segment; its end where there are none.
func insteadIn(c *cover.Chart, first int, s segment) int {
	for i := first + 1; i < s.to; i++ {
		if h := c.Item(i).Has("holding"); h != nil && h.Value == "avoid" && c.Starts(i, "instead", "in", "rather") {
			return i
		}
	}
	return s.to
}
