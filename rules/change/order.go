package change

import (
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// parts are the ways of an order about what a head is made of.
func parts() []way {
	slices := func(h *facts.Head) float64 { return h.Layers }
	rubber := func(h *facts.Head) float64 { return h.RubberMM }
	ball := func(h *facts.Head) float64 { return h.CoreMM }
	one := func(*facts.Facts) float64 { return 1 }
	wall := func(was *facts.Facts) float64 { return min(plainWallMM, thinner*was.Head.RubberMM) }
	step := func(*facts.Facts) float64 { return plainBallMM }
	shore := func(h *facts.Head) float64 { return h.CoreA }
	firmer := func(*facts.Facts) float64 { return plainShore }
	return []way{
		{"with fewer slices", "slices", facts.HeadLayers, slices, -1, one},
		{"with more slices", "slices", facts.HeadLayers, slices, 1, one},
		{"with thinner slices", "mm", facts.HeadRubberMM, rubber, -1, wall},
		{"with thicker slices", "mm", facts.HeadRubberMM, rubber, 1, wall},
		{Wound, "turns", facts.HeadTurns, func(h *facts.Head) float64 { return h.Turns }, 1, nil},
		{"with a smaller ball", "mm", facts.HeadCoreMM, ball, -1, step},
		{"with a larger ball", "mm", facts.HeadCoreMM, ball, 1, step},
		{"with a softer ball", "Shore A", facts.HeadCoreA, shore, -1, firmer},
		{"with a harder ball", "Shore A", facts.HeadCoreA, shore, 1, firmer},
	}
}

// part is the kind of part that a move orders something of, empty where it is about what a
// head comes to.
func (m Move) part() string {
	switch m.Fact() {
	case facts.HeadLayers, facts.HeadRubberMM:
		return "tube"
	case facts.HeadCoreMM, facts.HeadCoreA:
		return "core"
	case facts.HeadTurns:
		return "yarn"
	}
	return ""
}

// fewOff is how many turns off a count nobody minds.
const fewOff = 4

// ordered reports whether the aim has an order about what the head is made of; it is then
// made of the rest that it was, and sounds as it does.
func (a Aim) ordered() bool {
	return len(a.Named) > 0 || slices.ContainsFunc(a.Moves, func(m Move) bool { return m.part() != "" })
}

// orders reports whether the aim is nothing but such orders.
func (a Aim) orders() bool {
	return a.ordered() && !slices.ContainsFunc(a.Moves, func(m Move) bool { return m.part() == "" && m.Way != Without })
}

// followed reports whether what a head comes to follows from orders about its parts.
func (a Aim) followed() bool { return a.orders() && !a.keepsSoftness() }

// may reports whether an order says another part of a kind.
func (a Aim) may(kind string) bool {
	return slices.Contains(a.Named, kind) || slices.ContainsFunc(a.Moves, func(m Move) bool { return m.part() == kind })
}

// goes reports whether the part of a kind that the head has may not stay in it.
func (g *goal) goes(kind string) bool {
	st := g.was.Stack
	if kind != "core" {
		st.Core, st.Material = head.Stack{}.Core, head.Stack{}.Material
	}
	if kind != "tube" {
		st.Slices = nil
	}
	if kind != "yarn" {
		st.Wrap = nil
	}
	return has(st, g.pin.Without) != "" || g.aims(NoLatex) && kind == "tube" && st.Latex()
}

// otherSize reports whether a stack has slices of a bore or a wall that another has none of.
func otherSize(was, is head.Stack) bool {
	return other(was, is, func(a, b head.Slice) bool { return a.Tube.Bore == b.Tube.Bore && a.Tube.Wall == b.Tube.Wall })
}

// otherRubber reports whether a stack has slices of a rubber that another has none of,
// which has some.
func otherRubber(was, is head.Stack) bool {
	return len(was.Slices) > 0 && other(was, is, func(a, b head.Slice) bool { return a.Rubber.ID == b.Rubber.ID })
}

// other reports whether a stack has a slice like which another has none.
func other(was, is head.Stack, alike func(a, b head.Slice) bool) bool {
	return slices.ContainsFunc(is.Slices, func(s head.Slice) bool {
		return !slices.ContainsFunc(was.Slices, func(w head.Slice) bool { return alike(w, s) })
	})
}

// Holds reports whether a head has something in it that a request leaves out.
func Holds(st head.Stack, q *propose.Request) bool { return has(st, q.Pin.Without) != "" }
