// Package girth knows what heads come to by how large they are under their yarn, a millimetre
// at a time: how heavy slices make them, and what each wrap adds. It never judges a head.
//
// A box of all heads above a node takes its weight from one of them, its size from another and
// its turns from a third. What they measure under their yarn ties these together: it says how heavy
// the slices may be, how soft so much rubber is, and what each wrap comes to. So heads are bound
// cell by cell of that.
package girth

import (
	"math"

	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// Cells is how many cells there are, of a millimetre of diameter each; the last holds all that is larger.
const Cells = 64

// At returns the cell of a diameter.
func At(d measure.Length) int { return max(0, min(int(d.MM()), Cells-1)) }

// Set is a set of cells.
type Set uint64

// All holds every cell.
const All = ^Set(0)

// One holds one cell.
func One(at int) Set { return 1 << at }

// From returns the cells of s from at on.
func (s Set) From(at int) Set { return s &^ (1<<at - 1) }

// Between reports whether s holds a cell from one to another.
func (s Set) Between(from, to int) bool { return s.From(from)&^(All<<to<<1) != 0 }

// Has reports whether s holds a cell.
func (s Set) Has(at int) bool { return s>>at&1 != 0 }

// Hope tells in which cells heads of use may lie, by their layers.
type Hope [propose.MostLayers + 1]Set

// Anywhere is hope of every head.
func Anywhere() (h Hope) {
	for i := range h {
		h[i] = All
	}
	return h
}

// Above returns the cells of any head of more than so many layers.
func (h *Hope) Above(depth int) (s Set) {
	for layers := depth + 1; layers < len(h); layers++ {
		s |= h[layers]
	}
	return s
}

// Slice is what a slice of some tubing over rubber, or a core, of one cell comes to at most.
type Slice struct {
	Tube     int
	From, To int // cells that it measures
	Grams    float64
	Likes    float64 // of the rules on layers
}

// Pile is what some slices come to at most, by the cell that they measure: -Inf where none do.
type Pile struct{ Grams, Likes [Cells]float64 }

// Piles are slices over slices. They are for one goroutine.
type Piles struct {
	slices func(at int) []Slice
	steps  [Cells][]Slice
	known  map[[2]int]*Pile
}

// NewPiles piles up slices of those that slices lists for a cell.
func NewPiles(slices func(at int) []Slice) *Piles {
	return &Piles{slices: slices, known: map[[2]int]*Pile{}}
}

// Over returns what n slices over a cell come to.
func (p *Piles) Over(at, n int) *Pile {
	key := [2]int{at, n}
	if x, ok := p.known[key]; ok {
		return x
	}
	x := &Pile{}
	for c := range Cells {
		x.Grams[c], x.Likes[c] = math.Inf(-1), math.Inf(-1)
	}
	p.known[key] = x
	if n == 0 {
		x.Grams[at], x.Likes[at] = 0, 0
		return x
	}
	below := p.Over(at, n-1)
	for c := range Cells {
		if math.IsInf(below.Grams[c], -1) {
			continue
		}
		for _, s := range p.Slices(c) {
			for to := s.From; to <= s.To; to++ {
				x.Grams[to] = max(x.Grams[to], below.Grams[c]+s.Grams)
				x.Likes[to] = max(x.Likes[to], below.Likes[c]+s.Likes)
			}
		}
	}
	return x
}

// Slices lists the slices over a cell.
func (p *Piles) Slices(at int) []Slice {
	if p.steps[at] == nil {
		p.steps[at] = append([]Slice{}, p.slices(at)...)
	}
	return p.steps[at]
}
