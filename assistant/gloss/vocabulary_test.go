package gloss_test

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"mallow/assistant"
	"mallow/assistant/few"
	"mallow/assistant/gloss"
	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// plainEnglish lists, one a line, the words that mallow uses and that need no
// entry: everyday English. A new word goes there only if a beginner knows it;
// else it gets an entry in terms.yaml.
var plainEnglish = filepath.Join("..", "..", "testdata", "plain-english.txt")

var (
	braces = regexp.MustCompile(`\{[^{}]*\}`)
	quoted = regexp.MustCompile(`"([^"]*)"`)
	word   = regexp.MustCompile(`[A-Za-z][a-z]+(?:'[a-z]+)?`)
)

// Every word that mallow itself prints, in replies, questions, reasons, steps,
// cautions and sheets, is plain English or has an entry.
func TestEveryWordHasAnEntry(t *testing.T) {
	cat, err := few.Parts()
	if err != nil {
		t.Fatal(err)
	}
	book, err := facts.Book()
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]string{} // where each word stands
	hear := func(where, text string) {
		text = braces.ReplaceAllStringFunc(text, func(s string) string { // words that a template may print
			var parts []string
			for _, m := range quoted.FindAllStringSubmatch(s, -1) {
				parts = append(parts, m[1])
			}
			return strings.Join(parts, " ")
		})
		for _, w := range word.FindAllString(text, -1) {
			if w = strings.ToLower(strings.TrimSuffix(w, "'s")); len(w) > 2 && said[w] == "" {
				said[w] = where
			}
		}
	}
	for where, list := range map[string]any{
		"answers": cat.Answers, "questions": cat.Questions, "steps": cat.Steps, "cautions": cat.Cautions, "lessons": cat.Lessons,
		"gauges": cat.Gauges, "jobs": cat.Jobs, "troubles": cat.Troubles, "terms": cat.Terms,
	} {
		texts(reflect.ValueOf(list), "", func(field, text string) {
			if slices.Contains([]string{"Text", "Early", "Ask", "Why", "Unsaid", "Given", "Say", "Means", "Check", "IfOff", "Undo", "Title", "Hazard", "Do", "Defer", "First", "Yes", "Reveal"}, field) {
				hear(where, text)
			}
		})
	}
	for _, r := range book.Rules() {
		for _, text := range []string{r.Title, r.Reason, r.Change} {
			hear("rule "+r.ID, text)
		}
	}
	kit, err := assistant.NewKit(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	s := assistant.NewSession(kit)
	for _, line := range []string{"marimba, two mallets, medium, all adults, latex is fine, no solvents", "", "", "", "", "", "why", "more", "more", "more", "compare 1 and 2", "what if two layers", "softer", "help", "the sheet", "build", "", ""} {
		r := s.Say(line)
		p := r.Page
		if r.Whole {
			p = append(p, r.Sheet.Page(60)...)
		}
		if r.Ask != nil {
			p = append(p, page.Para(r.Ask.String()))
		}
		var out bytes.Buffer
		if err := page.Text(&out, p, page.Style{Width: 80, Plain: true}); err != nil {
			t.Fatal(err)
		}
		hear("the reply to "+line, out.String())
	}

	plain := map[string]bool{}
	data, err := os.ReadFile(plainEnglish)
	if err != nil && os.Getenv("UPDATE") == "" {
		t.Fatal(err)
	}
	for _, w := range strings.Fields(string(data)) {
		plain[w] = true
	}
	known := names(cat)
	var missing []string
	for w, where := range said {
		if plain[w] || known[w] {
			continue
		}
		missing = append(missing, w)
		if os.Getenv("UPDATE") == "" {
			t.Errorf("%q, in %s, has no entry in terms.yaml and is not in plain-english.txt", w, where)
		}
	}
	if os.Getenv("UPDATE") != "" {
		all := append(strings.Fields(string(data)), missing...)
		slices.Sort(all)
		if err := os.WriteFile(plainEnglish, []byte(strings.Join(slices.Compact(all), "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// names are the words of all names of terms, and of the catalogue's own parts
// and materials, which are explained by name.
func names(cat *knowledge.Catalogue) map[string]bool {
	known := map[string]bool{}
	add := func(text string) {
		for _, w := range word.FindAllString(strings.ReplaceAll(text, "-", " "), -1) {
			known[strings.ToLower(w)] = true
		}
	}
	for _, x := range cat.Terms {
		add(x.ID)
		for _, a := range x.Also {
			add(a)
		}
	}
	for _, m := range cat.Materials {
		add(m.ID)
		add(m.Name)
	}
	return known
}

// texts calls f with every text in a value, and the field that it stands in.
func texts(v reflect.Value, field string, f func(field, text string)) {
	switch v.Kind() {
	case reflect.String:
		f(field, v.String())
	case reflect.Slice:
		for i := range v.Len() {
			texts(v.Index(i), field, f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				texts(v.Field(i), v.Type().Field(i).Name, f)
			}
		}
	}
}

// What people ask the meaning of is explained: terms, plurals, notes, dynamics,
// grades and materials.
func TestMeans(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	w := gloss.In(cat)
	for line, want := range map[string]string{
		"what is a durometer": "presses a small point", "what are slices?": "stretched over the core", "what is F#4": "370 Hz", "what is ff": "very loud",
		"what does EPDM mean": "synthetic rubber", "what does N mean": "unit of force", "what is a notch": "A player hears one notch", "what does medium mean here": "reach for first",
		"what is medium hard": "", "whats yarn": "wound round the head", "explain soapy water": "washing-up soap",
	} {
		if got, ok := w.Asked(line); !ok || !strings.Contains(got, want) {
			t.Errorf("%q: %q", line, got)
		}
	}
	for _, line := range []string{"what is a florb", "what now", "soft", ""} {
		if got, ok := w.Asked(line); ok {
			t.Errorf("%q is explained: %q", line, got)
		}
	}
}
