package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"mallow/assistant/audio"
	"mallow/assistant/chart"
	"mallow/assistant/desk"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

type hearCmd struct {
	Stacks     []string `arg:"" name:"stack" help:"Heads to hear, each as one stack text. With several, each stroke is played with every head in turn and the first again."`
	Out        outFile  `placeholder:"FILE" help:"WAV file to write, instead of playing."`
	Each       bool     `help:"Write a file for each head, all at one level: FILE with a letter before its ending. Needs --out."`
	Force      bool     `help:"Replace files that exist."`
	Instrument string   `default:"marimba-5" placeholder:"NAME" help:"Instrument, such as glockenspiel (default ${default})."`
	Low        string   `placeholder:"NOTE" help:"Lowest note asked for, such as C3."`
	High       string   `placeholder:"NOTE" help:"Highest note asked for, such as C6."`
	Phrase     string   `enum:"strokes,line,chord,roll" default:"strokes" help:"strokes: one at each dynamic, low, in the middle and high. line, chord, roll: a short phrase in the middle."`
	Level      string   `enum:"true,matched,even" default:"true" help:"true: a heavier head sounds louder, as it is. matched: every head equally loud. even: every note equally loud, so that soft strokes can be heard on a laptop."`
	output
}

func (c hearCmd) Run(a *app) error {
	if c.Each && c.Out == "" {
		return usagef("--each writes files; name them with --out")
	}
	var files []outFile
	if c.Each {
		for i := range c.Stacks {
			files = append(files, c.lettered(i))
		}
	} else {
		files = []outFile{c.Out}
	}
	if err := ready(c.Force, files...); err != nil {
		return err
	}
	cat, err := a.catalogue()
	if err != nil {
		return err
	}
	inst, err := a.instrument(cat, c.Instrument)
	if err != nil {
		return err
	}
	score := audio.Score{Instrument: inst, Dynamics: cat.Dynamics, Phrase: audio.Phrase(c.Phrase), Level: audio.Level(c.Level),
		Alternate: len(c.Stacks) > 1 && !c.Each}
	if score.Low, score.High, err = noteRange(c.Low, c.High); err != nil {
		return err
	}
	v := reply.Heard{Caveat: audio.Caveat, Instrument: inst.ID, On: inst.Name}
	writer := reply.NewWriter(cat, inst)
	var voices []audio.Voice
	for i, text := range c.Stacks {
		stack, err := a.stack(cat, text)
		if err != nil {
			return usageError{err}
		}
		made, err := writer.Write(stack)
		if err != nil {
			return err
		}
		name := made.Stack
		if len(c.Stacks) > 1 {
			name = letter(i)
		}
		v.Heads = append(v.Heads, reply.Voice{Name: name, Stack: made.Stack, Trouble: made.Head.Trouble()})
		h := head.New(stack, cat.Limits)
		voices = append(voices, audio.Voice{Name: name, Head: h})
		if len(made.Head.Trouble()) > 0 {
			v.Cuts = append(v.Cuts, chart.Cut(h, &cat.Limits, a.style().Width))
		}
	}
	sketch, err := audio.Play(voices, score)
	if err != nil {
		return usageError{err}
	}
	v.Seconds, v.Guide = sketch.Seconds(), sketch.Guide()
	for _, q := range sketch.Cues {
		v.Cues = append(v.Cues, reply.Cue{StartS: q.Seconds, Head: q.Head, Register: q.Register, Note: q.Note.String(), Dynamic: q.Dynamic})
	}
	if c.Out == "" {
		return c.play(a, v, sketch)
	}
	sketches := []audio.Sketch{sketch}
	if c.Each {
		sketches = sketch.Split()
	}
	for i, name := range files {
		if err := saveFile(string(name), c.Force, sketches[i].WAV); err != nil {
			return err
		}
		v.Files = append(v.Files, string(name))
	}
	return c.show(a, v)
}

// lettered is the file of the ith of several heads.
func (c hearCmd) lettered(i int) outFile {
	ext := filepath.Ext(string(c.Out))
	return outFile(strings.TrimSuffix(string(c.Out), ext) + "-" + strings.ToLower(letter(i)) + ext)
}

// play announces the sketch, then plays it.
func (c hearCmd) play(a *app, v reply.Heard, sketch audio.Sketch) error {
	if !c.JSON {
		if err := c.show(a, v); err != nil {
			return err
		}
	}
	said, err := desk.Here(".").Play(a.ctx, "mallow.wav", sketch.WAV)
	if err != nil {
		return err
	}
	if c.JSON {
		v.Played = said
		return c.show(a, v)
	}
	_, err = fmt.Fprintf(a.out, "\n%s\n", page.Clean(said))
	return err
}

// letter names the ith of several heads.
func letter(i int) string { return string(rune('A' + i)) }

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
