package propose_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/advise"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search"
	"mallow/rules/stock"
)

// TestPractice holds proposals against what makers do. Common practice, no
// source.
func TestPractice(t *testing.T) {
	f := proposetest.Finder(t)
	asked := rules.Known{"want.softness": true}
	tests := []struct {
		name string
		ask  func(*propose.Request)
		nod  func(h facts.Head) string // what a maker would object to; empty when he nods
	}{
		{"medium on a marimba: one layer of about 1/8 in over a plastic ball of about 1 1/8 in, and yarn",
			func(q *propose.Request) { q.Known = asked },
			func(h facts.Head) string {
				return cond(
					h.Layers == 1, "one layer",
					h.RubberMM > 2 && h.RubberMM < 5, "a wall near 1/8 in",
					h.Core == "plastic" && h.CoreMM > 24 && h.CoreMM < 32, "a plastic ball near 1 1/8 in",
					h.Turns > 0, "yarn",
					h.MassG > 18 && h.MassG < 36, "20 to 35 g")
			}},
		{"very soft for the low end: more rubber, heavy and large",
			func(q *propose.Request) {
				q.Facts.Want.Softness, q.Facts.Want.Register, q.Known = 4, "low", asked
			},
			func(h facts.Head) string {
				return cond(h.RubberMM >= 5 || h.Core == "rubber", "thick rubber", h.MassG >= 24, "mass", h.DiameterMM >= 36, "size", h.Turns > 0, "yarn")
			}},
		{"nobody who avoids latex gets it",
			func(q *propose.Request) { q.Pass = q.Pass.But(gate.LatexOK, false) },
			func(h facts.Head) string { return cond(!h.Latex, "no latex") }},
		{"a first set has no more than two layers and no hard pull",
			func(q *propose.Request) {
				q.Facts.Player.Level, q.Facts.Want.Softness, q.Known = "first", 2.4, asked
			},
			func(h facts.Head) string {
				return cond(h.Layers <= 2, "two layers at most", h.HandN <= 75, "an easy pull")
			}},
		{"four mallets stay light and small",
			func(q *propose.Request) { q.Facts.Player.Grip = "cross" },
			func(h facts.Head) string { return cond(h.MassG <= 36, "36 g", h.DiameterMM <= 48, "48 mm") }},
		{"a xylophone takes a hard head without a thick wrap",
			func(q *propose.Request) { q.Facts.Instrument.Kind = "xylophone" },
			func(h facts.Head) string {
				return cond(h.Softness <= 3, "hard, from its own medium", h.YarnMM <= 1.5, "little yarn")
			}},
		{"bells take a bare hard ball, or nearly so",
			func(q *propose.Request) { q.Facts.Instrument.Kind = "bells" },
			func(h facts.Head) string {
				return cond(h.Softness <= 3, "hard, from their own medium", h.Turns == 0, "no yarn", h.DiameterMM < 32, "small")
			}},
		{"a vibraphone takes cord",
			func(q *propose.Request) { q.Facts.Instrument.Kind = "vibraphone" },
			func(h facts.Head) string {
				return cond(h.Fibre != "" && !strings.HasPrefix(h.Fibre, "wool"), "cord, not wool")
			}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q := proposetest.Player()
			tt.ask(&q)
			p, err := search.Propose(context.Background(), f, q)
			if err != nil {
				t.Fatal(err)
			}
			if r := p.Best.Refused(); r != nil {
				t.Errorf("%s is refused by %s", p.Best.Stack, r.Rule.ID)
			}
			if missing := tt.nod(p.Best.Facts.Head); missing != "" {
				t.Errorf("%s (%.1f notches, %.1f g, %.1f mm): a maker misses %s", p.Best.Stack, p.Best.Facts.Head.Softness, p.Best.Facts.Head.MassG, p.Best.Facts.Head.DiameterMM, missing)
			}
			if q.Known["want.softness"] {
				if off := math.Abs(p.Best.Facts.Head.Softness - q.Facts.Want.Softness); off > 1 {
					t.Errorf("%s is %.1f notches off what was asked for", p.Best.Stack, off)
				}
			}
		})
	}
}

// cond takes pairs of a condition and what it says, and lists what does not
// hold.
func cond(pairs ...any) string {
	var missing []string
	for i := 0; i < len(pairs); i += 2 {
		if !pairs[i].(bool) {
			missing = append(missing, pairs[i+1].(string))
		}
	}
	return strings.Join(missing, ", ")
}

// TestAlternatives checks that each alternative is of the kind it says, that
// no rule refuses it, and that the same question has the same answer.
func TestAlternatives(t *testing.T) {
	f := proposetest.Finder(t)
	var texts [2]string
	for i := range texts {
		p, err := search.Propose(context.Background(), f, proposetest.Player())
		if err != nil {
			t.Fatal(err)
		}
		texts[i] = p.Best.Stack.String()
		b := p.Best.Facts.Head
		seen := map[string]bool{texts[i]: true}
		for _, a := range p.Alternatives {
			h := a.Facts.Head
			ok := map[string]bool{
				"softer": h.Softness > b.Softness, "harder": h.Softness < b.Softness, "lighter": h.MassG < b.MassG, "smaller": h.DiameterMM < b.DiameterMM,
				"cheaper": h.CostCents < b.CostCents, "other core": h.Core != b.Core, "fewer layers": h.Layers < b.Layers, "no latex": !h.Latex,
			}[a.Kind]
			if !ok || a.Refused() != nil || len(a.Trades) == 0 || seen[a.Stack.String()] {
				t.Errorf("%s is not %s than %s, or stands twice; trades %v", a.Stack, a.Kind, p.Best.Stack, a.Trades)
			}
			seen[a.Stack.String()] = true
			texts[i] += "\n" + a.Kind + " " + a.Stack.String()
		}
		for _, c := range p.Pool {
			texts[i] += "\n" + c.Stack.String()
		}
		grades := map[int]bool{}
		for _, c := range p.Pool {
			grades[int(math.Floor(c.Facts.Head.Softness/2))] = true
		}
		if len(grades) < 6 {
			t.Errorf("the pool spans only %d bands of softness", len(grades))
		}
	}
	if d := cmp.Diff(texts[0], texts[1]); d != "" {
		t.Errorf("asked twice, answered in two ways:\n%s", d)
	}
}

func TestClash(t *testing.T) {
	f := proposetest.Finder(t)
	ask := func(change func(*propose.Request)) *propose.Clash {
		t.Helper()
		q := proposetest.Player()
		change(&q)
		_, err := search.Propose(context.Background(), f, q)
		var c *propose.Clash
		if !errors.As(err, &c) {
			t.Fatalf("not a clash: %v", err)
		}
		t.Log(c)
		return c
	}
	c := ask(func(q *propose.Request) {
		q.Facts.Want.Softness, q.Known = 40, rules.Known{"want.softness": true}
		q.Pin = propose.Pin{Core: "poly-1", Tubing: []string{"latex-3/4x1/8"}}
	})
	if len(c.Asked) != 1 || c.Asked[0].Fact != "want.softness" || len(c.Nearest) != 1 || c.Nearest[0].Facts.Head.Softness > 40 {
		t.Errorf("a softness out of reach: %+v", c.Asked)
	}
	c = ask(func(q *propose.Request) {
		q.Facts.Want.Softness, q.Known = 40, rules.Known{"want.softness": true}
	})
	if len(c.Asked) != 1 || c.Asked[0].Fact != "want.softness" || c.Open || len(c.Nearest) != 1 || c.Nearest[0].Facts.Head.Softness < 6 {
		t.Errorf("a softness out of reach of all parts: %+v, open %v", c.Asked, c.Open)
	}
	c = ask(func(q *propose.Request) {
		q.Pass = q.Pass.But(gate.LatexOK, false)
		q.Pin.Tubing = []string{"latex-3/4x1/8"}
	})
	if len(c.Asked) != 2 || c.Asked[0].Fact != "pin.tubing" || c.Asked[1].Fact != "player.latex_ok" || !c.Asked[1].Firm {
		t.Errorf("latex tubing without latex: %+v", c.Asked)
	}
	for _, n := range c.Nearest {
		if n.Facts.Head.Latex {
			t.Errorf("nearest %s holds latex, which somebody has to avoid", n.Stack)
		}
	}
	c = ask(func(q *propose.Request) { q.Facts.Player.MostG = 1 })
	if len(c.Asked) != 1 || c.Asked[0].Fact != "player.most_g" || len(c.Nearest) == 0 {
		t.Errorf("a grip that carries 1 g: %+v", c.Asked)
	}
	c = ask(func(q *propose.Request) {
		q.Pin.Core, q.Pin.Tubing, q.Facts.Player.MostMM = "poly-1-1/8", []string{"latex-3/4x1/8"}, 30
	})
	if len(c.Asked) != 3 || c.Asked[2].Fact != "player.most_mm" || len(c.Nearest) != 3 {
		t.Errorf("a core and a layer wider than the hand takes: %+v", c.Asked)
	}
}

// The same finder, asked for a firm hand and then for an ordinary one: the heads
// are wound by it, and still come to the softness that was asked for.
func TestHandWinds(t *testing.T) {
	f := proposetest.Finder(t)
	tension := map[float64]string{}
	for _, n := range []float64{7, 0, 2} {
		q := proposetest.Player()
		q.Facts.Player.TensionN = n
		q.Facts.Want.Softness, q.Known = 0.5, rules.Known{facts.WantSoftness: true, facts.PlayerTensionN: n > 0}
		p, err := search.Propose(context.Background(), f, q)
		if err != nil {
			t.Fatal(err)
		}
		h := p.Best.Facts.Head
		tension[n] = p.Best.Stack.String()
		want := n
		if n == 0 {
			want = f.Catalogue().Limits.TensionN.Value
		}
		if w := p.Best.Stack.Wrap; w == nil || w.TensionN != n || h.TensionN != want || math.Abs(h.Softness-0.5) > 1 {
			t.Errorf("for %g N: %s, worked out for %g N, %+.2f notches", n, p.Best.Stack, h.TensionN, h.Softness)
		}
		again, err := f.Consider(p.Best.Stack, q)
		if err != nil || again.Facts.Head.Softness != h.Softness {
			t.Errorf("%s again: %+.2f notches, %v", p.Best.Stack, again.Facts.Head.Softness, err)
		}
	}
	t.Log(tension)
}

// A head is of one world of sizes: of the one that was asked for, of the one that is on
// hand, or of inches; of both only where both are on hand.
func TestWorldsOfSizes(t *testing.T) {
	f := proposetest.Finder(t)
	worlds := func(st head.Stack) string {
		seen := map[string]bool{f.Catalogue().Supply(st.Core.ID): true}
		for _, s := range st.Slices {
			seen[f.Catalogue().Supply(s.Tube.ID)] = true
		}
		switch {
		case seen["inch"] && seen["metric"]:
			return "both"
		case seen["metric"]:
			return "metric"
		}
		return "inch"
	}
	bin := func(ids ...string) *stock.Bin {
		b := &stock.Bin{}
		for _, id := range ids {
			b.Items = append(b.Items, stock.Item{Part: id, Amount: stock.Enough()})
		}
		return b
	}
	for _, c := range []struct {
		name, units string
		bin         *stock.Bin
		buy         []string
		pin         propose.Pin
		want        string
	}{
		{"nothing said", "", nil, nil, propose.Pin{}, "inch"},
		{"metric", "metric", nil, nil, propose.Pin{}, "metric"},
		{"a metric ball named", "", nil, nil, propose.Pin{Core: "poly-28mm-drilled"}, "metric"},
		{"metric on hand", "", bin("poly-28mm-drilled", "latex-18x3mm", "wool-medium", "birch-380mm"), nil, propose.Pin{}, "metric"},
		{"inch balls on hand, metric to buy", "metric", bin("poly-1-1/8-drilled", "wool-medium", "birch-16"), []string{"latex-18x3mm", "poly-28mm-drilled", "birch-380mm"}, propose.Pin{}, "metric"},
		{"both on hand, the tubing in millimetres", "", bin("poly-1-1/8-drilled", "latex-18x3mm", "wool-medium", "birch-16"), nil, propose.Pin{}, "both"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := proposetest.Player()
			q.Facts.Bench.Units, q.Bin, q.Pin = c.units, c.bin, c.pin
			if c.bin != nil {
				c.bin.Buy = c.buy
			}
			q.Facts.Want.Softness, q.Known = 0.3, rules.Known{facts.WantSoftness: true}
			p, err := search.Propose(context.Background(), f, q)
			if err != nil {
				t.Fatal(err)
			}
			if got := worlds(p.Best.Stack); got != c.want {
				t.Errorf("%s is of %s sizes, want %s", p.Best.Stack, got, c.want)
			}
			t.Log(p.Best.Stack)
			for _, x := range p.Pool {
				if got := worlds(x.Stack); got == "both" && c.want != "both" {
					t.Errorf("%s mixes the sizes", x.Stack)
				}
			}
		})
	}
}

func TestBadRequests(t *testing.T) {
	f := proposetest.Finder(t)
	for name, change := range map[string]func(*propose.Request){
		"empty bin":         func(q *propose.Request) { q.Bin = &stock.Bin{} },
		"amount below zero": func(q *propose.Request) { q.Bin = &stock.Bin{Items: []stock.Item{{Part: "poly-1", Amount: -2}}} },
		"unknown part":      func(q *propose.Request) { q.Bin = &stock.Bin{Items: []stock.Item{{Part: "poli-1", Amount: 2}}} },
		"softness NaN":      func(q *propose.Request) { q.Facts.Want.Softness = math.NaN() },
		"mass below zero":   func(q *propose.Request) { q.Facts.Want.MassG = -1 },
		"heads below zero":  func(q *propose.Request) { q.Heads = -2 },
	} {
		q := proposetest.Player()
		change(&q)
		if _, err := search.Propose(context.Background(), f, q); !errors.As(err, new(*fault.Error)) {
			t.Errorf("%s: %v, which is no fault of what was asked", name, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := search.Propose(ctx, f, proposetest.Player()); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before the start: %v", err)
	}
}

func TestAdvise(t *testing.T) {
	f := proposetest.Finder(t)
	q := proposetest.Player()
	q.Bin = &stock.Bin{Items: []stock.Item{
		{Part: "poly-1-1/8", Amount: 2}, {Part: "latex-3/4x1/8", Amount: 0.3048}, {Part: "birch-15", Amount: 2},
	}}
	a, err := advise.From(context.Background(), f, q)
	if err != nil {
		t.Fatal(err)
	}
	if a.Best == nil || a.Best.Stack.Core.ID != "poly-1-1/8" || a.Best.Facts.Head.CostCents != 0 {
		t.Fatalf("best from the bin: %+v, %v", a.Best, a.Why)
	}
	if len(a.Buy) == 0 || a.Buy[0].Gain <= 0 || a.Buy[0].Price <= 0 {
		t.Fatalf("without yarn on hand, some yarn should help: %+v", a.Buy)
	}
	if _, isYarn := f.Catalogue().Yarn(a.Buy[0].Part); !isYarn {
		t.Errorf("the purchase that helps most is %s, not a yarn", a.Buy[0].Part)
	}
	// Amounts count: an inch and a half of tubing gives one slice, not a pair.
	q.Bin.Items[1].Amount = 0.038
	a, err = advise.From(context.Background(), f, q)
	if err != nil {
		t.Fatal(err)
	}
	if a.Best != nil && len(a.Best.Stack.Slices) > 0 {
		t.Errorf("an inch and a half of tubing makes %s twice", a.Best.Stack)
	}
	q.Bin.Items[0].Amount = 1 // and one core is no pair
	a, err = advise.From(context.Background(), f, q)
	if err != nil || a.Best != nil || a.Why == nil {
		t.Errorf("a pair from one core: %+v, %v, %v", a.Best, a.Why, err)
	}
}

func TestChange(t *testing.T) {
	f := proposetest.Finder(t)
	from, err := head.Parse(f.Catalogue(), "poly-1-1/8 + 3/4x1/8 + wool-medium + birch-15")
	if err != nil {
		t.Fatal(err)
	}
	q := proposetest.Player()
	q.Facts.Bench.Drill = false // a head on its shaft has been drilled
	was, err := f.Consider(from, q)
	if err != nil {
		t.Fatal(err)
	}
	b := was.Facts.Head
	for way, met := range map[string]func(h facts.Head) bool{
		"softer":   func(h facts.Head) bool { return h.Softness >= b.Softness+0.9 && h.Softness <= b.Softness+2.2 },
		"harder":   func(h facts.Head) bool { return h.Softness <= b.Softness-0.9 && h.Softness >= b.Softness-2.2 },
		"lighter":  func(h facts.Head) bool { return h.MassG <= 0.9*b.MassG },
		"no latex": func(h facts.Head) bool { return !h.Latex },
	} {
		c, err := change.Find(context.Background(), f, from, change.Aim{Moves: []change.Move{{Way: way}}}, q, 3)
		if err != nil {
			t.Errorf("%s: %v", way, err)
			continue
		}
		if !met(c.Head.Facts.Head) || len(c.Edits) == 0 || c.Work == 0 {
			t.Errorf("%s: %v comes to %s", way, c.Edits, c.Stack)
		}
		for _, e := range c.Edits {
			if e.What == "core" {
				t.Errorf("%s: %v takes the head apart down to the core", way, c.Edits)
			}
		}
		seen := map[string]bool{c.Stack: true}
		for _, o := range c.Others {
			if seen[o.Stack.String()] {
				t.Errorf("%s: %s stands twice", way, o.Stack)
			}
			seen[o.Stack.String()] = true
		}
	}
	if _, err := change.Find(context.Background(), f, from, change.Aim{Moves: []change.Move{{Way: "louder"}}}, q, 0); err == nil {
		t.Error("louder passes as a way to change a head")
	}
}

func TestSet(t *testing.T) {
	f := proposetest.Finder(t)
	set, err := graded.Choose(context.Background(), f, proposetest.Player(), graded.Options{Rungs: 4})
	if err != nil {
		t.Fatal(err)
	}
	if !set.Exact || len(set.Rungs) != 4 || set.Order.Total <= 0 {
		t.Fatalf("%+v", set)
	}
	// The softest may be on a smaller ball of the same, where that holds down its
	// size (rule set-ball).
	slices, parts := 0, map[string]map[string]bool{"core": {}, "material": {}, "yarn": {}, "tubing": {}}
	first := set.Rungs[0].Head.Stack.Core
	for i, r := range set.Rungs {
		st := r.Head.Stack
		parts["material"][st.Core.Material] = true
		if i < len(set.Rungs)-1 {
			parts["core"][st.Core.ID] = true
		} else if st.Core.ID != first.ID && st.Core.Diameter >= first.Diameter {
			t.Errorf("the softest is on %s, the others on %s", st.Core.ID, first.ID)
		}
		if st.Wrap != nil {
			parts["yarn"][st.Wrap.Yarn.ID] = true
		}
		for _, s := range st.Slices {
			slices++
			parts["tubing"][s.Tube.ID] = true
		}
	}
	if len(parts["core"]) != 1 || len(parts["material"]) != 1 || len(parts["yarn"]) != 1 || len(parts["tubing"]) >= slices {
		t.Errorf("a set of one make shares core, yarn and tubing: %v for %d slices", parts, slices)
	}
	for i, r := range set.Rungs {
		if math.Abs(r.Softness-r.Want) > 0.3 {
			t.Errorf("rung %d: %s comes to %+.1f notches, %+.1f wanted", i+1, r.Stack, r.Softness, r.Want)
		}
		if r.Head.Refused() != nil {
			t.Errorf("rung %d: %s is refused", i+1, r.Stack)
		}
		if i > 0 && r.MassG < set.Rungs[i-1].MassG-2 {
			t.Errorf("rung %d: %.1f g under the harder rung's %.1f g", i+1, r.MassG, set.Rungs[i-1].MassG)
		}
		if m := r.Match; !(m.PairedG < m.MassG) || len(m.Weigh) == 0 {
			t.Errorf("rung %d: pairing %+v does not help", i+1, m)
		}
	}
	for _, o := range []graded.Options{{Rungs: 1}, {Rungs: 9}, {Rungs: 3, Each: 3}, {Rungs: 3, Gap: 40}} {
		if _, err := graded.Choose(context.Background(), f, proposetest.Player(), o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
	far := 30.0
	if _, err := graded.Choose(context.Background(), f, proposetest.Player(), graded.Options{Rungs: 2, Hardest: &far}); err == nil {
		t.Error("a set softer than anything buildable: no error")
	}
}
