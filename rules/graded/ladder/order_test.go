package ladder

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// price prices a choice of balls straight from the formula; +Inf when it is not
// allowed.
func (o *Order) price(pick []int) float64 {
	at := func(k int) Ball { return o.Items[pick[k]] }
	n := len(pick)
	mean := func(of func(Ball) float64) float64 { return (of(at(n-1)) - of(at(0))) / float64(n-1) }
	softness, grams, mm := func(b Ball) float64 { return b.Softness }, func(b Ball) float64 { return b.MassG }, func(b Ball) float64 { return b.DiameterMM }
	if o.Firm && (o.From.Off(at(0).Softness) > 0 || o.To.Off(at(n-1).Softness) > 0) {
		return math.Inf(1)
	}
	sum := o.Weights.End * (o.From.Off(at(0).Softness) + o.To.Off(at(n-1).Softness))
	for k := range pick {
		sum += at(k).Penalty + o.Weights.Cent*at(k).Cents
		if k == 0 {
			continue
		}
		gap := at(k).Softness - at(k-1).Softness
		if gap < o.Rise || o.Even > 0 && math.Abs(gap-mean(softness)) > o.Even+1e-9 || at(k).Hardness > at(k-1).Hardness*(1-alike) {
			return math.Inf(1)
		}
		for _, x := range []struct {
			trend Trend
			of    func(Ball) float64
		}{{o.Mass, grams}, {o.Size, mm}} {
			by := x.of(at(k)) - x.of(at(k-1))
			if x.trend == Grow && (by < -o.Alike || o.Jump > 0 && by > max(o.Alike, o.Jump*mean(x.of))+1e-9) {
				return math.Inf(1)
			}
		}
		sum += o.Weights.Notch * math.Abs(gap-mean(softness))
		by := at(k).MassG - at(k-1).MassG
		sum += o.Weights.Gram*max(0, -by) + o.Weights.Step*math.Abs(by-mean(grams))
		if o.Size == Level {
			sum += o.Weights.MM * math.Abs(at(k).DiameterMM-at(k-1).DiameterMM)
		}
	}
	return sum
}

// Every choice of balls is tried, and none costs less than the one that Solve
// returns.
func TestOrderIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		o := &Order{
			N: rapid.IntRange(2, 4).Draw(t, "n"), From: Band{-5, -3}, To: Band{3, 5}, Firm: r.IntN(3) == 0, Rise: 0.5, Jump: 2,
			Even: []float64{0, 1.5}[r.IntN(2)], Alike: []float64{0, 1}[r.IntN(2)],
			Mass: []Trend{Free, Grow}[r.IntN(2)], Size: []Trend{Free, Grow, Level}[r.IntN(3)],
			Weights: OrderWeights{Notch: 9, End: 3, MM: 0.5, Gram: 1.2, Step: 0.7, Cent: 0.01},
		}
		for range rapid.IntRange(1, 9).Draw(t, "balls") {
			o.Items = append(o.Items, Ball{
				Softness: math.Round(100*(12*r.Float64()-6)) / 100, MassG: 4 + float64(r.IntN(12)), DiameterMM: 19 + 3*float64(r.IntN(4)),
				Hardness: float64(1 + r.IntN(6)), Penalty: 3 * r.Float64(), Cents: float64(500 + r.IntN(900)),
			})
		}
		least := math.Inf(1)
		pick := make([]int, o.N)
		var try func(k int)
		try = func(k int) {
			if k == o.N {
				least = min(least, o.price(pick))
				return
			}
			for i := range o.Items {
				pick[k] = i
				try(k + 1)
			}
		}
		try(0)
		s, err := o.Solve(context.Background())
		if math.IsInf(least, 1) {
			if !errors.Is(err, ErrNone) {
				t.Fatalf("no choice is allowed, but Solve returns %+v, %v", s, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := o.price(s.Pick); math.Abs(got-least) > 1e-6 || math.Abs(s.Cost-least) > 1e-6 || !s.Exact {
			t.Errorf("costs %v (priced again %v), the least of all is %v", s.Cost, got, least)
		}
	})
}
