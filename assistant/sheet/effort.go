package sheet

import (
	"slices"

	"mallow/assistant/reply"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Effort is what building heads of a candidate takes: what to buy by the
// order, time and skill. Heads wait side by side, so a wait counts once.
func (m *Maker) Effort(c propose.Candidate, heads int, order stock.Order) (reply.Effort, error) {
	order = *m.used(c, &order)
	p, err := m.plan(c, &order, heads)
	if err != nil {
		return reply.Effort{}, err
	}
	t := p.effort(heads)
	e := reply.Effort{Heads: heads, Buy: order.Total, WorkMin: t.WorkMin, WaitMin: t.WaitMin, Skill: t.Skill}
	e.Invented = slices.ContainsFunc(order.Lines, func(l stock.Line) bool { return m.invented(l.Part) })
	return e, nil
}

// Effort is the time and the skill that a build takes.
type Effort struct {
	WorkMin float64 `json:"work_min"` // hands at work, for all heads
	WaitMin float64 `json:"wait_min"` // heads wait side by side
	Skill   float64 `json:"skill"`    // 0 anyone can, 1 takes some practice, 2 is for practised hands
}

// String is the effort in words.
func (e Effort) String() string {
	return "About " + reply.Span(e.WorkMin) + " of work and " + reply.Span(e.WaitMin) + " of waiting; " + reply.Skill(e.Skill) + "."
}

func (p *plan) effort(heads int) Effort {
	var e Effort
	for _, x := range p.steps {
		many := float64(heads)
		if x.Once {
			many = 1
		}
		e.WorkMin += many * x.WorkMin
		e.WaitMin += x.WaitMin
		e.Skill = max(e.Skill, x.Skill)
	}
	return e
}
