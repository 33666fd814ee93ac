package short_test

import (
	"testing"

	"mallow/assistant/short"
)

// TestSide tells which of two heads is gone on with, and what is no such choice.
func TestSide(t *testing.T) {
	const wool, cotton = "rubber ball, 140 turns of wool", "rubber ball, 192 turns of cotton cord"
	for say, want := range map[string]int{
		"go with the first one": 1, "keep it as it is": 1, "I'll stick with the wool one": 1, "the first": 1,
		"go with the second": 2, "take that one": 2, "the cotton one then": 2, "let's use the other one": 2,
		"what about the second one?": 0, "the rubber one": 0, "take my time": 0, "the second slice slipped": 0, "soft": 0, "": 0, "ok": 0,
	} {
		if got := short.Side(say, wool, cotton); got != want {
			t.Errorf("Side(%q) = %d, want %d", say, got, want)
		}
	}
}

// TestNth tells which choice is named by its number or letter.
func TestNth(t *testing.T) {
	for say, want := range map[string]int{"2": 2, "b)": 2, "number 3": 3, "the last one": 4, "option 1 please": 1, "5": 0, "2 g": 0, "two mallets": 0, "": 0} {
		if got := short.Nth(say, 4); got != want {
			t.Errorf("Nth(%q) = %d, want %d", say, got, want)
		}
	}
}

// TestWrong tells what says that the last thing was wrong, and that no alone may answer.
func TestWrong(t *testing.T) {
	for _, tt := range []struct {
		say         string
		wrong, bare bool
	}{{"no", true, true}, {"no, that's wrong", true, false}, {"that's not what I meant", true, false}, {"no latex", false, false}, {"not that hard", false, false}} {
		if wrong, bare := short.Wrong(tt.say); wrong != tt.wrong || bare != tt.bare {
			t.Errorf("Wrong(%q) = %v, %v", tt.say, wrong, bare)
		}
	}
}

// TestCount tells a number that stands alone from a choice by its number.
func TestCount(t *testing.T) {
	for say, want := range map[string]bool{"so four": true, "four": true, "so 4": true, "4": false, "four notches": false, "": false} {
		if got := short.Count(say); got != want {
			t.Errorf("Count(%q) = %v", say, got)
		}
	}
}
