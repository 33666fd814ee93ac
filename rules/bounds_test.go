package rules_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"mallow/knowledge/yamlfile"
	"mallow/rules"
)

// world is a small set of facts.
type world struct {
	A group `expr:"a"`
}

type group struct {
	X    float64 `expr:"x" doc:"a number"`
	Y    float64 `expr:"y" doc:"another"`
	Word string  `expr:"word" oneof:"red|green" doc:"a word"`
	Flag bool    `expr:"flag" doc:"a flag"`
}

// conditions are put together at random from these.
var (
	numbers = []string{"a.x", "a.y", "2", "a.x + a.y", "a.x - 2*a.y", "abs(a.x)", "min(a.x, a.y)", "a.x / a.y", "max(a.y, 1)", "round(a.x)", "a.x * a.y", "(a.flag ? a.x : a.y)", "-a.x", "max(a.x, 1) ^ 2"}
	truths  = []string{"a.flag", "a.word == \"red\"", "a.word in [\"red\", \"green\"]", "a.word != \"green\"", "a.x in [1, 2]", "a.x == a.y"}
)

func condition(t *rapid.T, depth int) string {
	number := rapid.SampledFrom(numbers)
	switch rapid.IntRange(0, 4+depth).Draw(t, "form") {
	case 0, 1:
		return fmt.Sprintf("%s %s %s", number.Draw(t, "left"), rapid.SampledFrom([]string{"<", "<=", ">", ">=", "==", "!="}).Draw(t, "op"), number.Draw(t, "right"))
	case 2, 3, 4:
		return rapid.SampledFrom(truths).Draw(t, "truth")
	case 5:
		return "not (" + condition(t, depth-1) + ")"
	}
	return fmt.Sprintf("(%s) %s (%s)", condition(t, depth-1), rapid.SampledFrom([]string{"and", "or"}).Draw(t, "join"), condition(t, depth-1))
}

// TestBoundHolds draws rules, boxes of facts and facts in them: no facts score
// above the bound of their box, and a box is refused only with all in it.
func TestBoundHolds(t *testing.T) {
	small := rapid.IntRange(-3, 3)
	rapid.Check(t, func(t *rapid.T) {
		file := "rules:\n"
		for i := range rapid.IntRange(1, 4).Draw(t, "rules") {
			do := "refuse"
			if rapid.IntRange(0, 3).Draw(t, "effect") > 0 {
				do = fmt.Sprintf("prefer\n    weight: %d", 2*rapid.IntRange(-2, 2).Draw(t, "weight")+1)
			}
			when := condition(t, 2)
			file += fmt.Sprintf("  - id: r%d\n    title: t\n    on: head\n    when: '%s or false and a.flag'\n    do: %s\n    reason: r\n    source: s\n    fires: [{a.x: 1}]\n    quiet: [{a.x: 1}]\n", i, when, do)
		}
		book, err := rules.Load[world](rules.Options{On: map[string][]string{"head": {"a"}}}, yamlfile.Source{Name: "r.yaml", Data: []byte(file)})
		if err != nil {
			t.Skip(err)
		}
		known := rules.Known{"a.x": true, "a.y": true, "a.word": true, "a.flag": true}
		if rapid.Bool().Draw(t, "some unknown") {
			delete(known, rapid.SampledFrom([]string{"a.x", "a.word", "a.flag"}).Draw(t, "unknown"))
		}
		var lo, hi, f world
		side := func(lo, hi, at *float64) {
			a, b, c := float64(small.Draw(t, "lo")), float64(small.Draw(t, "at")), float64(small.Draw(t, "hi"))
			*lo, *hi, *at = min(a, b, c), max(a, b, c), max(min(a, b), min(max(a, b), c))
			if rapid.IntRange(0, 9).Draw(t, "open") == 0 {
				*hi = math.Inf(1)
			}
		}
		side(&lo.A.X, &hi.A.X, &f.A.X)
		side(&lo.A.Y, &hi.A.Y, &f.A.Y)
		words := rapid.SampledFrom([]string{"red", "green"})
		lo.A.Word, hi.A.Word = words.Draw(t, "word"), words.Draw(t, "word")
		f.A.Word = lo.A.Word
		lo.A.Flag, hi.A.Flag = rapid.Bool().Draw(t, "flag"), rapid.Bool().Draw(t, "flag")
		f.A.Flag = hi.A.Flag
		score, refused := book.Scorer("head", known).Score(&f)
		most, all := book.Bounder("head", known).Bound(&lo, &hi)
		if all != nil && refused == nil {
			t.Fatalf("%s\nthe box %+v to %+v is refused by %s, but %+v in it is not", file, lo, hi, all.ID, f)
		}
		if refused == nil && score > most {
			t.Fatalf("%s\n%+v scores %v, above the bound %v of %+v to %+v", file, f, score, most, lo, hi)
		}
		narrow, scorer := book.Bounder("head", known).Within(&lo, &hi)
		if again, no := scorer.Score(&f); again != score || (no == nil) != (refused == nil) {
			t.Fatalf("%s\n%+v scores %v (%v), within %+v to %+v %v (%v)", file, f, score, refused, lo, hi, again, no)
		}
		if m, a := narrow.Bound(&lo, &hi); m != most || (a == nil) != (all == nil) {
			t.Fatalf("%s\nbound %v (%v), within its own box %v (%v)", file, most, all, m, a)
		}
		// A box of one set of facts, all of them known, is bound exactly.
		if len(known) < 4 {
			return
		}
		point, alone := book.Bounder("head", known).Bound(&f, &f)
		if (alone == nil) != (refused == nil) || refused == nil && point != score {
			t.Fatalf("%s\n%+v: scores %v (%v), bound as a point %v (%v)", file, f, score, refused, point, alone)
		}
	})
}
