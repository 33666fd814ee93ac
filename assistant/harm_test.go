package assistant

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/assistant/journal"
	"mallow/assistant/sheet"
	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// wordings are ways to say who is young, alone or allergic, out of the corpora
// of testdata/reading: a text, and the careful answers that it states. Those
// that the reader does not hear yet as its corpus wants are its own test's.
func wordings(t testing.TB, k *Kit) (list []wording) {
	t.Helper()
	files, err := filepath.Glob("../testdata/reading/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	young := gate.Stated{Minor: gate.Yes}
	alone := gate.Stated{Minor: gate.Yes, Supervised: gate.No}
	latex := gate.Stated{LatexOK: gate.No}
	for text, careful := range map[string]gate.Stated{
		"I'm 13 and home alone": alone, "I am 12, nobody is home": alone, "I am 14, no adult about": alone, "I'm 12, mum is at work": alone,
		"I am 11 and doing this on my own": alone, "I'm 15, by myself": alone,
		"we are in sixth grade": young, "I turn 13 next week": young, "a 9-year-old builds them": young, "it's for a scout troop": young,
		"my daughter builds them": young, "I teach 8th graders": young,
		"balloons make me swell": latex, "must be latex free": latex, "one of us reacts to latex": latex,
		"my hands itch from those gloves": {LatexOK: gate.No, RubberOK: gate.No}, "welts from rubber": {LatexOK: gate.No, RubberOK: gate.No},
		"I am 12 and balloons give me hives": {Minor: gate.Yes, LatexOK: gate.No},
	} {
		if is := k.Stated(text); is.With(careful) != is {
			t.Errorf("%q states %+v, want %+v", text, is, careful)
		}
		list = append(list, wording{text, careful})
	}
	slices.SortFunc(list, func(a, b wording) int { return strings.Compare(a.text, b.text) })
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var lines []struct {
			Say    string
			Expect struct{ Takes []string }
		}
		if err := yaml.Unmarshal(data, &lines); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		for _, l := range lines {
			w := wording{text: l.Say}
			said := k.Stated(l.Say)
			for _, take := range l.Expect.Takes {
				path, value, _ := strings.Cut(take, "=")
				if !slices.Contains(gate.Paths(), path) || value != fmt.Sprint(harm.Careful(path)) {
					continue
				}
				if s := said.Careful(); s.Said(path) {
					w.careful.Tell(path, harm.Careful(path))
				}
			}
			if w.careful != (gate.Stated{}) {
				list = append(list, w)
			}
		}
	}
	return list
}

// own is how many of the wordings are this test's own; they come first.
const own = 18

type wording struct {
	text    string
	careful gate.Stated // what it states of harm
}

// Conversations in which somebody says, in one of the corpora's wordings, at some
// point and in the midst of something else, who is young, alone or allergic, and
// then goes on about anything: from then on nothing that harms them is offered,
// chosen from, built along or printed, whatever question was open, and however
// often one goes back or begins anew.
//
// MALLOW_HARM sets how many are held (.ci/run holds 300), MALLOW_SEED the number of
// the first.
func TestHarmIsKeptAway(t *testing.T) {
	many := 60
	if testing.Short() {
		many = 30
	}
	many, first := fromEnv(t, "MALLOW_HARM", many), fromEnv(t, "MALLOW_SEED", 1)
	b := newBench(t, []string{"poly-1-1/8-drilled", "rubber-50a-1-1/8", "maple-1-1/8"}, []string{"latex-3/4x1/8", "silicone-3/4x1/8", "epdm-3/4x1/8"},
		[]string{"wool-medium"}, []string{"birch-16"})
	list := wordings(t, b.Kit)
	if len(list) < 120 {
		t.Fatalf("only %d wordings", len(list))
	}
	var mu sync.Mutex
	var wg sync.WaitGroup
	var total harmTally
	seeds := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for seed := range seeds {
				h := b.endanger(seed, list)
				mu.Lock()
				total.add(h.harmTally)
				if len(h.wrong) > 0 {
					t.Errorf("seed %d, of %+v:\n  %s\nthe lines were:\n%s", seed, h.careful, strings.Join(h.wrong, "\n  "), h.transcript())
				}
				mu.Unlock()
			}
		})
	}
	for seed := first; seed < first+many && !t.Failed(); seed++ {
		seeds <- seed
	}
	close(seeds)
	wg.Wait()
	t.Logf("%d wordings; %+v", len(list), total)
	if many >= 60 && (total.Offered < many || total.Sheets < many/6 || total.NoLatex == 0 || total.NoRubber == 0 || total.Minors == 0 || total.Alone == 0) {
		t.Errorf("too little was put to the test: %+v", total)
	}
}

// harmTally is what was put to the test.
type harmTally struct{ Offered, Sheets, NoLatex, NoRubber, Minors, Alone int }

func (t *harmTally) add(u harmTally) {
	t.Offered += u.Offered
	t.Sheets += u.Sheets
	t.NoLatex += u.NoLatex
	t.NoRubber += u.NoRubber
	t.Minors += u.Minors
	t.Alone += u.Alone
}

// endangered is a conversation with somebody who may be hurt.
type endangered struct {
	*conversation
	harmTally
	careful gate.Stated // what was said by now
}

// endanger holds the conversation with a seed.
func (b *bench) endanger(seed int, list []wording) (h *endangered) {
	c := &conversation{bench: b, rnd: rand.New(rand.NewPCG(uint64(seed), 7)), s: NewSession(b.Kit)}
	h = &endangered{conversation: c}
	defer func() {
		if r := recover(); r != nil {
			c.failf("panic: %v\n%s", r, debug.Stack())
		}
	}()
	w := list[c.rnd.IntN(len(list))]
	if c.rnd.IntN(4) == 0 {
		w = list[c.rnd.IntN(own)]
	}
	most := 6 + c.rnd.IntN(12)
	when := c.rnd.IntN(most - 3)
	r := c.s.Open()
	for i := range most {
		line := h.next(r, i, most)
		if i == when {
			line = fmt.Sprintf(c.pick([]string{"%s", "%s", "%s. marimba, medium", "two mallets. %s", "softer. %s", "why? %s", "oh, and %s", "%s. thanks"}), w.text)
			if !states(c.Kit, line, w.careful) { // embedded it may mean another thing
				line = w.text
			}
		}
		c.lines = append(c.lines, journal.Line{Asked: c.s.Asked(), Said: line})
		r = c.s.Say(line)
		if i == when {
			h.careful = w.careful
		}
		h.check(r)
		if len(c.wrong) > 0 {
			return h
		}
	}
	for range 8 { // and at last the sheet, with whatever has to be answered before it
		line := "the sheet"
		if c.s.now.bench != nil {
			line = "another head"
		} else if len(c.s.now.back) > 0 || c.s.Asked() != "" {
			line = h.answer()
		}
		c.lines = append(c.lines, journal.Line{Asked: c.s.Asked(), Said: line})
		r = c.s.Say(line)
		if h.check(r); len(c.wrong) > 0 || line == "the sheet" && r.Sheet != nil {
			break
		}
	}
	return h
}

// answer is what the person who was made up answers to a question of safety, and
// nothing to any other.
func (h *endangered) answer() string {
	asked := h.s.Asked()
	if len(h.s.now.back) == 0 && slices.Contains(gate.Paths(), asked) && h.careful.Said(asked) {
		return map[bool]string{true: "yes", false: "no"}[asked == gate.LatexOK || asked == gate.Minor]
	}
	return ""
}

// states reports whether a text states at least what is careful of s.
func states(k *Kit, text string, s gate.Stated) bool {
	is := k.Stated(text)
	return is.With(s) == is
}

// next makes up a line that takes nothing back.
func (h *endangered) next(r Reply, i, most int) string {
	if len(h.s.now.back) > 0 {
		return h.pick([]string{"no", "", "it stays"})
	}
	if line := h.answer(); line != "" {
		return line
	}
	if i == most-1 {
		return h.pick([]string{"build", "the sheet"})
	}
	for {
		line := h.line(r)
		facts := h.Reader().Read(line, understand.Context{Asked: h.s.Asked()}).Harm
		if !slices.ContainsFunc(facts, func(f harm.Fact) bool {
			return h.careful.Said(f.Path) || f.Path == gate.LatexOK || f.Path == gate.RubberOK
		}) {
			return line
		}
	}
}

// check checks a reply, and all that the session would offer next.
func (h *endangered) check(r Reply) {
	if r.Sheet != nil {
		h.sheet(*r.Sheet)
	}
	if h.s.now.stage != proposed {
		return
	}
	p, err := h.s.kit.Offers.Propose(&h.s.now.State)
	if err != nil {
		return
	}
	h.offered("the head", p.Best)
	for _, a := range p.Alternatives {
		h.offered("the choice "+a.Kind, a.Candidate)
	}
}

func (h *endangered) offered(what string, c propose.Candidate) {
	h.Offered++
	f := c.Facts.Head
	if h.careful.LatexOK == gate.No || h.careful.RubberOK == gate.No {
		h.NoLatex++
		if f.Latex {
			h.failf("%s, %s, holds latex", what, c.Stack)
		}
	}
	if h.careful.RubberOK == gate.No {
		h.NoRubber++
		if f.Chemicals {
			h.failf("%s, %s, holds what cures rubber", what, c.Stack)
		}
	}
	if h.careful.Minor == gate.Yes {
		h.Minors++
		if h.careful.Supervised == gate.No {
			h.Alone++
		}
	}
	if f.Solvent && (h.careful.Minor == gate.Yes || h.careful.SolventOK == gate.No || h.careful.Ventilated == gate.No) {
		h.failf("%s, %s, takes a solvent", what, c.Stack)
	}
}

func (h *endangered) sheet(s sheet.Sheet) {
	h.Sheets++
	alone := h.careful.Minor == gate.Yes && h.careful.Supervised == gate.No
	for _, x := range s.Steps {
		risky, adult := false, false
		for _, c := range x.Cautions {
			risky = risky || slices.Contains([]string{"knife", "drill-round", "solvent-vapour", "solvent-fire", "epoxy-skin"}, c.ID)
			adult = adult || c.ID == "adult"
			if strings.HasPrefix(c.ID, "solvent-") && (h.careful.Minor == gate.Yes || h.careful.SolventOK == gate.No) {
				h.failf("step %d of the sheet takes a solvent", x.Number)
			}
		}
		if risky && h.careful.Minor == gate.Yes && !adult && !x.ByAdult {
			h.failf("step %d of the sheet, %s, lacks the caution for the young", x.Number, x.Title)
		}
		if risky && alone && !x.ByAdult {
			h.failf("step %d of the sheet, %s, is a minor's who is alone", x.Number, x.Title)
		}
	}
	if h.careful.LatexOK == gate.No && s.Safety.Latex {
		h.failf("the sheet holds latex: %s", s.Stack)
	}
	for _, p := range s.Parts {
		if glue, ok := h.Catalogue.Adhesive(p.ID); ok {
			if glue.Latex && h.careful.LatexOK == gate.No {
				h.failf("%s holds latex", p.Name)
			}
			if glue.Base == "solvent" && h.careful.Minor == gate.Yes {
				h.failf("a young maker is to use %s", p.Name)
			}
		}
	}
}
