package class_test

import (
	"fmt"
	"strings"
	"testing"

	"mallow/rules/class"
	"mallow/rules/propose/proposetest"
)

// One slip that makes a roster no YAML at all costs one student of 24, and that one
// stays on the list with a fault that names the line, or is read all the same. (Read as a whole, each of these
// rosters has no student.)
func TestSlipsCostOneStudent(t *testing.T) {
	f := proposetest.Finder(t)
	const students, slip = 24, 11
	for _, c := range []struct{ name, line string }{
		{"quote not closed", "  - {name: Student %02d, age: 15, want: \"soft, two mallets}\n"},
		{"brace not closed", "  - {name: Student %02d, age: 15, want: \"soft, two mallets\"\n"},
		{"a tab", "\t- {name: Student %02d, age: 15, want: soft}\n"},
		{"colon in a wish without quotes", "  - name: Student %02d\n    want: soft: warm\n"},
		{"no space after the dash", "  -{name: Student %02d, age: 15, want: soft}\n"},
		{"indented too little", " - {name: Student %02d, age: 15, want: soft}\n"},
		{"indented too much", "    - {name: Student %02d, age: 15, want: soft}\n"},
		{"two fields without a comma", "  - {name: Student %02d age: 15, want: soft}\n"},
		{"a star", "  - {name: Student %02d, want: *soft}\n"},
		{"fields out of line", "  - name: Student %02d\n   want: soft\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := "class: x\nfacts: {instrument.kind: marimba}\nstudents:\n"
			for i := range students {
				line := "  - {name: Student %02d, age: 15, want: \"soft, two mallets\"}\n"
				if i == slip {
					line = c.line
				}
				text += fmt.Sprintf(line, i+1)
			}
			r := class.ReadRoster(f, "r.yaml", []byte(text))
			if len(r.Students) != students {
				t.Fatalf("%d students of %d", len(r.Students), students)
			}
			for i, s := range r.Students {
				if want := fmt.Sprintf("Student %02d", i+1); !strings.HasPrefix(s.Name, want) {
					t.Errorf("student %d is called %q", i+1, s.Name)
				}
				if i != slip && s.Want != "soft, two mallets" {
					t.Errorf("%s wants %q", s.Name, s.Want)
				}
			}
			if len(r.Broken) == 0 {
				if r.Students[slip].Want != "soft" {
					t.Errorf("what is wrong with %+v is not said", r.Students[slip])
				}
			} else if line := r.Broken[0].Line; line < slip+4 || line > slip+5 {
				t.Errorf("line %d is named: %v", line, r.Broken)
			}
		})
	}
}
