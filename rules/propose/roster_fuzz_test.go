package propose_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"

	"mallow/rules/propose"
)

// A roster of any bytes gives students in the order of their lines, and
// errors that name a line of the file.
func FuzzReadRoster(f *testing.F) {
	finder := finder(f)
	for _, seed := range []string{
		"students:\n  - {name: 1, want.steps: 2}\n",
		"budget: 400.00\neach: 2\nall: {instrument.kind: marimba, player.level: first}\nstudents:\n  - name: 2\n    player.latex_ok: false\n# none\n\n  - {name: 3, want.steps: soft}\n",
		"students: [1, 2]\n", "students:\n", "students:\n  nobody\n", "all: &a [*a]\nstudents:\n  - *a\n",
		"students:\n  - {\n  - name: \"\\x1b[31m\"\n    player.minor: true\n", "each: -1\nbudget: 1e99\nstudents:\n- {}\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, errs := finder.ReadRoster("roster.yaml", data)
		if !slices.IsSortedFunc(r.Students, func(a, b propose.Student) int { return a.Line - b.Line }) {
			t.Errorf("students out of order: %v", r.Students)
		}
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, s := range r.Students {
			if s.Line < 1 || s.Line > lines {
				t.Errorf("student %q on line %d of %d", s.Name, s.Line, lines)
			}
		}
		for _, err := range errs {
			var at *propose.RosterError
			if !errors.As(err, &at) || at.Line < 1 || at.Line > lines {
				t.Errorf("%v names no line of %d", err, lines)
			}
		}
		if r.Budget < 0 || r.Each < 0 {
			t.Errorf("a budget of %v for %d heads each", r.Budget, r.Each)
		}
	})
}
