package class_test

import (
	"bytes"
	"slices"
	"testing"

	"mallow/rules/class"
	"mallow/rules/propose/proposetest"
)

// A roster of any bytes gives students in the order of their lines, and
// errors that name a line of the file.
func FuzzReadRoster(f *testing.F) {
	finder := proposetest.Finder(f)
	for _, seed := range []string{
		"students:\n  - {name: 1, facts: {want.softness: 2}}\n",
		"budget: 400.00\nfacts: {instrument.kind: marimba, player.level: first}\nbin: {poly-1: 3, latex-3/4x1/8: [1 ft, 2 ft]}\nstudents:\n  - name: 2\n    facts: {player.latex_ok: false}\n# none\n\n  - {name: 3, age: 12, heads: 2, facts: {want.softness: soft}}\n",
		"students:\n  - {name: \"A}\n  - {name: B, want: soft}\nbudget: 3\n",
		"students: [{name: A}, {name: A}]\n", "students:\n  - {name: A,\rfacts: {want.sofXness: soft}}",
		"students: [1, 2]\n", "students:\n", "students:\n  nobody\n", "facts: &a [*a]\nstudents:\n  - *a\n",
		"students:\n  - {\n  - name: \"\\x1b[31m\"\n    age: 3\n", "budget: -4\nbudget: 1e99\nstudents:\n- {}\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r := class.ReadRoster(finder, "roster.yaml", data)
		if !slices.IsSortedFunc(r.Students, func(a, b class.Student) int { return a.Line - b.Line }) {
			t.Errorf("students out of order: %v", r.Students)
		}
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, s := range r.Students {
			if s.Line < 1 || s.Line > lines {
				t.Errorf("student %q on line %d of %d", s.Name, s.Line, lines)
			}
		}
		for _, e := range r.Broken {
			if e.Line < 0 || e.Line > lines {
				t.Errorf("%v names no line of %d", e, lines)
			}
		}
		if r.Budget < 0 {
			t.Errorf("a budget of %v", r.Budget)
		}
	})
}
