// Package talk runs a conversation over a terminal or a pipe: it reads lines,
// writes replies, keeps what was said on disk, and takes it up again. It never
// decides what is said.
package talk

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"mallow/assistant"
	"mallow/assistant/desk"
	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/term"
	"mallow/knowledge/correct"
)

// Config is what Run needs beside what the conversation draws on.
type Config struct {
	In    term.Reader
	Out   io.Writer
	Style func() page.Style // asked before each reply, since a terminal may be resized
	Rows  func() int        // of the terminal, asked likewise; nil or 0 writes a reply in one go
	Clock func() time.Time

	Shelf *journal.Shelf // nil: nothing is saved
	// Versions names all that answers follow from beside the lines: program,
	// parts, rules. Empty keeps no state, so that lines are answered again.
	Versions string
	Unsafe   string // why nothing is saved, a sentence without its full stop
	Resume   Resume
	Record   string   // file of the learner's record; empty for one beside the sessions
	Name     string   // the learner's, for the record; may be empty
	Words    *Words   // told what the next answer may be; may be nil
	First    []string // lines that are said before anybody is asked; the reply to the last is shown
	// Built puts heads that were built and measured into the maker's log; nil
	// where there is none.
	Built func([]correct.Built) error
	// Desk takes pages and sounds; nil where nothing can be written.
	Desk *desk.Desk
	// Patient says that somebody is looking on. Aside takes what they are told while a reply
	// takes longer than usual, and how far it has come; nil tells nobody.
	Patient bool
	Aside   io.Writer
}

// Resume is what happens to a conversation that was broken off.
type Resume int

// What to do about it.
const (
	Offer  Resume = iota // ask whether to take it up
	Always               // take it up
	Never                // leave it
)

// Words holds what the next answer may be, for the completion of a reader
// that was made before the conversation.
type Words struct{ next []string }

// Complete returns the words that may follow line.
func (w *Words) Complete(string) []string { return w.next }

const prompt = "> "

// Run holds a conversation until the person leaves, the input ends, or ctx
// is cancelled. Everything said is on disk by then. It returns
// term.ErrInterrupt when the person left by Ctrl-C, and ctx's error when that
// ended it.
func Run(ctx context.Context, kit *assistant.Kit, c Config) error {
	t := &talk{Config: c, ctx: ctx, s: assistant.NewSession(kit), kit: kit}
	defer t.close()
	kit.Heed(term.Interrupts(c.In), t.further)
	r, err := t.begin()
	if err != nil {
		return err
	}
	for _, line := range t.First {
		r = t.say(line)
	}
	interrupts := 0
	for {
		if err := t.render(r); err != nil {
			return err
		}
		if r.Leave {
			return t.farewell()
		}
		line, err := t.read()
		switch {
		case errors.Is(err, term.ErrInterrupt):
			if interrupts++; interrupts == 2 || errors.Is(err, term.ErrStopped) {
				return errors.Join(term.ErrInterrupt, t.farewell())
			}
			r = assistant.Reply{Ask: r.Ask, Words: r.Words}
			r.Say("Nothing taken. Ctrl-C once more leaves%s.", t.kept())
			continue
		case errors.Is(err, term.ErrTooLong):
			r = assistant.Reply{Ask: r.Ask, Words: r.Words}
			r.Say("That line is longer than %d bytes and was not taken. Say it in several.", term.MaxLine)
			continue
		case err == io.EOF:
			if ctx.Err() != nil {
				return errors.Join(ctx.Err(), t.farewell())
			}
			return t.farewell()
		case err != nil:
			return fmt.Errorf("reading an answer: %w", err)
		}
		interrupts = 0
		switch r = t.say(line); {
		case r.Broken && t.Aside == nil:
			// Nobody was told that a look began: who pressed Ctrl-C meant to end it.
			return errors.Join(t.render(r), term.ErrInterrupt, t.farewell())
		case r.Broken:
			interrupts = 1 // the next leaves
		}
	}
}

// talk is a conversation under way.
type talk struct {
	Config
	ctx  context.Context // of Run
	s    *assistant.Session
	log  *journal.Log // nil: nothing is saved
	kit  *assistant.Kit
	past *journal.Log // one that came to its end, and may be asked for first of all

	stated int            // lines of which the state is kept
	unkept []journal.Line // said while there was no session on disk, though there should be
	failed bool           // the last attempt to save failed
	ahead  *read          // said while a reply was not yet shown to its end
}

// begin opens the session on disk and returns the first reply.
func (t *talk) begin() (assistant.Reply, error) {
	r := t.s.Open()
	if t.Shelf == nil {
		if t.Unsafe != "" {
			r.Say("Note: %s. This conversation is not being saved.", t.Unsafe)
		}
		return r, nil
	}
	if t.Resume != Never {
		taken, reply, err := t.earlier(r)
		if taken || err != nil {
			return reply, err
		}
		r = reply
	}
	log, err := t.Shelf.New(t.Clock())
	if err != nil {
		t.failed = true
		r.Say("Note: %s. This conversation is not being saved.", err)
		return r, nil
	}
	t.log = log
	return r, nil
}

// earlier looks for a conversation to go on with, and takes it up if the person
// likes.
func (t *talk) earlier(r assistant.Reply) (taken bool, _ assistant.Reply, _ error) {
	found, err := t.Shelf.Find()
	opening := len(r.Page)
	for _, b := range found.Bad {
		r.Say("Note: %s.", b)
	}
	if err != nil {
		r.Say("Note: %s.", err)
	}
	if found.Held != "" {
		if t.Resume == Always {
			if found.Log != nil {
				found.Log.Close()
			}
			return false, r, fmt.Errorf("the last conversation (%s) goes on in another mallow: leave it there first, or begin a new one with --new", found.Held)
		}
		r.Say("Note: the last conversation goes on in another mallow, and is not touched here.")
	}
	notes := r.Page[opening:]
	switch {
	case found.Log == nil:
		if t.Resume == Always {
			r.Say("Nothing was broken off: this is a new conversation.")
		}
		return false, r, nil
	case t.Resume == Offer && found.Log.Session().Done:
		t.past = found.Log
		r.Say("The last conversation (%s) came to its end; say “take it up again” to go on from there.", about(found.Log.Session()))
		return false, r, nil
	}
	return t.offer(found.Log, r, notes)
}

// about is what a conversation is recognised by.
func about(s journal.Session) string {
	if s.About != "" {
		return s.About
	}
	return fmt.Sprintf("it begins “%s”", firstWords(s.Lines))
}

// offer takes up a conversation that was broken off, if the person likes.
// Where they are not asked, the notes go before what it says.
func (t *talk) offer(log *journal.Log, r assistant.Reply, notes page.Page) (taken bool, _ assistant.Reply, _ error) {
	if t.Resume == Offer {
		was := log.Session()
		q := assistant.Reply{Said: r.Said}
		q.Say("A conversation was broken off (%s; lines said: %d).", about(was), len(was.Lines))
		q.Ask = &assistant.Ask{Text: "Take it up again?", Choices: []string{"yes", "no"}, Enter: "yes"}
		if err := t.render(q); err != nil {
			return false, r, errors.Join(err, log.Close())
		}
		line, err := t.read()
		answer := plain(line)
		if err == nil && answer != "yes" && answer != "no" {
			// More than an answer: nothing of it may be lost, least of all who
			// is allergic. It is said to whichever conversation goes on.
			t.First = append([]string{line}, t.First...)
			q = assistant.Reply{Ask: &assistant.Ask{Text: "Is that something new, or does it go on from there?", Choices: []string{"new", "go on"}, Enter: "new"}}
			if err := t.render(q); err != nil {
				return false, r, errors.Join(err, log.Close())
			}
			line, err = t.read()
			switch more := strings.ToLower(strings.Trim(line, " .!")); {
			case plain(line) == "yes" && more != "", strings.Contains(more, "go on"), strings.Contains(more, "from there"):
				answer = "yes"
			case more != "" && !strings.HasPrefix(more, "new") && plain(line) != "no":
				t.First = append(t.First, line)
				answer = "no"
			default:
				answer = "no"
			}
		}
		if err != nil || answer == "no" {
			// Offered once: a conversation that is not wanted is done with, but
			// one that was interrupted again is not.
			if err == nil {
				err = log.Finish()
			}
			log.Close()
			if err == io.EOF || errors.Is(err, term.ErrInterrupt) {
				return true, assistant.Reply{Leave: true}, nil
			}
			return false, assistant.Reply{Ask: r.Ask, Words: r.Words}, nil
		}
	}
	reply := t.takeUp(log)
	if t.Resume == Always {
		reply.Page = slices.Concat(notes, reply.Page)
	}
	return true, reply, nil
}

// takeUp goes on with a conversation: from the state that was kept, or else
// from its lines.
func (t *talk) takeUp(log *journal.Log) assistant.Reply {
	t.log = log
	lines := log.Session().Lines
	t.s.Progress = t.progress()
	defer func() { t.s.Progress = nil }()
	var state []byte
	if t.Versions != "" {
		state, t.stated = log.Kept(t.Versions)
	}
	r, ok := t.s.TakeUp(lines, state, t.stated)
	if !ok {
		t.stated = 0
	}
	if n := len(lines); n > 0 {
		t.until(&r, lines[n-1].At)
	}
	t.state(true)
	return r
}

// progress tells somebody who looks on how far the lines have been gone
// through.
func (t *talk) progress() func(done, of int) {
	if t.Aside == nil {
		return nil
	}
	last := time.Now()
	return func(done, of int) {
		if now := time.Now(); now.Sub(last) >= often/2 {
			last = now
			fmt.Fprintf(t.Aside, "Going through what was said: %d of %d lines.\n\n", done, of)
		}
	}
}

// A state is kept at the end, after a line that took long to answer, and every
// so many lines: as many can be answered again in no time.
const (
	long  = 20 * time.Millisecond
	every = 16
)

// state keeps what the conversation has come to, if it is time to.
func (t *talk) state(now bool) {
	if t.Versions == "" || t.log == nil || t.log.Len() == t.stated || !now && t.log.Len()-t.stated < every {
		return
	}
	if state, ok := t.s.Snapshot(); ok && t.log.Keep(t.Versions, state) == nil {
		t.stated = t.log.Len()
	}
}

// plain returns yes or no for a line that says only that, and yes for an empty
// one; nothing for any other.
func plain(line string) string {
	switch strings.ToLower(strings.Trim(line, " .!,")) {
	case "", "y", "yes", "yeah", "yep", "sure", "ok", "okay", "yes please", "go on", "take it up", "take it up again", "resume":
		return "yes"
	case "n", "no", "nope", "nah", "no thanks", "no thank you", "new", "start new", "start again":
		return "no"
	}
	return ""
}

func firstWords(lines []journal.Line) string {
	const most = 40
	for _, l := range lines {
		text := []rune(page.Clean(l.Said))
		if len(text) > most {
			return string(text[:most]) + "…"
		}
		if len(text) > 0 {
			return string(text)
		}
	}
	return ""
}

// say saves the line, then answers it: a line that the program dies over is
// on disk.
func (t *talk) say(line string) assistant.Reply {
	if past := t.past; past != nil {
		t.past = nil
		if slices.Contains([]string{"take it up", "take it up again", "take up again", "resume", "go on", "go on from there"}, strings.ToLower(strings.Trim(line, " .!"))) {
			if t.log != nil {
				t.log.Close()
			}
			return t.takeUp(past)
		}
		past.Close()
	}
	trouble := t.put(journal.Line{At: t.Clock(), Asked: t.s.Asked(), Said: line})
	wait, began := t.wait(), time.Now()
	r := t.s.Say(line)
	took := time.Since(began)
	wait.end()
	if t.log != nil {
		trouble = cmp.Or(t.log.Describe(t.s.About()), trouble)
	}
	t.state(took > long)
	if r.Save {
		r.Say("%s", t.saved())
	}
	switch {
	case trouble != nil:
		r.Say("Note: %s. Until that works again, this conversation is not being saved.", trouble)
	case t.failed:
		r.Say("Note: saving works again, and all you said is kept.")
	}
	t.failed = trouble != nil
	if r.Gift != nil {
		t.give(&r)
	}
	t.until(&r, t.Clock())
	if len(r.Heads) > 0 && t.Built != nil {
		if err := t.Built(r.Heads); err != nil {
			r.Say("Note: %s.", err)
		} else {
			r.Say("Kept: what is computed from now on follows your own figures.")
		}
	}
	if err := t.keep(r.Predictions); err != nil {
		r.Say("Note: %s.", err)
	}
	return r
}

// put puts a line on disk, with what could not be put there before.
func (t *talk) put(l journal.Line) error {
	if t.log != nil {
		return t.log.Add(l)
	}
	if t.Shelf == nil {
		return nil
	}
	t.unkept = append(t.unkept, l)
	return t.retry()
}

// retry puts on disk what could not be put there before.
func (t *talk) retry() error {
	switch {
	case t.log != nil:
		return t.log.Save()
	case t.Shelf == nil:
		return nil
	}
	log, err := t.Shelf.New(t.Clock())
	if err != nil {
		return err
	}
	t.log = log
	for _, l := range t.unkept {
		err = log.Add(l)
	}
	t.unkept = nil
	return err
}

// lost is how many lines of those said last are not on disk, though they should
// be.
func (t *talk) lost() int {
	if t.log != nil {
		return t.log.Unsaved()
	}
	return len(t.unkept)
}

// give hands over a page or a sound: a sound is played where it can be, and a
// page opened where there is a desktop and the person likes.
func (t *talk) give(r *assistant.Reply) {
	g := r.Gift
	if t.Desk == nil {
		r.Say("Nothing can be written here.")
		return
	}
	if g.Sound && !g.Keep {
		if t.Patient { // told before it is heard
			said := *r
			said.Ask = nil
			if t.render(said) == nil {
				r.Page = nil
			}
		}
		said, err := t.Desk.Play(t.ctx, g.Name, g.Render)
		if err != nil {
			said = reply.Told(err)
		}
		r.Say("%s", said)
		return
	}
	path, err := t.Desk.Save(g.Name, g.Render)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	r.Say("It is in %s.", page.Clean(path))
	if _, ok := t.Desk.Browser(); !ok || !t.Patient || g.Sound {
		return
	}
	ask := assistant.Reply{Said: r.Said, Ask: &assistant.Ask{Text: "Open it now?", Choices: []string{"yes", "no"}, Enter: "yes"}}
	r.Page = nil
	if t.render(ask) != nil {
		return
	}
	line, err := t.read()
	if err != nil || strings.HasPrefix(strings.ToLower(strings.TrimSpace(line)), "n") {
		return
	}
	if err := t.Desk.Open(t.ctx, path); err != nil {
		r.Say("It could not be opened here: %s", reply.Told(err))
	}
}

// until says when a wait that began at a time is over.
func (t *talk) until(r *assistant.Reply, began time.Time) {
	if r.WaitMin < 1 {
		return
	}
	ready := began.Add(time.Duration(r.WaitMin * float64(time.Minute)))
	if ready.After(t.Clock()) {
		r.Say("That is until %s.", ready.Format("15:04 on Monday 2 January"))
		return
	}
	r.Say("That was over at %s.", ready.Format("15:04 on Monday 2 January"))
}

func (t *talk) saved() string {
	switch {
	case t.log == nil:
		return "This conversation can't be saved here."
	case t.lost() > 0:
		return "It is not saved."
	}
	return "Saved, as after every answer. Start mallow again and it offers to go on from here."
}

// keep adds predictions to the learner's record.
func (t *talk) keep(list []journal.Prediction) error {
	path := t.Record
	if path == "" && t.Shelf != nil {
		path = t.Shelf.Path("learning.csv")
	}
	if len(list) == 0 || path == "" {
		return nil
	}
	for i := range list {
		list[i].At, list[i].Learner = t.Clock(), t.Name
	}
	return journal.Record(path, list...)
}

// kept is how a sentence on leaving ends: whether what was said is kept.
func (t *talk) kept() string {
	switch n := t.lost(); {
	case n > 0:
		return fmt.Sprintf("; what you said last (lines: %d) is not kept", n)
	case t.log == nil:
		return ""
	}
	return ", and all you said is kept"
}

func (t *talk) farewell() error {
	var r assistant.Reply
	trouble := t.retry()
	if trouble == nil && t.log != nil && t.s.Done() {
		trouble = t.log.Finish()
	}
	t.state(true)
	switch n := t.lost(); {
	case n > 0:
		r.Say("Note: %s.", trouble)
		r.Say("Goodbye. What you said last (lines: %d) is not kept.", n)
		if t.log != nil && t.log.Len() > n {
			r.Say("What you said before that is kept; start mallow again and it offers to go on from there.")
		}
	case t.log == nil:
		r.Say("Goodbye.")
	case t.s.Done():
		if trouble != nil {
			r.Say("Note: %s.", trouble)
		}
		r.Say("Goodbye, and good wrapping.")
	case t.log.Len() == 0:
		r.Say("Goodbye.")
	default:
		r.Say("Goodbye. All you said is kept; start mallow again and it offers to go on from here.")
	}
	return t.render(r)
}

func (t *talk) close() {
	for _, log := range []*journal.Log{t.log, t.past} {
		if log != nil {
			log.Close()
		}
	}
}

// render writes a reply, its question last.
func (t *talk) render(r assistant.Reply) error {
	style := t.Style()
	p := r.Page
	if r.Whole {
		p = append(p, r.Sheet.Page(min(max(style.Width, page.MinWidth), page.MaxWidth))...)
	}
	if r.Ask != nil {
		p = append(p, page.Para(r.Ask.String()))
	}
	if t.Words != nil {
		t.Words.next = r.Words
	}
	if len(p) == 0 {
		return nil
	}
	var text strings.Builder
	if err := page.Text(&text, p, style); err != nil {
		return fmt.Errorf("writing a reply: %w", err)
	}
	return t.show(text.String())
}
