package sheet

// Effort is what building all heads of a sheet takes.
type Effort struct {
	WorkMin float64 // hands at work
	WaitMin float64 // glue and water drying, for all heads at once
	Skill   float64 // of the hardest step: 0 anyone can, 1 takes some practice, 2 is for practised hands
}

// Effort sums up the steps. Heads wait side by side, so a wait counts once.
func (s Sheet) Effort() Effort {
	var e Effort
	for _, x := range s.Steps {
		many := float64(s.Heads)
		if x.Once {
			many = 1
		}
		e.WorkMin += many * x.WorkMin
		e.WaitMin += x.WaitMin
		e.Skill = max(e.Skill, x.Skill)
	}
	return e
}
