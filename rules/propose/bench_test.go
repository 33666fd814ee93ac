package propose_test

import (
	"context"
	"testing"
)

// BenchmarkPropose is a conversation's proposal over the shipped catalogue.
func BenchmarkPropose(b *testing.B) {
	f := finder(b)
	for _, tt := range []struct {
		name  string
		steps float64
	}{{"medium", 0}, {"hard", -6}, {"soft", 6}} {
		b.Run(tt.name, func(b *testing.B) {
			q := player()
			q.Facts.Want.Steps = tt.steps
			for b.Loop() {
				p, err := f.Propose(context.Background(), q)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(p.Tried), "tried")
				b.ReportMetric(float64(p.Buildable), "scored")
			}
		})
	}
}
