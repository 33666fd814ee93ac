package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// answers are command lines of every command that answers with JSON, and
// where in it heads stand: a path of keys, * for each of a list.
func answers(t *testing.T) []struct {
	args  []string
	heads []string
} {
	t.Helper()
	stack := "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16"
	bench := "four 1 1/8 plastic balls, 3 feet of 3/4 by 1/8 latex, 100 g of medium wool, four birch dowels"
	roster := filepath.Join(t.TempDir(), "class.yaml")
	text := "students:\n  - {name: one, want: soft and dark on a marimba}\n  - {name: two, age: 30, facts: {want.softness: medium}}\n"
	if err := os.WriteFile(roster, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return []struct {
		args  []string
		heads []string
	}{
		{[]string{"head", stack}, nil},
		{[]string{"sheet", stack}, []string{""}},
		{[]string{"sheet", "--want", "glockenspiel, hard"}, []string{""}},
		{[]string{"advise", "--have", bench, "--want", "I have a drill press"}, []string{""}},
		{[]string{"change", stack, "--want", "two notches softer"}, []string{""}},
		{[]string{"match", "--diameter", "37.2 mm", "--mass", "21.2 g"}, []string{""}},
		{[]string{"set", "3", "--want", "marimba"}, []string{"rungs.*"}},
		{[]string{"set", "3", "--want", "xylophone"}, []string{"rungs.*"}},
		{[]string{"set", "2", "--want", "marimba", "--sheets"}, []string{"sheets.*"}},
		{[]string{"class", roster}, []string{"students.*"}},
		{[]string{"class", roster, "--sheets"}, []string{"sheets.*"}},
		{[]string{"pair", "14 g", "15 g"}, nil},
		{[]string{"shelf"}, nil},
		{[]string{"built"}, nil},
	}
}

// at returns what stands at a path of keys.
func at(v any, path string) []any {
	if path == "" {
		return []any{v}
	}
	key, rest, _ := strings.Cut(path, ".")
	switch v := v.(type) {
	case map[string]any:
		return at(v[key], rest)
	case []any:
		var list []any
		for _, x := range v {
			list = append(list, at(x, rest)...)
		}
		return list
	}
	return nil
}

// ungrounded lists where a softness or a grade stands with no instrument beside it or
// above, whose medium it counts from.
func ungrounded(path string, v any) (list []string) {
	switch v := v.(type) {
	case map[string]any:
		if on, _ := v["instrument"].(string); on != "" {
			return nil
		}
		for key, x := range v {
			if strings.HasPrefix(key, "softness") || key == "grade" {
				list = append(list, path+"."+key+" counts from nobody's medium")
			}
			list = append(list, ungrounded(path+"."+key, x)...)
		}
	case []any:
		for _, x := range v {
			list = append(list, ungrounded(path, x)...)
		}
	}
	return list
}

// Wherever a command names its head, stack is its text with turns, and head is
// what `mallow head --json` writes of that text. Numbers are numbers, under
// names that carry the unit.
func TestJSON(t *testing.T) {
	t.Parallel()
	for _, a := range answers(t) {
		t.Run(strings.Join(a.args, " "), func(t *testing.T) {
			code, out, errs := mallow(t, append(a.args, "--json")...)
			var v any
			if err := json.Unmarshal([]byte(out), &v); code != exitDone || err != nil {
				t.Fatalf("exit code %d, %v: %s", code, err, errs)
			}
			for _, x := range unclear("", v) {
				t.Error(x)
			}
			for _, x := range ungrounded("", v) {
				t.Error(x)
			}
			for _, path := range a.heads {
				found := at(v, path)
				if len(found) == 0 {
					t.Fatalf("nothing at %q", path)
				}
				for _, x := range found {
					made := x.(map[string]any)
					stack, _ := made["stack"].(string)
					_, wound := made["head"].(map[string]any)["yarn"]
					_, shafted := made["head"].(map[string]any)["swing"]
					if wound != strings.Contains(stack, "*") || !shafted && a.args[0] != "match" {
						t.Errorf("stack %q has no turns or no shaft", stack)
					}
					on, _ := made["head"].(map[string]any)["instrument"].(string)
					_, alone, _ := mallow(t, "head", stack, "--instrument", on, "--json")
					var want any
					if err := json.Unmarshal([]byte(alone), &want); err != nil {
						t.Fatalf("head %s: %v", stack, err)
					}
					delete(want.(map[string]any), "assumed") // a stack given alone says first what was not asked
					if d := cmp.Diff(want, made["head"]); d != "" {
						t.Errorf("%s (-alone +here):\n%s", stack, d)
					}
				}
			}
		})
	}
}

// units are endings of names that say what a number counts.
var units = regexp.MustCompile(`_(g|mm|m|n|kpa|hz|ms|db|c|pct|ppm|cents|points|min|g_m2|n_ms|octaves|bits|s|bound)$`)

// plain are names of numbers without a unit, such as counts,
// ratios, places, and softness, which is in notches.
func plain() []string {
	return strings.Fields("softness softness_tol softness_within_tol want_softness softness_was softness_now uneven stretch coverage share partials_db turns heads heads_each " +
		"considered tried packs pieces times count spare skill design number layer first line likelihood rest points was now tol from to by as work db")
}

var inText = regexp.MustCompile(`^[0-9.]+ (mm|in|g|kg|m|N|Hz)$`)

// unclear returns the numbers under names that say no unit, and the texts that
// are numbers with one.
func unclear(name string, v any) (bad []string) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			bad = append(bad, unclear(k, x)...)
		}
	case []any:
		for _, x := range v {
			bad = append(bad, unclear(name, x)...)
		}
	case float64:
		if !units.MatchString(name) && !slices.Contains(plain(), name) {
			bad = append(bad, "number "+name)
		}
	case string:
		if inText.MatchString(v) {
			bad = append(bad, "text "+name+" "+v)
		}
	}
	return bad
}
