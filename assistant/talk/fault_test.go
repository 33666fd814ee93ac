package talk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"mallow/assistant/journal"
	"mallow/assistant/journal/journaltest"
	"mallow/assistant/page"
)

// counted reads lines and counts them.
type counted struct {
	lines []string
	read  int
}

func (c *counted) ReadLine(string) (string, error) {
	if c.read == len(c.lines) {
		return "", io.EOF
	}
	c.read++
	return c.lines[c.read-1], nil
}

func (c *counted) Close() error { return nil }

// The disk fails once, is full from then on, or everything stops: at the first
// call, at the second, at every one that a conversation makes. Whatever was
// answered before a stop is on disk, a goodbye says what is so, and what was on
// disk before stays.
func TestFaultAtEveryCall(t *testing.T) {
	lines := []string{"what is a core", "what is a slice", "help", "show answers"}
	kinds := map[string]journaltest.Kind{"fails once": journaltest.Fail, "full from then on": journaltest.Fill, "stops": journaltest.Stop}
	for name, kind := range kinds {
		for _, resume := range []Resume{Never, Always} {
			t.Run(fmt.Sprintf("%s, resumed %v", name, resume == Always), func(t *testing.T) {
				t.Parallel()
				calls := 0
				for at := 1; ; at++ {
					if !faultAt(t, kind, at, resume, lines) {
						break
					}
					calls++
				}
				if calls < 20 {
					t.Errorf("only %d calls were made", calls)
				}
				t.Logf("%d calls", calls)
			})
		}
	}
}

// faultAt holds a conversation with a fault at a call, and reports whether it
// was reached.
func faultAt(t *testing.T, kind journaltest.Kind, at int, resume Resume, lines []string) bool {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "mallow")
	var before []string
	if resume == Always {
		good, err := journal.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		before = []string{"what is a bore", "what is yarn"}
		in := &counted{lines: before}
		if err := Run(t.Context(), kit(t), Config{In: in, Out: io.Discard, Style: func() page.Style { return page.Style{} }, Clock: time.Now, Shelf: &good, Versions: "test"}); err != nil {
			t.Fatal(err)
		}
	}
	disk := &journaltest.Disk{Kind: kind}
	shelf, err := journal.OpenOn(disk, dir)
	if err != nil {
		t.Fatal(err)
	}
	disk.At, disk.Call = at, 0
	in := &counted{lines: lines}
	var out bytes.Buffer
	stopped := false
	func() {
		defer func() {
			switch r := recover(); r {
			case nil:
			case journaltest.Stopped{}:
				stopped = true
			default:
				panic(r)
			}
		}()
		err = Run(t.Context(), kit(t), Config{In: in, Out: &out, Style: func() page.Style { return page.Style{Width: 200, Plain: true} }, Clock: time.Now, Shelf: &shelf, Resume: resume, Versions: "test"})
	}()
	if err != nil {
		t.Errorf("call %d: %v", at, err)
	}
	if stopped != (kind == journaltest.Stop && disk.Reached()) {
		t.Errorf("call %d: stopped is %v", at, stopped)
	}
	got := onDisk(t, dir)
	said := strings.Join(strings.Fields(out.String()), " ")
	all := lines[:in.read]
	whole := strings.Join(append(append([]string{}, before...), all...), "\n")
	if resume == Always && !strings.Contains(said, "Taken up again") { // it could not be read, which is said
		if !stopped && !strings.Contains(said, "Note: ") {
			t.Errorf("call %d: what was broken off is not taken up, and nothing is said about it: %s", at, said)
		}
		if len(got) == 0 || strings.Join(got[0], "\n") != strings.Join(before, "\n") {
			t.Fatalf("call %d: what was said before is gone: %q", at, got)
		}
		whole = strings.Join(all, "\n")
		got = got[1:]
	}
	var last []string
	if len(got) > 0 {
		last = got[len(got)-1]
	}
	if !strings.HasPrefix(whole+"\n", strings.Join(last, "\n")+"\n") && len(last) > 0 {
		t.Fatalf("call %d: on disk %q, said %q", at, last, whole)
	}
	missing := strings.Count(whole, "\n") + 1 - len(last)
	if whole == "" {
		missing = 0
	}
	switch {
	case stopped:
		if missing > 1 { // the one that was being saved
			t.Errorf("call %d: %d answered lines are gone; on disk %q", at, missing-1, last)
		}
	case strings.Contains(said, "All you said is kept"):
		if missing != 0 {
			t.Errorf("call %d: it says that all is kept, and %d lines are not: %q", at, missing, last)
		}
	case strings.Contains(said, fmt.Sprintf("What you said last (lines: %d) is not kept", missing)):
		if kind == journaltest.Fail {
			t.Errorf("call %d: it failed once, and %d lines are not kept", at, missing)
		}
	default:
		t.Errorf("call %d: %d lines are not on disk; it says: %s", at, missing, said)
	}
	return disk.Reached()
}

// onDisk reads the sessions in which something was said.
func onDisk(t *testing.T, dir string) (list [][]string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "session-*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data, err := journal.System().ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		s, err := journal.Decode(data)
		if err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		if lines := s.Said(); len(lines) > 0 {
			list = append(list, lines)
		}
	}
	return list
}

// Readers at work while a conversation is written see it whole up to some line.
func TestReadWhileWritten(t *testing.T) {
	s, _ := shelf(t)
	log, err := s.New(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	const lines = 100
	done := make(chan struct{})
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			seen := 0
			for {
				last, bad, err := s.Last()
				if err != nil || len(bad) > 0 {
					t.Error(bad, err)
					return
				}
				var lines []journal.Line
				if last != nil {
					lines = last.Session().Lines
				}
				if n := len(lines); n < seen || n > 0 && lines[n-1].Said != fmt.Sprint(n) {
					t.Errorf("%d lines after %d", n, seen)
					return
				} else {
					seen = n
				}
				select {
				case <-done:
					return
				default:
				}
			}
		})
	}
	for i := range lines {
		err = errors.Join(err, log.Add(journal.Line{At: time.Now(), Said: fmt.Sprint(i + 1)}))
	}
	close(done)
	wg.Wait()
	if err != nil {
		t.Error(err)
	}
}
