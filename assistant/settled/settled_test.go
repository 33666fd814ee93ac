package settled_test

import (
	"slices"
	"testing"

	"mallow/assistant/settled"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/gate"
)

func begin(t *testing.T) settled.State {
	t.Helper()
	g, err := settled.NewGround(knowledgetest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	return settled.New(g)
}

func answer(t *testing.T, st *settled.State, path string, v any) {
	t.Helper()
	if trouble := st.Answer(reading.Take{Path: path, Value: v, Sure: 1}); trouble != "" {
		t.Fatalf("%s %v: %s", path, v, trouble)
	}
}

// What is answered reads as people say it, in order, and no fact's path or
// cents stand in it.
func TestAnswers(t *testing.T) {
	st := begin(t)
	answer(t, &st, facts.InstrumentKind, "marimba")
	answer(t, &st, facts.PlayerGrip, "cross")
	answer(t, &st, facts.WantSoftness, 2.6)
	answer(t, &st, "class.size", 30.0)
	answer(t, &st, "want.total_budget", 30000.0)
	answer(t, &st, "want.pairs", 15.0)
	st.Settle()
	want := []string{"marimba", "four in a cross grip", "soft", "30 students", "at most 300.00 in all", "15 sets"}
	if got := st.Answers(); !slices.Equal(got, want) {
		t.Errorf("said: %q, want %q", got, want)
	}
	if st.Heads() != 4 || st.Sets() != 15 || st.Facts.Want.BudgetCents != 2000 {
		t.Errorf("%d heads, %d sets, %g for each", st.Heads(), st.Sets(), st.Facts.Want.BudgetCents)
	}
	st.Among(2)
	if st.Facts.Want.BudgetCents != 1000 {
		t.Errorf("of two kinds each may cost %g", st.Facts.Want.BudgetCents)
	}
}

// A limit of one's own is not touched by a total.
func TestOwnLimit(t *testing.T) {
	st := begin(t)
	answer(t, &st, facts.WantBudgetCents, 1500.0)
	answer(t, &st, "want.total_budget", 30000.0)
	if st.Facts.Want.BudgetCents != 1500 {
		t.Errorf("a pair may cost %g", st.Facts.Want.BudgetCents)
	}
}

// Another instrument takes what followed from the first with it.
func TestInstrumentChanges(t *testing.T) {
	st := begin(t)
	answer(t, &st, "instrument.id", "marimba-5")
	if st.Facts.Instrument.LowHz == 0 {
		t.Fatal("a five-octave marimba has no lowest note")
	}
	answer(t, &st, facts.InstrumentKind, "bells")
	if st.Instrument != "" || st.Facts.Instrument.LowHz != 0 || st.Known[facts.InstrumentLowHz] {
		t.Errorf("the marimba's notes stay: %+v", st.Facts.Instrument)
	}
}

// One word less of three leaves the others to everybody.
func TestNotLeavesTheWords(t *testing.T) {
	for range 3 {
		st := begin(t)
		st.Answer(reading.Take{Path: facts.PlayerLevel, Value: "some", Not: true, Text: "some"})
		answer(t, &st, facts.PlayerLevel, "some")
	}
}

// A careful answer stays, whatever is said, until that was asked and affirmed.
func TestCareful(t *testing.T) {
	st := begin(t)
	if h := st.Hear([]harm.Fact{{Path: gate.LatexOK, Value: false}}, ""); len(h.Noted) == 0 || !st.Holds(gate.LatexOK) {
		t.Fatalf("not held: %+v", h)
	}
	back := harm.Fact{Path: gate.LatexOK, Value: true}
	if h := st.Hear([]harm.Fact{back}, ""); len(h.Back) != 1 || st.Facts.Player.LatexOK {
		t.Errorf("undone in passing: %+v", h)
	}
	at := begin(t)
	if stays := at.Keep(st); len(stays) != 1 || at.Facts.Player.LatexOK {
		t.Errorf("a new start forgets it: %v", stays)
	}
	st.TakeBack(back)
	if !st.Facts.Player.LatexOK {
		t.Error("it can't be taken back")
	}
}

// What stands in the way may be given up; what keeps somebody from harm never.
func TestGiveUp(t *testing.T) {
	st := begin(t)
	answer(t, &st, facts.WantBudgetCents, 100.0)
	if !st.GiveUp(facts.WantBudgetCents) || st.Facts.Want.BudgetCents != 0 || st.Known[facts.WantBudgetCents] {
		t.Errorf("the budget stays: %+v", st.Facts.Want)
	}
	for _, path := range gate.Paths() {
		if st.GiveUp(path) {
			t.Errorf("%s was given up", path)
		}
	}
	if st.GiveUp(facts.BenchDrill) {
		t.Error("a drill came from nowhere")
	}
}

// A young maker gets no solvent, whatever else was said.
func TestMinor(t *testing.T) {
	st := begin(t)
	answer(t, &st, facts.PlayerSolventOK, true)
	answer(t, &st, facts.PlayerMinor, true)
	if notes := st.Settle(); st.Facts.Player.SolventOK || len(notes) == 0 {
		t.Errorf("solvent for a child: %v", notes)
	}
}

// Two limits said in one line are both kept; a wish between them stays where it is,
// and one below a floor is given up.
func TestTwoLimits(t *testing.T) {
	for _, tt := range []struct {
		name        string
		say         []reading.Take
		want, least float64
	}{
		{"at least 27, at most 33", []reading.Take{{Path: facts.WantMassG, Value: 27.0, Bound: "least"}, {Path: facts.WantMassG, Value: 33.0, Bound: "most"}}, 0, 27},
		{"26, plus or minus 2", []reading.Take{{Path: facts.WantMassG, Value: 26.0, Bound: "about"}, {Path: facts.WantMassG, Value: 24.0, Bound: "least"}, {Path: facts.WantMassG, Value: 28.0, Bound: "most"}}, 26, 24},
		{"at least 27", []reading.Take{{Path: facts.WantMassG, Value: 27.0, Bound: "least"}}, 0, 27},
		{"22, then at least 27", []reading.Take{{Path: facts.WantMassG, Value: 22.0}, {Path: facts.WantMassG, Value: 27.0, Bound: "least"}}, 0, 27},
	} {
		st := begin(t)
		most := 0.0
		for _, a := range settled.LimitsFirst(tt.say) {
			if trouble := st.Answer(a); trouble != "" {
				t.Fatalf("%s: %s", tt.name, trouble)
			}
			if a.Bound == "most" {
				most, _ = a.Value.(float64)
			}
		}
		if st.Facts.Want.LeastG != tt.least {
			t.Errorf("%s: at least %g g; want %g", tt.name, st.Facts.Want.LeastG, tt.least)
		}
		if st.Facts.Want.MassG != tt.want || most > 0 && (st.Facts.Player.MostG != most || !st.Known[facts.PlayerMostG]) {
			t.Errorf("%s: %g g is wished for, at most %g; want %g, at most %g", tt.name, st.Facts.Want.MassG, st.Facts.Player.MostG, tt.want, most)
		}
	}
}

// What a line only touches on is asked once, and not at all once a maker said to
// be of age; plain evidence opens it again.
func TestTouchedOnce(t *testing.T) {
	st := begin(t)
	faint := harm.Fact{Path: gate.Minor, Value: true, Doubt: true, Faint: true}
	if h := st.Hear([]harm.Fact{faint}, ""); len(h.Open) != 1 {
		t.Fatalf("not asked: %+v", h)
	}
	if h := st.Hear([]harm.Fact{faint}, ""); h.Did() {
		t.Errorf("asked again: %+v", h)
	}
	st = begin(t)
	st.Hear([]harm.Fact{{Path: gate.Minor}}, "")
	if h := st.Hear([]harm.Fact{faint}, ""); h.Did() || st.Facts.Player.Minor {
		t.Errorf("an adult is asked again for a word in passing: %+v", h)
	}
	if h := st.Hear([]harm.Fact{{Path: gate.Minor, Value: true}}, ""); len(h.Noted) != 1 || !st.Facts.Player.Minor {
		t.Errorf("plain evidence is not taken: %+v", h)
	}
}

// What is taken back is as though nobody had said it: its limits and what
// followed from it go too.
func TestUnsay(t *testing.T) {
	st := begin(t)
	fresh := st.Clone()
	answer(t, &st, facts.WantBudgetCents, 1500.0)
	answer(t, &st, facts.WantSoftness, 3.0)
	st.Answer(reading.Take{Path: facts.WantMassG, Value: 24.0, Bound: "most"})
	answer(t, &st, "want.pairs", 4.0)
	answer(t, &st, "want.total_budget", 30000.0)
	for _, path := range []string{facts.WantBudgetCents, facts.WantSoftness, facts.WantMassG, "want.pairs", "want.total_budget"} {
		if words := st.Unsay(path); words == "" {
			t.Errorf("%s: nothing is said to be taken back", path)
		}
		if words := st.Unsay(path); words != "" {
			t.Errorf("%s is taken back twice: %s", path, words)
		}
	}
	if st.Facts != fresh.Facts || st.Sets() != fresh.Sets() || len(st.Answers()) > 0 {
		t.Errorf("something stays: %+v, %v; not %+v", st.Facts.Want, st.Answers(), fresh.Facts.Want)
	}
}

// Bars and both ends tell the instrument where one kind alone has them, and it is said.
func TestByRange(t *testing.T) {
	for _, tt := range []struct {
		bars      string
		low, high float64
		kind      string
	}{
		{"metal", 784, 4186, "bells"},
		{"metal", 175, 1397, "vibraphone"},
		{"wood", 349, 4186, "xylophone"},
		{"metal", 784, 2093, ""},
	} {
		st := begin(t)
		answer(t, &st, facts.InstrumentBars, tt.bars)
		answer(t, &st, facts.InstrumentLowHz, tt.low)
		answer(t, &st, facts.InstrumentHighHz, tt.high)
		notes := st.Settle()
		if st.Known[facts.InstrumentKind] != (tt.kind != "") || tt.kind != "" && (st.Facts.Instrument.Kind != tt.kind || len(notes) != 1) {
			t.Errorf("%s from %g to %g Hz: %s, %q", tt.bars, tt.low, tt.high, st.Facts.Instrument.Kind, notes)
		}
	}
}

// A budget of its own that is taken back leaves a set its share of the total; a kind
// of instrument that is changed leaves nothing of the one before; and of a grip
// that is taken back the number of mallets goes too.
func TestForget(t *testing.T) {
	st := begin(t)
	answer(t, &st, "want.total_budget", 6000.0)
	answer(t, &st, "want.pairs", 3.0)
	answer(t, &st, facts.WantBudgetCents, 1500.0)
	if st.Unsay(facts.WantBudgetCents); st.Facts.Want.BudgetCents != 2000 {
		t.Errorf("of 60 for three sets, %.0f cents for one", st.Facts.Want.BudgetCents)
	}
	for _, kind := range []string{"marimba", "xylophone"} {
		answer(t, &st, facts.InstrumentKind, kind)
		answer(t, &st, facts.InstrumentLowHz, 262.0)
	}
	if list := st.Answers(); len(list) != 4 {
		t.Errorf("said: %q", list)
	}
	answer(t, &st, facts.PlayerGrip, "cross")
	st.Settle()
	if st.Unsay(facts.PlayerGrip); st.Facts.Player != st.Ground.Facts.Player || st.Known[facts.PlayerMallets] {
		t.Errorf("of a grip that was taken back: %+v", st.Facts.Player)
	}
}
