// Package lexistest gives tests the words of the shipped catalogue. It knows how they
// are compiled; it never checks anything.
package lexistest

import (
	"testing"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/knowledgetest"
)

// Words returns the words of the shipped catalogue.
func Words(tb testing.TB) *lexis.Lexicon {
	tb.Helper()
	words, err := lexis.New(knowledgetest.Catalogue(tb))
	if err != nil {
		tb.Fatal(err)
	}
	return words
}
