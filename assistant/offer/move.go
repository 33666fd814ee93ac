package offer

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/head"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// plainShare is by how much of what a head weighs or measures a plain "lighter" or
// "smaller" than it goes. Common practice, no source.
const plainShare = 0.1

// plainPrice is by how much a plain "cheap" that is said before there is a head lies under
// what the head would cost: the rules weigh the price already, and it is to bind.
const plainPrice = 0.05

// Take takes in the relative wishes of a reading, and what is to stay, as Move does; as
// Wish where no head has been seen. Where a figure was given as well (heavy, about 34 g),
// that alone counts.
func (o *Offers) Take(st *settled.State, in reading.Reading, seen bool) (said string, moved bool) {
	moves := slices.DeleteFunc(slices.Clone(in.Moves), func(m reading.Move) bool {
		return slices.ContainsFunc(in.Takes, func(t reading.Take) bool { return t.Path == m.Path && !t.Not })
	})
	if seen {
		return o.Move(st, moves, in.Keeps)
	}
	return o.Wish(st, moves, in.Keeps)
}

// Move makes relative wishes out of the head that is proposed for a state, by the
// least change of that head that keeps all that nobody asked to change. Keep lists
// what is to stay as it is, as a limit. It returns what is to be said of it, and
// whether the state has moved: where it has not, that is what stands in the way and
// what comes nearest.
func (o *Offers) Move(st *settled.State, moves []reading.Move, keep []string) (said string, moved bool) {
	if moves, keep = ofOwn(st, moves, keep); len(moves)+len(keep) == 0 {
		return "", true
	}
	c, err := o.Best(st)
	if err != nil {
		return "There is no head to start from yet. " + reply.Told(err), false
	}
	aim, rest := Aims(moves, change.Aim{Keep: keep})
	is := c
	if len(aim.Moves) > 0 {
		x, err := o.change(is.Stack, aim, st.Request())
		if cannot := (*change.Cannot)(nil); errors.As(err, &cannot) {
			if len(keep) == 0 && o.anew(st, c, aim) {
				return "No two changes make that head " + aim.String() + ", so this is another one.", true
			}
			return strings.Join(reply.NewCannot(reply.In(o.cat), is.Stack, cannot).Sentences(), " "), false
		}
		if err != nil {
			return reply.Told(err), false
		}
		is = x.Head
		st.Stack = is.Stack.String()
	}
	for _, path := range keep {
		want(st, path, &is.Facts.Head)
	}
	for _, m := range moves {
		want(st, m.Path, &is.Facts.Head)
	}
	for _, m := range rest {
		if words := facts.Words(m.Path); len(words) > 0 {
			further(st, m)
			st.Stack = ""
			continue
		}
		return fmt.Sprintf("No parts in the catalogue make this head one with %s that the rules allow.", m.Text), false
	}
	for _, m := range moves {
		if len(facts.Words(m.Path)) > 0 && !slices.Contains(rest, m) {
			further(st, m)
		}
	}
	return "", true
}

// Wish makes wishes out of relative ones that are said before there is a head: light is
// lighter than the head that would be proposed without it, and the best of such heads is
// looked for. What only a head can be changed by is left to Move.
func (o *Offers) Wish(st *settled.State, moves []reading.Move, keep []string) (said string, moved bool) {
	if moves, keep = ofOwn(st, moves, keep); len(moves)+len(keep) == 0 {
		return "", true
	}
	c, err := o.Best(st)
	if err != nil {
		return "There is no head to start from yet. " + reply.Told(err), false
	}
	h := c.Facts.Head
	var rest []reading.Move
	for _, m := range moves {
		switch {
		case m.Path == facts.WantSoftness:
			h.Softness = st.Facts.Want.Softness + m.By
		case m.Path == facts.WantMassG:
			h.MassG = from(c.Facts.Head.MassG, m)
		case m.Path == facts.WantDiameterMM:
			h.DiameterMM = from(c.Facts.Head.DiameterMM, m)
		case m.Path == facts.WantBudgetCents && m.By < 0:
			if h.CostCents *= 1 + plainPrice*m.By; counted(m.Text) {
				h.CostCents = max(1, c.Facts.Head.CostCents+m.By/2) // of a pair
			}
		case len(facts.Words(m.Path)) > 0:
			further(st, m)
			continue
		default:
			rest = append(rest, m)
			continue
		}
		keep = append(keep, m.Path)
	}
	for _, path := range keep {
		want(st, path, &h)
	}
	st.Stack = ""
	if cheap := slices.ContainsFunc(moves, func(m reading.Move) bool { return m.Path == facts.WantBudgetCents && !counted(m.Text) }); cheap {
		if _, err := o.Best(st); err != nil { // it is as cheap as any already
			want(st, facts.WantBudgetCents, &c.Facts.Head)
		}
	}
	if len(rest) > 0 {
		return o.Move(st, rest, nil)
	}
	return "", true
}

// from returns where a wish moves a weight or a size to.
func from(was float64, m reading.Move) float64 {
	switch {
	case m.Unit == reading.Share:
		return max(1, was*(1+m.By))
	case figured(m):
		return max(1, was+m.By)
	}
	return was * (1 + math.Copysign(plainShare*math.Abs(m.By)/plainBy(m), m.By))
}

// ofOwn takes the wishes that go by what a head that somebody has weighs or measures,
// lighter than mine, and returns those that don't.
func ofOwn(st *settled.State, moves []reading.Move, keep []string) ([]reading.Move, []string) {
	own := func(path string) float64 {
		switch path {
		case facts.WantMassG:
			return st.Own.MassG
		case facts.WantDiameterMM:
			return st.Own.MM
		}
		return 0
	}
	to := func(path string, x float64) { st.Answer(reading.Take{Path: path, Value: x}) } // a figure always can be
	moves = slices.DeleteFunc(slices.Clone(moves), func(m reading.Move) bool {
		was := own(m.Path)
		if was > 0 {
			to(m.Path, from(was, m))
		}
		return was > 0
	})
	keep = slices.DeleteFunc(slices.Clone(keep), func(path string) bool {
		x := own(path)
		if x > 0 {
			to(path, x)
		}
		return x > 0
	})
	return moves, keep
}

// changed is what a change that was looked for came to.
type changed struct {
	change.Change
	err error
}

// change looks for the least change of a head, once.
func (o *Offers) change(from head.Stack, aim change.Aim, q propose.Request) (change.Change, error) {
	key := fmt.Sprintf("%s %#v %s %v", from, aim, o.finder.Key(q), q.Pass)
	x := o.changes.Of(key, func() changed {
		c, err := change.FromStock(context.Background(), o.finder, from, aim, q, 0)
		return changed{c, err}
	})
	return x.Change, x.err
}

// want makes what a head comes to the wish for it, where it is a figure.
func want(st *settled.State, path string, h *facts.Head) {
	w := &st.Facts.Want
	switch path {
	case facts.WantSoftness:
		w.Softness = h.Softness
	case facts.WantMassG:
		w.MassG = h.MassG
	case facts.WantDiameterMM:
		w.DiameterMM = h.DiameterMM
	case facts.WantBudgetCents:
		w.BudgetCents = math.Round(2 * h.CostCents)
	default:
		return
	}
	st.Note(path, st.Say(path))
}

// further moves a wish in words to the next word.
func further(st *settled.State, m reading.Move) {
	words := facts.Words(m.Path)
	was, _ := facts.Get(&st.Facts, m.Path).(string)
	i := slices.Index(words, was)
	if i < 0 {
		i = slices.Index(words, "even")
	}
	i += map[bool]int{true: 1, false: -1}[m.By > 0]
	_ = facts.Set(&st.Facts, m.Path, words[min(max(i, 0), len(words)-1)])
	st.Note(m.Path, st.Say(m.Path))
}

// anew looks for another head that is as an aim wants, where no change of the one
// there is comes to that. It leaves the state as it is where there is none.
func (o *Offers) anew(st *settled.State, was propose.Candidate, aim change.Aim) bool {
	to := st.Clone()
	to.Stack = ""
	h := was.Facts.Head
	aim.Reach(&h, &was.Facts)
	for _, m := range aim.Moves {
		want(&to, m.Fact(), &h)
	}
	p, err := o.Propose(&to)
	if err != nil || !aim.Moved(was, p.Best) {
		return false
	}
	*st = to
	return true
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
