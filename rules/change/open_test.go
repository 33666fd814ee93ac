package change

import (
	"testing"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose/proposetest"
)

// What an option costs at least never falls as more becomes known of it: else the
// look for the cheapest would stop before it has seen it.
func TestLeastCostIsNoMore(t *testing.T) {
	f := proposetest.Finder(t)
	from, err := head.Parse(f.Catalogue(), "nylon-1-1/8-drilled + 3/4x1/8 + wool-medium*120 + birch-15")
	if err != nil {
		t.Fatal(err)
	}
	for _, way := range Ways() {
		m := Move{Way: way}
		if way == Wound {
			m.By = 90
		}
		x, err := start(f, from, Aim{Moves: []Move{m}}, proposetest.Player())
		if err != nil {
			t.Fatal(err)
		}
		least, struck := map[int]float64{}, 0
		for len(x.open) > 0 {
			o := x.open.pop()
			if was, ok := least[o.at]; ok && o.least < was-1e-3 {
				t.Errorf("%s: option %d, %v, stage %d: at least %.4f cents, before %.4f", way, o.at, o.edited(x).Edits, o.stage, o.least, was)
			}
			least[o.at] = o.least
			switch {
			case o.stage == toUnfold:
				x.unfold(o.on)
			case o.at%10 != 0: // a tenth of them will do
			case o.stage == toBegin:
				x.begin(o)
			case o.stage == toStrike:
				if x.likely(o) {
					x.strike(o)
				}
			case o.stage == toJudge:
				struck++
				if p := new(*o.known); x.judge(p) {
					o.stage, o.least = toTake, p.total
					x.open.push(o)
				}
			}
		}
		if struck == 0 && way != "without" && way != Wound && m.Fact() != facts.HeadCoreA { // of so many turns there is one head, and a ball of nylon has no other hardness
			t.Errorf("%s: no option was struck", way)
		}
	}
}
