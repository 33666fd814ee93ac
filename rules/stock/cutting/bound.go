package cutting

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// lower returns a proven lower bound on the lengths to buy: what the pieces
// measure together over what a length gives.
func (p *problem) lower() int {
	var total int64
	for k, s := range p.size {
		total += s * int64(p.want[k])
	}
	for _, c := range p.have {
		total -= c
	}
	if total <= 0 || p.buy == 0 {
		return 0
	}
	return int((total + p.buy - 1) / p.buy)
}

// round cuts all but a few pieces by the whole part of the relaxed plan, and
// the rest exactly, with a lower bound on the lengths to buy. It is nil when
// there are lengths on hand.
func (p *problem) round() ([]pattern, int) {
	if len(p.have) > 0 || p.buy == 0 {
		return nil, 0
	}
	relaxed, cols := p.relaxed()
	bound := int(math.Ceil(relaxed - 1e-7))
	rest := &problem{buy: p.buy}
	left := slices.Clone(p.want)
	var pats []pattern
	for _, c := range cols {
		for range c.times {
			pats = append(pats, c.pat)
			for k, n := range c.pat {
				left[k] -= n
			}
		}
	}
	if len(pats) == 0 {
		return nil, bound
	}
	var kinds []int
	for k, n := range left {
		if n > 0 {
			kinds = append(kinds, k)
			rest.size = append(rest.size, p.size[k])
			rest.want = append(rest.want, n)
		}
	}
	var tail []pattern
	if len(kinds) > 0 {
		tail, _ = rest.solve()
	}
	for _, t := range tail {
		pat := make(pattern, len(p.size))
		for i, k := range kinds {
			pat[k] = t[i]
		}
		pats = append(pats, pat)
	}
	return pats, bound
}

// column is a pattern of the relaxed plan, used times whole times.
type column struct {
	pat   pattern
	times int
}

// relaxed returns a lower bound and the whole part of a plan from the linear relaxation over cutting
// patterns, by column generation (Gilmore and Gomory 1961, "A linear
// programming approach to the cutting-stock problem", Operations Research 9,
// 849). Whatever the rounding on the way, the value is a true bound: prices y
// that no pattern sells above z prove that Σ y·want/z lengths are needed
// (Farley 1990, Operations Research 38, 922). Both cited from memory.
func (p *problem) relaxed() (float64, []column) {
	m := len(p.size)
	basis := mat.NewDense(m, m, nil)
	for k, s := range p.size {
		basis.Set(k, k, float64(min(int64(p.want[k]), p.buy/s)))
	}
	want := mat.NewVecDense(m, nil)
	ones := mat.NewVecDense(m, nil)
	for k, n := range p.want {
		want.SetVec(k, float64(n))
		ones.SetVec(k, 1)
	}
	var bound float64
	for range 50 * m {
		var y, x, w mat.VecDense
		if y.SolveVec(basis.T(), ones) != nil {
			break
		}
		price := make([]float64, m)
		var worth float64
		for k := range price {
			price[k] = max(0, y.AtVec(k))
			worth += price[k] * want.AtVec(k)
		}
		col, z := p.dearest(price)
		if z <= 0 {
			break
		}
		bound = max(bound, worth/max(z, 1))
		if z <= 1+1e-9 {
			break
		}
		a := mat.NewVecDense(m, col)
		if x.SolveVec(basis, want) != nil || w.SolveVec(basis, a) != nil {
			break
		}
		out, least := -1, math.Inf(1)
		for k := range m {
			if wk := w.AtVec(k); wk > 1e-9 && x.AtVec(k)/wk < least {
				out, least = k, x.AtVec(k)/wk
			}
		}
		if out < 0 {
			break
		}
		basis.SetCol(out, col)
	}
	var x mat.VecDense
	if x.SolveVec(basis, want) != nil {
		return bound, nil
	}
	var cols []column
	left := slices.Clone(p.want)
	for i := range m {
		c := column{pat: make(pattern, m), times: int(x.AtVec(i) + 1e-9)}
		for k := range m {
			if c.pat[k] = int(basis.At(k, i) + 0.5); c.pat[k] > 0 {
				c.times = min(c.times, left[k]/c.pat[k]) // never more than is wanted
			}
		}
		if c.times > 0 {
			for k, n := range c.pat {
				left[k] -= n * c.times
			}
			cols = append(cols, c)
		}
	}
	return bound, cols
}

// dearest returns the pattern that sells for most at the given prices, by
// depth-first search over kinds in the order of price per length.
func (p *problem) dearest(price []float64) ([]float64, float64) {
	m := len(p.size)
	order := make([]int, 0, m)
	for k := range m {
		if price[k] > 0 {
			order = append(order, k)
		}
	}
	density := func(k int) float64 { return price[k] / float64(p.size[k]) }
	for i := range order { // insertion sort: m is a dozen
		for j := i; j > 0 && density(order[j]) > density(order[j-1]); j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	best, cur := make([]float64, m), make([]float64, m)
	var most float64
	var try func(i int, room int64, worth float64)
	try = func(i int, room int64, worth float64) {
		if worth > most {
			most = worth
			copy(best, cur)
		}
		if i == len(order) || worth+density(order[i])*float64(room) <= most+1e-12 {
			return
		}
		k := order[i]
		for n := min(int64(p.want[k]), room/p.size[k]); n >= 0; n-- {
			cur[k] = float64(n)
			try(i+1, room-n*p.size[k], worth+float64(n)*price[k])
		}
		cur[k] = 0
	}
	try(0, p.buy, 0)
	return best, most
}
