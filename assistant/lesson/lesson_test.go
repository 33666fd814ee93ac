package lesson_test

import (
	"strings"
	"testing"

	"mallow/assistant/lesson"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Every lesson computes its right answer from its heads, and what is revealed
// has every number in it.
func TestLessons(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	book, err := facts.Book()
	if err != nil {
		t.Fatal(err)
	}
	finder, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	list, err := lesson.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	// What a maker would answer (common practice, no source).
	right := map[string]string{
		"thicker-wall": "the thick wall", "soft-strokes-hide-the-core": "the very loud stroke", "slack-slaps": "the 3/4 in bore",
		"reading-a-durometer": "the 75A ball",
	}
	for _, l := range list {
		q, err := l.Quiz(finder, facts.Facts{})
		if err != nil {
			t.Errorf("%s: %v", l.ID, err)
			continue
		}
		if want := right[l.ID]; want != "" && q.Choices[q.Right] != want {
			t.Errorf("%s: right is %q, want %q", l.ID, q.Choices[q.Right], want)
		}
		delete(right, l.ID)
		if len(q.Shown) == 0 || q.Lesson != l.Title || len(q.Numbered()) != len(q.Choices) || !strings.HasPrefix(q.Numbered()[0], "1: ") {
			t.Errorf("%s: %+v", l.ID, q)
		}
	}
	if len(right) > 0 {
		t.Errorf("no such lessons: %v", right)
	}
}

func TestPick(t *testing.T) {
	choices := []string{"the thin wall", "the thick wall", "about the same"}
	for _, tt := range []struct {
		line string
		n    int
		ok   bool
	}{
		{"2", 1, true}, {"thick", 1, true}, {"The thin wall.", 0, true}, {"same", 2, true},
		{"wall", 0, false}, {"4", 3, false}, {"0", -1, false}, {"", -1, false}, {"banana", -1, false},
	} {
		if n, ok := lesson.Pick(tt.line, choices); ok != tt.ok || ok && n != tt.n {
			t.Errorf("%q picks %d, %v", tt.line, n, ok)
		}
	}
	if !lesson.Stops("Stop.") || lesson.Stops("thick") {
		t.Error("stop is not told from an answer")
	}
}
