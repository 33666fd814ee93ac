package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/rules"
	"mallow/rules/schema"
)

// sketch is a rule in a line: id, effect, condition. Its examples are taken
// from the facts named.
func sketch(id, do, when, fires, quiet string) string {
	if do == "refuse" || do == "note" {
		do += ", reason: " + id
	} else {
		do += ", reason: r"
	}
	return fmt.Sprintf("  - {id: %s, title: t, on: head, when: '%s', do: %s, source: s, fires: [{%s}], quiet: [{%s}]}\n", id, when, do, fires, quiet)
}

// TestCheck: what is wrong with each book, and nothing else.
func TestCheck(t *testing.T) {
	const light, full = "head.mass_g: 30, head.layers: 1, head.core: wood, head.latex: false, player.most_g: 36, head.fibre: silk", "head.mass_g: 41, head.layers: 3, head.core: rubber, head.latex: true, player.most_g: 36, head.fibre: wool"
	for _, tt := range []struct {
		name  string
		rules string
		want  string
	}{
		{"sound", sketch("a", "note", "head.mass_g > 36", full, light), ""},

		// Examples.
		{"example stays quiet", sketch("a", "note", "head.mass_g > 45", full, light),
			"a.yaml:2:1: rule a must fire on this example, and stays quiet (head.mass_g = 41 g, head.mass_g > 45 = no)"},
		{"example fires", sketch("a", "note", "head.mass_g > 25", full, light),
			"a.yaml:2:1: rule a must stay quiet on this example, and fires (head.mass_g = 30 g, head.mass_g > 25 = yes)"},
		{"example leaves a fact out", sketch("a", "note", "head.mass_g > 36", "head.layers: 3", light),
			"a.yaml:2:1: rule a must fire on this example, and can't tell (head.mass_g is not known, head.mass_g > 36 is not known)"},
		{"example leaves the reason short", sketch("a", `prefer, weight: 1, change: "{head.layers}"`, "head.mass_g > 36", "head.mass_g: 41", light),
			"a.yaml:2:1: rule a says {head.layers}, which this example leaves out (add head.layers)"},
		{"reason without a value", sketch("a", `prefer, weight: 1, change: "{1/(head.layers - 3)}"`, "head.mass_g > 36 and head.layers == 3", full, light),
			"a.yaml:2:1: a text of rule a can lack a finite value (guard against it in when: head.mass_g = ?, head.layers = 3)\n" +
				"a.yaml:2:1: a text of rule a has no finite value on this example"},

		// Rules that are dead, or always fire: no example can be right.
		{"impossible number", sketch("a", "note", "head.mass_g > 45 and head.mass_g < 40", full, light), never},
		{"impossible at the edge", sketch("a", "note", "head.mass_g >= 41 and head.mass_g < 41", full, light), never},
		{"impossible outside its range", sketch("a", "note", "head.mass_g > 100", full, light), never},
		{"impossible word", sketch("a", "note", `head.core == "wood" and head.core == "rubber"`, full, light), never},
		{"impossible outside the vocabulary", sketch("a", "note", `head.core not in ["wood", "rubber", "plastic"]`, full, light), never},
		{"impossible free word", sketch("a", "note", `head.fibre == "wool" and head.fibre != "wool"`, full, light), never},
		{"impossible truth", sketch("a", "note", `head.latex and not head.latex`, full, light), never},
		{"impossible difference", sketch("a", "note", `head.mass_g > player.most_g and head.mass_g <= player.most_g`, full, light), never},
		{"impossible difference, turned round", sketch("a", "note", `head.mass_g > player.most_g and player.most_g > head.mass_g`, full, light), never},
		{"impossible in every case", sketch("a", "note", `(head.latex ? head.layers : 0) > 6`, full, light), never},
		{"impossible beside a refusal", sketch("a", "note", "head.mass_g > 45 and head.mass_g < 40", full, light) + sketch("b", "refuse", "head.mass_g > 37", full, light), never},
		{"possible at one point only", sketch("a", "note", "head.mass_g >= 41 and head.mass_g <= 41", full, light), ""},
		{"possible in one of two cases", sketch("a", "note", `head.latex and (head.mass_g > 200 or head.layers > 2)`, full, light), ""},

		{"always by number", sketch("a", "note", "head.mass_g >= 20 or head.mass_g < 30", full, light), always},
		{"always by word", sketch("a", "note", `head.core in ["wood", "rubber"] or head.core == "plastic"`, full, light), always},
		{"always by truth", sketch("a", "note", "head.latex or not head.latex", full, light), always},
		{"always by range", sketch("a", "note", "head.mass_g >= 0", full, light), always},
		{"always by difference", sketch("a", "note", "head.mass_g > player.most_g or head.mass_g <= player.most_g", full, light), always},

		// Rules at odds.
		{"for and against", sketch("a", "prefer, weight: 2", "head.mass_g > 36 and head.latex", full, light) + sketch("b", "prefer, weight: -1", "head.latex and not (head.mass_g <= 36)", full, light),
			"a.yaml:3:1: rules b and a (a.yaml:2) contradict each other: they fire together, one for and one against (remove one, or part their conditions)"},
		{"for and against, not together", sketch("a", "prefer, weight: 2", "head.mass_g > 36", full, light) + sketch("b", "prefer, weight: -1", "head.mass_g > 37", full, light), ""},
		{"counted twice", sketch("a", "prefer, weight: 2", "head.mass_g > 36", full, light) + sketch("b", "prefer, weight: 1", "36 < head.mass_g", full, light),
			"a.yaml:3:1: rules b and a (a.yaml:2) say the same on the same facts (remove one)"},
		{"one step for two reasons", sketch("a", "step, give: glue", "head.mass_g > 36", full, light) + sketch("b", "step, give: glue", "head.latex", full, light), ""},
		{"refused whenever it counts", sketch("a", "refuse", "head.mass_g > 36", full, light) + sketch("b", "note", "head.mass_g > 38 and head.latex", full, light),
			"a.yaml:3:1: rule b never counts: a (a.yaml:2) refuses whenever it fires (loosen the refusal, or remove the rule)"},
		{"refused by a later rule", sketch("a", "note", "head.mass_g > player.most_g", full, light) + sketch("b", "refuse", "player.most_g < head.mass_g or head.latex", full, light),
			"a.yaml:2:1: rule a never counts: b (a.yaml:3) refuses whenever it fires (loosen the refusal, or remove the rule)"},
		{"not always refused", sketch("a", "refuse", "head.mass_g > 38", full, light) + sketch("b", "note", "head.mass_g > 36", full, light), ""},
		{"choices that meet", sketch("a", "choose, give: mass, weight: 2", "head.mass_g > 36", full, light) + sketch("b", "choose, give: mass, weight: 1", "head.mass_g == 36 or head.mass_g == 40", "head.mass_g: 36", light),
			"a.yaml:3:1: rules b and a (a.yaml:2) choose the weight mass differently on the same facts (make their conditions shut each other out)"},
		{"choices that part", sketch("a", "choose, give: mass, weight: 2", "head.mass_g > 36", full, light) + sketch("b", "choose, give: mass, weight: 1", "head.mass_g <= 36", light, full), ""},
		{"choices of different weights", sketch("a", "choose, give: mass, weight: 2", "head.mass_g > 36", full, light) + sketch("b", "choose, give: size, weight: 1", "head.mass_g > 35", full, light), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := book(t, "rules:\n"+tt.rules)
			got := b.Check(300, nil).Problems
			var lines []string
			for _, p := range got {
				line := p.Error()
				if i := strings.Index(line, "head.mass_g = "); strings.Contains(line, "guard") {
					line = line[:i] + "head.mass_g = ?" + line[strings.Index(line, ", head.layers"):]
				}
				lines = append(lines, line)
			}
			if tt.want == never || tt.want == always {
				if len(lines) != 1 || !strings.Contains(lines[0], tt.want) {
					t.Errorf("got %q, want one that %s", lines, tt.want)
				}
				return
			}
			if diff := cmp.Diff(tt.want, strings.Join(lines, "\n")); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		})
	}
}

const (
	never  = "rule a must fire on this example, and stays quiet"
	always = "rule a must stay quiet on this example, and fires"
)

// TestDraw: what is drawn stays within the tags.
func TestDraw(t *testing.T) {
	b := book(t, heavy, strings.ReplaceAll(with("when", `when: head.layers == 2 and head.fibre == "wool"`), "too-heavy", "wool"))
	c := b.Coverage(3000, nil)
	for _, n := range c.Counts {
		if n.Fired == 0 || n.Fired == c.Sets {
			t.Errorf("rule %s fired on %d of %d", n.Rule, n.Fired, c.Sets)
		}
	}
	if again := b.Coverage(3000, nil); !cmp.Equal(c.Counts, again.Counts) {
		t.Error("two runs differ")
	}
}

func TestReport(t *testing.T) {
	b := book(t, heavy, strings.ReplaceAll(with("when", `when: head.mass_g == 41 and player.most_g == 36`), "too-heavy", "rare"))
	r := b.Check(20, nil)
	if quiet := r.Coverage.Quiet(); r.Rules != 2 || r.Files != 2 || r.Examples != 4 || len(r.Problems) != 0 || r.Coverage.Sets != 20 || !cmp.Equal(quiet, []string{"rare"}) {
		t.Errorf("got %+v, quiet %v", r, quiet)
	}
}

func TestGives(t *testing.T) {
	b := book(t, "rules:\n"+sketch("a", "step, give: glue", "head.latex", "head.latex: true", "head.latex: false")+sketch("b", "step, give: glue", "head.layers > 1", "head.layers: 2", "head.layers: 1"))
	got := b.Gives(rules.Step)
	if len(got) != 1 || len(got["glue"]) != 2 || len(b.Gives(rules.Caution)) != 0 {
		t.Errorf("gives %v", got)
	}
	if reads := b.Reads(b.Rule("b")); len(reads) != 1 || reads[0] != "head.layers" {
		t.Errorf("reads %v", reads)
	}
}

func TestFacts(t *testing.T) {
	got := book(t).Facts()[:4]
	want := []schema.Fact{
		{Path: "head.mass_g", Kind: schema.Number, Unit: "g", Range: []float64{0, 100}, Doc: "mass"},
		{Path: "head.layers", Kind: schema.Number, Range: []float64{0, 6}, Doc: "layers"},
		{Path: "head.core", Kind: schema.Text, OneOf: []string{"plastic", "wood", "rubber"}, Doc: "core"},
		{Path: "head.fibre", Kind: schema.Text, Doc: "fibre, any word"},
	}
	if diff := cmp.Diff(want, got, cmp.FilterPath(func(p cmp.Path) bool { return p.String() == "Index" }, cmp.Ignore())); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}
