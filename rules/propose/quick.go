package propose

import (
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
)

// Quick computes one head by reduced strokes, as a search does, and scores it;
// ok is false when a rule refuses it.
func (j *Judging) Quick(st head.Stack) (c Candidate, ok bool) {
	h := head.New(j.f.wound(st, &j.Base), j.f.cat.Limits)
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

// settled is a wrap with its turns counted.
func settled(w *head.Wrap, turns int) *head.Wrap {
	if w == nil {
		return nil
	}
	x := *w
	x.Turns = turns
	return &x
}
