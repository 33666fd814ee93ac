package main

import (
	"bufio"
	"io"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"mallow/assistant/term/termtest"
)

// looksLong is said where a conversation's search does not prove its head, and one of some
// seconds begins before anything is cut.
const looksLong = "four mallets independent grip on a marimba, low end, soft, bright, clear, quiet playing, latex is fine, no solvents, all of us are adults, an ordinary winding, I have made many sets and have a drill"

// Ctrl-C while a longer look is on, before anything is cut, stops the look and not the program:
// the build goes on with the best so far, which is said not to be proven. Once more at the
// next prompt leaves.
func TestTerminalStopsALook(t *testing.T) {
	for _, how := range [][]string{nil, {"--plain"}} {
		s := termtest.Start(t, 100, 200, program(t, t.TempDir(), how...))
		prompt := func() {
			t.Helper()
			s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
		}
		s.Wait(invitation)
		s.Type(looksLong + "\r")
		s.Wait("Shall we build it?")
		prompt()
		s.Type("build\r")
		s.Wait("I look further before anything is cut. Ctrl-C goes on with the best so far.")
		s.Signal(syscall.SIGINT)
		s.Wait("it is not proven that none does better")
		s.Wait("Building four heads")
		s.Wait("Shall we begin?")
		prompt()
		s.Signal(syscall.SIGINT)
		s.Wait("Goodbye. All you said is kept")
		if code := s.Exit(); code != exitInterrupted {
			t.Errorf("%q: exit code %d, want %d", how, code, exitInterrupted)
		}
	}
}

// Ctrl-C while a longer look is on, where answers come through a pipe and somebody looks on at
// what is told besides: the look is broken off, and the answer that is there already goes on
// with the build. Once more leaves.
func TestPipeStopsALook(t *testing.T) {
	aside, theirs, err := pty.Open()
	if err != nil {
		t.Fatalf("terminal: %v", err)
	}
	defer aside.Close()
	state := t.TempDir()
	cmd := program(t, state, "talk", "--new")
	cmd.Stderr = theirs
	d := converse(t, cmd)
	theirs.Close() // it has one of its own
	d.say(looksLong)
	if _, err := io.WriteString(d.in, "build\nwhy\n"); err != nil {
		t.Fatal(err)
	}
	told := make(chan bool)
	go func() {
		defer close(told)
		for lines := bufio.NewScanner(aside); lines.Scan(); {
			if strings.Contains(lines.Text(), "Ctrl-C goes on with the best so far") {
				told <- true
			}
		}
	}()
	select {
	case ok := <-told:
		if !ok {
			t.Fatal("it ended without a longer look")
		}
	case <-time.After(time.Minute):
		t.Fatal("a longer look was not told of")
	}
	if err := cmd.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	d.out.WriteString("\n")
	got := d.hear()
	for range 2 { // the answer after it may be read before its prompt is seen
		if strings.Count(got, "\n> ") == 2 {
			break
		}
		d.out.WriteString("\n")
		got += d.hear()
	}
	for _, want := range []string{"it is not proven that none does better", "Building four heads"} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), want) {
			t.Errorf("no %q in:\n%s", want, got)
		}
	}
	if err := cmd.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if r := d.rest(); r.code != exitInterrupted || !strings.Contains(r.out, "Goodbye") {
		t.Errorf("exit code %d; it ended with %.80q", r.code, r.out[max(0, len(r.out)-80):])
	}
	if got, want := said(t, state), []string{looksLong, "build", "why"}; !slices.Equal(got, want) {
		t.Errorf("on disk: %q, not %q", got, want)
	}
}

// The same where nobody looks on, who could know that a look is on: it ends, whether Ctrl-C
// comes at the start of the look, while it is on or once it is over, and goes no further
// through the answers that are there.
func TestPipeStopsAtALook(t *testing.T) {
	for _, after := range []time.Duration{0, 300 * time.Millisecond, time.Second} {
		state := t.TempDir()
		d := converse(t, program(t, state, "talk", "--new"))
		d.say(looksLong)
		if _, err := io.WriteString(d.in, "build\nwhy\n"); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after)
		if err := d.cmd.Process.Signal(syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		late := time.AfterFunc(time.Minute, func() { d.cmd.Process.Kill() })
		r := d.rest()
		late.Stop()
		if r.code != exitInterrupted || !strings.Contains(r.out, "Goodbye") || r.errs != "" {
			t.Errorf("after %v: exit code %d; it ended with %.80q and said %q", after, r.code, r.out[max(0, len(r.out)-80):], r.errs)
		}
		if got := said(t, state); len(got) == 0 || got[0] != looksLong || after == 0 && slices.Contains(got, "why") {
			t.Errorf("after %v, on disk: %q", after, got)
		}
	}
}
