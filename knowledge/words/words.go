// Package words guesses which word was meant by a misspelt one.
package words

import (
	"fmt"
	"slices"
	"strings"

	edlib "github.com/hbollon/go-edlib"
)

// Word returns the word of among nearest to said by edit distance, where
// exchanging two neighbouring letters counts as one edit and case counts for
// nothing. Of equally near words it takes the first. It returns false when
// nothing is near: a third of said's letters may be wrong, and one at least
// when it has two or more.
func Word(said string, among []string) (string, bool) {
	return Within(said, among, max(1, len([]rune(said))/3))
}

// Within is Word for at most so many edits.
func Within(said string, among []string, most int) (string, bool) {
	low := strings.ToLower(said)
	n := len([]rune(low))
	best := ""
	if n < 2 || n > longest {
		return "", false
	}
	for _, w := range among {
		if d := len([]rune(w)) - n; d > most || -d > most {
			continue // at least that many edits
		}
		if d := edlib.OSADamerauLevenshteinDistance(low, strings.ToLower(w)); d < most || d == most && best == "" {
			best, most = w, d
		}
	}
	return best, best != ""
}

// longest is the longest word worth comparing: the cost of a comparison is the
// product of the lengths, and nobody misspells a word of this many letters.
const longest = 100

// Hint returns a clause for an error message: did you mean the nearest word
// or, when none is near and there are few of them, what all the words are. It
// is empty when neither helps.
func Hint(said string, among []string) string {
	if w, ok := Word(said, among); ok {
		return fmt.Sprintf("did you mean %q?", w)
	}
	if len(among) == 0 || len(among) > 12 {
		return ""
	}
	return "one of " + strings.Join(slices.Sorted(slices.Values(among)), ", ")
}
