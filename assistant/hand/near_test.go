package hand

import (
	"strings"
	"testing"

	"mallow/assistant/understand"
	"mallow/knowledge"
)

// A part of a size that nobody sells is told with the sizes beside it, in the units
// that it was told in.
func TestUnknown(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	r, err := understand.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		said string
		near []string // beginnings of what is named
	}{
		{"six 1 1/16 in acetal balls", []string{"acetal ball, 1 in", "acetal ball, 1 1/8 in"}},
		{"27 mm rubber balls", []string{"rubber ball, ", "25 mm", "28 mm"}},
		{"3/4 by 5/32 latex tubing", []string{"3/4 in bore, 1/8 in wall", "3/4 in bore, 3/16 in wall"}},
		{"a 3 in nylon ball", []string{"nylon ball, 1 1/8 in"}},
	} {
		in := r.Read(tt.said, understand.Context{Asked: understand.AskParts})
		if len(in.Parts) != 1 || len(in.Parts[0].IDs) > 0 {
			t.Errorf("%s: %+v is no part that nobody sells", tt.said, in.Parts)
			continue
		}
		got := Unknown(cat, in.Parts[0])
		for _, name := range tt.near {
			if !strings.Contains(got, name) {
				t.Errorf("%s: %q does not name %q", tt.said, got, name)
			}
		}
	}
}
