package assistant

import (
	"slices"

	"mallow/assistant/gift"
	"mallow/assistant/heed"
	"mallow/assistant/settled"
	"mallow/assistant/short"
	"mallow/assistant/understand"
	"mallow/knowledge"
)

// heeding is the conversation where a line is known by what was just said, or says
// what is to be bought. It comes before all but harm.
type heeding struct{ *Session }

// read reads a line, and returns what to say first, as heed.Read.
func (s heeding) read(line string) heed.Line {
	other := len(s.now.quiz) > 0 || s.now.choosing || s.now.old.Open || s.now.doctor.ID != "" || s.now.bench != nil && s.now.asked == "" // has choices of its own
	plain := other || s.now.stage != asking || s.now.pair != [2]string{} && short.Side(line, "", "") > 0
	return heed.Read(s.kit, &s.now.State, understand.Context{Asked: s.now.asked, Instrument: s.now.Instrument, Before: s.now.heard}, line, !plain)
}

// beside answers a line that is known by what was just said: that something is wrong, or
// which of two heads it is.
func (s heeding) beside(line string) (Reply, bool) {
	if r, ok := s.denied(line); ok {
		return r, true
	}
	return s.sided(line)
}

// denied takes back what was taken of the last line, if a line says that it is wrong. A no
// alone says so only of what was doubted.
func (s heeding) denied(line string) (Reply, bool) {
	var r Reply
	last := s.now.last
	s.now.last = settled.Last{}
	wrong, bare := short.Wrong(line)
	q, asks := s.kit.Catalogue.Question(s.now.asked)
	if !wrong || bare && (!last.Doubted || asks && slices.ContainsFunc(q.Choices, func(c knowledge.Choice) bool { return c.Say == "no" })) {
		return r, false
	}
	before, back := s.before(), settled.Deny(&s.now.State, last)
	if back == "" {
		return r, false
	}
	s.remember()
	r.Say("Taken back: %s.", back)
	return s.onward(r, &before), true
}

// sided goes on with one of the two heads that were shown side by side, if a line
// names one.
func (s heeding) sided(line string) (Reply, bool) {
	var r Reply
	words := s.teller().Words()
	side, first, second := gift.Asked{Kit: s.kit, State: &s.now.State, Pair: s.now.pair}.Sided(line, s.now.stage == proposed, words.Stack)
	switch side {
	case 1:
		s.remember()
		s.now.pair = [2]string{}
		r.Say("So it stays as it is: %s.", words.Brief(first))
		return s.ask(r), true
	case 2:
		before := s.before()
		s.remember()
		s.now.pair = [2]string{}
		r.Say("Taken: the other one, %s.", words.Brief(second))
		if s.now.stage == proposed {
			s.now.pick(second)
			return s.revise(r, &before), true
		}
		r.SayAll(supposing(s).suppose(s.now.wondered))
		s.now.Stack = second.String()
		return s.next(r), true
	}
	return r, false
}
