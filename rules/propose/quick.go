package propose

import (
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
)

// quick computes one head by reduced strokes, as a search does, and scores it;
// ok is false when a rule refuses it.
func (j *judging) quick(st head.Stack) (c Candidate, ok bool) {
	h := head.New(st, j.f.cat.Limits)
	b, err := strike.FromHead(h)
	if err != nil {
		return Candidate{}, false
	}
	h.Stack.Wrap = settled(h.Stack.Wrap, h.Turns)
	c = Candidate{Stack: h.Stack, Head: h, Facts: j.base}
	j.f.describe(&c, j.bin)
	x := &c.Facts.Head
	s := &j.sound
	s.fillMF(x, strike.Quick(nil, &b, &s.ref, s.mf)[0])
	s.fill(x, strike.Quick(nil, &b, &s.ref, s.speeds))
	var refused *rules.Rule
	c.Score, refused = j.score(&c.Facts, c.Layers)
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
