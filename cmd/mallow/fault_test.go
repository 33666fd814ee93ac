package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

const stackText = "poly-1-1/8-drilled + 3/4x1/8@1 + wool-medium + birch-16"

// result is what came of a command.
type result struct {
	code      int // -1 when a signal ended it
	signal    syscall.Signal
	out, errs string
}

// outcome runs cmd to its end, which has to come within a minute.
func outcome(t *testing.T, cmd *exec.Cmd) result {
	t.Helper()
	var out, errs bytes.Buffer
	if cmd.Stdout == nil {
		cmd.Stdout = &out
	}
	cmd.Stderr = &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return ended(t, cmd, &out, &errs)
}

func ended(t *testing.T, cmd *exec.Cmd, out, errs *bytes.Buffer) result {
	t.Helper()
	late := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
	err := cmd.Wait()
	if !late.Stop() {
		t.Fatalf("%q does not end", cmd.Args)
	}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	r := result{code: cmd.ProcessState.ExitCode(), out: out.String(), errs: errs.String()}
	if status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); ok && status.Signaled() {
		r.signal = status.Signal()
	}
	return r
}

// oneSentence checks what is said on standard error: one line that starts with
// the program's name, short enough to read, nothing that steers a terminal,
// and no trace of the stack.
func oneSentence(t *testing.T, errs string) {
	t.Helper()
	line, more := strings.CutSuffix(errs, "\n")
	switch {
	case !strings.HasPrefix(line, "mallow: ") || !more || strings.Contains(line, "\n"):
		t.Errorf("want one line from mallow on standard error, got %q", errs)
	case len(line) > 1000:
		t.Errorf("%d bytes on standard error: %.200q…", len(line), line)
	case strings.ContainsFunc(line, unicode.IsControl), !utf8.ValidString(line):
		t.Errorf("raw bytes on standard error: %q", line)
	case strings.Contains(line, "goroutine "), strings.Contains(line, "<nil>"), strings.Contains(line, "%!"):
		t.Errorf("a program's words on standard error: %q", line)
	}
}

// swelling is YAML that comes to a billion items once its aliases are followed.
func swelling(key string) string {
	var b strings.Builder
	b.WriteString("a: &a [x, x, x, x, x, x, x, x, x]\n")
	for c := 'b'; c <= 'i'; c++ {
		fmt.Fprintf(&b, "%c: &%[1]c [%s]\n", c, strings.TrimSuffix(strings.Repeat("*"+string(c-1)+", ", 9), ", "))
	}
	return b.String() + key + ": *i\n"
}

// Whatever stands on the command line, it is told in one sentence, with the
// exit code that the manual page gives.
func TestBadCommandLines(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	kept := file("kept.html", "do not touch")
	sheet := func(args ...string) []string { return append([]string{"sheet", stackText}, args...) }
	tests := []struct {
		name string
		args []string
		code int
		says string
	}{
		{"argument as long as may be", []string{"head", strings.Repeat("x", 120_000)}, exitUsage, "longer than"},
		{"stack of very many layers", []string{"head", "poly-1" + strings.Repeat(" + 3/4x1/8", 9_000)}, exitUsage, "longer than"},
		{"bytes that are no text", []string{"head", "poly-\xff\xfe\x80"}, exitUsage, ""},
		{"controls", []string{"head", "\x1b[2J\x07\u009b31m\u202e"}, exitUsage, ""},
		{"line feeds", []string{"head", "poly-1\nmallow: all is well"}, exitUsage, ""},
		{"flag of no text", []string{"--\xff\x1b[2J"}, exitUsage, ""},
		{"command that is not there", []string{"haed", stackText}, exitUsage, ""},
		{"empty argument", []string{"head", ""}, exitUsage, ""},
		{"instrument of no text", []string{"head", stackText, "--instrument", "\xff\x00"[:1]}, exitUsage, "instrument"},
		{"count that is none", sheet("--heads", "many"), exitUsage, ""},
		{"count below zero", sheet("--heads=-3"), exitUsage, ""},
		{"count past all reason", sheet("--heads", "1000000000000"), exitUsage, ""},
		{"file that is there", sheet("--html", kept), exitFailed, "--force"},
		{"file that is there, before any work", []string{"set", "4", "--want", "marimba", "--html", kept}, exitFailed, "--force"},
		{"one file for two", sheet("--html", filepath.Join(dir, "x"), "--md", filepath.Join(dir, ".", "x")), exitUsage, "named for two files"},
		{"file without a name", sheet("--html", ""), exitUsage, "--html"},
		{"sound without a name", []string{"hear", stackText, "--out", ""}, exitUsage, "--out"},
		{"line break in a name", sheet("--md", filepath.Join(dir, "a\nb.md")), exitUsage, "line break"},
		{"name that is too long", sheet("--md", filepath.Join(dir, strings.Repeat("x", 300))), exitFailed, "too long"},
		{"build of a long name", []string{"build", stackText, "--name", strings.Repeat("x", 300)}, exitUsage, "--name"},
		{"build of a name of two lines", []string{"build", stackText, "--name", "a\nb"}, exitUsage, "--name"},
		{"a head as wide as a door", []string{"built", stackText, "--diameter", "38.4 in"}, exitUsage, "975.4 mm"},
		{"folder as a file", sheet("--html", dir, "--force"), exitFailed, dir},
		{"folder that is not there", sheet("--md", filepath.Join(dir, "none", "sheet.md")), exitFailed, "none"},
		{"folder nobody can write to", sheet("--html", "/proc/mallow.html"), exitFailed, "/proc"},
		{"file inside a file", []string{"hear", stackText, "--out", filepath.Join(kept, "head.wav")}, exitFailed, "kept.html"},
		{"answers that are not there", []string{"talk", "--answers", filepath.Join(dir, "none")}, exitFailed, "none"},
		{"answers that are a folder", []string{"talk", "--answers", dir}, exitFailed, ""},
		{"broken YAML", []string{"head", stackText, "--parts", file("a.yaml", "cores: [\n  - {")}, exitFailed, "a.yaml:"},
		{"no YAML", []string{"head", stackText, "--parts", file("b.yaml", "\x00\xff\xfe")}, exitFailed, "b.yaml"},
		{"unknown field", []string{"head", stackText, "--parts", file("c.yaml", "cores:\n  - id: mine\n    diametre: 1 in\n    material: maple\n    diameter: 1 in\n    tol: 0.01 in\n")}, exitFailed, "diameter"},
		{"a folder of parts", []string{"head", stackText, "--parts", dir}, exitFailed, dir},
		{"rule on an unknown fact", []string{"rules", "list", "--rules", file("d.yaml", "rules:\n  - id: mine\n    title: mine\n    on: head\n    when: head.mass > 30\n    do: note\n    reason: heavy\n    source: practice\n    fires: [{head.mass_g: 31}]\n    quiet: [{head.mass_g: 29}]\n")}, exitFailed, "head.mass_g"},
		{"rule that is no rule", []string{"rules", "list", "--rules", file("e.yaml", "rules:\n  - id: mine\n    when: [")}, exitFailed, "e.yaml"},
		{"rules that are not there", []string{"rules", "list", "--rules", "none.yaml"}, exitFailed, "none.yaml"},
		{"parts without end", []string{"head", stackText, "--parts", "/dev/zero"}, exitFailed, "limit"},
		{"rules without end", []string{"rules", "list", "--rules", "/dev/zero"}, exitFailed, "limit"},
		{"a bin without end", []string{"advise", "--have", "/dev/zero"}, exitFailed, "limit"},
		{"a bin that is a folder", []string{"advise", "--have", dir + "/"}, exitUsage, ""},
		{"a bin that swells", []string{"advise", "--have", file("f.yaml", swelling("poly-1"))}, exitUsage, ""},
		{"parts that swell", []string{"head", stackText, "--parts", file("g.yaml", swelling("cores"))}, exitFailed, "g.yaml:"},
		{"rules that swell", []string{"rules", "list", "--rules", file("h.yaml", swelling("rules"))}, exitFailed, "h.yaml:"},
		{"parts without a floor", []string{"head", stackText, "--parts", file("i.yaml", "cores: "+strings.Repeat("[", 500_000))}, exitFailed, "i.yaml"},
		{"rules without a floor", []string{"rules", "list", "--rules", file("j.yaml", "rules: "+strings.Repeat("[", 500_000))}, exitFailed, "j.yaml"},
		{"a roster without end", []string{"class", "/dev/zero"}, exitFailed, "limit"},
		{"a roster that is not there", []string{"class", "none.yaml"}, exitFailed, "none.yaml"},
		{"a roster that swells", []string{"class", file("k.yaml", swelling("students"))}, exitUsage, "k.yaml:"},
		{"a set of none", []string{"set", "0", "--want", "vibes"}, exitUsage, ""},
		{"a set of a thousand", []string{"set", "1000"}, exitUsage, ""},
		{"a match of nothing", []string{"match"}, exitUsage, ""},
		{"a match of no weight", []string{"match", "--mass", "NaN g", "--diameter", "36 mm"}, exitUsage, "mass"},
		{"a change of nothing", []string{"change", stackText, "--want", ""}, exitUsage, ""},
		{"a change of bytes", []string{"change", stackText, "--want", "\xff\x1b[2J"}, exitUsage, ""},
		{"a part that is none", []string{"parts", "\x1b[31m"}, exitUsage, ""},
		{"built without a figure", []string{"built", stackText}, exitUsage, "--mass"},
		{"built of no weight", []string{"built", stackText, "--mass", "-5 g"}, exitUsage, "mass"},
		{"built of the weight of a house", []string{"built", stackText, "--mass", "1e300 g"}, exitUsage, "mass"},
		{"built softer than nothing known", []string{"built", stackText, "--softer-than", "\x1b[31m"}, exitUsage, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := outcome(t, program(t, t.TempDir(), tt.args...))
			if r.code != tt.code {
				t.Errorf("exit code %d, want %d", r.code, tt.code)
			}
			if !strings.Contains(r.errs, tt.says) {
				t.Errorf("%.300q does not name %q", r.errs, tt.says)
			}
			if strings.HasSuffix(tt.name, "swell") || strings.HasSuffix(tt.name, "swells") {
				r.errs, _, _ = strings.Cut(r.errs, "\n") // a line for each thing wrong
				r.errs += "\n"
			}
			oneSentence(t, r.errs)
		})
	}
	t.Cleanup(func() {
		if data, err := os.ReadFile(kept); err != nil || string(data) != "do not touch" {
			t.Errorf("the file that was there is now %.40q, %v", data, err)
		}
	})
}

// A file that exists is replaced when that was asked for, and only then.
func TestForce(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if r := outcome(t, program(t, t.TempDir(), "sheet", stackText, "--html", path, "--force")); r.code != exitDone {
		t.Errorf("exit code %d: %s", r.code, r.errs)
	}
	if data, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(data, []byte("<!DOCTYPE html>")) {
		t.Errorf("the file holds %.40q, %v", data, err)
	}
}

// Names and wishes may be any bytes; what is printed of them steers nothing.
func TestAnyBytesComeBackClean(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	const wild = "\x1b[2J\u202e\u009b31m\x07\xff"
	for _, args := range [][]string{
		{"sheet", stackText, "--html", filepath.Join(dir, wild+".html"), "--for", wild},
		{"sheet", stackText, "--for", wild, "--want", "vibes, " + wild},
		{"sheet", stackText, "--for", wild, "--json"},
		{"hear", stackText, "--out", filepath.Join(dir, wild+".wav")},
		{"built", stackText, "--name", wild, "--mass", "22 g"},
		{"advise", "--have", "four 1 1/8 plastic balls, wool, " + wild},
	} {
		t.Run(args[0]+args[2], func(t *testing.T) {
			t.Parallel()
			r := outcome(t, program(t, t.TempDir(), args...))
			if r.code != exitDone && r.code != exitUsage && r.code != exitNothingFits {
				t.Errorf("exit code %d", r.code)
			}
			for _, text := range []string{r.out, r.errs} {
				if i := strings.IndexFunc(text, func(c rune) bool { return c != '\n' && unicode.IsControl(c) || c == '\u202e' }); i >= 0 || !utf8.ValidString(text) {
					t.Errorf("raw bytes came back: %.60q", text[max(i, 0):])
				}
			}
		})
	}
}

// A reader that has seen enough closes the pipe: the program ends without a
// word about it.
func TestClosedPipe(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{
		{"rules", "facts"}, {"rules", "list", "--json"}, {"sheet", stackText, "--json"}, {"man"}, {"talk", "--new"},
	} {
		t.Run(args[0], func(t *testing.T) {
			t.Parallel()
			cmd := program(t, t.TempDir(), args...)
			cmd.Stdin = strings.NewReader(strings.Repeat("help\n", 200))
			r, w, err := os.Pipe()
			if err != nil {
				t.Fatal(err)
			}
			cmd.Stdout = w
			var errs bytes.Buffer
			cmd.Stderr = &errs
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			w.Close()
			if _, err := io.ReadFull(r, make([]byte, 10)); err != nil {
				t.Error(err)
			}
			r.Close()
			got := ended(t, cmd, new(bytes.Buffer), &errs)
			if got.code != exitDone && got.signal != syscall.SIGPIPE {
				t.Errorf("exit code %d", got.code)
			}
			if got.errs != "" {
				t.Errorf("it said %q", got.errs)
			}
		})
	}
}

// Without standard input there is nobody to ask, and with a full standard
// output nobody is told: neither makes it crash.
func TestStandardFilesClosed(t *testing.T) {
	t.Parallel()
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("sh is not installed")
	}
	for _, tt := range []struct {
		line string
		code int
		says string
	}{
		{"mallow <&-", exitDone, ""},
		{"mallow >&- 2>&- </dev/null", exitDone, ""},
		{"mallow head '" + stackText + "' <&- >&-", exitDone, ""},
		{"mallow head '" + stackText + "' >/dev/full", exitFailed, "no space"},
		{"mallow talk --new </dev/null >/dev/full", exitFailed, "no space"},
		{"mallow sheet '" + stackText + "' --json >/dev/full", exitFailed, "no space"},
		{"mallow check --sets 100 >/dev/full", exitFailed, "no space"},
		{"mallow --help >/dev/full", exitFailed, "no space"},
		{"mallow --version >/dev/full", exitFailed, "no space"},
		{"mallow head --version >/dev/full", exitFailed, "no space"},
		{"mallow hear '" + stackText + "' >/dev/full", exitFailed, "no space"},
	} {
		t.Run(tt.line, func(t *testing.T) {
			t.Parallel()
			cmd := program(t, t.TempDir())
			cmd.Path, cmd.Args = sh, []string{"sh", "-c", tt.line}
			r := outcome(t, cmd)
			if r.code != tt.code || !strings.Contains(r.errs, tt.says) {
				t.Errorf("exit code %d, want %d; it said %q", r.code, tt.code, r.errs)
			}
			if r.code != exitDone {
				oneSentence(t, r.errs)
			}
		})
	}
}

// dialogue is a conversation with the program through pipes.
type dialogue struct {
	t    *testing.T
	cmd  *exec.Cmd
	in   io.WriteCloser
	out  *bytes.Buffer // all that was said so far
	errs bytes.Buffer
	got  chan []byte
}

// converse starts a conversation and waits for the first prompt.
func converse(t *testing.T, cmd *exec.Cmd) *dialogue {
	t.Helper()
	d := &dialogue{t: t, cmd: cmd, out: new(bytes.Buffer), got: make(chan []byte)}
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	d.in = in
	if cmd.Stderr == nil {
		cmd.Stderr = &d.errs
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	go func() {
		defer close(d.got)
		for {
			b := make([]byte, 4096)
			n, err := out.Read(b)
			if n > 0 {
				d.got <- b[:n]
			}
			if err != nil {
				return
			}
		}
	}()
	d.hear()
	return d
}

// hear reads up to the next prompt, and returns what was said.
func (d *dialogue) hear() string {
	d.t.Helper()
	from := d.out.Len()
	late := time.After(time.Minute)
	for !strings.HasSuffix(d.out.String(), "\n> ") {
		select {
		case b, ok := <-d.got:
			if !ok {
				return d.out.String()[from:]
			}
			d.out.Write(b)
		case <-late:
			d.t.Fatalf("no prompt after:\n%s", d.out.String()[from:])
		}
	}
	return d.out.String()[from:]
}

// say says a line and returns the reply.
func (d *dialogue) say(line string) string {
	d.t.Helper()
	if _, err := io.WriteString(d.in, line+"\n"); err != nil {
		d.t.Fatal(err)
	}
	d.out.WriteString("\n") // the prompt that is there is not the next one
	return strings.Join(strings.Fields(d.hear()), " ")
}

// leave ends the conversation.
func (d *dialogue) leave() result {
	d.t.Helper()
	d.in.Close()
	return d.rest()
}

// rest reads up to the end.
func (d *dialogue) rest() result {
	d.t.Helper()
	for b := range d.got {
		d.out.Write(b)
	}
	return ended(d.t, d.cmd, d.out, &d.errs)
}

// Told to end through a pipe, it says goodbye, keeps what was said, and exits
// with the code for that.
func TestPipeSignals(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT} {
		t.Run(s.String(), func(t *testing.T) {
			t.Parallel()
			state := t.TempDir()
			d := converse(t, program(t, state, "talk", "--new"))
			d.say("help")
			if err := d.cmd.Process.Signal(s); err != nil {
				t.Fatal(err)
			}
			r := d.rest()
			if r.code != exitInterrupted || !strings.Contains(r.out, "Goodbye") || r.errs != "" {
				t.Errorf("exit code %d; it ended with %.80q and said %q", r.code, r.out[max(0, len(r.out)-80):], r.errs)
			}
			if got := said(t, state); len(got) != 1 || got[0] != "help" {
				t.Errorf("on disk: %q", got)
			}
		})
	}
}

// Killed again and again while lines pour in, each time taken up again: every
// line that was answered is there, in its order, and what else is there was
// sent.
func TestKilledAgainAndAgain(t *testing.T) {
	state := t.TempDir()
	rounds := 10
	if testing.Short() {
		rounds = 4
	}
	rnd := rand.New(rand.NewPCG(1, 0))
	var kept []string
	for round := range rounds {
		d := converse(t, program(t, state, "talk", "--resume"))
		sent := slices.Clone(kept)
		for i := range 1 + round%3 {
			line := fmt.Sprintf("what is a slice, %d.%d", round, i)
			d.say(line)
			sent = append(sent, line)
		}
		answered := len(sent)
		for i := range 40 {
			line := fmt.Sprintf("what is a bore, %d.%d", round, i)
			sent = append(sent, line)
			io.WriteString(d.in, line+"\n") // it may be dead by the time this is read
		}
		time.Sleep(time.Duration(rnd.IntN(30_000)) * time.Microsecond)
		d.cmd.Process.Kill()
		d.rest()
		kept = said(t, state)
		if len(kept) < answered || len(kept) > len(sent) || !slices.Equal(kept, sent[:len(kept)]) {
			t.Fatalf("round %d: %d lines answered, %d sent, on disk:\n%q", round, answered, len(sent), kept)
		}
	}
	t.Logf("%d lines over %d kills", len(kept), rounds)
}

// A command that computes for long ends when told to.
func TestSignalWhileComputing(t *testing.T) {
	cmd := program(t, t.TempDir(), "check", "--sets", "2000000000")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(300 * time.Millisecond)
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if r := ended(t, cmd, &out, &errs); r.code != exitInterrupted {
		t.Errorf("exit code %d: %s", r.code, r.errs)
	}
}

// small mounts a small disk, which needs root.
func small(t *testing.T, flags uintptr) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("mallow-test", dir, "tmpfs", flags, "size=64k"); err != nil {
		t.Skipf("no small disk to fill, since a tmpfs can't be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// On a full disk the conversation goes on and says that it is not being
// saved; once there is room again, everything said is on disk.
func TestFullDisk(t *testing.T) {
	state := small(t, 0)
	d := converse(t, program(t, state, "talk", "--new"))
	if got := d.say("help"); strings.Contains(got, "not being saved") {
		t.Errorf("it is not saved to begin with: %s", got)
	}
	filler := filepath.Join(state, "filler")
	if err := os.WriteFile(filler, make([]byte, 1<<20), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("filling the disk: %v", err)
	}
	long := strings.Repeat("x", 4050) // past the page that the file has already
	for _, line := range []string{"what is a durometer, " + long, "show answers"} {
		if got := d.say(line); !strings.Contains(got, "this conversation is not being saved") {
			t.Errorf("%q on a full disk: %s", line, got)
		}
	}
	if got := said(t, state); len(got) != 1 || got[0] != "help" {
		t.Errorf("on the full disk: %q", got)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if got := d.say("help"); strings.Contains(got, "not being saved") || !strings.Contains(got, "saving works again") {
		t.Errorf("not saved although there is room again: %s", got)
	}
	if r := d.leave(); r.code != exitDone || r.errs != "" {
		t.Errorf("exit code %d: %s", r.code, r.errs)
	}
	if got := said(t, state); len(got) != 4 || got[1] != "what is a durometer, "+long || got[3] != "help" {
		t.Errorf("on disk in the end: %q", got)
	}
}

// Full from the start, or read-only: the same, without a session.
func TestNowhereToSave(t *testing.T) {
	full := small(t, 0)
	if err := os.WriteFile(filepath.Join(full, "filler"), make([]byte, 1<<20), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("filling the disk: %v", err)
	}
	for name, state := range map[string]string{"full": full, "read-only": small(t, syscall.MS_RDONLY)} {
		t.Run(name, func(t *testing.T) {
			cmd := program(t, state)
			cmd.Stdin = strings.NewReader("help\nsave\n")
			r := outcome(t, cmd)
			words := strings.Join(strings.Fields(r.out), " ")
			if r.code != exitDone || r.errs != "" || !strings.Contains(words, "This conversation is not being saved") || !strings.Contains(words, "can't be saved here") {
				t.Errorf("exit code %d, %q; it said:\n%s", r.code, r.errs, r.out)
			}
			r = outcome(t, program(t, state, "built", stackText, "--mass", "22 g"))
			if r.code != exitFailed {
				t.Errorf("built: exit code %d", r.code)
			}
			oneSentence(t, r.errs)
		})
	}
}

// Without a home there is nothing to read and nowhere to save, and everything
// else works.
func TestNoHome(t *testing.T) {
	t.Parallel()
	homeless := func(args ...string) *exec.Cmd {
		cmd := program(t, t.TempDir(), args...)
		cmd.Env = []string{"PATH=" + os.Getenv("PATH")}
		return cmd
	}
	for _, args := range [][]string{{"head", stackText}, {"rules", "list"}, {}, {"sheet", stackText}} {
		if r := outcome(t, homeless(args...)); r.code != exitDone || r.errs != "" {
			t.Errorf("%q: exit code %d: %s", args, r.code, r.errs)
		}
	}
	r := outcome(t, homeless("built", stackText, "--mass", "22 g"))
	if r.code != exitFailed || !strings.Contains(r.errs, "HOME") {
		t.Errorf("built: exit code %d", r.code)
	}
	oneSentence(t, r.errs)
}

// Session files that are none are named and left alone; the conversation goes
// on from the last good one, or afresh.
func TestForeignSessions(t *testing.T) {
	t.Parallel()
	good := `{"version": 1, "started": "2030-01-01T00:00:00Z", "lines": [{"at": "2030-01-01T00:00:00Z", "said": "bells"}]}`
	for name, data := range map[string]string{
		"cut short": good[:len(good)/2], "empty": "", "another program's": `{"cells": []}`, "picture": "\x89PNG\r\n\x1a\n\x00\x00",
		"newer": `{"version": 99}`, "deep": strings.Repeat("[", 100_000), "huge": strings.Repeat(" ", 9<<20), "escapes": "\x1b[2J\x07",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			state := t.TempDir()
			dir := filepath.Join(state, "mallow")
			if err := os.Mkdir(dir, 0o700); err != nil {
				t.Fatal(err)
			}
			for file, text := range map[string]string{"session-000001.json": good, "session-000002.json": data} {
				if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			cmd := program(t, state, "talk", "--resume")
			cmd.Stdin = strings.NewReader("show answers\n")
			r := outcome(t, cmd)
			words := strings.Join(strings.Fields(r.out), " ")
			if r.code != exitDone || r.errs != "" || !strings.Contains(words, "session-000002.json can't be used") || !strings.Contains(words, "- bells") {
				t.Errorf("exit code %d, %q; it said:\n%s", r.code, r.errs, r.out)
			}
			if strings.ContainsAny(r.out, "\x1b\x07") {
				t.Error("the file's bytes reached the terminal")
			}
			if kept, err := os.ReadFile(filepath.Join(dir, "session-000002.json.aside-1")); err != nil || string(kept) != data {
				t.Errorf("the file was not kept as it was: %v", err)
			}
		})
	}
}

// The clock may stand anywhere: sessions go by their number.
func TestClockSetBack(t *testing.T) {
	t.Parallel()
	state := t.TempDir()
	dir := filepath.Join(state, "mallow")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	for n, about := range []string{"marimba", "bells"} {
		text := fmt.Sprintf(`{"version": 1, "started": "%d-01-01T00:00:00Z", "lines": [{"at": "%[1]d-01-01T00:00:00Z", "said": %q}]}`, 2999-900*n, about)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("session-%06d.json", n+1)), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := program(t, state, "talk", "--resume")
	cmd.Stdin = strings.NewReader("show answers\n")
	if r := outcome(t, cmd); r.code != exitDone || !strings.Contains(r.out, "- bells") {
		t.Errorf("exit code %d; it said:\n%s", r.code, r.out)
	}
}

// A context that has ended before the start is an interruption.
func TestInterruptedAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	null, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	var out, errs bytes.Buffer
	if code := run(ctx, nil, stdio{in: null, out: &out, err: &errs, getenv: home(t.TempDir())}); code != exitInterrupted || errs.Len() > 0 {
		t.Errorf("exit code %d: %s", code, errs.String())
	}
}
