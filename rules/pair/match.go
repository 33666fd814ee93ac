package pair

import "math"

// pairs sorts into pairs by two measures: a perfect matching of least weight.
// Of an odd number one is paired with nothing, for nothing; a pair that
// differs by too much costs as much as two things left over.
func (b *bag) pairs() [][]int {
	n := len(b.things)
	even := n + n%2
	weight := func(u, v int) int64 {
		if u >= n || v >= n {
			return 0
		}
		c, ok := b.cost(u, v)
		if !ok {
			return 2 * leftCost
		}
		return c
	}
	var groups [][]int
	for u, v := range match(even, weight) {
		if u < v && v < n && weight(u, v) < leftCost {
			groups = append(groups, []int{u, v})
		}
	}
	return groups
}

// match returns for each of n vertices, an even number, its mate in a perfect
// matching of least weight. Weights are not below zero and symmetric.
//
// It is the primal-dual method of Edmonds (Maximum matching and a polyhedron
// with 0,1-vertices, 1965): every vertex has a price and every blossom, an
// odd cycle taken as one, a charge; an edge may be used when its weight is
// paid for by the prices of its ends less the charges of the blossoms that it
// lies in. Prices that never pay too much bound every matching from below, so
// that a matching of paid edges is proven best. Every event looks at every
// edge, which is quick enough for a bag of balls, and short.
func match(n int, weight func(u, v int) int64) []int {
	m := matcher{n: n, weight: make([][]int64, n), mate: make([]int, n), in: make([]*blossom, n), price: make([]int64, n)}
	least := int64(math.MaxInt64)
	for u := range n {
		m.mate[u] = none
		m.in[u] = &blossom{base: u}
		m.weight[u] = make([]int64, n)
		for v := range n {
			m.weight[u][v] = 2 * weight(u, v) // even, so that half of a slack is whole
			if u != v {
				least = min(least, m.weight[u][v])
			}
		}
	}
	for u := range m.price {
		m.price[u] = least / 2
	}
	for range n / 2 {
		m.grow()
	}
	return m.mate
}

const none = -1

// edge joins two vertices; which is first says which way it is walked.
type edge struct{ u, v int }

var nowhere = edge{none, none}

// blossom is a vertex, or an odd cycle of blossoms that acts as one: all of it
// but its base is matched within.
type blossom struct {
	base   int
	parts  []*blossom // from the one with the base round; nil for a vertex
	edges  []edge     // edges[i] leads from parts[i] to the next
	charge int64
	// side is where it is in the forest of alternating paths that is grown
	// from all vertices without a mate.
	side side
	from edge // the edge by which it came into the forest; nowhere for a root
}

type side int

const (
	outside side = iota
	outer        // at an even distance from its root
	inner        // at an odd one
)

// vertices calls do with each vertex of b.
func (b *blossom) vertices(do func(v int)) {
	if b.parts == nil {
		do(b.base)
	}
	for _, p := range b.parts {
		p.vertices(do)
	}
}

type matcher struct {
	n      int
	weight [][]int64
	price  []int64
	mate   []int
	in     []*blossom // the outermost blossom that a vertex is in
}

// grow adds one edge to the matching.
func (m *matcher) grow() {
	for _, b := range m.in {
		b.side, b.from = outside, nowhere
		if m.mate[b.base] == none {
			b.side = outer
		}
	}
	for {
		e, spare := m.nearest()
		shrunk, spare := m.cheapest(spare)
		m.pay(spare)
		a, b := m.side(e)
		switch {
		case shrunk != nil:
			m.expand(shrunk)
		case b == nil || b.side == inner: // can't be: n is even and every edge is there
			return
		case b.side == outside:
			b.side, b.from = inner, e
			mate := m.mate[b.base]
			next := m.in[mate]
			next.side, next.from = outer, edge{b.base, mate}
		default:
			if meet := m.meet(a, b); meet != nil {
				m.shrink(e, meet)
				continue
			}
			m.augment(e)
			return
		}
	}
}

// side returns the blossoms at both ends of e.
func (m *matcher) side(e edge) (a, b *blossom) {
	if e == nowhere {
		return nil, nil
	}
	return m.in[e.u], m.in[e.v]
}

// nearest returns the edge out of the forest, or between two outer blossoms,
// that is paid first as prices change, and by how much they change till then.
func (m *matcher) nearest() (edge, int64) {
	best, spare := nowhere, int64(math.MaxInt64)
	for u := range m.n {
		a := m.in[u]
		if a.side != outer {
			continue
		}
		for v := range m.n {
			b := m.in[v]
			if a == b || b.side == inner {
				continue
			}
			s := m.weight[u][v] - m.price[u] - m.price[v]
			if b.side == outer { // both ends pay
				s /= 2
			}
			if s < spare {
				best, spare = edge{u, v}, s
			}
		}
	}
	return best, spare
}

// cheapest returns the inner blossom whose charge is used up before spare is,
// nil when there is none, and how much is then to be paid.
func (m *matcher) cheapest(spare int64) (*blossom, int64) {
	var first *blossom
	for v, b := range m.in {
		if b.base == v && b.side == inner && b.parts != nil && b.charge/2 < spare {
			first, spare = b, b.charge/2
		}
	}
	return first, spare
}

// pay raises the prices of outer vertices by d and lowers those of inner ones;
// charges keep what lies inside a blossom as it was.
func (m *matcher) pay(d int64) {
	for v, b := range m.in {
		sign := int64(0)
		switch b.side {
		case outer:
			sign = 1
		case inner:
			sign = -1
		}
		m.price[v] += sign * d
		if b.base == v && b.parts != nil {
			b.charge += 2 * sign * d
		}
	}
}

// up returns the blossom that b came into the forest from, nil for a root.
func (m *matcher) up(b *blossom) *blossom {
	if b.from == nowhere {
		return nil
	}
	return m.in[b.from.u]
}

// meet returns where the paths from a and b to their roots meet, nil when the
// roots are two.
func (m *matcher) meet(a, b *blossom) *blossom {
	seen := map[*blossom]bool{}
	for ; a != nil; a = m.up(a) {
		seen[a] = true
	}
	for ; b != nil; b = m.up(b) {
		if seen[b] {
			return b
		}
	}
	return nil
}

// shrink makes one blossom of the cycle that e closes in the forest.
func (m *matcher) shrink(e edge, meet *blossom) {
	c := &blossom{base: meet.base, side: outer, from: meet.from}
	for b := m.in[e.u]; b != meet; b = m.up(b) {
		c.parts = append([]*blossom{b}, c.parts...)
		c.edges = append([]edge{b.from}, c.edges...)
	}
	c.parts = append([]*blossom{meet}, c.parts...)
	c.edges = append(c.edges, e)
	for b := m.in[e.v]; b != meet; b = m.up(b) {
		c.parts = append(c.parts, b)
		c.edges = append(c.edges, edge{b.from.v, b.from.u})
	}
	c.vertices(func(v int) { m.in[v] = c })
}

// expand opens an inner blossom. The parts between where its path comes in
// and where it leaves by the base take their places in the forest; the others
// are outside.
func (m *matcher) expand(b *blossom) {
	for _, p := range b.parts {
		p.side, p.from = outside, nowhere
		p.vertices(func(v int) { m.in[v] = p })
	}
	n, at := len(b.parts), b.part(b.from.v)
	way := 1 // the even way round to the base
	if at%2 == 0 {
		way = -1
	}
	e, s := b.from, inner
	for {
		p := b.parts[at]
		p.side, p.from = s, e
		if at == 0 {
			return
		}
		if way > 0 {
			e = b.edges[at]
		} else {
			e = b.edges[at-1]
			e = edge{e.v, e.u}
		}
		at, s = (at+way)%n, inner+outer-s
	}
}

// part returns the index of the part that vertex v is in.
func (b *blossom) part(v int) int {
	for i, p := range b.parts {
		found := false
		p.vertices(func(w int) { found = found || w == v })
		if found {
			return i
		}
	}
	return none
}

// augment matches e, which joins two trees, and swaps what is matched and
// what is not along both ways to the roots.
func (m *matcher) augment(e edge) {
	for _, e := range []edge{e, {e.v, e.u}} {
		for {
			b := m.in[e.u]
			m.rebase(b, e.u)
			m.mate[e.u] = e.v
			if b.from == nowhere {
				break
			}
			inner := m.in[b.from.u]
			m.rebase(inner, inner.from.v)
			m.mate[inner.from.v] = inner.from.u
			e = inner.from
		}
	}
}

// rebase makes v the base of b, and matches the rest of b within.
func (m *matcher) rebase(b *blossom, v int) {
	if b.base == v {
		return
	}
	i := b.part(v)
	m.rebase(b.parts[i], v)
	b.parts = append(b.parts[i:len(b.parts):len(b.parts)], b.parts[:i]...)
	b.edges = append(b.edges[i:len(b.edges):len(b.edges)], b.edges[:i]...)
	b.base = v
	for i := 1; i < len(b.parts); i += 2 {
		e := b.edges[i]
		m.rebase(b.parts[i], e.u)
		m.rebase(b.parts[i+1], e.v)
		m.mate[e.u], m.mate[e.v] = e.v, e.u
	}
}
