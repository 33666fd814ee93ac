package rules_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"mallow/knowledge/fault"
	"mallow/knowledge/yamlfile"
	"mallow/rules"
)

// mallet is a small set of facts to try rules on.
type mallet struct {
	Head   mhead   `expr:"head"`
	Player mplayer `expr:"player"`
}

type mhead struct {
	MassG  float64 `expr:"mass_g" unit:"g" range:"0..100" doc:"mass"`
	Layers float64 `expr:"layers" range:"0..6" doc:"layers"`
	Core   string  `expr:"core" oneof:"plastic|wood|rubber" doc:"core"`
	Fibre  string  `expr:"fibre" doc:"fibre, any word"`
	Latex  bool    `expr:"latex" doc:"holds latex"`
}

type mplayer struct {
	MostG   float64 `expr:"most_g" unit:"g" range:"10..100" doc:"most"`
	LatexOK bool    `expr:"latex_ok" doc:"latex is fine"`
}

func options() rules.Options {
	return rules.Options{
		On: map[string][]string{"head": {"head", "player"}, "player": {"player"}},
		Verbs: rules.Verbs{
			"g": func(g float64) string { return fmt.Sprintf("%.1f g", g) },
		},
		Hint: func(said string, among []string) string {
			for _, w := range among {
				if len(w) == len(said) && w[0] == said[0] && w != said {
					return fmt.Sprintf("did you mean %q?", w)
				}
			}
			return ""
		},
	}
}

// book loads rules that each give only what a test is about: the rest is
// filled in.
func book(tb testing.TB, files ...string) *rules.Book[mallet] {
	tb.Helper()
	b, err := tryBook(files...)
	if err != nil {
		tb.Fatal(err)
	}
	return b
}

func tryBook(files ...string) (*rules.Book[mallet], error) {
	var sources []yamlfile.Source
	for i, f := range files {
		sources = append(sources, yamlfile.Source{Name: fmt.Sprintf("%c.yaml", 'a'+i), Data: []byte(f)})
	}
	return rules.Load[mallet](options(), sources...)
}

const heavy = `rules:
  - id: too-heavy
    title: too heavy
    on: head
    when: head.mass_g > player.most_g
    do: refuse
    reason: "{head.mass_g:g} is over {player.most_g:g}"
    change: lose {head.mass_g - player.most_g:.1f} g
    source: practice
    fires: [{head.mass_g: 41, player.most_g: 36}]
    quiet: [{head.mass_g: 30, player.most_g: 36}]
`

// with returns heavy with one of its lines replaced.
func with(field, line string) string {
	lines := strings.Split(heavy, "\n")
	for i, l := range lines {
		if strings.HasPrefix(strings.TrimLeft(l, " -"), field+":") {
			lines[i] = l[:4] + line
			if line == "" {
				lines = append(lines[:i], lines[i+1:]...)
			}
			return strings.Join(lines, "\n")
		}
	}
	panic("no line of " + field)
}

func TestLoadProblems(t *testing.T) {
	for _, tt := range []struct {
		name string
		file string
		want string
	}{
		{"misspelt fact", with("when", "when: head.mass_q > 36"),
			`a.yaml:5:11: when of rule too-heavy: unknown fact "head.mass_q" (did you mean "head.mass_g"?)`},
		{"misspelt fact in the middle", with("when", "when: player.most_g < 3 and head.mass_q > 36"),
			`a.yaml:5:33: when of rule too-heavy: unknown fact "head.mass_q" (did you mean "head.mass_g"?)`},
		{"misspelt fact on the second line", with("when", "when: >-\n      player.most_g < 3 and\n      head.mass_q > 36"),
			`a.yaml:7:7: when of rule too-heavy: unknown fact "head.mass_q" (did you mean "head.mass_g"?)`},
		{"misspelt group", with("when", "when: heed.mass_g > 36"),
			`a.yaml:5:11: when of rule too-heavy: unknown fact "heed" (did you mean "head"?)`},
		{"a whole group", with("when", "when: head == head"),
			`a.yaml:5:11: when of rule too-heavy: "head" is not one fact`},
		{"a word that can't be", with("when", "when: 'head.mass_g > 3 and head.core == \"wool\"'"),
			`a.yaml:5:45: when of rule too-heavy: head.core is never "wool" (did you mean "wood"?)`},
		{"a word that can't be, turned round", with("when", "when: '\"wool\" == head.core'"),
			`a.yaml:5:12: when of rule too-heavy: head.core is never "wool" (did you mean "wood"?)`},
		{"a word that can't be in a list", with("when", "when: head.core in [\"plastic\", \"stone\"]"),
			`a.yaml:5:36: when of rule too-heavy: head.core is never "stone" (one of plastic, wood, rubber)`},
		{"kinds that do not compare", with("when", "when: head.mass_g > head.core"),
			`a.yaml:5:23: when of rule too-heavy: > between a number and a text`},
		{"not a truth", with("when", "when: head.mass_g + 1"),
			`a.yaml:5:11: when of rule too-heavy: when is yes or no; this is a number`},
		{"no fact", with("when", "when: 1 < 2"),
			`a.yaml:5:11: when of rule too-heavy: when reads no fact, so it always says the same`},
		{"a loop", with("when", "when: 'all([1, 2], # < head.mass_g)'"),
			`a.yaml:5:12: when of rule too-heavy: "all([1, 2], # < head.mass_g)" can't be used in a rule (compare facts with and, or, not, in, + - * / ^, ?:, abs, min, max, round, floor, ceil, int, string)`},
		{"a function that is not allowed", with("when", "when: now() > head.mass_g"),
			`a.yaml:5:11: when of rule too-heavy: no function "now" (there are abs, min, max, round, floor, ceil, int, string)`},
		{"a regular expression", with("when", "when: head.fibre matches \"w.*\""),
			`a.yaml:5:22: when of rule too-heavy: "matches" can't be used in a rule`},
		{"a syntax error", with("when", "when: head.mass_g >"),
			`a.yaml:5:23: when of rule too-heavy: it stops too early`},
		{"one equals sign", with("when", "when: head.mass_g = 3"),
			`a.yaml:5:23: when of rule too-heavy: unexpected token Operator("=") (compare with ==, <= or >=)`},
		{"a unit", with("when", "when: head.mass_g > 3 g"),
			`a.yaml:5:27: when of rule too-heavy: unexpected token Identifier("g") (numbers stand without a unit, words in quotes)`},
		{"a word without quotes", with("when", "when: head.core == wood"),
			`a.yaml:5:24: when of rule too-heavy: unknown fact "wood" (a word stands in quotes, "wood")`},
		{"one ampersand", with("when", "when: head.latex & head.latex"),
			`a.yaml:5:22: when of rule too-heavy: unexpected token Operator("&") (write and, or)`},
		{"a rule too large", with("when", "when: head.latex"+strings.Repeat(" or head.latex", 200)),
			`a.yaml:5:11: when of rule too-heavy: an expression of 2810 bytes (at most 2000)`},
		{"a rule with too many parts", with("when", "when: head.latex"+strings.Repeat("==true", 140)),
			`a.yaml:5:615: when of rule too-heavy: compilation failed: expression exceeds maximum allowed nodes`},
		{"an unknown effect", with("do", "do: refute"),
			`a.yaml:6:9: do can't be "refute" (did you mean "refuse"?)`},
		{"an unknown subject", with("on", "on: band"),
			`a.yaml:4:9: on can't be "band" (one of head, player)`},
		{"facts that are not there yet", with("on", "on: player"),
			"a.yaml:5:11: when of rule too-heavy: a rule on player can't read head.mass_g (it may read player)\n" +
				"a.yaml:7:14: reason of rule too-heavy: a rule on player can't read head.mass_g (it may read player)\n" +
				"a.yaml:8:13: change of rule too-heavy: a rule on player can't read head.mass_g (it may read player)"},
		{"no reason", with("reason", ""), `a.yaml:2:5: rule too-heavy has no reason`},
		{"no source", with("source", ""), `a.yaml:2:5: rule too-heavy has no source`},
		{"no examples", with("fires", ""), `a.yaml:2:5: rule too-heavy needs an example under fires and one under quiet`},
		{"a reason with an unknown fact", with("reason", "reason: it is {head.mass_k:g} g"),
			`a.yaml:7:20: reason of rule too-heavy: unknown fact "head.mass_k" (did you mean "head.mass_g"?)`},
		{"a reason with an unknown form", with("reason", "reason: it is {head.mass_g:q} g"),
			`a.yaml:7:32: reason of rule too-heavy: unknown form "q" (g, .1f)`},
		{"a reason left open", with("reason", "reason: it is {head.mass_g g"),
			`a.yaml:7:19: reason of rule too-heavy: a { without its } ({{ stands for one brace)`},
		{"a word in a numeric form", with("reason", `reason: 'it is {head.core:.1f}'`),
			`a.yaml:7:31: reason of rule too-heavy: form ".1f" is for numbers; this is a text`},
		{"a weight on a refusal", strings.Replace(heavy, "source: practice", "source: practice\n    weight: 3", 1),
			`a.yaml:10:13: a weight means nothing to a rule that does refuse (remove it)`},
		{"a preference without a weight", with("do", "do: prefer"), `a.yaml:2:5: rule too-heavy does prefer, so it needs a weight`},
		{"a step without a name", with("do", "do: step"), `a.yaml:2:5: rule too-heavy does step, so it needs give`},
		{"an unknown field", with("source", "sorce: practice"),
			`a.yaml:9:5: rule too-heavy: unknown field "sorce" (did you mean "source"?)`},
		{"a field twice", with("title", "title: one\n    title: two"), `a.yaml:4:5: rule too-heavy: field "title" is given twice (keep one)`},
		{"an example with an unknown fact", with("quiet", "quiet: [{head.mass_q: 30}]"),
			`a.yaml:11:14: unknown fact "head.mass_q" (did you mean "head.mass_g"?)`},
		{"an example with a wrong word", with("quiet", "quiet: [{head.core: wool}]"),
			`a.yaml:11:25: head.core can't be "wool" (did you mean "wood"?)`},
		{"an example with a wrong number", with("quiet", "quiet: [{head.mass_g: .nan}]"),
			`a.yaml:11:27: head.mass_g can't be ".nan" (a number)`},
		{"an example out of range", with("fires", "fires: [{head.mass_g: 141, player.most_g: 36}]"),
			`a.yaml:10:27: head.mass_g can't be 141 (0 to 100)`},
		{"an id that is none", with("id", "id: Too Heavy"), `a.yaml:2:9: rule: "Too Heavy" can't be an id (lower-case letters, digits and . / _ - only)`},
		{"an id twice", heavy + strings.TrimPrefix(heavy, "rules:\n"), `a.yaml:12:5: rule too-heavy: already at a.yaml:2 (give another id, or join the two)`},
		{"a control character", with("title", `title: "\e[31mred"`), "a.yaml:3:12: rule too-heavy: title: control character U+001B (only plain text and line ends)"},
		{"a text that reads backwards", with("title", `title: "\u202edeb"`), "a.yaml:3:12: rule too-heavy: title: control character U+202E (only plain text and line ends)"},
		{"a truth that is none", with("title", "title: t\n    hide: yes"), `a.yaml:4:11: rule too-heavy: hide: "yes" is neither true nor false (true or false)`},
		{"an id that is no words", with("id", "id: too/heavy"), `a.yaml:2:5: rule: id "too/heavy" (lower-case letters, digits and hyphens)`},
		{"no YAML", "rules: [", `a.yaml:1:1: not YAML: did not find expected node content (in what starts on this line)`},
		{"not rules", "cores: []", `a.yaml:1:1: unknown kind "cores" (one of rules)`},
		{"a list", "- id: x", `a.yaml:1:1: file: want fields with values, found a list`},
		{"two documents", heavy + "---\n" + heavy, `a.yaml:12:1: a second YAML document starts here (join them into one)`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tryBook(tt.file)
			var problems fault.Errors
			if !errors.As(err, &problems) {
				t.Fatalf("got %v, want problems", err)
			}
			if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		})
	}
}

func TestLoadEmpty(t *testing.T) {
	for _, file := range []string{"", "# nothing\n", "---\n", "rules: []\n"} {
		if n := len(book(t, file).Rules()); n != 0 {
			t.Errorf("%q has %d rules", file, n)
		}
	}
}

func TestOverlay(t *testing.T) {
	change := "rules:\n  - id: too-heavy\n    when: head.mass_g > player.most_g - 2\n"
	b := book(t, heavy, change)
	r := b.Rule("too-heavy")
	if r.When != "head.mass_g > player.most_g - 2" || r.Title != "too heavy" || r.File != "b.yaml" || r.Line != 2 || r.Was != "a.yaml:2" {
		t.Errorf("changed rule is %+v", r)
	}

	b = book(t, heavy, "rules:\n  - id: too-heavy\n    hide: true\n")
	if len(b.Rules()) != 0 || len(b.Hidden()) != 1 || b.Hidden()[0].File != "b.yaml" {
		t.Errorf("rules %v, hidden %v", b.Rules(), b.Hidden())
	}

	b = book(t, heavy, "rules:\n  - id: too-heavy\n    hide: true\n", "rules:\n  - id: too-heavy\n    hide: false\n")
	if len(b.Rules()) != 1 {
		t.Error("hide: false does not bring a hidden rule back")
	}

	added := strings.ReplaceAll(heavy, "too-heavy", "much-too-heavy")
	if got := len(book(t, heavy, added).Rules()); got != 2 {
		t.Errorf("%d rules after adding one", got)
	}

	safe := with("title", "title: too heavy\n    safety: true")
	if !book(t, safe).Rule("too-heavy").Safety {
		t.Error("safety is not read")
	}
	for _, overlay := range []string{change, "rules:\n  - id: too-heavy\n    hide: true\n", "rules:\n  - id: too-heavy\n    safety: false\n"} {
		_, err := tryBook(safe, overlay)
		if want := "b.yaml:2:5: rule too-heavy keeps people from harm, so it can't be changed or hidden (add a stricter rule beside it)"; err == nil || err.Error() != want {
			t.Errorf("%q: got %v", overlay, err)
		}
	}

	// What an overlay breaks is reported where the overlay says it.
	_, err := tryBook(heavy, "rules:\n  - id: too-heavy\n    when: head.mass_q > 3\n")
	if want := `b.yaml:3:11: when of rule too-heavy: unknown fact "head.mass_q" (did you mean "head.mass_g"?)`; err == nil || err.Error() != want {
		t.Errorf("got %v", err)
	}
}

func TestSources(t *testing.T) {
	fsys := fstest.MapFS{"b.yaml": {Data: []byte("2")}, "a.yaml": {Data: []byte("1")}, "notes.txt": {}, "sub/c.yaml": {}}
	got, err := yamlfile.Sources(fsys, "my/rules")
	want := []yamlfile.Source{{Name: "my/rules/a.yaml", Data: []byte("1")}, {Name: "my/rules/b.yaml", Data: []byte("2")}}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, diff)
	}
}

func FuzzLoadRules(f *testing.F) {
	f.Add([]byte(heavy))
	names, err := os.ReadDir("book")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile("book/" + name.Name())
		if err != nil {
			f.Fatal(err)
		}
		if len(data) < 4000 { // a large one is slow to vary
			f.Add(data)
		}
	}
	for _, seed := range []string{
		"rules: [", "rules: [{id: a}]", "rules: &a [*a]", "a: &a [x]\nrules: *a", "- x", "\x00", "rules: {<<: {id: 3}}",
		with("when", "when: head.mass_g/0 > 1"), with("reason", "reason: '{head.core == \"wood\" ? \"}\" : \"{\"}'"),
		with("when", "when: |\n      head.latex\n      or head.mass_g in [1,2]"),
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := rules.Load[mallet](options(), yamlfile.Source{Name: "f.yaml", Data: data})
		if err != nil {
			var problems fault.Errors
			if !errors.As(err, &problems) {
				t.Fatalf("an error that is no problem: %v", err)
			}
			lines := strings.Count(string(data), "\n") + 1
			for _, p := range problems {
				if p.Line > lines || p.Line > 0 && p.Col < 1 || p.What == "" {
					t.Errorf("problem at no place: %+v", p)
				}
			}
			return
		}
		// A book that loads answers any facts and can be checked.
		for _, on := range []string{"head", "player"} {
			b.Ask(on, mallet{}, nil)
			b.Ask(on, mallet{}, rules.Known{})
			b.Scorer(on, nil).Score(&mallet{})
		}
		b.Check(10, nil)
	})
}
