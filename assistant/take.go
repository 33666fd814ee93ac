package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/settled"
	"mallow/assistant/several"
	"mallow/assistant/understand/reading"
)

// tell takes in answers, parts and wishes.
func (s *Session) tell(r Reply, in reading.Reading, line string) Reply {
	if r, ok := (queue{s}).further(in, line); ok {
		return r
	}
	now, before := s.now.clone(), s.before()
	in, later := several.Apart(&s.now.State, in)
	var troubles []string
	took := 0
	if in.Empty() && s.now.Pair(line) {
		s.past = append(s.past, before)
		r.Say("Taken: two heads to build.")
		return s.onward(r, &now)
	}
	var back []string
	for _, path := range in.Withdraws {
		if words := s.now.Unsay(path); words != "" {
			back = append(back, words)
			took++
		}
	}
	for _, a := range settled.LimitsFirst(in.Takes) {
		if trouble := s.now.Answer(a); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	unfit := s.now.Parts(in.Parts)
	troubles, took = slices.Compact(append(troubles, unfit...)), took+len(in.Parts)-len(unfit)
	if len(in.Keeps) > 0 || len(in.Moves) > 0 {
		said, moved := s.kit.Offers.Take(&s.now.State, in, s.now.seen)
		if said != "" {
			troubles = append(troubles, said)
		}
		if moved {
			took++
		}
	}
	if took == 0 {
		s.now = now
		if len(troubles) > 0 {
			r.Say("%s", strings.Join(troubles, " "))
			return s.ask(r)
		}
		return s.unclear(r, in, line)
	}
	s.past = append(s.past, before)
	if len(back) > 0 {
		r.Say("Taken back: %s.", strings.Join(back, "; "))
	}
	if len(later) > 0 {
		queue{s}.keep(&r, in, later)
	} else if len(in.Said) > 0 {
		r.Say("Taken: %s.", strings.Join(in.Said, "; "))
	}
	if in.Talk == "worry" {
		r.Once(s.teller().Chat(in, line))
	}
	s.teller().Missed(&r.Said, in)
	s.teller().Doubts(&r.Said, in)
	s.now.last = settled.Took(in)
	for _, t := range troubles {
		r.Say("%s", t)
	}
	s.now.tries = 0
	r.SayAll(s.now.Settle())
	r.SayAll(s.now.Assumed(&before.State))
	if before.stage == proposed {
		return s.revise(r, &before)
	}
	return s.next(r)
}

// change opens a question again.
func (s *Session) change(r Reply, in reading.Reading) Reply {
	for _, t := range in.About {
		if q, ok := s.kit.Catalogue.Question(t.ID); ok && t.Kind == "fact" {
			s.remember()
			s.now.open(q.ID)
			s.now.Reopen(q.ID)
			if said, ok := s.now.Said(q.ID); ok {
				r.Say("Until now: %s.", said)
			}
			return s.ask(r)
		}
	}
	r.Say("Which answer shall change? These are yours:")
	r.List(s.now.Answers())
	return s.ask(r)
}
