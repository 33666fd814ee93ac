package save_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mallow/assistant/save"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// names lists a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return strings.Join(list, " ")
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.html")
	if err := save.File(path, false, text("one")); err != nil {
		t.Fatal(err)
	}
	err := save.File(path, false, text("two"))
	if !errors.Is(err, save.ErrExists) {
		t.Errorf("writing over a file: %v, want ErrExists", err)
	}
	if got := read(t, path); got != "one" {
		t.Errorf("a refused write left %q", got)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := save.File(path, true, text("three")); err != nil {
		t.Fatal(err)
	}
	if got := read(t, path); got != "three" {
		t.Errorf("a forced write left %q", got)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("a replaced file lost its permissions: %v, %v", info.Mode(), err)
	}
	if got := names(t, dir); got != "sheet.html" {
		t.Errorf("folder holds %q", got)
	}
}

func TestFileLeavesNothingPartial(t *testing.T) {
	for _, test := range []struct {
		name  string
		err   error
		want  string
		force bool
	}{
		{"rendering fails", errors.New("no such layer"), "no such layer", false},
		{"rendering fails, replacing", errors.New("no such layer"), "no such layer", true},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "out.wav")
			before := ""
			if test.force {
				before = "out.wav"
				if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			err := save.File(path, test.force, func(w io.Writer) error {
				io.WriteString(w, strings.Repeat("x", 1<<16))
				return test.err
			})
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %v, want %q in it", err, test.want)
			}
			if got := names(t, dir); got != before {
				t.Errorf("folder holds %q, want %q", got, before)
			}
			if test.force && read(t, path) != "old" {
				t.Error("the old file is gone")
			}
		})
	}
}

func TestFileSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(filepath.Join(dir, "nowhere"), link); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct{ name, path, want string }{
		{"no name", "", "without a name"},
		{"a folder", dir, "it is a folder"},
		{"no such folder", filepath.Join(dir, "no", "x"), "there is no folder"},
		{"a file as a folder", filepath.Join(file, "x"), "is not a folder"},
		{"a device", "/dev/null", "not a regular file"},
		{"a dead link", link, "a link to nothing"},
	} {
		t.Run(test.name, func(t *testing.T) {
			err := save.File(test.path, true, text("x"))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("%v, want %q in it", err, test.want)
			}
		})
	}
}

// What a program that was stopped in the midst of saving left behind goes with
// the next save; nothing else does.
func TestFileSweeps(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-time.Hour)
	for name, age := range map[string]time.Time{
		".shelf.yaml6858646522276937400": old, ".shelf.yaml253154394370247415": old,
		".shelf.yaml7503561022899758172": time.Now(), // being written
		".shelf.yaml":                    old, ".shelf.yaml12": old, ".shelf.yaml685864652227693740x": old, "shelf.yaml6858646522276937400": old, ".other.yaml6858646522276937400": old,
	} {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.WriteFile(path, []byte("half"), 0o600), os.Chtimes(path, age, age)); err != nil {
			t.Fatal(err)
		}
	}
	if err := save.File(filepath.Join(dir, "shelf.yaml"), true, text("whole")); err != nil {
		t.Fatal(err)
	}
	want := ".other.yaml6858646522276937400 .shelf.yaml .shelf.yaml12 .shelf.yaml685864652227693740x .shelf.yaml7503561022899758172 shelf.yaml shelf.yaml6858646522276937400"
	if got := names(t, dir); got != want {
		t.Errorf("the folder holds\n%s, want\n%s", got, want)
	}
}
