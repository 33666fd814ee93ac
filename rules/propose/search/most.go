package search

import "mallow/rules/facts"

// Most bounds how well heads do of which not all is known yet. It is for one
// goroutine.
type Most struct{ w *worker }

// Most returns what bounds heads that the request judges. Bright says that how
// bright they are is worked out closely.
func (s *Search) Most(bright bool) Most {
	w := s.worker()
	w.j.Bright = bright
	return Most{w}
}

// Parts is the most points, apart from those for its softness, that a head can have
// of which the parts are known and between what softnesses it lies; false where
// the rules refuse any such. What its layers add to it is left out.
func (m Most) Parts(h *facts.Head, least, most float64) (points float64, ok bool) {
	lo, hi := &m.w.lo.Head, &m.w.hi.Head
	*lo, *hi = *h, *h
	lo.Softness, hi.Softness = least, most
	m.w.sound.FromSoftness(lo, hi)
	m.w.sound.BeforeLoud(lo, hi)
	return m.points()
}

// Struck is Parts of a head that was struck at mf as well.
func (m Most) Struck(h *facts.Head) (points float64, ok bool) {
	lo, hi := &m.w.lo.Head, &m.w.hi.Head
	*lo, *hi = *h, *h
	m.w.sound.BeforeNotes(lo, hi)
	return m.points()
}

// points is the most that the heads in the box can have.
func (m Most) points() (points float64, ok bool) {
	w := m.w
	lo, hi := &w.lo.Head, &w.hi.Head
	likes, refused := w.bound.Bound(&w.lo, &w.hi)
	nearest := min(max(lo.Softness, w.j.Base.Want.Softness), hi.Softness)
	return likes - w.j.LeastOff(lo, hi) + w.j.SoftnessOff(nearest), refused == nil
}
