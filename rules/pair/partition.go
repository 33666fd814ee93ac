package pair

import (
	"math/bits"
	"slices"
)

// mostLooks is how many groups are looked at, and things for a bound, about
// two seconds' worth; most bags of 20 by mass and size need a tenth of it. A count and not a clock, so
// that the answer is the same every time.
const mostLooks = 30_000_000

// partition sorts into groups of three or more by two measures, which no
// quick method is known for: it goes on from the lightest thing that is not
// yet sorted, first to what differs least, and turns back where what each
// measure takes by itself is already too much.
func (b *bag) partition() (groups [][]int, proven bool) {
	p := &partition{bag: b, orders: [][]int{b.order(0), b.order(1)}, seen: map[string]int64{}, looks: mostLooks}
	p.best, p.groups = b.start()
	rest := make([]bool, len(b.things))
	for i := range rest {
		rest[i] = true
	}
	p.search(rest, 0, nil)
	return p.groups, p.looks > 0
}

type partition struct {
	*bag
	orders [][]int
	best   int64
	groups [][]int
	seen   map[string]int64 // what the rest of a bag was come to with
	looks  int
}

// start returns a good sorting: the better of those along either measure,
// with things swapped as long as that helps.
func (b *bag) start() (int64, [][]int) {
	best, groups := int64(len(b.things)+1)*leftCost, [][]int(nil)
	for m := range b.at {
		g := b.along(m, b.order(m))
		g = slices.DeleteFunc(g, func(group []int) bool { _, ok := b.cost(group...); return !ok })
		b.swap(g)
		if c := b.total(g); c < best {
			best, groups = c, g
		}
	}
	return best, groups
}

func (b *bag) total(groups [][]int) int64 {
	sum := leftCost * int64(len(b.things))
	for _, g := range groups {
		c, _ := b.cost(g...)
		sum += c - leftCost*int64(len(g))
	}
	return sum
}

// swap exchanges members of groups as long as that lowers their costs.
func (b *bag) swap(groups [][]int) {
	for better := true; better; {
		better = false
		for i, g := range groups {
			for _, h := range groups[:i] {
				better = b.swapTwo(g, h) || better
			}
		}
	}
}

func (b *bag) swapTwo(g, h []int) (better bool) {
	for x := range g {
		for y := range h {
			cg, _ := b.cost(g...)
			ch, _ := b.cost(h...)
			g[x], h[y] = h[y], g[x]
			ng, ok1 := b.cost(g...)
			nh, ok2 := b.cost(h...)
			if ok1 && ok2 && ng+nh < cg+ch {
				better = true
				continue
			}
			g[x], h[y] = h[y], g[x]
		}
	}
	return better
}

// search sorts rest, having sorted the others into groups at a cost so far.
func (p *partition) search(rest []bool, cost int64, groups [][]int) {
	p.looks -= len(rest)
	if p.looks <= 0 || cost+p.bound(rest) >= p.best {
		return
	}
	first := slices.IndexFunc(p.orders[0], func(i int) bool { return rest[i] })
	if first < 0 {
		p.best, p.groups = cost, p.copied(groups)
		return
	}
	key := packed(rest)
	if c, ok := p.seen[key]; ok && c <= cost {
		return
	}
	p.seen[key] = cost
	var ways []way
	p.ways(rest, p.orders[0][first:], nil, p.best-cost, &ways)
	slices.SortStableFunc(ways, func(a, b way) int { return int(min(max(a.cost-b.cost, -1), 1)) })
	for _, w := range ways {
		for _, i := range w.group {
			rest[i] = false
		}
		p.search(rest, cost+w.cost, append(groups, w.group))
		for _, i := range w.group {
			rest[i] = true
		}
	}
	rest[p.orders[0][first]] = false
	p.search(rest, cost+leftCost, groups)
	rest[p.orders[0][first]] = true
}

func (p *partition) copied(groups [][]int) [][]int {
	out := make([][]int, len(groups))
	for i, g := range groups {
		out[i] = slices.Clone(g)
	}
	return out
}

type way struct {
	group []int
	cost  int64
}

// ways lists the groups that begin with group and go on along order, at a
// cost below most.
func (p *partition) ways(rest []bool, order, group []int, most int64, out *[]way) {
	for at, i := range order {
		if !rest[i] || p.looks <= 0 {
			continue
		}
		p.looks--
		g := append(slices.Clip(group), i)
		if c, ok := p.cost(g...); ok && c < most {
			if len(g) == p.of {
				*out = append(*out, way{g, c})
			} else {
				p.ways(rest, order[at+1:], g, most, out)
			}
		}
		if len(group) == 0 {
			return // every group has the first
		}
	}
}

// bound is what sorting rest costs at least: what each measure costs by
// itself, of those that leave the most over.
func (p *partition) bound(rest []bool) int64 {
	left, sum := int64(0), int64(0)
	for m, order := range p.orders {
		of := make([]int, 0, len(order))
		for _, i := range order {
			if rest[i] {
				of = append(of, i)
			}
		}
		c := p.least(m, of)
		switch l := c / leftCost; {
		case l > left:
			left, sum = l, c%leftCost
		case l == left:
			sum += c % leftCost
		}
	}
	return left*leftCost + sum
}

// packed is rest as a key.
func packed(rest []bool) string {
	key := make([]byte, (len(rest)+7)/8)
	for i, r := range rest {
		if r {
			key[i/8] |= byte(bits.RotateLeft8(1, i%8))
		}
	}
	return string(key)
}
