package assistant

import (
	"strings"

	"mallow/assistant/inquiry"
	"mallow/assistant/lesson"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/several"
	"mallow/assistant/sheet"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// present shows the proposal.
func (s *Session) present(r Reply) Reply {
	c, err := s.kit.Offers.Best(&s.now.State)
	if err != nil {
		if s.tooLittle(&r) {
			return s.present(r)
		}
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	s.now.stage, s.now.asked, s.now.seen, s.now.wish = proposed, "", true, ""
	if s.now.teaching && len(s.now.quiz) == 0 {
		if s.now.quiz = (school{s}).foretell(c); len(s.now.quiz) > 0 {
			s.now.owed = true
			r.Say("Before I show it, guess.")
			return s.ask(r)
		}
	}
	s.teller().Offer(&r.Said, c)
	s.teller().Binds(&r.Said, c, s.replaying)
	if len(s.now.later) > 0 {
		r.Say("After it: %s. Say next head to go on with that.", several.Names(s.now.later))
	}
	return s.ask(r)
}

// tooLittle gives up that the share of a total is a limit, and says so; false
// where no total is shared.
func (s *Session) tooLittle(r *Reply) bool {
	share, shared := s.now.Unshare()
	if shared {
		r.Say("%s in all is %s for each of %s, and no head can be built for that. So this is the one that suits best; say cheaper, fewer pairs, or what you have on hand.",
			measure.Money(s.now.TotalCents), measure.Money(share), reply.Count(s.now.Sets()*max(s.now.Kinds, 1), "set"))
	}
	return shared
}

// revise shows the head after a change to one that was proposed before.
func (s *Session) revise(r Reply, before *state) Reply {
	was, err := s.kit.Offers.Best(&before.State)
	if err != nil {
		return s.present(r)
	}
	if end := s.now.Facts.Want.Register; end != before.Facts.Want.Register && s.now.Facts.Want.Softness == before.Facts.Want.Softness {
		if x, ok := s.kit.Offers.Beside(&before.State, was, end); ok { // the one that was offered
			s.now.pick(x.Stack)
		}
	}
	c, err := s.kit.Offers.Best(&s.now.State)
	if err != nil && s.tooLittle(&r) {
		return s.present(r)
	}
	if err != nil {
		s.teller().Clash(&r.Said, err)
		gone := s.now
		s.now = before.clone()
		s.past = s.past[:min(len(s.past), s.kept)]
		s.keep(&r, gone)
		if _, err := s.kit.Offers.Best(&s.now.State); err != nil { // what may hurt stands in the way
			s.now.stage, s.now.asked = asking, ""
			return s.ask(r)
		}
		r.Say("So I leave it as it was.")
		return s.ask(r)
	}
	if was.Stack.String() == c.Stack.String() {
		s.now.rest = nil
		if short := s.kit.Offers.Short(&s.now.State); short != "" {
			r.Say("%s", short)
		}
		r.Say("The same head stays the best: %s.", s.teller().Words().Brief(c.Stack))
		if traded := s.teller().Traded(c); traded != "" && traded != reply.Traded(was, before.Facts.Want, inquiry.Gain) { // said before
			r.Say("%s", traded)
		}
		return s.ask(r)
	}
	if s.now.teaching {
		var shown Reply
		s.revised(&shown, was, c)
		s.now.quiz = append(s.now.quiz, lesson.Guess("Before I show the new head: how does it compare with the one before?", was, c, shown.Page))
		return s.ask(r)
	}
	s.revised(&r, was, c)
	return s.ask(r)
}

func (s *Session) revised(r *Reply, was, c propose.Candidate) {
	text := page.Para("Against the one before: " + reply.Against(was, c))
	if n := len(r.Page) - 1; n >= 0 { // in one breath with what was taken
		if taken, ok := r.Page[n].(page.Para); ok && strings.HasPrefix(string(taken), "Taken: ") {
			r.Page, text = r.Page[:n], taken+" "+text
		}
	}
	r.Page = append(r.Page, text)
	if c, err := s.kit.Offers.Best(&s.now.State); err == nil {
		s.teller().Offer(&r.Said, c)
	}
}

// Sheet makes the build sheet of the head that the conversation has come to.
func (s *Session) Sheet() (sheet.Sheet, error) {
	p, err := s.kit.Offers.Propose(&s.now.State)
	if err != nil {
		return sheet.Sheet{}, err
	}
	c, heads := p.Best, s.now.Heads()
	order, err := s.kit.Finder.Order([]propose.Make{{Head: c.Head, Heads: heads}}, s.now.Request())
	if err != nil {
		return sheet.Sheet{}, err
	}
	return s.kit.Sheets().Sheet(c, sheet.Options{Heads: heads, Order: &order, Pool: p.Pool, Alternatives: p.Alternatives})
}

// atHand is the head that would be built now, and how many.
func (s *Session) atHand() (propose.Candidate, int, error) {
	if s.now.Stack != "" { // picked by hand: as it is, whatever would be better
		st, err := head.Parse(s.kit.Catalogue, s.now.Stack)
		if err == nil {
			c, err := s.kit.Offers.Consider(&s.now.State, st)
			return c, s.now.Heads(), err
		}
	}
	if c, ok := s.best.known(s.kit, &s.now.State); ok {
		return c, s.now.Heads(), nil
	}
	p, err := s.kit.Offers.Propose(&s.now.State)
	return p.Best, s.now.Heads(), err
}

// owes opens the question of safety that is still to be answered, put whole and with
// why it comes now, and reports whether there is one.
func (s *Session) owes(r *Reply, why string) bool {
	q, ok := s.kit.Asker.Owed(&s.now.State)
	if ok {
		s.now.open(q.ID)
		s.now.prompted = "" // else it would be put in few words where it was put before
		r.Say("%s", why)
	}
	return ok
}

// whole hands out the build sheet.
func (s *Session) whole(r Reply) Reply {
	if s.owes(&r, "Before the sheet, this has to come from you.") {
		return s.ask(r)
	}
	sh, err := s.Sheet()
	if err != nil {
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	s.now.stage, s.now.asked, s.now.done, s.now.turning = proposed, "", true, len(s.now.later) > 0
	r.Sheet, r.Built, r.Whole = &sh, true, true
	if s.kit.Owned() > 0 {
		r.Say("Once they are built, mallow shelf take --session takes off your shelf what they used.")
	}
	return s.ask(r)
}
