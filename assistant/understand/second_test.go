package understand_test

import (
	"testing"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// What a line likely says in words that the list doesn't have is taken, and asked back:
// the network says so, of which these lines are none that it was taught.
func TestGuessed(t *testing.T) {
	r := newReader(t)
	before := r.Read("vibes, medium soft, 25 g, two mallets", understand.Context{})
	read := func(line, asked string) reading.Reading {
		return r.Read(line, understand.Context{Asked: asked, Before: before})
	}
	for _, asked := range []string{"", facts.PlayerGrip} { // whatever was asked
		got := read("more volume please the balcony cant hear", asked)
		if len(got.Moves) != 1 || got.Moves[0].Path != facts.WantLoudest || got.Moves[0].By <= 0 || len(got.Asks) != 1 {
			t.Errorf("asked %q: moves %v, asks %v", asked, got.Moves, got.Asks)
		}
		if got := read("scrub the budget thing", asked); len(got.Withdraws) != 1 || got.Withdraws[0] != facts.WantBudgetCents {
			t.Errorf("asked %q: withdraws %v", asked, got.Withdraws)
		}
	}
	if first := r.First().Read("more volume please the balcony cant hear", understand.Context{Before: before}); len(first.Moves) > 0 {
		t.Errorf("the word list has it by itself: %v; take another line", first.Moves)
	}
	for _, line := range []string{"the dog tends to bite a bit more in summer", "the volume of the box is two litres", "we scrub the bench every week"} {
		if got := read(line, ""); len(got.Moves)+len(got.Withdraws) > 0 {
			t.Errorf("%s: moves %v, withdraws %v", line, got.Moves, got.Withdraws)
		}
	}
}

// A note of a few words is taken as it stands where nobody can be asked back.
func TestNotes(t *testing.T) {
	r := newReader(t)
	got := r.Read("two notches softer, we are all adults, latex is fine", understand.Context{Head: true, Note: true})
	for _, f := range got.Harm {
		if f.Doubt {
			t.Errorf("%s = %v is in doubt", f.Path, f.Value)
		}
	}
	if len(got.Harm) != 2 || len(got.Moves) != 1 {
		t.Errorf("harm %v, moves %v", got.Harm, got.Moves)
	}
}
