package journal

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
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

// unfinished is the session to take up again, if it is not done.
func unfinished(s Shelf) (*Log, []*FileError, error) {
	f, err := s.Find()
	if err == nil && f.Log != nil && f.Log.Session().Done {
		return nil, f.Bad, f.Log.Close()
	}
	return f.Log, f.Bad, err
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

	if again, _, err := unfinished(shelf); err != nil || again != nil {
		t.Errorf("a held session was taken up: %v, %v", again, err)
	}
	// As after kill -9: no Finish; the system drops the lock.
	if err := log.Close(); err != nil {
		t.Fatal(err)
	}
	again, bad, err := unfinished(shelf)
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
	if done, _, err := unfinished(shelf); err != nil || done != nil {
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
		{"newer", `{"version":99,"lines":[]}`, "a newer mallow wrote it (version 99, this one reads up to 2)"},
		{"version zero", `{"version":0}`, "version 0 never existed"},
		{"unknown field", `{"version":1,"lines":[],"colour":"red"}`, `unknown field "colour"`},
		{"wrong type", `{"version":1,"lines":{}}`, "it is not a session"},
		{"two in one", `{"version":1,"lines":[]} {"version":1}`, "it is not a session"},
		{"broken in its heading", `{"version":2,"start`, "it breaks off after 19 bytes"},
		{"heading without an end", `{"version":2,"started":"2026-11-25T12:00:00Z"}`, "it breaks off"},
		{"foreign line", "{\"version\":2,\"started\":\"2026-11-25T12:00:00Z\"}\n{\"colour\":1}\n", "line 2"},
		{"no time", "{\"version\":2,\"started\":\"2026-11-25T12:00:00Z\"}\n{\"said\":\"x\"}\n", "it does not say when"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			shelf := open(t)
			path := shelf.Path(name(3))
			if err := os.WriteFile(path, []byte(tt.data), 0o600); err != nil {
				t.Fatal(err)
			}
			log, bad, err := unfinished(shelf)
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
			if _, bad, _ := unfinished(shelf); len(bad) > 0 {
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
		if _, bad, err := unfinished(shelf); err != nil || len(bad) != 1 {
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

// A line that can't be saved is kept and saved with the next, in place of what
// an attempt has left; and what was saved is never touched.
func TestSaveLater(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	on := func() []string {
		there := &Log{path: log.path, disk: System()}
		if err := there.read(); err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, l := range there.Session().Lines {
			list = append(list, l.Said)
		}
		return list
	}
	say := func(text string) error { return log.Add(Line{At: noon, Said: text}) }
	if err := say("one"); err != nil || log.Unsaved() != 0 {
		t.Fatal(err)
	}
	path := log.path
	log.path = filepath.Join(shelf.dir, "gone", "x.json")
	for i, text := range []string{"two", "three"} {
		if err := say(text); err == nil || log.Unsaved() != i+1 {
			t.Fatalf("saved into a folder that is not there: %v, %d lines are not", err, log.Unsaved())
		}
	}
	log.path = path
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0) // as after half of a write
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString(`{"at":"2026-11-25T12:00:00Z","said":"tw`); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if got := on(); !slices.Equal(got, []string{"one"}) {
		t.Errorf("with half a line at the end: %q", got)
	}
	if err := log.Save(); err != nil || log.Unsaved() != 0 {
		t.Fatal(err)
	}
	if got := on(); !slices.Equal(got, []string{"one", "two", "three"}) {
		t.Errorf("on disk: %q", got)
	}
	if err := os.Remove(path); err != nil { // whoever clears up: all of it is written again
		t.Fatal(err)
	}
	if err := say("four"); err != nil {
		t.Fatal(err)
	}
	if got := on(); !slices.Equal(got, []string{"one", "two", "three", "four"}) {
		t.Errorf("on disk: %q", got)
	}
}

// Cut off anywhere, a file holds the lines up to there.
func TestCutAnywhere(t *testing.T) {
	s := Session{Version: Version, Started: noon, About: "bells"}
	for _, text := range []string{"bells", "", "1⅛ \x00", "leave\n{}"} {
		s.Lines = append(s.Lines, Line{At: noon, Asked: "x", Said: text})
	}
	data, err := s.Encode()
	if err != nil {
		t.Fatal(err)
	}
	for n := range len(data) {
		got, err := Decode(data[:n])
		whole := strings.Count(string(data[:n]), "\n")
		if whole == 0 {
			if err == nil {
				t.Errorf("%d bytes: no error", n)
			}
			continue
		}
		if want := s.Lines[:min(whole-1, len(s.Lines))]; err != nil || len(got.Lines) != len(want) || !slices.Equal(got.Lines, want) {
			t.Errorf("%d bytes: %v, %q", n, err, got.Lines)
		}
	}
}

// Saving a line takes as much at the end of a long session as at its beginning:
// it adds the line's own bytes and no more.
func TestSavingALineCostsTheSame(t *testing.T) {
	line := Line{At: noon, Said: "what is a slice?"}
	cost := func(lines int) (bytes int64, allocs float64) {
		shelf := open(t)
		s := Session{Version: Version, Started: noon}
		for range lines {
			s.Lines = append(s.Lines, line)
		}
		data, err := s.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(shelf.Path(name(1)), data, 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := shelf.Find()
		if err != nil || f.Log == nil {
			t.Fatal(f, err)
		}
		defer f.Log.Close()
		before := f.Log.size
		if err := f.Log.Add(line); err != nil {
			t.Fatal(err)
		}
		bytes = f.Log.size - before
		got := &Log{path: f.Log.path, disk: System()}
		if err := got.read(); err != nil || got.Len() != lines+1 {
			t.Fatalf("%d lines and one more: %d, %v", lines, got.Len(), err)
		}
		return bytes, testing.AllocsPerRun(20, func() { _ = f.Log.Add(line) })
	}
	bytes, allocs := cost(10)
	if b, a := cost(5000); b != bytes || a > allocs+2 {
		t.Errorf("line 5,000 takes %d bytes and %.0f allocations, line 10 %d and %.0f", b, a, bytes, allocs)
	}
}

// A done session can be taken up again, where none is broken off; a later one
// that goes on in another program is named.
func TestFind(t *testing.T) {
	shelf := open(t)
	make := func(said string, done bool) *Log {
		log, err := shelf.New(noon)
		if err != nil {
			t.Fatal(err)
		}
		if err := log.Add(Line{At: noon, Said: said}); err != nil {
			t.Fatal(err)
		}
		if done {
			if err := log.Finish(); err != nil {
				t.Fatal(err)
			}
		}
		return log
	}
	find := func() Found {
		t.Helper()
		f, err := shelf.Find()
		if err != nil || len(f.Bad) > 0 {
			t.Fatal(f, err)
		}
		return f
	}
	said := func(f Found) string {
		if f.Log == nil {
			return ""
		}
		defer f.Log.Close()
		return f.Log.Session().Lines[0].Said
	}
	make("one", true).Close()
	if got := said(find()); got != "one" {
		t.Errorf("found %q", got)
	}
	make("two", true).Close()
	if got := said(find()); got != "two" {
		t.Errorf("found %q", got)
	}
	make("three", false).Close()
	make("four", true).Close()
	f := find()
	if got := said(f); got != "three" || f.Held != "" {
		t.Errorf("found %q, held %q", got, f.Held)
	}
	five := make("five", false)
	f = find()
	if got := said(f); got != "three" || f.Held != five.path {
		t.Errorf("found %q, held %q", got, f.Held)
	}
	five.Close()
	f = find()
	if err := f.Log.Finish(); err != nil {
		t.Fatal(err)
	}
	if err := f.Log.Add(Line{At: noon, Said: "more"}); err != nil || f.Log.Session().Done {
		t.Errorf("a session that goes on is done: %v", err)
	}
	f.Log.Close()
	if again := find(); again.Log == nil || again.Log.Session().Done || again.Log.Len() != 2 {
		t.Errorf("found %+v", again.Log)
	} else {
		again.Log.Close()
	}
}

// The state is that of the lines it was kept at, of the versions that it was
// kept for, and whole; or it is none.
func TestState(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	say := func(text string) {
		t.Helper()
		if err := log.Add(Line{At: noon, Said: text}); err != nil {
			t.Fatal(err)
		}
	}
	say("one")
	say("two")
	if err := log.Keep("v1", []byte("after two")); err != nil {
		t.Fatal(err)
	}
	say("three")
	log.Close()
	kept := func(of string) string {
		t.Helper()
		log, bad, err := shelf.Last()
		if err != nil || len(bad) > 0 {
			t.Fatal(bad, err)
		}
		if log == nil {
			return "0"
		}
		state, n := log.Kept(of)
		return fmt.Sprint(string(state), n)
	}
	if got := kept("v1"); got != "after two2" {
		t.Errorf("got %q", got)
	}
	if got := kept("v2"); got != "0" {
		t.Errorf("of another version: %q", got)
	}
	data, err := os.ReadFile(log.path)
	if err != nil {
		t.Fatal(err)
	}
	for name, changed := range map[string]string{"edited": strings.Replace(string(data), "one", "eno", 1), "shorter": string(data[:len(data)/2])} {
		if err := os.WriteFile(log.path, []byte(changed), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := kept("v1"); got != "0" {
			t.Errorf("%s: %q", name, got)
		}
	}
	if err := os.WriteFile(log.path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	state, err := os.ReadFile(log.beside())
	if err != nil {
		t.Fatal(err)
	}
	for n := range state {
		if err := os.WriteFile(log.beside(), state[:n], 0o600); err != nil {
			t.Fatal(err)
		}
		if got := kept("v1"); got != "0" {
			t.Errorf("%d bytes of %d: %q", n, len(state), got)
		}
	}
}

// Numbers at the top of the range, files that are too long, and what broken-off
// writing leaves stand in nobody's way.
func TestStrangeFiles(t *testing.T) {
	shelf := open(t)
	log, err := shelf.New(noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := log.Add(Line{At: noon, Said: "marimba"}); err != nil {
		t.Fatal(err)
	}
	log.Close()
	for _, name := range []string{"session-9223372036854775807.json", "session-999999999.json", ".session-000001.json123456", ".session-000002.json9", ".session-000003.state.new", "notes.txt"} {
		if err := os.WriteFile(shelf.Path(name), []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Truncate(shelf.Path("notes.txt"), 1); err != nil {
		t.Fatal(err)
	}
	huge, err := os.Create(shelf.Path(name(5)))
	if err != nil {
		t.Fatal(err)
	}
	if err := huge.Truncate(MaxBytes + 1); err != nil {
		t.Fatal(err)
	}
	huge.Close()
	last, bad, err := shelf.Last()
	if err != nil || last == nil || last.Session().Lines[0].Said != "marimba" || len(bad) != 1 || bad[0].File != shelf.Path(name(5)) {
		t.Errorf("the last is %+v; %v, %v", last, bad, err)
	}
	next, err := shelf.New(noon)
	if err != nil || next.path != shelf.Path(name(6)) {
		t.Fatalf("the next is %v, %v", next, err)
	}
	next.Close()
	for file, stays := range map[string]bool{".session-000001.json123456": false, ".session-000002.json9": false, ".session-000003.state.new": false, "notes.txt": true, "session-9223372036854775807.json": true} {
		if _, err := os.Stat(shelf.Path(file)); (err == nil) != stays {
			t.Errorf("%s: stays is %v", file, err == nil)
		}
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
	f.Add([]byte("{\"version\":2,\"started\":\"2026-11-25T12:00:00Z\"}\n{\"at\":\"2026-11-25T12:00:00Z\",\"asked\":\"a\",\"said\":\"b\"}\n{\"about\":\"c\"}\n{\"done\":true}\n{\"sa"))
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
