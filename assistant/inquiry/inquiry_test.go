package inquiry

import (
	"math"
	"testing"

	"mallow/assistant/few"
	"mallow/assistant/offer"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/propose"
)

// asked returns an asker over a few parts, and the state that answers to the
// facts lead to.
func asked(t *testing.T, answers ...reading.Take) (*Asker, *settled.State) {
	t.Helper()
	cat, err := few.Parts()
	if err != nil {
		t.Fatal(err)
	}
	book := factstest.Book(t)
	finder, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	ground, err := settled.NewGround(cat)
	if err != nil {
		t.Fatal(err)
	}
	st := settled.New(ground)
	for _, a := range answers {
		if trouble := st.Answer(a); trouble != "" {
			t.Fatal(trouble)
		}
	}
	st.Settle()
	return New(cat, book, finder, offer.New(cat, finder, 8)), &st
}

// A question is worth asking just when some answer would change the head.
func TestWorth(t *testing.T) {
	a, st := asked(t, reading.Take{Path: "instrument.kind", Value: "marimba"})
	pool := a.pool(st)
	soft, _ := a.cat.Question("want.softness")
	if w := a.worth(st, soft, pool); w.bits <= 0 || w.bits > math.Log2(float64(len(soft.Choices)))+1e-9 {
		t.Errorf("softness is worth %.2f bits, of at most %.2f", w.bits, math.Log2(float64(len(soft.Choices))))
	}
	scale, _ := a.cat.Question("bench.scale") // on the sheet only
	if w := a.worth(st, scale, pool); w.bits != 0 {
		t.Errorf("a scale is worth %.2f bits", w.bits)
	}
	one := soft
	one.Choices = soft.Choices[:1]
	if w := a.worth(st, one, pool); w.bits != 0 {
		t.Errorf("a question with one answer is worth %.2f bits", w.bits)
	}
}

// When nothing is asked any more, no answer to an open question that would be
// asked changes the head.
func TestStops(t *testing.T) {
	a, st := asked(t,
		reading.Take{Path: "instrument.kind", Value: "marimba"}, reading.Take{Path: "player.grip", Value: "two"},
		reading.Take{Path: "want.softness", Value: 0.0}, reading.Take{Path: "player.minor", Value: false},
		reading.Take{Path: "player.latex_ok", Value: true}, reading.Take{Path: "player.solvent_ok", Value: false})
	for range 30 {
		q, ok := a.Next(st, false)
		if !ok {
			break
		}
		if err := facts.Parse(&st.Facts, q.ID, a.Enter(st, q)); err != nil {
			t.Fatal(err)
		}
		st.Note(q.ID, q.ID)
		st.Settle()
	}
	if q, ok := a.Next(st, false); ok {
		t.Fatalf("%s is still asked after 30 answers", q.ID)
	}
	pool := a.pool(st)
	if len(pool) == 0 {
		t.Fatal("no head is in play")
	}
	for _, q := range a.cat.Questions {
		if st.Known[q.ID] || !a.Arises(st, q.ID) || q.Default == "" {
			continue
		}
		if w := a.worth(st, q, pool); w.bits > 1e-9 {
			t.Errorf("%s was not asked, though worth %.2f bits", q.ID, w.bits)
		}
	}
}
