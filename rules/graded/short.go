package graded

import (
	"context"
	"fmt"
	"math"
	"strings"

	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// Short is the error of a set that can't be had as it was asked for. It holds
// the nearest that can.
type Short struct {
	Nearest Set
	Misses  []string // what the nearest falls short of
	Opens   []string // what would open it up
}

func (e *Short) Error() string {
	s := "no such set can be built: " + strings.Join(e.Misses, "; ")
	for i, o := range e.Opens {
		s += []string{"; it would take ", ", or "}[min(i, 1)] + o
	}
	return s
}

// Heard is how many notches people hear from one head to the next: an end that is
// further off than that was not met.
const Heard = 1.0

// misses says what a set falls short of, and gathers what would open it up.
func (b *bench) misses(set *Set, grown bool) (list []string) {
	n := len(set.Rungs)
	first, last := set.Rungs[0].Softness, set.Rungs[n-1].Softness
	from, to := b.asked[0], b.asked[len(b.asked)-1]
	gap := (last - first) / float64(n-1)
	if n < b.opts.Rungs {
		list = append(list, fmt.Sprintf("%d grades were asked for, and what can be had makes %d", b.opts.Rungs, n))
	}
	far, nearest := Heard, "nearest set of one family"
	outside := max(math.Abs(first-from), math.Abs(last-to))
	if set.Bare { // balls lie where they lie
		far, nearest = max(Heard, b.opts.Gap/2), "most even set that comes near"
		if b.opts.Words != nil {
			far, outside = Heard, max(b.ends()[0].Off(first), b.ends()[1].Off(last))
		}
	}
	switch {
	case b.said && outside > far:
		list = append(list, fmt.Sprintf("%+.1f to %+.1f notches were asked for, and the %s goes from %+.1f to %+.1f", from, to, nearest, first, last))
		if last < to-far {
			b.opens = append(b.opens, b.softer()...)
		}
		if first > from+far {
			b.opens = append(b.opens, "a harder ball at the hard end")
		}
		if set.Bare && (first < from-far || last > to+far || len(b.opens) == 0) {
			b.opens = append(b.opens, "balls that lie closer together in hardness")
		}
	case !b.said && gap < Heard-0.05: // where somebody asked for it, it is as asked
		list = append(list, fmt.Sprintf("the grades lie %.1f notches apart, and people hear about one", gap))
		b.opens = append(b.opens, b.softer()...)
	}
	if len(list) > 0 && len(b.opens) == 0 {
		b.opens = append(b.opens, "fewer grades, or a smaller span")
	}
	if !grown {
		list = append(list, fmt.Sprintf("%s in even steps from hard to soft in no set of these heads", growing(trend(b.opts.Mass, set.Bare), trend(b.opts.Size, set.Bare))))
		if set.Bare {
			b.opens = append(b.opens, "balls that are larger as they are softer, or --mass free and --size free")
		} else {
			b.opens = append(b.opens, "a smaller span, or other balls and tubing")
		}
	}
	for what, t := range map[string]ladder.Trend{"mass": b.opts.Mass, "size": b.opts.Size} {
		if t == ladder.Level {
			least, most := math.Inf(1), math.Inf(-1)
			for _, r := range set.Rungs {
				x := map[string]float64{"mass": r.MassG, "size": r.MM}[what]
				least, most = min(least, x), max(most, x)
			}
			if unit := map[string]string{"mass": "g", "size": "mm"}[what]; most-least > level {
				list = append(list, fmt.Sprintf("%s was to stay level, and moves by %.1f %s", what, most-least, unit))
				b.opens = append(b.opens, "a smaller span, or balls of differing hardness")
			}
		}
	}
	if !set.Bare && b.measure.Even > 0 && set.Uneven > b.measure.Even {
		b.opens = append(b.opens, "a smaller span, or other tubing")
		list = append(list, fmt.Sprintf("one gap is %.1f notches off the mean one, and no winding evens it out", set.Uneven))
	}
	if b.wide {
		list = append(list, fmt.Sprintf("some heads are past what the instrument usually takes, %s", b.usually()))
		b.opens = append(b.opens, "a smaller span, or fewer grades")
	}
	return list
}

// level is how many grams or millimetres a set that is to stay level may move.
const level = 2.0

// growing says what grows.
func growing(mass, size ladder.Trend) string {
	var what []string
	if mass == ladder.Grow {
		what = append(what, "mass")
	}
	if size == ladder.Grow {
		what = append(what, "size")
	}
	if len(what) == 2 {
		return "mass and size grow"
	}
	return strings.Join(what, "") + " grows"
}

func (b *bench) usually() string {
	m := &b.measure
	return fmt.Sprintf("%.0f to %.0f g and %.0f to %.0f mm", m.LeastG, m.MostG, m.LeastMM, m.MostMM)
}

// softer says what keeps the soft end from being softer.
func (b *bench) softer() []string {
	at := b.judge[0].Base.Player
	list := []string{"a softer or smaller ball"}
	if at.Level == "first" {
		list = append(list, "more slices than a first set has")
	}
	if b.q.Bin != nil {
		list = append(list, "parts that are not on hand")
	}
	m := &b.measure
	if m.MostG > 0 {
		list = append(list, fmt.Sprintf("heads past what the instrument usually takes (%s)", b.usually()))
	}
	return list
}

// none says why there is no set at all.
func (b *bench) none(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	c := &propose.Clash{}
	why := search.Why(ctx, b.f, b.q)
	if x, ok := why.(*propose.Clash); ok && len(x.Wishes) > 0 {
		return x
	}
	c.Add(propose.Wish{Fact: "set", Text: "a place in a set of two or more under these wishes"})
	if best, err := search.Best(ctx, b.f, b.q); err == nil {
		c.Nearest = append(c.Nearest, propose.Alternative{Candidate: best, Kind: "as a single head"})
	}
	return c
}
