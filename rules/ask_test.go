package rules_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"mallow/knowledge/yamlfile"
	"mallow/rules"
)

// one returns a book whose only rule has the condition.
func one(tb testing.TB, when string) *rules.Book[mallet] {
	tb.Helper()
	return book(tb, with("when", "when: '"+strings.ReplaceAll(when, "'", "''")+"'"))
}

func TestAsk(t *testing.T) {
	heavy := mallet{mhead{MassG: 41.23, Layers: 2, Core: "wood", Latex: true}, mplayer{MostG: 36}}
	for _, tt := range []struct {
		name  string
		when  string
		facts mallet
		known rules.Known
		want  rules.State
	}{
		{"more", "head.mass_g > player.most_g", heavy, nil, rules.Fired},
		{"not more", "head.mass_g < player.most_g", heavy, nil, rules.Quiet},
		{"whole number against fact", "head.layers == 2", heavy, nil, rules.Fired},
		{"in", `head.core in ["wood", "rubber"]`, heavy, nil, rules.Fired},
		{"not in", `head.core not in ["wood", "rubber"]`, heavy, nil, rules.Quiet},
		{"unequal words", `head.core != "plastic"`, heavy, nil, rules.Fired},
		{"unequal truths", `head.latex != player.latex_ok`, heavy, nil, rules.Fired},
		{"choice", `(head.latex ? head.mass_g : 0) > 40`, heavy, nil, rules.Fired},
		{"chain", `10 < head.mass_g < 42`, heavy, nil, rules.Fired},
		{"functions", `max(abs(head.mass_g - 50), 1, min(2, 3)) < round(8.9)`, heavy, nil, rules.Fired},
		{"power", `head.layers ^ 3 == 8 and head.layers ** 2 == 4`, heavy, nil, rules.Fired},
		{"texts joined", `head.core + head.fibre == "wood"`, heavy, nil, rules.Fired},

		{"unknown", "head.mass_g > player.most_g", heavy, rules.Known{"head.mass_g": true}, rules.CannotTell},
		{"unknown but known to be false", "head.mass_g > player.most_g and head.layers > 3", heavy, rules.Known{"head.layers": true}, rules.Quiet},
		{"unknown first, known false", "head.layers > 3 and head.mass_g > 36", heavy, rules.Known{"head.layers": true}, rules.Quiet},
		{"unknown but known to be true", "head.mass_g > 36 or head.latex", heavy, rules.Known{"head.latex": true}, rules.Fired},
		{"unknown and true", "head.mass_g > 36 and head.latex", heavy, rules.Known{"head.latex": true}, rules.CannotTell},
		{"not unknown", "not (head.mass_g > 36)", heavy, rules.Known{}, rules.CannotTell},
		{"choice of the known side", "head.latex ? head.layers > 1 : head.mass_g > 1", heavy, rules.Known{"head.latex": true, "head.layers": true}, rules.Fired},
		{"choice by the unknown", "head.latex ? head.layers > 1 : head.layers > 0", heavy, rules.Known{"head.layers": true}, rules.CannotTell},

		// A refusal that meets what can't be computed refuses.
		{"division by nothing", "head.mass_g / (head.layers - 2) < 1", heavy, nil, rules.Fired},
		{"not a number", "head.mass_g < 50", mallet{Head: mhead{MassG: math.NaN()}}, nil, rules.Fired},
		{"infinite", "not (head.mass_g > 50)", mallet{Head: mhead{MassG: math.Inf(1)}}, nil, rules.Fired},
		{"not a number, but it does not matter", "head.mass_g < 50 and head.latex", mallet{Head: mhead{MassG: math.NaN()}}, nil, rules.Quiet},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := one(t, tt.when)
			got := b.Ask("head", tt.facts, tt.known)
			if len(got) != 1 || got[0].State != tt.want {
				t.Errorf("%s is %+v, want %s", tt.when, got, tt.want)
			}
			_, refused := b.Scorer("head", tt.known).Score(&tt.facts)
			if (refused != nil) != (tt.want == rules.Fired) {
				t.Errorf("%s: the scorer says refused by %v", tt.when, refused)
			}
			if _, err := json.Marshal(got); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestBrokenPreference: what can't be computed earns and costs nothing.
func TestBrokenPreference(t *testing.T) {
	b := book(t, strings.Replace(with("when", "when: 1/head.layers > 0"), "do: refuse", "do: prefer\n    weight: 2", 1))
	var f mallet
	if got := b.Ask("head", f, nil)[0].State; got != rules.CannotTell {
		t.Errorf("1/0 > 0 is %s", got)
	}
	if score, _ := b.Scorer("head", nil).Score(&f); score != 0 {
		t.Errorf("1/0 > 0 scores %v", score)
	}
}

func TestTrace(t *testing.T) {
	b := one(t, `head.mass_g - 2 > player.most_g and (head.core != "wood" or not head.latex)`)
	f := mallet{mhead{MassG: 41.237, Core: "rubber"}, mplayer{MostG: 36}}
	got := b.Ask("head", f, rules.Known{"head.mass_g": true, "head.core": true, "player.most_g": true})[0]
	want := []rules.Reading{
		{Expr: "head.mass_g", Value: 41.237, Unit: "g"},
		{Expr: "head.mass_g - 2", Value: 39.237},
		{Expr: "player.most_g", Value: 36.0, Unit: "g"},
		{Expr: "head.mass_g - 2 > player.most_g", Value: true},
		{Expr: "head.core", Value: "rubber"},
		{Expr: `head.core != "wood"`, Value: true},
		{Expr: "head.latex"},
	}
	if diff := cmp.Diff(want, got.Values); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	text, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	wantJSON := `{"rule":"too-heavy","title":"too heavy","do":"refuse","source":"practice","at":"a.yaml:2","state":"fired","values":[` +
		`{"expr":"head.mass_g","value":41.237,"unit":"g"},{"expr":"head.mass_g - 2","value":39.237},{"expr":"player.most_g","value":36,"unit":"g"},` +
		`{"expr":"head.mass_g - 2 \u003e player.most_g","value":true},{"expr":"head.core","value":"rubber"},{"expr":"head.core != \"wood\"","value":true},` +
		`{"expr":"head.latex","value":null}],"reason":"41.2 g is over 36.0 g","change":"lose 5.2 g"}`
	if diff := cmp.Diff(wantJSON, string(text)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if got.Reason != "41.2 g is over 36.0 g" || got.Change != "lose 5.2 g" {
		t.Errorf("reason %q, change %q", got.Reason, got.Change)
	}
}

// TestLikeExpr puts random conditions to the machine of package expr too.
func TestLikeExpr(t *testing.T) {
	told := 0
	rapid.Check(t, func(t *rapid.T) {
		when := condition(t, 3)
		file := strings.Replace(with("when", "when: '"+when+" or a.flag and not a.flag'"), "[{head.mass_g: 41, player.most_g: 36}]", "[{a.x: 1}]", 1)
		file = strings.Replace(file, "[{head.mass_g: 30, player.most_g: 36}]", "[{a.x: 1}]", 1)
		file = strings.Replace(file, "{head.mass_g:g} is over {player.most_g:g}", "r", 1)
		file = strings.Replace(file, "lose {head.mass_g - player.most_g:.1f} g", "c", 1)
		file = strings.Replace(file, "do: refuse", "do: note", 1)
		opts := rules.Options{On: map[string][]string{"head": {"a"}}}
		b, err := rules.Load[world](opts, yamlfile.Source{Name: "r.yaml", Data: []byte(file)})
		if err != nil {
			t.Fatal(err)
		}
		number := rapid.SampledFrom([]float64{-2, -0.5, 0, 0.5, 1, 2, 3})
		f := world{group{X: number.Draw(t, "x"), Y: number.Draw(t, "y"), Word: rapid.SampledFrom([]string{"red", "green"}).Draw(t, "word"), Flag: rapid.Bool().Draw(t, "flag")}}
		got := b.Ask("head", f, nil)[0].State
		if got == rules.CannotTell {
			return // not finite, where expr goes on
		}
		told++
		want, err := expr.Eval(when, f)
		if err != nil {
			t.Fatal(err)
		}
		if (got == rules.Fired) != want.(bool) {
			t.Errorf("%s on %+v: %s, and expr says %v", when, f, got, want)
		}
	})
	if told == 0 {
		t.Error("no condition could be told")
	}
}

// TestUnknownIsCareful: what a rule says while facts are unknown stays true
// whatever they turn out to be.
func TestUnknownIsCareful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		when := condition(t, 3)
		file := "rules:\n  - {id: r, title: t, on: head, when: '" + when + " or a.flag and not a.flag', do: note, reason: r, source: s, fires: [{a.x: 1}], quiet: [{a.x: 1}]}\n"
		b, err := rules.Load[world](rules.Options{On: map[string][]string{"head": {"a"}}}, yamlfile.Source{Name: "r.yaml", Data: []byte(file)})
		if err != nil {
			t.Fatal(err)
		}
		number := rapid.Float64Range(-3, 3)
		draw := func(label string) world {
			return world{group{X: number.Draw(t, label), Y: number.Draw(t, label), Word: rapid.SampledFrom([]string{"red", "green"}).Draw(t, label), Flag: rapid.Bool().Draw(t, label)}}
		}
		f, g := draw("now"), draw("later")
		known := rules.Known{}
		keep := func(path string, set func()) {
			if rapid.Bool().Draw(t, path+" known") {
				known[path] = true
				set()
			}
		}
		keep("a.x", func() { g.A.X = f.A.X })
		keep("a.y", func() { g.A.Y = f.A.Y })
		keep("a.word", func() { g.A.Word = f.A.Word })
		keep("a.flag", func() { g.A.Flag = f.A.Flag })
		now, later := b.Ask("head", f, known)[0].State, b.Ask("head", g, nil)[0].State
		if now != rules.CannotTell && later != rules.CannotTell && now != later {
			t.Errorf("%s is %s knowing %v of %+v, and %s on %+v", when, now, known, f, later, g)
		}
	})
}

func TestOpen(t *testing.T) {
	b := book(t, heavy, strings.ReplaceAll(with("when", "when: head.latex and head.layers > 1"), "too-heavy", "latex"))
	f := mallet{Head: mhead{Layers: 2}}
	got := map[string][]string{}
	for path, list := range b.Open("head", f, rules.Known{"head.layers": true, "player.most_g": true}) {
		for _, r := range list {
			got[path] = append(got[path], r.ID)
		}
	}
	want := map[string][]string{"head.mass_g": {"too-heavy"}, "head.latex": {"latex"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if got := b.Open("head", f, nil); len(got) != 0 {
		t.Errorf("with everything known, %v is open", got)
	}
}

func TestWeights(t *testing.T) {
	choose := func(id, when, weight string) string {
		return "rules:\n  - {id: " + id + ", title: t, on: player, when: " + when + ", do: choose, give: mass, weight: " + weight +
			", reason: r, source: s, fires: [{player.most_g: 50}], quiet: [{player.most_g: 20}]}\n"
	}
	b := book(t, choose("low", "player.most_g > 30", "1.5"), choose("high", "player.most_g > 40", "2"))
	for _, tt := range []struct {
		most  float64
		known rules.Known
		want  map[string]float64
	}{
		{20, nil, map[string]float64{}},
		{35, nil, map[string]float64{"mass": 1.5}},
		{50, nil, map[string]float64{"mass": 2}},
		{50, rules.Known{}, map[string]float64{}},
	} {
		if diff := cmp.Diff(tt.want, b.Weights(mallet{Player: mplayer{MostG: tt.most}}, tt.known)); diff != "" {
			t.Errorf("at %v: -want +got\n%s", tt.most, diff)
		}
	}
}

func TestScore(t *testing.T) {
	prefer := func(id, when, weight string) string {
		return "rules:\n  - {id: " + id + ", title: t, on: head, when: '" + when + "', do: prefer, weight: " + weight +
			", reason: r, source: s, fires: [{head.layers: 1}], quiet: [{head.layers: 0}]}\n"
	}
	b := book(t, prefer("one", "head.layers >= 1", "2"), prefer("two", "head.layers >= 2", "-0.5"), heavy)
	s := b.Scorer("head", nil)
	f := mallet{mhead{MassG: 30, Layers: 2}, mplayer{MostG: 36}}
	if score, refused := s.Score(&f); score != 1.5 || refused != nil {
		t.Errorf("score %v, refused by %v", score, refused)
	}
	f.Head.MassG = 40
	if score, refused := s.Score(&f); score != 0 || refused == nil || refused.ID != "too-heavy" {
		t.Errorf("score %v, refused by %v", score, refused)
	}
	if n := testing.AllocsPerRun(100, func() { s.Score(&f) }); n != 0 {
		t.Errorf("Score allocates %v times", n)
	}
}

// TestWithin: where some facts are given, every set of the others scores the
// same.
func TestWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file := "rules:\n"
		for i := range 4 {
			do := rapid.SampledFrom([]string{"refuse", "prefer, weight: 1", "prefer, weight: -3"}).Draw(t, "do")
			when := strings.NewReplacer("a.y", "g.y", "a.word", "g.word").Replace(condition(t, 3))
			file += fmt.Sprintf("  - {id: r%d, title: t, on: head, when: '%s or a.flag and not a.flag', do: %s, reason: r, source: s, fires: [{a.x: 1}], quiet: [{a.x: 1}]}\n", i, when, do)
		}
		type split struct {
			A group `expr:"a"`
			G group `expr:"g"`
		}
		b, err := rules.Load[split](rules.Options{On: map[string][]string{"head": {"a", "g"}}}, yamlfile.Source{Name: "r.yaml", Data: []byte(file)})
		if err != nil {
			t.Fatal(err)
		}
		number := rapid.SampledFrom([]float64{-2, 0, 0.5, 1, 2, 3})
		draw := func() group {
			return group{number.Draw(t, "x"), number.Draw(t, "y"), rapid.SampledFrom([]string{"red", "green"}).Draw(t, "word"), rapid.Bool().Draw(t, "flag")}
		}
		given := split{draw(), draw()}
		var known rules.Known
		if rapid.Bool().Draw(t, "some unknown") {
			known = rules.Known{"a.x": true, "a.word": true, "a.flag": true, "g.word": true, "g.flag": rapid.Bool().Draw(t, "flag known")}
		}
		lo, hi := given, given
		lo.A, hi.A = group{X: -3, Y: -3, Word: "red"}, group{X: 3, Y: 3, Word: "green", Flag: true}
		plain := b.Scorer("head", known)
		_, quick := b.Bounder("head", known).Within(&lo, &hi)
		for range 4 {
			f := split{draw(), given.G}
			score1, refused1 := plain.Score(&f)
			score2, refused2 := quick.Score(&f)
			if score1 != score2 || refused1 != refused2 {
				t.Errorf("%s%+v\nscores %v (%v), and with g given %v (%v)", file, f, score1, refused1, score2, refused2)
			}
		}
	})
}

func ExampleBook_Ask() {
	b, err := rules.Load[mallet](options(), yamlfile.Source{Name: "mass.yaml", Data: []byte(heavy)})
	if err != nil {
		panic(err)
	}
	f := mallet{mhead{MassG: 41}, mplayer{MostG: 36}}
	for _, known := range []rules.Known{nil, {"head.mass_g": true}} {
		for _, firing := range b.Ask("head", f, known) {
			fmt.Printf("%s %s: %q\n", firing.Rule.ID, firing.State, firing.Reason)
			for _, value := range firing.Values {
				fmt.Println(" ", value)
			}
		}
	}
	// Output:
	// too-heavy fired: "41.0 g is over 36.0 g"
	//   head.mass_g = 41 g
	//   player.most_g = 36 g
	//   head.mass_g > player.most_g = yes
	// too-heavy cannot tell yet: ""
	//   head.mass_g = 41 g
	//   player.most_g is not known
	//   head.mass_g > player.most_g is not known
}
