// Package termtest runs a program on a terminal that a test can look at.
package termtest

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
)

// patience is how long a test waits for the screen before it gives up.
const patience = 10 * time.Second

// Screen is a running program and what its terminal shows.
type Screen struct {
	t    testing.TB
	cmd  *exec.Cmd
	tty  *os.File
	vt   vt10x.Terminal
	done chan struct{} // closed when the program's output has ended

	mu    sync.Mutex
	raw   bytes.Buffer
	stirs chan struct{} // has a value when the screen may have changed
}

// Start runs cmd on a terminal of its own. The program is stopped when the
// test ends.
func Start(t testing.TB, cols, rows int, cmd *exec.Cmd) *Screen {
	t.Helper()
	if cmd.Env == nil {
		cmd.Env = os.Environ()
	}
	cmd.Env = append([]string{"TERM=xterm"}, cmd.Env...)
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)})
	if err != nil {
		t.Fatalf("terminal: %v", err)
	}
	s := &Screen{
		t: t, cmd: cmd, tty: tty,
		vt:   vt10x.New(vt10x.WithSize(cols, rows)),
		done: make(chan struct{}), stirs: make(chan struct{}, 1),
	}
	go s.watch()
	t.Cleanup(func() {
		cmd.Process.Kill()
		<-s.done
		tty.Close()
		cmd.Wait()
	})
	return s
}

// watch feeds the program's output to the screen.
func (s *Screen) watch() {
	defer close(s.done)
	r := bufio.NewReader(io.TeeReader(s.tty, s)) // Parse never splits a character
	for {
		err := s.vt.Parse(r)
		select {
		case s.stirs <- struct{}{}:
		default:
		}
		if err != nil {
			return
		}
	}
}

// Write keeps what the program writes.
func (s *Screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.raw.Write(p)
}

// Type sends text as typed. "\r" is Enter, "\x03" Ctrl-C, "\x04" Ctrl-D. Between
// prompts a terminal drops what it has not shown yet on Ctrl-C, so wait for
// the prompt first where the screen matters.
func (s *Screen) Type(text string) {
	s.t.Helper()
	if _, err := s.tty.WriteString(text); err != nil {
		s.t.Fatalf("typing %q: %v", text, err)
	}
}

// Wait waits until want shows on the screen.
func (s *Screen) Wait(want string) {
	s.t.Helper()
	s.Until(fmt.Sprintf("%q", want), func() bool { return strings.Contains(s.Text(), want) })
}

// Until waits until ok is true, looking after each output.
func (s *Screen) Until(what string, ok func() bool) {
	s.t.Helper()
	late := time.After(patience)
	for !ok() {
		select {
		case <-s.stirs:
		case <-s.done:
			if !ok() {
				s.cmd.Wait()
				s.t.Fatalf("the program ended (%v) before %s; the screen:\n%s", s.cmd.ProcessState, what, s.Text())
			}
			return
		case <-late:
			s.t.Fatalf("no %s; the screen:\n%s", what, s.Text())
		}
	}
}

// Text returns the screen's lines without trailing blanks.
func (s *Screen) Text() string {
	lines := strings.Split(s.vt.String(), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.TrimRight(strings.Join(lines, "\n"), "\n")
}

// Raw returns every byte the program has written.
func (s *Screen) Raw() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.raw.String()
}

// Resize changes the terminal's size, as a person dragging its corner does.
func (s *Screen) Resize(cols, rows int) {
	s.t.Helper()
	s.vt.Resize(cols, rows)
	if err := pty.Setsize(s.tty, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)}); err != nil {
		s.t.Fatalf("resize: %v", err)
	}
}

// Signal sends the program a signal.
func (s *Screen) Signal(sig syscall.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		s.t.Fatalf("signal: %v", err)
	}
}

// Exit waits for the program to end and returns its exit code, -1 when a
// signal ended it.
func (s *Screen) Exit() int {
	s.t.Helper()
	select {
	case <-s.done:
	case <-time.After(patience):
		s.t.Fatalf("the program goes on; the screen:\n%s", s.Text())
	}
	var exit *exec.ExitError
	if err := s.cmd.Wait(); err != nil && !errors.As(err, &exit) {
		s.t.Fatalf("exit: %v", err)
	}
	return s.cmd.ProcessState.ExitCode()
}
