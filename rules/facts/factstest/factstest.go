// Package factstest gives tests the shipped rule book. It knows how that is
// loaded; it never checks anything.
package factstest

import (
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
)

// Book returns the shipped rules.
func Book(tb testing.TB) *rules.Book[facts.Facts] {
	tb.Helper()
	book, err := facts.Book()
	if err != nil {
		tb.Fatal(err)
	}
	return book
}
