package facts_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
)

// TestBook runs each rule's own examples, and looks for rules that are dead or
// at odds with each other.
func TestBook(t *testing.T) {
	book := factstest.Book(t)
	if n := len(book.Rules()); n < 60 {
		t.Errorf("%d rules", n)
	}
	report := book.Check(2000, nil)
	if len(report.Problems) > 0 {
		t.Error(report.Problems)
	}
	t.Logf("%d rules, not met: %v", report.Rules, report.Coverage.Quiet())
}

// TestGives checks that what the rules name is in the catalogue, and that
// each of the catalogue's steps and cautions has a rule that can choose it.
func TestGives(t *testing.T) {
	book := factstest.Book(t)
	cat := knowledgetest.Catalogue(t)
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
			hazard := slices.ContainsFunc(cat.Adhesives, func(a knowledge.Adhesive) bool { return effect == rules.Caution && slices.Contains(a.Hazards, id) })
			inJob := slices.ContainsFunc(cat.Jobs, func(j knowledge.Job) bool { return effect == rules.Step && slices.Contains(j.Steps, id) })
			if gives[id] == nil && !inJob && !hazard {
				t.Errorf("no rule and no job gives %s %q", effect, id)
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

// TestWeights: for every player, exactly one rule sets each of the weights.
func TestWeights(t *testing.T) {
	book := factstest.Book(t)
	names := slices.Collect(maps.Keys(book.Gives(rules.Choose)))
	names = slices.DeleteFunc(names, func(name string) bool { return strings.HasSuffix(name, "-at") }) // of words that were said
	if len(names) < 9 {
		t.Errorf("the rules choose only %v", names)
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		f := book.Draw(rng)
		count := map[string]int{}
		for _, a := range book.Ask("player", f, nil) {
			if a.Rule.Do == rules.Choose && a.State == rules.Fired {
				count[a.Rule.Give]++
			}
		}
		for _, name := range names {
			// What is firm in a set holds for wound ones alone, or for bare ones, and
			// what a head has to cover for some instruments.
			if (strings.HasPrefix(name, "set-") || strings.HasPrefix(name, "cover-")) && count[name] == 0 {
				continue
			}
			if count[name] != 1 {
				t.Fatalf("%d rules choose %s for %+v, %+v", count[name], name, f.Player, f.Want)
			}
		}
	}
}

// TestSafety draws facts that hold a hazard and looks for the rules that have
// to answer it. It does not lean on the examples of the rules themselves.
func TestSafety(t *testing.T) {
	book := factstest.Book(t)
	type must struct {
		do   rules.Effect
		give string
	}
	refuse := must{rules.Refuse, ""}
	for _, tt := range []struct {
		name   string
		on     string
		set    func(*facts.Facts)
		answer []must
	}{
		{"solvent for a minor", "head", func(f *facts.Facts) { f.Head.Solvent, f.Player.Minor, f.Player.OfAge = true, true, false }, []must{refuse, {rules.Caution, "adult"}}},
		{"solvent without air", "head", func(f *facts.Facts) { f.Head.Solvent, f.Bench.Ventilated = true, false }, []must{refuse}},
		{"solvent ruled out", "head", func(f *facts.Facts) { f.Head.Solvent, f.Player.SolventOK = true, false }, []must{refuse}},
		{"solvent", "head", func(f *facts.Facts) { f.Head.Solvent = true }, []must{{rules.Caution, "solvent-vapour"}, {rules.Caution, "solvent-fire"}}},
		{"latex for someone who avoids it", "head", func(f *facts.Facts) { f.Head.Latex, f.Player.LatexOK = true, false }, []must{refuse}},
		{"latex layer for someone who avoids it", "layer", func(f *facts.Facts) { f.Layer.Latex, f.Player.LatexOK = true, false }, []must{refuse}},
		{"latex", "head", func(f *facts.Facts) { f.Head.Latex = true }, []must{{rules.Caution, "latex-allergy"}, {rules.Step, "label-latex"}}},
		{"slack layer", "layer", func(f *facts.Facts) { f.Layer.Verdict = "slack" }, []must{refuse}},
		{"layer past the rubber's limit", "layer", func(f *facts.Facts) { f.Layer.Usable, f.Layer.Stretch = 3, 3.1 }, []must{refuse}},
		{"layer past any hand", "layer", func(f *facts.Facts) { f.Layer.Verdict, f.Layer.Usable, f.Layer.Stretch = "over", 3, 2 }, []must{refuse}},
		{"layer past these hands", "layer", func(f *facts.Facts) { f.Player.HandN, f.Layer.HandN = 90, 91 }, []must{refuse}},
		{"too heavy", "head", func(f *facts.Facts) { f.Player.MostG, f.Head.MassG = 55, 56 }, []must{refuse}},
		{"too large", "head", func(f *facts.Facts) { f.Player.MostMM, f.Head.DiameterMM = 48, 49 }, []must{refuse}},
		{"a ball to drill", "head", func(f *facts.Facts) { f.Head.Drilled, f.Head.ShaftMM = false, 7.9 },
			[]must{{rules.Caution, "drill-round"}, {rules.Caution, "eyes"}, {rules.Caution, "dust"}, {rules.Step, "drill-core"}, {rules.Step, "deburr-core"}}},
		{"a ball to drill, and no drill", "head", func(f *facts.Facts) { f.Head.Drilled, f.Head.ShaftMM, f.Bench.Drill = false, 7.9, false }, []must{refuse}},
		{"a glued shaft in plastic, by a minor alone", "head", func(f *facts.Facts) {
			f.Head.End, f.Head.Core, f.Head.ShaftMM, f.Player.Minor, f.Bench.Supervised = "roughened", "plastic", 7.9, true, false
		}, []must{refuse}},
		{"cured rubber for someone who reacts to gloves", "head", func(f *facts.Facts) { f.Head.Chemicals, f.Player.RubberOK = true, false }, []must{refuse}},
		{"a layer of cured rubber for someone who reacts to gloves", "layer", func(f *facts.Facts) { f.Layer.Chemicals, f.Player.RubberOK = true, false }, []must{refuse}},
		{"a shaft that no glue holds", "head", func(f *facts.Facts) { f.Head.Keyed, f.Head.End, f.Head.ShaftMM = true, "pinned", 7.9 },
			[]must{{rules.Step, "barb-shaft"}, {rules.Step, "press-shaft"}, {rules.Step, "pin-shaft"}, {rules.Step, "pull-test"}, {rules.Caution, "fly-off"}, {rules.Caution, "drill-round"}}},
		{"a slice to cut", "head", func(f *facts.Facts) { f.Head.Layers = 1 }, []must{{rules.Caution, "knife"}, {rules.Caution, "eyes"}}},
		{"a shaft to glue", "head", func(f *facts.Facts) { f.Head.ShaftMM, f.Head.Keyed = 7.9, false }, []must{{rules.Step, "glue-shaft"}, {rules.Step, "pull-test"}, {rules.Caution, "fly-off"}}},
		{"yarn to sew", "head", func(f *facts.Facts) { f.Head.Turns = 140 }, []must{{rules.Caution, "needle"}, {rules.Step, "crown-stitch"}}},
		{"a mass that is not a number", "head", func(f *facts.Facts) { f.Head.MassG = math.NaN() }, []must{refuse}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(7, 8))
			for range 100 {
				f := book.Draw(rng)
				tt.set(&f)
				answers := book.Ask(tt.on, f, nil)
				for _, m := range tt.answer {
					if !slices.ContainsFunc(answers, func(a rules.Firing) bool {
						return a.State == rules.Fired && a.Rule.Do == m.do && (m.give == "" || a.Rule.Give == m.give)
					}) {
						t.Fatalf("no rule answers with %s %s on %+v", m.do, m.give, f)
					}
				}
			}
		})
	}
	// No solvent step, whatever the rest, for a minor or without moving air.
	rng := rand.New(rand.NewPCG(9, 10))
	for range 500 {
		f := book.Draw(rng)
		for _, a := range book.Ask("layer", f, nil) {
			if a.State == rules.Fired && a.Rule.Give == "glue-slice-solvent" && (f.Player.Minor || !f.Bench.Ventilated) {
				t.Fatalf("%s fires on %+v", a.Rule.ID, f)
			}
		}
	}
}

// typical is a head that no rule refuses, so that every rule is looked at.
func typical() facts.Facts {
	return facts.Facts{
		Player: facts.Player{Grip: "cross", Mallets: 4, Level: "some", LatexOK: true, HandN: 110, EasyG: 36, MostG: 55, MostMM: 48},
		Want: facts.Want{
			Softness: 1, MassG: 30, DiameterMM: 36, Colour: "dark", Attack: "even", Opening: "opens", Register: "low", Loudest: "ff", BudgetCents: 4000,
		},
		Instrument: facts.Instrument{Kind: "marimba", Bars: "wood", LowHz: 65.4, HighHz: 523},
		Bench:      facts.Bench{Drill: true, Scale: true, Caliper: true, Supervised: true},
		Head: facts.Head{
			Core: "plastic", Material: "nylon", CoreMM: 28.6, Drilled: true, BoreMM: 7.9, Layers: 1, RubberMM: 3.2, Latex: true, Fibre: "wool",
			YarnMM: 2, Turns: 140, MassG: 29, MassTolG: 1.4, DiameterMM: 36.4, CostCents: 900, HandN: 62, LeastGrip: 70, Softness: 0.8, SoftnessTol: 0.7,
			CutoffPHz: 420, CutoffMFHz: 520, CutoffFHz: 640, CutoffFFHz: 740, OpensUp: 0.8, ContactMS: 2.6, PeakN: 130, YarnShareP: 0.5,
			YarnShareF: 0.3, CoreShareP: 0.02, CoreShareF: 0.04, LowHz: 60, HighHz: 900, BrightDB: -14, Shaft: "birch", ShaftMM: 7.9, InertiaGM2: 3,
		},
		Layer: facts.Layer{
			Index: 1, On: "plastic", Latex: true, Rubber: "latex", BoreMM: 19.05, WallMM: 3.175, FitWallMM: 2.7, UnderMM: 28.6, OuterMM: 34,
			Stretch: 1.5, Usable: 3.4, HandN: 62, GripKPa: 70, CutMM: 22.2, CutMaxMM: 22.6, SpanMM: 18.6, Coverage: 1, MassG: 5.3, Verdict: "good",
		},
	}
}

// spread makes every field of two structs differ as far as it can.
func spread(lo, hi reflect.Value) {
	for i := range lo.Elem().NumField() {
		switch at := hi.Elem().Field(i).Addr().Interface().(type) {
		case *float64:
			lo.Elem().Field(i).SetFloat(math.Inf(-1))
			*at = math.Inf(1)
		case *string:
			lo.Elem().Field(i).SetString("")
			*at = "?"
		case *bool:
			lo.Elem().Field(i).SetBool(false)
			*at = true
		}
	}
}

// BenchmarkScore is one head and its one layer put to all rules that refuse or
// prefer.
func BenchmarkScore(b *testing.B) {
	book, f := factstest.Book(b), typical()
	n := 0
	for _, r := range book.Rules() {
		if r.On != "player" && (r.Do == rules.Refuse || r.Do == rules.Prefer) {
			n++
		}
	}
	lo, hi := f, f // any head for the same player
	spread(reflect.ValueOf(&lo.Head), reflect.ValueOf(&hi.Head))
	spread(reflect.ValueOf(&lo.Layer), reflect.ValueOf(&hi.Layer))
	for _, within := range []bool{false, true} {
		b.Run(fmt.Sprintf("within=%v", within), func(b *testing.B) {
			scorers := []*rules.Scorer[facts.Facts]{book.Scorer("head", nil), book.Scorer("layer", nil)}
			if within {
				for i, on := range []string{"head", "layer"} {
					_, scorers[i] = book.Bounder(on, nil).Within(&lo, &hi)
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				for _, s := range scorers {
					if _, refused := s.Score(&f); refused != nil {
						b.Fatal(refused.ID)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/rule")
		})
	}
}

// BenchmarkAsk is one head put to every rule, with each rule's readings.
func BenchmarkAsk(b *testing.B) {
	book, f := factstest.Book(b), typical()
	b.ReportAllocs()
	for b.Loop() {
		book.Ask("head", f, nil)
	}
}

func BenchmarkTemplate(b *testing.B) {
	book := factstest.Book(b)
	for b.Loop() {
		if _, err := book.Templates().New("cut {layer.cut_mm:in} of tubing"); err != nil {
			b.Fatal(err)
		}
	}
}
