package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"mallow/assistant"
	"mallow/assistant/desk"
	"mallow/assistant/journal"
	"mallow/assistant/talk"
	"mallow/assistant/term"
	"mallow/knowledge"
)

type talkCmd struct {
	Answers string `placeholder:"FILE" help:"Take the answers from this file, line by line, instead of standard input."`
	New     bool   `xor:"resume" help:"Begin a new conversation without offering to go on with one that was broken off."`
	Resume  bool   `xor:"resume" help:"Go on with the conversation that was broken off, without asking."`
	Learner string `placeholder:"NAME" help:"Whose predictions the learner's record is to say they are."`
	Record  string `placeholder:"FILE" help:"Keep what a learner predicted in this CSV file (default: learning.csv beside the sessions)."`
}

func (c talkCmd) Run(a *app) error {
	kit, err := a.kit()
	if err != nil {
		return err
	}
	x := sitting{answers: c.Answers, record: c.Record, learner: c.Learner}
	switch {
	case c.Resume:
		x.resume = talk.Always
	case c.New:
		x.resume = talk.Never
	}
	return a.sit(kit, x)
}

// sitting is one time at the conversation.
type sitting struct {
	answers string // file of lines; empty for standard input
	resume  talk.Resume
	room    string   // folder of the state folder to keep it in; empty for that itself
	first   []string // lines that are said before anybody is asked
	record  string
	learner string
}

// sit holds a conversation.
func (a *app) sit(kit *assistant.Kit, x sitting) (err error) {
	in := a.in
	if x.answers != "" {
		if in, err = os.Open(x.answers); err != nil {
			return err
		}
		defer in.Close()
	}
	// Ctrl-C is the conversation's own: it cancels a line or a look, before it ends anything.
	ctx, stop := signal.NotifyContext(context.WithoutCancel(a.ctx), syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	typed := term.IsTerminal(in)
	words := new(talk.Words)
	here := desk.Here(".")
	config := talk.Config{Out: a.out, Style: a.style, Clock: time.Now, Record: x.record, Name: x.learner, Words: words,
		Patient: typed, Aside: term.Aside(a.err), Resume: x.resume, First: x.first, Built: a.learn, Desk: &here, Versions: a.versions()}
	if f, ok := a.out.(*os.File); ok {
		config.Rows = func() int { return term.Rows(f) }
	}
	if x.resume == talk.Offer && !typed {
		config.Resume = talk.Never
	}
	history := ""
	if dir, err := journal.Dir(a.getenv); err != nil {
		config.Unsafe = err.Error()
	} else if shelf, err := journal.Open(filepath.Join(dir, x.room)); err != nil {
		config.Unsafe = err.Error()
	} else {
		config.Shelf, history = &shelf, shelf.Path("history")
	}
	config.In, err = term.Open(ctx, term.Config{
		In: in, Out: a.out, Simple: a.flags.Plain || term.Dumb(a.getenv), History: history, Complete: words.Complete,
	})
	if err != nil {
		return err
	}
	defer config.In.Close()
	if a.ctx.Err() != nil { // it came before anybody could be asked
		return errors.Join(errSaid, context.Canceled)
	}
	err = talk.Run(ctx, kit, config)
	if errors.Is(err, term.ErrInterrupt) || ctx.Err() != nil {
		return errors.Join(errSaid, context.Canceled)
	}
	return err
}

// kit loads what a conversation draws on, with the maker's shelf.
func (a *app) kit() (*assistant.Kit, error) {
	kit, err := a.bareKit()
	if err != nil {
		return nil, err
	}
	return kit, a.withShelf(kit)
}

// bareKit loads the knowledge and the rules side by side.
func (a *app) bareKit() (*assistant.Kit, error) {
	if a.load != nil {
		return a.load(a)
	}
	var cat *knowledge.Catalogue
	var wrong error
	loaded := make(chan struct{})
	go func() {
		defer close(loaded)
		cat, wrong = a.catalogue()
	}()
	book, err := a.book()
	<-loaded
	if err := errors.Join(wrong, err); err != nil {
		return nil, err
	}
	if a.own() {
		return assistant.NewKit(cat, book)
	}
	return assistant.Shipped(cat, book)
}
