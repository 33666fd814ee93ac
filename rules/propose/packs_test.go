package propose_test

import (
	"math"
	"testing"

	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// For a first set a dearer pack counts, though a share of it costs the same; whoever
// has made many sets uses up the rest.
func TestPacksOfAFirstSet(t *testing.T) {
	f := proposetest.Finder(t)
	cat := *f.Catalogue()
	for level, most := range map[string]float64{"first": 0.3, "many": 1e-9} {
		q := propose.Request{Known: rules.Known{facts.PlayerLevel: true}}
		q.Facts.Player.Level = level
		score := func(packs float64) float64 {
			st, err := head.Parse(&cat, "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16")
			if err != nil {
				t.Fatal(err)
			}
			c, err := f.Consider(st, q)
			if err != nil {
				t.Fatal(err)
			}
			c.Facts.Head.PackCents += packs
			x, _ := f.Judging(q).Again(&c)
			return x
		}
		lost := score(0) - score(2000)
		if level == "first" && lost < most || level == "many" && math.Abs(lost) > most {
			t.Errorf("%s: a pack of 20 more costs %g points", level, lost)
		}
	}
}
