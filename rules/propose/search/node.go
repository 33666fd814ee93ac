package search

import (
	"cmp"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose/search/kit"
)

// node is a stack of fitted slices on the cores of a root.
type node struct {
	up    *node
	root  *kit.Root
	tube  int
	depth int
	kinds int // of tubing
	bed   head.Bed
	under measure.Length
	wall  float64 // stretched, m
	cut   measure.Length

	mass      float64 // of the slices, kg
	massTol2  float64 // squared
	cents     float64 // of the slices
	packs     float64 // cents, of a pack of each of their tubings
	handN     float64
	gripKPa   float64
	rubberMM  float64
	latex     bool
	chemicals bool
	glued     bool
	likes     float64 // what the layer rules prefer, or the most they can
	measured  bool
	least     float64 // softness that no head of the node, or above it, is harder than
	layer     facts.Layer
	above     map[int]*node // by tube, nil where a rule refuses it
}

// has reports whether a slice of tubing t is in the node.
func (n *node) has(t int) bool {
	for ; n.up != nil; n = n.up {
		if n.tube == t {
			return true
		}
	}
	return false
}

// prune lets go of the nodes above.
func (n *node) prune() {
	for _, x := range n.above {
		if x != nil {
			x.prune()
		}
	}
	n.above = nil
}

// tubes returns the node's tubing, inside out.
func (n *node) tubes() []int {
	list := make([]int, n.depth)
	for ; n.up != nil; n = n.up {
		list[n.depth-1] = n.tube
	}
	return list
}

// found is a head that the search has looked at in full.
type found struct {
	node  *node
	core  int
	wrap  int
	turns int
	score float64
	facts facts.Head
	shaft *kit.Core // the core on another shaft; nil is as in the kit
}

// on returns the head's core on its shaft.
func (x *found) on() *kit.Core { return cmp.Or(x.shaft, &x.node.root.Cores[x.core]) }

// compare orders by score, best first, and then by parts.
func (a *found) compare(b *found) int {
	if c := cmp.Compare(b.score, a.score); c != 0 {
		return c
	}
	if c := a.node.compare(b.node); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.core, b.core), cmp.Compare(a.wrap, b.wrap))
}

// compare orders nodes by their parts.
func (a *node) compare(b *node) int {
	if c := cmp.Or(cmp.Compare(a.depth, b.depth), cmp.Compare(a.root.Diameter, b.root.Diameter), cmp.Compare(a.root.Family, b.root.Family)); c != 0 {
		return c
	}
	for ; a.up != nil; a, b = a.up, b.up {
		if c := cmp.Compare(a.tube, b.tube); c != 0 {
			return c
		}
	}
	return 0
}

// stack returns the parts of a found head.
func (s *Search) stack(x *found) head.Stack {
	c := x.on()
	st := head.Stack{Core: c.Core, Material: c.Material, Shaft: c.Shaft, Slices: make([]head.Slice, x.node.depth)}
	if st.Shaft != nil {
		shaft := *st.Shaft
		st.Shaft = &shaft
	}
	for n := x.node; n.up != nil; n = n.up {
		st.Slices[n.depth-1] = s.Tubes[n.tube].Slice
	}
	if o := &s.Wraps[x.wrap]; !o.None {
		wrap := o.Wrap
		wrap.Turns = x.turns
		if y, ok := s.f.Catalogue().Yarn(wrap.Yarn.ID); ok {
			wrap.Yarn = y // with its own plain wrap again
		}
		st.Wrap = &wrap
	}
	return st
}

// layersOf returns the layer facts of a found head.
func (x *found) layersOf() []facts.Layer {
	out := make([]facts.Layer, x.node.depth)
	for n := x.node; n.up != nil; n = n.up {
		out[n.depth-1] = n.layer
	}
	return out
}
