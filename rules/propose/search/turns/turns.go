// Package turns knows how full a yarn is wound on the heads that a search looks at. It
// never winds one, nor judges it.
package turns

import (
	"iter"
	"slices"

	"mallow/knowledge"
)

// Tried are the turns of a yarn that a search looks at, on a head of the size
// that its wraps are given for: those wraps, and what is usually wound, where
// they are far from it. The best are wound exactly once they are found.
func Tried(y knowledge.Yarn) []int {
	const most, apart = 230, 1.2
	var list []int
	for _, n := range []int{y.Wraps.Light, y.Wraps.Plain, y.Wraps.Full, 70, 100, 140, 195} {
		if n <= most && !slices.ContainsFunc(list, func(x int) bool { return float64(max(n, x)) < apart*float64(min(n, x)) }) {
			list = append(list, n)
		}
	}
	if len(list) == 0 {
		list = []int{y.Wraps.Light}
	}
	slices.Sort(list)
	return list
}

// Ends returns the first and last of the wraps of a class, which bound the rest.
func Ends(class []int) []int {
	if len(class) == 1 {
		return class
	}
	return []int{class[0], class[len(class)-1]}
}

// Runs cuts a list of wraps, which are class by class, into those of each.
func Runs(wraps []int, class func(wrap int) int) iter.Seq[[]int] {
	return func(yield func([]int) bool) {
		for len(wraps) > 0 {
			n := 1
			for n < len(wraps) && class(wraps[n]) == class(wraps[0]) {
				n++
			}
			if !yield(wraps[:n]) {
				return
			}
			wraps = wraps[n:]
		}
	}
}
