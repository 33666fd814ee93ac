package assistant

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/gloss"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/rules/propose"
)

// How near a line has to be to a way to ask, to be taken to ask for that: at
// once, where it is a question that nothing else answers, and where it is no
// question at all.
const (
	nearSure   = 0.8
	nearLikely = 0.45
	nearPlain  = 0.6
)

// curious is the conversation while somebody asks.
type curious struct{ *Session }

// knows answers a line that asks for what the catalogue answers, or for the
// meaning of a word, and reports whether it does. Nothing of the line is taken.
func (s curious) knows(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	if s.confused(line) {
		return s.again(), true
	}
	if means, ok := gloss.In(s.kit.Catalogue).Asked(line); ok {
		r.Say("%s", means)
		return s.ask(r), true
	}
	id, ok := s.kit.answers().Find(line)
	if near, how := s.kit.answers().Nearest(line); !ok && how >= nearSure && answer.IsQuestion(line) {
		id, ok = near, true
	}
	if !ok || !s.onlyAsks(in, line) {
		return r, false
	}
	s.tell(&r, id, line)
	return s.ask(r), true
}

// onlyAsks reports whether a line takes nothing that has to be settled. What
// may hurt somebody is taken first, whatever else a line says.
func (s curious) onlyAsks(in reading.Reading, line string) bool {
	harms := slices.ContainsFunc(in.Takes, func(a reading.Take) bool {
		return strings.HasPrefix(a.Path, "player.") || strings.HasPrefix(a.Path, "bench.")
	})
	takes := len(in.Takes)+len(in.Parts)+len(in.Moves)+len(in.Supposed.Said) > 0
	return s.kit.answers().Is(line) || !harms && !takes
}

// guess answers a line that nothing else was made of with what is asked nearest
// to it, and reports whether anything is.
func (s curious) guess(r *Reply, in reading.Reading, line string) bool {
	for _, t := range in.About {
		thing := t.Kind
		if t.Kind == "fact" || t.Kind == "term" {
			thing = t.ID
		} else if t.ID != "" {
			thing += " " + t.ID
		}
		if id, ok := s.kit.answers().About(thing); ok {
			if near, how := s.kit.answers().Nearest(line); how >= nearLikely {
				id = near
			}
			s.tell(r, id, line)
			return true
		}
	}
	least := nearPlain
	if answer.IsQuestion(line) {
		least = nearLikely
	}
	id, how := s.kit.answers().Nearest(line)
	if how < least {
		return false
	}
	s.tell(r, id, line)
	return true
}

// tell says an answer, or shows what it shows.
func (s curious) tell(r *Reply, id, line string) {
	if s.replaying { // it changes nothing
		return
	}
	t := s.teller()
	switch s.kit.answers().Do(id) {
	case "answers":
		t.recall(r)
	case "assumed":
		t.assumed(r)
	case "changed":
		t.changed(r, s.earlier())
	case "drawing":
		if s.now.stage != proposed {
			r.Say("There is no head yet to draw; a few answers more.")
			return
		}
		display(s).drawing(r)
	case "offer":
		c, err := s.kit.offers.Best(&s.now.State)
		switch {
		case s.now.stage != proposed:
			r.Say("That is what I work out from your answers: press Enter to go on.")
		case err != nil:
			t.clash(r, err)
		default:
			r.Say("The head on offer: %s. %s", t.parts(c.Stack), reply.InShort(c))
		}
	default:
		r.Say("%s", t.answer(id, line))
	}
}

// confused reports whether a line says that the person does not follow.
func (s curious) confused(line string) bool {
	return slices.Contains([]string{
		"what", "huh", "eh", "pardon", "come again", "sorry what", "what do you mean", "what does that mean", "what does this mean", "what do you mean by that", "i dont understand",
		"i do not understand", "i dont understand the question", "i dont get the question", "i dont know what that means", "i dont know what you mean", "not sure what you mean", "what is that", "whats that", "explain", "can you explain", "please explain", "explain that",
	}, answer.Plain(line))
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
		r.Say("%s", s.teller().answer("beginner", ""))
	default:
		r.Say("%s", s.teller().answer("name", ""))
	}
	return s.ask(r)
}

// unanswered says that a question has no answer here, and what can be asked
// at this place; after some of them, what Enter does.
func (s curious) unanswered(r Reply, in reading.Reading, line string) Reply {
	for _, t := range in.About {
		if t.Kind == "fact" && s.now.stage == proposed && strings.HasPrefix(t.ID, "want.") && s.teller().showFact(&r, t.ID) {
			return s.ask(r)
		}
	}
	if s.guess(&r, in, line) {
		return s.ask(r)
	}
	s.missed(&r, in)
	s.now.tries++
	q, asking := s.kit.Catalogue.Question(s.now.asked)
	switch {
	case s.now.bench != nil && s.now.asked == "":
		r.Say("I have no answer to that. Here I can say why a step is done, what a word means, what is left to do (card), and what to do when it slipped or tore.")
	case asking && s.now.tries >= patience:
		r.Say("I have no answer to that either. Press Enter and I go on with what most players have, or say one of: %s.", strings.Join(q.Examples, "; "))
	case asking:
		r.Say("I have no answer to that. Here you can answer (%s), ask why, ask what a word means, or what it costs, how long it takes, which tools it needs, whether it is safe.", strings.Join(q.Examples, "; "))
	case s.now.stage == proposed:
		r.Say("I have no answer to that. Ask why, why not, what if, compare; what it costs, how long it takes, which tools it needs, whether it is safe; or say softer, lighter, cheaper.")
	default:
		r.Say("I have no answer to that. Say which instrument the mallets are for, or press Enter and I ask one thing at a time.")
	}
	return s.ask(r)
}

// grams is a weight that somebody asks about.
var grams = regexp.MustCompile(`(?i)\b(\d{1,4}(?:\.\d+)?)\s*-?\s*g(?:rams?|r)?\b`)

// answer is the text of one of the catalogue's answers, for the head at hand
// or before there is one.
func (t teller) answer(id, line string) string {
	f := answer.Facts{}
	if m := grams.FindStringSubmatch(line); m != nil {
		f.Asked.MassG, _ = strconv.ParseFloat(m[1], 64) // digits
		f.Asked.Mass = m[1] + " g"
	}
	if c, err := t.kit.offers.Best(&t.now.State); err == nil && t.now.stage == proposed {
		if full, err := t.facts(c, f); err == nil {
			return t.kit.answers().Text(id, full, true)
		}
	}
	at := t.kit.Finder.Settle(t.now.Guess())
	f.Player, f.Want, f.Instrument, f.Bench = at.Player, t.now.Facts.Want, at.Instrument, t.now.Facts.Bench
	f.Offer = t.group(f.Offer)
	f.Offer.Left = float64(t.kit.asker.Open(&t.now.State, t.now.seen))
	return t.kit.answers().Text(id, f, false)
}

// facts are what answers about a head may read.
func (t teller) facts(c propose.Candidate, f answer.Facts) (answer.Facts, error) {
	e, order, err := t.effort(c)
	if err != nil {
		return f, err
	}
	f.Player, f.Want, f.Instrument, f.Bench, f.Head = c.Facts.Player, c.Facts.Want, c.Facts.Instrument, c.Facts.Bench, c.Facts.Head
	f.Offer = t.group(f.Offer.With(e).Of(t.words(), c.Head, order))
	f.Offer.Heads = float64(e.Heads * t.now.Sets())
	f.Offer.PartsCents = f.Offer.Heads * c.Facts.Head.CostCents
	f.Offer.AllCents = float64(e.Buy)
	f.Offer.Left = float64(t.kit.asker.Open(&t.now.State, t.now.seen))
	return f, nil
}

// group adds how many sets are to be built, and what for.
func (t teller) group(o answer.Offer) answer.Offer {
	o.Pairs, o.Each = float64(t.now.Sets()), float64(t.now.Heads())
	o.TotalCents, o.ShareCents = t.now.TotalCents/float64(max(t.now.Kinds, 1)), t.now.ShareCents()
	return o
}

// changed says how the head on offer differs from the one before it.
func (t teller) changed(r *Reply, before *settled.State) {
	now, err := t.kit.offers.Best(&t.now.State)
	if err != nil || before == nil || t.now.stage != proposed {
		r.Say("Nothing has changed yet: there is no other head before this.")
		return
	}
	was, err := t.kit.offers.Best(before)
	if err != nil {
		t.clash(r, err)
		return
	}
	r.Say("Against the one before (%s): %s", t.words().Plain(was.Stack), reply.Against(was, now))
}

// assumed says what nobody said and was taken for granted.
func (t teller) assumed(r *Reply) {
	var list []string
	for _, q := range t.kit.Catalogue.Questions {
		if _, said := t.now.Said(q.ID); said || t.now.Known[q.ID] || q.Default == "" || !t.kit.asker.Arises(&t.now.State, q.ID) {
			continue
		}
		enter := t.kit.asker.Enter(&t.now.State, q)
		for _, c := range q.Choices {
			if c.Value == enter {
				name := q.Name
				if name != "" {
					name += ": "
				}
				list = append(list, name+c.Say)
			}
		}
	}
	if len(list) == 0 {
		r.Say("Nothing: all that counts was said.")
		return
	}
	r.Say("Nobody said otherwise, so this is taken: %s.", strings.Join(list, "; "))
}
