package words_test

import (
	"fmt"
	"strings"
	"testing"

	"mallow/knowledge/words"
)

func TestWord(t *testing.T) {
	parts := []string{"wool-fine", "wool-medium", "wood-1", "diameter", "density_kgm3", "poly-1-1/8", "poly-1-1/4"}
	tests := []struct{ name, said, want string }{
		{"itself", "diameter", "diameter"},
		{"letter left out", "diamter", "diameter"},
		{"letters exchanged", "daimeter", "diameter"},
		{"letter added", "diiameter", "diameter"},
		{"capitals", "Wool-Medium", "wool-medium"},
		{"first of two as near", "poly-1-1/6", "poly-1-1/8"},
		{"hyphen for underscore", "density-kgm3", "density_kgm3"},
		{"nothing like it", "glockenspiel", ""},
		{"too short to guess", "x", ""},
		{"empty", "", ""},
		{"far too long", strings.Repeat("diameter", 1000), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := words.Word(tt.said, parts)
			if got != tt.want || ok != (tt.want != "") {
				t.Errorf("Word(%q) = %q, %t, want %q", tt.said, got, ok, tt.want)
			}
		})
	}
}

func TestHint(t *testing.T) {
	few := []string{"water", "solvent", "reactive"}
	many := strings.Fields("a1 b1 c1 d1 e1 f1 g1 h1 i1 j1 k1 l1 m1")
	tests := []struct {
		name, said string
		among      []string
		want       string
	}{
		{"near", "sovent", few, `did you mean "solvent"?`},
		{"not near, few", "glue", few, "one of reactive, solvent, water"},
		{"not near, many", "glue", many, ""},
		{"none to choose from", "glue", nil, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := words.Hint(tt.said, tt.among); got != tt.want {
				t.Errorf("Hint(%q) = %q, want %q", tt.said, got, tt.want)
			}
		})
	}
}

func ExampleHint() {
	fmt.Println(words.Hint("vibrphone", []string{"marimba", "vibraphone", "xylophone"}))
	// Output: did you mean "vibraphone"?
}
