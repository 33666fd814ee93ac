// Package ladder chooses a graded set: one head for each rung of a ladder of
// softness, so that the set is evenly spaced, its mass and size grow or stay
// level as the maker wants, and its parts cost least when they share stock.
//
// It works on bare numbers, and it is exact.
package ladder

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// Item is a head that may stand on a rung. Its amounts are for all the heads
// of one rung, a pair or a four.
type Item struct {
	ID         string  `json:"id"`
	Softness   float64 `json:"softness"` // softness
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
	Penalty    float64 `json:"penalty"`            // points that choosing it costs, whatever stands on the other rungs
	Hardness   float64 `json:"hardness,omitempty"` // of its ball; none may follow on a softer one
	Uses       []Use   `json:"uses"`               // each part at most once
}

// Use is an amount of a part, in that part's own whole unit.
type Use struct {
	Part   int   `json:"part"` // index into Problem.Parts
	Amount int64 `json:"amount"`
}

// Part is stock that the rungs share.
type Part struct {
	ID    string `json:"id"`
	Have  int64  `json:"have"`  // on hand, free
	Pack  int64  `json:"pack"`  // amount in a pack; zero when it is not for sale
	Price int64  `json:"price"` // cents a pack
}

// Trend is what a quantity should do from one rung to the next softer one.
type Trend string

// Trends. A fall is what Grow counts against a set, any move what Level does.
const (
	Free  Trend = "free"
	Grow  Trend = "grow"
	Level Trend = "level"
)

// Weights turn what a set falls short of into points.
type Weights struct {
	Notch float64 `json:"notch"`          // a notch off the rung
	Gram  float64 `json:"gram"`           // a gram against the trend, per gap
	MM    float64 `json:"mm"`             // a millimetre against the trend, per gap
	Cent  float64 `json:"cent"`           // a cent spent
	Step  float64 `json:"step,omitempty"` // a gram that a difference in mass is off the mean one
}

// Problem is a set to be chosen. A set's cost, in points, is
//
//	Σ rungs   Notch·|softness − rung| + penalty
//	+ Σ gaps  Gram·against(Mass trend) + MM·against(Size trend)
//	+ Σ gaps  Step·|difference in mass − the mean one|
//	+ Cent·Σ parts  price·⌈max(0, used − have) / pack⌉
type Problem struct {
	Rungs  []float64 `json:"rungs"` // softness wanted, hardest first
	Reach  float64   `json:"reach"` // most notches an item may lie off its rung
	Rise   float64   `json:"rise"`  // least notches from one rung to the next
	Mass   Trend     `json:"mass"`
	Size   Trend     `json:"size"`
	Strict bool      `json:"strict,omitempty"` // no move against a trend is allowed
	// Jump is how many times the mean difference in mass or size, from one rung
	// to the next, no difference may be over; zero is any. It holds where the
	// trend is Grow.
	Jump    float64 `json:"jump,omitempty"`
	Weights Weights `json:"weights"`
	Parts   []Part  `json:"parts"`
	Items   []Item  `json:"items"`
}

// Set is a chosen set.
type Set struct {
	Pick  []int   // index of the item on each rung
	Cost  float64 // points
	Cents int64   // spent on packs
	Exact bool    // proven to cost least; false when ctx ended the search
}

// Empty is the error of a rung that no item can stand on.
type Empty struct {
	Rung     int     // 0-based
	Softness float64 // softness wanted there
	Below    float64 // softness of the nearest harder item, -Inf when there is none
	Above    float64 // of the nearest softer one, +Inf when there is none
}

func (e *Empty) Error() string {
	return fmt.Sprintf("ladder: no head comes near %+.1f notches, rung %d; the nearest are %+.1f and %+.1f",
		e.Softness, e.Rung+1, e.Below, e.Above)
}

// ErrNone is the error of a ladder whose every rung can be filled, but not
// all at once.
var ErrNone = fmt.Errorf("ladder: the parts do not reach for heads on every rung at once")

// Solve returns the set that costs least. When ctx ends first, it returns the
// best set so far; with none found yet it returns ctx's error.
func (p *Problem) Solve(ctx context.Context) (Set, error) {
	if err := p.check(); err != nil {
		return Set{}, err
	}
	s := &solver{Problem: p, ctx: ctx, best: Set{Cost: math.Inf(1)}}
	for k, want := range p.Rungs {
		var on []int
		for i, it := range p.Items {
			if math.Abs(it.Softness-want) <= p.Reach+1e-9 {
				on = append(on, i)
			}
		}
		if on == nil {
			return Set{}, p.empty(k)
		}
		s.on = append(s.on, on)
	}
	s.prepare()
	s.reach()
	s.descend(0, 0)
	s.best.Exact = ctx.Err() == nil
	if s.best.Pick == nil {
		return Set{}, cmp.Or(ctx.Err(), ErrNone)
	}
	return s.best, nil
}

func (p *Problem) check() error {
	if len(p.Rungs) == 0 {
		return fmt.Errorf("ladder: a set needs at least one rung")
	}
	for _, it := range p.Items {
		for _, u := range it.Uses {
			if u.Part < 0 || u.Part >= len(p.Parts) || u.Amount < 0 {
				return fmt.Errorf("ladder: item %s uses %d of part %d, which is not to be had", it.ID, u.Amount, u.Part)
			}
		}
	}
	for _, q := range p.Parts {
		if q.Have < 0 || q.Pack < 0 || q.Price < 0 {
			return fmt.Errorf("ladder: part %s: amounts and prices must not be negative", q.ID)
		}
	}
	w := p.Weights
	if min(w.Notch, w.Gram, w.MM, w.Cent) < 0 {
		return fmt.Errorf("ladder: weights must not be negative: %+v", w)
	}
	return nil
}

func (p *Problem) empty(k int) error {
	e := &Empty{Rung: k, Softness: p.Rungs[k], Below: math.Inf(-1), Above: math.Inf(1)}
	for _, it := range p.Items {
		if it.Softness <= e.Softness {
			e.Below = max(e.Below, it.Softness)
		} else {
			e.Above = min(e.Above, it.Softness)
		}
	}
	return e
}

// own is what item i costs on rung k by itself.
func (p *Problem) own(k, i int) float64 {
	return p.Weights.Notch*math.Abs(p.Items[i].Softness-p.Rungs[k]) + p.Items[i].Penalty
}

// gap is what item j after item i costs, +Inf where it may not follow.
func (p *Problem) gap(i, j int) float64 {
	a, b := &p.Items[i], &p.Items[j]
	if b.Softness-a.Softness < p.Rise-1e-9 || b.Hardness > a.Hardness {
		return math.Inf(1)
	}
	if p.Strict && (p.Mass == Grow && b.MassG < a.MassG || p.Size == Grow && b.DiameterMM < a.DiameterMM) {
		return math.Inf(1)
	}
	return p.Weights.Gram*p.Mass.against(a.MassG, b.MassG) + p.Weights.MM*p.Size.against(a.DiameterMM, b.DiameterMM)
}

func (t Trend) against(from, to float64) float64 {
	switch t {
	case Grow:
		return max(0, from-to)
	case Level:
		return math.Abs(to - from)
	}
	return 0
}

// packs returns how many packs cover used of the part, and whether that many
// can be had.
func (q *Part) packs(used int64) (int64, bool) {
	need := used - q.Have
	if need <= 0 {
		return 0, true
	}
	if q.Pack == 0 {
		return 0, false
	}
	return (need + q.Pack - 1) / q.Pack, true
}

// solver is a depth-first branch and bound from the hardest rung to the
// softest.
//
// Below a chosen beginning, every completion costs at least what the chain of
// rungs costs by itself, which dynamic programming gives exactly, plus a lower
// bound on the packs that the completion opens; see shares.
type solver struct {
	*Problem
	ctx  context.Context
	on   [][]int // items by rung
	used []int64
	pick []int
	best Set
	// share is scratch: the least that an item adds through its parts.
	share []float64
	// The heaviest and the largest item of the softest rung, which bound the
	// mean differences.
	mostG, mostMM float64
}

// reach finds what bounds the mean differences.
func (s *solver) reach() {
	for _, i := range s.on[len(s.on)-1] {
		s.mostG, s.mostMM = max(s.mostG, s.Items[i].MassG), max(s.mostMM, s.Items[i].DiameterMM)
	}
}

// jumps reports whether the difference from the last picked item to the next is
// over what Jump allows, whatever stands on the rungs above.
func (s *solver) jumps(last, next int) bool {
	if s.Jump == 0 || last < 0 {
		return false
	}
	first, a, b := &s.Items[s.pick[0]], &s.Items[last], &s.Items[next]
	gaps := float64(len(s.Rungs) - 1)
	return s.Mass == Grow && math.Abs(b.MassG-a.MassG) > s.Jump*max(0, s.mostG-first.MassG)/gaps+1e-9 ||
		s.Size == Grow && math.Abs(b.DiameterMM-a.DiameterMM) > s.Jump*max(0, s.mostMM-first.DiameterMM)/gaps+1e-9
}

// steps is what a choice costs for differences in mass that are off the mean one.
func (p *Problem) steps(pick []int) (cost float64) {
	if p.Weights.Step == 0 || len(pick) < 2 {
		return 0
	}
	at := func(k int) float64 { return p.Items[pick[k]].MassG }
	mean := (at(len(pick)-1) - at(0)) / float64(len(pick)-1)
	for k := 1; k < len(pick); k++ {
		cost += p.Weights.Step * math.Abs(at(k)-at(k-1)-mean)
	}
	return cost
}

// Even reports whether no difference of a choice is over Jump times the mean.
func (p *Problem) Even(pick []int) bool {
	even := func(t Trend, of func(*Item) float64) bool {
		most := 0.0
		for k := 1; k < len(pick); k++ {
			most = max(most, math.Abs(of(&p.Items[pick[k]])-of(&p.Items[pick[k-1]])))
		}
		mean := math.Abs(of(&p.Items[pick[len(pick)-1]])-of(&p.Items[pick[0]])) / float64(max(1, len(pick)-1))
		return t != Grow || most <= p.Jump*mean+1e-9
	}
	return p.Jump == 0 || even(p.Mass, func(it *Item) float64 { return it.MassG }) && even(p.Size, func(it *Item) float64 { return it.DiameterMM })
}

func (s *solver) prepare() {
	s.used = make([]int64, len(s.Parts))
	s.share = make([]float64, len(s.Items))
	s.pick = make([]int, 0, len(s.Rungs))
}

// shares sets share[i], a lower bound on what item i adds to the cost of packs
// when rungs k and up are still open, such that the sum over any completion is
// a lower bound on all the packs it adds. A part with some left over counts
// nothing. Otherwise the packs that a completion opens are at least both its
// use over the pack and one, and the one can be shared among the rungs left at
// most; either is a bound that adds up, and each part takes the better.
func (s *solver) shares(k int) {
	open := float64(len(s.Rungs) - k)
	bulk := make([]float64, len(s.Parts)) // most that a completion can use
	for _, on := range s.on[k:] {
		most := make([]float64, len(s.Parts))
		for _, i := range on {
			for _, u := range s.Items[i].Uses {
				most[u.Part] = max(most[u.Part], float64(u.Amount))
			}
		}
		for p, m := range most {
			bulk[p] += m
		}
	}
	clear(s.share)
	for _, on := range s.on[k:] {
		for _, i := range on {
			var sum float64
			for _, u := range s.Items[i].Uses {
				q := &s.Parts[u.Part]
				if u.Amount == 0 || q.Pack == 0 {
					continue
				}
				n, _ := q.packs(s.used[u.Part])
				if s.used[u.Part] < q.Have+n*q.Pack {
					continue
				}
				f := float64(u.Amount) / float64(q.Pack)
				if bulk[u.Part] <= float64(q.Pack) {
					f = 1 / open
				}
				sum += f * float64(q.Price)
			}
			s.share[i] = s.Weights.Cent * sum
		}
	}
}

// chain returns, for each item on rung k, a lower bound on what that item and
// all after it cost, given that item last stands below rung k (-1: none).
func (s *solver) chain(k, last int) []float64 {
	s.shares(k)
	var next []float64
	for r := len(s.Rungs) - 1; r >= k; r-- {
		h := make([]float64, len(s.on[r]))
		for a, i := range s.on[r] {
			rest := 0.0
			if next != nil {
				rest = math.Inf(1)
				for b, j := range s.on[r+1] {
					rest = min(rest, s.gap(i, j)+next[b])
				}
			}
			h[a] = s.own(r, i) + s.share[i] + rest
			if r == k && last >= 0 {
				h[a] += s.gap(last, i)
			}
		}
		next = h
	}
	return next
}

// cents is the price of the packs opened so far; ok is false when a part does
// not reach.
func (s *solver) cents() (sum int64, ok bool) {
	for p := range s.Parts {
		n, ok := s.Parts[p].packs(s.used[p])
		if !ok {
			return 0, false
		}
		sum += n * s.Parts[p].Price
	}
	return sum, true
}

// descend fills rung k; sofar is the cost of the rungs below it without packs.
func (s *solver) descend(k int, sofar float64) {
	cents, ok := s.cents()
	if !ok || s.ctx.Err() != nil {
		return
	}
	floor := sofar + s.Weights.Cent*float64(cents)
	if k == len(s.Rungs) {
		if floor += s.steps(s.pick); floor < s.best.Cost && s.Even(s.pick) {
			s.best = Set{Pick: slices.Clone(s.pick), Cost: floor, Cents: cents}
		}
		return
	}
	last := -1
	if k > 0 {
		last = s.pick[k-1]
	}
	h := s.chain(k, last)
	order := make([]int, len(h))
	for a := range order {
		order[a] = a
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(h[a], h[b]) })
	for _, a := range order {
		if !(floor+h[a] < s.best.Cost-1e-9) {
			break // and so are all after it
		}
		i := s.on[k][a]
		if s.jumps(last, i) {
			continue
		}
		step := s.own(k, i)
		if last >= 0 {
			step += s.gap(last, i)
		}
		for _, u := range s.Items[i].Uses {
			s.used[u.Part] += u.Amount
		}
		s.pick = append(s.pick, i)
		s.descend(k+1, sofar+step)
		s.pick = s.pick[:k]
		for _, u := range s.Items[i].Uses {
			s.used[u.Part] -= u.Amount
		}
	}
}
