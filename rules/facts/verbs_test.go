package facts_test

import (
	"testing"

	"mallow/rules/facts"
)

func TestVerbs(t *testing.T) {
	for _, tt := range []struct {
		verb string
		x    float64
		want string
	}{
		{"in", 28.575, "1 1/8 in (28.6 mm)"},
		{"in", 34.04, "1.34 in (34 mm)"},
		{"in", 34, "34 mm"},
		{"rule", 34.1, "1 5/16 in (34 mm)"},
		{"rule", 34, "34 mm"},
		{"rule", 28.575, "1 1/8 in (29 mm)"},
		{"rule", 0.79, "1 mm"},
		{"in", 3.175, "1/8 in (3.18 mm)"},
		{"mm", 28.575, "28.6 mm"},
		{"g", 41.23, "41.2 g"},
		{"oz", 28.349523125, "1.00 oz"}, // the international avoirdupois ounce
		{"money", 325, "3.25"},
		{"money", 324.6, "3.25"},
		{"pct", 0.834, "83 %"},
		{"n0", 3.6, "4"},
		{"n0", -0.2, "0"},
		{"hz", 130.8, "131 Hz"},
		{"note", 440, "A4"},    // ISO 16
		{"note", 65.406, "C2"}, // equal temperament from A4 = 440 Hz
		{"note", 0, "?"},
		{"x", 1.5, "1.50"},
	} {
		if got := facts.Verbs()[tt.verb](tt.x); got != tt.want {
			t.Errorf("%v:%s is %q, want %q", tt.x, tt.verb, got, tt.want)
		}
	}
}
