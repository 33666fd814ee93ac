package term

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/chzyer/readline"

	"mallow/assistant/page"
)

// editor reads lines from a terminal through readline.
type editor struct {
	ctx    context.Context
	stdin  *readline.CancelableStdin
	rl     *readline.Instance
	ended  bool // readline hangs when asked again after the end
	signal chan os.Signal
	forget func() bool
}

func openEditor(ctx context.Context, c Config) (*editor, error) {
	e := &editor{ctx: ctx, signal: make(chan os.Signal, 1)}
	e.stdin = readline.NewCancelableStdin(withoutNUL{c.In})
	screen := c.Out
	if f, ok := c.Out.(*os.File); ok && !IsTerminal(f) {
		screen = os.Stderr // a line can be edited only where it can be seen
	}
	var cooked *readline.State
	config := &readline.Config{
		HistoryFile:         c.History,
		HistoryLimit:        500,
		Stdin:               e.stdin,
		Stdout:              screen,
		Stderr:              screen,
		ForceUseInteractive: true,
		FuncGetWidth:        func() int { return Width(c.In) },
		FuncFilterInputRune: filter(),
		FuncMakeRaw: func() error {
			state, err := readline.MakeRaw(int(c.In.Fd())) // keeps newlines as they are
			if err == nil {
				cooked = state
			}
			return err
		},
		FuncExitRaw: func() error {
			if cooked == nil {
				return nil
			}
			return readline.Restore(int(c.In.Fd()), cooked)
		},
	}
	if c.Complete != nil {
		config.AutoComplete = completer(c.Complete)
	}
	rl, err := readline.NewEx(config)
	if err != nil {
		return nil, fmt.Errorf("terminal: %w", err)
	}
	e.rl = rl
	// Between prompts the terminal is in its own mode, where Ctrl-C is a
	// signal: keep it for the next ReadLine.
	signal.Notify(e.signal, os.Interrupt)
	e.forget = context.AfterFunc(ctx, func() { e.stdin.Close() })
	return e, nil
}

// ReadLine shows prompt and returns the next line.
func (e *editor) ReadLine(prompt string) (string, error) {
	select {
	case <-e.signal:
		return "", ErrInterrupt
	default:
	}
	if e.ended || e.ctx.Err() != nil {
		return "", io.EOF
	}
	e.rl.SetPrompt(prompt)
	text, err := e.rl.Readline()
	switch {
	case e.ctx.Err() != nil: // the half-typed line comes back as if entered
		e.ended = true
		return "", io.EOF
	case errors.Is(err, readline.ErrInterrupt):
		return "", ErrInterrupt
	case err != nil:
		e.ended = true
		return "", err
	case len(text) > MaxLine:
		return "", ErrTooLong
	}
	return strings.TrimSpace(text), nil // a completion leaves a space
}

// Close puts the terminal back. Closing its input first keeps readline from
// waiting for a key.
func (e *editor) Close() error {
	e.forget()
	signal.Stop(e.signal)
	e.stdin.Close()
	return e.rl.Close()
}

// filter returns a filter of typed runes: Ctrl-Z, which would stop the parent
// as well, does nothing; and a line can't grow past what ReadLine takes,
// since every key redraws it; and no control reaches the screen as typed.
func filter() func(rune) (rune, bool) {
	n := 0
	return func(r rune) (rune, bool) {
		switch r {
		case readline.CharCtrlZ:
			return readline.CharBell, true
		case readline.CharEnter, readline.CharCtrlJ, readline.CharInterrupt, 0:
			n = 0
		case readline.CharCtrlU, readline.CharBackspace, readline.CharCtrlH, readline.CharCtrlW:
			n = max(n-1, 0)
		default:
			if r < ' ' {
				break
			}
			if r > 0x7f && page.Clean(string(r)) != string(r) {
				return readline.CharBell, true
			}
			if n++; n > MaxLine {
				return readline.CharBell, true
			}
		}
		return r, true
	}
}

// withoutNUL drops NUL bytes, which readline takes for the end of input.
type withoutNUL struct{ in io.Reader }

func (r withoutNUL) Read(p []byte) (int, error) {
	for {
		n, err := r.in.Read(p)
		kept := len(bytes.ReplaceAll(p[:n], []byte{0}, nil))
		copy(p, bytes.ReplaceAll(p[:n], []byte{0}, nil))
		if kept > 0 || n == 0 || err != nil {
			return kept, err
		}
	}
}

// completer adapts a list of possible last words to readline, which wants the
// rest of each and how much of it is typed.
type completer func(line string) []string

// Do returns what may follow the cursor.
func (c completer) Do(typed []rune, pos int) ([][]rune, int) {
	line := string(typed[:pos])
	word := line[strings.LastIndex(line, " ")+1:]
	var rest [][]rune
	for _, w := range c(line) {
		w = page.Clean(w) // readline shows what may follow as it is
		if tail, ok := strings.CutPrefix(strings.ToLower(w), strings.ToLower(word)); ok {
			rest = append(rest, []rune(tail+" "))
		}
	}
	return rest, len([]rune(word))
}
