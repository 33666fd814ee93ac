package reply_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/reply/sets"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// number returns a pointer, for the fields that may have no figure.
func number(x float64) *float64 { return &x }

// plain is a stack as it is put to people.
func plain(stack string) string { return "in words " + stack }

// made is a head with the figures that tables show.
func made(stack string, softness, massG float64) reply.Made {
	return reply.Made{Stack: stack, Plain: plain(stack), Head: reply.Head{Stack: stack, Grade: "medium", Softness: softness, MassG: massG, DiameterMM: 37.2}}
}

func order() reply.Order {
	return reply.Order{
		Lines: []reply.Line{
			{Part: "ball", Name: "a ball", Need: reply.Amount{Pieces: number(4)}, Spare: reply.Amount{Pieces: number(1)}, Have: reply.Amount{Pieces: number(0)}, Packs: 1, CostCents: 495},
			{Part: "wool", Name: "wool", Need: reply.Amount{Metres: number(61.5)}, Spare: reply.Amount{Metres: number(0)}, Have: reply.Amount{Metres: number(20.25)}, Packs: 2, CostCents: 1250},
		},
		TotalCents: 1745,
	}
}

// answers are answers made by hand, one for each thing that is said and each
// turn that it can take.
func answers() []struct {
	name string
	is   reply.Answer
} {
	pair := reply.Matching{ApartG: 1.24, PairedG: 0.31, Weigh: []reply.MatchPart{{Part: "core", TolG: 0.6}, {Part: "slice 1", TolG: 0.82}}}
	hard, soft := made("ball + thin + wool*140", -2, 19.8), made("ball + thick + wool*150", 1, 22.4)
	return []struct {
		name string
		is   reply.Answer
	}{
		{"a set, proven", sets.Set{Family: "balls under wool", On: "marimba-5", Asked: true, Balls: []string{"a ball", "another ball"}, Yarns: []string{"wool"}, Tubing: []string{"thin", "thick"}, Turns: [2]int{60, 220}, Firm: "of one family",
			Measure: []string{"9 a notch off an even ladder", "what the rules have against each head"}, Each: 2, Exact: true, Heads: 310, Order: order(), Rungs: []sets.Rung{
				{Made: hard, Softness: -2, Wanted: -2, MassG: 19.8, DiameterMM: 36.1, Pair: pair},
				{Made: soft, Softness: 1, Wanted: 0.5, MassG: 22.4, DiameterMM: 38, Pair: reply.Matching{ApartG: 0.4}},
			}}},
		{"a set, cut short", sets.Set{Each: 4, Heads: 12, Measure: []string{"3 a notch that an end is off what was asked"}}},
		{"the nearest set", sets.Set{Family: "bare balls by their hardness", On: "bells", Each: 2, Exact: true, Heads: 40, Firm: "in the order of hardness", Measure: []string{"9 a notch"},
			Rungs:  []sets.Rung{{Made: hard, Softness: -2, MassG: 19.8, DiameterMM: 36.1}, {Made: soft, Softness: -1.5, MassG: 22.4, DiameterMM: 38}},
			Misses: []string{"-9.0 to +4.0 notches were asked for"}, Opens: []string{"a softer ball", "fewer grades"}}},
		{"a class within its budget", reply.Class{Title: "Period 3", BudgetCents: 5000, Within: true, BestCents: 5400, Lost: 1.5, Order: order(),
			Students: []reply.Student{
				{Name: "Ada", Heads: 2, Stack: soft.Stack, Plain: soft.Plain, Head: &soft.Head, Minor: true, NoLatex: true},
				{Name: "Ben", Heads: 2, Stack: soft.Stack, Plain: soft.Plain, Head: &soft.Head, Alike: "Ada", Wanted: hard.Stack, Missed: []string{"blorp"}},
				{Name: "Cleo", Trouble: "no head that can be built weighs 5 g"},
			},
			Warnings: []reply.Warning{{Hazard: "Latex can hurt.", Do: "Keep it away.", Defer: "Ask the school.", Students: []string{"Ada"}}}}},
		{"a class over its budget", reply.Class{BudgetCents: 1000, LeastCents: 1500, LeastBoundCents: 1400}},
		{"a class without budget", reply.Class{Order: order()}},
		{"a class with the best for all", reply.Class{BudgetCents: 5000, Within: true}},
		{"a change", reply.Change{From: hard.Stack, Was: hard.Plain, Moves: []reply.Move{{Way: "softer", By: 2}}, Made: soft, CostCents: 123,
			Edits:  []reply.Edit{{Do: "swap", What: "layer 1", From: "thin", To: "thick", Says: "layer 1: a thick slice for a thin one"}, {Do: "add", What: "layer 2", To: "thin", Says: "add layer 2: a thin slice"}, {Do: "remove", What: "yarn", From: "wool", Says: "take the yarn off"}},
			Trades: []reply.Trade{{Fact: "head.mass_g", Unit: "g", From: 19.8, To: 22.4}},
			Others: []reply.Pick{{Stack: "ball + other", Plain: "another head", Grade: "soft", Softness: 1, MassG: 21, DiameterMM: 38}}}},
		{"no latex", reply.Change{From: hard.Stack, Was: hard.Plain, Moves: []reply.Move{{Way: "no latex"}}, Made: soft}},
		{"matches", reply.Matches{Tried: 900, Rest: 0.2, Next: &reply.NextMeasure{How: "weigh it", Bits: 1.2, Of: 2.5},
			Likely: []reply.Likely{
				{Pick: reply.Pick{Stack: soft.Stack, Plain: soft.Plain, Softness: 1, MassG: 22.4, DiameterMM: 38}, Share: 0.5, Also: []string{"a", "b", "c", "d", "e"}},
				{Pick: reply.Pick{Stack: hard.Stack, Plain: hard.Plain, Softness: -2, MassG: 19.8, DiameterMM: 36.1}, Share: 0.3},
			}}},
		{"advice", reply.Advice{Stack: soft.Stack, Plain: soft.Plain, Head: &soft.Head, Notes: []string{"A foot is assumed."}, Buy: []reply.Purchase{
			{Part: "thick", Name: "a thick one", CostCents: 300, Gain: number(1.25), Makes: reply.Pick{Stack: "x", Plain: "an x", Grade: "soft"}, Trades: []reply.Trade{{Fact: "head.softness", Unit: "notches", From: 1, To: 3}}},
			{Part: "thin", Name: "a thin one", CostCents: 200, Gain: number(0.5), Makes: reply.Pick{Stack: "y", Plain: "a y", Grade: "hard", Softness: -1}},
		}}},
		{"advice with nothing on hand", reply.Advice{Why: "there is no core", Buy: []reply.Purchase{{Part: "ball", Name: "a ball", CostCents: 495, Makes: reply.Pick{Stack: "ball", Plain: "a bare ball", Grade: "hard"}}}}},
		{"advice that nothing helps", reply.Advice{Stack: soft.Stack, Plain: soft.Plain, Head: &soft.Head}},
	}
}

// What is said, read as a whole: testdata/reply/pages.txt.
func TestPages(t *testing.T) {
	var b strings.Builder
	for _, a := range answers() {
		b.WriteString("## " + a.name + "\n\n")
		if err := page.Text(&b, a.is.Page(), page.Style{Width: 90, Plain: true}); err != nil {
			t.Fatal(err)
		}
		b.WriteString("\n")
	}
	path := filepath.Join("..", "..", "testdata", "reply", "pages.txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("%s differs (-want +got); run with -update if it should:\n%s", path, d)
	}
}
