package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"

	"mallow/assistant/journal"
	"mallow/assistant/term/termtest"
)

// program is the real program with a state folder of its own.
func program(t testing.TB, state string, args ...string) *exec.Cmd {
	t.Helper()
	exe, err := exec.LookPath("mallow") // put there by TestMain
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, args...)
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+state, "XDG_CONFIG_HOME="+filepath.Join(state, "none"))
	return cmd
}

const invitation = "What do you need?"

func TestTerminalKeys(t *testing.T) {
	s := termtest.Start(t, 80, 40, program(t, t.TempDir()))
	s.Wait(invitation)

	// TAB completes from what may be said now.
	s.Type("hel\t\r")
	s.Wait("> help")
	s.Wait("one sentence may answer many questions")

	// Ctrl-C cancels the line and says how to leave.
	s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
	s.Type("a half-said thi\x03")
	s.Wait("Nothing taken. Ctrl-C once more leaves")

	// A pasted text of several lines is several answers.
	s.Type("vibes, two mallets\rshow answers\r")
	s.Wait("- two mallets")

	// An answer is put into the history, and can be had back.
	s.Type("\x1b[A\r")
	s.Until("the answers again", func() bool { return strings.Count(s.Text(), "- two mallets") == 2 })

	// Ctrl-D leaves.
	s.Type("\x04")
	s.Wait("Goodbye. All you said is kept")
	if code := s.Exit(); code != exitDone {
		t.Errorf("exit code %d, want %d", code, exitDone)
	}
}

func TestTerminalTwiceLeaves(t *testing.T) {
	for _, how := range [][]string{nil, {"--plain"}} {
		state := t.TempDir()
		s := termtest.Start(t, 80, 24, program(t, state, how...))
		s.Wait(invitation)
		s.Type("xylophone\r")
		s.Wait("Taken: xylophone.")
		s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
		s.Type("\x03")
		s.Wait("once more leaves")
		s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
		s.Type("\x03")
		s.Wait("Goodbye. All you said is kept")
		if code := s.Exit(); code != exitInterrupted {
			t.Errorf("%q: exit code %d, want %d", how, code, exitInterrupted)
		}
		if got := said(t, state); len(got) != 1 || got[0] != "xylophone" {
			t.Errorf("%q: on disk: %q", how, got)
		}
	}
}

// Told to end, it ends, and keeps what was said but not the half-typed line.
func TestTerminalSignals(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP} {
		t.Run(sig.String(), func(t *testing.T) {
			state := t.TempDir()
			s := termtest.Start(t, 80, 24, program(t, state))
			s.Wait(invitation)
			s.Type("bells\r")
			s.Wait("Taken: bells.")
			s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
			s.Type("half a li")
			s.Wait("half a li")
			s.Signal(sig)
			if code := s.Exit(); code != exitInterrupted {
				t.Errorf("exit code %d, want %d", code, exitInterrupted)
			}
			if got := said(t, state); len(got) != 1 || got[0] != "bells" {
				t.Errorf("on disk: %q", got)
			}
		})
	}
}

// Killed at any moment, it loses at most the line being typed.
func TestTerminalKilled(t *testing.T) {
	state := t.TempDir()
	s := termtest.Start(t, 80, 24, program(t, state))
	s.Wait(invitation)
	s.Type("marimba\r")
	s.Wait("Taken: marimba.")
	s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
	s.Type("two mallets and a half-ty")
	s.Wait("half-ty")
	s.Signal(syscall.SIGKILL)
	if code := s.Exit(); code != -1 {
		t.Errorf("exit code %d of a killed program", code)
	}
	if got := said(t, state); len(got) != 1 || got[0] != "marimba" {
		t.Errorf("on disk: %q", got)
	}

	// The next start offers to go on.
	s = termtest.Start(t, 80, 24, program(t, state))
	s.Wait("Take it up again?")
	s.Type("\r")
	s.Wait("Taken up again.")
	s.Wait("- marimba")
}

// Killed while lines stream in, what is on disk is a beginning of what was
// sent, whole, whenever the blow falls.
func TestKilledWhileSaving(t *testing.T) {
	var lines []string
	for i := range 200 {
		lines = append(lines, strings.Repeat("help ", i%7+1))
	}
	for _, after := range []time.Duration{80, 120, 160, 220, 300} {
		state := t.TempDir()
		cmd := program(t, state, "--new")
		cmd.Stdin = strings.NewReader(strings.Join(lines, "\n") + "\n")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after * time.Millisecond)
		cmd.Process.Kill()
		cmd.Wait()
		got := said(t, state)
		for i, l := range got {
			if l != lines[i] {
				t.Errorf("after %v ms: line %d on disk is %q, want %q", int(after), i, l, lines[i])
			}
		}
		t.Logf("killed after %d ms: %d lines on disk", int(after), len(got))
	}
}

// Two at once keep to sessions of their own.
func TestTwoAtOnce(t *testing.T) {
	state := t.TempDir()
	a := termtest.Start(t, 80, 24, program(t, state))
	a.Wait(invitation)
	a.Type("marimba\r")
	a.Wait("Taken: marimba.")
	b := termtest.Start(t, 80, 24, program(t, state))
	b.Wait(invitation)
	b.Type("bells\r")
	b.Wait("Taken: bells.")
	a.Until("a prompt", func() bool { return strings.HasSuffix(a.Text(), "\n>") })
	a.Type("two mallets\r")
	a.Wait("Taken: two mallets.")
	files, err := filepath.Glob(filepath.Join(state, "mallow", "session-*.json"))
	if err != nil || len(files) != 2 {
		t.Fatalf("sessions: %v, %v", files, err)
	}
}

// From 40 to 200 columns, no line is wider than the terminal, wide characters
// count as two, and a resize is followed.
func TestTerminalWidths(t *testing.T) {
	for _, cols := range []int{40, 80, 200} {
		s := termtest.Start(t, cols, 200, program(t, t.TempDir()))
		s.Wait(invitation)
		s.Type("木琴, marimba ¾ two mallets\r")
		s.Wait("I could make nothing of")
		s.Wait("木琴")
		s.Until("the next prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
		s.Type("teach me\r")
		s.Wait("Which lesson?")
		for line := range strings.SplitSeq(s.Text(), "\n") {
			if w := runewidth.StringWidth(line); w > cols {
				t.Errorf("%d columns: a line of %d: %q", cols, w, line)
			}
		}
	}
}

func TestTerminalResized(t *testing.T) {
	s := termtest.Start(t, 120, 200, program(t, t.TempDir()))
	s.Wait(invitation)
	s.Resize(44, 200)
	s.Type("help\r")
	s.Wait("save; leave: all you said is kept")
	_, after, _ := strings.Cut(s.Text(), "> help")
	for line := range strings.SplitSeq(after, "\n") {
		if w := runewidth.StringWidth(line); w > 44 {
			t.Errorf("a line of %d after the resize to 44: %q", w, line)
		}
	}
}

// No box drawing, no colour, no cursor movement with --plain or on a dumb
// terminal; no colour with NO_COLOR.
func TestTerminalPlain(t *testing.T) {
	tests := []struct {
		name    string
		args    []string
		env     string
		escapes bool
	}{
		{"plain", []string{"--plain"}, "", false},
		{"dumb", nil, "TERM=dumb", false},
		{"no colour", nil, "NO_COLOR=1", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cmd := program(t, t.TempDir(), tt.args...)
			cmd.Env = append(cmd.Env, tt.env)
			s := termtest.Start(t, 80, 100, cmd)
			s.Wait(invitation)
			s.Type("what is a slice\r")
			s.Wait("Slice:")
			s.Type("leave\r")
			s.Exit()
			if !tt.escapes && strings.Contains(s.Raw(), "\x1b") {
				t.Errorf("an escape was sent: %q", s.Raw())
			}
			if strings.Contains(s.Raw(), "\x1b[1m") || strings.Contains(s.Raw(), "\x1b[3") {
				t.Errorf("colour was sent: %q", s.Raw())
			}
		})
	}
}

// Control characters in an answer come back harmless.
func TestTerminalHostileAnswer(t *testing.T) {
	cmd := program(t, t.TempDir(), "--new")
	cmd.Stdin = strings.NewReader("\x1b]0;mine\x07 \u009b2J gibberish\u202e\x00\xff\n")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if bytes.ContainsAny(out, "\x1b\x07\x00\u009b\u202e") {
		t.Errorf("a control character came back: %q", out)
	}
}

// said returns the lines of the only session on disk.
func said(t *testing.T, state string) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(state, "mallow", "session-000001.json"))
	if errors.Is(err, os.ErrNotExist) {
		return nil // killed before there was one
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := journal.Decode(data)
	if err != nil {
		t.Fatalf("%v in %q", err, data)
	}
	return s.Said()
}

// BenchmarkFirstPrompt is the time from start to the first prompt on a
// terminal; the goal is 60 ms.
func BenchmarkFirstPrompt(b *testing.B) {
	for b.Loop() {
		s := termtest.Start(b, 80, 24, program(b, b.TempDir(), "--new"))
		s.Wait(invitation)
		s.Until("the prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
		b.StopTimer()
		s.Type("\x04")
		s.Exit()
		b.StartTimer()
	}
}

// BenchmarkReply is the time from Enter to the next prompt on a terminal; the
// goal is 150 ms for any.
func BenchmarkReply(b *testing.B) {
	for _, line := range []string{"what is a slice", "why", "medium, latex is fine", "what if I play four mallets", "softer", "back"} {
		b.Run(strings.ReplaceAll(line, " ", "_"), func(b *testing.B) {
			s := termtest.Start(b, 80, 4000, program(b, b.TempDir(), "--new"))
			s.Wait(invitation)
			s.Type("marimba, two mallets, medium, all adults, latex is fine, no solvents\r")
			prompts := func() int { return strings.Count(s.Raw(), "\n\x1b[J\x1b[2K\r> ") }
			s.Until("a question", func() bool { return strings.Contains(s.Text(), "Taken: ") && strings.HasSuffix(s.Text(), "\n>") })
			_ = prompts
			for b.Loop() {
				n := strings.Count(s.Raw(), "\n")
				s.Type(line + "\r")
				s.Until("the next prompt", func() bool {
					return strings.Count(s.Raw(), "\n") > n+1 && strings.HasSuffix(s.Text(), "\n>")
				})
			}
		})
	}
}
