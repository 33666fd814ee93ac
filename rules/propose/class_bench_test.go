package propose_test

import (
	"context"
	"fmt"
	"testing"

	"mallow/rules/propose"
)

// crowd is an invented class of n students with at most kinds different wishes.
func crowd(n, kinds int) propose.Roster {
	grips := []string{"two", "cross", "independent"}
	registers := []string{"whole", "low", "high"}
	r := propose.Roster{Title: "Invented"}
	for i := range n {
		k := i % kinds
		r.Students = append(r.Students, propose.Student{
			Name: fmt.Sprintf("Student %d", i+1),
			Line: i + 1,
			Answers: []propose.Answer{
				{Path: "want.softness", Value: float64(k%9 - 4)},
				{Path: "player.grip", Value: grips[k/9%3]},
				{Path: "want.register", Value: registers[k/27%3]},
				{Path: "player.latex_ok", Value: k%5 != 0},
				{Path: "player.level", Value: "first"},
			},
		})
	}
	return r
}

// BenchmarkClass plans classes of 200 whose wishes are more or less alike.
func BenchmarkClass(b *testing.B) {
	f := finder(b)
	for _, tt := range []struct {
		kinds  int
		budget int
	}{{20, 0}, {20, 300}, {81, 0}} {
		b.Run(fmt.Sprintf("200students/%dwishes/budget%d", tt.kinds, tt.budget), func(b *testing.B) {
			at := spent()
			for b.Loop() {
				r := crowd(200, tt.kinds)
				c, err := f.Class(context.Background(), r, plainWords)
				if err != nil {
					b.Fatal(err)
				}
				if tt.budget > 0 {
					r.Budget = c.Best * 2 / 3
					if c, err = f.Class(context.Background(), r, plainWords); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(c.Points, "points")
				b.ReportMetric(c.PointsBound, "points-bound")
			}
			b.ReportMetric((spent()-at).Seconds()/float64(b.N), "cpu-s")
		})
	}
}
