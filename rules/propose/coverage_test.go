package propose_test

import (
	"math/rand/v2"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// drawRequest draws a player, a bench and wishes.
func drawRequest(rng *rand.Rand, book func(*rand.Rand) facts.Facts) propose.Request {
	f := book(rng)
	f.Head, f.Layer = facts.Head{}, facts.Layer{}
	f.Player = facts.Player{
		Grip: f.Player.Grip, Level: f.Player.Level,
	}
	pass := gate.Settle(gate.Stated{}).But(gate.Minor, rng.IntN(4) == 0).But(gate.LatexOK, rng.IntN(5) > 0).But(gate.SolventOK, rng.IntN(4) == 0).
		But(gate.Supervised, f.Bench.Supervised).But(gate.Ventilated, f.Bench.Ventilated).But(gate.RubberOK, rng.IntN(5) > 0)
	f.Want.Softness = float64(rng.IntN(25) - 16)
	f.Want.MassG, f.Want.DiameterMM = 0, 0
	f.Want.BudgetCents = float64(rng.IntN(4) * 1000)
	f.Instrument = facts.Instrument{Kind: f.Instrument.Kind}
	return propose.Request{Facts: f, Pass: pass}
}

// drawStack draws parts without asking whether they fit.
func drawStack(rng *rand.Rand, cat *knowledge.Catalogue) head.Stack {
	pick := func(n int) int { return rng.IntN(n) }
	core := cat.Cores[pick(len(cat.Cores))]
	material, _ := cat.Material(core.Material)
	s := head.Stack{Core: core, Material: material}
	for under := core.Diameter; rng.IntN(3) > 0 && len(s.Slices) < 4; {
		tube := cat.Tubing[pick(len(cat.Tubing))]
		if rng.IntN(4) > 0 && (tube.Bore > under || tube.Bore < under/2) {
			continue // most people know better
		}
		rubber, _ := cat.Material(tube.Material)
		s.Slices = append(s.Slices, head.Slice{Tube: tube, Rubber: rubber})
		under += tube.Wall * 3 / 2
	}
	if rng.IntN(5) > 0 {
		yarn := cat.Yarns[pick(len(cat.Yarns))]
		fibre, _ := cat.Material(yarn.Fibre)
		turns := []int{yarn.Wraps.Light, yarn.Wraps.Plain, yarn.Wraps.Full}[pick(3)]
		s.Wrap = &head.Wrap{Yarn: yarn, Fibre: fibre, Turns: turns}
	}
	if rng.IntN(8) > 0 {
		shaft := cat.Shafts[pick(len(cat.Shafts))]
		s.Shaft = &shaft
	}
	return s
}

// TestBookMeetsHeads puts heads of real parts to the book: nearly every rule
// must be met by some.
func TestBookMeetsHeads(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	book := factstest.Book(t)
	finder, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	cover := book.Coverage(800, func(rng *rand.Rand) facts.Facts {
		c, err := finder.Consider(drawStack(rng, cat), drawRequest(rng, book.Draw))
		if err != nil {
			t.Fatal(err)
		}
		if n := len(c.Layers); n > 0 {
			c.Facts.Layer = c.Layers[rng.IntN(n)]
		}
		return c.Facts
	})
	quiet := cover.Quiet()
	t.Logf("over %d heads %d of %d rules fired; never: %v", cover.Sets, len(cover.Counts)-len(quiet), len(cover.Counts), quiet)
	if len(quiet)*10 > len(cover.Counts) {
		t.Errorf("%d of %d rules were met by no head: %v", len(quiet), len(cover.Counts), quiet)
	}
}
