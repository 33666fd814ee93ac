package assistant

import (
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/settled"
)

// earlier is what was settled when another head than the one at hand was last
// on offer; nil for never.
func (s *Session) earlier() *settled.State {
	c, err := s.kit.Offers.Best(&s.now.State)
	for i := len(s.past) - 1; i >= 0 && err == nil; i-- {
		if was := &s.past[i]; was.stage == proposed && was.seen {
			if x, err := s.kit.Offers.Best(&was.State); err == nil && x.Stack.String() != c.Stack.String() {
				return &was.State
			}
		}
	}
	return nil
}

// remember keeps the state to come back to.
func (s *Session) remember() { s.past = append(s.past, s.before()) }

// before is the state before the line that is being answered.
func (s *Session) before() state {
	if s.was != nil {
		return s.was.clone()
	}
	return s.now.clone()
}

func (s *Session) back() Reply {
	var r Reply
	if len(s.past) == 0 {
		r.Say("There is nothing to go back to.")
		return s.ask(r)
	}
	gone := s.now
	s.now = s.past[len(s.past)-1]
	s.past = s.past[:len(s.past)-1]
	s.keep(&r, gone)
	if s.now.stage == proposed {
		r.Say("Back to how it was.")
		if c, err := s.kit.Offers.Best(&s.now.State); err == nil {
			r.List(append([]string{reply.InShort(c)}, s.teller().Words().Lines(c.Head)...))
		}
		return s.ask(r)
	}
	r.Say("Back one answer.")
	return s.ask(r)
}

// keep carries what keeps somebody from harm over to where the conversation goes
// back to.
func (s *Session) keep(r *Reply, gone state) {
	if stays := s.now.Keep(gone.State); len(stays) > 0 {
		r.Say("What keeps somebody from harm stays until it is plainly taken back: %s.", strings.Join(stays, "; "))
	}
}
