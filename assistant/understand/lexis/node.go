package lexis

import "strings"

// node is a state of the phrase matcher. Most have a word or two that go on from
// them; a map is made where there are many.
type node struct {
	few    []edge
	many   map[string]*node
	senses []*Sense
}

// edge is a word and the node that it leads to.
type edge struct {
	word string
	to   *node
}

// mostFew is how many words are looked through one by one.
const mostFew = 8

// to returns the node that a word leads to, nil for none.
func (n *node) to(word string) *node {
	if n.many != nil {
		return n.many[word]
	}
	for i := range n.few {
		if n.few[i].word == word {
			return n.few[i].to
		}
	}
	return nil
}

// step returns the node that a word leads to, or, where none does, the same
// without the s of its plural; nil for none.
func (n *node) step(word string) *node {
	if next := n.to(word); next != nil || len(word) < 4 {
		return next
	}
	one, plural := strings.CutSuffix(word, "s")
	if !plural {
		return nil
	}
	return n.to(one)
}

// grow returns the node that a word leads to, made where there is none.
func (n *node) grow(word string) *node {
	if next := n.to(word); next != nil {
		return next
	}
	next := &node{}
	switch {
	case n.many != nil:
		n.many[word] = next
	case len(n.few) < mostFew:
		n.few = append(n.few, edge{word, next})
	default:
		n.many = make(map[string]*node, 2*mostFew)
		for _, e := range n.few {
			n.many[e.word] = e.to
		}
		n.few, n.many[word] = nil, next
	}
	return next
}
