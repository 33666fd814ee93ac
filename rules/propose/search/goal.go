package search

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"mallow/rules/facts"
)

// Goal is something to find: the best few heads of a kind.
type Goal struct {
	most int
	Is   func(h *facts.Head) bool // nil: any head
	// clip narrows a box to the heads in it that may be of the kind, and
	// reports whether there may be any; nil leaves it as it is.
	Clip func(lo, hi *facts.Head) bool

	// near, when above zero, is how many points below the best the rest may score.
	near float64

	found func() // called when there is one, when not nil

	mu    sync.Mutex
	best  []found // sorted, at most most, each of another node and core
	floor atomic.Uint64
}

// NewGoal looks for the most best heads that score at least floor.
func NewGoal(most int, floor float64) *Goal {
	g := &Goal{most: most}
	g.floor.Store(math.Float64bits(floor))
	return g
}

// bar is the score that a head has to reach to be among the best; -Inf, which stands
// for no head at all, never is.
func (g *Goal) bar() float64 { return max(math.Float64frombits(g.floor.Load()), -math.MaxFloat64) }

func (g *Goal) add(x *found) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if i := slices.IndexFunc(g.best, func(b found) bool { return b.node == x.node && b.core == x.core }); i >= 0 {
		if g.best[i].compare(x) <= 0 {
			return
		}
		g.best = slices.Delete(g.best, i, i+1)
	}
	at, _ := slices.BinarySearchFunc(g.best, x, func(a found, b *found) int { return a.compare(b) })
	if at == g.most {
		return
	}
	if len(g.best) == g.most {
		g.best = g.best[:g.most-1]
	}
	g.best = slices.Insert(g.best, at, *x)
	if g.found != nil {
		g.found()
	}
	bar := g.bar()
	if len(g.best) == g.most {
		bar = max(bar, g.best[g.most-1].score)
	}
	if g.near > 0 {
		bar = max(bar, g.best[0].score-g.near)
	}
	g.floor.Store(math.Float64bits(bar))
}
