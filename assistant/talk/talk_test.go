package talk

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"mallow/assistant"
	"mallow/assistant/few"
	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/term"
	"mallow/rules/facts"
)

// small is a kit over a few parts.
var small = sync.OnceValues(func() (*assistant.Kit, error) {
	cat, err := few.Parts()
	if err != nil {
		return nil, err
	}
	book, err := facts.Book()
	if err != nil {
		return nil, err
	}
	return assistant.NewKit(cat, book)
})

func kit(t interface{ Fatal(...any) }) *assistant.Kit {
	k, err := small()
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// answered is a sentence that leaves no question of safety open.
const answered = "marimba, two mallets, medium, all adults, latex is fine, no solvents"

// said is a term.Reader of lines; a step may do something before its line is
// read, or stand for an error.
type said struct {
	t     *testing.T
	steps []step
}

type step struct {
	line string
	err  error
	do   func()
}

func (s *said) ReadLine(string) (string, error) {
	if len(s.steps) == 0 {
		return "", io.EOF
	}
	x := s.steps[0]
	s.steps = s.steps[1:]
	if x.do != nil {
		x.do()
	}
	return x.line, x.err
}

func (s *said) Close() error { return nil }

// talkTo holds a conversation and returns all that was written.
func talkTo(t *testing.T, c Config, steps ...step) (string, error) {
	t.Helper()
	var out bytes.Buffer
	c.In, c.Out = &said{t, steps}, &out
	c.Style = func() page.Style { return page.Style{Width: 100, Plain: true} }
	c.Clock = func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) }
	err := Run(t.Context(), kit(t), c)
	return out.String(), err
}

func shelf(t *testing.T) (*journal.Shelf, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "mallow")
	s, err := journal.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return &s, dir
}

// found is the conversation that may be taken up.
func found(t *testing.T, s *journal.Shelf) *journal.Log {
	t.Helper()
	f, err := s.Find()
	if err != nil || f.Log == nil || len(f.Bad) > 0 {
		t.Fatal(f, err)
	}
	return f.Log
}

func want(t *testing.T, out string, texts ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(out), " ")
	for _, w := range texts {
		if !strings.Contains(flat, w) {
			t.Errorf("no %q in:\n%s", w, out)
		}
	}
}

// Where nothing can be saved any more, it says so and carries on; when it can
// again, all of it is saved.
func TestDiskGone(t *testing.T) {
	s, dir := shelf(t)
	away := dir + "-away"
	move := func(from, to string) func() {
		return func() {
			if err := os.Rename(from, to); err != nil {
				t.Fatal(err)
			}
		}
	}
	out, err := talkTo(t, Config{Shelf: s},
		step{line: "marimba"},
		step{line: "two mallets", do: move(dir, away)},
		step{line: "low end", do: move(away, dir)},
		step{line: "leave"})
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "this conversation is not being saved", "Taken: two mallets", "Taken: the low end")
	want(t, out, "saving works again", "All you said is kept")
	log := found(t, s)
	defer log.Close()
	if got := log.Session().Lines; len(got) != 4 || got[1].Said != "two mallets" {
		t.Errorf("on disk: %+v", got)
	}
}

// What is not on disk at the end is told, and nothing else is said to be kept.
func TestFarewellIsTrue(t *testing.T) {
	gone := func(dir string) func() {
		return func() {
			if err := os.Rename(dir, dir+"-away"); err != nil {
				t.Fatal(err)
			}
		}
	}
	s, dir := shelf(t)
	out, err := talkTo(t, Config{Shelf: s}, step{line: "marimba"}, step{line: "two mallets", do: gone(dir)}, step{line: "save"}, step{err: term.ErrInterrupt})
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "It is not saved.", "what you said last (lines: 2) is not kept", "What you said last (lines: 2) is not kept. What you said before that is kept")
	if strings.Contains(strings.Join(strings.Fields(out), " "), "all you said is kept; start") || strings.Contains(out, "All you said is kept") {
		t.Errorf("it says that all is kept:\n%s", out)
	}
	// Nothing could be saved from the start; later it can.
	s, dir = shelf(t)
	gone(dir)()
	out, err = talkTo(t, Config{Shelf: s}, step{line: "marimba"}, step{line: "two mallets", do: func() {
		if err := os.Rename(dir+"-away", dir); err != nil {
			t.Fatal(err)
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "This conversation is not being saved", "saving works again, and all you said is kept", "All you said is kept")
	log := found(t, s)
	defer log.Close()
	if got := log.Session().Lines; len(got) != 2 || got[0].Said != "marimba" {
		t.Errorf("on disk: %+v", got)
	}
	s, dir = shelf(t)
	gone(dir)()
	out, err = talkTo(t, Config{Shelf: s}, step{line: "marimba"})
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "Goodbye. What you said last (lines: 1) is not kept.")
}

// A conversation that goes on in another program is named, never replaced.
func TestHeld(t *testing.T) {
	s, _ := shelf(t)
	if _, err := talkTo(t, Config{Shelf: s}, step{line: "marimba"}); err != nil {
		t.Fatal(err)
	}
	other := found(t, s)
	defer other.Close()
	out, err := talkTo(t, Config{Shelf: s, Resume: Always}, step{line: "show answers"})
	if err == nil || !strings.Contains(err.Error(), "goes on in another mallow") || strings.Contains(out, "You have not") {
		t.Errorf("%v:\n%s", err, out)
	}
	out, err = talkTo(t, Config{Shelf: s, Resume: Offer}, step{line: "show answers"})
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "goes on in another mallow", "You have not told me anything yet")
}

func TestInterrupts(t *testing.T) {
	s, _ := shelf(t)
	out, err := talkTo(t, Config{Shelf: s},
		step{err: term.ErrInterrupt}, step{line: "marimba"}, // one cancels the line
		step{err: term.ErrTooLong},
		step{err: term.ErrInterrupt}, step{err: term.ErrInterrupt}, step{line: "never read"})
	if err == nil || !strings.Contains(err.Error(), "interrupted") {
		t.Errorf("got %v", err)
	}
	want(t, out, "Nothing taken. Ctrl-C once more leaves", "Taken: marimba", "longer than 4096 bytes", "Goodbye. All you said is kept")
	if strings.Contains(out, "never read") {
		t.Error("it went on")
	}
}

func TestOffer(t *testing.T) {
	for _, tt := range []struct {
		name   string
		resume Resume
		lines  []string
		want   []string
		never  string
	}{
		{"taken up", Offer, []string{"yes", "show answers"}, []string{"A conversation was broken off (marimba; lines said: 1)", "Taken up again", "- marimba"}, ""},
		{"Enter takes it up", Offer, []string{""}, []string{"Taken up again"}, ""},
		{"a new wish is not a yes, and not lost", Offer, []string{"vibes, and I am allergic to latex", "", "show answers"}, []string{"something new", "latex to be avoided: yes", "- vibraphone"}, "Taken up again"},
		{"what goes on is said to what goes on", Offer, []string{"no, wait, my son gets hives from balloons", "go on", "show answers"}, []string{"latex to be avoided: yes", "- marimba"}, ""},
		{"not wanted", Offer, []string{"no", "show answers"}, []string{"You have not told me anything yet"}, "Taken up again"},
		{"always", Always, []string{"show answers"}, []string{"Taken up again", "- marimba"}, "Take it up"},
		{"never", Never, []string{"show answers"}, []string{"You have not told me anything yet"}, "Take it up"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, _ := shelf(t)
			if _, err := talkTo(t, Config{Shelf: s}, step{line: "marimba"}); err != nil {
				t.Fatal(err)
			}
			var steps []step
			for _, l := range tt.lines {
				steps = append(steps, step{line: l})
			}
			out, err := talkTo(t, Config{Shelf: s, Resume: tt.resume}, steps...)
			if err != nil {
				t.Fatal(err)
			}
			want(t, out, tt.want...)
			if tt.never != "" && strings.Contains(out, tt.never) {
				t.Errorf("%q in:\n%s", tt.never, out)
			}
		})
	}
}

// A cancelled context ends it, with what was said saved.
func TestCancelled(t *testing.T) {
	s, _ := shelf(t)
	ctx, cancel := context.WithCancel(t.Context())
	var out bytes.Buffer
	c := Config{Shelf: s, Out: &out, Clock: time.Now, Style: func() page.Style { return page.Style{} }}
	c.In = &said{t, []step{{line: "marimba"}, {err: io.EOF, do: cancel}}}
	if err := Run(ctx, kit(t), c); err == nil || !strings.Contains(err.Error(), "canceled") {
		t.Errorf("got %v", err)
	}
	log := found(t, s)
	defer log.Close()
	if got := log.Session().Lines; len(got) != 1 || got[0].Said != "marimba" {
		t.Errorf("on disk: %+v", got)
	}
}

// A finished conversation, with its sheet handed out, is not offered again, but
// can be had.
func TestFinished(t *testing.T) {
	s, _ := shelf(t)
	steps := []step{{line: answered}}
	for range 12 {
		steps = append(steps, step{line: ""})
	}
	out, err := talkTo(t, Config{Shelf: s}, append(steps, step{line: "another head"}, step{line: "the sheet"}, step{line: "leave"})...)
	if err != nil {
		t.Fatal(err)
	}
	want(t, out, "To buy:", "Build sheet for a", "Goodbye, and good wrapping")
	for _, resume := range []Resume{Offer, Always} {
		steps := []step{{line: "take it up again"}, {line: "show answers"}}
		if resume == Always {
			steps = steps[1:]
		}
		out, err = talkTo(t, Config{Shelf: s, Resume: resume}, steps...)
		if err != nil {
			t.Fatal(err)
		}
		want(t, out, "Taken up again", "- marimba")
		if strings.Contains(out, "Take it up again?") {
			t.Errorf("it is asked about:\n%s", out)
		}
	}
	out, err = talkTo(t, Config{Shelf: s, Resume: Offer}, step{line: "xylophone"}, step{line: "show answers"})
	if err != nil || strings.Contains(out, "- marimba") {
		t.Errorf("%v; it goes on though nobody asked for it:\n%s", err, out)
	}
}
