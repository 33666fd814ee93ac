package change_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge/head"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

const wound = "nylon-1-1/8-drilled + 3/4x1/8 + wool-medium*120 + birch-15"

// woundHead is the head that is changed, and a finder.
func woundHead(t *testing.T) (*propose.Finder, head.Stack) {
	t.Helper()
	f := proposetest.Finder(t)
	from, err := head.Parse(f.Catalogue(), wound)
	if err != nil {
		t.Fatal(err)
	}
	return f, from
}

// A change keeps what was not asked to change; but not, only, at most and
// without are limits.
func TestChangesKeepTheRest(t *testing.T) {
	f, from := woundHead(t)
	q := proposetest.Player()
	was, err := f.Consider(from, q)
	if err != nil {
		t.Fatal(err)
	}
	b := was.Facts.Head
	latex := func(q *propose.Request) { q.Pin.Without = []string{"latex"} }
	yarn := func(c *change.Change) bool {
		return c.Head.Stack.Wrap != nil && c.Head.Stack.Wrap.Yarn.ID == "wool-medium"
	}
	for name, x := range map[string]struct {
		aim  change.Aim
		with func(*propose.Request)
		is   func(c *change.Change, h facts.Head) bool
	}{
		"softer is a step that is heard": {aim: change.Aim{Moves: []change.Move{{Way: "softer"}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.Softness-b.Softness >= 0.9 && h.Softness-b.Softness <= 2.2
		}},
		"softer but not heavier adds no gram": {aim: change.Aim{Moves: []change.Move{{Way: "softer"}}, Keep: []string{facts.WantMassG}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.Softness > b.Softness+0.8 && h.MassG <= b.MassG+0.05 && h.MassG >= 0.9*b.MassG
		}},
		"smaller keeps the yarn": {aim: change.Aim{Moves: []change.Move{{Way: "smaller"}}}, is: func(c *change.Change, h facts.Head) bool {
			return h.DiameterMM <= b.DiameterMM-2 && yarn(c) && math.Abs(h.Softness-b.Softness) <= 1
		}},
		"cheaper moves the softness by no more than a notch": {aim: change.Aim{Moves: []change.Move{{Way: "cheaper"}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.CostCents <= 0.9*b.CostCents && math.Abs(h.Softness-b.Softness) <= 1
		}},
		"darker works": {aim: change.Aim{Moves: []change.Move{{Way: "darker"}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.BrightDB < b.BrightDB-0.5 && math.Abs(h.Softness-b.Softness) <= 1
		}},
		"lighter keeps the ball": {aim: change.Aim{Moves: []change.Move{{Way: "lighter"}}}, is: func(c *change.Change, h facts.Head) bool {
			return h.MassG <= 0.9*b.MassG && c.Head.Stack.Core.ID == from.Core.ID
		}},
		"clearer leaves the bar sooner": {aim: change.Aim{Moves: []change.Move{{Way: "clearer"}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.ContactMS <= 0.9*b.ContactMS+1e-9
		}},
		"more blended stays longer, and no heavier": {aim: change.Aim{Moves: []change.Move{{Way: "more blended"}}, Keep: []string{facts.WantMassG}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.ContactMS >= 1.1*b.ContactMS-1e-9 && h.MassG <= b.MassG+0.05
		}},
		"steadier opens up less": {aim: change.Aim{Moves: []change.Move{{Way: "steadier"}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.OpensUp <= b.OpensUp-0.1+1e-9
		}},
		"only the yarn": {aim: change.Aim{Moves: []change.Move{{Way: "softer"}}, Only: []string{"yarn"}}, is: func(c *change.Change, _ facts.Head) bool {
			return c.Head.Stack.Core.ID == from.Core.ID && len(c.Head.Stack.Slices) == 1 && c.Head.Stack.Slices[0].Tube.ID == from.Slices[0].Tube.ID
		}},
		"with the same yarn": {aim: change.Aim{Moves: []change.Move{{Way: "harder"}}, Keep: []string{"yarn"}}, is: func(c *change.Change, h facts.Head) bool {
			return yarn(c) && h.Softness <= b.Softness-0.9
		}},
		"with the same core": {aim: change.Aim{Moves: []change.Move{{Way: "softer", By: 2}}, Keep: []string{"core"}}, is: func(c *change.Change, _ facts.Head) bool {
			return c.Head.Stack.Core.ID == from.Core.ID
		}},
		"softer, at most 24 g": {aim: change.Aim{Moves: []change.Move{{Way: "softer"}}, Limits: []change.Limit{{Fact: facts.WantMassG, Most: true, Value: 24}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.MassG <= 24
		}},
		"lighter, at least 20 g": {aim: change.Aim{Moves: []change.Move{{Way: "lighter"}}, Limits: []change.Limit{{Fact: facts.WantMassG, Value: 20}}}, is: func(_ *change.Change, h facts.Head) bool {
			return h.MassG >= 20
		}},
		"softer, without latex tubing": {aim: change.Aim{Moves: []change.Move{{Way: "softer"}}}, with: latex, is: func(_ *change.Change, h facts.Head) bool { return !h.Latex && h.Softness >= b.Softness+0.8 }},
		"without latex tubing":         {aim: change.Aim{Moves: []change.Move{{Way: "without"}}}, with: latex, is: func(_ *change.Change, h facts.Head) bool { return !h.Latex }},
		"no latex":                     {aim: change.Aim{Moves: []change.Move{{Way: "no latex"}}}, is: func(_ *change.Change, h facts.Head) bool { return !h.Latex && math.Abs(h.Softness-b.Softness) <= 1 }},
	} {
		t.Run(name, func(t *testing.T) {
			q := q
			if x.with != nil {
				x.with(&q)
			}
			c, err := change.Find(context.Background(), f, from, x.aim, q, 3)
			if err != nil {
				t.Fatal(err)
			}
			h := c.Head.Facts.Head
			if !x.is(&c, h) {
				t.Errorf("%v: %s, from %+.1f to %+.1f notches, %.1f to %.1f g, %.1f to %.1f mm, %.0f to %.0f cents, %.1f to %.1f dB", c.Edits, c.Stack,
					b.Softness, h.Softness, b.MassG, h.MassG, b.DiameterMM, h.DiameterMM, b.CostCents, h.CostCents, b.BrightDB, h.BrightDB)
			}
			if h.Turns == 0 || len(c.Edits) == 0 {
				t.Errorf("%v: %s", c.Edits, c.Stack)
			}
			for _, o := range c.Others {
				if o.Stack.String() == c.Stack {
					t.Errorf("%s stands twice", c.Stack)
				}
			}
		})
	}
}

// Several moves at once: each goes its way, or it is said that it does not; what is to stay does.
func TestSeveralMoves(t *testing.T) {
	f, from := woundHead(t)
	q := proposetest.Player()
	was, err := f.Consider(from, q)
	if err != nil {
		t.Fatal(err)
	}
	none := 0
	for i, list := range [][]string{
		{"smaller", "lighter"}, {"softer", "lighter"}, {"harder", "heavier"}, {"softer", "smaller"}, {"softer", "cheaper"},
		{"brighter", "clearer"}, {"larger", "lighter"}, {"harder", "larger", "heavier"}, {"smaller", "lighter", "cheaper"},
		{"softer", "quicker to wind"}, {"darker", "lighter"}, {"softer", "no latex"}, {"larger", "clearer"},
	} {
		var aim change.Aim
		for _, way := range list {
			aim.Moves = append(aim.Moves, change.Move{Way: way})
		}
		if i%3 == 2 {
			aim.Keep = []string{"core"}
		}
		c, err := change.Find(t.Context(), f, from, aim, q, 0)
		if e := (*change.Cannot)(nil); errors.As(err, &e) {
			none++
			t.Log(err)
			if e.Made == nil && e.Kept != nil && len(e.Short) == 0 {
				t.Errorf("%v: %s is all that was asked, and is not given", list, e.Kept.Stack)
			}
			if e.Kept == nil {
				continue
			}
			for _, m := range aim.Moves {
				one := change.Aim{Moves: []change.Move{m}}
				if made := !slices.Contains(e.Short, m); made && m.Fact() != "" && !one.Moved(was, *e.Kept) {
					t.Errorf("%v: %s is not said to be no %s", list, e.Kept.Stack, m)
				}
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range aim.Moves {
			one := change.Aim{Moves: []change.Move{m}}
			if m.Fact() != "" && !one.Moved(was, c.Head) || m.Way == change.NoLatex && c.Head.Facts.Head.Latex {
				t.Errorf("%v: %s is not %s", list, c.Stack, m)
			}
		}
		if len(aim.Keep) > 0 && c.Head.Stack.Core.ID != from.Core.ID {
			t.Errorf("%v with the same ball: %s", list, c.Stack)
		}
		t.Logf("%v: %s", list, c.Stack)
	}
	if none > 5 {
		t.Errorf("%d can't be had", none)
	}
}

// A change that can't be had says what stands in the way and what comes nearest,
// and the two do not contradict each other.
func TestChangesThatCannotBe(t *testing.T) {
	f, from := woundHead(t)
	q := proposetest.Player()
	for name, x := range map[string]struct {
		aim  change.Aim
		says string // what stands in the way; empty for nothing but the parts
	}{
		"brighter and as soft":          {change.Aim{Moves: []change.Move{{Way: "brighter"}}, Keep: []string{facts.WantSoftness}}, "softness"},
		"four softer, only the turns":   {change.Aim{Moves: []change.Move{{Way: "softer", By: 4}}, Only: []string{"none"}}, "the same"},
		"softer at 15 g, the ball kept": {change.Aim{Moves: []change.Move{{Way: "softer", By: 2}}, Keep: []string{"core"}, Limits: []change.Limit{{Fact: facts.WantMassG, Most: true, Value: 15}}}, "at most 15 g"},
		"softer and a third as heavy":   {change.Aim{Moves: []change.Move{{Way: "softer"}, {Way: "lighter", By: 17}}}, ""},
		"20 notches softer":             {change.Aim{Moves: []change.Move{{Way: "softer", By: 20}}}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := change.Find(context.Background(), f, from, x.aim, q, 3)
			var e *change.Cannot
			if !errors.As(err, &e) {
				t.Fatalf("%v", err)
			}
			if clash := (*propose.Clash)(nil); !errors.As(err, &clash) {
				t.Error("it is no clash of wishes")
			}
			if x.says == "" && len(e.Keeping) > 0 || x.says != "" && !slices.ContainsFunc(e.Keeping, func(s string) bool { return strings.Contains(s, x.says) }) {
				t.Errorf("what stands in the way: %q", e.Keeping)
			}
			if e.Kept == nil && e.Made == nil {
				t.Error("nothing is said to come near")
			}
			if (e.Made == nil) != (len(e.Keeping) == 0) {
				t.Errorf("%q stands in the way of %v", e.Keeping, e.Made)
			}
			t.Log(err)
		})
	}
}

// A head that was weighed keeps to limits by that weight, and a little lighter is a
// tenth of it.
func TestWeighed(t *testing.T) {
	aim := change.Aim{Moves: []change.Move{{Way: "lighter"}}, Limits: []change.Limit{{Fact: facts.WantMassG, Most: true, Value: 20}, {Fact: facts.WantDiameterMM, Most: true, Value: 36}}}
	q := propose.Request{}
	q.Facts.Want.LeastG = 18
	got, moved := change.Weighed(aim, q, 17.5, 22)
	if math.Abs(got.Moves[0].By-2.2) > 1e-9 || got.Limits[0].Value != 15.5 || got.Limits[1].Value != 36 || moved.Facts.Want.LeastG != 13.5 || moved.Facts.Want.MassG != 0 {
		t.Errorf("by %g, limits %v, least %g g, wanted %g g", got.Moves[0].By, got.Limits, moved.Facts.Want.LeastG, moved.Facts.Want.MassG)
	}
	if aim.Limits[0].Value != 20 {
		t.Errorf("the limit that was given is now %g", aim.Limits[0].Value)
	}
}
