package talk

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"mallow/assistant/term"
)

// screens cuts text into pieces that each fit a terminal of so many rows, with
// what stands below them: a question of how to go on, and the prompt. A piece ends
// at an empty line where there is one in its second half.
func screens(text string, rows int) []string {
	const below = 3 // an empty line, the way on, the prompt
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if rows <= 2*below || len(lines)+below-1 <= rows {
		return []string{strings.Join(lines, "\n") + "\n"}
	}
	var list []string
	for most := rows - below; len(lines) > most; {
		end := most
		for end > most/2 && lines[end] != "" {
			end--
		}
		if lines[end] != "" {
			end = most
		}
		list = append(list, strings.Join(lines[:end], "\n")+"\n")
		for lines = lines[end:]; len(lines) > 0 && lines[0] == ""; {
			lines = lines[1:]
		}
	}
	if len(lines) > 0 {
		list = append(list, strings.Join(lines, "\n")+"\n")
	}
	return list
}

// show writes text, a screen at a time where somebody looks on. What they say
// instead of going on is kept for the next read; the rest is then left.
func (t *talk) show(text string) error {
	list := []string{text}
	if t.Rows != nil && t.Patient {
		list = screens(text, t.Rows())
	}
	for i, s := range list {
		if _, err := fmt.Fprintln(t.Out, s); err != nil {
			return fmt.Errorf("writing a reply: %w", err)
		}
		if i+1 == len(list) {
			break
		}
		if _, err := fmt.Fprintf(t.Out, "(Enter: the rest, screen %d of %d)\n", i+2, len(list)); err != nil {
			return fmt.Errorf("writing a reply: %w", err)
		}
		line, err := t.In.ReadLine(prompt)
		switch {
		case errors.Is(err, term.ErrInterrupt):
			return nil
		case err != nil || strings.TrimSpace(line) != "":
			t.ahead = &read{line, err}
			return nil
		}
	}
	return nil
}

// read is what was read of a person.
type read struct {
	line string
	err  error
}

// read returns the next line, which may have been said ahead of its question.
func (t *talk) read() (string, error) {
	if r := t.ahead; r != nil {
		if t.ahead = nil; r.err == io.EOF {
			t.ahead = r // there is no more to read
		}
		return r.line, r.err
	}
	return t.In.ReadLine(prompt)
}
