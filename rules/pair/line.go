package pair

import "slices"

// line sorts by one measure. Of things in order some best grouping takes
// neighbours: swapping a thing that lies inside the spread of a group for one
// of its ends, or crossing members between two groups that overlap, never
// makes a difference larger. So it is enough to decide, thing by thing,
// whether it is left over or is the last of a group of neighbours.
func (b *bag) line() [][]int {
	return b.along(0, b.order(0))
}

// order returns the things from small to large by measure m.
func (b *bag) order(m int) []int {
	order := make([]int, len(b.things))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(min(max(b.at[m][i]-b.at[m][j], -1), 1)) })
	return order
}

// along groups neighbours in order, which is by measure m, at the least cost
// by that measure alone. The time it takes grows in proportion to the things.
func (b *bag) along(m int, order []int) (groups [][]int) {
	best := b.costs(m, order)
	for i := len(order); i > 0; {
		if c, ok := b.run(m, order, i-1); ok && best[i-b.of]+c == best[i] {
			groups = append(groups, slices.Clone(order[i-b.of:i]))
			i -= b.of
			continue
		}
		i--
	}
	return groups
}

// run returns the spread by measure m of the group of neighbours that ends
// with order[last], and whether there is one that may be.
func (b *bag) run(m int, order []int, last int) (int64, bool) {
	if last+1 < b.of {
		return 0, false
	}
	c := b.at[m][order[last]] - b.at[m][order[last+1-b.of]]
	return c, c <= b.within[m]
}

// costs returns the least cost by measure m of the first so many in order.
func (b *bag) costs(m int, order []int) []int64 {
	best := make([]int64, len(order)+1)
	for i := range order {
		best[i+1] = best[i] + leftCost
		if c, ok := b.run(m, order, i); ok {
			best[i+1] = min(best[i+1], best[i+1-b.of]+c)
		}
	}
	return best
}

// least returns the least cost by measure m of all in order.
func (b *bag) least(m int, order []int) int64 { return b.costs(m, order)[len(order)] }
