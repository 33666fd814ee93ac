package talk

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"mallow/assistant/page"
)

// script says its lines one after the other.
type script struct{ lines []string }

func (s *script) ReadLine(string) (string, error) {
	if len(s.lines) == 0 {
		return "", io.EOF
	}
	l := s.lines[0]
	s.lines = s.lines[1:]
	return l, nil
}

func (s *script) Close() error { return nil }

// What is longer than a terminal comes a screen at a time, nothing of it is lost,
// and nothing is cut that fits.
func TestCutIntoScreens(t *testing.T) {
	for rows := 10; rows < 60; rows++ {
		for n := 1; n < 120; n += 7 {
			var text strings.Builder
			for i := range n {
				fmt.Fprintf(&text, "line %d\n", i)
				if i%5 == 4 && i+1 < n {
					text.WriteString("\n")
				}
			}
			list := screens(text.String(), rows)
			for i, s := range list {
				if lines := strings.Count(s, "\n"); len(list) > 1 && i+1 < len(list) && lines+3 > rows || lines+2 > rows {
					t.Fatalf("%d lines on %d rows: screen %d of %d has %d", n, rows, i+1, len(list), lines)
				}
			}
			if got := strings.Fields(strings.Join(list, "")); len(got) != 2*n {
				t.Fatalf("%d lines on %d rows: %d words, want %d", n, rows, len(got), 2*n)
			}
			if total := strings.Count(text.String(), "\n"); total+2 <= rows && len(list) > 1 {
				t.Fatalf("%d lines are cut on %d rows", total, rows)
			}
		}
	}
}

// Whoever says something before the end of a long reply is answered, and the rest
// is left; whose input ends there is done.
func TestSaidAhead(t *testing.T) {
	long := strings.Repeat("word\n", 40)
	for _, test := range []struct {
		name    string
		lines   []string
		patient bool
		shown   int // words
		next    string
		end     bool
	}{
		{"read to the end", []string{"", "", "why"}, true, 40, "why", false},
		{"said at the first screen", []string{"softer", "why"}, true, 17, "softer", false},
		{"the input ends", nil, true, 17, "", true},
		{"nobody looks on", []string{"why"}, false, 40, "why", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			var out bytes.Buffer
			x := talk{Config: Config{In: &script{test.lines}, Out: &out, Patient: test.patient, Rows: func() int { return 20 },
				Clock: time.Now, Style: func() page.Style { return page.Style{Width: 80} }}}
			if err := x.show(long); err != nil {
				t.Fatal(err)
			}
			if got := strings.Count(out.String(), "word"); got != test.shown {
				t.Errorf("%d words shown, want %d", got, test.shown)
			}
			for range 2 { // the end stays the end
				line, err := x.read()
				if line != test.next || (err == io.EOF) != test.end {
					t.Errorf("read %q, %v; want %q, end %v", line, err, test.next, test.end)
				}
				if !test.end {
					break
				}
			}
		})
	}
}
