package graded

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
)

// onRung is how far off its rung a wound head may be, in notches: turns bring
// it there, and two of them can't make a gap uneven by a quarter notch.
const onRung = 0.11

// smooth is the share of the most that a difference may be which is gone for
// first. Common practice, no source.
const smooth = 0.8

// making is a family with what its rubber comes to under few and under many
// turns.
type making struct {
	family
	rubber []winding
}

// winding is one choice of ball and slices. Its softness grows with the turns,
// of which it is known at three.
type winding struct {
	stack    head.Stack // without yarn
	turns    [3]int
	softness [3]float64
	g, mm    [3]float64
	small    bool // on the smaller ball
}

// wound chooses a set of wound heads.
func (b *bench) wound(ctx context.Context) (Set, []string, error) {
	mass, size := trend(b.opts.Mass, false), trend(b.opts.Size, false)
	made := b.makings(b.families(true))
	ladders := b.nearer(made)
	for _, jump := range []float64{smooth * b.measure.Jump, b.measure.Jump} {
		for i, rungs := range ladders { // evener growth where all that was asked can be had
			if !b.near(rungs) || jump < b.measure.Jump && i > 0 && !b.worded(rungs) {
				continue
			}
			set, err := b.climb(ctx, made, rungs, onRung, growth{mass, size, true, jump})
			if !errors.Is(err, ladder.ErrNone) {
				return b.told(set, err, true)
			}
		}
	}
	made = b.makings(b.families(false))
	for n := b.opts.Rungs; n >= 2; n-- {
		if n < b.opts.Rungs {
			b.asked = spaced(b.asked[0], b.asked[len(b.asked)-1], n)
		}
		ladders := b.nearer(made)
		for _, wide := range []bool{false, true} {
			b.wide = wide
			for _, rungs := range ladders {
				set, err := b.climb(ctx, made, rungs, onRung, growth{mass, size, true, b.measure.Jump})
				if !errors.Is(err, ladder.ErrNone) {
					return b.told(set, err, true)
				}
			}
		}
		b.wide = false
		for _, reach := range []float64{onRung, 0.5, max(0.6, 0.75*b.opts.Gap)} {
			for _, rungs := range ladders[:min(1, len(ladders))] {
				set, err := b.climb(ctx, made, rungs, reach, growth{mass: mass, size: size})
				if !errors.Is(err, ladder.ErrNone) {
					return b.told(set, err, false)
				}
			}
		}
	}
	return Set{}, nil, b.none(ctx)
}

// near reports whether a ladder's ends are as near what was asked as people hear, or,
// where nobody said how far it is to reach, whether its rungs are heard apart.
func (b *bench) near(rungs []float64) bool {
	if !b.said {
		return rungs[1]-rungs[0] >= Heard
	}
	return rungs[0]-b.asked[0] <= Heard && b.asked[len(b.asked)-1]-rungs[len(rungs)-1] <= Heard
}

// worded reports whether the ends of a ladder go by the words that were asked for.
func (b *bench) worded(rungs []float64) bool {
	w := b.opts.Words
	within := func(x float64, band ladder.Band) bool { return x >= band.From+edge && x <= band.To-edge }
	return w != nil && within(rungs[0], w[0]) && within(rungs[len(rungs)-1], w[1])
}

// told is a set with what it misses.
func (b *bench) told(set Set, err error, grown bool) (Set, []string, error) {
	if err != nil {
		return Set{}, nil, err
	}
	return set, b.misses(&set, grown), nil
}

// makings works out how soft the rubber of each family comes under the fewest
// and the most turns, and between.
func (b *bench) makings(fams []family) []making {
	least, most := b.measure.turns()
	turns := [3]int{least, (2*least + most) / 3, most}
	var stacks []head.Stack
	made := make([]making, len(fams))
	for i := range fams {
		f := &fams[i]
		made[i].family = *f
		with := func(ball head.Stack, small bool) {
			for _, s := range f.rubbers(ball, func(s head.Stack) []head.Stack { return []head.Stack{s} }) {
				made[i].rubber = append(made[i].rubber, winding{stack: s, turns: turns, small: small})
				stacks = append(stacks, f.stacks(s, turns[:])...)
			}
		}
		for _, ball := range f.balls() {
			with(ball, false)
		}
		if f.small != nil {
			with(*f.small, true)
		}
	}
	plain := b.plain(stacks)
	at := 0
	for i := range made {
		kept := made[i].rubber[:0]
		for _, w := range made[i].rubber {
			whole := true
			for n := range turns {
				x := &plain[at+n]
				w.softness[n], w.g[n], w.mm[n] = x.softness, x.g, x.mm
				whole = whole && !math.IsNaN(x.softness)
			}
			if at += len(turns); whole && w.softness[0] < w.softness[1] && w.softness[1] < w.softness[2] {
				kept = append(kept, w)
			}
		}
		made[i].rubber = kept
	}
	return made
}

// wind returns the turns that bring a head to a softness, as far as turns do: by
// the parabola through the three that are known.
func (w *winding) wind(want float64) int {
	n := 0.0
	for i, s := range w.softness {
		part := float64(w.turns[i])
		for k, other := range w.softness {
			if k != i {
				part *= (want - other) / (s - other)
			}
		}
		n += part
	}
	return min(max(int(math.Round(n)), w.turns[0]), w.turns[2])
}

// may reports whether under some turns it weighs and measures what the heads of an
// instrument usually do.
func (w *winding) may(m *Measure) bool {
	return m.usual(max(w.g[0], min(w.g[2], m.LeastG)), max(w.mm[0], min(w.mm[2], m.LeastMM)))
}

// nearer lists the ladders to go for: the one that was asked for, and such as
// reach less far at either end, the nearest first.
func (b *bench) nearer(made []making) [][]float64 {
	n := len(b.asked)
	from, to := b.asked[0], b.asked[n-1]
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range made {
		for _, w := range made[i].rubber {
			lo, hi = min(lo, w.softness[0]-onRung), max(hi, w.softness[2]+onRung)
		}
	}
	a, z := max(lo, from), min(hi, to)
	span := to - from
	var list [][]float64
	if w := b.opts.Words; w != nil { // as near each other as the words for the ends allow
		if x, y := max(a, w[0].To-onRung), min(z, w[1].From+onRung); y-x >= leastGap*float64(n-1) && w[1].From > w[0].To {
			list = append(list, spaced(a, z, n), spaced(x, y, n))
		}
	}
	const step, most = 0.1, 6
	for p := range most + 1 {
		pull := step * span * float64(p)
		ways := [][2]float64{{0, pull}, {pull / 2, pull / 2}, {pull, 0}}
		if p == 0 {
			ways = ways[:1]
		}
		for _, w := range ways {
			x, y := max(a, from+w[0]), min(z, to-w[1])
			if y-x >= leastGap*float64(n-1) {
				list = append(list, spaced(x, y, n))
			}
		}
	}
	if len(list) > 0 || len(made) == 0 || math.IsInf(lo, 0) {
		return slices.CompactFunc(list, slices.Equal)
	}
	// All of it is out of reach: a set of the usual gaps at that end of what is
	// not, or a little further in.
	const in, steps = 0.75, 12
	span = min(span, usualGap*float64(n-1), hi-lo)
	for s := range steps {
		x := hi - span - in*float64(s)
		if to < lo+span {
			x = lo + in*float64(s)
		}
		if x >= lo-1e-9 && x+span <= hi+1e-9 {
			list = append(list, spaced(x, x+span, n))
		}
	}
	return list
}

// growth is what mass and size are to do up a ladder.
type growth struct {
	mass, size ladder.Trend
	strict     bool    // what grows never falls
	jump       float64 // where strict, times the mean difference that one may be; zero is any
}

// climb makes the best set on some rungs, over all families.
func (b *bench) climb(ctx context.Context, made []making, rungs []float64, reach float64, g growth) (Set, error) {
	if err := ctx.Err(); err != nil {
		return Set{}, err
	}
	b.aim(rungs)
	pools, heads := b.pools(made, reach)
	best, from := ladder.Set{Cost: math.Inf(1)}, -1
	for i := range pools {
		p := pools[i].problem
		p.Mass, p.Size, p.Strict, p.Jump = g.mass, g.size, g.strict, g.jump
		x, err := p.Solve(ctx)
		if ctx.Err() != nil && x.Pick == nil {
			return Set{}, ctx.Err()
		}
		if err == nil && x.Cost < best.Cost-1e-9 {
			best, from = x, i
		}
	}
	if from < 0 {
		return Set{}, ladder.ErrNone
	}
	var picked []propose.Candidate
	for _, i := range best.Pick {
		picked = append(picked, pools[from].heads[i])
	}
	set, err := b.finish(picked)
	set.Cost, set.Exact, set.Family = best.Cost, best.Exact, made[from].family.String()
	set.Tried = tried(made, heads)
	set.Firm = fmt.Sprintf("of one family, no head more than %.2g notches off an even ladder", reach)
	if g.strict && (g.mass == ladder.Grow || g.size == ladder.Grow) {
		set.Firm += fmt.Sprintf(", in which %s and no difference is over %.2g times the mean one", growing(g.mass, g.size), g.jump)
	}
	return set, err
}

func tried(made []making, heads int) Tried {
	t := Tried{Families: len(made), Heads: heads}
	add := func(list *[]string, id string) {
		if !slices.Contains(*list, id) {
			*list = append(*list, id)
		}
	}
	for i := range made {
		m := &made[i]
		for _, x := range m.balls() {
			add(&t.Balls, x.Core.ID)
		}
		add(&t.Yarns, m.yarn.Yarn.ID)
		for _, x := range m.tubing {
			add(&t.Tubing, x.Tube.ID)
		}
	}
	return t
}

// pool is the heads of a family, and the ladder to be climbed with them.
type pool struct {
	heads   []propose.Candidate // by item
	problem *ladder.Problem
}

// pools winds every choice of rubber that reaches a rung to it, and makes the
// ladder of each family.
func (b *bench) pools(made []making, reach float64) (list []pool, heads int) {
	type place struct{ family, rung int }
	var places []place
	var stacks []head.Stack
	var small []bool
	for i := range made {
		m := &made[i]
		for _, w := range m.rubber {
			for k, want := range b.rungs {
				if w.small && k < len(b.rungs)-1 { // at the soft end alone
					continue
				}
				if want < w.softness[0]-reach || want > w.softness[2]+reach || !b.wide && !w.may(&b.measure) {
					continue
				}
				places = append(places, place{i, k})
				stacks = append(stacks, m.stacks(w.stack, []int{w.wind(want)})...)
				small = append(small, w.small)
			}
		}
	}
	all := b.brought(stacks, func(i int) float64 { return b.rungs[places[i].rung] }, reach)
	score := make([]float64, len(all))
	top := make([]float64, len(b.rungs))
	for k := range top {
		top[k] = math.Inf(-1)
	}
	for i := range all {
		k, c := places[i].rung, &all[i]
		score[i] = math.Inf(-1)
		if c.ok && b.fits(&c.Candidate) && math.Abs(c.Facts.Head.Softness-b.rungs[k]) <= reach {
			score[i] = b.apart(k, &c.Candidate)
			top[k] = max(top[k], score[i])
		}
	}
	w := &b.measure
	list = make([]pool, len(made))
	lays := make([]laddering, len(made))
	for i := range list {
		list[i].problem = &ladder.Problem{Rungs: b.rungs, Reach: reach, Rise: b.gap() / 4,
			Weights: ladder.Weights{Notch: w.Notch, Gram: w.Gram, MM: w.MM, Step: w.Step, Cent: w.Cost / 100}}
		lays[i] = laddering{b: b, p: list[i].problem, parts: map[string]int{}}
	}
	for i := range all {
		if math.IsInf(score[i], -1) {
			continue
		}
		at, c := places[i], &all[i].Candidate
		h := &c.Facts.Head
		it := ladder.Item{ID: c.Stack.String(), Softness: h.Softness, MassG: h.MassG, DiameterMM: h.DiameterMM, Penalty: top[at.rung] - score[i]}
		if small[i] {
			it.Penalty += w.Core
		}
		if made[at.family].hardness != nil {
			it.Hardness = c.Stack.Core.DurometerA
		}
		lays[at.family].uses(&it, c)
		p := &list[at.family]
		p.problem.Items, p.heads = append(p.problem.Items, it), append(p.heads, *c)
		heads++
	}
	return list, heads
}

// aim is a stack that is to be wound to a softness.
type aim struct {
	stack string
	want  float64
}

// weighed is what a head comes to before it is judged.
type weighed struct{ softness, g, mm float64 } // NaN where it can't be built

// brought is a stack wound to a softness as far as turns do that, and all that is
// to be said of it once that was worked out.
type brought struct {
	stack head.Stack
	want  float64
	weighed
	seen *quick
}

// brought winds each stack to the softness wanted of it. What comes past reach, or
// could be in no set, is left empty. Ladders that a bench goes for share rungs, and
// what was wound for one is kept for the others.
func (b *bench) brought(stacks []head.Stack, want func(i int) float64, reach float64) []quick {
	list := make([]*brought, len(stacks))
	var open []*brought
	for i := range stacks {
		key := aim{stacks[i].String(), want(i)}
		x := b.kept[key]
		if x == nil {
			x = &brought{stack: stacks[i], want: want(i)}
			b.kept[key] = x
			open = append(open, x)
		}
		list[i] = x
	}
	could := func(x *brought) bool {
		return math.Abs(x.softness-x.want) <= reach && (b.wide || b.measure.usual(x.g, x.mm))
	}
	look := func(j *propose.Judging, x *brought) {
		if x.seen == nil && could(x) {
			c, ok := j.Quick(x.stack)
			x.seen = &quick{c, ok}
		}
	}
	b.share(len(open), func(j *propose.Judging, i int) {
		b.bring(j, open[i])
		look(j, open[i])
	})
	open = open[:0]
	for _, x := range list {
		if x.seen == nil && could(x) && !slices.Contains(open, x) {
			open = append(open, x)
		}
	}
	b.share(len(open), func(j *propose.Judging, i int) { look(j, open[i]) })
	all := make([]quick, len(stacks))
	for i, x := range list {
		if could(x) {
			all[i] = *x.seen
		}
	}
	return all
}

// bring winds a head to a softness: once more by the slope that the first try
// shows, where it is off.
func (b *bench) bring(j *propose.Judging, x *brought) {
	const near, by = 0.05, 10
	x.softness = math.NaN()
	if x.stack.Check() != nil {
		return
	}
	h, is, ok := j.Softness(x.stack)
	if !ok {
		return
	}
	if off := x.want - is; math.Abs(off) > near {
		least, most := b.measure.turns()
		with := func(turns int) head.Stack {
			w := *x.stack.Wrap
			w.Turns = min(max(turns, least), most)
			s := x.stack
			s.Wrap = &w
			return s
		}
		n := x.stack.Wrap.Turns
		_, next, _ := j.Softness(with(n + by))
		if slope := (next - is) / by; slope >= 1e-3 {
			again := with(n + int(math.Round(off/slope)))
			if other, at, ok := j.Softness(again); ok && math.Abs(x.want-at) < math.Abs(off) {
				h, is, x.stack = other, at, again
			}
		}
	}
	x.weighed = weighed{is, h.Mass.Grams(), h.Diameter.MM()}
}

// laddering gathers the parts that the items of a ladder share.
type laddering struct {
	b     *bench
	p     *ladder.Problem
	parts map[string]int
}

// uses adds what the heads of one rung take: pieces, tenths of a millimetre of
// tubing, or milligrams of yarn.
func (l *laddering) uses(it *ladder.Item, c *propose.Candidate) {
	heads := float64(l.b.q.Count())
	lim := &l.b.f.Catalogue().Limits
	add := func(id string, unit, amount, pack float64, price measure.Money) {
		at, ok := l.parts[id]
		if !ok {
			at = len(l.p.Parts)
			l.parts[id] = at
			q := ladder.Part{ID: id, Pack: int64(pack * unit), Price: int64(price)}
			if l.b.q.Bin != nil {
				q.Have = int64(min(l.b.q.Bin.OnHand(id)*unit, 1e15))
				if w := l.b.judge[0].Weights.Buying; q.Have == 0 && l.b.measure.Cost > 0 { // what is bought has to earn its way, as for a head
					q.Price += int64(100 * w / l.b.measure.Cost)
				}
				if !slices.Contains(l.b.q.Bin.Buy, id) {
					q.Pack = 0
				}
			}
			l.p.Parts = append(l.p.Parts, q)
		}
		n := int64(math.Ceil(amount*heads*unit - 1e-6))
		if i := slices.IndexFunc(it.Uses, func(u ladder.Use) bool { return u.Part == at }); i >= 0 {
			it.Uses[i].Amount += n
			return
		}
		it.Uses = append(it.Uses, ladder.Use{Part: at, Amount: n})
	}
	s := &c.Stack
	add(s.Core.ID, 1, 1, float64(s.Core.Pack), s.Core.Price)
	for i, sl := range s.Slices {
		add(sl.Tube.ID, 1e4, c.Layers[i].CutMM/1000+lim.KerfM.Value, float64(sl.Tube.Pack), sl.Tube.Price)
	}
	if w := s.Wrap; w != nil {
		add(w.Yarn.ID, 1e6, float64(c.Head.YarnMass), float64(w.Yarn.Pack), w.Yarn.Price)
	}
	if sh := s.Shaft; sh != nil {
		add(sh.ID, 1, 1, float64(sh.Pack), sh.Price)
	}
}
