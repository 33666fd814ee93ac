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

// typical is a head that no rule refuses, so that every rule is looked at.
func typical() facts.Facts {
	return facts.Facts{
		Player: facts.Player{Grip: "cross", Mallets: 4, Level: "some", LatexOK: true, HandN: 110, EasyG: 36, MostG: 55, MostMM: 48},
		Want: facts.Want{
			Steps: 1, MassG: 30, DiameterMM: 36, Colour: "dark", Attack: "even", Opening: "opens", Register: "low", Loudest: "ff", BudgetCents: 4000,
		},
		Instrument: facts.Instrument{Kind: "marimba", Bars: "wood", LowHz: 65.4, HighHz: 523},
		Bench:      facts.Bench{Drill: true, Scale: true, Caliper: true, Supervised: true},
		Head: facts.Head{
			Core: "plastic", Material: "nylon", CoreMM: 28.6, Drilled: true, BoreMM: 7.9, Layers: 1, RubberMM: 3.2, Latex: true, Fibre: "wool",
			YarnMM: 2, Turns: 140, MassG: 29, MassTolG: 1.4, DiameterMM: 36.4, CostCents: 900, HandN: 62, LeastGrip: 70, Steps: 0.8, StepsTol: 0.7,
			CutoffPHz: 420, CutoffMFHz: 520, CutoffFHz: 640, CutoffFFHz: 740, OpensUp: 0.8, ContactMS: 2.6, PeakN: 130, YarnShareP: 0.5,
			YarnShareF: 0.3, CoreShareP: 0.02, CoreShareF: 0.04, LowHz: 60, HighHz: 900, BrightDB: -14, Shaft: "birch", ShaftMM: 7.9, InertiaGM2: 3,
		},
		Layer: facts.Layer{
			Index: 1, On: "plastic", Latex: true, Rubber: "latex", BoreMM: 19.05, WallMM: 3.175, FitWallMM: 2.7, UnderMM: 28.6, OuterMM: 34,
			Stretch: 1.5, Usable: 3.4, HandN: 62, GripKPa: 70, CutMM: 22.2, CutMaxMM: 22.6, Coverage: 1, MassG: 5.3, Verdict: "good",
		},
	}
}

// BenchmarkScore is one head and its one layer put to all rules that refuse or
// prefer.
func BenchmarkScore(b *testing.B) {
	book, f := load(b), typical()
	n := 0
	for _, r := range book.Rules() {
		if r.On != "player" && (r.Do == rules.Refuse || r.Do == rules.Prefer) {
			n++
		}
	}
	head, layer := book.Scorer("head", nil), book.Scorer("layer", nil)
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range []*rules.Scorer[facts.Facts]{head, layer} {
			if _, refused := s.Score(&f); refused != nil {
				b.Fatal(refused.ID)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/rule")
}

// BenchmarkAsk is one head put to every rule, with each rule's readings.
func BenchmarkAsk(b *testing.B) {
	book, f := load(b), typical()
	b.ReportAllocs()
	for b.Loop() {
		book.Ask("head", f, nil)
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
