package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/gloss"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/shape"
	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/reading"
)

// curious is the conversation while somebody asks.
type curious struct{ *Session }

// knows answers a line that asks for what the catalogue answers, or for the
// meaning of a word, and reports whether it does. Nothing of the line is taken.
func (s curious) knows(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	if answer.Confused(line) {
		return s.again(), true
	}
	if means, ok := gloss.In(s.kit.Catalogue).Asked(line); ok {
		r.Told = "term"
		r.Say("%s", means)
		return s.ask(r), true
	}
	if act := in.Act(); (act == reading.Compare || act == reading.Restart && len(in.Missed) == 0) && !s.kit.Answers().Is(line) {
		return r, false // compare medium and soft; can we start over
	}
	if id, ok := s.kit.Answers().Find(line); ok && s.onlyAsks(in, line) {
		s.tell(&r, id, line)
		if answer.Harms(in) && s.now.bench == nil { // no scale: can I do it without
			return s.Session.tell(r, in, line), true
		}
		return s.ask(r), true
	}
	asks := answer.IsQuestion(line)
	if !asks && !answer.MayReport(in, line) {
		return r, false
	}
	of, how := s.nearest(line)
	_, shaped := shape.Read(line)
	switch {
	case how < answer.NearLikely || answer.Harms(in), in.Act() == reading.Define && how < answer.NearSure:
		return r, false
	case !asks && s.kit.Answers().Reports(of, how, in, line):
		return s.found(of, line), true
	case !asks || answer.Tells(in, line):
		return r, false
	case how >= answer.NearSure, how >= answer.NearPlain && !shaped && (answer.Follows(line) || len(in.Takes)+len(in.Moves)+len(in.Supposed.Said) == 0):
		return s.found(of, line), true
	}
	return r, false
}

// urgent answers a line that tells that somebody is hurt, before all else. What
// the line takes besides is still taken.
func (s curious) urgent(in reading.Reading, line string, h settled.Heard) (Reply, bool) {
	id, ok := s.kit.Answers().Urgent(line)
	if !ok || s.replaying {
		return Reply{}, false
	}
	var r Reply
	s.tell(&r, id, line)
	switch {
	case len(in.Takes)+len(in.Parts)+len(in.Moves) > 0:
		more := s.answer(in, line, h)
		if more.Told != id {
			more.Page = append(r.Page, more.Page...)
		}
		more.Told = id
		return more, true
	case s.now.bench != nil && h.Did():
		return building(s).recheck(r), true
	case len(h.Noted) > 0 && s.now.Facts != s.was.Facts:
		return s.onward(r, s.was), true
	}
	return s.ask(r), true
}

// places are where the conversation is, as answers name it.
func (s curious) places() []string {
	switch {
	case s.now.bench != nil:
		step, _, _ := strings.Cut(s.now.bench.At(), " ")
		return []string{"bench", step}
	case s.now.stage == proposed:
		return []string{"head"}
	}
	return []string{"choosing"}
}

// nearest returns what is asked nearest to a line where the conversation is. Of why, why
// the core and what if it is none but by the very words: they ask of the head itself.
func (s curious) nearest(line string) (answer.Found, float64) {
	of, how := s.kit.Answers().Nearest(line, s.places()...)
	if words := strings.Fields(strings.ToLower(line)); len(words) > 0 && len(words) <= 3 && (words[0] == "why" || words[0] == "what") && how < 0.9 {
		how = 0
	}
	return of, how
}

// nearby answers a line with what is asked nearest to it, if that is near
// enough.
func (s curious) nearby(line string, least float64) (Reply, bool) {
	of, how := s.nearest(line)
	if how < least {
		return Reply{}, false
	}
	return s.found(of, line), true
}

// aside answers what is asked in a line that tells something too, if the answer
// is likely: no caliper, how do I measure it then.
func (s curious) aside(r *Reply, line string) {
	part, least := answer.Asking(line), answer.NearLikely
	of, how := s.nearest(part)
	if all, near := s.nearest(line); near > how {
		of, how = all, near
	}
	if part == line {
		least = answer.NearSure
	}
	if how >= least && !of.Trouble {
		s.tell(r, of.ID, line)
	}
}

// found says an answer, or begins to look into a trouble.
func (s curious) found(of answer.Found, line string) Reply {
	var r Reply
	if of.Trouble {
		return building(s).look(of.ID)
	}
	s.tell(&r, of.ID, line)
	if s.now.bench != nil && s.now.asked == "" {
		return building(s).along(r, s.now.bench.Again())
	}
	return s.ask(r)
}

// onlyAsks reports whether a line takes nothing that has to be settled. What
// may hurt somebody is taken first, whatever else a line says.
func (s curious) onlyAsks(in reading.Reading, line string) bool {
	takes := len(in.Takes)+len(in.Parts)+len(in.Moves)+len(in.Supposed.Said) > 0
	return s.kit.Answers().Is(line) || !takes
}

// guess answers a line that nothing else was made of with what is asked nearest
// to it, and reports whether anything is.
func (s curious) guess(r *Reply, in reading.Reading, line string) bool {
	least := answer.NearPlain
	if answer.IsQuestion(line) || clause.IsQuestion(in.Act()) || s.now.bench != nil {
		least = answer.NearLikely
	}
	of, how := s.nearest(line)
	if how >= least {
		told := s.found(of, line)
		r.Page, r.Told = append(r.Page, told.Page...), told.Told
		return true
	}
	id, ok := s.kit.Answers().Topic(in, line) // a word for a thing and hardly another
	if ok {
		s.tell(r, id, line)
	}
	return ok
}

// tell says an answer, or shows what it shows.
func (s curious) tell(r *Reply, id, line string) {
	if s.replaying { // it changes nothing
		return
	}
	r.Told = id
	t := s.teller()
	switch s.kit.Answers().Do(id) {
	case "answers":
		t.Recall(&r.Said)
	case "assumed":
		t.Assumed(&r.Said)
	case "changed":
		t.Changed(&r.Said, s.earlier())
	case "ahead":
		if s.now.bench == nil {
			r.Say("%s", t.Answer("steps", line))
			return
		}
		r.Say("%s", s.now.bench.Ahead())
	case "drawing":
		if s.now.stage != proposed {
			r.Say("There is no head yet to draw; a few answers more.")
			return
		}
		display(s).drawing(r)
	case "offer":
		c, err := s.kit.Offers.Best(&s.now.State)
		switch {
		case s.now.stage != proposed:
			r.Say("That is what I work out from your answers: press Enter to go on.")
		case err != nil:
			t.Clash(&r.Said, err)
		default:
			r.Say("The head on offer: %s. %s", t.Parts(c.Stack), reply.InShort(c))
		}
	default:
		r.Say("%s", t.Answer(id, line))
	}
}

// again explains what stands at the prompt.
func (s curious) again() Reply {
	var r Reply
	q, ok := s.kit.Catalogue.Question(s.now.asked)
	switch {
	case s.now.bench != nil && s.now.asked == "":
		return building(s).along(r, s.now.bench.Show())
	case ok:
		r.Say("%s", q.Why)
		r.Say("You can say: %s. If you are not sure, press Enter.", strings.Join(q.Examples, "; "))
	case s.now.stage == proposed:
		r.Say("%s", s.teller().Answer("beginner", ""))
	default:
		r.Say("%s", s.teller().Answer("name", ""))
	}
	return s.ask(r)
}

// unanswered says that a question has no answer here, and what can be asked
// at this place; after some of them, what Enter does.
func (s curious) unanswered(r Reply, in reading.Reading, line string) Reply {
	if s.guess(&r, in, line) {
		return s.ask(r)
	}
	const short = 6 // words that say little but of which figure
	for _, t := range in.About {
		if t.Kind == "fact" && s.now.stage == proposed && len(strings.Fields(line)) <= short && strings.HasPrefix(t.ID, "want.") && s.teller().ShowFact(&r.Said, t.ID) {
			return s.ask(r)
		}
	}
	s.now.tries++
	if s.hint(&r, line) {
		return s.ask(r)
	}
	s.teller().Missed(&r.Said, in)
	s.teller().Unanswered(&r.Said, s.now.tries >= patience)
	return s.ask(r)
}

// hint says what near a question can be answered, and reports whether anything
// is near.
func (s curious) hint(r *Reply, line string) bool {
	ways := s.kit.Answers().Near(line, s.places()...)
	r.Words = append(r.Words, ways...)
	if id, ok := s.kit.Answers().Perhaps(line, s.places()...); ok {
		way := s.kit.Answers().Way(id)
		r.Say("I am not sure what you ask. If it is “%s”: %s", way, s.teller().Answer(id, line))
		if ways = slices.DeleteFunc(ways, func(w string) bool { return w == way }); len(ways) > 0 {
			r.Say("Or is it “%s”?", ways[0])
		}
		return true
	}
	if len(ways) > 0 {
		r.Say("I have no answer to that. Near it I can tell, if you ask: %s.", strings.Join(ways, "; "))
	}
	return len(ways) > 0
}

// unclear asks again, more narrowly; in the end it takes the default.
func (s *Session) unclear(r Reply, in reading.Reading, line string) Reply {
	if (curious{s}).guess(&r, in, line) {
		if s.now.stage == inviting {
			s.now.stage = asking
			return s.next(r)
		}
		return s.ask(r)
	}
	if s.now.asked == "" {
		switch {
		case in.Empty() && strings.Count(line, " ") > 2 && (curious{s}).hint(&r, line):
		case len(in.Missed) > 0:
			s.teller().Missed(&r.Said, in)
		default:
			r.Say("I could make nothing of that.")
		}
		if s.now.stage == inviting {
			s.now.stage = asking
			return s.next(r)
		}
		return s.ask(r)
	}
	s.now.tries++
	q, _ := s.kit.Catalogue.Question(s.now.asked)
	if s.now.tries >= patience {
		s.remember()
		r.Say("That is not getting clearer, so I go on with the stated answer; say change to come back to it.")
		s.takeDefault(&r)
		return s.next(r)
	}
	s.teller().Missed(&r.Said, in)
	if len(in.Missed) == 0 {
		r.Say("That does not answer the question.")
	}
	r.Say("Answers that I understand here: %s.", strings.Join(q.Examples, "; "))
	return s.ask(r)
}
