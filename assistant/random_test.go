package assistant

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mallow/assistant/few"
	"mallow/assistant/inquiry"
	"mallow/assistant/journal"
	"mallow/assistant/offer"
	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/assistant/sheet"
	"mallow/assistant/term"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/rules/facts/factstest"
	"mallow/rules/propose"
)

// Conversations made up at random, out of answers, questions, interruptions
// and rubbish: none makes the program fail, loses an answer, offers a head
// that can't be built, or leaves a caution out.
//
// MALLOW_CONVERSATIONS sets how many are held (60 by default, 50 with
// -short; .ci/run holds 200), MALLOW_SEED the number of the first. A failure names the seed of
// its conversation, which alone is held again by
//
//	MALLOW_CONVERSATIONS=1 MALLOW_SEED=… go test ./assistant -run TestRandomConversations
func TestRandomConversations(t *testing.T) {
	many := 60
	if testing.Short() {
		many = 50
	}
	many, first := fromEnv(t, "MALLOW_CONVERSATIONS", many), fromEnv(t, "MALLOW_SEED", 1)
	small := newSmallBench(t)
	large := newBench(t, []string{"poly-1", "poly-1-1/4", "acetal-7/8", "phenolic-1", "maple-1-1/4", "rubber-40a-1-1/8", "rubber-75a-1-1/8"},
		[]string{"latex-5/8x1/16", "latex-3/4x1/16", "latex-3/4x1/4", "latex-7/8x1/8", "latex-1x1/16", "silicone-5/8x1/8", "tpe-3/4x1/8", "tpe-1x1/8", "epdm-3/4x1/8"},
		[]string{"wool-fine", "wool-medium", "acrylic-bulky", "nylon-cord"}, []string{"birch-16", "rattan-16-thick", "fibreglass-15"})
	seeds := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	var total tally
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for seed := range seeds {
				b := small
				if seed%20 == 0 {
					b = large
				}
				c := b.hold(seed)
				mu.Lock()
				total.add(c.tally)
				if len(c.wrong) > 0 {
					t.Errorf("seed %d:\n  %s\nthe lines were:\n%s", seed, strings.Join(c.wrong, "\n  "), c.transcript())
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
	t.Logf("%+v", total)
	// Conversations that came to nothing would prove nothing.
	if many >= 50 && (total.Heads < many || total.Sheets < many/4 || total.Hazards < many/4 || total.LatexFree == 0 || total.ForMinors == 0) {
		t.Errorf("too little was put to the test: %+v", total)
	}
}

// fromEnv reads a whole number from the environment.
func fromEnv(t testing.TB, name string, otherwise int) int {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return otherwise
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("%s=%q is not a count", name, text)
	}
	return n
}

// tally is what was put to the test.
type tally struct {
	Lines, Heads, Sheets, Hazards, LatexFree, ForMinors int
}

func (t *tally) add(u tally) {
	t.Lines += u.Lines
	t.Heads += u.Heads
	t.Sheets += u.Sheets
	t.Hazards += u.Hazards
	t.LatexFree += u.LatexFree
	t.ForMinors += u.ForMinors
}

// bench is what the conversations draw on: all that is shipped, but of the
// parts only as many as let a search take milliseconds.
type bench struct {
	*Kit
	utterances []string
}

func newSmallBench(t testing.TB) *bench {
	return newBench(t, []string{"poly-1-1/8", "poly-1-1/8-drilled", "rubber-50a-1-1/8"},
		[]string{"latex-3/4x1/8", "latex-1x1/8", "silicone-3/4x1/8"}, []string{"wool-medium"}, []string{"birch-16"})
}

func newBench(t testing.TB, cores, tubing, yarns, shafts []string) *bench {
	t.Helper()
	cat, err := few.Of(slices.Concat(cores, tubing, yarns, shafts)...)
	if err != nil {
		t.Fatal(err)
	}
	cat.Lessons = slices.DeleteFunc(cat.Lessons, func(l knowledge.Lesson) bool {
		return slices.ContainsFunc(l.Stacks, func(text string) bool {
			_, err := head.Parse(cat, text)
			return err != nil
		})
	})
	if len(cat.Lessons) == 0 {
		t.Fatal("no lesson is left")
	}
	book := factstest.Book(t)
	kit, err := NewKit(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	kit.Offers = offer.New(cat, kit.Finder, 5000) // few parts make small proposals
	kit.Asker = inquiry.New(cat, book, kit.Finder, kit.Offers)
	b := &bench{Kit: kit}
	files, err := filepath.Glob("understand/testdata/utterances/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no utterances: %v", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			if said, ok := strings.CutPrefix(line, "> "); ok {
				b.utterances = append(b.utterances, strings.TrimSuffix(said, "\n"))
			}
		}
	}
	return b
}

// conversation is one that is under way.
type conversation struct {
	*bench
	rnd   *rand.Rand
	s     *Session
	vow   vow
	lines []journal.Line // as the log has them
	said  []string       // the reply to each
	kept  []byte         // a snapshot, and after how many lines; nil for none
	after int
	wrong []string
	tally
}

// vow is what a person said at the start and never takes back. It is held
// against the replies whatever the session believes.
type vow struct {
	path string // the fact; empty for none
	said []string
}

var (
	noLatex = vow{"player.latex_ok", []string{"I am allergic to latex", "no latex please", "latex allergy here", "must be latex free"}}
	young   = vow{"player.minor", []string{"I am 15", "I'm 12 years old", "one of the makers is under 18"}}
)

// Any lines at all: the checks of TestRandomConversations hold.
func FuzzConversation(f *testing.F) {
	b := newSmallBench(f)
	for _, text := range []string{
		"four mallets, low end of a five-octave marimba, dark but not mushy, I have some 3/4 by 1/8 tubing\n\n\n\n\nbuild",
		"no latex\nvibes, two mallets\nbuild\nyes\nchoice 2\nsofter\nundo\nbuild",
		"I am 15\nsolvent is fine\nwhat if the wall is thicker\ncompare 1 and 2\nbuild",
		"teach me\n1\n2\nbells\nwhy\nstart again\n\x00\x1b[31m\xff",
		"vibes, two mallets, medium\n\n\n\n\n\n\nchoice 2\nat most 12 g\nbuild",
		"xylophone, latex is fine\n\n\n\n\n\n\nchoice 3\nno latex tubing\nbuild\nfive octave marimba\nbuild",
		"change the grip\nback\nback\nwhy not silicone\nno yarn\nwhy layer 9",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c := &conversation{bench: b, s: NewSession(b.Kit)}
		c.hear("", c.s.Open())
		for line := range strings.SplitSeq(text, "\n") {
			if len(line) > term.MaxLine || len(c.lines) == 12 {
				break
			}
			c.lines = append(c.lines, journal.Line{Asked: c.s.Asked(), Said: line})
			c.hear(line, c.s.Say(line))
		}
		c.replay()
		for _, w := range c.wrong {
			t.Error(w)
		}
	})
}

// hold holds the conversation with a seed.
func (b *bench) hold(seed int) (c *conversation) {
	c = &conversation{bench: b, rnd: rand.New(rand.NewPCG(uint64(seed), 0)), s: NewSession(b.Kit)}
	defer func() {
		if r := recover(); r != nil {
			c.failf("panic: %v\n%s", r, debug.Stack())
		}
	}()
	c.vow = []vow{{}, noLatex, young}[c.rnd.IntN(3)]
	r := c.s.Open()
	c.hear("", r)
	most := 4 + c.rnd.IntN(14)
	for i := range most {
		line := c.next(r, i, most)
		c.lines = append(c.lines, journal.Line{Asked: c.s.Asked(), Said: line})
		r = c.s.Say(line)
		c.said = append(c.said, spoken(r))
		if data, ok := c.s.Snapshot(); ok && c.rnd.IntN(4) == 0 {
			c.kept, c.after = data, i+1
		}
		c.hear(line, r)
		if len(c.wrong) > 0 {
			return c
		}
		if r.Leave && c.rnd.IntN(2) == 0 {
			break
		}
	}
	c.replay()
	return c
}

func (c *conversation) failf(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
}

func (c *conversation) transcript() string {
	var b strings.Builder
	for _, l := range c.lines {
		fmt.Fprintf(&b, "  %s %.300q\n", l.Asked, l.Said)
	}
	return b.String()
}

// next makes up a line.
func (c *conversation) next(r Reply, i, most int) string {
	switch {
	case c.vow.path != "" && (i == 0 || c.s.Asked() == c.vow.path):
		if i > 0 {
			return "yes" // which keeps the vow in both questions
		}
		return c.pick(c.vow.said)
	case i == 1:
		return c.pick([]string{"four mallets, low end of a five-octave marimba, dark but not mushy", "vibes, two mallets, medium", "xylophone, hard", "", "bells"})
	case i == most-1:
		return "build"
	}
	for {
		line := c.line(r)
		if c.vow.path == "" {
			return line
		}
		in := c.Reader().Read(line, understand.Context{Asked: c.s.Asked()})
		takesBack := slices.Contains(in.Withdraws, c.vow.path) || slices.Contains([]reading.Act{reading.Back, reading.Undo, reading.Restart, reading.Change}, in.Act())
		if !takesBack && !slices.ContainsFunc(in.Takes, func(a reading.Take) bool { return a.Path == c.vow.path }) {
			return line
		}
	}
}

func (c *conversation) pick(list []string) string { return list[c.rnd.IntN(len(list))] }

// line makes up a line: an answer to what is asked, a wish, a question, an
// interruption, or rubbish.
func (c *conversation) line(r Reply) string {
	switch n := c.rnd.IntN(20); {
	case n < 7:
		if r.Ask != nil {
			if q, ok := c.Catalogue.Question(r.Ask.ID); ok && c.rnd.IntN(3) == 0 && len(q.Examples) > 0 {
				return c.pick(q.Examples)
			}
			if len(r.Ask.Choices) > 0 {
				return c.pick(r.Ask.Choices)
			}
		}
		return c.pick([]string{"", "yes", "no", "1", "2", "3"})
	case n < 10:
		return c.pick([]string{
			"softer", "a bit harder", "much lighter", "smaller", "cheaper", "no latex", "no solvent", "solvent is fine", "one layer more",
			"a thicker wall", "a larger core", "more yarn", "no yarn", "lighter but same sound", "at most 20 g", "under 30 mm", "30 g", "at most 5.00",
			"choice 2", "choice 3", "take the second", "build", "show the head", "show the drawing", "show answers", "the shopping list",
			"wool-medium", "only rubber-50a-1-1/8", "no latex tubing", "latex is fine", "silicone", "I have some 3/4 by 1/8 latex tubing",
		})
	case n < 13:
		return c.pick([]string{
			"why", "why this layer", "why layer 9", "why wool", "why not silicone", "why not a 70A rubber ball", "why not", "what if", "what if no latex",
			"what if I play four mallets", "what if the wall is thicker", "what if no yarn", "compare 1 and 2", "compare", "compare 1 and 9",
			"what is a durometer", "what is", "help", "teach me", "stop", "save", "leave", "4",
		})
	case n < 15:
		return c.pick([]string{"back", "undo", "start again", "change the instrument", "change", "change how soft", "skip", "you choose", "don't know"})
	case n < 18:
		return c.pick(c.utterances)
	}
	return c.rubbish()
}

// rubbish is what nobody means to say.
func (c *conversation) rubbish() string {
	switch c.rnd.IntN(4) {
	case 0: // bytes
		b := make([]byte, c.rnd.IntN(60))
		for i := range b {
			b[i] = byte(c.rnd.IntN(256))
		}
		return string(b)
	case 1: // a line as long as is read
		return strings.Repeat(c.pick([]string{"a", "1/8 ", "not ", "no, ", "木", "why ", "0", "+ 3/4x1/8 "}), 4096)[:4096]
	case 2: // words of several lines in one
		var words []string
		for range 1 + c.rnd.IntN(4) {
			words = append(words, strings.Fields(c.pick(c.utterances)+" x")...)
		}
		c.rnd.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
		return strings.Join(words, " ")
	}
	return c.pick([]string{
		"\x1b[2J\x1b]0;gone\x07", "\x00", "\u202egnirts", "\u009b31mred", "NaN g", "1e309 mm", "-5 g", "0/0 in", "1/0", "99999999999999999999 mallets",
		"{{head.mass_g}}", "{head.mass_g:.9f}", `"; drop table heads`, "<script>alert(1)</script>", "../../etc/passwd", "%s%n%d", "poly-1-1/8 + + *",
		"choice 0", "choice -1", "choice 999999999999999999999", "layer 99999999999", "no, no, no, not not", "\t\t", "²³¹ ⅛⅛⅛", "\xff\xfe",
	})
}

// hear checks a reply, and what the session now offers.
func (c *conversation) hear(line string, r Reply) {
	c.Lines++
	c.rendered("the reply", func(w io.Writer) error {
		p := r.Page
		if r.Ask != nil {
			p = append(slices.Clone(p), page.Para(r.Ask.String()))
		}
		for _, style := range []page.Style{{Width: 80}, {Width: 40, Plain: true}} {
			if err := page.Text(w, p, style); err != nil {
				return err
			}
		}
		return page.Markdown(w, p)
	})
	if r.Ask == nil && !r.Leave {
		c.failf("no question stands under the reply to %q", line)
	}
	if r.Built != (r.Sheet != nil) {
		c.failf("built is %v with a sheet %v", r.Built, r.Sheet != nil)
	}
	if c.vow.path != "" && len(c.lines) > 0 {
		if !c.s.now.Known[c.vow.path] {
			c.failf("%q is forgotten after %q", c.lines[0].Said, line)
		}
	}
	if c.s.now.stage == proposed {
		if p, err := c.s.kit.Offers.Propose(&c.s.now.State); err == nil {
			c.offered("the head", p.Best)
			for _, a := range p.Alternatives {
				c.offered("the choice "+a.Kind, a.Candidate)
			}
		}
	}
	if r.Sheet != nil {
		c.sheet(*r.Sheet)
	}
}

// offered checks a head that is offered as buildable.
func (c *conversation) offered(what string, x propose.Candidate) {
	c.Heads++
	if f := x.Refused(); f != nil {
		c.failf("%s, %s, is refused: %s (rule %s)", what, x.Stack, f.Reason, f.Rule.ID)
	}
	for i, l := range x.Head.Layers {
		if l.Verdict == head.Slack || l.Verdict == head.Over {
			c.failf("%s, %s: layer %d is %s", what, x.Stack, i+1, l.Verdict)
		}
		if l.Slice.Rubber.Latex && (c.vow.path == noLatex.path || !c.s.now.Facts.Player.LatexOK) {
			c.failf("%s, %s, holds latex for someone who must avoid it", what, x.Stack)
		}
	}
	if x.Facts.Head.Solvent && (c.vow.path == young.path || c.s.now.Facts.Player.Minor) {
		c.failf("%s, %s, takes a solvent for a young maker", what, x.Stack)
	}
}

// Hazards as they show in the words of a step, and the caution that has to
// stand there. The words are the trade's own: common practice, no source.
var hazards = []struct {
	words   *regexp.Regexp
	caution string
}{
	{regexp.MustCompile(`(?i)\b(knife|blade)\b`), "knife"},
	{regexp.MustCompile(`(?i)\b(under the press|drill it|pilot with a small bit)\b`), "drill-round"},
	{regexp.MustCompile(`(?i)\bthread the end on a blunt yarn needle\b`), "needle"},
	{regexp.MustCompile(`(?i)\bsandpaper\b`), "dust"},
	{regexp.MustCompile(`(?i)\bbrush a thin film\b.*\bsolvent\b`), "solvent-vapour"},
	{regexp.MustCompile(`(?i)\bbrush a thin film\b.*\bsolvent\b`), "solvent-fire"},
	{regexp.MustCompile(`(?i)\btwo-part\b`), "epoxy-skin"},
}

// whoHasTheWord are the four that every caution defers to.
var whoHasTheWord = []*regexp.Regexp{
	regexp.MustCompile(`(?i)\blabels?\b`), regexp.MustCompile(`(?i)\bsafety data sheets?\b`),
	regexp.MustCompile(`(?i)\blocal rules?\b`), regexp.MustCompile(`(?i)\bresponsible\b|\bin charge\b`),
}

// sheet checks a build sheet that was handed out.
func (c *conversation) sheet(s sheet.Sheet) {
	c.Sheets++
	var all strings.Builder
	for _, render := range []func(io.Writer) error{
		func(w io.Writer) error { return s.Text(w, page.Style{Width: 80}) },
		func(w io.Writer) error { return s.Text(w, page.Style{Width: 40, Plain: true}) },
		s.Markdown, s.HTML, s.JSON,
	} {
		all.WriteString(c.rendered("the sheet", render))
	}
	st, err := head.Parse(c.Catalogue, s.Stack)
	if err != nil {
		c.failf("the sheet's stack %q: %v", s.Stack, err)
	}
	for i, l := range head.New(st, c.Catalogue.Limits).Layers {
		if l.Verdict == head.Slack || l.Verdict == head.Over {
			c.failf("the sheet builds %s, whose layer %d is %s", s.Stack, i+1, l.Verdict)
		}
	}
	if c.vow.path == noLatex.path {
		c.LatexFree++
		for _, x := range st.Slices {
			if x.Rubber.Latex {
				c.failf("the sheet of someone who must avoid latex has %s", x.Tube.ID)
			}
		}
		for _, p := range s.Parts {
			if tube, ok := c.Catalogue.Tube(p.ID); ok && strings.Contains(tube.Material, "latex") {
				c.failf("someone who must avoid latex is to buy %s", p.Name)
			}
			if glue, ok := c.Catalogue.Adhesive(p.ID); ok && glue.Latex {
				c.failf("someone who must avoid latex is to buy %s", p.Name)
			}
		}
	}
	if c.vow.path == young.path {
		c.ForMinors++
		for _, p := range s.Parts {
			if glue, ok := c.Catalogue.Adhesive(p.ID); ok && glue.Base == "solvent" {
				c.failf("a young maker is to use %s", p.Name)
			}
		}
	}
	for _, step := range s.Steps {
		c.step(s, step)
	}
	for _, x := range s.Safety.Cautions {
		for _, who := range whoHasTheWord {
			if !who.MatchString(x.Defer) {
				c.failf("caution %s does not defer to %s", x.ID, who)
			}
		}
	}
	if len(s.Safety.Cautions) == 0 || s.Safety.Rule == "" {
		c.failf("the sheet has no safety page")
	}
}

// step checks that a step carries the cautions of its hazards, and that they
// stand on the safety page as well.
func (c *conversation) step(s sheet.Sheet, step sheet.Step) {
	has := func(list []sheet.Caution, id string) bool {
		return slices.ContainsFunc(list, func(x sheet.Caution) bool { return x.ID == id })
	}
	text := strings.Join([]string{step.Text, strings.Join(step.Tools, ", ")}, " ")
	for _, h := range hazards {
		if !h.words.MatchString(text) {
			continue
		}
		c.Hazards++
		if !has(step.Cautions, h.caution) {
			c.failf("step %d, %s, says %s and lacks the caution %s", step.Number, step.ID, h.words, h.caution)
		}
	}
	for _, x := range step.Cautions {
		if !has(s.Safety.Cautions, x.ID) {
			c.failf("caution %s of step %d is not on the safety page", x.ID, step.Number)
		}
		if caution, ok := c.Catalogue.Caution(x.ID); ok && caution.Adult && c.vow.path == young.path {
			c.failf("step %d, %s, is for adults and a young maker gets it", step.Number, step.ID)
		}
	}
	if c.vow.path == young.path && hazards[0].words.MatchString(text) && !has(step.Cautions, "adult") {
		c.failf("step %d, %s, puts a young maker at a blade without an adult", step.Number, step.ID)
	}
}

// rendered returns what is written, which may steer no terminal.
func (c *conversation) rendered(what string, render func(io.Writer) error) string {
	var b bytes.Buffer
	if err := render(&b); err != nil {
		c.failf("%s can't be rendered: %v", what, err)
	}
	for _, r := range b.String() {
		if r != '\n' && (unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069') {
			c.failf("%s holds %U", what, r)
			break
		}
	}
	return b.String()
}

// replay takes the conversation up again from its lines, as after a crash, and
// from what was kept of it on the way, and compares what it has come to.
func (c *conversation) replay() {
	again := NewSession(c.Kit)
	again.Open()
	again.Replay(c.lines)
	if d := differ(c.s.now.State, again.now.State); d != "" {
		c.failf("taken up again, the conversation differs (-was +is):\n%s", d)
	}
	if c.kept == nil {
		return
	}
	from := NewSession(c.Kit)
	if _, ok := (resuming{from}).resume(c.kept, nil); !ok {
		c.failf("what was kept after line %d can't be used", c.after)
		return
	}
	for i, l := range c.lines[c.after:] {
		r := from.Say(l.Said)
		was := c.said[c.after+i]
		if deeper := strings.Contains(l.Said, "more") || strings.Contains(l.Said, "rules"); deeper {
			continue // what goes deeper is not kept, but made anew from the head
		}
		if is := spoken(r); is != was {
			c.failf("from what was kept after line %d, the answer to %q differs: was\n%s\nis\n%s", c.after, l.Said, was, is)
			return
		}
	}
	if d := differ(c.s.now.State, from.now.State); d != "" {
		c.failf("from what was kept after line %d, the conversation differs (-was +is):\n%s", c.after, d)
	}
}

// differ returns how two states differ; empty for not at all.
func differ(a, b settled.State) string {
	return cmp.Diff(a, b, cmp.AllowUnexported(settled.State{}), cmpopts.IgnoreFields(settled.State{}, "Ground"), cmpopts.EquateEmpty())
}

// spoken is a reply as it reads.
func spoken(r Reply) string {
	var b strings.Builder
	p := r.Page
	if r.Ask != nil {
		p = append(slices.Clone(p), page.Para(r.Ask.String()))
	}
	if err := page.Text(&b, p, page.Style{Width: 80, Plain: true}); err != nil {
		return err.Error()
	}
	return b.String()
}

// A field that is new in what a conversation has come to has to be kept with the
// rest, in snapshot.go or settled/saved.go, or be named here as one that need
// not be.
func TestNothingIsLeftOutOfSnapshots(t *testing.T) {
	names := func(t reflect.Type, but ...string) []string {
		var list []string
		for i := range t.NumField() {
			if name := strings.ToLower(t.Field(i).Name); !slices.Contains(but, name) {
				list = append(list, name)
			}
		}
		slices.Sort(list)
		return list
	}
	if d := cmp.Diff(names(reflect.TypeFor[state](), "rest", "traced", "bench", "benches"), names(reflect.TypeFor[savedState]())); d != "" {
		t.Errorf("a state has, a snapshot has:\n%s", d)
	}
	if n, m := reflect.TypeFor[settled.State]().NumField(), 15; n != m {
		t.Errorf("a settled.State has %d fields, %d are kept", n, m)
	}
}
