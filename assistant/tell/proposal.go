package tell

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Offer is a proposed head as one screen to decide by. What goes deeper is made
// only when it is asked for.
func (t Teller) Offer(r *Said, c propose.Candidate) {
	t.OfferOne(r, c, t.Kit.Offers.Short(t.State))
	*t.Rest = nil
}

// Binds says what nobody said that keeps the person from a better head, unless the
// conversation is only gone through again.
func (t Teller) Binds(r *Said, c propose.Candidate, again bool) {
	if again {
		return
	}
	for _, x := range t.Kit.Offers.Binds(t.State, c) {
		r.Say("%s", t.Words().Binding(x))
	}
}

// OfferOne is the screen of one head, and what it falls short of, if anything.
func (t Teller) OfferOne(r *Said, c propose.Candidate, short string) {
	if short != "" {
		r.Say("%s", short)
	}
	e, _, err := t.Effort(c)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	f, err := t.facts(c, answer.Facts{})
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	o := t.Words().NewOffer(c, t.job(), t.Kit.Answers().Text("sounds", f, answer.Proposed), e)
	if serves, short := graded.Serves(context.Background(), t.Kit.Finder, c, t.State.Request()); short {
		o = t.Words().Ranged(o, c, serves)
	}
	r.Page = append(r.Page, o.Page()...)
	if over := t.over(c, e); over != "" {
		r.Say("%s", over)
	}
	if out := t.leftOut(c); out != "" {
		r.Say("%s", out)
	}
	if own := t.Words().Own(c.Stack); len(own) > 0 {
		r.Say("Of your own knowledge it uses %s.", strings.Join(own, "; "))
	}
}

// job is what the head is for.
func (t Teller) job() string {
	job := t.State.Facts.Instrument.Kind
	if said, ok := t.State.Said("instrument.kind"); ok {
		job = said
	}
	if grip, ok := t.State.Said("player.grip"); ok {
		return grip + " on " + job
	}
	return job
}

// leftOut says why a ball is bought where there is one on hand that a rule
// refuses in the head; "" where it does not come to that.
func (t Teller) leftOut(c propose.Candidate) string {
	balls := slices.DeleteFunc(slices.Clone(t.State.Have), func(p reading.Part) bool { return p.Kind != "core" })
	if slices.ContainsFunc(balls, func(p reading.Part) bool { return slices.Contains(p.IDs, c.Stack.Core.ID) }) {
		return ""
	}
	for _, p := range balls {
		if refused, with := t.Kit.Offers.Swapped(t.State, c.Stack, p.IDs); refused != nil {
			return fmt.Sprintf("On hand and not used: %s. %s", t.Words().Short(with), reply.Reason(*refused))
		}
	}
	return ""
}

// over says that what there is to buy comes to more than there is to spend, and
// why; "" where it does not, or nobody named a sum.
func (t Teller) over(c propose.Candidate, e reply.Effort) string {
	if total := measure.Money(t.State.TotalCents / float64(max(t.State.Kinds, 1))); total > 0 {
		if e.Buy > total {
			return fmt.Sprintf("That is more than the %s that is there for it, since parts come in whole packs.", total)
		}
		return ""
	}
	pair := t.State.Facts.Want.BudgetCents
	if pair <= 0 || float64(e.Buy) <= pair*float64(e.Heads*max(e.Sets, 1))/2 {
		return ""
	}
	parts := reply.PairCost(c.Facts.Head)
	if float64(parts) > pair {
		return fmt.Sprintf("That is more than the %s named for a pair: so are the parts of one alone, at %s.", measure.Money(pair), parts)
	}
	return fmt.Sprintf("That is more than the %s named for a pair, since parts come in whole packs; what goes into one is worth %s.", measure.Money(pair), parts)
}

// Deeper are the screens that go deeper into a proposal, the next one first.
func (t Teller) Deeper(p propose.Proposal) []page.Page {
	c := p.Best
	var stack, sound, choices Said
	stack.Page = append(stack.Page, t.Words().InsideOut("From the inside out, in figures", c))
	stack.Say("%s", reply.InShort(c))
	sound.Say("%s", t.sound(c))
	sound.List(t.notes(c))
	if traded := t.Traded(c); traded != "" {
		sound.Say("%s", traded)
	}
	for i, a := range p.Alternatives[:min(3, len(p.Alternatives))] {
		choices.Say("Choice %d, %s: %s. %s", i+2, a.Kind, t.Words().Plain(a.Stack), reply.Against(c, a.Candidate))
	}
	choices.Say("%s", reply.Sure(c))
	if p.Partial {
		choices.Say("%d heads were looked at, the likeliest first, and the rest left: one of those could suit you a little better.", p.Tried)
	}
	return []page.Page{stack.Page, sound.Page, choices.Page}
}

// Effort is what building the head takes, and what is bought for it: for all
// sets of it that are wanted.
func (t Teller) Effort(c propose.Candidate) (reply.Effort, stock.Order, error) {
	heads, sets := t.State.Heads(), t.State.Sets()
	order, err := t.Kit.Finder.Order([]propose.Make{{Head: c.Head, Heads: heads * sets}}, t.State.Request())
	if err != nil {
		return reply.Effort{}, order, err
	}
	if c, err = t.Kit.Finder.Consider(c.Stack, along.Equipped(t.State.Request())); err != nil {
		return reply.Effort{}, order, err
	}
	e, err := t.Kit.Sheets().Effort(c, heads, order)
	e.Sets = sets
	return e, order, err
}
