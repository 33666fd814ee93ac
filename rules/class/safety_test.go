package class_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"mallow/rules/class"
	"mallow/rules/gate"
	"mallow/rules/propose/proposetest"
)

// A fault in a field that keeps somebody from harm stops the class and names its
// line; any other keeps the student, and everybody else's head.
func TestFaultsOfSafety(t *testing.T) {
	f := proposetest.Finder(t)
	tests := []struct {
		name, student string // in place of the second of three
		unsafe        bool
		says          string
	}{
		{"misspelt", "{name: B, facts: {player.latexok: false}}", true, `did you mean "player.latex_ok"?`},
		{"short for it", "{name: B, facts: {latex: false}}", true, `no answer is called "latex"`},
		{"capitals", "{name: B, facts: {Player.Latex_OK: false}}", true, "player.latex_ok"},
		{"no answer", "{name: B, facts: {player.latex_ok: maybe}}", true, "true or false"},
		{"empty", "{name: B, facts: {player.latex_ok: }}", true, "leave the field out, or give it one"},
		{"a list", "{name: B, facts: {player.minor: [true, false]}}", true, "want one value"},
		{"twice", "{name: B, facts: {player.minor: true, player.minor: false}}", true, "keep one"},
		{"in a misspelt field", "{name: B, fact: {player.latex_ok: false}}", true, `did you mean "facts"?`},
		{"beside the facts", "{name: B, player.latex_ok: false}", true, `unknown field "player.latex_ok"`},
		{"as a list", "{name: B, facts: [player.latex_ok: false]}", true, "want fields with values"},
		{"age in words", "{name: B, age: twelve}", true, "4 to 120"},
		{"age of a stone", "{name: B, age: 1200}", true, "4 to 120"},
		{"age misspelt", "{name: B, agee: 12}", true, `did you mean "age"?`},
		{"an age that says otherwise", "{name: B, age: 12, facts: {player.minor: false}}", true, "leave out the one that is not so"},
		{"a field of one's own", "{name: B, allergies: latex}", true, `unknown field "allergies"`},
		{"no YAML, with an answer of safety", "{name: B, facts: {player.latex_ok: false}", true, "not YAML"},
		{"no YAML, with an age", `{name: "B, age: 12}`, true, "not YAML"},
		{"no YAML", `{name: "B, want: soft}`, false, "not YAML"},
		{"a wish misspelt", "{name: B, facts: {want.softnes: 1, player.latex_ok: false}}", false, "want.softness"},
		{"a wish that can't be", "{name: B, age: 30, facts: {player.grip: crosswise}}", false, "cross"},
		{"heads that can't be", "{name: B, age: 30, heads: 99}", false, "1 to 12"},
		{"no student", "Bob", false, "want fields with values"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := class.ReadRoster(f, "roster.yaml", []byte("facts: {instrument.kind: marimba, player.latex_ok: true}\nstudents:\n  - {name: A}\n  - "+tt.student+"\n  - {name: C}\n"))
			if len(r.Students) != 3 || r.Students[0].Name != "A" || r.Students[2].Name != "C" {
				t.Fatalf("students %+v", r.Students)
			}
			b := r.Students[1]
			if len(b.Broken) == 0 || b.Broken[0].Line != 4 || !strings.Contains(b.Broken.Error(), tt.says) || b.Line != 4 {
				t.Errorf("line %d: %v, want line 4 and %q", b.Line, b.Broken, tt.says)
			}
			if len(r.Students[0].Broken)+len(r.Students[2].Broken) > 0 {
				t.Errorf("others are held to be faulty: %v", r.Broken)
			}
			if (len(r.Unsafe) > 0) != tt.unsafe {
				t.Fatalf("of safety: %v", r.Unsafe)
			}
			c, err := class.Plan(context.Background(), f, r, plainWords)
			if tt.unsafe {
				if err == nil || len(c.Students) > 0 || !strings.Contains(err.Error(), "roster.yaml:4:") {
					t.Errorf("the class is planned: %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if p := c.Students[1]; p.Err == nil || p.Stack != "" || !strings.HasPrefix(p.Trouble, "line 4: ") {
				t.Errorf("B gets %q: %s", p.Stack, p.Trouble)
			}
			if c.Students[0].Stack == "" || c.Students[2].Stack == "" {
				t.Errorf("others get nothing: %v, %v", c.Students[0].Err, c.Students[2].Err)
			}
		})
	}
}

// However an answer of safety is misspelt by a letter, and wherever it stands,
// the class stops.
func TestEveryMisspeltAnswerOfSafety(t *testing.T) {
	f := proposetest.Finder(t)
	n := 0
	for _, path := range append(gate.Paths(), "age") {
		value := "false"
		if path == "age" {
			value = "12"
		}
		misspelt := map[string]bool{}
		for i := range path {
			misspelt[path[:i]+path[i+1:]] = true           // left out
			misspelt[path[:i]+path[i:i+1]+path[i:]] = true // doubled
			misspelt[path[:i]+"x"+path[i+1:]] = true       // another
			if i > 0 {
				misspelt[path[:i-1]+path[i:i+1]+path[i-1:i]+path[i+1:]] = true // exchanged
			}
		}
		delete(misspelt, path)
		for key := range misspelt {
			n++
			student := fmt.Sprintf("{name: B, facts: {%q: %s}}", key, value)
			if path == "age" {
				student = fmt.Sprintf("{name: B, %q: %s}", key, value)
			}
			for _, text := range []string{
				"students:\n  - {name: A}\n  - " + student + "\n",
				fmt.Sprintf("facts: {%q: %s}\nstudents:\n  - {name: A}\n", key, value),
			} {
				if r := class.ReadRoster(f, "roster.yaml", []byte(text)); len(r.Unsafe) == 0 {
					t.Errorf("%s for %s passes: %v", key, path, r.Broken)
				}
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d misspellings tried", n)
	}
}
