package propose_test

import (
	"context"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search"
	"testing"
)

// BenchmarkPropose is a conversation's proposal over the shipped catalogue.
// cpu-ms is processor time over all cores.
func BenchmarkPropose(b *testing.B) {
	f := proposetest.Finder(b)
	for _, tt := range []struct {
		name    string
		notches float64
	}{{"medium", 0}, {"hard", -6}, {"soft", 6}} {
		b.Run(tt.name, func(b *testing.B) {
			q := proposetest.Player()
			q.Facts.Want.Softness = tt.notches
			at := proposetest.Spent()
			for b.Loop() {
				p, err := search.Propose(context.Background(), f, q)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(p.Tried), "tried")
				b.ReportMetric(float64(p.Buildable), "scored")
			}
			b.ReportMetric(float64((proposetest.Spent()-at).Milliseconds())/float64(b.N), "cpu-ms")
		})
	}
}
