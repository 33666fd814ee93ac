// Package knowledgetest gives tests the shipped catalogue. It knows how that
// is loaded; it never checks anything.
package knowledgetest

import (
	"testing"

	"mallow/knowledge"
)

// Catalogue returns the shipped catalogue, loaded anew: a test may change it.
func Catalogue(tb testing.TB) *knowledge.Catalogue {
	tb.Helper()
	cat, err := knowledge.Default()
	if err != nil {
		tb.Fatal(err)
	}
	return cat
}
