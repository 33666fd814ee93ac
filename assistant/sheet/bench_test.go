package sheet_test

import (
	"io"
	"testing"

	"mallow/assistant/sheet"
	"mallow/knowledge/knowledgetest"
)

func BenchmarkNewMaker(b *testing.B) {
	cat := knowledgetest.Catalogue(b)
	for b.Loop() {
		if _, err := sheet.NewMaker(cat); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSheet(b *testing.B) {
	k := newBench(b)
	c := k.consider(b, plain, grown())
	for b.Loop() {
		if _, err := k.Sheet(c, sheet.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHTML(b *testing.B) {
	k := newBench(b)
	s := k.sheet(b, plain, grown(), sheet.Options{})
	for b.Loop() {
		if err := s.HTML(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
