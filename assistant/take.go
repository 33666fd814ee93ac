package assistant

import (
	"strings"

	"mallow/assistant/lesson"
	"mallow/assistant/understand"
)

// tell takes in answers, parts and wishes.
func (s *Session) tell(r Reply, in understand.Reading) Reply {
	now, before := s.now.clone(), s.before()
	var troubles []string
	took := 0
	for _, a := range in.Answers {
		if trouble := s.now.Answer(a); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	for _, p := range in.Parts {
		if trouble := s.now.Part(p); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if len(in.Keep) > 0 || len(in.Moves) > 0 {
		if trouble := s.kit.offers.Move(&s.now.State, in.Moves, in.Keep); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if took == 0 {
		s.now = now
		if len(troubles) > 0 {
			r.Say("%s", strings.Join(troubles, " "))
			return s.ask(r)
		}
		return s.unclear(r, in)
	}
	s.past = append(s.past, before)
	if len(in.Understood) > 0 {
		r.Say("Taken: %s.", strings.Join(in.Understood, "; "))
	}
	s.missed(&r, in)
	for _, t := range troubles {
		r.Say("%s", t)
	}
	s.now.tries = 0
	r.sayAll(s.now.Settle())
	r.sayAll(s.now.Assumed(&before.State))
	if before.stage == proposed {
		return s.revise(r, &before)
	}
	return s.next(r)
}

func (s *Session) missed(r *Reply, in understand.Reading) {
	if len(in.Missed) > 0 {
		quoted := make([]string, len(in.Missed))
		for i, m := range in.Missed {
			quoted[i] = "“" + m + "”"
		}
		r.Say("I could make nothing of %s.", strings.Join(quoted, ", "))
	}
}

// whatIf takes a change in, shows only what moves, and takes it back.
func (s *Session) whatIf(r Reply, in understand.Reading) Reply {
	if len(in.Answers)+len(in.Moves)+len(in.Parts) == 0 {
		s.missed(&r, in)
		r.Say("What if what? For example: what if I play four mallets, what if the wall is thicker, what if it is lighter.")
		return s.ask(r)
	}
	before, err := s.kit.offers.Best(&s.now.State)
	if err != nil {
		s.teller().clash(&r, err)
		return s.ask(r)
	}
	kept := s.now.clone()
	var troubles []string
	for _, a := range in.Answers {
		troubles = append(troubles, s.now.Answer(a))
	}
	for _, p := range in.Parts {
		p.Holding = understand.Named
		if in.Parts[0].Holding == understand.Avoid || in.Parts[0].Holding == understand.Lack {
			p.Holding = understand.Avoid
		}
		troubles = append(troubles, s.now.Part(p))
	}
	if len(in.Moves) > 0 {
		troubles = append(troubles, s.kit.offers.Move(&s.now.State, in.Moves, in.Keep))
	}
	s.now.Settle()
	after, err := s.kit.offers.Best(&s.now.State)
	s.now = kept
	if text := strings.TrimSpace(strings.Join(troubles, " ")); text != "" {
		r.Say("%s", text)
		return s.ask(r)
	}
	what := strings.Join(in.Understood, "; ")
	if err != nil {
		s.teller().clash(&r, err)
		return s.ask(r)
	}
	var shown Reply
	s.teller().moved(&shown, "If "+what, before, after)
	if s.now.teaching && before.Stack.String() != after.Stack.String() {
		s.now.quiz = append(s.now.quiz, lesson.Guess("What if: "+what, before, after, shown.Page))
		return s.ask(r)
	}
	r.Page = append(r.Page, shown.Page...)
	return s.ask(r)
}
