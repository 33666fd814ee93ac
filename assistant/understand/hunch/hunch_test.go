package hunch

import (
	"bufio"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

func newNet(t testing.TB) *Net {
	t.Helper()
	n, err := New(func(_, word string) (any, error) { return word, nil })
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
	Heard  []reading.Heard    `json:"heard"`
	Likely map[string]float64 `json:"likely"` // before it is known what was heard
	Later  map[string]float64 `json:"later"`
	Took   []struct {
		Shown
		Of     string  `json:"of"`
		Likely float64 `json:"likely"`
	} `json:"took"`
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

// of returns how likely a line speaks of a label; not ok for one that was not taught.
func of(o Opinion, label string) (likely float64, ok bool) {
	if o.net == nil {
		return 0, false
	}
	i, ok := o.net.label[label]
	if !ok {
		return 0, false
	}
	return float64(o.likely[i]), true
}

// TestThink compares with what the program that taught the network computed. Rows of
// words are rounded to a byte here, which moves a likelihood by a hundredth or two.
func TestThink(t *testing.T) {
	const tol = 0.04
	n := newNet(t)
	answers := 0
	for _, s := range samples(t) {
		whole := n.look(s.Words, s.Asked)
		first := Opinion{net: n, likely: shares(whole.odds), whole: whole, most: whole.most}
		later := first.Knowing(s.Heard)
		for _, c := range []struct {
			o    Opinion
			want map[string]float64
		}{{first, s.Likely}, {later, s.Later}} {
			for label, want := range c.want {
				if got, ok := of(c.o, label); !ok || math.Abs(got-want) > tol {
					t.Errorf("%v, asked %q: %s is likely %.3f, %v; taught as %.3f", s.Words, s.Asked, label, got, ok, want)
				}
			}
		}
		for _, a := range s.Took {
			answers++
			o := later
			if a.Of == Act || a.Of == Order {
				o = first
			}
			if got, ok := o.Right(a.Shown); !ok || math.Abs(got-a.Likely) > tol {
				t.Errorf("%v: %s is likely right %.3f, %v; taught as %.3f", s.Words, a.Name, got, ok, a.Likely)
			}
		}
	}
	if answers < 30 {
		t.Errorf("only %d answers", answers)
	}
}

func TestNoOpinion(t *testing.T) {
	n := newNet(t)
	for name, o := range map[string]Opinion{
		"nothing":  n.Think(nil, "", false),
		"too long": n.Think(make([]Word, Longest+1), "", false),
		"zero":     {},
	} {
		if _, ok := of(o, "want.mass_g"); ok {
			t.Errorf("%s: there is an opinion", name)
		}
		if p, ok := o.Right(Show(reading.Answer{Of: Take, Path: "want.mass_g", Value: 23.0}, nil, "")); ok {
			t.Errorf("%s: an answer is likely right %g", name, p)
		}
		if g := o.Guesses(); g != nil {
			t.Errorf("%s: guesses %v", name, g)
		}
	}
	o := n.Think([]Word{{Text: "make"}, {Text: "it"}, {Text: "mellow"}, {Text: "please"}}, "", false)
	if _, ok := of(o, "want.nonsense"); ok {
		t.Error("there is an opinion of a fact that was not taught")
	}
}

// TestRight has the network tell a telling from the same word said of something else.
func TestRight(t *testing.T) {
	n := newNet(t)
	right := func(line, text string, a reading.Answer) float64 {
		words := said(line)
		a.Text, a.Sure = text, 1
		o := n.Think(words, "", false)
		switch a.Of { // of an act it is asked before the line is read
		case Take:
			o = o.Knowing(Hear(reading.Reading{Takes: []reading.Take{{Path: a.Path, Value: a.Value, Sure: 1}}, Acts: []reading.Act{reading.Tell}}, 0))
		case Harm:
			o = o.Knowing(Hear(reading.Reading{Harm: []harm.Fact{{Path: a.Path, Value: a.Value == true}}, Acts: []reading.Act{reading.Tell}}, 0))
		}
		p, ok := o.Right(Show(a, words, line))
		if !ok {
			t.Fatalf("%s: no opinion", line)
		}
		return p
	}
	for _, tt := range []struct {
		yes, no, said string
		a             reading.Answer
	}{
		{"i want them really soft please", "the carpet in here is soft", "soft", reading.Answer{Of: Take, Path: facts.WantSoftness, Value: 2.0}},
		{"what glue should i use for the wool ?", "you know what lunch was 4 bucks so cheap ones", "what", reading.Answer{Of: Act, Path: "act.question", Value: "ask"}},
		{"my pupils are 11 and they make them", "my marimba is 11 years old", "11", reading.Answer{Of: Harm, Path: facts.PlayerMinor, Value: true}},
	} {
		if yes, no := right(tt.yes, tt.said, tt.a), right(tt.no, tt.said, tt.a); yes < no+0.2 {
			t.Errorf("%s = %v: likely right %.2f in %q, %.2f in %q", tt.a.Path, tt.a.Value, yes, tt.yes, no, tt.no)
		}
	}
	if none := (*Net)(nil); none.Asks(Take, 0) || none.Leaves(Take, 0) || none.Gone(Take, 0) {
		t.Error("without a network something is doubted")
	}
}

// said are the words of a line, as they were written.
func said(line string) (out []Word) {
	at := 0
	for _, s := range strings.Fields(line) {
		out = append(out, Word{Text: s, from: at, to: at + len(s)})
		at += len(s) + 1
	}
	return out
}

// A network that isn't there guesses nothing.
func TestNoGuess(t *testing.T) {
	none := (*Net)(nil)
	if none.Holds(Guess{Of: Move, Likely: 1}) || none.Wonders(Guess{Speaks: 1}) || none.Drops(Guess{Of: Withdraw, Likely: 1}) {
		t.Error("without a network something is guessed")
	}
	if act, ok := none.Orders(Opinion{}); ok {
		t.Errorf("without a network %q is ordered", act)
	}
	n := newNet(t)
	for _, tt := range []struct {
		g           Guess
		holds, sure bool
	}{
		{Guess{Of: Take, Value: "dark", Likely: 0.6}, true, false},
		{Guess{Of: Take, Value: "dark", Likely: 0.95}, true, true},
		{Guess{Of: Take, Likely: 0.95}, false, false}, // of no value
		{Guess{Of: Keep, Path: "core", Likely: 0.6}, false, false},
		{Guess{Of: Keep, Path: "core", Likely: 0.8}, true, false},
	} {
		if n.Holds(tt.g) != tt.holds || n.Sure(tt.g) != tt.sure {
			t.Errorf("%+v: held %v, sure %v", tt.g, n.Holds(tt.g), n.Sure(tt.g))
		}
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
		"other magic":    "hunch01\n" + weights[8:],
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
		if len(s.Words) >= 15 {
			for b.Loop() {
				n.Think(s.Words[:15], s.Asked, false).Knowing(s.Heard)
			}
			return
		}
	}
	b.Fatal("no sample of 15 words")
}

func BenchmarkRight(b *testing.B) {
	n := newNet(b)
	for _, s := range samples(b) {
		if len(s.Words) >= 15 && len(s.Took) > 0 {
			o := n.Think(s.Words[:15], s.Asked, false).Knowing(s.Heard)
			for b.Loop() {
				o.Right(s.Took[0].Shown)
			}
			return
		}
	}
	b.Fatal("no sample of 15 words with an answer")
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		newNet(b)
	}
}
