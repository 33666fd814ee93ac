package change

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

var update = flag.Bool("update", false, "record the cheapest changes anew, of all that there are")

// recorded is where the cheapest changes are.
const recorded = "testdata/least.txt"

// request is one line of the recorded requests.
type request struct {
	text string // as it stands there
	from head.Stack
	aim  Aim
	q    propose.Request
	want string // the head that it comes to, and its cents; none where there is no such head, had where none of what is to go is in it
}

// requests reads the recorded requests.
func requests(t *testing.T, f *propose.Finder) (list []request) {
	t.Helper()
	data, err := os.ReadFile(recorded)
	if err != nil {
		t.Fatal(err)
	}
	var r request
	for line := range strings.Lines(string(data)) {
		text, want, _ := strings.Cut(strings.TrimRight(line, "\n"), " = ")
		switch {
		case text == "" || text[0] == '#':
		case text[0] != ' ':
			for_, stack, _ := strings.Cut(text, ": ")
			if r.from, err = head.Parse(f.Catalogue(), stack); err != nil {
				t.Fatal(err)
			}
			r.q = wish(t, strings.Fields(for_))
		default:
			x := r
			x.text, x.want = r.from.String()+", "+strings.TrimSpace(text), want
			x.read(t, strings.Fields(text))
			list = append(list, x)
		}
	}
	return list
}

// wish reads what the head was proposed for: instrument, grip, softness or none, colour.
func wish(t *testing.T, words []string) propose.Request {
	t.Helper()
	q := proposetest.Player()
	q.Facts.Instrument.Kind, q.Facts.Player.Grip = words[0], words[1]
	if words[2] != "none" {
		q.Facts.Want.Softness, q.Known = number(t, words[2]), map[string]bool{facts.WantSoftness: true}
	}
	if len(words) > 3 {
		q.Facts.Want.Colour = words[3]
	}
	return q
}

// read reads how the head is to be changed.
func (r *request) read(t *testing.T, words []string) {
	t.Helper()
	r.aim.Moves = []Move{{Way: strings.ReplaceAll(words[0], "-", " ")}}
	last := func() *Move { return &r.aim.Moves[len(r.aim.Moves)-1] }
	for words = words[1:]; len(words) > 1; words = words[2:] {
		switch x := words[1]; words[0] {
		case "by":
			last().By = number(t, x)
		case "times":
			last().Times = number(t, x)
		case "and":
			r.aim.Moves = append(slices.Clone(r.aim.Moves), Move{Way: strings.ReplaceAll(x, "-", " ")})
		case "keep":
			r.aim.Keep = append(r.aim.Keep, x)
		case "only":
			r.aim.Only = append(r.aim.Only, x)
		case "out":
			r.q.Pin.Without = append(slices.Clone(r.q.Pin.Without), x)
		case "most":
			r.aim.Limits = append(r.aim.Limits, Limit{Fact: x, Most: true, Value: number(t, words[2])})
			words = words[1:]
		default:
			t.Fatalf("%s: %q", r.text, words[0])
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// every is the cheapest of all the changes that there are: each is struck, and each
// judged that might yet be cheaper than the cheapest found, which no judging makes it.
func (x *changing) every() *priced {
	x.rest()
	slices.SortFunc(x.found, func(a, b *priced) int { return cmp.Compare(a.total, b.total) })
	var best *priced
	for _, p := range x.found {
		if best != nil && p.total > best.total {
			break
		}
		if !x.judge(p) || !x.goal.reached(p.judged) || len(p.breaks) > 0 || best != nil && p.total >= best.total {
			continue
		}
		full, err := x.f.Consider(p.Stack, x.q)
		if err == nil && full.Refused() == nil && x.goal.reached(&full) && len(x.goal.breaks(&full)) == 0 {
			best = p
		}
	}
	return best
}

// The search finds the cheapest change there is: what was recorded of 60 requests by
// trying every change, or a cheaper one.
func TestLeast(t *testing.T) {
	f := proposetest.Finder(t)
	list := requests(t, f)
	if *update {
		record(t, f, list)
		return
	}
	none := 0
	for _, r := range list {
		c, err := Find(context.Background(), f, r.from, r.aim, r.q, 0)
		if cannot := (*Cannot)(nil); errors.As(err, &cannot) {
			if none++; r.want != "none" {
				t.Errorf("%s: no change, and there is %s", r.text, r.want)
			}
			continue
		}
		if errors.Is(err, ErrNone) && r.want == "had" {
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", r.text, err)
			continue
		}
		stack, cents, _ := strings.Cut(r.want, ", ")
		if r.want == "none" || c.Stack != stack && c.total > number(t, cents)+0.01 || c.Stack == stack && math.Abs(c.total-number(t, cents)) > 0.01 {
			t.Errorf("%s: %s for %.2f cents, and %s was recorded", r.text, c.Stack, c.total, r.want)
		}
	}
	if none > len(list)/4 {
		t.Errorf("%d of %d requests can't be met: they check nothing", none, len(list))
	}
}

// What is recorded of every tenth request, with MALLOW_LONG set of each, is still
// the cheapest of all changes.
func TestLeastOfAll(t *testing.T) {
	f := proposetest.Finder(t)
	every := 10
	if os.Getenv("MALLOW_LONG") != "" {
		every = 1
	}
	for i, r := range requests(t, f) {
		if i%every != 3%every {
			continue
		}
		if got := r.least(t, f); got != r.want {
			t.Errorf("%s: %s, recorded is %s", r.text, got, r.want)
		}
	}
}

// least is what every change comes to, as it is recorded.
func (r *request) least(t *testing.T, f *propose.Finder) string {
	t.Helper()
	x, err := start(f, r.from, r.aim, r.q)
	if err != nil {
		t.Fatal(err)
	}
	if x.goal.had() {
		return "had"
	}
	p := x.every()
	if p == nil {
		return "none"
	}
	return fmt.Sprintf("%s, %.2f", p.judged.Stack, p.total)
}

// record writes the recorded requests anew.
func record(t *testing.T, f *propose.Finder, list []request) {
	data, err := os.ReadFile(recorded)
	if err != nil {
		t.Fatal(err)
	}
	var s strings.Builder
	for line := range strings.Lines(string(data)) {
		if line[0] != ' ' {
			s.WriteString(line)
			continue
		}
		text, _, _ := strings.Cut(strings.TrimRight(line, "\n"), " = ")
		fmt.Fprintf(&s, "%s = %s\n", text, list[0].least(t, f))
		list = list[1:]
	}
	if err := os.WriteFile(recorded, []byte(s.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
