package propose_test

import (
	"context"
	"testing"

	"mallow/knowledge"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

func finder(t testing.TB) *propose.Finder {
	t.Helper()
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	book, err := facts.Book()
	if err != nil {
		t.Fatal(err)
	}
	f, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// player is a plain request: two mallets on a marimba, latex allowed, and the
// patience of a conversation.
func player() propose.Request {
	q := propose.Request{Most: 20_000}
	q.Facts.Player = facts.Player{Grip: "two", Level: "some", LatexOK: true}
	q.Facts.Instrument.Kind = "marimba"
	q.Facts.Bench = facts.Bench{Drill: true, Scale: true, Caliper: true, Ventilated: true}
	return q
}

func TestPropose(t *testing.T) {
	f := finder(t)
	p, err := f.Propose(context.Background(), player())
	if err != nil {
		t.Fatal(err)
	}
	if p.Best.Refused() != nil || len(p.Pool) == 0 || len(p.Alternatives) < 2 {
		t.Errorf("best %s refused by %v; %d in the pool, %d alternatives", p.Best.Stack, p.Best.Refused(), len(p.Pool), len(p.Alternatives))
	}
	if off := p.Best.Facts.Head.Softness; off < -1 || off > 1 {
		t.Errorf("asked for medium, the best is %+.1f notches off", off)
	}
}
