package reply_test

import (
	"strings"
	"testing"

	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// considerer judges stacks.
type considerer struct {
	cat    *knowledge.Catalogue
	finder *propose.Finder
}

func newConsiderer(t *testing.T) considerer {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	book := factstest.Book(t)
	f, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	return considerer{cat, f}
}

func (x considerer) consider(t *testing.T, text string) propose.Candidate {
	t.Helper()
	stack, err := head.Parse(x.cat, text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := x.finder.Consider(stack, propose.Request{Pass: gate.Settle(gate.Stated{LatexOK: gate.Yes, Minor: gate.No})})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestNotches(t *testing.T) {
	for _, c := range []struct {
		is   float64
		want string
	}{{0, "+0.0 notches"}, {1, "+1 notch"}, {-1, "-1 notch"}, {0.96, "+1 notch"}, {2.04, "+2.0 notches"}, {-3.5, "-3.5 notches"}, {-0.04, "+0.0 notches"}} {
		if got := reply.Notches(c.is); got != c.want {
			t.Errorf("%v is %q, want %q", c.is, got, c.want)
		}
	}
}

func TestMoved(t *testing.T) {
	for _, c := range []struct {
		unit string
		by   float64
		want string
	}{
		{"notches", 2, "2.0 notches softer"}, {"notches", -2, "2.0 notches harder"},
		{"g", 1.26, "1.3 g heavier"}, {"g", -1, "1.0 g lighter"},
		{"mm", 1, "1.0 mm larger"}, {"mm", -1, "1.0 mm smaller"},
		{"octaves", 0.2, "brighter when loud (by 0.2 octaves)"}, {"octaves", -0.2, "steadier from p to ff (by 0.2 octaves)"},
	} {
		if got := reply.Moved(c.unit, c.by); got != c.want {
			t.Errorf("%+v %s: %q, want %q", c.by, c.unit, got, c.want)
		}
	}
}

// What is said of two heads follows their figures, and turns round when the
// heads change places.
func TestAgainst(t *testing.T) {
	x := newConsiderer(t)
	thin := x.consider(t, "poly-1-1/8-drilled + 3/4x1/16 + wool-medium + birch-16")
	thick := x.consider(t, "poly-1-1/8-drilled + 3/4x1/8 + 1x1/8 + wool-medium + birch-16")
	if thick.Facts.Head.Softness <= thin.Facts.Head.Softness || thick.Facts.Head.MassG <= thin.Facts.Head.MassG {
		t.Fatal("the case shows nothing: more rubber is neither softer nor heavier")
	}
	for _, c := range []struct {
		a, b propose.Candidate
		want []string
	}{
		{thin, thick, []string{"softer", "heavier", "larger", "dearer"}},
		{thick, thin, []string{"harder", "lighter", "smaller", "cheaper"}},
		{thin, thin, []string{"About the same head otherwise."}},
	} {
		got := reply.Against(c.a, c.b)
		for _, word := range c.want {
			if !strings.Contains(got, word) {
				t.Errorf("no %q in %q", word, got)
			}
		}
	}
	w := reply.In(x.cat)
	for _, row := range w.SideBySide(thin, thick) {
		if len(row) != 3 || row[0] == "" || row[1] == "" || row[2] == "" {
			t.Errorf("row %q", row)
		}
	}
}

func TestSoundAndInShort(t *testing.T) {
	x := newConsiderer(t)
	c := x.consider(t, "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16")
	for register, want := range map[string]string{"": "In the middle (", "whole": "In the middle (", "low": "In the low end (", "high": "In the high end (", "none": ""} {
		got := reply.Sound(c, register)
		if !strings.HasPrefix(got, want) || want != "" && (!strings.Contains(got, "at p it stays on the bar") || !strings.Contains(got, "the yarn gives most")) {
			t.Errorf("in register %q: %q", register, got)
		}
	}
	if got := reply.InShort(c); !strings.Contains(got, "medium") || !strings.Contains(got, "g and ") {
		t.Errorf("in short: %q", got)
	}
}

func TestTraded(t *testing.T) {
	x := newConsiderer(t)
	c := x.consider(t, "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16")
	h := c.Facts.Head
	if got := reply.Traded(c, facts.Want{Softness: h.Softness}, 1e9); got != "" {
		t.Errorf("nothing is traded off, and it says %q", got)
	}
	got := reply.Traded(c, facts.Want{Softness: h.Softness + 2, MassG: h.MassG + 3, DiameterMM: h.DiameterMM - 4, BudgetCents: 2*h.CostCents - 100}, 1e9)
	for _, want := range []string{"2.0 notches harder than asked", "3.0 g lighter than asked", "4.0 mm larger than asked", "1.00 more than asked"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}

func TestWords(t *testing.T) {
	x := newConsiderer(t)
	w := reply.In(x.cat)
	c := x.consider(t, "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16")
	if got := w.Part("no-such-part"); got != "no-such-part" {
		t.Errorf("a part that nobody knows is %q", got)
	}
	text := w.Stack(c.Stack)
	if strings.Count(text, " + ") != 2 || strings.Contains(text, "poly-1") || !strings.Contains(text, "turns") {
		t.Errorf("the stack in words is %q", text)
	}
	if got := w.Layer(c.Stack, 1); got != "none" {
		t.Errorf("a second layer of a head with one is %q", got)
	}
	if rows := w.InsideOut("", c).Rows; len(rows) != 4 {
		t.Errorf("%d rows for core, slice, yarn and shaft", len(rows))
	}
	if own := w.Own(c.Stack); own != nil {
		t.Errorf("shipped parts are called the maker's own: %q", own)
	}
	c.Stack.Core.Origin.Own = true
	if own := w.Own(c.Stack); len(own) != 1 {
		t.Errorf("one part is the maker's own, and it says %q", own)
	}
	if got := w.OfLayer(c.Head.Layers[0], 1); !strings.Contains(got, "a good fit") {
		t.Errorf("of the layer: %q", got)
	}
}

// A text with the turns written out is the same head.
func TestTextReadsBack(t *testing.T) {
	x := newConsiderer(t)
	w := reply.Default(x.cat)
	for _, text := range []string{"poly-1-1/8", "poly-1-1/8 + 3/4x1/8@1 + wool-medium", "maple-1 + 3/4x1/8 + 7/8x1/8 + cotton-8 + rattan-9", "rubber-50a-1-1/8 + wool-medium*140 + birch-16"} {
		stack, err := head.Parse(x.cat, text)
		if err != nil {
			t.Log(err)
			continue
		}
		one, err := w.Write(stack)
		if err != nil {
			t.Fatal(err)
		}
		again, err := head.Parse(x.cat, one.Stack)
		if err != nil {
			t.Fatalf("%s: %v", one.Stack, err)
		}
		if two, err := w.Write(again); err != nil || two.Stack != one.Stack || two.Head.MassG != one.Head.MassG || two.Head.Softness != one.Head.Softness {
			t.Errorf("%s reads back as %s, %v", one.Stack, two.Stack, err)
		}
	}
}

// firing is a rule that fired.
func firing(id string, do rules.Effect, weight float64, reason string) rules.Firing {
	return rules.Firing{Rule: &rules.Rule{ID: id, Do: do, Weight: weight, On: "head", File: facts.Shipped + "/x.yaml"}, State: rules.Fired, Reason: reason}
}

func TestReasons(t *testing.T) {
	quiet := firing("quiet", rules.Prefer, 9, "it is quiet")
	quiet.State = rules.Quiet
	about := firing("about", rules.Note, 0, "the wall is thin")
	about.About, about.Change = "layer 2", "a thicker wall"
	mine := firing("mine", rules.Prefer, 1, "light")
	mine.Rule.File, mine.Rule.Line = "mine.yaml", 7
	mine.Values = []rules.Reading{{Expr: "head.mass_g", Value: 20.0, Unit: "g"}, {Expr: "head.mass_g", Value: 20.0, Unit: "g"}}
	trace := []rules.Firing{mine, quiet, firing("bad", rules.Prefer, -4, "heavy"), about, firing("step", rules.Step, 0, "a step")}

	var all []string
	for _, f := range reply.Spoke(trace, func(rules.Firing) bool { return true }) {
		all = append(all, reply.Traced(f))
	}
	if len(all) != 3 || !strings.HasPrefix(all[0], "Heavy. This counts -4.0 points.") || !strings.Contains(all[1], "mine (yours: mine.yaml, line 7)") {
		t.Errorf("reasons: %q", all)
	}
	if strings.Count(all[1], "20") != 1 {
		t.Errorf("a value is said twice: %q", all[1])
	}
	if got := reply.Spoke(trace, func(f rules.Firing) bool { return f.Rule.ID == "bad" }); len(got) != 1 {
		t.Errorf("one is kept: %v", got)
	}
	if got := reply.Reason(about); got != "Layer 2: the wall is thin; to change that: a thicker wall." {
		t.Errorf("a reason about a layer: %q", got)
	}
	if got := reply.Notes(trace, 4, func(r *rules.Rule) bool { return false }); len(got) != 1 {
		t.Errorf("notes: %q", got)
	}
	if got := reply.Notes(trace, 4, func(r *rules.Rule) bool { return r.ID == "about" }); got != nil {
		t.Errorf("notes without the one: %q", got)
	}
	if got := reply.Lacks(trace, nil); got != "Light. (+1.0 points)" {
		t.Errorf("what the other lacks: %q", got)
	}
	if got := reply.Lacks(trace, trace); got != "" {
		t.Errorf("a head lacks what it has: %q", got)
	}
}
