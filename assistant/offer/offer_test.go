package offer_test

import (
	"math"
	"slices"
	"sync"
	"testing"

	"mallow/assistant/few"
	"mallow/assistant/offer"
	"mallow/assistant/settled"
	"mallow/assistant/shape"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

type shop struct {
	offers *offer.Offers
	ground *settled.Ground
}

// bench is a shop of few parts.
var bench = sync.OnceValues(func() (shop, error) {
	cat, err := few.Parts()
	if err != nil {
		return shop{}, err
	}
	book, err := facts.Book()
	if err != nil {
		return shop{}, err
	}
	finder, err := propose.New(cat, book)
	if err != nil {
		return shop{}, err
	}
	ground, err := settled.NewGround(cat)
	return shop{offer.New(cat, finder, 8), ground}, err
})

// medium is a medium head for two mallets on a marimba, of adults who may have
// latex.
func medium(t *testing.T) (*offer.Offers, settled.State, propose.Candidate) {
	t.Helper()
	x, err := bench()
	if err != nil {
		t.Fatal(err)
	}
	st := settled.New(x.ground)
	for path, v := range map[string]any{
		facts.InstrumentKind: "marimba", facts.PlayerGrip: "two", facts.WantSoftness: 0.0,
		facts.PlayerLatexOK: true, facts.PlayerRubberOK: true, facts.PlayerMinor: false, facts.PlayerSolventOK: false, facts.BenchSupervised: true, facts.BenchVentilated: false,
	} {
		if trouble := st.Answer(reading.Take{Path: path, Value: v, Sure: 1}); trouble != "" {
			t.Fatal(trouble)
		}
	}
	st.Settle()
	c, err := x.offers.Best(&st)
	if err != nil {
		t.Fatal(err)
	}
	return x.offers, st, c
}

// One thing is changed, and everything else is as it was.
func TestShaped(t *testing.T) {
	o, st, c := medium(t)
	if len(c.Stack.Slices) != 1 || c.Stack.Wrap == nil {
		t.Fatalf("the head is %s", c.Stack)
	}
	turns, ok := o.Shaped(&st, c, shape.Shape{Layers: -1, Turns: c.Head.Turns - 20})
	if !ok || turns.Refused != nil || turns.Head.Turns != c.Head.Turns-20 || turns.Stack.Core.ID != c.Stack.Core.ID || turns.Head.Mass >= c.Head.Mass {
		t.Errorf("fewer turns: %s of %s", turns.Stack, c.Stack)
	}
	two, ok := o.Shaped(&st, c, shape.Shape{Layers: 2, Turns: -1})
	if !ok || len(two.Stack.Slices) != 2 || two.Stack.Slices[0].Tube.ID != c.Stack.Slices[0].Tube.ID || two.Facts.Head.Softness <= c.Facts.Head.Softness {
		t.Errorf("two layers: %s of %s", two.Stack, c.Stack)
	}
	none, ok := o.Shaped(&st, c, shape.Shape{Turns: -1})
	if !ok || len(none.Stack.Slices) != 0 || none.Facts.Head.Softness >= c.Facts.Head.Softness {
		t.Errorf("no layers: %s", none.Stack)
	}
	if x, ok := o.Shaped(&st, c, shape.Shape{Layers: -1, Turns: -1, Core: 55 * measure.Millimetre}); ok {
		t.Errorf("a ball that nobody sells: %s", x.Stack)
	} else if len(x.Sizes) < 2 || !slices.IsSorted(x.Sizes) || slices.Contains(x.Sizes, 55*measure.Millimetre) {
		t.Errorf("in place of 55 mm there is %v, want the sizes of balls of %s", x.Sizes, c.Stack.Core.Material)
	}
}

// Where one thing alone is refused, what follows comes with the reason.
func TestFollows(t *testing.T) {
	o, st, c := medium(t)
	x, ok := o.Replaced(&st, c, []string{"latex-1-1/8x1/8"}) // as wide as the ball: slack
	if x.Refused == nil {
		t.Fatalf("a slack slice is fine: %s", x.Stack)
	}
	if ok && x.Candidate.Refused() != nil {
		t.Errorf("what followed is refused too: %s", x.Stack)
	}
}

// A head moves the way that was asked; a part that was asked for is in it.
func TestMoveAndWith(t *testing.T) {
	o, st, c := medium(t)
	soft := st.Clone()
	if trouble, ok := o.Move(&soft, []reading.Move{{Path: facts.WantSoftness, By: 1, Text: "softer"}}, nil); !ok {
		t.Fatal(trouble)
	}
	if x, err := o.Best(&soft); err != nil || x.Facts.Head.Softness <= c.Facts.Head.Softness+0.2 {
		t.Errorf("softer is %g after %g (%v)", x.Facts.Head.Softness, c.Facts.Head.Softness, err)
	}
	x, ok := o.With(&st, reading.Part{Kind: "yarn", IDs: []string{"acrylic-medium"}, Text: "acrylic"})
	if !ok || !offer.Contains(x.Stack, "acrylic-medium") {
		t.Errorf("with acrylic: %s", x.Stack)
	}
	first, ok := o.Choice(&st, 1)
	if !ok || first.Stack.String() != c.Stack.String() {
		t.Errorf("choice 1 is %s and the best %s", first.Stack, c.Stack)
	}
	if _, ok := o.Choice(&st, 99); ok {
		t.Error("there is a choice 99")
	}
	if math.Abs(c.Facts.Head.Softness) > 1.2 {
		t.Errorf("medium comes to %g notches", c.Facts.Head.Softness)
	}
}

// Before there is a head, light is a wish for one that is lighter than the best would be;
// a figure beside the word alone counts; and nothing is picked by hand.
func TestTakeBeforeAHead(t *testing.T) {
	o, st, c := medium(t)
	light := reading.Move{Path: facts.WantMassG, By: -1, Text: "light"}
	for _, tt := range []struct {
		in     reading.Reading
		least  float64
		most   float64
		budget bool
	}{
		{reading.Reading{Moves: []reading.Move{light}}, 0.85, 0.95, false},
		{reading.Reading{Moves: []reading.Move{light}, Takes: []reading.Take{{Path: facts.WantMassG, Value: 30.0}}}, 0, 0, false},
		{reading.Reading{Moves: []reading.Move{{Path: facts.WantBudgetCents, By: -1, Text: "cheap"}}}, 0, 0, true},
	} {
		to := st.Clone()
		if said, ok := o.Take(&to, tt.in, false); !ok || said != "" || to.Stack != "" {
			t.Errorf("%+v: %q, %v, %q", tt.in.Moves, said, ok, to.Stack)
		}
		w, was := &to.Facts.Want, c.Facts.Head
		if w.MassG < tt.least*was.MassG || w.MassG > tt.most*was.MassG {
			t.Errorf("%+v: %g g are wanted of %g", tt.in.Moves, w.MassG, was.MassG)
		}
		if tt.budget && (w.BudgetCents <= 0 || w.BudgetCents >= 2*was.CostCents) {
			t.Errorf("cheap: %g cents of %g", w.BudgetCents, 2*was.CostCents)
		}
	}
}

// Lighter and smaller go by what a head that somebody has weighs and measures, whatever
// is proposed.
func TestMoveOfOwn(t *testing.T) {
	o, st, _ := medium(t)
	st.Own = settled.Own{MassG: 20, MM: 38}
	for _, tt := range []struct {
		move  reading.Move
		keep  []string
		g, mm float64
	}{
		{reading.Move{Path: facts.WantMassG, By: -1, Text: "lighter"}, nil, 18, 0},
		{reading.Move{Path: facts.WantMassG, By: -3, Unit: "g", Text: "3 g lighter"}, nil, 17, 0},
		{reading.Move{Path: facts.WantDiameterMM, By: -2, Unit: "mm", Text: "2 mm smaller"}, []string{facts.WantMassG}, 20, 36},
	} {
		own := st.Clone()
		if said, ok := o.Move(&own, []reading.Move{tt.move}, tt.keep); !ok || said != "" {
			t.Errorf("%s: %q %v", tt.move.Text, said, ok)
		}
		w := &own.Facts.Want
		if math.Abs(w.MassG-tt.g) > 1e-9 && tt.g > 0 || math.Abs(w.DiameterMM-tt.mm) > 1e-9 && tt.mm > 0 {
			t.Errorf("%s: %g g and %g mm are wanted, not %g and %g", tt.move.Text, w.MassG, w.DiameterMM, tt.g, tt.mm)
		}
	}
	own := st.Clone()
	own.Answer(reading.Take{Path: facts.WantMassG, Value: 25.0, Bound: "least"})
	if o.Move(&own, []reading.Move{{Path: facts.WantMassG, By: -1, Text: "lighter"}}, nil); own.Facts.Want.LeastG > 0 {
		t.Errorf("%g g are wanted, and at least %g g still", own.Facts.Want.MassG, own.Facts.Want.LeastG)
	}
}
