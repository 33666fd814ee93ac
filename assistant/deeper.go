package assistant

import (
	"mallow/assistant/reply"
	"mallow/assistant/tell"
	"mallow/rules"
)

// more shows the next screen of what goes deeper.
func (s display) more() Reply {
	var r Reply
	if s.now.rest == nil && s.now.stage == proposed { // made once it is asked for
		if p, err := s.kit.Offers.Propose(&s.now.State); err == nil {
			s.now.rest = s.teller().Deeper(p)
		}
	}
	if len(s.now.rest) == 0 {
		r.Say("There is no more to that; ask about any part or word of it.")
		return s.ask(r)
	}
	r.Page, s.now.rest = s.now.rest[0], s.now.rest[1:]
	return s.ask(r)
}

// theRules shows the next of the rules that spoke of what was asked about
// last, with what they met; those of the head where nothing was.
func (s display) theRules() Reply {
	var r Reply
	if c, err := s.kit.Offers.Best(&s.now.State); err == nil && s.now.stage == proposed && len(s.now.traced) == 0 {
		s.now.traced = tell.Screens(reply.Spoke(c.Trace, func(f rules.Firing) bool {
			return f.Rule.Do == rules.Prefer || f.Rule.Do == rules.Note || f.Rule.Do == rules.Refuse
		}))
	}
	if len(s.now.traced) == 0 {
		r.Say("No rule has spoken yet: there is no head they could speak of.")
		return s.ask(r)
	}
	r.Page, s.now.traced = s.now.traced[0], s.now.traced[1:]
	if len(s.now.traced) > 0 {
		r.Say("Say the rules again for the next.")
	}
	return s.ask(r)
}
