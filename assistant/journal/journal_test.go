package journal

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func open(t *testing.T) Shelf {
	t.Helper()
	s, err := Open(filepath.Join(t.TempDir(), "state", "mallow"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestDir(t *testing.T) {
	tests := []struct {
		name, xdg, home, want string
	}{
		{"XDG wins", "/x", "/home/a", "/x/mallow"},
		{"home", "", "/home/a", "/home/a/.local/state/mallow"},
		{"relative XDG is ignored", "x", "/home/a", "/home/a/.local/state/mallow"},
		{"neither", "", "", ""},
		{"relative home", "", "a", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			env := map[string]string{"XDG_STATE_HOME": tt.xdg, "HOME": tt.home}
			got, err := Dir(func(k string) string { return env[k] })
			if got != tt.want || (err != nil) != (tt.want == "") {
				t.Errorf("got %q, %v; want %q", got, err, tt.want)
			}
		})
	}
}

func TestResume(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	lines := []Line{
		{At: noon, Asked: "instrument.kind", Said: "marimba"},
		{At: noon.Add(-time.Hour), Said: "1⅛ \x00\x1b[31m \xff"}, // a clock set back, and any bytes
	}
	if err := log.Describe("marimba"); err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if err := log.Add(l); err != nil {
			t.Fatal(err)
		}
	}

	if again, _, err := shelf.Unfinished(); err != nil || again != nil {
		t.Errorf("a held session was taken up: %v, %v", again, err)
	}
	// As after kill -9: no Finish; the system drops the lock.
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	again, bad, err := shelf.Unfinished()
	if err != nil || again == nil || len(bad) > 0 {
		t.Fatalf("got %v, %v, %v", again, bad, err)
	}
	want := Session{Version: Version, Started: noon, About: "marimba", Lines: lines}
	want.Lines[1].Said = "1⅛ \x00\x1b[31m \ufffd" // JSON has no bytes outside UTF-8
	if diff := cmp.Diff(want, again.Session()); diff != "" {
		t.Error(diff)
	}
	if err := again.Finish(); err != nil {
		t.Fatal(err)
	}
	again.Close()
	if done, _, err := shelf.Unfinished(); err != nil || done != nil {
		t.Errorf("a finished session was offered: %v, %v", done, err)
	}
}

func TestPermissions(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	for path, want := range map[string]os.FileMode{shelf.dir: 0o700, log.path: 0o600, log.path + ".lock": 0o600} {
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s: mode %o, want %o", filepath.Base(path), got, want)
		}
	}
}

// Many at once: each gets a session of its own, and each keeps its lines.
func TestTogether(t *testing.T) {
	shelf := open(t)
	var wg sync.WaitGroup
	paths := make([]string, 8)
	for i := range paths {
		wg.Go(func() {
			log, err := shelf.New(noon)
			if err != nil {
				t.Error(err)
				return
			}
			defer log.Close()
			paths[i] = log.path
			for range 5 {
				if err := log.Add(Line{At: noon, Said: strings.Repeat("x", i+1)}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	seen := map[string]bool{}
	for i, path := range paths {
		if seen[path] {
			t.Errorf("%s was given twice", path)
		}
		seen[path] = true
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Decode(data)
		if err != nil || len(s.Lines) != 5 || s.Lines[4].Said != strings.Repeat("x", i+1) {
			t.Errorf("%s: %v, %v", path, s, err)
		}
	}
}

func TestSetAside(t *testing.T) {
	tests := []struct {
		name, data, why string
	}{
		{"empty", "", "it is empty"},
		{"cut short", `{"version":1,"lines":[{"at":"2026-11-25T`, "it breaks off after 40 bytes"},
		{"foreign", "GIF89a", "it is not a session"},
		{"other JSON", `{"name":"x"}`, "it has no version"},
		{"newer", `{"version":99,"lines":[]}`, "a newer mallow wrote it (version 99, this one reads up to 1)"},
		{"version zero", `{"version":0}`, "version 0 never existed"},
		{"unknown field", `{"version":1,"lines":[],"colour":"red"}`, `unknown field "colour"`},
		{"wrong type", `{"version":1,"lines":{}}`, "it is not a session"},
		{"two in one", `{"version":1,"lines":[]} {"version":1}`, "it is not a session"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			shelf := open(t)
			path := shelf.Path(name(3))
			if err := os.WriteFile(path, []byte(tt.data), 0o600); err != nil {
				t.Fatal(err)
			}
			log, bad, err := shelf.Unfinished()
			if err != nil || log != nil || len(bad) != 1 {
				t.Fatalf("got %v, %v, %v", log, bad, err)
			}
			if !strings.Contains(bad[0].Error(), tt.why) {
				t.Errorf("said %q, want %q in it", bad[0], tt.why)
			}
			kept, err := os.ReadFile(bad[0].Now)
			if err != nil || string(kept) != tt.data {
				t.Errorf("the file was not kept: %q, %v", kept, err)
			}
			if _, bad, _ := shelf.Unfinished(); len(bad) > 0 {
				t.Errorf("it was reported twice: %v", bad)
			}
		})
	}
}

// Files set aside under one name must not replace each other.
func TestSetAsideTwice(t *testing.T) {
	shelf := open(t)
	for _, data := range []string{"one", "two"} {
		if err := os.WriteFile(shelf.Path(name(1)), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, bad, err := shelf.Unfinished(); err != nil || len(bad) != 1 {
			t.Fatal(bad, err)
		}
	}
	for i, want := range []string{"one", "two"} {
		got, err := os.ReadFile(shelf.Path(name(1)) + ".aside-" + string(rune('1'+i)))
		if err != nil || string(got) != want {
			t.Errorf("got %q, %v; want %q", got, err, want)
		}
	}
}

func TestOldVersions(t *testing.T) {
	files, err := filepath.Glob("testdata/version-*.json")
	if err != nil || len(files) < 1 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Decode(data)
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Lines) != 3 || s.Lines[1].Said != `dark but not mushy, ¾" by ⅛" tubing` || s.Lines[1].Asked != "want.softness" {
				t.Errorf("got %+v", s)
			}
		})
	}
}

// A folder that can't be written to gives an error that names it.
func TestUnwritable(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(filepath.Join(file, "mallow"))
	if err == nil || !strings.Contains(err.Error(), file) {
		t.Errorf("got %v", err)
	}
}

// A line that can't be saved is kept and saved with the next.
func TestSaveLater(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	path := log.path
	log.path = filepath.Join(shelf.dir, "gone", "x.json")
	if err := log.Add(Line{At: noon, Said: "one"}); err == nil {
		t.Fatal("saved into a folder that is not there")
	}
	log.path = path
	if err := log.Add(Line{At: noon, Said: "two"}); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if s, err := Decode(data); err != nil || len(s.Lines) != 2 {
		t.Errorf("got %v, %v", s, err)
	}
}

func TestRecord(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.csv")
	p := Prediction{At: noon, Learner: "=1+1", Lesson: "Thicker wall", Question: "Which is softer?", Predicted: "the thick one", Computed: "the thick one, by 2.0 notches", Right: true}
	for range 2 {
		if err := Record(path, p); err != nil {
			t.Fatal(err)
		}
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	want := []string{"2026-11-25T12:00:00Z", "'=1+1", "Thicker wall", "Which is softer?", "the thick one", "the thick one, by 2.0 notches", "yes"}
	if diff := cmp.Diff(want, rows[2]); diff != "" {
		t.Error(diff)
	}
}

func FuzzDecode(f *testing.F) {
	v1, err := os.ReadFile("testdata/version-1.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(v1)
	f.Add([]byte(`{"version":1}`))
	f.Add([]byte(`{"version":2}`))
	f.Add([]byte(`null`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Decode(data)
		if err != nil {
			return
		}
		// What was read is written and read again unchanged.
		out, err := s.Encode()
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(out)
		if err != nil {
			t.Fatalf("%v in %q", err, out)
		}
		if diff := cmp.Diff(s, again); diff != "" {
			t.Error(diff)
		}
	})
}
