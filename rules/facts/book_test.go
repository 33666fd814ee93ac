package facts_test

import (
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
)

func TestBookLoads(t *testing.T) {
	book, err := facts.Book()
	if err != nil {
		t.Fatal(err)
	}
	t.Log(len(book.Rules()), "rules")
	if ps := book.Examples(); len(ps) > 0 {
		t.Error(ps)
	}
}

func TestAsk(t *testing.T) {
	book, err := facts.Book()
	if err != nil {
		t.Fatal(err)
	}
	var f facts.Facts
	f.Head.MassG, f.Player.EasyG, f.Player.MostG, f.Player.Mallets = 41.23, 36, 45, 4
	rules.Explain(t.Output(), book.Ask("head", f, nil), true)
	f.Layer = facts.Layer{Verdict: "slack", Index: 1, BoreMM: 28.6, UnderMM: 28.575, Stretch: 1}
	rules.Explain(t.Output(), book.Ask("layer", f, nil), true)
	t.Log(book.Open("head", f, rules.Known{"head.mass_g": true, "player.easy_g": true}))
}

func BenchmarkBook(b *testing.B) {
	for b.Loop() {
		if _, err := facts.Book(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTemplate(b *testing.B) {
	book, err := facts.Book()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := book.Templates().New("cut {layer.cut_mm:in} of tubing"); err != nil {
			b.Fatal(err)
		}
	}
}
