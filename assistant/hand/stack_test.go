package hand_test

import (
	"math"
	"testing"

	"mallow/assistant/hand"
	"mallow/assistant/understand"
	"mallow/knowledge/knowledgetest"
)

// Heads named as people name their parts, and as the catalogue does.
func TestStack(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r, err := understand.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ text, core, tube, yarn string }{
		{"1 in acetal ball + 3/4x1/8 latex + 120 turns acrylic", "acetal-1-drilled", "latex-3/4x1/8", "acrylic-medium"},
		{"1 1/8 in rubber ball 60A + 100 turns of cotton cord", "rubber-60a-1-1/8", "", "cotton-medium"},
		{"maple ball 1 1/8 + latex-3/4x1/8 + 128 turns wool", "maple-1-1/8", "latex-3/4x1/8", ""},
		{"poly-1-1/8 + 3/4x1/8 + wool-medium*140", "poly-1-1/8", "latex-3/4x1/8", "wool-medium"},
		{"1 inch nylon ball with 95 turns of worsted wool", "nylon-1-drilled", "", "wool-medium"},
		{"28 mm plastic ball, one slice of 3/4 bore 1/8 wall latex, 100 turns of medium wool, about 25 g", "poly-28mm-drilled", "latex-3/4x1/8", "wool-medium"},
		{"120 turns of medium wool over a slice of 3/4x1/8 latex on a 1 1/8 in nylon ball", "nylon-1-1/8-drilled", "latex-3/4x1/8", "wool-medium"},
		{"1 1/8 in rubber ball, 70A, no slice, 100 turns of cotton cord", "rubber-75a-1-1/8", "", "cotton-medium"},
		{"nylon ball 28.6 mm, two slices, 140 turns of worsted yarn, on birch, about 31 g, marimba", "nylon-1-1/8-drilled", "latex-3/4x1/8", ""},
		{"nylon ball 25.4 mm, one latex slice, 120 turns of yarn, on a rattan shaft", "nylon-1-drilled", "latex-3/4x1/8", ""},
		{"marimba head, 1 1/8 in nylon ball, one slice, 140 turns of wool, about 28 g, 42 mm, medium", "nylon-1-1/8-drilled", "latex-3/4x1/8", "wool-medium"},
		{"1 in rubber ball, 60A, 120 turns of cotton cord, 29 mm over all", "rubber-60a-1", "", "cotton-medium"},
		{"1 in nylon ball, 120 turns of wool, weighs 16 g and is 31 mm across", "nylon-1-drilled", "", "wool-medium"},
	} {
		st, err := hand.Stack(cat, r, tt.text)
		if err != nil {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		tube := ""
		if len(st.Slices) > 0 {
			tube = st.Slices[0].Tube.ID
		}
		if st.Core.ID != tt.core || tube != tt.tube || st.Wrap == nil || tt.yarn != "" && st.Wrap.Yarn.ID != tt.yarn || st.Wrap.Turns < 90 {
			t.Errorf("%s is %s", tt.text, st)
		}
	}
	if list, err := hand.Stacks(cat, r, "bells, 3/4 in acrylic ball, bare, hard, about 3.7 g"); err != nil || list[0].Core.ID != "pmma-3/4-drilled" {
		t.Errorf("an acrylic ball of 3.7 g is %v, %v", list, err)
	}
	for _, text := range []string{"", "moonlight", "a pumpkin + moonlight", "1 in acetal ball + custard"} {
		if st, err := hand.Stack(cat, r, text); err == nil {
			t.Errorf("%q is %s", text, st)
		}
	}
}

// What a head weighs is taken from its description, and what a part of it weighs is not.
func TestWeighed(t *testing.T) {
	for text, want := range map[string]float64{
		"1 in acetal ball, no slice, 110 turns of worsted wool, about 18 g": 18,
		"bare 3/4 in brass ball, 26.5g":                                     26.5,
		"1 1/8 in rubber ball + 150 turns of wool, about 23 g and 37 mm":    23,
		"1 in nylon ball, 12 g of wool":                                     0,
		"nylon-1 + wool-medium*120":                                         0,
	} {
		if got := hand.Weighed(text).Grams(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q weighs %g g, want %g", text, got, want)
		}
	}
}
