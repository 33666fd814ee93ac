package along

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/reply"
	"mallow/knowledge/measure"
	"mallow/rules/pair"
	"mallow/rules/propose"
)

// uneven says that heads that were weighed differ, and which turns make them
// alike, where the yarn is still to come.
func (b gauging) uneven() (string, bool) {
	if len(b.heads) < 2 || b.heads[0].now.Stack.Wrap == nil || !slices.Contains([]string{"weigh-after-layer", "weigh-bare", "weigh-core"}, b.step().ID) {
		return "", false
	}
	if b.step().Layer != 0 && b.step().Layer != len(b.heads[0].now.Head.Layers) || b.step().ID == "weigh-core" && len(b.heads[0].now.Head.Layers) > 0 {
		return "", false // more rubber is to come
	}
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, m := range b.heads {
		if len(m.figures) == 0 {
			return "", false
		}
		least, most, sum = min(least, m.now.Facts.Head.MassG), max(most, m.now.Facts.Head.MassG), sum+m.now.Facts.Head.MassG
	}
	if most-least < 0.5 {
		return "", false
	}
	mean := sum / float64(len(b.heads))
	var list []string
	b.fixes = nil
	softest, hardest := math.Inf(-1), math.Inf(1)
	for i, m := range b.heads {
		n, c, ok := b.g.turnsFor(b.job.Request, settledStack(m.now), mean, func(c propose.Candidate) float64 { return c.Facts.Head.MassG })
		if !ok {
			return "", false
		}
		b.fixes = append(b.fixes, offer{turns: n})
		softest, hardest = max(softest, c.Facts.Head.Softness), min(hardest, c.Facts.Head.Softness)
		list = append(list, fmt.Sprintf("head %d with %d turns", i+1, n))
	}
	heard := "nobody hears the difference that leaves in softness"
	if softest-hardest >= 1 {
		heard = fmt.Sprintf("that leaves them %.1f notches apart in softness, so pairing other balls and slices would be better", softest-hardest)
	}
	return fmt.Sprintf("The heads would come out %.1f g apart. Wind %s, and each weighs %.1f g; %s.", most-least, strings.Join(list, ", "), mean, heard), true
}

// pair takes the answer to turns that make heads alike.
func (b gauging) pair(plain string) (Reply, bool) {
	var r Reply
	switch {
	case slices.Contains(backWords, plain):
		b.mode = doing
		return b.Show(), true
	case slices.Contains(onWords, plain):
		for i, f := range b.fixes {
			if err := b.remake(i, wound(settledStack(b.heads[i].now), f.turns)); err != nil {
				r.say("%s", reply.Told(err))
			}
		}
		r.say("Noted.")
	case slices.Contains(skipWords, plain):
		r.say("Left as they are.")
	default:
		return Reply{}, false
	}
	b.fixes = nil
	b.mode = doing
	return b.leave(r), true
}

// pairs says which of more than two finished heads go together, by what they
// weigh and measure; nothing where they were not all weighed.
func (b gauging) pairs() string {
	if len(b.heads) < 3 {
		return ""
	}
	var bag []pair.Thing
	for i, m := range b.heads {
		x := pair.Thing{Name: fmt.Sprintf("head %d", i+1)}
		if x.Mass, x.Size = m.finished(); x.Mass == 0 {
			return ""
		}
		bag = append(bag, x)
	}
	if slices.ContainsFunc(bag, func(x pair.Thing) bool { return x.Size == 0 }) {
		for i := range bag {
			bag[i].Size = 0
		}
	}
	sorted, err := pair.Sort(bag, pair.Options{MassStep: 0.5 * measure.Gram, SizeStep: measure.Millimetre})
	if err != nil {
		return ""
	}
	var list []string
	for _, g := range sorted.Groups {
		var names []string
		for _, x := range g.Things {
			names = append(names, strings.TrimPrefix(x.Name, "head "))
		}
		list = append(list, fmt.Sprintf("%s (%.1f g apart)", strings.Join(names, " and "), g.Mass.Grams()))
	}
	return "By what they weigh, these heads go together: " + strings.Join(list, "; ") + "."
}
