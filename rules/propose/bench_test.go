package propose_test

import (
	"context"
	"syscall"
	"testing"
	"time"
)

// spent returns the processor time of the process so far: on a machine that
// others use as well, it says more than the clock.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkPropose is a conversation's proposal over the shipped catalogue.
// cpu-ms is processor time over all cores.
func BenchmarkPropose(b *testing.B) {
	f := finder(b)
	for _, tt := range []struct {
		name    string
		notches float64
	}{{"medium", 0}, {"hard", -6}, {"soft", 6}} {
		b.Run(tt.name, func(b *testing.B) {
			q := player()
			q.Facts.Want.Softness = tt.notches
			at := spent()
			for b.Loop() {
				p, err := f.Propose(context.Background(), q)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(p.Tried), "tried")
				b.ReportMetric(float64(p.Buildable), "scored")
			}
			b.ReportMetric(float64((spent()-at).Milliseconds())/float64(b.N), "cpu-ms")
		})
	}
}
