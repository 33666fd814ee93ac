package term_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"mallow/assistant/term"
	"mallow/assistant/term/termtest"
)

// TestMain also is the program that the tests run on a terminal: it says back
// each line it reads, until "leave".
func TestMain(m *testing.M) {
	if os.Getenv("TERM_TEST_PROGRAM") != "" {
		os.Exit(program())
	}
	os.Exit(m.Run())
}

func program() int {
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM)
	defer stop()
	r, err := term.Open(ctx, term.Config{
		In: os.Stdin, Out: os.Stdout,
		Simple:  os.Getenv("TERM_TEST_PROGRAM") == "simple",
		History: os.Getenv("TERM_TEST_HISTORY"),
		Complete: func(line string) []string {
			return []string{"marimba", "march", "vibraphone"}
		},
	})
	if err != nil {
		fmt.Println(err)
		return 1
	}
	defer r.Close()
	for {
		line, err := r.ReadLine("> ")
		fmt.Printf("width %d, got %q, %v\n", term.Width(os.Stdout), line, err)
		if line == "think" {
			time.Sleep(300 * time.Millisecond)
			fmt.Println("thought")
		}
		if err == io.EOF || line == "leave" {
			return 0
		}
	}
}

func start(t *testing.T, kind string, cols int) *termtest.Screen {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), "TERM_TEST_PROGRAM="+kind, "TERM_TEST_HISTORY="+filepath.Join(t.TempDir(), "history"))
	return termtest.Start(t, cols, 24, cmd)
}

func TestTyped(t *testing.T) {
	for _, kind := range []string{"editor", "simple"} {
		t.Run(kind, func(t *testing.T) {
			s := start(t, kind, 80)
			s.Wait(">")
			s.Type("dark, ¾\" by ⅛\"\r")
			s.Wait(`got "dark, ¾\" by ⅛\"", <nil>`)
			s.Type("half a line\x03")
			s.Wait(`got "", interrupted`)
			s.Resize(120, 24)
			s.Type("vibes\r")
			s.Wait(`width 120, got "vibes", <nil>`)
			s.Type("think\r")
			s.Wait(`got "think"`)
			s.Type("\x03") // while the program is busy
			s.Wait("thought")
			s.Until("the prompt after a second interrupt", func() bool {
				return strings.Count(s.Text(), "interrupted") == 2 && strings.HasSuffix(s.Text(), "\n>")
			})
			s.Type("\x04")
			s.Wait(`EOF`)
			if code := s.Exit(); code != 0 {
				t.Errorf("exit code %d", code)
			}
		})
	}
}

func TestEditor(t *testing.T) {
	s := start(t, "editor", 40)
	s.Wait(">")
	s.Type("vi\t\r")
	s.Wait(`got "vibraphone", <nil>`)
	s.Type("\x1b[A\r") // up: history
	s.Until("the line again", func() bool { return strings.Count(s.Text(), `got "vibraphone"`) == 2 })
	s.Until("the prompt", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
	s.Type("y\x1a\x00z\r") // within a line, Ctrl-Z and NUL do nothing
	s.Wait(`got "yz", <nil>`)
	// Between prompts the terminal's own editing takes a byte off for a backspace.
	s.Until("the prompt after it", func() bool { return strings.HasSuffix(s.Text(), "\n>") })
	s.Type("木琴木琴木琴木琴木琴木琴木琴木琴木琴木琴木琴木琴\x7f\r") // wide, past the edge, with a backspace
	s.Wait(`got "木琴木琴木琴木琴木琴`)
	s.Until("eleven and a half words", func() bool {
		return strings.Contains(strings.ReplaceAll(s.Text(), "\n", ""), `木琴木", <nil>`)
	})
	s.Type("one\rtwo\rthree\r") // pasted
	s.Wait(`got "three", <nil>`)
	for _, want := range []string{`got "one", <nil>`, `got "two", <nil>`} {
		if !strings.Contains(s.Text(), want) {
			t.Errorf("no %s; the screen:\n%s", want, s.Text())
		}
	}
	s.Type("leave\r")
	if code := s.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// However the program is told to end, the half-typed line is not taken as
// entered and the terminal is back in its own mode.
func TestTerminated(t *testing.T) {
	s := start(t, "editor", 80)
	s.Wait(">")
	s.Type("half")
	s.Wait("half")
	s.Signal(syscall.SIGTERM)
	s.Wait(`got "", EOF`)
	if code := s.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// Ctrl-D while the program is busy ends it at the next prompt.
func TestEndedWhileBusy(t *testing.T) {
	s := start(t, "editor", 80)
	s.Wait(">")
	s.Type("think\r")
	s.Wait(`got "think"`)
	s.Type("\x04")
	s.Wait("EOF")
	if code := s.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// The editor's echo of what is typed may move the cursor but sends none of
// the typed controls back.
func TestControlsTyped(t *testing.T) {
	s := start(t, "editor", 80)
	s.Wait(">")
	s.Type("a\x1b]0;title\x07b\u009b31mc\r")
	s.Wait("<nil>")
	for _, bad := range []string{"\x1b]0", "\u009b"} {
		if strings.Contains(s.Raw(), bad) {
			t.Errorf("%q reached the terminal", bad)
		}
	}
}

func TestPiped(t *testing.T) {
	long := strings.Repeat("x", term.MaxLine+1)
	in := "marimba\r\n\n\x1b[31mred\x07\n" + long + "\n" + strings.Repeat(long, 3) + "\n" + long[1:] + "\nlast"
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		io.WriteString(w, in)
		w.Close()
	}()
	var out strings.Builder
	lines, err := term.Open(t.Context(), term.Config{In: r, Out: &out})
	if err != nil {
		t.Fatal(err)
	}
	defer lines.Close()
	want := []struct {
		text string
		err  error
	}{
		{"marimba", nil}, {"", nil}, {"\x1b[31mred\x07", nil}, {"", term.ErrTooLong}, {"", term.ErrTooLong},
		{long[1:], nil}, {"last", nil}, {"", io.EOF},
	}
	for i, w := range want {
		got, err := lines.ReadLine("> ")
		if !errors.Is(err, w.err) || err == nil && got != w.text {
			t.Fatalf("line %d: got %.40q, %v; want %.40q, %v", i, got, err, w.text, w.err)
		}
	}
	if !strings.HasPrefix(out.String(), "> marimba\n> \n> \ufffd[31mred\ufffd\n> ") {
		t.Errorf("echo: %.80q", out.String())
	}
	if strings.ContainsAny(out.String(), "\x1b\x07") {
		t.Error("a control character was echoed")
	}
}
