package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// situation is what people say of those who make, hold or store the mallets, and what
// must then be so of every answer.
type situation struct {
	name, words    string
	roster         string // the same as facts of a roster
	latex, cured   bool   // may be in an answer
	assumed        []string
	notAssumed     []string
	alone, allowed bool // a minor is alone; an adult may have what is asked for
}

func situations() []situation {
	return []situation{
		{name: "nothing said", cured: true, assumed: []string{"player.latex_ok", "player.minor"}},
		{name: "a child with an adult", words: "I am 12, an adult is with me", roster: "player.minor: true, bench.supervised: true", cured: true,
			assumed: []string{"player.latex_ok"}, notAssumed: []string{"player.minor", "bench.supervised"}},
		{name: "a child alone", words: "I'm 13 and home alone", roster: "player.minor: true, bench.supervised: false", cured: true, alone: true,
			assumed: []string{"player.latex_ok"}, notAssumed: []string{"player.minor"}},
		{name: "a latex allergy", words: "I am allergic to latex", roster: "player.latex_ok: false", cured: true,
			assumed: []string{"player.minor"}, notAssumed: []string{"player.latex_ok"}},
		{name: "gloves", words: "my hands itch from rubber gloves", roster: "player.rubber_ok: false",
			assumed: []string{"player.minor"}, notAssumed: []string{"player.latex_ok"}},
		{name: "taken back in the same breath", words: "I am 12. scratch that, I am 34", cured: true, assumed: []string{"player.latex_ok"}},
		{name: "all is well", words: "we are all adults, latex is fine", roster: "player.minor: false, player.latex_ok: true", latex: true, cured: true, allowed: true,
			notAssumed: []string{"player.minor", "player.latex_ok"}},
	}
}

// curedPart is a part that may hold what cures rubber.
var curedPart = regexp.MustCompile(`\b(latex|epdm|rubber)-\d`)

// Every door goes through the gate: whatever is said, no answer holds what it
// rules out, and what was not asked stands first, in JSON, and at each door once in
// text; with MALLOW_LONG set, in every situation.
func TestDoors(t *testing.T) {
	t.Parallel()
	const (
		latex  = "maple-1-1/8 + latex-3/4x1/8 + wool-medium + birch-16"
		plain  = "maple-1-1/8 + silicone-3/4x1/8 + wool-medium + birch-16"
		bench  = "four 1 1/8 maple balls, 3 feet of 3/4 by 1/8 latex, 3 feet of 3/4 by 1/8 silicone, 100 g of medium wool, four birch dowels"
		wanted = "marimba, two mallets, medium"
	)
	roster := func(t *testing.T, s situation, words bool) string {
		path := filepath.Join(t.TempDir(), "class.yaml")
		text := "students:\n  - {name: A, want: " + `"` + wanted + ", " + s.words + `"}` + "\n"
		if !words {
			text = "facts: {" + s.roster + "}\nstudents:\n  - {name: A, want: " + `"` + wanted + `"}` + "\n"
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	doors := []struct {
		name  string
		args  func(t *testing.T, s situation) []string // nil: the situation can't be said here
		given bool                                     // the stack is the person's own
	}{
		{"sheet --want", func(t *testing.T, s situation) []string { return []string{"sheet", "--want", wanted + ", " + s.words} }, false},
		{"sheet --for", func(t *testing.T, s situation) []string {
			if s.allowed || strings.HasPrefix(s.name, "taken back") {
				return nil // whom a sheet is for never makes it less careful
			}
			return []string{"sheet", "--want", wanted, "--for", s.words}
		}, false},
		{"set", func(t *testing.T, s situation) []string {
			return []string{"set", "2", "--want", wanted + ", " + s.words}
		}, false},
		{"set --sheets", func(t *testing.T, s situation) []string {
			return []string{"set", "2", "--sheets", "--want", wanted + ", " + s.words}
		}, false},
		{"advise --want", func(t *testing.T, s situation) []string {
			return []string{"advise", "--have", bench, "--want", wanted + ", " + s.words}
		}, false},
		{"advise --have", func(t *testing.T, s situation) []string {
			return []string{"advise", "--have", bench + ". " + s.words, "--want", wanted}
		}, false},
		{"change", func(t *testing.T, s situation) []string {
			return []string{"change", plain, "--want", "softer, " + s.words}
		}, false},
		{"class, in words", func(t *testing.T, s situation) []string { return []string{"class", roster(t, s, true)} }, false},
		{"class --sheets", func(t *testing.T, s situation) []string { return []string{"class", "--sheets", roster(t, s, true)} }, false},
		{"class, as facts", func(t *testing.T, s situation) []string {
			if s.roster == "" {
				return nil
			}
			return []string{"class", roster(t, s, false)}
		}, false},
		{"sheet of a stack", func(t *testing.T, s situation) []string {
			return []string{"sheet", latex, "--want", wanted + ", " + s.words}
		}, true},
		{"head", func(t *testing.T, s situation) []string {
			if s.words != "" {
				return nil
			}
			return []string{"head", latex}
		}, true},
		{"compare", func(t *testing.T, s situation) []string {
			if s.words != "" {
				return nil
			}
			return []string{"compare", latex, plain}
		}, true},
		{"match", func(t *testing.T, s situation) []string {
			if s.words != "" {
				return nil
			}
			return []string{"match", "--diameter", "37.2 mm", "--mass", "21.2 g"}
		}, true},
	}
	for _, d := range doors {
		texts := 1
		if os.Getenv("MALLOW_LONG") != "" {
			texts = len(situations())
		}
		for _, s := range situations() {
			args := d.args(t, s)
			if args == nil {
				continue
			}
			inText := len(s.assumed) > 0 && texts > 0
			if inText {
				texts--
			}
			t.Run(d.name+"/"+s.name, func(t *testing.T) {
				t.Parallel()
				code, out, errs := mallow(t, append(args, "--json")...)
				if d.given && (strings.Contains(s.name, "allergy") || s.name == "gloves") {
					if code != exitNothingFits || out != "" {
						t.Errorf("latex is not refused: exit code %d", code)
					}
					return
				}
				if code != exitDone {
					t.Fatalf("exit code %d: %s", code, errs)
				}
				if !d.given {
					if found := latexPart.FindString(proposed(out)); found != "" && !s.latex {
						t.Errorf("it offers %s…", found)
					}
					if found := curedPart.FindString(proposed(out)); found != "" && !s.cured {
						t.Errorf("it offers %s…", found)
					}
				}
				var v any
				if err := json.Unmarshal([]byte(out), &v); err != nil {
					t.Fatal(err)
				}
				paths := assumedIn(v)
				for _, p := range s.assumed {
					if !slices.Contains(paths, p) {
						t.Errorf("%s was not said, and that is not said: %v", p, paths)
					}
				}
				for _, p := range s.notAssumed {
					if slices.Contains(paths, p) && !(d.name == "sheet --for" && p == "bench.supervised") { // of whom a sheet is for, only what is careful counts
						t.Errorf("%s was said, and is called not asked", p)
					}
				}
				if strings.Contains(out, `"id": "glue-slice-solvent"`) || strings.Contains(out, `"solvent-vapour"`) {
					t.Error("a solvent nobody allowed")
				}
				if s.alone && !d.given && d.name != "change" && strings.Contains(proposed(out), `"stack":`) && !strings.Contains(proposed(out), "birch-1") && !strings.Contains(proposed(out), "rattan-1") && !strings.Contains(proposed(out), "maple-1") {
					t.Error("a head without a shaft")
				}
				if s.alone && strings.Contains(out, `"id": "knife"`) && !strings.Contains(out, `"by_adult": true`) {
					t.Error("a knife for a minor alone")
				}
				if strings.Contains(out, `"id": "cut-slice"`) && !s.allowed && !strings.Contains(out, `"id": "adult"`) {
					t.Error("a blade without the caution for the young")
				}
				if inText {
					_, text, _ := mallow(t, args...)
					at, table := strings.Index(text, "What was not asked"), strings.Index(text, "maple-")
					if at < 0 || table >= 0 && at > table && !strings.Contains(d.name, "--sheets") {
						t.Errorf("what was not asked does not stand first:\n%.300s", text)
					}
				}
			})
		}
	}
}

// proposed is an answer without what it only repeats of the question.
func proposed(out string) string {
	return regexp.MustCompile(`(?m)^\s*"(from|says|notes|why)": .*$`).ReplaceAllString(out, "")
}

// assumedIn returns the facts that an answer says were not asked.
func assumedIn(v any) []string {
	var list []string
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			if k != "assumed" {
				list = append(list, assumedIn(x)...)
				continue
			}
			for _, a := range x.([]any) {
				list = append(list, a.(map[string]any)["fact"].(string))
			}
		}
	case []any:
		for _, x := range v {
			list = append(list, assumedIn(x)...)
		}
	}
	return list
}
