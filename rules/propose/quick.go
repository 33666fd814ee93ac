package propose

import (
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
)

// Quick computes one head by reduced strokes, as a search does, and scores it;
// ok is false when a rule refuses it.
func (j *Judging) Quick(st head.Stack) (c Candidate, ok bool) {
	h := j.head(st)
	b, err := strike.FromHead(h)
	if err != nil {
		return Candidate{}, false
	}
	h.Stack.Wrap = settled(h.Stack.Wrap, h.Turns)
	c = Candidate{Stack: h.Stack, Head: h, Facts: j.Base}
	j.f.Describe(&c, j.bin)
	x := &c.Facts.Head
	s := &j.Sound
	s.FillMF(x, s.Even(&b))
	s.Fill(x, s.All(&b))
	s.FillNotes(x, &b)
	j.FillBright(x, &b)
	var refused *rules.Rule
	c.Score, refused = j.Score(&c.Facts, c.Layers)
	return c, refused == nil
}

// Softness computes one head and its softness by the reduced stroke, without
// anything else that Quick says; ok is false when it can't be struck.
func (j *Judging) Softness(st head.Stack) (h head.Head, notches float64, ok bool) {
	h = j.head(st)
	b, err := strike.FromHead(h)
	if err != nil {
		return h, 0, false
	}
	return h, j.Sound.Notches(j.Sound.Even(&b).CutoffHz), true
}

// head computes a head. Whoever tries turns asks for the same rubber time and
// again, which is not fitted anew.
func (j *Judging) head(st head.Stack) head.Head {
	st = j.f.wound(st, &j.Base)
	was := &j.last.Stack
	if j.last.Mass > 0 && was.Core == st.Core && was.Shaft == st.Shaft && slices.Equal(was.Slices, st.Slices) {
		return j.last.Rewrap(st.Wrap, &j.f.cat.Limits)
	}
	j.last = head.New(st, j.f.cat.Limits)
	return j.last
}

// settled is a wrap with its turns counted.
func settled(w *head.Wrap, turns int) *head.Wrap {
	if w == nil {
		return nil
	}
	x := *w
	x.Turns = turns
	return &x
}
