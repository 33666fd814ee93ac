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
	"sync"

	"github.com/chzyer/readline"

	"mallow/assistant/page"
)

// editor reads lines from a terminal through readline.
type editor struct {
	ctx    context.Context
	keys   *keys
	rl     *readline.Instance
	ended  bool // readline hangs when asked again after the end
	forget func() bool
}

func openEditor(ctx context.Context, c Config) (*editor, error) {
	e := &editor{ctx: ctx, keys: openKeys(c.In)}
	screen := c.Out
	if f, ok := c.Out.(*os.File); ok && !IsTerminal(f) {
		screen = os.Stderr // a line can be edited only where it can be seen
	}
	var cooked *readline.State
	config := &readline.Config{
		HistoryFile:         c.History,
		HistoryLimit:        500,
		Stdin:               e.keys,
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
	e.forget = context.AfterFunc(ctx, func() { e.keys.Close() })
	return e, nil
}

// ReadLine shows prompt and returns the next line.
func (e *editor) ReadLine(prompt string) (string, error) {
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
	e.keys.Close()
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

// keys is what is typed, as readline is to see it. Reading it can be broken
// off. An interrupt signal reads as Ctrl-C: that is how it comes between
// prompts, when the terminal is in its own mode, and from outside. NUL is what
// is left of a Ctrl-D between prompts, and reads as one: readline would take
// it for the end of input in the midst of a line, too.
type keys struct {
	want    chan struct{} // asks for a read
	got     chan typed
	waiting bool // a read was asked for and has not come
	rest    []byte
	signal  chan os.Signal
	stop    chan struct{}
	once    sync.Once
}

type typed struct {
	keys []byte
	err  error
}

func openKeys(in io.Reader) *keys {
	k := &keys{want: make(chan struct{}), got: make(chan typed), signal: make(chan os.Signal, 1), stop: make(chan struct{})}
	signal.Notify(k.signal, os.Interrupt)
	go k.watch(in)
	return k
}

// watch reads when asked to, and not before: what is typed between prompts
// stays with the terminal. A read that is pending at Close ends with the
// program.
func (k *keys) watch(in io.Reader) {
	for {
		select {
		case <-k.want:
		case <-k.stop:
			return
		}
		buf := make([]byte, 1024)
		n, err := in.Read(buf)
		select {
		case k.got <- typed{bytes.ReplaceAll(buf[:n], []byte{0}, []byte{readline.CharDelete}), err}:
		case <-k.stop:
			return
		}
	}
}

// Read returns at least a byte, or an error.
func (k *keys) Read(p []byte) (int, error) {
	for len(k.rest) == 0 {
		if !k.waiting {
			select {
			case k.want <- struct{}{}:
				k.waiting = true
			case <-k.stop:
				return 0, io.EOF
			}
		}
		select {
		case t := <-k.got:
			k.waiting = false
			if t.err != nil && len(t.keys) == 0 {
				return 0, t.err
			}
			k.rest = t.keys
		case <-k.signal:
			k.rest = []byte{readline.CharInterrupt}
		case <-k.stop:
			return 0, io.EOF
		}
	}
	n := copy(p, k.rest)
	k.rest = k.rest[n:]
	return n, nil
}

// Close breaks off reading.
func (k *keys) Close() error {
	k.once.Do(func() {
		signal.Stop(k.signal)
		close(k.stop)
	})
	return nil
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
