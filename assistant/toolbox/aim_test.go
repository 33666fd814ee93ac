package toolbox

import (
	"math"
	"testing"

	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
)

// An order of change moves what it says, and what may not change does not: the other
// parts where some alone may, the weight, the softness.
func TestOrders(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	k, err := New(cat, factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	stack, err := head.Parse(cat, "poly-1-1/8 + latex-3/4x1/8 + wool-medium*128")
	if err != nil {
		t.Fatal(err)
	}
	yarnAlone := func(a, _ head.Stack, is, was *facts.Head) bool {
		return a.Core.ID == stack.Core.ID && len(a.Slices) == 1 && a.Slices[0].Tube.ID == stack.Slices[0].Tube.ID && is.Softness > was.Softness+0.5
	}
	for _, tt := range []struct {
		order string
		holds func(a, b head.Stack, is, was *facts.Head) bool
	}{
		{"softer by the yarn alone", yarnAlone},
		{"softer with the wrap only", yarnAlone},
		{"softer, only the yarn may change", yarnAlone},
		{"change only the yarn, softer", yarnAlone},
		{"harder by the ball alone", func(a, b head.Stack, is, was *facts.Head) bool {
			return a.Slices[0].Tube.ID == b.Slices[0].Tube.ID && a.Wrap.Yarn.ID == b.Wrap.Yarn.ID && is.Softness < was.Softness-0.5
		}},
		{"one grade softer", func(_, _ head.Stack, is, was *facts.Head) bool {
			return math.Abs(is.Softness-was.Softness-1) <= 0.35
		}},
		{"one grade softer, keep the grams", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Softness > was.Softness+0.6 && math.Abs(is.MassG-was.MassG) <= math.Max(1, 0.1*was.MassG)
		}},
		{"two notches softer, heavier not", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Softness > was.Softness+1.6 && is.MassG <= was.MassG+1
		}},
		{"can it lose three grams", func(_, _ head.Stack, is, was *facts.Head) bool { return is.MassG <= was.MassG-3+1e-9 }},
		{"make it soft", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Softness > 2 && is.Softness > was.Softness+1
		}},
		{"softer, but not much heavier", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Softness > was.Softness+1 && is.MassG <= was.MassG+0.05
		}},
		{"half the turns", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Turns <= was.Turns/2 && math.Abs(is.Softness-was.Softness) <= 1
		}},
		{"fewer turns but keep the softness", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Turns <= 0.75*was.Turns && math.Abs(is.Softness-was.Softness) <= 0.5
		}},
		{"softer and no heavier", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.Softness > was.Softness+0.9 && is.MassG <= was.MassG+0.05
		}},
		{"smaller and lighter", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.DiameterMM <= was.DiameterMM-2 && is.MassG <= 0.9*was.MassG && math.Abs(is.Softness-was.Softness) <= 1
		}},
		{"two notches softer but not heavier, and no latex in it, the girl is allergic", func(_, _ head.Stack, is, was *facts.Head) bool {
			return math.Abs(is.Softness-was.Softness-2) <= 0.36 && is.MassG <= was.MassG+1 && !is.Latex
		}},
		{"lighter, not a gram past 20", func(_, _ head.Stack, is, _ *facts.Head) bool { return is.MassG <= 20 }},
		{"come down to 20 grams or less but I love how soft they are, dont touch that", func(_, _ head.Stack, is, was *facts.Head) bool {
			return is.MassG <= 20 && math.Abs(is.Softness-was.Softness) <= 0.5
		}},
	} {
		w := k.Wish(tt.order + "; marimba, two mallets, adults, latex is fine")
		was, err := k.Finder.Consider(stack, w.Request)
		if err != nil {
			t.Fatal(err)
		}
		aim, _, err := w.Aim(was, tt.order, "")
		if err != nil {
			t.Errorf("%q: %v", tt.order, err)
			continue
		}
		found, err := change.FromStock(t.Context(), k.Finder, stack, aim, w.Request, 1)
		if err != nil {
			t.Errorf("%q: %v", tt.order, err)
			continue
		}
		is := found.Head
		if !tt.holds(is.Stack, stack, &is.Facts.Head, &was.Facts.Head) {
			t.Errorf("%q leads to %s: %+.1f notches, %.1f g, from %+.1f and %.1f", tt.order, is.Stack, is.Facts.Head.Softness, is.Facts.Head.MassG, was.Facts.Head.Softness, was.Facts.Head.MassG)
		}
	}
}

// Of the hardnesses of a ball, a head that is described with how soft it plays has the one
// that makes it so; the usual where that is so already, or nothing is said of it.
func TestStackBySound(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	k, err := New(cat, factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"vibraphone, 28.6 mm rubber ball, no slice, 110 turns of cotton cord, medium":      "rubber-75a-1-1/8",
		"vibraphone, 28.6 mm rubber ball, no slice, 110 turns of cotton cord, medium soft": "rubber-60a-1-1/8",
		"vibraphone, 28.6 mm rubber ball, no slice, 110 turns of cotton cord, hard":        "rubber-90a-1-1/8",
		"vibraphone, 28.6 mm rubber ball, no slice, 110 turns of cotton cord":              "rubber-60a-1-1/8",
		"28.6 mm rubber ball, no slice, 110 turns of cotton cord, medium":                  "rubber-60a-1-1/8",
		"vibraphone, 1 in acetal ball, 110 turns of cotton cord, soft":                     "acetal-1-drilled",
	} {
		if st, err := k.Stack(text); err != nil || st.Core.ID != want {
			t.Errorf("%s is %s, %v; want %s", text, st, err, want)
		}
	}
}
