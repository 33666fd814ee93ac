package desk_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"mallow/assistant/desk"
)

// with is a desktop that has some commands, of which some fail.
func with(dir string, ran *[]string, has, fail string) desk.Desk {
	return desk.Desk{
		Dir: dir, System: "linux", Getenv: func(string) string { return "" },
		Look: func(name string) (string, error) {
			if strings.Contains(" "+has+" ", " "+name+" ") {
				return "/bin/" + name, nil
			}
			return "", errors.New("not found")
		},
		Run: func(_ context.Context, path string, args ...string) error {
			file := args[len(args)-1]
			data, err := os.ReadFile(file)
			*ran = append(*ran, filepath.Base(path)+":"+string(data))
			if fail == filepath.Base(path) {
				return errors.New("no device")
			}
			return err
		},
	}
}

func sound(w io.Writer) error { _, err := io.WriteString(w, "sound"); return err }

func TestPlay(t *testing.T) {
	for _, c := range []struct{ name, has, fail, ran, said string }{
		{"the first there is", "aplay paplay", "", "paplay:sound", "Played by paplay."},
		{"the next when one fails", "aplay paplay", "paplay", "paplay:sound aplay:sound", "Played by aplay."},
		{"none", "", "", "", "open that file"},
		{"all fail", "aplay", "aplay", "aplay:sound", "open that file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			var ran []string
			said, err := with(dir, &ran, c.has, c.fail).Play(context.Background(), "a.wav", sound)
			if err != nil || !strings.Contains(said, c.said) || strings.Join(ran, " ") != c.ran {
				t.Errorf("said %q, ran %q, %v", said, ran, err)
			}
			kept, _ := filepath.Glob(filepath.Join(dir, "*"))
			if want := map[bool]int{true: 1, false: 0}[strings.Contains(c.said, "file")]; len(kept) != want {
				t.Errorf("%d files are left, want %d", len(kept), want)
			}
		})
	}
}

// A file that is there is never replaced.
func TestSave(t *testing.T) {
	dir := t.TempDir()
	d := with(dir, nil, "", "")
	for _, want := range []string{"a.wav", "a-2.wav", "a-3.wav"} {
		got, err := d.Save("a.wav", sound)
		if err != nil || got != filepath.Join(dir, want) {
			t.Errorf("%s, %v; want %s", got, err, want)
		}
	}
}

func TestBrowser(t *testing.T) {
	d := with(t.TempDir(), nil, "xdg-open", "")
	if _, ok := d.Browser(); ok {
		t.Error("a browser without a desktop")
	}
	if err := d.Open(context.Background(), "x"); err == nil {
		t.Error("a page is opened without a desktop")
	}
	d.Getenv = func(string) string { return ":0" }
	if path, ok := d.Browser(); !ok || path != "/bin/xdg-open" {
		t.Errorf("%q, %v", path, ok)
	}
}
