package pair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge/measure"
)

// brute returns the least that sorting costs, by trying every way: the first
// thing is left over, or goes with every choice of others.
func (b *bag) brute(rest []int) int64 {
	if len(rest) == 0 {
		return 0
	}
	best := leftCost + b.brute(rest[1:])
	var choose func(group, from []int)
	choose = func(group, from []int) {
		if len(group) == b.of {
			if c, ok := b.cost(group...); ok {
				others := slices.DeleteFunc(slices.Clone(rest), func(i int) bool { return slices.Contains(group, i) })
				best = min(best, c+b.brute(others))
			}
			return
		}
		for i := range from {
			choose(append(slices.Clip(group), from[i]), from[i+1:])
		}
	}
	choose(rest[:1], rest[1:])
	return best
}

// costOf is what a sorting costs, after checking that it has every thing once
// and no group that may not be.
func costOf(t *testing.T, b *bag, s Sorted) int64 {
	t.Helper()
	seen := map[string]bool{}
	at := map[string]int{}
	for i, th := range b.things {
		at[Name(th, i)] = i
	}
	sum := leftCost * int64(len(s.Left))
	for _, g := range s.Groups {
		var group []int
		for _, th := range g.Things {
			seen[th.Name] = true
			group = append(group, at[th.Name])
		}
		c, ok := b.cost(group...)
		if !ok || len(group) != b.of {
			t.Errorf("a group that may not be: %v", g)
		}
		sum += c
	}
	for _, th := range s.Left {
		seen[th.Name] = true
	}
	if len(seen) != len(b.things) {
		t.Errorf("%d of %d things are in the answer", len(seen), len(b.things))
	}
	return sum
}

// randomBag makes a bag of n things on a coarse scale, so that many differences
// are alike, or on a fine one.
func randomBag(r *rand.Rand, n int, mass, size bool) []Thing {
	grain := []float64{0.5, 0.1, 0.001}[r.IntN(3)]
	round := func(x float64) float64 { return math.Round(x/grain) * grain }
	list := make([]Thing, n)
	for i := range list {
		if mass {
			list[i].Mass = measure.Mass(round(14+2*r.NormFloat64())) * measure.Gram
		}
		if size {
			list[i].Size = measure.Length(round(28+r.NormFloat64())) * measure.Millimetre
		}
	}
	return list
}

// No way of sorting is better than the one found, among all there are.
func TestBestOfAll(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, test := range []struct {
		of, most   int
		mass, size bool
	}{{2, 9, true, false}, {3, 9, false, true}, {4, 10, true, false}, {2, 9, true, true}, {3, 9, true, true}, {4, 10, true, true}} {
		t.Run(fmt.Sprintf("of %d, mass %t, size %t", test.of, test.mass, test.size), func(t *testing.T) {
			for range 400 {
				things := randomBag(r, test.of+r.IntN(test.most-test.of+1), test.mass, test.size)
				o := Options{Of: test.of}
				if r.IntN(2) == 0 && test.mass {
					o.MassWithin = measure.Mass(1+r.IntN(4)) * measure.Gram / 2
				}
				if r.IntN(2) == 0 && test.size {
					o.SizeWithin = measure.Length(1+r.IntN(4)) * measure.Millimetre / 2
				}
				s, err := Sort(things, o)
				if err != nil {
					t.Fatal(err)
				}
				b, _ := newBag(things, o)
				all := make([]int, len(things))
				for i := range all {
					all[i] = i
				}
				if got, want := costOf(t, b, s), b.brute(all); got != want || !s.Proven {
					t.Fatalf("%v, %+v: cost %d, proven %t; trying every way finds %d", things, o, got, s.Proven, want)
				}
			}
		})
	}
}

// A matching on weights without any geometry, against a table over subsets.
func TestMatchAgainstSubsets(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		n := 2 * (1 + r.IntN(7))
		most := []int64{3, 20, 1000}[r.IntN(3)]
		w := make([][]int64, n)
		for u := range w {
			w[u] = make([]int64, n)
			for v := range u {
				w[u][v] = r.Int64N(most)
				w[v][u] = w[u][v]
			}
		}
		table := make([]int64, 1<<n)
		for set := 1; set < 1<<n; set++ {
			table[set] = math.MaxInt64
			u := 0
			for set>>u&1 == 0 {
				u++
			}
			for v := u + 1; v < n; v++ {
				if rest := set &^ (1 << u) &^ (1 << v); set>>v&1 == 1 && table[rest] < math.MaxInt64 {
					table[set] = min(table[set], w[u][v]+table[rest])
				}
			}
		}
		sum := int64(0)
		for u, v := range match(n, func(u, v int) int64 { return w[u][v] }) {
			if v == none || v == u {
				t.Fatalf("%v: %d has no mate", w, u)
			}
			if u < v {
				sum += w[u][v]
			}
		}
		if want := table[1<<n-1]; sum != want {
			t.Fatalf("%v: weight %d, want %d", w, sum, want)
		}
	}
}

// Large bags: by one measure as by two where the second is the same for all,
// two methods that have nothing in common.
func TestTwoMethodsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, n := range []int{40, 61, 120} {
		one := randomBag(r, n, true, false)
		two := slices.Clone(one)
		for i := range two {
			two[i].Size = measure.Inch
		}
		a, err := Sort(one, Options{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Sort(two, Options{})
		if err != nil {
			t.Fatal(err)
		}
		bag, _ := newBag(one, Options{})
		if x, y := costOf(t, bag, a), costOf(t, bag, b); x != y {
			t.Errorf("%d things: %d along the line, %d by matching", n, x, y)
		}
	}
}

// The bag of the guide: 20 balls into fours by mass and size, proven best.
func TestTwentyIntoFours(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	proven, bags := 0, 6
	for range bags {
		s, err := Sort(randomBag(r, 20, true, true), Options{Of: 4})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Groups) != 5 || len(s.Left) != 0 {
			t.Errorf("%d fours and %d left over", len(s.Groups), len(s.Left))
		}
		if s.Proven {
			proven++
		}
	}
	t.Logf("%d of %d bags proven", proven, bags)
	if proven < bags-1 {
		t.Errorf("%d of %d bags proven", proven, bags)
	}
}

func TestRefused(t *testing.T) {
	g := func(list ...float64) (things []Thing) {
		for _, x := range list {
			things = append(things, Thing{Mass: measure.Mass(x) * measure.Gram})
		}
		return things
	}
	mixed := append(g(14), Thing{Name: "B", Size: measure.Inch})
	for _, test := range []struct {
		name   string
		things []Thing
		o      Options
		says   string
	}{
		{"one", g(14), Options{}, "make no group"},
		{"three fours", g(14, 15, 16), Options{Of: 4}, "make no group"},
		{"of one", g(14, 15), Options{Of: 1}, "at least 2"},
		{"mixed", mixed, Options{}, "B has a size alone"},
		{"nothing", g(14, 0), Options{}, "no. 2 has neither"},
		{"far", g(14, 1e12), Options{}, "too far"},
		{"limit that can't hold", g(14, 15), Options{SizeWithin: measure.Millimetre}, "measured"},
		{"many", make([]Thing, MostOfOne+1), Options{}, "at most"},
	} {
		if _, err := Sort(test.things, test.o); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, want %q", test.name, err, test.says)
		}
	}
}

func BenchmarkPairs(b *testing.B) {
	things := randomBag(rand.New(rand.NewPCG(9, 9)), MostOfTwo, true, true)
	for b.Loop() {
		if _, err := Sort(things, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFours(b *testing.B) {
	things := randomBag(rand.New(rand.NewPCG(9, 9)), 60, true, true)
	for b.Loop() {
		if _, err := Sort(things, Options{Of: 4}); err != nil {
			b.Fatal(err)
		}
	}
}
