package sheet_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/sheet"
	"mallow/rules"
	"mallow/rules/gate"
)

func step(s sheet.Sheet, id string) (sheet.Step, bool) {
	i := slices.IndexFunc(s.Steps, func(x sheet.Step) bool { return x.ID == id })
	if i < 0 {
		return sheet.Step{}, false
	}
	return s.Steps[i], true
}

// A shaft is glued only with what holds on its core, else held by the core; and
// every shaft is tried before the yarn goes on. The cautions at the glue are
// those of the glue that is used.
func TestShaftsHold(t *testing.T) {
	b := newBench(t)
	for _, tt := range []struct {
		stack, glue string
		minor       bool
		caution     bool // of two-part glue
	}{
		{"poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16", "", false, false},
		{"poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16", "", true, false},
		{"polyethylene-1-1/8 + wool-medium + birch-16", "", false, false},
		{"acetal-1 + birch-14", "", false, false},
		{"maple-1-1/8 + 3/4x1/8 + wool-medium + birch-16", "water-resistant wood glue", true, false},
		{"rubber-50a-1-1/8 + wool-medium + birch-16", "two-part epoxy", true, true},
		{"rubber-50a-1-1/8 + wool-medium + birch-16", "two-part epoxy", false, true},
		{"phenolic-1 + birch-14", "two-part epoxy", false, true},
	} {
		f := grown()
		if tt.minor {
			f = minor()
		}
		s := b.sheet(t, tt.stack, f, sheet.Options{})
		glued, isGlued := step(s, "glue-shaft")
		_, barbed := step(s, "barb-shaft")
		_, pinned := step(s, "pin-shaft")
		pull, tried := step(s, "pull-test")
		if isGlued != (tt.glue != "") || barbed == isGlued || pinned == isGlued {
			t.Errorf("%s: glued %v, barbed %v, pinned %v", tt.stack, isGlued, barbed, pinned)
		}
		if isGlued && (!strings.Contains(glued.Text, tt.glue) || !strings.Contains(glued.Text, "of shaft and bore")) {
			t.Errorf("%s: %s", tt.stack, glued.Text)
		}
		warned := slices.ContainsFunc(s.Safety.Cautions, func(c sheet.Caution) bool { return c.ID == "epoxy-skin" })
		if warned != tt.caution {
			t.Errorf("%s: warns of two-part glue: %v", tt.stack, warned)
		}
		bought := slices.ContainsFunc(s.Buy.Rows, func(p sheet.Purchase) bool { return p.Part == "epoxy" || p.Part == "wood-glue" })
		if bought != isGlued {
			t.Errorf("%s: shaft glue bought: %v", tt.stack, bought)
		}
		yarn, wound := step(s, "start-yarn")
		if !tried || wound && pull.Number > yarn.Number || !slices.ContainsFunc(pull.Cautions, func(c sheet.Caution) bool { return c.ID == "fly-off" }) {
			t.Errorf("%s: the shaft is not tried before the yarn, with its caution", tt.stack)
		}
	}
}

// What the shaft is tried with is circular motion, m v²/r, times the margin.
func TestPull(t *testing.T) {
	b := newBench(t)
	c := b.consider(t, "maple-1 + birch-16", grown())
	lim := b.Catalogue().Limits
	const v = 6.0
	// By hand: the shaft of 406.4 mm ends three quarters into a ball of 25.4 mm,
	// so that the ball's centre is 400.05 mm from the butt, and 300.05 mm from the hand.
	want := 10 * float64(c.Head.Mass) * v * v / 0.30005
	if got := c.Head.PullN(v, &lim); math.Abs(got-want) > 1e-3*want {
		t.Errorf("%.3f N, want %.3f", got, want)
	}
	if bare := b.consider(t, "maple-1", grown()); bare.Head.PullN(v, &lim) != 0 {
		t.Error("a head without a shaft is pulled off it")
	}
}

// Whoever is under age and alone gets no step with a knife, a drill or a
// solvent: an adult has done them first, and the sheet says so.
func TestAlone(t *testing.T) {
	b := newBench(t)
	f := minor()
	f.Bench.Supervised = false
	for _, stack := range []string{"maple-1-1/8 + 3/4x1/8 + wool-medium + birch-16", "birch-ball-1 + 3/4x1/8 + wool-medium + birch-16", "maple-1 + wool-medium + birch-16"} {
		s := b.sheet(t, stack, f, sheet.Options{})
		mine, said := false, false
		for i, x := range s.Steps {
			apart := slices.ContainsFunc(x.Cautions, func(c sheet.Caution) bool {
				y, _ := b.Catalogue().Caution(c.ID)
				return y.Apart
			})
			if apart != x.ByAdult || x.ByAdult && mine {
				t.Errorf("%s: step %d, %s: by an adult %v, after the maker began %v", stack, x.Number, x.ID, x.ByAdult, mine)
			}
			if i == 0 && x.ByAdult {
				said = strings.Contains(x.Before, "adult")
			}
			mine = mine || !x.ByAdult
			if x.Number != i+1 {
				t.Errorf("%s: step %d is numbered %d", stack, i+1, x.Number)
			}
		}
		if s.Steps[0].ByAdult != said || strings.Contains(stack, "3/4") && !said {
			t.Errorf("%s: what an adult does beforehand is not said", stack)
		}
	}
	// In plastic that no glue holds an adult files the barbs beforehand; two-part glue,
	// a pin and a bare press fit are for nobody young who is alone.
	for stack, refused := range map[string]bool{
		"poly-1-1/8-drilled + wool-medium + birch-16":  false,
		"acetal-1 + birch-14":                          false,
		"nylon-1-1/8-drilled + wool-medium + birch-16": true,
		"rubber-50a-1-1/8 + wool-medium + birch-16":    true,
		"phenolic-1 + birch-14":                        true,
		"brass-3/4 + birch-14":                         true,
	} {
		c := b.consider(t, stack, f)
		no := slices.ContainsFunc(c.Trace, func(x rules.Firing) bool { return x.Rule.ID == "shaft-alone" && x.State == rules.Fired })
		if no != refused {
			t.Errorf("%s for a minor alone: refused %v", stack, no)
		}
		if refused {
			continue
		}
		s := b.sheet(t, stack, f, sheet.Options{})
		barbs, ok := step(s, "barb-shaft")
		if _, pinned := step(s, "pin-shaft"); !ok || !barbs.ByAdult || pinned {
			t.Errorf("%s: barbs %v, by an adult %v, pinned %v", stack, ok, barbs.ByAdult, pinned)
		}
		if pull, ok := step(s, "pull-test"); !ok || strings.Contains(pull.IfOff, "pin") {
			t.Errorf("%s: tried %v; if it moves: %s", stack, ok, pull.IfOff)
		}
	}
}

// Whoever reacts to gloves, or to rubber of any kind, gets neither latex nor
// cured rubber, and is told why.
func TestRubberChemicals(t *testing.T) {
	b := newBench(t)
	q := asked(grown())
	q.Pass = q.Pass.But(gate.RubberOK, false)
	for stack, refused := range map[string]bool{
		"poly-1-1/8 + 3/4x1/8 + wool-medium":              true,
		"poly-1-1/8 + epdm-3/4x1/8 + wool-medium":         true,
		"rubber-50a-1-1/8 + wool-medium":                  true,
		"poly-1-1/8 + silicone-3/4x1/8 + wool-medium":     false,
		"poly-1-1/8 + tpe-3/4x1/8 + wool-medium":          false,
		"maple-1-1/8 + wool-medium + birch-16":            false,
		"poly-1-1/8-drilled + wool-medium*200 + birch-16": false,
	} {
		c := b.ask(t, stack, q)
		if no := c.Refused(); (no != nil) != refused {
			t.Errorf("%s: refused %v", stack, no)
			continue
		}
		if refused {
			continue
		}
		s, err := b.Sheet(c, sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(strings.Join(s.Sound.Reading, " "), "accelerators") {
			t.Errorf("%s: not said why", stack)
		}
	}
}
