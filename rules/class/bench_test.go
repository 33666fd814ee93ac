package class_test

import (
	"context"
	"fmt"
	"testing"

	"mallow/rules/class"
	"mallow/rules/propose/proposetest"
)

// crowd is an invented class of n students with at most kinds different wishes.
func crowd(n, kinds int) class.Roster {
	grips := []string{"two", "cross", "independent"}
	registers := []string{"whole", "low", "high"}
	r := class.Roster{Title: "Invented"}
	for i := range n {
		k := i % kinds
		r.Students = append(r.Students, class.Student{
			Name: fmt.Sprintf("Student %d", i+1),
			Line: i + 1,
			Answers: []class.Answer{
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
	f := proposetest.Finder(b)
	for _, tt := range []struct {
		kinds  int
		budget int
	}{{20, 0}, {20, 300}, {81, 0}} {
		b.Run(fmt.Sprintf("200students/%dwishes/budget%d", tt.kinds, tt.budget), func(b *testing.B) {
			at := proposetest.Spent()
			for b.Loop() {
				r := crowd(200, tt.kinds)
				c, err := class.Plan(context.Background(), f, r, plainWords)
				if err != nil {
					b.Fatal(err)
				}
				if tt.budget > 0 {
					r.Budget = c.Best * 2 / 3
					if c, err = class.Plan(context.Background(), f, r, plainWords); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(c.Points, "points")
				b.ReportMetric(c.PointsBound, "points-bound")
			}
			b.ReportMetric((proposetest.Spent()-at).Seconds()/float64(b.N), "cpu-s")
		})
	}
}
