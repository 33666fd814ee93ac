package main

import (
	"fmt"

	"mallow/assistant/audio"
	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

type hearCmd struct {
	Stacks     []string `arg:"" name:"stack" help:"Heads to hear, each as one stack text."`
	Out        string   `required:"" placeholder:"FILE" help:"WAV file to write."`
	Force      bool     `help:"Replace the file if it exists."`
	Instrument string   `default:"marimba-5" placeholder:"ID" help:"Instrument (default ${default})."`
	Low        string   `placeholder:"NOTE" help:"Lowest note asked for, such as C3."`
	High       string   `placeholder:"NOTE" help:"Highest note asked for, such as C6."`
	Level      string   `enum:"true,matched" default:"true" help:"true: a heavier head sounds louder, as it is. matched: every head equally loud."`
}

func (c hearCmd) Run(a *app) error {
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	inst, err := instrument(cat, c.Instrument)
	if err != nil {
		return err
	}
	score := audio.Score{Instrument: inst, Dynamics: cat.Dynamics, Matched: c.Level == "matched"}
	if score.Low, score.High, err = noteRange(c.Low, c.High); err != nil {
		return err
	}
	var voices []audio.Voice
	for _, text := range c.Stacks {
		stack, err := head.Parse(cat, text)
		if err != nil {
			return usageError{err}
		}
		voices = append(voices, audio.Voice{Name: stack.String(), Head: head.New(stack, cat.Limits)})
	}
	sketch, err := audio.Play(voices, score)
	if err != nil {
		return usageError{err}
	}
	if err := saveFile(c.Out, c.Force, sketch.WAV); err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%s: %.0f s, 48 kHz, 24 bit. %s\n", page.Clean(c.Out), sketch.Seconds(), audio.Caveat)
	for _, line := range sketch.Guide() {
		fmt.Fprintln(a.out, line)
	}
	return nil
}

// noteRange reads two note names, either of which may be empty.
func noteRange(low, high string) (l, h measure.Note, err error) {
	for _, n := range []struct {
		flag, text string
		to         *measure.Note
	}{{"--low", low, &l}, {"--high", high, &h}} {
		if n.text == "" {
			continue
		}
		if *n.to, err = measure.ParseNote(n.text); err != nil {
			return 0, 0, usagef("%s: %w", n.flag, err)
		}
	}
	if low != "" && high != "" && l >= h {
		return 0, 0, usagef("--low %s is not below --high %s", l, h)
	}
	return l, h, nil
}
