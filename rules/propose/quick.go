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
	c, b, ok := j.Begin(st)
	return c, ok && j.Finish(&c, &b)
}

// Begin computes what follows from a head's parts and one reduced stroke at mf: the
// cheap part of what Quick says. Finish goes on from there; ok is false when the
// head can't be struck.
func (j *Judging) Begin(st head.Stack) (c Candidate, b strike.Body, ok bool) {
	if c, b, ok = j.Parts(st); ok {
		j.Strike(&c, &b)
	}
	return c, b, ok
}

// Strike adds to what follows from a head's parts what a stroke at mf tells.
func (j *Judging) Strike(c *Candidate, b *strike.Body) {
	j.Sound.FillMF(&c.Facts.Head, j.Sound.Even(b))
}

// Parts computes what follows from a head's parts alone; ok is false when the head
// can't be struck.
func (j *Judging) Parts(st head.Stack) (c Candidate, b strike.Body, ok bool) {
	return j.Over(j.Rubber(st), st.Wrap)
}

// Over is Parts of rubber that was fitted before, under a yarn or none.
func (j *Judging) Over(rubber head.Head, wrap *head.Wrap) (c Candidate, b strike.Body, ok bool) {
	rubber.Stack.Wrap = wrap
	h := rubber.Rewrap(j.f.wound(rubber.Stack, &j.Base).Wrap, &j.f.cat.Limits)
	b, err := strike.FromHead(h)
	if err != nil {
		return Candidate{}, b, false
	}
	h.Stack.Wrap = settled(h.Stack.Wrap, h.Turns)
	c = Candidate{Stack: h.Stack, Head: h, Facts: j.Base}
	j.f.Describe(&c, j.bin)
	return c, b, true
}

// Finish works out the rest of a head that was begun, and scores it; it returns
// false when a rule refuses the head.
func (j *Judging) Finish(c *Candidate, b *strike.Body) bool {
	x := &c.Facts.Head
	j.Sound.Fill(x, j.Sound.All(b))
	j.Sound.FillNotes(x, b)
	j.FillBright(x, b)
	var refused *rules.Rule
	c.Score, refused = j.Score(&c.Facts, c.Layers)
	return refused == nil
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

// head computes a head.
func (j *Judging) head(st head.Stack) head.Head {
	return j.Rubber(st).Rewrap(j.f.wound(st, &j.Base).Wrap, &j.f.cat.Limits)
}

// Rubber fits the slices of a head over its ball, without yarn. Whoever tries turns
// asks for the same rubber time and again, which is not fitted anew.
func (j *Judging) Rubber(st head.Stack) head.Head {
	was := &j.last.Stack
	if j.last.Mass == 0 || was.Core != st.Core || was.Shaft != st.Shaft || !slices.Equal(was.Slices, st.Slices) {
		st.Wrap = nil
		j.last = head.New(st, j.f.cat.Limits)
	}
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
