package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
)

// hearing is the conversation where it is about harm: what is heard of it, what
// it leaves open, and what is taken back.
type hearing struct{ *Session }

// hear takes in what a line says of harm, whatever else it says and whatever
// was asked. It returns what to say about that first.
func (s hearing) hear(facts []harm.Fact) (settled.Heard, page.Page) {
	asked := s.now.asked
	if len(s.now.quiz) > 0 || s.now.choosing {
		asked = ""
	}
	h := s.now.Hear(facts, asked)
	var r Reply
	if len(h.Noted) > 0 {
		r.Say("Noted: %s.", strings.Join(h.Noted, "; "))
	}
	r.SayAll(s.now.Settle())
	return h, r.Page
}

// affirmed takes the answer to that, and reports whether the line was no more
// than the answer.
func (s hearing) affirmed(line string) (Reply, bool) {
	var r Reply
	back := s.now.back
	answer := reading.Short(line)
	yes := slices.Contains([]string{"yes", "y", "yes it is", "yes really", "really", "yes take it back", "take it back"}, answer)
	if yes {
		s.remember()
	}
	s.now.back = nil
	for _, f := range back {
		if said, _ := s.now.Said(f.Path); !yes {
			r.Say("It stays: %s.", said)
		} else {
			r.Say("Taken back; now: %s.", s.now.TakeBack(f))
		}
	}
	return r, yes || answer == "" || slices.Contains([]string{"no", "n", "nope", "no it stays", "it stays"}, answer)
}

// onward goes on from what was settled: with the head at hand, or the next
// question.
func (s *Session) onward(r Reply, before *state) Reply {
	switch {
	case len(s.now.quiz) > 0 || s.now.choosing:
		return s.ask(r)
	case before.stage == proposed && s.now.stage == proposed:
		return s.revise(r, before)
	}
	return s.next(r)
}

// open asks at once what a line of harm left open or would take back.
func (s hearing) open(r Reply, h settled.Heard) Reply {
	if len(h.Back) > 0 {
		s.now.back = h.Back
		return s.ask(r)
	}
	for _, path := range h.Open {
		if q, ok := s.kit.Catalogue.Question(path); ok && !s.now.Known[path] && s.kit.Asker.Arises(&s.now.State, path) && s.now.asked != path && len(s.now.quiz) == 0 && !s.now.choosing {
			s.now.open(q.ID)
			return s.ask(r)
		}
	}
	return r
}
