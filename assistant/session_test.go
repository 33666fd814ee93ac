package assistant

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/few"
	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// small is a kit over a few parts, so that searches are quick and the tests
// are about the conversation.
var small = sync.OnceValues(func() (*Kit, error) {
	cat, err := few.Parts()
	if err != nil {
		return nil, err
	}
	book, err := facts.Book()
	if err != nil {
		return nil, err
	}
	return NewKit(cat, book)
})

func kit(t interface{ Fatal(...any) }) *Kit {
	k, err := small()
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// answered is a sentence that leaves no question of safety open.
const answered = "marimba, two mallets, medium, all adults, latex is fine, no solvents"

// hear renders a reply as text.
func hear(t interface{ Fatal(...any) }, r Reply) string {
	p := r.Page
	if r.Sheet != nil {
		p = append(p, r.Sheet.Page(60)...)
	}
	if r.Ask != nil {
		p = append(p, page.Para(r.Ask.String()))
	}
	var b bytes.Buffer
	if err := page.Text(&b, p, page.Style{Width: 100, Plain: true}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// finish answers with Enter until a head is proposed.
func finish(t *testing.T, s *Session) Reply {
	t.Helper()
	var r Reply
	for range 30 {
		if s.now.stage == proposed {
			return r
		}
		r = s.Say("")
	}
	t.Fatalf("no proposal after 30 answers; open: %s", s.Asked())
	return r
}

func TestSayBack(t *testing.T) {
	tests := []struct {
		name string
		say  []string
		want []string // in the last reply
	}{
		{"several answers in one sentence", []string{"four mallets, cross grip, low end, dark"}, []string{"Taken: ", "four mallets in a cross grip", "the low end", "dark"}},
		{"what was not understood", []string{"marimba out of moonlight"}, []string{"Taken: marimba", "I could make nothing of “moonlight”"}},
		{"nothing understood", []string{"", "moonlight"}, []string{"Answers that I understand here:"}},
		{"a correction", []string{"marimba", "no, vibes"}, []string{"Taken: vibraphone"}},
		{"a word", []string{"what is a durometer"}, []string{"Durometer: "}},
		{"a word nobody knows", []string{"what is a florb"}, []string{"I have no entry for “florb”"}},
		{"why this question", []string{"", "why"}, []string{"the answers lead here"}},
		{"answers so far", []string{"marimba, two mallets", "show answers"}, []string{"- marimba", "- two mallets"}},
		{"nothing said yet", []string{"show answers"}, []string{"You have not told me anything yet"}},
		{"help", []string{"help"}, []string{"why not", "what if", "compare"}},
		{"back at the start", []string{"back"}, []string{"nothing to go back to"}},
		{"a question again", []string{"marimba, two mallets", "change my grip"}, []string{"Until now: two mallets", "How many mallets"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := NewSession(kit(t))
			var r Reply
			for _, l := range tt.say {
				r = s.Say(l)
			}
			got := strings.Join(strings.Fields(hear(t, r)), " ")
			for _, w := range tt.want {
				if !strings.Contains(got, w) {
					t.Errorf("no %q in:\n%s", w, got)
				}
			}
			if r.Ask == nil {
				t.Error("no question is open")
			}
		})
	}
}

// After a proposal, everything that may be asked has an answer of its own.
func TestAskAboutProposal(t *testing.T) {
	tests := []struct {
		say  string
		want []string
	}{
		{"why", []string{"It comes out", "points"}},
		{"why the core", []string{"The best without it scores"}},
		{"why not silicone", []string{"points less than the proposed head"}},
		{"what if I play four mallets in a cross grip", []string{"If four mallets in a cross grip"}},
		{"what if one more layer", []string{"in the hand", "layer"}},
		{"what if", []string{"What if what?"}},
		{"why not", []string{"Name what"}},
		{"compare 1 and 2", []string{"softness, notches", "against choice 1:"}},
		{"compare medium and soft", []string{"- medium:", "- soft:", "against medium:"}},
		{"compare very soft, soft, medium and hard", []string{"- very soft:", "- soft:", "- hard:"}},
		{"what is F#4", []string{"370 Hz"}},
		{"what is ff", []string{"very loud"}},
		{"what does EPDM mean", []string{"synthetic rubber"}},
		{"thank you", []string{"welcome"}},
		{"compare latex and silicone", []string{"latex:", "silicone:"}},
		{"softer", []string{"softer"}},
		{"lighter but same sound", []string{"Taken: lighter"}},
		{"one more layer", []string{"Taken: one layer more"}},
		{"choice 2", []string{"Taken: choice 2"}},
		{"show the drawing", []string{"Core: 1 "}},
		{"how much does it weigh", []string{"The head weighs"}},
		{"what does it cost", []string{"invented"}},
		{"what if moonlight", []string{"I could make nothing of “moonlight”"}},
		{"no", []string{"What should be different"}},
		{"more", []string{"From the inside out, in figures"}},
		{"the rules", []string{"This counts"}},
		{"is it hard to make", []string{"can't be undone"}},
	}
	for _, tt := range tests {
		t.Run(tt.say, func(t *testing.T) {
			s := NewSession(kit(t))
			s.Say(answered)
			finish(t, s)
			got := strings.Join(strings.Fields(hear(t, s.Say(tt.say))), " ")
			for _, w := range tt.want {
				if !strings.Contains(got, w) {
					t.Errorf("no %q in:\n%s", w, got)
				}
			}
		})
	}
}

// Why not: the rule, the number it met, and the nearest head that would pass.
func TestWhyNotRefused(t *testing.T) {
	s := NewSession(kit(t))
	s.Say(answered)
	s.Say("use a 1 1/8 plastic ball and 3/4 by 1/8 latex tubing")
	finish(t, s)
	got := strings.Join(strings.Fields(hear(t, s.Say("why not 1 1/8 x 1/8 latex tubing"))), " ")
	if strings.Contains(got, "layer.verdict") {
		t.Errorf("the inner text of a rule, not asked for:\n%s", got)
	}
	got += strings.Join(strings.Fields(hear(t, s.Say("the rules"))), " ")
	for _, want := range []string{"slack", "layer.verdict = slack", "in its place"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in:\n%s", want, got)
		}
	}
}

// Softer is softer, lighter is lighter, and so on: the model is asked, not
// the words.
func TestMoves(t *testing.T) {
	tests := []struct {
		say  string
		what func(facts.Head) float64
		sign float64
	}{
		{"softer", func(h facts.Head) float64 { return h.Softness }, 1},
		{"harder", func(h facts.Head) float64 { return h.Softness }, -1},
		{"lighter", func(h facts.Head) float64 { return h.MassG }, -1},
		{"one more layer", func(h facts.Head) float64 { return h.Layers }, 1},
		{"more yarn", func(h facts.Head) float64 { return h.Turns }, 1},
		{"less yarn", func(h facts.Head) float64 { return h.Turns }, -1},
	}
	for _, tt := range tests {
		t.Run(tt.say, func(t *testing.T) {
			s := NewSession(kit(t))
			s.Say(answered)
			finish(t, s)
			before, err := s.kit.Offers.Best(&s.now.State)
			if err != nil {
				t.Fatal(err)
			}
			r := s.Say(tt.say)
			after, err := s.kit.Offers.Best(&s.now.State)
			if err != nil {
				t.Fatal(err)
			}
			if d := tt.what(after.Facts.Head) - tt.what(before.Facts.Head); d*tt.sign <= 0 {
				t.Errorf("moved by %+.2f: %s\n%s", d, after.Stack, hear(t, r))
			}
		})
	}
}

// Three unclear answers take what Enter takes.
func TestPatience(t *testing.T) {
	s := NewSession(kit(t))
	s.Say("")
	asked := s.Asked()
	var r Reply
	for range patience {
		r = s.Say("moonlight")
	}
	if got := hear(t, r); !strings.Contains(got, "I go on with the stated answer") {
		t.Errorf("got:\n%s", got)
	}
	if !s.now.Known[asked] || s.Asked() == asked {
		t.Errorf("%s is still open", asked)
	}
}

// What Enter takes at a question of safety is what can't hurt anybody, and no
// sheet is handed out before those questions are answered.
func TestSafetyFirst(t *testing.T) {
	s := NewSession(kit(t))
	s.Say("marimba, two mallets")
	finish(t, s)
	if f := s.now.Facts.Player; f.LatexOK || !f.Minor || f.SolventOK {
		t.Errorf("Enter took %+v", f)
	}
	s = NewSession(kit(t))
	s.Say("marimba, two mallets")
	s.now.stage, s.now.asked, s.now.seen = proposed, "", true // however it came to that
	if r := s.Say("build"); r.Sheet != nil || !strings.Contains(hear(t, r), "has to come from you") {
		t.Errorf("a sheet before the questions of safety:\n%s", hear(t, r))
	}
}

func TestMinorGetsNoSolvent(t *testing.T) {
	for _, say := range [][]string{
		{"solvents are fine", "I am 15"},
		{"I am 15", "solvents are fine"},
	} {
		s := NewSession(kit(t))
		s.Say("marimba, two mallets, latex is fine")
		for _, l := range say {
			s.Say(l)
		}
		if s.now.Facts.Player.SolventOK {
			t.Errorf("%q left solvents allowed", say)
		}
		finish(t, s)
		r := s.Say("build")
		if r.Sheet == nil {
			t.Fatalf("no sheet:\n%s", hear(t, r))
		}
		if len(r.Sheet.Safety.Solvents) > 0 {
			t.Errorf("%q: the sheet has solvents: %v", say, r.Sheet.Safety.Solvents)
		}
	}
}

// Going back undoes any answer.
func TestBack(t *testing.T) {
	for _, l := range []string{"marimba", "dark, low end", "without wool", "solvents are fine"} {
		s := NewSession(kit(t))
		s.Say("two mallets")
		before := s.now.clone()
		s.Say(l)
		s.Say("back")
		if s.now.Facts != before.Facts || !cmp.Equal(s.now.Known, before.Known) || !cmp.Equal(s.now.Without, before.Without) {
			t.Errorf("after %q and back: %s", l, cmp.Diff(before.Facts, s.now.Facts))
		}
	}
}

// The answers that the prepared lessons compute are those that makers know:
// common practice, no source.
func TestLessons(t *testing.T) {
	k := kit(t)
	want := map[string]string{
		"thicker-wall":               "the thick wall",
		"soft-strokes-hide-the-core": "the very loud stroke",
		"slack-slaps":                "the 3/4 in bore",
		"weight-against-softness":    "the two layers over plastic",
		"reading-a-durometer":        "the 75A ball",
		"opening-up":                 "the thin layer",
	}
	if len(k.Lessons()) < 5 {
		t.Errorf("%d lessons, want at least 5", len(k.Lessons()))
	}
	for _, l := range k.Lessons() {
		t.Run(l.ID, func(t *testing.T) {
			q, err := l.Quiz(k.Finder, k.Ground.Facts)
			if err != nil {
				t.Fatal(err)
			}
			if w, ok := want[l.ID]; ok && q.Choices[q.Right] != w {
				t.Errorf("computed %q, practice says %q: %v", q.Choices[q.Right], w, q.Shown)
			}
			if text := fmt.Sprint(q.Shown); strings.Contains(text, "?") || strings.Contains(text, "{") {
				t.Errorf("a number is missing: %s", text)
			}
		})
	}
}

func TestTeach(t *testing.T) {
	s := NewSession(kit(t))
	s.Say("teach me")
	s.Say("slack")
	r := s.Say("the 1 1/8 in bore")
	if len(r.Predictions) != 1 || r.Predictions[0].Right || r.Predictions[0].Lesson != "Why slack slaps" {
		t.Errorf("predictions: %+v", r.Predictions)
	}
	// From then on a guess comes before a proposal.
	r = s.Say(answered)
	for range 20 {
		if len(s.now.quiz) > 0 {
			break
		}
		r = s.Say("")
	}
	if got := hear(t, r); !strings.Contains(got, "guess") || strings.Contains(got, "To buy:") {
		t.Errorf("got:\n%s", got)
	}
	for len(s.now.quiz) > 0 {
		if len(s.now.quiz[0].Choices) < 2 {
			t.Fatalf("a guess without a choice: %+v", s.now.quiz[0])
		}
		r = s.Say("1")
		if len(r.Predictions) != 1 {
			t.Errorf("predictions: %+v", r.Predictions)
		}
	}
	if got := hear(t, r); !strings.Contains(got, "To buy:") {
		t.Errorf("after the guesses:\n%s", got)
	}
}

// Every question's examples are understood as answers to it.
func TestQuestionExamples(t *testing.T) {
	k := kit(t)
	for _, q := range k.Catalogue.Questions {
		for _, e := range append(slices.Clone(q.Examples), says(q)...) {
			s := NewSession(k)
			s.now.stage, s.now.asked = asking, q.ID
			s.Say(e)
			if s.now.tries > 0 {
				t.Errorf("%s: %q is offered but not understood", q.ID, e)
			}
		}
	}
}

func says(q knowledge.Question) []string {
	var out []string
	for _, c := range q.Choices {
		out = append(out, c.Say)
	}
	return out
}

// A catalogue that does not fit the facts is refused when it is loaded.
func TestNewKitChecks(t *testing.T) {
	good := kit(t)
	tests := []struct {
		name   string
		change func(*knowledge.Catalogue)
		want   string
	}{
		{"question about nothing", func(c *knowledge.Catalogue) { c.Questions[0].ID = "want.colours" }, `no fact is called "want.colours"`},
		{"choice of the wrong kind", func(c *knowledge.Catalogue) { c.Questions[3].Choices[0].Value = "soft" }, `"soft"`},
		{"lesson about nothing", func(c *knowledge.Catalogue) { c.Lessons[0].Choices[0].Measure = "a.softnez" }, "softnez"},
		{"lesson with an unknown part", func(c *knowledge.Catalogue) { c.Lessons[0].Stacks[0] = "poly-9" }, "poly-9"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cat := *good.Catalogue
			cat.Questions = slices.Clone(cat.Questions)
			for i := range cat.Questions {
				cat.Questions[i].Choices = slices.Clone(cat.Questions[i].Choices)
			}
			cat.Lessons = slices.Clone(cat.Lessons)
			for i := range cat.Lessons {
				cat.Lessons[i].Choices = slices.Clone(cat.Lessons[i].Choices)
				cat.Lessons[i].Stacks = slices.Clone(cat.Lessons[i].Stacks)
			}
			tt.change(&cat)
			_, err := NewKit(&cat, good.Book)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q in it", err, tt.want)
			}
		})
	}
}

// Every wish and every question can be read back.
func TestSayFact(t *testing.T) {
	s := NewSession(kit(t))
	for _, q := range s.kit.Catalogue.Questions {
		for _, c := range q.Choices {
			if err := facts.Parse(&s.now.Facts, q.ID, c.Value); err != nil {
				t.Fatal(err)
			}
			if got := s.now.Say(q.ID); !strings.Contains(got, c.Say) {
				t.Errorf("%s=%s reads %q", q.ID, c.Value, got)
			}
		}
	}
	s.now.Facts.Want.MassG = 31.234
	if got := s.now.Say("want.mass_g"); got != "about 31.2 g a head" {
		t.Errorf("got %q", got)
	}
}

// An old head that nobody knows is found from what it measures and weighs, and
// wrapped anew in the same conversation.
func TestRewrapOfAnUnknownHead(t *testing.T) {
	s := NewSession(kit(t))
	s.Say("marimba, all adults, latex is fine, no solvent")
	for _, tt := range []struct{ line, has string }{
		{"rewrap my old mallets", "across the belt"},
		{"they are 40 mm, 21.4 g, wool on a plastic ball", "1. "},
		{"7", "a number from 1"},
		{"1", "Re-wrap a head"},
		{"", "Take the old yarn off"},
	} {
		if got := hear(t, s.Say(tt.line)); !strings.Contains(got, tt.has) {
			t.Errorf("%q gets no %q:\n%s", tt.line, tt.has, got)
		}
	}
}

// A maybe is no yes, and a question mark asks what is asked.
func TestHesitation(t *testing.T) {
	s := NewSession(kit(t))
	said(t, s, "xylophone, all adults, latex is fine, no solvents")
	if s.now.stage == proposed || s.now.asked == "" {
		t.Fatal("no question is open")
	}
	asked := s.now.asked
	holds(t, said(t, s, "?"), "You can say:")
	if s.now.asked != asked {
		t.Errorf("a question mark answers %s", asked)
	}
	finish(t, s)
	holds(t, said(t, s, "maybe"), "say build")
	if s.now.bench != nil {
		t.Error("a maybe begins the build")
	}
}
