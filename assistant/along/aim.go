package along

import (
	"math"
	"slices"

	"mallow/assistant/reply"
	"mallow/rules/propose"
)

// wishes are what people say for another softness than planned, in notches.
var wishes = []struct {
	say []string
	by  float64
}{
	{[]string{"softer", "make it softer", "make them softer", "one notch softer", "a notch softer", "softer by one", "softer by a notch", "too hard", "its too hard"}, 1},
	{[]string{"a bit softer", "a little softer", "slightly softer", "half a notch softer"}, 0.5},
	{[]string{"harder", "make it harder", "make them harder", "one notch harder", "a notch harder", "harder by one", "harder by a notch", "too soft", "its too soft"}, -1},
	{[]string{"a bit harder", "a little harder", "slightly harder", "half a notch harder"}, -0.5},
}

// wished is by how many notches a line wishes the heads softer.
func wished(plain string) (by float64, ok bool) {
	for _, w := range wishes {
		if slices.Contains(w.say, plain) {
			return w.by, true
		}
	}
	return 0, false
}

// aim plans other turns, so that the heads come out softer or harder than was
// planned, while the yarn is still to be wound.
func (b *Build) aim(by float64) Reply {
	var r Reply
	last := -1
	for i, s := range b.steps() {
		if s.ID == "wrap-first" || s.ID == "wrap-second" {
			last = i
		}
	}
	switch {
	case last < 0:
		r.say("Without yarn, only another ball or slice changes that. Say another head to choose one.")
		return b.ask(r)
	case b.at > last:
		r.say("The yarn is on. Open the last hitch: ten turns more or fewer are heard; at the weighing I say what they come to.")
		return b.ask(r)
	}
	soft := func(c propose.Candidate) float64 { return c.Facts.Head.Softness }
	first := b.heads[0]
	for i := range b.heads {
		m := &b.heads[i]
		want := soft(m.planned) + by
		_, plan, ok := b.g.turnsFor(b.job.Request, settledStack(m.planned), want, soft)
		n, _, ok2 := b.g.turnsFor(b.job.Request, settledStack(m.now), want, soft)
		if !ok || !ok2 {
			r.say("No number of turns gets there on what lies under the yarn. Say a bit softer or a bit harder, or another head for another slice.")
			return b.ask(r)
		}
		m.planned = plan
		if err := b.remake(i, wound(settledStack(m.now), n)); err != nil {
			r.say("%s", reply.Told(err))
			return b.ask(r)
		}
	}
	now := b.heads[0]
	notches := math.Round(10*(soft(now.planned)-soft(first.planned))) / 10
	r.say("Then wind %d turns in place of %d: %s. The rest follows that.", now.now.Head.Turns, first.now.Head.Turns,
		effect(notches, now.planned.Facts.Head.MassG-first.planned.Facts.Head.MassG))
	return b.ask(r)
}
