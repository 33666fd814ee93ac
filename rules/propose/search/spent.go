package search

import "mallow/rules/propose/search/effort"

// spent reports whether a task has done its share, an eighth of all that the search may,
// with a head to show for it where it has to find one: the rest of it is left then,
// and nothing is proven.
func (w *worker) spent() bool {
	const share = 8
	heads := w.Limit
	if heads == 0 && (len(w.goal.best) > 0 || w.local.node != nil) {
		heads = w.q.Most
	}
	most := effort.Most(heads)
	done := effort.Done{Tried: share * (w.tried - w.from.Tried), Bounded: share * (w.bounded - w.from.Bounded)}
	if heads == 0 || !done.Reaches(most) {
		return false
	}
	w.cut = true
	return true
}
