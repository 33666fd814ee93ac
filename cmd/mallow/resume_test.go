package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// mixed are lines of every kind, of which the first half moves the head.
func mixed(n int) string {
	mix := []string{"softer", "what is a slice", "why", "back", "lighter", "show answers", "what if it is lighter", "why not wool-medium", "harder",
		"what is a durometer", "compare 1 and 2", "smaller", "undo", "low end", "more", "two mallets", "medium", "thanks", "a bit softer", "is 23 g heavy?"}
	lines := []string{"marimba, two mallets, medium, all adults, latex is fine, no solvents"}
	for i := range n - 1 {
		lines = append(lines, mix[i%len(mix)])
	}
	return strings.Join(lines, "\n") + "\n"
}

// Coming back to a long conversation takes 0.3 s of processor time after 100
// mixed lines, 1 s after 5,000, and no more memory; what it has come to is the
// same as without the state that was kept, which is not believed once anything
// else has changed.
func TestComingBack(t *testing.T) {
	long := 500 // most of them questions that are quick to answer; in .ci/run it is 5,000
	if os.Getenv("MALLOW_LONG") != "" {
		long = 5000
	}
	state := t.TempDir()
	talked := func(lines string, args ...string) (string, time.Duration, int64) {
		t.Helper()
		cmd := program(t, state, append([]string{"talk"}, args...)...)
		cmd.Stdin = strings.NewReader(lines)
		var out strings.Builder
		cmd.Stdout = &out
		if err := cmd.Run(); err != nil {
			t.Fatal(err)
		}
		u := cmd.ProcessState.SysUsage().(*syscall.Rusage)
		return out.String(), cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), u.Maxrss
	}
	talked(mixed(100))
	back100, cpu, kb100 := talked("show answers\n", "--resume")
	t.Logf("100 lines: %v, %d kB", cpu, kb100)
	if cpu > 300*time.Millisecond {
		t.Errorf("100 lines take %v of processor time to come back to", cpu)
	}
	quick := strings.Repeat("what is a slice\nhelp\nshow answers\nthanks\nis 23 g heavy?\n", long/5)
	talked(quick, "--resume")
	back, cpu, kb := talked("show answers\n", "--resume")
	t.Logf("%d lines: %v, %d kB", long, cpu, kb)
	if cpu > time.Second {
		t.Errorf("%d lines take %v of processor time to come back to", long, cpu)
	}
	if kb > kb100+20<<10 {
		t.Errorf("%d lines take %d kB, 100 take %d", long, kb, kb100)
	}
	if back != back100 {
		t.Errorf("questions have changed what the conversation has come to: was\n%s\nis\n%s", back100, back)
	}
	if testing.Short() {
		return
	}
	// Without the state, the lines are answered again, and lead to the same.
	kept, err := filepath.Glob(filepath.Join(state, "mallow", "*.state"))
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	if err := os.WriteFile(kept[0], []byte("not a state"), 0o600); err != nil {
		t.Fatal(err)
	}
	again, _, _ := talked("show answers\n", "--resume")
	if last := func(s string) string { return s[strings.LastIndex(s, "So far you said"):] }; last(again) != last(back) {
		t.Errorf("without what was kept it comes to\n%s\nand with it to\n%s", last(again), last(back))
	}
}

// Whatever an answer follows from, another of it is another version.
func TestVersions(t *testing.T) {
	dir := t.TempDir()
	write := func(path string) func() {
		return func() {
			if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte("x"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	a := &app{stdio: stdio{getenv: home(dir)}, flags: &commands{}}
	mine := filepath.Join(t.TempDir(), "mine.yaml")
	seen := map[string]string{}
	for _, step := range []struct {
		name string
		do   func()
	}{
		{"as shipped", func() {}},
		{"a part of one's own", write(filepath.Join(dir, "config", "mallow", "mine.yaml"))},
		{"a rule of one's own", write(filepath.Join(dir, "config", "mallow", "rules", "mine.yaml"))},
		{"heads measured", write(filepath.Join(dir, "mallow", "built.yaml"))},
		{"a shelf", write(filepath.Join(dir, "mallow", "shelf.yaml"))},
		{"no shelf", func() { a.flags.NoShelf = true }},
		{"a file of parts", func() { a.flags.Parts = []string{mine} }},
		{"with something in it", write(mine)},
		{"a file of rules", func() { a.flags.Parts, a.flags.Rules = nil, []string{mine} }},
	} {
		step.do()
		v := a.versions()
		if was, twice := seen[v]; v == "" || twice {
			t.Errorf("%s: version %q, as %s", step.name, v, was)
		}
		if again := a.versions(); again != v {
			t.Errorf("%s: now %q, now %q", step.name, v, again)
		}
		seen[v] = step.name
	}
}
