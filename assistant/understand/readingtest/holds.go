package readingtest

import (
	"slices"
	"strings"

	"mallow/assistant/understand/reading"
	"mallow/knowledge"
)

// Holds reports whether one thing that was taken of a line is what was expected, whatever
// became of the others: got holds nothing else.
func Holds(rec Record, got reading.Report, cat *knowledge.Catalogue) bool {
	amiss := func(rec Record) bool {
		_, all := Judge(rec, got, cat)
		return slices.ContainsFunc(all, func(s string) bool {
			return strings.HasPrefix(s, "must not take") || strings.HasPrefix(s, "takes for a question") || strings.Contains(s, "beside:") || strings.Contains(s, " read as ")
		})
	}
	if !amiss(rec) {
		return true
	}
	for _, take := range rec.Expect.Takes { // of two answers to a fact either
		one := rec
		one.Expect.Takes = []string{take}
		if len(got.Takes) > 0 && strings.HasPrefix(take, got.Takes[0].Path) && !amiss(one) {
			return true
		}
	}
	for _, part := range rec.Expect.Parts {
		one := rec
		one.Expect.Parts = []map[string]any{part}
		if len(got.Parts) > 0 && part["kind"] == got.Parts[0].Kind && !amiss(one) {
			return true
		}
	}
	return false
}
