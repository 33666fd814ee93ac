package offer

import (
	"fmt"
	"math"
	"slices"

	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// How far a plain "lighter", "smaller" or "cheaper" goes. Said with a number,
// the number counts.
const (
	lighterBy = 0.15 // of the head's mass
	smallerBy = 2.0  // mm
	cheaperBy = 0.20 // of the cost
	turnsBy   = 0.25 // of the turns
)

// Move makes relative wishes out of the head that is proposed for a state. Keep lists
// what is to stay as it is. It returns why that can't be done, or nothing.
func (o *Offers) Move(st *settled.State, moves []reading.Move, keep []string) string {
	c, err := o.Best(st)
	if err != nil {
		return "There is no head to start from yet. " + reply.Told(err)
	}
	f, h := &st.Facts, c.Facts.Head
	st.Stack = ""
	for _, path := range keep {
		switch path {
		case facts.WantSoftness:
			f.Want.Softness = h.Softness
		case facts.WantMassG:
			f.Want.MassG = h.MassG
		case facts.WantDiameterMM:
			f.Want.DiameterMM = h.DiameterMM
		default:
			continue // there is no number to hold it to
		}
		st.Note(path, st.Say(path))
	}
	for _, m := range moves {
		switch m.Path {
		case facts.WantSoftness:
			f.Want.Softness = h.Softness + m.By
			if m.Unit == "" {
				f.Want.Softness = h.Softness + 2*m.By
			}
		case facts.WantMassG:
			f.Want.MassG = max(1, h.MassG+m.By)
			if m.Unit == "" {
				f.Want.MassG = h.MassG * (1 + lighterBy*m.By)
			}
		case facts.WantDiameterMM:
			f.Want.DiameterMM = max(1, h.DiameterMM+m.By)
			if m.Unit == "" {
				f.Want.DiameterMM = h.DiameterMM + smallerBy*m.By
			}
		case facts.WantBudgetCents:
			f.Want.BudgetCents = max(1, math.Round(2*h.CostCents+m.By))
			if m.Unit == "" {
				f.Want.BudgetCents = math.Round(2 * h.CostCents * (1 + cheaperBy*m.By))
			}
		case facts.WantColour, facts.WantAttack, facts.WantOpening:
			words := facts.Words(m.Path)
			was, _ := facts.Get(f, m.Path).(string)
			i := slices.Index(words, was)
			if i < 0 {
				i = slices.Index(words, "even")
			}
			i += map[bool]int{true: 1, false: -1}[m.By > 0]
			_ = facts.Set(f, m.Path, words[min(max(i, 0), len(words)-1)])
		default:
			best, ok := o.reshaped(st, c, m)
			if !ok {
				return fmt.Sprintf("No parts in the catalogue make this head one with %s that the rules allow.", m.Text)
			}
			st.Stack = best.Stack.String()
			continue
		}
		st.Note(m.Path, st.Say(m.Path))
	}
	return o.towards(st, c, moves)
}

// towards sees to it that the head has moved the way that was asked: other
// things count as well, and may keep the same head the best. Then the best of
// the heads in sight that have moved is taken.
func (o *Offers) towards(st *settled.State, was propose.Candidate, moves []reading.Move) string {
	if st.Stack != "" {
		return ""
	}
	p, err := o.Propose(st)
	if err != nil {
		return "" // the clash is told where the head is shown
	}
	if movedTo(was, p.Best, moves) {
		return ""
	}
	// A limit finds the best head below it, where a wish only leans that way.
	var ways []head.Stack
	q := st.Request()
	for _, m := range moves {
		switch h := was.Facts.Head; {
		case m.Path == facts.WantMassG && m.By < 0:
			q.Facts.Player.MostG = (h.MassG + st.Facts.Want.MassG) / 2
		case m.Path == facts.WantDiameterMM && m.By < 0:
			q.Facts.Player.MostMM = (h.DiameterMM + st.Facts.Want.DiameterMM) / 2
		}
	}
	if got := o.findUsing(q, st.Only["tube"]); got.err == nil {
		ways = append(ways, got.proposal.Best.Stack)
	}
	for _, a := range p.Alternatives {
		ways = append(ways, a.Stack)
	}
	for _, c := range p.Pool {
		if movedTo(was, c, moves) {
			ways = append(ways, c.Stack)
		}
	}
	best := propose.Candidate{}
	for _, way := range ways[:min(len(ways), 8)] {
		if c, ok := o.bestOf(st, []head.Stack{way}); ok && movedTo(was, c, moves) && (best.Head.Mass == 0 || c.Score > best.Score) {
			best = c
		}
	}
	if best.Head.Mass == 0 {
		return "No head like that is in sight under your other answers."
	}
	st.Stack = best.Stack.String()
	return ""
}

// movedTo reports whether b differs from a the way the moves go, in what has
// a number.
func movedTo(a, b propose.Candidate, moves []reading.Move) bool {
	x, y := a.Facts.Head, b.Facts.Head
	for _, m := range moves {
		var d, least float64
		switch m.Path {
		case facts.WantSoftness:
			d, least = y.Softness-x.Softness, 0.2
		case facts.WantMassG:
			d, least = y.MassG-x.MassG, 0.04*x.MassG
		case facts.WantDiameterMM:
			d, least = y.DiameterMM-x.DiameterMM, 0.5
		case facts.WantBudgetCents:
			d, least = y.CostCents-x.CostCents, 1
		default:
			continue
		}
		if m.By < 0 {
			d = -d
		}
		if d < least {
			return false
		}
	}
	return true
}

// reshaped changes the stack itself: a layer more or less, a thicker or
// thinner wall, a larger or smaller core, more or less yarn. Of the ways to
// do it that the rules allow it returns the one with the best score.
func (o *Offers) reshaped(now *settled.State, c propose.Candidate, m reading.Move) (propose.Candidate, bool) {
	cat, st := o.cat, c.Stack
	var ways []head.Stack
	with := func(change func(*head.Stack)) {
		way := st
		way.Slices = slices.Clone(st.Slices)
		if st.Wrap != nil {
			w := *st.Wrap
			way.Wrap = &w
		}
		for i := range way.Slices {
			way.Slices[i].Cut = 0 // what lies below may change
		}
		change(&way)
		ways = append(ways, way)
	}
	n := len(st.Slices)
	switch m.Path {
	case facts.HeadLayers:
		if m.By < 0 && n > 0 {
			with(func(x *head.Stack) { x.Slices = x.Slices[:n-1] })
		}
		for _, t := range cat.Tubing {
			if rubber, ok := cat.Material(t.Material); ok && m.By > 0 && t.Supply == st.Core.Supply {
				with(func(x *head.Stack) { x.Slices = append(x.Slices, head.Slice{Tube: t, Rubber: rubber}) })
			}
		}
	case facts.HeadRubberMM:
		if n == 0 {
			break
		}
		outer := st.Slices[n-1].Tube
		for _, alike := range []bool{true, false} { // another rubber only when there is no such wall in this one
			for _, t := range cat.Tubing {
				d := t.Wall - outer.Wall
				if rubber, ok := cat.Material(t.Material); ok && t.Bore == outer.Bore && t.Supply == outer.Supply && d != 0 && (d > 0) == (m.By > 0) && (t.Material == outer.Material) == alike {
					with(func(x *head.Stack) { x.Slices[n-1] = head.Slice{Tube: t, Rubber: rubber} })
				}
			}
			if c, ok := o.bestOf(now, ways); ok {
				return c, true
			}
		}
	case facts.HeadCoreMM:
		for _, core := range cat.Cores {
			if d := core.Diameter - st.Core.Diameter; core.Material == st.Core.Material && core.Supply == st.Core.Supply && core.DurometerA == st.Core.DurometerA && d != 0 && (d > 0) == (m.By > 0) {
				with(func(x *head.Stack) { x.Core = core })
			}
		}
	case facts.HeadTurns:
		if st.Wrap != nil {
			with(func(x *head.Stack) { x.Wrap.Turns = int(math.Round(float64(st.Wrap.Turns) * (1 + turnsBy*m.By))) })
		}
	}
	return o.bestOf(now, ways)
}

// bestOf returns the allowed stack with the best score, and whether any is
// allowed.
func (o *Offers) bestOf(st *settled.State, ways []head.Stack) (best propose.Candidate, ok bool) {
	q := st.Request()
	for _, way := range ways {
		c, err := o.finder.Consider(way, q)
		if err != nil || c.Refused() != nil {
			continue
		}
		if !ok || c.Score > best.Score {
			best, ok = c, true
		}
	}
	return best, ok
}
