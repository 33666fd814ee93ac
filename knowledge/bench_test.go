package knowledge_test

import (
	"testing"

	"mallow/knowledge"
)

// BenchmarkDefault is the part of start-up that this package takes.
func BenchmarkDefault(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := knowledge.Default(); err != nil {
			b.Fatal(err)
		}
	}
}
