package rules

import (
	"math"
	"slices"
)

// operator is one that takes numbers: how it is written, what it comes to, and
// what it can come to where each number lies anywhere in a span. One is added
// as a row of operators, and nowhere else.
type operator struct {
	name string
	also string // another way to write it
	call bool   // before its numbers, as a function or a sign

	// What it comes to: of one number, of two (and so on, from the left), or
	// whether it holds of two.
	one func(a float64) float64
	two func(a, b float64) float64
	is  func(a, b float64) bool

	// The same over spans. NaN stands for what may have no finite value.
	over1 func(x span) span
	over2 func(x, y span) span
	can   func(x, y span) verdicts
}

// operators returns every operator of the language that takes numbers, besides
// == and in, which take anything.
func operators() []operator {
	plus := func(a, b float64) float64 { return a + b }
	minus := func(a, b float64) float64 { return a - b }
	times := func(a, b float64) float64 { return a * b }
	over := func(a, b float64) float64 { return a / b }
	least := func(a, b float64) float64 { return min(a, b) }
	most := func(a, b float64) float64 { return max(a, b) }
	return []operator{
		{name: "+", two: plus, over2: rising(plus)},
		{name: "-", two: minus, over2: func(x, y span) span { return span{x.lo - y.hi, x.hi - y.lo} }},
		{name: "*", two: times, over2: corners(times)},
		{name: "/", two: over, over2: func(x, y span) span {
			if y.lo <= 0 && y.hi >= 0 {
				return span{math.NaN(), math.NaN()}
			}
			return corners(over)(x, y)
		}},
		{name: "^", also: "**", two: math.Pow, over2: func(x, y span) span {
			if x.lo <= 0 {
				return span{math.NaN(), math.NaN()}
			}
			return corners(math.Pow)(x, y)
		}},
		{name: "-", call: true, one: func(a float64) float64 { return -a }, over1: func(x span) span { return span{-x.hi, -x.lo} }},
		{name: "abs", call: true, one: math.Abs, over1: func(x span) span {
			a, b := math.Abs(x.lo), math.Abs(x.hi)
			if x.lo <= 0 && x.hi >= 0 {
				return span{0, max(a, b)}
			}
			return span{min(a, b), max(a, b)}
		}},
		{name: "min", call: true, two: least, over2: rising(least)},
		{name: "max", call: true, two: most, over2: rising(most)},
		{name: "round", call: true, one: math.Round, over1: ends(math.Round)},
		{name: "floor", call: true, one: math.Floor, over1: ends(math.Floor)},
		{name: "ceil", call: true, one: math.Ceil, over1: ends(math.Ceil)},
		{name: "int", call: true, one: math.Trunc, over1: ends(math.Trunc)}, // towards zero
		{name: "<", is: func(a, b float64) bool { return a < b }, can: span.less},
		{name: "<=", is: func(a, b float64) bool { return a <= b }, can: func(x, y span) verdicts { return y.less(x).not() }},
		{name: ">", is: func(a, b float64) bool { return a > b }, can: func(x, y span) verdicts { return y.less(x) }},
		{name: ">=", is: func(a, b float64) bool { return a >= b }, can: func(x, y span) verdicts { return x.less(y).not() }},
	}
}

// operator returns the operator that is written so, or nil.
func (l *language) operator(name string, call bool) *operator {
	i := slices.IndexFunc(l.operators, func(o operator) bool {
		return o.call == call && (o.name == name || o.also != "" && o.also == name)
	})
	if i < 0 {
		return nil
	}
	return &l.operators[i]
}

// functions names what rules may call.
func functions() []string {
	var names []string
	for _, o := range operators() {
		if o.call && o.name != "-" {
			names = append(names, o.name)
		}
	}
	return append(names, "string")
}

// ends is f, which rises, over a span.
func ends(f func(float64) float64) func(span) span {
	return func(x span) span { return span{f(x.lo), f(x.hi)} }
}

// rising is f, which rises in both, over spans.
func rising(f func(a, b float64) float64) func(x, y span) span {
	return func(x, y span) span { return span{f(x.lo, y.lo), f(x.hi, y.hi)} }
}

// corners is f, which has its least and most at corners, over spans.
func corners(f func(a, b float64) float64) func(x, y span) span {
	return func(x, y span) span {
		a, b, c, d := f(x.lo, y.lo), f(x.lo, y.hi), f(x.hi, y.lo), f(x.hi, y.hi)
		return span{min(a, b, c, d), max(a, b, c, d)}
	}
}
