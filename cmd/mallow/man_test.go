package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the manual says can be said is understood, line by line.
func TestManualConversation(t *testing.T) {
	t.Parallel()
	var said []string
	for _, l := range conversation() {
		if l.say == "3/4 in" { // the caution and the first step are gone through first
			said = append(said, "", "", "")
		}
		said = append(said, l.say)
		if l.say == "stop here" {
			break
		}
	}
	path := filepath.Join(t.TempDir(), "said")
	if err := os.WriteFile(path, []byte(strings.Join(said, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs := mallow(t, "talk", "--new", "--answers", path)
	if code != exitDone {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	text := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"Shall we build it?", "in the hand", "Step 1 of", "What bore does the tubing have?", "as expected", "Kept where you are"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, out)
		}
	}
	for _, not := range []string{"did not understand", "could make nothing of"} {
		if strings.Contains(text, not) {
			t.Errorf("%q in:\n%s", not, out)
		}
	}
}
