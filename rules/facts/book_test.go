package facts_test

import (
	"testing"

	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/facts"
)

func load(tb testing.TB) *rules.Book[facts.Facts] {
	tb.Helper()
	book, err := facts.Book()
	if err != nil {
		tb.Fatal(err)
	}
	return book
}

// TestBook runs each rule's own examples, and looks for rules that are dead or
// at odds with each other.
func TestBook(t *testing.T) {
	book := load(t)
	if n := len(book.Rules()); n < 60 {
		t.Errorf("%d rules", n)
	}
	report := book.Check(2000, nil)
	if len(report.Problems) > 0 {
		t.Error(report.Problems)
	}
	report.Write(t.Output())
}

// TestGives checks that what the rules name is in the catalogue, and that
// each of the catalogue's steps and cautions has a rule that can choose it.
func TestGives(t *testing.T) {
	book := load(t)
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	steps, cautions, sources := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range cat.Steps {
		steps[s.ID] = true
	}
	for _, c := range cat.Cautions {
		cautions[c.ID] = true
	}
	for _, s := range cat.Sources {
		sources[s.ID] = true
	}
	named := map[rules.Effect]map[string]bool{rules.Step: steps, rules.Caution: cautions}
	for effect, ids := range named {
		gives := book.Gives(effect)
		for id := range gives {
			if !ids[id] {
				t.Errorf("rule %s gives %s %q, which is not in the catalogue", gives[id][0].ID, effect, id)
			}
		}
		for id := range ids {
			if gives[id] == nil {
				t.Errorf("no rule gives %s %q", effect, id)
			}
		}
	}
	paths := map[string]bool{}
	for _, f := range book.Facts() {
		paths[f.Path] = true
	}
	for id := range book.Gives(rules.Ask) {
		if !paths[id] {
			t.Errorf("a rule asks for %q, which is no fact", id)
		}
	}
	for _, r := range book.Rules() {
		if !sources[r.Source] {
			t.Errorf("%s:%d: rule %s has the source %q, which is not in the catalogue", r.File, r.Line, r.ID, r.Source)
		}
	}
}

func BenchmarkLoadBook(b *testing.B) {
	for b.Loop() {
		if _, err := facts.Book(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTemplate(b *testing.B) {
	book := load(b)
	for b.Loop() {
		if _, err := book.Templates().New("cut {layer.cut_mm:in} of tubing"); err != nil {
			b.Fatal(err)
		}
	}
}
