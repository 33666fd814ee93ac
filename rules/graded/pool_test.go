package graded

import (
	"context"
	"math"
	"testing"

	"mallow/rules/graded/ladder"
	"mallow/rules/propose/proposetest"
)

// TestPoolTriedWhole tries every set of the pool that a set was chosen from, by the
// formula of package ladder: none that is firm costs less, and where there is said
// to be none, there is none.
func TestPoolTriedWhole(t *testing.T) {
	f := proposetest.Finder(t)
	for _, x := range []struct {
		kind     string
		n        int
		from, to float64
	}{{"marimba", 3, -2, 2}, {"marimba", 4, -3, 3}, {"vibraphone", 3, -2, 2}, {"marimba", 3, -6, 6}, {"vibraphone", 3, -6, 6}} {
		q := proposetest.Player()
		q.Facts.Instrument.Kind = x.kind
		b := newBench(f, q, Options{Rungs: x.n, Each: 2, Gap: (x.to - x.from) / float64(x.n-1), Hardest: &x.from, Softest: &x.to})
		made := b.makings(b.families(true))
		pools, _ := b.pools(made, onRung)
		tried, none := 0, 0
		for i := range pools {
			p := pools[i].problem
			p.Mass, p.Size, p.Strict, p.Jump = ladder.Grow, ladder.Grow, true, b.measure.Jump
			least := every(p, &tried)
			got, err := p.Solve(context.Background())
			switch {
			case math.IsInf(least, 1):
				none++
				if err == nil {
					t.Errorf("%v: no set of family %s is firm, and %v is chosen", x, made[i].String(), got.Pick)
				}
			case err != nil:
				t.Errorf("%v: %s: %v, and one costs %.2f", x, made[i].String(), err, least)
			case math.Abs(got.Cost-least) > 1e-6:
				t.Errorf("%v: %s: costs %.3f, the least of all is %.3f", x, made[i].String(), got.Cost, least)
			}
		}
		t.Logf("%v: %d families, %d without a set, %d sets tried", x, len(pools), none, tried)
		if tried == 0 && none == 0 {
			t.Errorf("%v: nothing was tried", x)
		}
	}
}

// every returns the least that a firm set of a pool costs, trying all.
func every(p *ladder.Problem, tried *int) float64 {
	on := make([][]int, len(p.Rungs))
	for i := range p.Items {
		for k, want := range p.Rungs {
			if math.Abs(p.Items[i].Softness-want) <= p.Reach+1e-9 {
				on[k] = append(on[k], i)
			}
		}
	}
	least := math.Inf(1)
	pick := make([]int, len(on))
	var try func(k int)
	try = func(k int) {
		if k < len(on) {
			for _, i := range on[k] {
				pick[k] = i
				try(k + 1)
			}
			return
		}
		*tried++
		least = min(least, firm(p, pick))
	}
	try(0)
	return least
}

// firm prices a set; +Inf where it is not firm.
func firm(p *ladder.Problem, pick []int) float64 {
	at := func(k int) *ladder.Item { return &p.Items[pick[k]] }
	n := len(pick)
	grams, mm := (at(n-1).MassG-at(0).MassG)/float64(n-1), (at(n-1).DiameterMM-at(0).DiameterMM)/float64(n-1)
	sum := 0.0
	used := make([]int64, len(p.Parts))
	for k := range pick {
		sum += p.Weights.Notch*math.Abs(at(k).Softness-p.Rungs[k]) + at(k).Penalty
		for _, u := range at(k).Uses {
			used[u.Part] += u.Amount
		}
		if k == 0 {
			continue
		}
		g, d := at(k).MassG-at(k-1).MassG, at(k).DiameterMM-at(k-1).DiameterMM
		if g < 0 || d < 0 || g > 2*grams+1e-9 || d > 2*mm+1e-9 || at(k).Softness-at(k-1).Softness < p.Rise-1e-9 || at(k).Hardness > at(k-1).Hardness {
			return math.Inf(1)
		}
		sum += p.Weights.Step * math.Abs(g-grams)
	}
	for i, part := range p.Parts {
		if need := used[i] - part.Have; need > 0 {
			if part.Pack == 0 {
				return math.Inf(1)
			}
			sum += p.Weights.Cent * float64(part.Price) * math.Ceil(float64(need)/float64(part.Pack))
		}
	}
	return sum
}
