package kit

import (
	"cmp"
	"slices"

	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose/search/bounds"
)

// FewAtOnce is how many cores are looked at one by one.
const FewAtOnce = 4

// Bounds bounds some cores: their facts, their price with the shaft, and a core
// softer, and one harder, than all of them: with the heaviest and stiffest rod and the most loss of any, or
// the least.
type Bounds struct {
	Lo, Hi                facts.Head
	LeastCents, MostCents float64
	Softest, Hardest      strike.Core
	Heaviest, Lightest    float64 // as strokes meet them, kg
	Rod                   float64 // most of the shaft that is in a ball, kg
}

// spanOf bounds cores, of which there is one at least.
func spanOf(cores []Core, list []int) Bounds {
	stiff := func(c *strike.Core) float64 { return c.Modulus / (1 - c.Poisson*c.Poisson) }
	var s Bounds
	var soft, hard strike.Core // what else than the ball's stiffness makes a core soft, and hard
	for k, i := range list {
		c := &cores[i]
		m := c.Struck
		if k == 0 {
			s = Bounds{c.Facts, c.Facts, c.Cents, c.Cents, c.Body, c.Body, m, m, m - float64(c.Bare.Mass)}
			soft, hard = c.Body, c.Body
			continue
		}
		bounds.Widen(&s.Lo, &s.Hi, &c.Facts)
		s.LeastCents, s.MostCents = min(s.LeastCents, c.Cents), max(s.MostCents, c.Cents)
		if stiff(&c.Body) < stiff(&s.Softest) {
			s.Softest = c.Body
		}
		if stiff(&c.Body) > stiff(&s.Hardest) {
			s.Hardest = c.Body
		}
		s.Heaviest, s.Lightest = max(s.Heaviest, m), min(s.Lightest, m)
		s.Rod = max(s.Rod, m-float64(c.Bare.Mass))
		a, b := &c.Body.Rod, c.Body.Loss
		soft.Loss, soft.Rod.KgM, soft.Rod.Nm2 = max(soft.Loss, b), max(soft.Rod.KgM, a.KgM), max(soft.Rod.Nm2, a.Nm2)
		hard.Loss, hard.Rod.KgM, hard.Rod.Nm2 = min(hard.Loss, b), min(hard.Rod.KgM, a.KgM), min(hard.Rod.Nm2, a.Nm2)
	}
	s.Softest.Loss, s.Softest.Rod = soft.Loss, soft.Rod
	s.Hardest.Loss, s.Hardest.Rod = hard.Loss, hard.Rod
	return s
}

// Part is some cores of a root.
type Part struct {
	Bounds
	Cores  []int   // by index
	Halves []*Part // nil where they are few
}

// partOf makes a part of cores, which it sorts by hardness and price.
func partOf(cores []Core, list []int) *Part {
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &cores[a], &cores[b]
		return cmp.Or(cmp.Compare(x.Body.Modulus, y.Body.Modulus), cmp.Compare(x.Struck, y.Struck), cmp.Compare(x.Cents, y.Cents))
	})
	p := &Part{Bounds: spanOf(cores, list), Cores: list}
	if len(list) > FewAtOnce {
		mid := len(list) / 2
		p.Halves = []*Part{partOf(cores, list[:mid]), partOf(cores, list[mid:])}
	}
	return p
}

// Span is some cores as they are bound together.
type Span struct {
	Lo, Hi                *facts.Head
	LeastCents, MostCents float64
	Soft, Hard            *strike.Core
	Heavy, Light          float64 // as strokes meet them, kg
}

// Span returns the bounds.
func (s *Bounds) Span() Span {
	return Span{&s.Lo, &s.Hi, s.LeastCents, s.MostCents, &s.Softest, &s.Hardest, s.Heaviest, s.Lightest}
}

// Alone is a core by itself.
func (o *Core) Alone() Span {
	return Span{&o.Facts, &o.Facts, o.Cents, o.Cents, &o.Body, &o.Body, o.Struck, o.Struck}
}

// ClassOf returns the class of a wrap.
func (k *Kit) ClassOf(wrap int) int { return k.Wraps[wrap].Class }
