// Package tally counts what rules did over many sets of facts: how often each
// fired, and on which. It never fires one.
package tally

import "math/bits"

// Coverage counts what the rules of a book did over many sets of facts.
type Coverage struct {
	Sets   int     `json:"sets"`
	Counts []Count `json:"counts"` // in the order of the book
}

// Count is how often a rule fired.
type Count struct {
	Rule  string `json:"rule"`
	Fired int    `json:"fired"`
}

// Quiet returns the rules that never fired.
func (c Coverage) Quiet() []string {
	var ids []string
	for _, n := range c.Counts {
		if n.Fired == 0 {
			ids = append(ids, n.Rule)
		}
	}
	return ids
}

// Set is a set of numbers below what it was made for.
type Set []uint64

// NewSet returns an empty set of numbers below n.
func NewSet(n int) Set { return make(Set, (n+63)/64) }

// Add puts i into s.
func (s Set) Add(i int) { s[i/64] |= 1 << (i % 64) }

// Shared returns how many s and t both hold. Both were made for as many.
func (s Set) Shared(t Set) (n int) {
	for i := range s {
		n += bits.OnesCount64(s[i] & t[i])
	}
	return n
}
