package assistant

import (
	"context"
	"strings"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// offer is the proposal as one screen to decide by.
func (t teller) offer(r *Reply, p propose.Proposal) {
	t.offerOne(r, p.Best, t.kit.offers.Short(&t.now.State))
	t.now.rest = t.deeper(p)
}

// offerOne is the screen of one head, and what it falls short of, if anything.
func (t teller) offerOne(r *Reply, c propose.Candidate, short string) {
	if short != "" {
		r.Say("%s", short)
	}
	e, _, err := t.effort(c)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	f, err := t.facts(c, answer.Facts{})
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	o := t.words().NewOffer(c, t.job(), t.kit.answers().Text("sounds", f, true), e)
	if serves, short := graded.Serves(context.Background(), t.kit.Finder, c, t.now.Request()); short {
		o = t.words().Ranged(o, c, serves)
	}
	r.Page = append(r.Page, o.Page()...)
	if total := measure.Money(t.now.TotalCents / float64(max(t.now.Kinds, 1))); total > 0 && e.Buy > total {
		r.Say("That is more than the %s that is there for it, since parts come in whole packs.", total)
	}
	if own := t.words().Own(c.Stack); len(own) > 0 {
		r.Say("Of your own knowledge it uses %s.", strings.Join(own, "; "))
	}
}

// job is what the head is for.
func (t teller) job() string {
	job := t.now.Facts.Instrument.Kind
	if said, ok := t.now.Said("instrument.kind"); ok {
		job = said
	}
	if grip, ok := t.now.Said("player.grip"); ok {
		return grip + " on " + job
	}
	return job
}

// deeper are the screens that go deeper into a proposal, the next one first.
func (t teller) deeper(p propose.Proposal) []page.Page {
	c := p.Best
	var stack, sound, choices Reply
	stack.Page = append(stack.Page, t.words().InsideOut("From the inside out, in figures", c))
	stack.Say("%s", reply.InShort(c))
	sound.Say("%s", t.sound(c))
	sound.list(t.notes(c))
	if traded := t.traded(c); traded != "" {
		sound.Say("%s", traded)
	}
	for i, a := range p.Alternatives[:min(3, len(p.Alternatives))] {
		choices.Say("Choice %d, %s: %s. %s", i+2, a.Kind, t.words().Plain(a.Stack), reply.Against(c, a.Candidate))
	}
	choices.Say("%s", reply.Sure(c))
	if p.Partial {
		choices.Say("%d heads were looked at, the likeliest first, and the rest left: one of those could suit you a little better.", p.Tried)
	}
	return []page.Page{stack.Page, sound.Page, choices.Page}
}

// effort is what building the head takes, and what is bought for it: for all
// sets of it that are wanted.
func (t teller) effort(c propose.Candidate) (reply.Effort, stock.Order, error) {
	heads, sets := t.now.Heads(), t.now.Sets()
	order, err := t.kit.Finder.Order([]propose.Make{{Head: c.Head, Heads: heads * sets}}, t.now.Request())
	if err != nil {
		return reply.Effort{}, order, err
	}
	if c, err = t.kit.Finder.Consider(c.Stack, along.Equipped(t.now.Request())); err != nil {
		return reply.Effort{}, order, err
	}
	e, err := t.kit.Sheets().Effort(c, heads, order)
	e.Sets = sets
	return e, order, err
}

// more shows the next screen of what goes deeper.
func (s display) more() Reply {
	var r Reply
	if s.resumed && s.now.stage == proposed && len(s.now.rest) == 0 { // not kept with the rest
		if p, err := s.kit.offers.Propose(&s.now.State); err == nil {
			s.now.rest = s.teller().deeper(p)
		}
	}
	s.resumed = false
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
	if c, err := s.kit.offers.Best(&s.now.State); err == nil && s.now.stage == proposed && len(s.now.traced) == 0 {
		s.now.traced = screens(reply.Spoke(c.Trace, func(f rules.Firing) bool {
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
