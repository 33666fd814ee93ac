package propose

import (
	"fmt"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// Edit is one step of a change.
type Edit struct {
	Do   string `json:"do"`   // add, remove or swap
	What string `json:"what"` // layer 1, layer 2, …, yarn, core
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
}

// edited is a stack some edits away from the one that exists.
type edited struct {
	stack head.Stack
	edits []Edit
}

// edits lists the stacks one edit away.
func (s *search) edits(e edited) []edited {
	var list []edited
	with := func(edit Edit, change func(*head.Stack)) {
		x := edited{stack: e.stack, edits: append(slices.Clone(e.edits), edit)}
		x.stack.Slices = slices.Clone(e.stack.Slices)
		change(&x.stack)
		if len(x.stack.Slices) <= mostLayers {
			list = append(list, x)
		}
	}
	for i, sl := range e.stack.Slices {
		what := fmt.Sprintf("layer %d", i+1)
		with(Edit{"remove", what, sl.Tube.ID, ""}, func(t *head.Stack) { t.Slices = slices.Delete(t.Slices, i, i+1) })
		for k := range s.tubes {
			if to := s.tubes[k].slice; to.Tube.ID != sl.Tube.ID {
				with(Edit{"swap", what, sl.Tube.ID, to.Tube.ID}, func(t *head.Stack) { t.Slices[i] = to })
			}
		}
	}
	for k := range s.tubes {
		to := s.tubes[k].slice
		with(Edit{"add", fmt.Sprintf("layer %d", len(e.stack.Slices)+1), "", to.Tube.ID}, func(t *head.Stack) { t.Slices = append(t.Slices, to) })
	}
	for k := range s.wraps {
		o := &s.wraps[k]
		edit := Edit{"swap", "yarn", wrapText(e.stack.Wrap), ""}
		var wrap *head.Wrap
		if !o.none {
			w := o.wrap
			w.Turns = head.PlainTurns(w.Yarn, s.bare(e.stack))
			if y, ok := s.f.cat.Yarn(w.Yarn.ID); ok {
				w.Yarn = y
			}
			wrap = &w
			edit.To = wrapText(wrap)
		}
		if e.stack.Wrap == nil {
			edit.Do = "add"
		} else if wrap == nil {
			edit.Do = "remove"
		}
		if edit.From != edit.To {
			with(edit, func(t *head.Stack) { t.Wrap = wrap })
		}
	}
	for _, r := range s.roots {
		for i := range r.cores {
			c := &r.cores[i]
			if c.core.ID != e.stack.Core.ID && (e.stack.Shaft == nil || takes(c.core, e.stack.Shaft)) {
				with(Edit{"swap", "core", e.stack.Core.ID, c.core.ID}, func(t *head.Stack) { t.Core, t.Material = c.core, c.material })
			}
		}
	}
	return list
}

func wrapText(w *head.Wrap) string {
	if w == nil {
		return ""
	}
	if w.Turns == 0 {
		return w.Yarn.ID
	}
	return fmt.Sprintf("%s*%d", w.Yarn.ID, w.Turns)
}

// bare returns the diameter over the rubber.
func (s *search) bare(st head.Stack) measure.Length {
	st.Wrap = nil
	return head.New(st, s.f.cat.Limits).Bare
}
