package change_test

import (
	"errors"
	"math"
	"testing"

	"mallow/knowledge/head"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/propose/proposetest"
)

// An order about one part is done to that part, and the others stay as they were.
func TestOrders(t *testing.T) {
	f := proposetest.Finder(t)
	for _, tt := range []struct {
		from, way string
		by        float64
		is        func(was, is *facts.Head) bool
	}{
		{"nylon-1-1/8-drilled + 3/4x1/8 + wool-medium*140", "with fewer slices", 1, func(_, is *facts.Head) bool { return is.Layers == 0 }},
		{"nylon-1-drilled + 3/4x1/8 + 3/4x1/8 + wool-medium*140", "with fewer slices", 9, func(_, is *facts.Head) bool { return is.Layers == 0 }},
		{"nylon-1-drilled + wool-medium*120", "with more slices", 0, func(_, is *facts.Head) bool { return is.Layers == 1 }},
		{"nylon-1-drilled + 3/4x1/8 + wool-medium*120", "with thinner slices", 0, func(was, is *facts.Head) bool {
			return is.Layers == 1 && is.RubberMM < was.RubberMM-1
		}},
		{"rubber-60a-1-1/8 + wool-medium*150", "with a smaller ball", 0, func(was, is *facts.Head) bool {
			return math.Abs(was.CoreMM-is.CoreMM-3.2) < 0.2 && is.CoreA == was.CoreA
		}},
		{"rubber-60a-1-1/8 + wool-medium*150", "with a harder ball", 0, func(was, is *facts.Head) bool { return is.CoreA > was.CoreA && is.CoreMM == was.CoreMM }},
		{"nylon-1-drilled + 3/4x1/8 + wool-medium*120", "fuller wound", 21, func(_, is *facts.Head) bool { return is.Turns == 141 }},
		{"nylon-1-drilled + 3/4x1/8 + wool-medium*120", change.Wound, 93, func(_, is *facts.Head) bool { return is.Turns == 93 }},
	} {
		from, err := head.Parse(f.Catalogue(), tt.from)
		if err != nil {
			t.Fatal(err)
		}
		q := proposetest.Player()
		was, err := f.Consider(from, q)
		if err != nil {
			t.Fatal(err)
		}
		m := change.Move{Way: tt.way, By: tt.by}
		c, err := change.Find(t.Context(), f, from, change.Aim{Moves: []change.Move{m}}, q, 0)
		if err != nil {
			t.Errorf("%s, %s: %v", tt.from, m, err)
			continue
		}
		a, b := &was.Facts.Head, &c.Head.Facts.Head
		if !tt.is(a, b) {
			t.Errorf("%s, %s: %s", tt.from, m, c.Stack)
		}
		if m.Fact() != facts.HeadTurns && math.Abs(a.Turns-b.Turns) > 0.2*a.Turns {
			t.Errorf("%s, %s: %.0f turns", tt.from, m, b.Turns)
		}
		if m.Fact() != facts.HeadCoreMM && m.Fact() != facts.HeadCoreA && c.Head.Stack.Core.ID != from.Core.ID {
			t.Errorf("%s, %s: another ball, %s", tt.from, m, c.Stack)
		}
		if c.Head.Stack.Wrap.Yarn.ID != from.Wrap.Yarn.ID {
			t.Errorf("%s, %s: another yarn, %s", tt.from, m, c.Stack)
		}
	}
	bare, _ := head.Parse(f.Catalogue(), "nylon-1-drilled + wool-medium*120")
	if _, err := change.Find(t.Context(), f, bare, change.Aim{Moves: []change.Move{{Way: "with fewer slices"}}}, proposetest.Player(), 0); !errors.Is(err, change.ErrNone) {
		t.Errorf("a slice less of none: %v", err)
	}
}
