package along_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"mallow/assistant/along"
	"mallow/assistant/page"
	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

const demo = "poly-1-1/8-drilled + latex-3/4x1/8 + wool-medium*128 + birch-15" // an everyday head

// walk is a build with its lines and what was said to them.
type walk struct {
	t     *testing.T
	b     *along.Build
	asked string
	said  string // all of it
}

// shop is a guide over the shipped catalogue, made once.
var shop = sync.OnceValues(func() (shop struct {
	cat    *knowledge.Catalogue
	finder *propose.Finder
	guide  *along.Guide
}, err error) {
	if shop.cat, err = knowledge.Default(); err != nil {
		return shop, err
	}
	book, err := facts.Book()
	if err != nil {
		return shop, err
	}
	finder, err := propose.New(shop.cat, book)
	if err != nil {
		return shop, err
	}
	shop.finder = finder
	sheets, err := sheet.NewMaker(shop.cat)
	if err != nil {
		return shop, err
	}
	shop.guide, err = along.New(shop.cat, finder, sheets)
	return shop, err
})

func start(t *testing.T, job string, heads int) *walk {
	t.Helper()
	shop, err := shop()
	if err != nil {
		t.Fatal(err)
	}
	stack, err := head.Parse(shop.cat, demo)
	if err != nil {
		t.Fatal(err)
	}
	q := propose.Request{Known: rules.Known{}, Pass: gate.Settle(gate.Stated{LatexOK: gate.Yes, RubberOK: gate.Yes, Minor: gate.No, Supervised: gate.Yes, SolventOK: gate.No, Ventilated: gate.Yes})}
	q.Facts.Instrument.Kind, q.Facts.Instrument.Bars = "marimba", "wood"
	q.Facts.Player.Grip, q.Facts.Player.Mallets = "two", 2
	for _, path := range []string{"instrument.kind", "player.grip"} {
		q.Known[path] = true
	}
	b, err := shop.guide.Start(along.Job{ID: job, Stack: stack, Request: q, Heads: heads})
	if err != nil {
		t.Fatal(err)
	}
	return &walk{t: t, b: b, asked: b.Show().Ask}
}

// say says a line and returns the reply as text at 80 columns.
func (w *walk) say(line string) (string, along.Reply) {
	w.t.Helper()
	r, ok := w.b.Say(line)
	if !ok {
		w.t.Fatalf("at %s nothing was made of %q", w.b.At(), line)
	}
	var out bytes.Buffer
	p := r.Page
	if r.Ask != "" {
		p = append(p, page.Para(r.Ask+" (Enter: "+r.Enter+")"))
	}
	if err := page.Text(&out, p, page.Style{Width: 80, Plain: true}); err != nil {
		w.t.Fatal(err)
	}
	if n := strings.Count(out.String(), "\n"); n > 23 {
		w.t.Errorf("at %s %q gets %d lines:\n%s", w.b.At(), line, n, out.String())
	}
	w.asked = r.Ask
	w.said += "> " + line + "\n" + out.String() + "\n"
	return strings.Join(strings.Fields(out.String()), " "), r
}

// to goes on until a question has some words in it.
func (w *walk) to(words string) {
	w.t.Helper()
	for range 80 {
		if strings.Contains(w.asked, words) {
			return
		}
		if _, r := w.say(""); r.Done {
			break
		}
	}
	w.t.Fatalf("nobody asked %q:\n%s", words, w.said)
}

// expected is the figure in a question that a pattern finds.
func expected(t *testing.T, asked, pattern string) float64 {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(asked)
	if m == nil {
		t.Fatalf("no figure in %q", asked)
	}
	x, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func has(t *testing.T, got string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(got, w) {
			t.Errorf("no %q in: %s", w, got)
		}
	}
}

// Pressing Enter goes through every step of the build to its end.
func TestEnterGoesOn(t *testing.T) {
	w := start(t, "", 2)
	seen := map[string]bool{}
	for range 100 {
		_, r := w.say("")
		seen[w.b.At()] = true
		if r.Done {
			for _, s := range []string{"cut-slice 1", "pull-slice 1", "press-shaft", "pull-test", "wrap-first", "weigh-head", "clean-up"} {
				if !seen[s] {
					t.Errorf("step %s never came", s)
				}
			}
			return
		}
	}
	t.Fatalf("no end:\n%s", w.said)
}

// So does every word for done, also where a figure is asked for: nobody who says
// that a thing is done wants to leave.
func TestDoneGoesOn(t *testing.T) {
	for _, word := range []string{"done", "ok done", "okay, next", "ready", "all done"} {
		w := start(t, "", 2)
		ended := false
		for range 100 {
			_, r := w.say(word)
			if ended = r.Done; ended || r.Leave {
				break
			}
		}
		if !ended {
			t.Errorf("%q never comes to the end:\n%s", word, w.said)
		}
	}
}

// A figure told too soon is no other head: it is said where it is asked for, and
// the build stays where it is. A wish with a figure is not taken for one.
func TestFigureTooSoon(t *testing.T) {
	for _, line := range []string{"it's 12.1g", "weighs 11.2 g", "12 g", "it is 25.4 mm"} {
		w := start(t, "", 2)
		at := w.b.At()
		said, _ := w.say(line)
		if !strings.Contains(said, "I ask for that at step ") || w.b.At() != at {
			t.Errorf("%q at %s, now at %s: %s", line, at, w.b.At(), said)
		}
	}
	w := start(t, "", 2)
	for _, line := range []string{"make it 24 g", "12", "8 please"} {
		if r, ok := w.b.Say(line); ok {
			t.Errorf("%q is taken for a figure: %v", line, r.Page)
		}
	}
}

// Every measurement is off by what parts may be off: the rest of the build
// follows, and the softness planned is met by other turns.
func TestMeasured(t *testing.T) {
	w := start(t, "", 1)
	w.to("What does the ball weigh")
	got, _ := w.say("10.4")
	has(t, got, "0.3 g heavier than expected", "does not matter")
	w.to("What does the slice weigh")
	got, _ = w.say("6.6 g") // a wall at the thick end of what is sold
	has(t, got, "heavier than expected", "turns for the planned softness", "1. ")
	got, _ = w.say("1")
	has(t, got, "Noted:")
	w.to("How large is it over the slice")
	got, _ = w.say("1.36 in")
	if strings.Contains(got, "too far") {
		t.Error(got)
	}
	w.to("What does the head weigh")
	weighs := expected(t, w.asked, `Expected ([0-9.]+) g`) + 0.5
	w.say(fmt.Sprintf("%.1f", weighs))
	w.to("How large is it over everything")
	across := expected(t, w.asked, `([0-9.]+) mm\)`) + 0.3
	w.say(fmt.Sprintf("%.1f mm", across))
	if strings.Contains(w.asked, "Which") {
		w.say("1")
	}
	w.to("Shall I keep")
	_, r := w.say("yes")
	if !r.Done || !r.Keep {
		t.Errorf("done %v, keep %v", r.Done, r.Keep)
	}
	built := w.b.Built()
	if len(built) != 1 || math.Abs(built[0].Mass.Grams()-weighs) > 0.06 || math.Abs(built[0].Diameter.MM()-across) > 0.06 {
		t.Errorf("built: %+v", built)
	}
	if strings.Contains(built[0].Stack, "*128") {
		t.Errorf("the thicker wall left the turns as they were: %s", built[0].Stack)
	}
}

// A thicker wall asks for fewer turns to be as soft, a thinner for more.
func TestSoftenDirection(t *testing.T) {
	for _, tt := range []struct {
		weighs string
		more   bool
	}{{"6.6", false}, {"4.0", true}} {
		w := start(t, "", 1)
		w.to("What does the slice weigh")
		got, _ := w.say(tt.weighs)
		has(t, got, "planned softness")
	}
}

// Figures given for several heads at once are all taken, also when the first
// opens a choice.
func TestSeveralAtOnce(t *testing.T) {
	w := start(t, "", 2)
	w.to("What does the slice weigh")
	got, _ := w.say("6.7 5.3")
	has(t, got, "Head 1, 6.7 g", "planned softness")
	got, _ = w.say("1")
	has(t, got, "Noted:", "Head 2, 5.3 g")
	if n := len(w.b.Figures()); n != 2 {
		t.Errorf("%d figures are kept", n)
	}
}

// A wrong part is noticed where it is weighed: a ball of another material.
func TestWrongPart(t *testing.T) {
	w := start(t, "", 1)
	w.to("What does the ball weigh")
	got, _ := w.say("14.6")
	has(t, got, "heavier than expected", "another material", "Take another ball")
	got, _ = w.say("2")
	has(t, got, "give me the figure again")
	got, _ = w.say("10.0")
	has(t, got, "as expected")
	w = start(t, "", 1)
	w.to("What does the ball weigh")
	got, _ = w.say("140")
	has(t, got, "too far from")
}

// The bore of the tubing decides the fit before a slice is cut: one at the wide
// end of what is sold does not hold, is refused, and another is asked for; a
// narrower one is cut otherwise.
func TestBore(t *testing.T) {
	w := start(t, "", 2)
	w.to("What bore")
	if strings.Contains(w.asked, "Head 1") {
		t.Errorf("tubing for both heads is asked for head by head: %s", w.asked)
	}
	got, _ := w.say("18.4 mm")
	has(t, got, "does not matter", "Cut the slice for layer 1")
	if strings.Contains(w.asked, "Which") {
		w.say("1")
	}
	w.to("How thick is its wall")
	got, _ = w.say("3.2")
	has(t, got, "as expected")
	if n := len(w.b.Figures()); n != 4 {
		t.Errorf("%d figures of bore and wall for two heads", n)
	}
	w = start(t, "", 2)
	w.to("What bore")
	got, _ = w.say("1.12 in")
	has(t, got, "Layer 1 is now slack", "not to be built on", "Take another length of tubing")
	if strings.Contains(got, "Cut from it.") {
		t.Errorf("a slack slice may be kept: %s", got)
	}
	got, _ = w.say("1")
	has(t, got, "give me the figure again")
	got, _ = w.say("3/4 in")
	has(t, got, "as expected")
}

// Whether a slice holds is asked in words; one that slides is not wound over.
func TestHold(t *testing.T) {
	w := start(t, "", 2)
	w.to("hold, creep or slide")
	got, _ := w.say("it holds")
	has(t, got, "good fit", "as expected")
	got, _ = w.say("it slides")
	has(t, got, "slack", "not to be built on", "cut another from tubing")
	got, _ = w.say("1")
	has(t, got, "give me the figure again", "hold, creep or slide")
	got, _ = w.say("it creeps")
	has(t, got, "loose", "glue does not take on polypropylene", "cut another from tubing")
}

// The squeeze test is a figure like any other: it changes what the head is said
// to be, and goes into the log with how far it was squeezed.
func TestSqueeze(t *testing.T) {
	w := start(t, "", 1)
	w.to("How many kilograms")
	want := expected(t, w.asked, `Expected ([0-9.]+) kg`)
	at := expected(t, w.asked, `at ([0-9.]+) mm narrower`)
	got, _ := w.say(fmt.Sprintf("%.1f", want))
	has(t, got, "as expected")
	w = start(t, "", 1)
	w.to("How many kilograms")
	got, _ = w.say(fmt.Sprintf("%.1f kg", 1.6*want))
	has(t, got, "more than expected", "plays harder", "notches harder than planned")
	if strings.Contains(got, "pull on") {
		t.Errorf("a slice that is on is said to be hard to pull on: %s", got)
	}
	w.say("1")
	w.to("Shall I keep")
	w.say("yes")
	built := w.b.Built()
	if len(built) != 1 || len(built[0].Squeezes) != 1 {
		t.Fatalf("built: %+v", built)
	}
	if q := built[0].Squeezes[0]; math.Abs(q.Narrower.MM()-at) > 1e-6 || math.Abs(float64(q.Scale)-1.6*want) > 0.06 {
		t.Errorf("squeeze: %+v, want %.1f mm at %.2f kg", q, at, 1.6*want)
	}
}

// Heads of a pair that differ are brought together by their yarn.
func TestPair(t *testing.T) {
	w := start(t, "", 2)
	w.to("What does the ball weigh")
	w.say("9.7, 10.5")
	w.to("weigh so far")
	got, _ := w.say("14.4 and 15.6")
	for range 4 {
		if strings.Contains(w.asked, "Shall I note") {
			break
		}
		got, _ = w.say("1")
	}
	has(t, got, "apart", "head 1 with", "head 2 with")
	w.say("yes")
	w.to("Say done")
	for !strings.Contains(w.b.At(), "wrap-first") {
		got, _ = w.say("")
	}
	has(t, got, "head 2: Wind the first layer")
}

// What went wrong is looked into one check at a time, and the build goes on
// where it was.
func TestSlipped(t *testing.T) {
	w := start(t, "", 1)
	for w.b.At() != "pull-slice 1" || !strings.Contains(w.asked, "Say done") {
		w.say("")
	}
	got, _ := w.say("it slipped")
	has(t, got, "still wet inside")
	got, _ = w.say("no")
	has(t, got, "turn under your thumb")
	got, _ = w.say("yes")
	has(t, got, "smaller bore", "Say done")
	if w.b.At() != "pull-slice 1" {
		t.Errorf("at %s", w.b.At())
	}
	got, _ = w.say("why")
	has(t, got, "open to 1.50 times its bore")
	got, _ = w.say("more")
	has(t, got, "open to 1.50 times its bore", "If it is not right", "To undo", "Tools: ")
	got, _ = w.say("no")
	has(t, got, "If it is not right")
	got, _ = w.say("card")
	has(t, got, "expect:")
	w.say("back")
	if w.b.At() != "lubricate-slice 1" {
		t.Errorf("back led to %s", w.b.At())
	}
	if r, _ := w.b.Say("stop here"); !r.Leave {
		t.Error("it goes on")
	}
}

// Every caution of a step is told in full before the step, once.
func TestCautions(t *testing.T) {
	w := start(t, "", 2)
	for range 100 {
		if _, r := w.say(""); r.Done {
			break
		}
	}
	for _, words := range []string{"A blade sharp enough", "Natural rubber latex can cause", "A long needle pushed", "A head that comes off its shaft"} {
		if n := strings.Count(strings.Join(strings.Fields(w.said), " "), words); n != 1 {
			t.Errorf("%q is told %d times", words, n)
		}
	}
	said := strings.Join(strings.Fields(w.said), " ")
	if strings.Index(said, "A blade sharp enough") > strings.Index(said, "roll the dowel under it") {
		t.Error("the blade's caution comes after the cut")
	}
}

// A head is wrapped anew from what it weighs and measures without its yarn.
func TestRewrap(t *testing.T) {
	w := start(t, "rewrap", 2)
	w.to("without its yarn")
	got, _ := w.say("16.8 16.6")
	for range 4 {
		if !strings.Contains(w.asked, "Which") {
			break
		}
		got, _ = w.say("1")
	}
	w.to("over the rubber")
	w.to("What does the head weigh")
	w.to("last step")
	if strings.Contains(w.said, "knife") {
		t.Errorf("a blade at a re-wrap:\n%s", got)
	}
	start(t, "reshaft", 1).to("last step")
}

// Another softness than planned is met by other turns, up to the winding.
func TestAnotherSoftness(t *testing.T) {
	w := start(t, "rewrap", 2)
	got, _ := w.say("a bit softer")
	has(t, got, "in place of 128", "0.5 notches softer", "heavier")
	if n := expected(t, got, `wind (\d+) turns`); n <= 128 {
		t.Errorf("softer with %g turns", n)
	}
	got, _ = w.say("a bit harder")
	has(t, got, "Then wind 128 turns")
	for w.b.At() != "finish-yarn" {
		w.say("")
	}
	got, _ = w.say("softer")
	has(t, got, "The yarn is on")
}

// What the catalogue's answer says that age does in notches is what is computed:
// yarn packed to six sevenths of its thickness, rubber ten points harder.
func TestAging(t *testing.T) {
	shop, err := shop()
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{demo, "poly-1-1/8-drilled + latex-3/4x1/8 + latex-1x1/8 + wool-medium*128", "rubber-50a-1-1/8 + wool-medium*128"} {
		s, err := head.Parse(shop.cat, text)
		if err != nil {
			t.Fatal(err)
		}
		soft := func(s head.Stack) (notches, yarn float64) {
			c, err := shop.finder.Consider(s, propose.Request{})
			if err != nil {
				t.Fatal(err)
			}
			return c.Facts.Head.Softness, c.Facts.Head.YarnMM
		}
		as, yarn := soft(s)
		hard := s
		hard.Slices = slices.Clone(s.Slices)
		for i := range hard.Slices {
			hard.Slices[i].Rubber.DurometerA.Value += 10
		}
		if hard.Core.DurometerA > 0 {
			hard.Core.DurometerA += 10
		}
		if now, _ := soft(hard); as-now < 0.55 || as-now > 1.05 {
			t.Errorf("%s: ten points more are %.2f notches harder", text, as-now)
		}
		packed, w := s, *s.Wrap
		packed.Wrap, w.TensionN = &w, 3*shop.cat.Limits.TensionN.Value
		now, thin := soft(packed)
		if as-now < 0.2 || as-now > 0.65 || thin/yarn < 0.84 || thin/yarn > 0.88 {
			t.Errorf("%s: packed to %.2f of its thickness it is %.2f notches harder", text, thin/yarn, as-now)
		}
	}
}

// No line makes a build fail, and what it does not know it leaves alone.
func FuzzSay(f *testing.F) {
	for _, s := range []string{"", "10.4", "1", "back", "why", "it slipped", "yes", "no", "1/0 in", "-5 g", "99999999999 g", "card", "1,2,3", "NaN"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		w := start(t, "", 2)
		for i := range 30 {
			line := []string{a, "", b, "", ""}[i%5]
			was := w.b.Clone()
			r, ok := w.b.Say(line)
			if !ok {
				w.b = was
				continue
			}
			if r.Done || r.Quit || r.Leave || r.Rewrap {
				return
			}
			if r.Ask == "" {
				t.Fatalf("no question stands under the reply to %q", line)
			}
		}
	})
}

// A head that weighs less than its thin wrap alone could account for is taken
// all the same: the difference is put down to all of it.
func TestLightHead(t *testing.T) {
	w := start(t, "", 1)
	w.to("What does the slice weigh")
	w.say("7.6 g")
	if strings.Contains(w.asked, "Which") {
		w.say("1")
	}
	w.to("What does the head weigh")
	got, _ := w.say(fmt.Sprintf("%.1f g", expected(t, w.asked, `Expected ([0-9.]+) g`)-1.9))
	has(t, got, "lighter than expected")
}

// Four heads are weighed one by one, and sorted into the pairs that fit best.
func TestFour(t *testing.T) {
	w := start(t, "", 4)
	w.to("What does the head weigh")
	x := expected(t, w.asked, `Expected ([0-9.]+) g`)
	has(t, w.asked, "Head 1.")
	w.say(fmt.Sprintf("%.1f, %.1f, %.1f, %.1f", x, x+0.9, x+0.1, x+1.1))
	for w.b.At() != "match-pair" {
		w.say("")
	}
	has(t, strings.Join(strings.Fields(w.said), " "), "go together: 1 and 3 (0.1 g apart); 2 and 4 (0.2 g apart)")
}
