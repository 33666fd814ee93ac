package several_test

import (
	"testing"

	"mallow/assistant/settled"
	"mallow/assistant/several"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/knowledgetest"
)

func begin(t *testing.T) (settled.State, func(line string) reading.Reading) {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	g, err := settled.NewGround(cat)
	if err != nil {
		t.Fatal(err)
	}
	r, err := understand.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	return settled.New(g), func(line string) reading.Reading { return r.Read(line, understand.Context{}) }
}

// What is said of one head goes to it, and what is said once goes to all.
func TestApart(t *testing.T) {
	for _, tt := range []struct{ line, first, later string }{
		{"medium for the marimba and hard ones for the xylophone", "a medium head for marimba", "a hard head for xylophone"},
		{"a soft pair for marimba and a hard pair for vibes", "a soft head for marimba", "a hard head for vibraphone"},
		{"two pairs, one soft one hard, for marimba", "a soft head for marimba", "a hard head for marimba"},
		{"marimba and vibraphone, medium", "a medium head for marimba", "a medium head for vibraphone"},
		{"I need mallets for marimba, vibraphone and bells", "a head for marimba", "a head for vibraphone, then a head for bells"},
		{"I need one for the low end and one for the top", "a head, the low end", "a head, the high end"},
		{"a soft head for marimba", "a soft head for marimba", ""},
		{"mine dark and my friend wants bright, marimba", "a head for marimba, dark", "a head for marimba, bright"},
		{"soft for me and hard for my wife, vibes", "a soft head for vibraphone", "a hard head for vibraphone"},
	} {
		st, read := begin(t)
		first, later := several.Apart(&st, read(tt.line))
		for _, a := range first.Takes {
			st.Answer(a)
		}
		if got := several.Name(&st); got != tt.first {
			t.Errorf("%q begins with %s, want %s", tt.line, got, tt.first)
		}
		if got := several.Names(later); got != tt.later {
			t.Errorf("%q goes on with %q, want %q", tt.line, got, tt.later)
		}
	}
}

// One more beside the one at hand is another head; a correction is not.
func TestFurther(t *testing.T) {
	for line, want := range map[string]bool{
		"another one for vibraphone too, soft":  true,
		"also a hard one for bells":             true,
		"another pair, softer, for the low end": true,
		"vibraphone":                            false,
		"no, vibes":                             false,
		"soft":                                  false,
		"soft too":                              false,
	} {
		st, read := begin(t)
		for _, a := range read("marimba, medium").Takes {
			st.Answer(a)
		}
		if got := several.Further(&st, read(line), line); got != want {
			t.Errorf("%q asks for a further head: %v", line, got)
		}
	}
}

// What is said later of a head that waits is kept with it.
func TestAdd(t *testing.T) {
	st, read := begin(t)
	list := several.Add(&st, nil, several.New(&st, read("for xylophone").Takes))
	list = several.Add(&st, list, several.New(&st, read("hard ones for the xylophone").Takes))
	if got := several.Names(list); got != "a hard head for xylophone" {
		t.Errorf("kept: %s", got)
	}
	list = several.Add(&st, list, several.New(&st, read("another one for vibraphone too, soft").Takes))
	if got := several.Names(list); got != "a hard head for xylophone, then a soft head for vibraphone" {
		t.Errorf("kept: %s", got)
	}
}

// A further head keeps who makes it and what all of it may cost.
func TestAfter(t *testing.T) {
	st, read := begin(t)
	for _, a := range read("four mallets cross grip on marimba, dark, 10 pairs, total budget 200").Takes {
		st.Answer(a)
	}
	st.Settle()
	st.Among(2)
	at := several.After(&st, read("xylophone").Takes)
	f := at.Facts
	if f.Player.Grip != "cross" || f.Want.Colour != "" || f.Instrument.Kind != "xylophone" || at.Sets() != 10 || f.Want.BudgetCents != 1000 {
		t.Errorf("%+v; %d sets", f, at.Sets())
	}
	if _, said := at.Said("want.colour"); said {
		t.Error("the colour of the head before stays")
	}
}
