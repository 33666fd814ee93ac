package hunch

import (
	"bufio"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
)

func newNet(t testing.TB) *Net {
	t.Helper()
	n, err := New()
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// sample is a line and what the network thought of it where it was taught, in
// another language and with another library's arithmetic.
type sample struct {
	Asked  string             `json:"asked"`
	Words  []Word             `json:"words"`
	Likely map[string]float64 `json:"likely"`
}

func samples(t testing.TB) []sample {
	t.Helper()
	f, err := os.Open("testdata/samples.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []sample
	for in := bufio.NewScanner(f); in.Scan(); {
		var s sample
		if err := json.Unmarshal(in.Bytes(), &s); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	if len(out) < 30 {
		t.Fatalf("%d samples", len(out))
	}
	return out
}

// TestThink compares with what the program that taught the network computed. Rows of
// words are rounded to a byte here, which moves a likelihood by a hundredth or two.
func TestThink(t *testing.T) {
	const tol = 0.04
	n := newNet(t)
	for _, s := range samples(t) {
		o := Opinion{n, n.likely(s.Words, s.Asked)}
		for label, want := range s.Likely {
			if got, ok := o.Of(label); !ok || math.Abs(got-want) > tol {
				t.Errorf("%v, asked %q: %s is likely %.3f, %v; taught as %.3f", s.Words, s.Asked, label, got, ok, want)
			}
		}
	}
}

func TestNoOpinion(t *testing.T) {
	n := newNet(t)
	for name, o := range map[string]Opinion{
		"nothing":  n.Think(nil, ""),
		"too long": n.Think(make([]Word, Longest+1), ""),
		"zero":     {},
	} {
		if _, ok := o.Of("want.mass_g"); ok {
			t.Errorf("%s: there is an opinion", name)
		}
		if o.Fact("want.mass_g", nil) || o.Move("want.mass_g", 1) || o.Harm("player.minor", false) || o.Part("core") {
			t.Errorf("%s: something is in doubt", name)
		}
		if m := o.Missed(); m != nil {
			t.Errorf("%s: missed %q", name, m)
		}
	}
	if (Opinion{}).Idle(Signs{More: 9}) {
		t.Error("a line that there is no opinion of asks nothing")
	}
	o := n.Think([]Word{{Text: "make"}, {Text: "it"}, {Text: "mellow"}, {Text: "please"}}, "")
	if _, ok := o.Of("want.nonsense"); ok {
		t.Error("there is an opinion of a fact that was not taught")
	}
	if o.Fact("want.nonsense", 3.0) {
		t.Error("a fact that was not taught is in doubt")
	}
	if !o.Fact("bench.scale", true) {
		t.Error("make it mellow please: a scale is not in doubt")
	}
}

func TestWord(t *testing.T) {
	n := newNet(t)
	for i := range n.Words {
		at := func(i int) int { return int(number(n.at[4*i:])) }
		if w := n.words[at(i):at(i+1)]; n.word(w) != i+1 {
			t.Fatalf("word %d, %q, is found at %d", i+1, w, n.word(w))
		}
	}
	for _, w := range []string{"", "zzzzzzzz", "\xff", "0"} {
		if i := n.word(w); i != 0 && w != "0" {
			t.Errorf("%q is word %d", w, i)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for name, data := range map[string]string{
		"nothing":        "",
		"other magic":    "hunch99\n" + weights[8:],
		"no lengths":     weights[:12],
		"within head":    weights[:40],
		"head no JSON":   strings.Replace(weights, `{"labels"`, `{"labels`, 1),
		"cut short":      weights[:len(weights)-4],
		"a byte too far": weights + "x",
	} {
		if _, err := parse(data); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func BenchmarkThink(b *testing.B) {
	n := newNet(b)
	for _, s := range samples(b) {
		if len(s.Words) == 15 {
			for b.Loop() {
				n.Think(s.Words, s.Asked)
			}
			return
		}
	}
	b.Fatal("no sample of 15 words")
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		newNet(b)
	}
}

// TestIdle has the network tell what asks from what only looks like it.
func TestIdle(t *testing.T) {
	n := newNet(t)
	think := func(s string) Opinion {
		var words []Word
		for _, w := range strings.Fields(s) {
			words = append(words, Word{Text: w})
		}
		return n.Think(words, "")
	}
	if o := think("what glue should i use for the wool ?"); o.Idle(Signs{Mark: true, Word: true, Only: true}) {
		t.Error("what glue should i use: asks nothing")
	}
	if o := think("lunch was 4 bucks , daylight robbery"); !o.Idle(Signs{}) {
		t.Error("lunch was 4 bucks: asks")
	}
}
