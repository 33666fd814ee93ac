package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"mallow/assistant/sheet"
	"mallow/knowledge/knowledgetest"
)

// latexPart is a part of natural rubber latex, by its id.
var latexPart = regexp.MustCompile(`\blatex-\d`)

// Whoever rules latex out, in whatever words, gets none from any command that
// chooses parts, though it lies on the bench.
func TestNoLatexFromAnyCommand(t *testing.T) {
	t.Parallel()
	const (
		latex = "poly-1-1/8-drilled + latex-3/4x1/8 + wool-medium + birch-16"
		bench = "four 1 1/8 plastic balls, 3 feet of 3/4 by 1/8 latex, 3 feet of 3/4 by 1/8 silicone, 100 g of medium wool, four birch dowels"
	)
	drill := ", marimba, two mallets, medium, we have a drill press"
	for i, want := range []string{"no latex", "I am allergic to latex", "latex free please", "one of us has a latex allergy", "can't have latex"} {
		want += drill
		commands := [][]string{
			{"sheet", "--want", want, "--json"},
			{"set", "3", "--want", want, "--json"},
			{"advise", "--have", bench, "--want", want, "--json"},
		}
		if i > 0 { // all read a wish alike
			commands = commands[:1]
		}
		for _, args := range commands {
			t.Run(args[0]+": "+want, func(t *testing.T) {
				code, out, errs := mallow(t, args...)
				if code != exitDone || !strings.Contains(out, `"`) {
					t.Fatalf("exit code %d: %s", code, errs)
				}
				if found := latexPart.FindString(out); found != "" {
					t.Errorf("it offers %s…", found)
				}
			})
		}
		t.Run("sheet of latex: "+want, func(t *testing.T) {
			if code, out, errs := mallow(t, "sheet", latex, "--want", want, "--json"); code != exitNothingFits || out != "" || !strings.Contains(errs, "latex") {
				t.Errorf("exit code %d: %s", code, errs)
			}
		})
	}
	// Without the wish, the same bench gives latex, so the test can fail.
	if _, out, _ := mallow(t, "advise", "--have", bench, "--want", "latex is fine"+drill, "--json"); !latexPart.MatchString(out) {
		t.Error("latex is not offered to anyone")
	}
	code, out, errs := mallow(t, "change", latex, "--want", "no latex", "--json")
	if _, becomes, ok := strings.Cut(out, `"stack":`); code != exitDone || !ok || latexPart.MatchString(becomes) {
		t.Errorf("change: exit code %d: %s %s", code, errs, out)
	}
}

// On a bench that holds no glue but solvent-based, an adult who allows it
// gets it with its cautions; a young maker gets no sheet, whatever else was
// said.
func TestNoSolventForAMinor(t *testing.T) {
	t.Parallel()
	cat := knowledgetest.Catalogue(t)
	var hide strings.Builder
	hide.WriteString("adhesives:\n")
	for _, a := range cat.Adhesives {
		if joins := strings.Join(a.Joins, " "); a.Base != "solvent" && strings.Contains(joins, "rubber") {
			hide.WriteString("  - {id: " + a.ID + ", hide: true}\n")
		}
	}
	only := filepath.Join(t.TempDir(), "only-solvent.yaml")
	if err := os.WriteFile(only, []byte(hide.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	const glued = "poly-1-1/8-drilled + 3/4x1/8 + 1-1/4x1/8 + wool-medium + birch-16"
	said := ", solvent-based glue is fine, open garage with air, latex is fine"

	code, out, errs := mallow(t, "sheet", glued, "--parts", only, "--want", "all adults"+said, "--json")
	var s sheet.Sheet
	if err := json.Unmarshal([]byte(out), &s); code != exitDone || err != nil {
		t.Fatalf("an adult: exit code %d, %v: %s", code, err, errs)
	}
	solvent := 0
	for _, step := range s.Steps {
		if step.ID != "glue-slice-solvent" {
			continue
		}
		solvent++
		for _, id := range []string{"solvent-vapour", "solvent-fire", "eyes"} {
			found := false
			for _, c := range step.Cautions {
				found = found || c.ID == id
			}
			if !found {
				t.Errorf("step %d glues with a solvent and lacks the caution %s", step.Number, id)
			}
		}
	}
	if solvent == 0 || len(s.Safety.Solvents) == 0 {
		t.Fatalf("%d solvent steps, %d solvents on the safety page: nothing is put to the test", solvent, len(s.Safety.Solvents))
	}

	for _, who := range []string{"I am 12", "it is for a class of kids", "one of the makers is under 18", "we are all adults, no, my son is 15 and helps"} {
		code, out, errs := mallow(t, "sheet", glued, "--parts", only, "--want", who+said, "--json")
		if code != exitNothingFits || out != "" || !strings.Contains(errs, "solvent") {
			t.Errorf("%s: exit code %d, %d bytes of sheet: %s", who, code, len(out), errs)
		}
		// With a water-based glue in reach, that is what they get.
		code, out, errs = mallow(t, "sheet", glued, "--want", who+said, "--json")
		if code != exitDone || strings.Contains(out, "solvent-vapour") || !strings.Contains(out, "glue-slice-water") {
			t.Errorf("%s: exit code %d: %s", who, code, errs)
		}
	}
}

// In a class, each student's own limits hold, whatever the class allows.
func TestClassKeepsEveryLimit(t *testing.T) {
	t.Parallel()
	roster := filepath.Join(t.TempDir(), "roster.yaml")
	if err := os.WriteFile(roster, []byte(`class: invented
facts: {instrument.kind: marimba, player.latex_ok: true, player.solvent_ok: true, bench.drill: true, bench.ventilated: true}
students:
  - {name: grown, age: 30, facts: {want.softness: medium}}
  - {name: allergic, age: 30, facts: {want.softness: medium, player.latex_ok: false}}
  - {name: young, age: 12, facts: {want.softness: medium}}
  - {name: says so, age: 30, want: "I am allergic to latex, medium"}
`), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs := mallow(t, "class", roster, "--json", "--sheets")
	var class struct {
		Sheets []sheet.Sheet `json:"sheets"`
	}
	if err := json.Unmarshal([]byte(out), &class); code != exitDone || err != nil || len(class.Sheets) != 4 {
		t.Fatalf("exit code %d, %v, %d sheets: %s", code, err, len(class.Sheets), errs)
	}
	for _, s := range class.Sheets {
		if avoids := s.For == "allergic" || s.For == "says so"; avoids && (latexPart.MatchString(s.Stack) || s.Safety.Latex) {
			t.Errorf("%s is given %s", s.For, s.Stack)
		}
		for _, step := range s.Steps {
			if s.For != "young" {
				continue
			}
			for _, c := range step.Cautions {
				if strings.HasPrefix(c.ID, "solvent-") {
					t.Errorf("%s is given a solvent at step %d", s.For, step.Number)
				}
			}
			if step.ID == "cut-slice" && !strings.Contains(ids(step.Cautions), "adult") {
				t.Errorf("%s cuts without an adult at step %d", s.For, step.Number)
			}
		}
	}
}

func ids(list []sheet.Caution) string {
	var b strings.Builder
	for _, c := range list {
		b.WriteString(c.ID + " ")
	}
	return b.String()
}

// A class loses no student: who can't be served stands in the table and in every
// printout with the reason, and the exit code says so; a fault in a field of
// safety stops the class.
func TestClassLosesNobody(t *testing.T) {
	t.Parallel()
	const head = "facts: {instrument.kind: marimba, player.latex_ok: true, player.minor: false, bench.drill: true, want.softness: medium}\nstudents:\n  - {name: Ann}\n"
	tests := []struct {
		name, more string
		code       int
		why        string
	}{
		{"all is well", "", exitDone, ""},
		{"misspelt", "  - {name: Bert, facts: {want.softnes: 2}}\n", exitFailed, "line 4: no answer is called"},
		{"no YAML", "  - {name: \"Bert, want: soft}\n", exitFailed, "line 4: not YAML"},
		{"nothing fits", "  - {name: Bert, facts: {want.budget: 10}}\n", exitNothingFits, "Bert"},
		{"a misspelt allergy", "  - {name: Bert, facts: {player.latexok: false}}\n", exitUsage, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			roster, html := filepath.Join(dir, "class.yaml"), filepath.Join(dir, "class.html")
			if err := os.WriteFile(roster, []byte(head+tt.more+"  - {name: Carl}\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			for _, args := range [][]string{{}, {"--json"}, {"--sheets"}, {"--sheets", "--json"}, {"--html", html}} {
				code, out, errs := mallow(t, append([]string{"class", roster}, args...)...)
				if code != tt.code {
					t.Errorf("%v: exit code %d, want %d: %s", args, code, tt.code, errs)
				}
				if len(args) == 2 && args[0] == "--html" {
					data, err := os.ReadFile(html)
					if tt.code == exitUsage {
						if err == nil {
							t.Error("a page is written")
						}
						continue
					}
					out = string(data)
				}
				if tt.code == exitUsage {
					if out != "" || !strings.Contains(errs, ":4:") || !strings.Contains(errs, "player.latex_ok") {
						t.Errorf("%v: %s%s", args, out, errs)
					}
					continue
				}
				said := strings.Join(strings.Fields(strings.NewReplacer("│", " ", "&#34;", `"`).Replace(out)), " ")
				for _, name := range []string{"Ann", "Carl"} {
					if !strings.Contains(said, name) {
						t.Errorf("%v: %s is gone", args, name)
					}
				}
				if tt.why != "" && (!strings.Contains(said, "Bert") || len(args) > 0 && !strings.Contains(said, tt.why)) {
					t.Errorf("%v: Bert or the reason is gone: %.600s", args, said)
				}
			}
		})
	}
}
