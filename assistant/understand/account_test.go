package understand_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/readingtest"
)

// accounted checks that every word of a text has an owner, in order and once, and
// that what is said to be missed is what is named as missed.
func accounted(t *testing.T, text string, in reading.Reading) {
	t.Helper()
	clean, refused := lexis.Tidy(text)
	if refused != "" {
		return
	}
	rest := clean
	var missed []string
	for _, s := range in.Spans {
		at := strings.Index(rest, s.Text)
		if at < 0 || strings.TrimSpace(rest[:at]) != "" {
			t.Errorf("%q: %q stands before the span %q and has no owner", clean, rest[:max(0, at)], s.Text)
			return
		}
		rest = rest[at+len(s.Text):]
		if s.Owner == reading.Missed {
			missed = append(missed, cover.Clip(s.Text))
		}
	}
	if strings.TrimSpace(rest) != "" {
		t.Errorf("%q: %q has no owner", clean, rest)
	}
	if !slices.Equal(missed, in.Missed) {
		t.Errorf("%q: spans miss %q, the reading %q", clean, missed, in.Missed)
	}
}

// turning are words that can turn a meaning round.
var turning = []string{
	"not", "no", "nor", "never", "nothing", "neither", "stop", "without", "except", "instead", "only", "below", "above", "until", "most", "least", "less",
	"under", "over", "rather", "than", "longer", "cancel", "forget", "don't", "isn't", "can't", "won't",
}

// mostIdle is what was reached on the lines of testdata/reading: of the words that can turn a
// meaning round, the share that could be left out of their line and nothing of the
// reading would change.
const mostIdle = 0.28

// TestAccount holds that every word of the corpora has an owner, and looks for
// words that turn a meaning and are owned in name only.
func TestAccount(t *testing.T) {
	r := newReader(t)
	for _, u := range utterances(t) {
		accounted(t, u.say, r.Read(u.say, u.ctx))
	}
	words, idle := 0, 0
	for _, rec := range readingtest.Corpus(t) {
		in := read(r, rec)
		accounted(t, rec.Say, in)
		all := strings.Fields(rec.Say)
		for i, word := range all {
			plain := strings.Trim(strings.ToLower(word), ".,;:!?()\"")
			if !slices.Contains(turning, plain) {
				continue
			}
			words++
			if slices.ContainsFunc(in.Spans, func(s reading.Span) bool {
				return s.Owner == reading.Missed && strings.Contains(s.Text, strings.Trim(word, ".,;:!?()\""))
			}) {
				continue
			}
			without := rec
			without.Say = strings.Join(slices.Delete(slices.Clone(all), i, i+1), " ")
			if reflect.DeepEqual(read(r, without).Report(), in.Report()) {
				idle++
				t.Logf("%s: %q could be left out of %q", rec.ID, plain, rec.Say)
			}
		}
	}
	t.Logf("%d of %d words that turn a meaning could be left out", idle, words)
	if share := float64(idle) / float64(words); share > mostIdle {
		t.Errorf("%.2f of the words that turn a meaning could be left out, where %.2f could", share, mostIdle)
	}
}
