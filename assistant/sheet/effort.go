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
	p, err := m.plan(c, &order)
	if err != nil {
		return reply.Effort{}, err
	}
	e := reply.Effort{Heads: heads, Buy: order.Total}
	e.Invented = slices.ContainsFunc(order.Lines, func(l stock.Line) bool { return m.invented(l.Part) })
	for _, x := range p.steps {
		many := float64(heads)
		if x.Once {
			many = 1
		}
		e.WorkMin += many * x.WorkMin
		e.WaitMin += x.WaitMin
		e.Skill = max(e.Skill, x.Skill)
	}
	return e, nil
}
