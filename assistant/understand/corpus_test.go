package understand_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/readingtest"
	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
)

// read says the lines that come before, then the line.
func read(r *understand.Reader, rec readingtest.Record) reading.Reading {
	var before reading.Reading
	for _, line := range rec.Before {
		before = before.Then(r.Read(line, understand.Context{Before: before}))
	}
	return r.Read(rec.Say, understand.Context{Asked: rec.Asked, Before: before})
}

// What was reached on the lines of testdata/reading, in percent.
const (
	leastRight = 85.5
	mostWrong  = 6.4
)

// TestCorpus reads the corpus and prints, with -v, the table of right, asked,
// missed and silently wrong by kind of line, and what is not right.
func TestCorpus(t *testing.T) {
	if testing.Short() {
		t.Skip("with the race detector the whole corpus takes minutes")
	}
	r := newReader(t)
	cat := knowledgetest.Catalogue(t)
	table := map[string]*[4]int{}
	var total [4]int
	for _, rec := range readingtest.Corpus(t) {
		got := read(r, rec).Report()
		verdict, complain := readingtest.Judge(rec, got, cat)
		if table[rec.Kind] == nil {
			table[rec.Kind] = new([4]int)
		}
		table[rec.Kind][verdict]++
		total[verdict]++
		if verdict != readingtest.Right {
			t.Logf("%s %s: %q %q\n    %s\n    acts %v missed %q", [...]string{"", "asked", "missed", "WRONG"}[verdict], rec.ID, rec.Before, rec.Say,
				strings.Join(complain, "\n    "), got.Acts, got.Missed)
		}
	}
	n := 0
	for _, c := range total {
		n += c
	}
	out := fmt.Sprintf("%-12s %5s %6s %6s %6s %6s\n", "kind", "lines", "right", "asked", "missed", "wrong")
	for _, kind := range slices.Sorted(maps.Keys(table)) {
		c := table[kind]
		out += fmt.Sprintf("%-12s %5d %6d %6d %6d %6d\n", kind, c[0]+c[1]+c[2]+c[3], c[0], c[1], c[2], c[3])
	}
	share := func(k int) float64 { return 100 * float64(total[k]) / float64(n) }
	out += fmt.Sprintf("%-12s %5d %5.1f%% %5.1f%% %5.1f%% %5.1f%%", "all", n, share(0), share(1), share(2), share(3))
	t.Log("\n" + out)
	if os.Getenv("READING") == "" && (share(int(readingtest.Right)) < leastRight || share(int(readingtest.Wrong)) > mostWrong) {
		t.Errorf("%.1f %% right and %.1f %% silently wrong, where %.1f and %.1f were reached", share(int(readingtest.Right)), share(int(readingtest.Wrong)), leastRight, mostWrong)
	}
}

// newReader returns a reader of the shipped catalogue.
func newReader(t testing.TB) *understand.Reader {
	t.Helper()
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	r, err := understand.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
