package search

import (
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
	"mallow/rules/propose/search/shafts"
)

// Edit is one step of a change.
type Edit struct {
	Do   string `json:"do"`   // add, remove or swap
	What string `json:"what"` // layer 1, layer 2, …, yarn, core
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
}

// Edited is a stack some edits away from the one that exists.
type Edited struct {
	Stack head.Stack
	Edits []Edit
}

// Edits lists the stacks one edit away.
func (s *Search) Edits(e Edited) []Edited {
	list := s.Reslice(e)
	with := func(edit Edit, change func(*head.Stack)) {
		list = s.edit(list, &e, edit, change)
	}
	bare := s.bare(e.Stack)
	for k := range s.Wraps {
		o := &s.Wraps[k]
		edit := Edit{"swap", "yarn", wrapText(e.Stack.Wrap), ""}
		var wrap *head.Wrap
		if !o.None {
			w := o.Wrap
			w.Turns = head.PlainTurns(w.Yarn, bare)
			if y, ok := s.f.Catalogue().Yarn(w.Yarn.ID); ok {
				w.Yarn = y
			}
			wrap = &w
			edit.To = wrapText(wrap)
		}
		if e.Stack.Wrap == nil {
			edit.Do = "add"
		} else if wrap == nil {
			edit.Do = "remove"
		}
		if edit.From != edit.To {
			with(edit, func(t *head.Stack) { t.Wrap = wrap })
		}
	}
	for _, r := range s.Roots {
		for i := range r.Cores {
			c := &r.Cores[i]
			switch edit := (Edit{"swap", "core", e.Stack.Core.ID, c.Core.ID}); {
			case c.Core.ID == e.Stack.Core.ID:
			case e.Stack.Shaft == nil || shafts.Takes(c.Core, e.Stack.Shaft):
				with(edit, func(t *head.Stack) { t.Core, t.Material = c.Core, c.Material })
			case c.Shaft != nil && c.Core.Diameter == e.Stack.Core.Diameter: // the same size, bored for another shaft
				on := e
				on.Edits = append(slices.Clone(e.Edits), Edit{"swap", "shaft", e.Stack.Shaft.ID, c.Shaft.ID})
				list = s.edit(list, &on, edit, func(t *head.Stack) { t.Core, t.Material, t.Shaft = c.Core, c.Material, c.Shaft })
			}
		}
	}
	return list
}

// Reslice lists the stacks one edit to the slices away.
func (s *Search) Reslice(e Edited) (list []Edited) {
	with := func(edit Edit, change func(*head.Stack)) {
		list = s.edit(list, &e, edit, change)
	}
	for i, sl := range e.Stack.Slices {
		what := fmt.Sprintf("layer %d", i+1)
		with(Edit{"remove", what, sl.Tube.ID, ""}, func(t *head.Stack) { t.Slices = slices.Delete(t.Slices, i, i+1) })
		for k := range s.Tubes {
			if to := s.Tubes[k].Slice; to.Tube.ID != sl.Tube.ID {
				with(Edit{"swap", what, sl.Tube.ID, to.Tube.ID}, func(t *head.Stack) { t.Slices[i] = to })
			}
		}
	}
	for k := range s.Tubes {
		to := s.Tubes[k].Slice
		with(Edit{"add", fmt.Sprintf("layer %d", len(e.Stack.Slices)+1), "", to.Tube.ID}, func(t *head.Stack) { t.Slices = append(t.Slices, to) })
	}
	return list
}

// edit adds to a list what an edit makes of a stack, where that can be.
func (s *Search) edit(list []Edited, e *Edited, edit Edit, change func(*head.Stack)) []Edited {
	x := Edited{Stack: e.Stack, Edits: append(slices.Clone(e.Edits), edit)}
	x.Stack.Slices = slices.Clone(e.Stack.Slices)
	if change(&x.Stack); len(x.Stack.Slices) > propose.MostLayers || s.mixed(x.Stack) {
		return list
	}
	return append(list, x)
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
func (s *Search) bare(st head.Stack) measure.Length {
	st.Wrap = nil
	return head.New(st, s.f.Catalogue().Limits).Bare
}

// Balls returns every core that the request may use, bare on the shaft that it
// would be put on.
func (s *Search) Balls() []head.Stack {
	var list []head.Stack
	for _, r := range s.Roots {
		for i := range r.Cores {
			c := &r.Cores[i]
			list = append(list, head.Stack{Core: c.Core, Material: c.Material, Shaft: c.Shaft})
		}
	}
	return list
}

// Tubing returns the tubing that the request may use.
func (s *Search) Tubing() []head.Slice {
	list := make([]head.Slice, len(s.Tubes))
	for i := range s.Tubes {
		list[i] = s.Tubes[i].Slice
	}
	return list
}

// Yarns returns the yarns that the request may use, each once, and whether a
// head may go without.
func (s *Search) Yarns() (list []head.Wrap, bare bool) {
	for i := range s.Wraps {
		o := &s.Wraps[i]
		if o.None {
			bare = true
			continue
		}
		if y, ok := s.f.Catalogue().Yarn(o.Wrap.Yarn.ID); ok && !slices.ContainsFunc(list, func(w head.Wrap) bool { return w.Yarn.ID == y.ID }) {
			list = append(list, head.Wrap{Yarn: y, Fibre: o.Wrap.Fibre})
		}
	}
	return list, bare
}

// near lists what differs from a head by one part: another core, a slice more,
// less or swapped, each under the same yarn, and any other yarn. After that come
// the slices with any yarn.
func (s *Search) near(w *worker, x *found) (list []task) {
	tubes, class := x.node.tubes(), s.ClassOf(x.wrap)
	at := func(root *node, core, class int, tubes ...int) {
		if pin := s.q.Pin.Tubing; len(tubes) > propose.MostLayers || pin != nil && len(tubes) != len(pin) {
			return
		}
		n := root
		for _, t := range tubes {
			if n = w.child(n, t); n == nil {
				return
			}
		}
		list = append(list, task{n: n, what: probe, core: core, class: class, top: math.Inf(1), rank: math.Inf(1)})
	}
	root := x.node
	for root.up != nil {
		root = root.up
	}
	for i := range tubes {
		at(root, x.core, class, slices.Delete(slices.Clone(tubes), i, i+1)...)
		swapped := slices.Clone(tubes)
		for t := range s.Tubes {
			swapped[i] = t
			at(root, x.core, class, swapped...)
		}
	}
	for t := range s.Tubes {
		at(root, x.core, class, append(slices.Clone(tubes), t)...)
	}
	for _, t := range list {
		t.class, t.rank = anyYarn, math.MaxFloat64
		list = append(list, t)
	}
	for _, g := range s.ground {
		for core := range g.root.Cores {
			at(g, core, class, tubes...)
		}
	}
	for c := range s.Classes {
		at(root, x.core, c, tubes...)
	}
	return list
}
