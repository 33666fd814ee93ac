package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"mallow/assistant"
	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/sheet"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// outputs are the flags of every command that hands out build sheets.
type outputs struct {
	HTML  outFile `name:"html" placeholder:"FILE" help:"Write one self-contained HTML page, with drawings and full-size templates."`
	MD    outFile `name:"md" placeholder:"FILE" help:"Write Markdown."`
	JSON  bool    `name:"json" help:"Write JSON to standard output."`
	Force bool    `help:"Replace files that exist."`
}

// output gives what is no sheet.
func (o outputs) output() output { return output{o.JSON} }

// ready returns an error where the files can't be written.
func (o outputs) ready() error { return ready(o.Force, o.HTML, o.MD) }

// rendered is a sheet, or several.
type rendered interface {
	HTML(io.Writer) error
	Markdown(io.Writer) error
	JSON(io.Writer) error
	Text(io.Writer, page.Style) error
}

// write renders r as the flags say: to the files named, and to standard output
// as JSON, or as text when nothing else was asked for.
func (o outputs) write(a *app, r rendered) error {
	for _, f := range []struct {
		path   outFile
		render func(io.Writer) error
	}{{o.HTML, r.HTML}, {o.MD, r.Markdown}} {
		if f.path == "" {
			continue
		}
		if err := saveFile(string(f.path), o.Force, f.render); err != nil {
			return err
		}
		fmt.Fprintf(a.err, "mallow: wrote %s\n", page.Clean(string(f.path)))
	}
	if o.JSON {
		return r.JSON(a.out)
	}
	if o.HTML == "" && o.MD == "" {
		return r.Text(a.out, a.style())
	}
	return nil
}

// mostHeads is as many as one sheet is made for.
const mostHeads = 400

type sheetCmd struct {
	Stack   string `arg:"" optional:"" help:"The head, as stack text. Without it, the best head for --want."`
	Want    string `placeholder:"TEXT" help:"What it is for, in a sentence: instrument, grip, sound, who makes it."`
	Session bool   `help:"The head that the last conversation came to."`
	Have    string `placeholder:"FILE|TEXT" help:"Parts on hand, used before anything is bought: a YAML file, or words."`
	Heads   *int   `placeholder:"N" help:"Heads to build, at most 400 (without it, as many as the wish says, or as are held at once)."`
	For     string `placeholder:"NAME" help:"Whom the sheet is for."`
	outputs
}

func (c sheetCmd) Run(a *app) error {
	if c.Session && (c.Stack != "" || c.Want != "") {
		return usagef("--session takes the last conversation's head; leave out the stack and --want")
	}
	if c.Stack == "" && c.Want == "" && !c.Session {
		return usagef("give a stack, or say with --want what the head is for, or --session for the last conversation's")
	}
	if c.Heads != nil && (*c.Heads < 1 || *c.Heads > mostHeads) {
		return usagef("--heads %d: from 1 to %d can be built at once", *c.Heads, mostHeads)
	}
	if err := c.ready(); err != nil {
		return err
	}
	kit, err := a.kit()
	if err != nil {
		return err
	}
	if c.Session {
		s, err := a.lastSheet(kit)
		if err != nil {
			return err
		}
		s.For = c.For
		return c.write(a, s)
	}
	wish, err := a.wish(kit, c.Want)
	if err != nil {
		return err
	}
	wish.Heed(kit.Stated(c.For).Careful())
	if err := a.have(kit, c.Have, &wish); err != nil {
		return err
	}
	a.assumed(&wish)
	heads := wish.Heads
	if c.Heads != nil {
		heads = *c.Heads
	}
	options := sheet.Options{Heads: heads, For: c.For}
	var best propose.Candidate
	if c.Stack != "" {
		stack, err := a.stack(kit.Catalogue, c.Stack)
		if err != nil {
			return usageError{err}
		}
		wish.Request.Pass = wish.Request.Pass.Given()
		if best, err = kit.Finder.Consider(stack, wish.Request); err != nil {
			return err
		}
		if no := best.Refused(); no != nil {
			return nothingFits{fmt.Errorf("%s can't be built for this: %s", stack, no.Reason)}
		}
	} else {
		wish.Request.Heads = heads
		asked := wish.Request
		if wish.Request, err = a.stockFirst(kit, wish.Request); err != nil {
			return err
		}
		p, err := a.propose(kit, wish.Request)
		a.binds(kit, asked, &p.Best)
		if err != nil {
			return err
		}
		best, options.Pool, options.Alternatives = p.Best, p.Pool, p.Alternatives
		if serves, short := graded.Serves(a.ctx, kit.Finder, best, wish.Request); short {
			first, beside := reply.In(kit.Catalogue).Range(best, serves)
			fmt.Fprintf(a.err, "mallow: %s\n", strings.TrimSpace(first+" "+beside))
		}
	}
	order, err := kit.Finder.Order([]propose.Make{{Head: best.Head, Heads: heads}}, wish.Request)
	if err != nil {
		return err
	}
	options.Order = &order
	s, err := kit.Sheets().Sheet(best, options)
	if err != nil {
		return err
	}
	return c.write(a, s)
}

// searchHeads is how many heads one search looks at before it settles for the
// best so far: some seconds' worth, and enough to prove the best for most
// wishes.
const searchHeads = 100_000

// propose searches for the best head. When that takes longer than a second it
// says on standard error how far it has come; Ctrl-C takes the best so far.
func (a *app) propose(kit *assistant.Kit, q propose.Request) (propose.Proposal, error) {
	q.Most = searchHeads
	last := time.Now()
	q.Progress = func(tried int) {
		if now := time.Now(); now.Sub(last) >= time.Second {
			last = now
			fmt.Fprintf(a.err, "mallow: %d heads looked at; Ctrl-C takes the best so far\n", tried)
		}
	}
	p, err := search.Propose(a.ctx, kit.Finder, q)
	if err == nil && p.Partial {
		fmt.Fprintf(a.err, "mallow: stopped after %d heads; a better one may exist\n", p.Tried)
	}
	return p, err
}

// lastSheet is the sheet of the head that the last conversation came to.
func (a *app) lastSheet(kit *assistant.Kit) (sheet.Sheet, error) {
	last, err := a.last()
	if err != nil {
		return sheet.Sheet{}, err
	}
	s := assistant.NewSession(kit)
	state, n := last.Kept(a.versions())
	if r, _ := s.TakeUp(last.Session().Lines, state, n); !s.Proposes() {
		asks := "what is needed"
		if r.Ask != nil {
			asks = r.Ask.Text
		}
		return sheet.Sheet{}, fmt.Errorf("the last conversation has not come to a head: it still asks “%s” Go on with it (mallow --resume), or say with --want what the head is for", asks)
	}
	return s.Sheet()
}

// last is the last conversation in which something was said.
func (a *app) last() (*journal.Log, error) {
	dir, err := journal.Dir(a.getenv)
	if err != nil {
		return nil, err
	}
	shelf, err := journal.Open(dir)
	if err != nil {
		return nil, err
	}
	last, bad, err := shelf.Last()
	for _, b := range bad {
		fmt.Fprintf(a.err, "mallow: %s; the conversation before it is taken\n", oneLine(b))
	}
	if err == nil && last == nil {
		err = errors.New("no conversation has been kept yet; `mallow` begins one")
	}
	return last, err
}

// wish reads the text of a --want, and says on standard error what was made of
// it and what was not.
func (a *app) wish(kit *assistant.Kit, text string, theirs ...string) (assistant.Wish, error) {
	w := kit.Wish(text, theirs...)
	if w.Grades > 0 {
		fmt.Fprintf(a.err, "mallow: a set of %d grades is what `mallow set %d` looks for\n", w.Grades, w.Grades)
	}
	if text != "" && len(w.Heard) == 0 && len(w.Moves) == 0 && w.Grades == 0 {
		return w, usagef("nothing was understood in %q; say, for example, 'two mallets, low end of a five-octave marimba, soft and dark'", text)
	}
	if len(w.Heard) > 0 {
		fmt.Fprintf(a.err, "mallow: understood: %s\n", page.Clean(strings.Join(w.Heard, "; ")))
	}
	for _, m := range w.Missed {
		fmt.Fprintf(a.err, "mallow: made nothing of %q\n", m)
	}
	for _, t := range w.Troubles {
		fmt.Fprintf(a.err, "mallow: %s\n", t)
	}
	return w, nil
}

// nothingFits marks an error that means nothing buildable meets the wishes.
type nothingFits struct{ error }

func (e nothingFits) Unwrap() error { return e.error }
