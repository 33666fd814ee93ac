package ladder

import (
	"context"
	"math"
	"slices"
)

// Order is a set to be chosen of things that no winding evens out, such as bare
// balls: so many of them in the order of their hardness, the gaps between them
// as even as they allow. A choice costs, in points,
//
//	Σ gaps    Notch·|gap − the mean gap| + MM·|difference in size|
//	          + Gram·(grams lighter than the one before) + Step·|difference in mass − the mean one|
//	+ End·(hardest outside From + softest outside To)
//	+ Σ items penalty + Cent·cents
type Order struct {
	N        int
	From, To Band    // softness asked for at the hard and at the soft end
	Firm     bool    // no end may lie outside
	Rise     float64 // least notches from one to the next
	Mass     Trend   // Grow is firm: none may be lighter than the one before, and no difference over Jump times the mean
	Size     Trend   // likewise; Level costs MM a millimetre
	Jump     float64 // zero is any
	Alike    float64 // grams, and millimetres, that count as no difference
	Even     float64 // most notches that a gap may differ from the mean one; zero is any
	Weights  OrderWeights
	Items    []Ball
}

// Band is a stretch of softness; any in it will do.
type Band struct{ From, To float64 }

// Off is how far a softness lies outside, in notches.
func (b Band) Off(softness float64) float64 { return max(0, b.From-softness, softness-b.To) }

// OrderWeights turn what a choice falls short of into points.
type OrderWeights struct{ Notch, End, MM, Gram, Step, Cent float64 }

// Ball is one thing to choose. No two of a choice may be as hard.
type Ball struct {
	Softness, MassG, DiameterMM float64
	Hardness                    float64 // of the material, such as its modulus
	Penalty                     float64
	Cents                       float64
}

// alike is the share by which the moduli of two materials have to differ to
// count as hard and less hard.
const alike = 0.02

// Solve returns the choice that costs least, hardest first. For any two ends the
// mean gap is known, and the rest is the cheapest way from one to the other; it
// takes the best over all ends. With no choice at all it returns ErrNone.
func (o *Order) Solve(ctx context.Context) (Set, error) {
	order := make([]int, len(o.Items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := o.Items[a].Softness, o.Items[b].Softness; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	best := Set{Cost: math.Inf(1)}
	for a := range order {
		if ctx.Err() != nil {
			break
		}
		for z := a + max(1, o.N-1); z < len(order); z++ {
			ends := o.Weights.End * (o.From.Off(o.Items[order[a]].Softness) + o.To.Off(o.Items[order[z]].Softness))
			if ends >= best.Cost || o.Firm && o.From.Off(o.Items[order[a]].Softness)+o.To.Off(o.Items[order[z]].Softness) > 0 {
				continue
			}
			if pick, cost := o.way(order[a : z+1]); cost+ends < best.Cost-1e-9 {
				best.Pick, best.Cost = pick, cost+ends
			}
		}
	}
	best.Exact = ctx.Err() == nil
	if best.Pick == nil {
		if err := ctx.Err(); err != nil {
			return Set{}, err
		}
		return Set{}, ErrNone
	}
	for _, i := range best.Pick {
		best.Cents += int64(math.Round(o.Items[i].Cents))
	}
	return best, nil
}

// way is the cheapest way over N items from the first of a list to the last.
func (o *Order) way(list []int) ([]int, float64) {
	first, last := &o.Items[list[0]], &o.Items[list[len(list)-1]]
	gaps := float64(o.N - 1)
	mean := (last.Softness - first.Softness) / gaps
	grams, mm := (last.MassG-first.MassG)/gaps, (last.DiameterMM-first.DiameterMM)/gaps
	if mean < o.Rise {
		return nil, math.Inf(1)
	}
	own := func(i int) float64 { return o.Items[i].Penalty + o.Weights.Cent*o.Items[i].Cents }
	step := func(i, j int) float64 {
		a, b := &o.Items[i], &o.Items[j]
		gap := b.Softness - a.Softness
		if gap < o.Rise-1e-9 || o.Even > 0 && math.Abs(gap-mean) > o.Even+1e-9 || b.Hardness > a.Hardness*(1-alike) ||
			o.Mass == Grow && !o.grows(b.MassG-a.MassG, grams) || o.Size == Grow && !o.grows(b.DiameterMM-a.DiameterMM, mm) {
			return math.Inf(1)
		}
		by := b.MassG - a.MassG
		cost := o.Weights.Notch*math.Abs(gap-mean) + o.Weights.Gram*max(0, -by) + o.Weights.Step*math.Abs(by-grams)
		if o.Size == Level {
			cost += o.Weights.MM * math.Abs(b.DiameterMM-a.DiameterMM)
		}
		return cost
	}
	n := len(list)
	cost := make([]float64, n) // of the way so far that ends on each
	from := make([][]int, o.N)
	for i := range cost {
		cost[i] = math.Inf(1)
	}
	cost[0] = own(list[0])
	for k := 1; k < o.N; k++ {
		next := make([]float64, n)
		from[k] = make([]int, n)
		for j := range next {
			next[j] = math.Inf(1)
			if k == o.N-1 && j != n-1 {
				continue
			}
			for i := range j {
				if math.IsInf(cost[i], 1) {
					continue
				}
				if x := cost[i] + step(list[i], list[j]) + own(list[j]); x < next[j] {
					next[j], from[k][j] = x, i
				}
			}
		}
		cost = next
	}
	if math.IsInf(cost[n-1], 1) {
		return nil, cost[n-1]
	}
	pick := make([]int, o.N)
	for k, at := o.N-1, n-1; k >= 0; k-- {
		pick[k] = list[at]
		if k > 0 {
			at = from[k][at]
		}
	}
	return pick, cost[n-1]
}

// grows reports whether a difference goes up, and not too far.
func (o *Order) grows(by, mean float64) bool {
	return by >= -o.Alike-1e-9 && (o.Jump == 0 || by <= max(o.Jump*mean, o.Alike)+1e-9)
}
