package change_test

import (
	"context"
	"testing"

	"mallow/rules/change"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search"
)

// BenchmarkFind looks for a change of a head that was just proposed, as a
// conversation does.
func BenchmarkFind(b *testing.B) {
	for _, way := range []string{"softer", "harder", "lighter", "darker", "cheaper"} {
		b.Run(way, func(b *testing.B) {
			q := proposetest.Player()
			q.Most = 12_000
			for range b.N {
				b.StopTimer()
				f := proposetest.Fresh(b)
				p, err := search.Propose(context.Background(), f, q)
				if err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				_, err = change.Find(context.Background(), f, p.Best.Stack, change.Aim{Moves: []change.Move{{Way: way}}}, q, 3)
				if err != nil {
					b.Log(err)
				}
			}
		})
	}
}
