package term

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"mallow/assistant/page"
)

// plain reads lines without an editor.
type plain struct {
	out    io.Writer
	typed  bool // a person sees what they type, so it is not echoed
	lines  chan line
	ctx    context.Context
	stop   context.CancelFunc
	signal chan os.Signal
}

type line struct {
	text string
	err  error
}

func openPlain(ctx context.Context, in io.Reader, out io.Writer, typed bool) *plain {
	ctx, stop := context.WithCancel(ctx)
	p := &plain{out: out, typed: typed, lines: make(chan line), ctx: ctx, stop: stop, signal: make(chan os.Signal, 1)}
	signal.Notify(p.signal, os.Interrupt)
	go p.scan(in)
	return p
}

// ReadLine shows prompt and returns the next line.
func (p *plain) ReadLine(prompt string) (string, error) {
	fmt.Fprint(p.out, prompt)
	select {
	case <-p.signal: // before any line that is there already
		return "", p.interrupted()
	default:
	}
	select {
	case l := <-p.lines:
		switch {
		case l.err == io.EOF:
			fmt.Fprintln(p.out)
		case l.err == nil && !p.typed:
			fmt.Fprintln(p.out, page.Clean(l.text))
		}
		return l.text, l.err
	case <-p.signal:
		return "", p.interrupted()
	case <-p.ctx.Done():
		fmt.Fprintln(p.out)
		return "", io.EOF
	}
}

func (p *plain) interrupted() error {
	fmt.Fprintln(p.out)
	if !p.typed {
		return ErrStopped
	}
	return ErrInterrupt
}

// Close stops reading. A read that is pending ends with the program.
func (p *plain) Close() error {
	p.stop()
	signal.Stop(p.signal)
	return nil
}

func (p *plain) scan(in io.Reader) {
	r := bufio.NewReaderSize(in, MaxLine+2)
	for {
		l := next(r)
		select {
		case p.lines <- l:
		case <-p.ctx.Done():
			return
		}
		if l.err != nil && l.err != ErrTooLong {
			return
		}
	}
}

// next reads one line. The last line may lack its end.
func next(r *bufio.Reader) line {
	data, err := r.ReadSlice('\n')
	text := strings.TrimSuffix(strings.TrimSuffix(string(data), "\n"), "\r")
	if err == bufio.ErrBufferFull {
		for err == bufio.ErrBufferFull {
			_, err = r.ReadSlice('\n')
		}
		return line{err: ErrTooLong}
	}
	if err == io.EOF && text != "" {
		err = nil
	}
	if err == nil && len(text) > MaxLine {
		err = ErrTooLong
	}
	return line{text, err}
}
