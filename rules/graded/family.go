package graded

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// Sizes of what is considered: kinds of ball and yarns, whose families are all
// tried; sizes of tubing in a family; and turns, from which a head is wound.
// They bound the work and say nothing about sound.
const (
	mostBalls, mostYarns  = 5, 4
	mostTubing            = 3
	leastTurns, mostTurns = 64, 216
	turnsApart            = 8
)

// family is what the heads of a wound set share. A bare family has no yarn.
type family struct {
	balls  []head.Stack // the core of the set, and the next smaller size of the same
	yarn   *head.Wrap
	tubing []head.Slice
}

func (f *family) String() string {
	if f.yarn == nil {
		return "bare balls by their hardness"
	}
	b := &f.balls[0]
	return fmt.Sprintf("%s balls of %s under %s", b.Material.Name, b.Core.Diameter.In(), f.yarn.Yarn.Name)
}

// bench is what a set is chosen from.
type bench struct {
	f     *propose.Finder
	q     propose.Request
	opts  Options
	j     *propose.Judging
	judge []*propose.Judging // by rung: what is liked differs with the softness
	asked []float64          // softness asked for on each rung
	rungs []float64          // and gone for
	parts *search.Search
	bare  bool
	set   map[string]float64 // the weights of the book

	broken string // what the chosen set does not keep to
}

// newBench gathers what a request may use.
func newBench(ctx context.Context, f *propose.Finder, q propose.Request, opts Options, rungs []float64) (*bench, error) {
	b := &bench{f: f, q: q, opts: opts, j: f.Judging(q), asked: rungs, rungs: rungs, parts: search.New(f, q)}
	b.set = f.Book().Weights(b.j.Base, f.Told(b.j.Base, q.Known))
	b.judges()
	best, err := search.Best(ctx, f, b.at(len(rungs)/2))
	if err != nil {
		return nil, err
	}
	b.bare = best.Stack.Wrap == nil
	if _, none := b.parts.Yarns(); b.bare && !none {
		b.bare = false
	}
	return b, nil
}

// at is the request for a rung.
func (b *bench) at(k int) propose.Request {
	q := b.q
	q.Facts.Want.Softness = b.rungs[k]
	q.Known = maps.Clone(q.Known)
	if q.Known == nil {
		q.Known = rules.Known{}
	}
	q.Known[facts.WantSoftness] = true // medium as well, where that is the rung
	return q
}

func (b *bench) judges() {
	b.judge = nil
	for k := range b.rungs {
		b.judge = append(b.judge, b.f.Judging(b.at(k)))
	}
}

// quickAll computes stacks on all processors and returns those that no rule
// refuses.
func (b *bench) quickAll(list []head.Stack) []propose.Candidate {
	made := make([]*propose.Candidate, len(list))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range max(1, min(runtime.GOMAXPROCS(0), 8)) {
		wait.Go(func() {
			j := b.f.Judging(b.q)
			for i := int(next.Add(1)) - 1; i < len(list); i = int(next.Add(1)) - 1 {
				if list[i].Check() == nil {
					if c, ok := j.Quick(list[i]); ok {
						made[i] = &c
					}
				}
			}
		})
	}
	wait.Wait()
	var out []propose.Candidate
	for _, c := range made {
		if c != nil {
			out = append(out, *c)
		}
	}
	return out
}

// apart is a head's score on a rung apart from its softness, which the ladder
// weighs.
func (b *bench) apart(k int, c *propose.Candidate) float64 {
	j := b.judge[k]
	at := j.Base
	at.Head = c.Facts.Head
	score, refused := j.Score(&at, c.Layers)
	if refused != nil {
		return math.Inf(-1)
	}
	return score + j.SoftnessOff(c.Facts.Head.Softness)
}

// families lists the families to try, those that the rules like best first.
func (b *bench) families() []family {
	yarns, _ := b.parts.Yarns()
	balls := b.parts.Balls()
	if b.bare {
		return []family{{balls: balls}}
	}
	if len(yarns) == 0 || len(balls) == 0 {
		return nil
	}
	// Balls are compared under the same yarn and the slices that suit each.
	byYarn := b.yarns(balls, yarns)
	tubing := map[string][]head.Slice{}
	score := map[string]float64{}
	for i := range balls {
		tubing[balls[i].Core.ID] = b.tubing(balls[i], byYarn[0])
		score[balls[i].Core.ID] = b.likes(balls[i], byYarn[0], tubing[balls[i].Core.ID])
	}
	slices.SortStableFunc(balls, func(x, y head.Stack) int { return cmp.Compare(score[y.Core.ID], score[x.Core.ID]) })
	balls = slices.DeleteFunc(balls, func(x head.Stack) bool { return math.IsInf(score[x.Core.ID], -1) })
	var list []family
	for _, ball := range balls[:min(mostBalls, len(balls))] {
		for _, yarn := range byYarn[:min(mostYarns, len(byYarn))] {
			f := family{balls: []head.Stack{ball}, yarn: &yarn, tubing: tubing[ball.Core.ID]}
			if less, ok := smaller(ball, balls); ok {
				f.balls = append(f.balls, less)
			}
			list = append(list, f)
		}
	}
	return list
}

// smaller returns the next smaller ball of the same material and hardness.
func smaller(ball head.Stack, among []head.Stack) (head.Stack, bool) {
	best := -1
	for i, x := range among {
		if x.Material.ID == ball.Material.ID && x.Core.DurometerA == ball.Core.DurometerA && (x.Core.Bore > 0) == (ball.Core.Bore > 0) &&
			x.Core.Diameter < ball.Core.Diameter && (best < 0 || x.Core.Diameter > among[best].Core.Diameter) {
			best = i
		}
	}
	if best < 0 {
		return head.Stack{}, false
	}
	return among[best], true
}

// yarns sorts the yarns by how well they do on the ball that does best with
// any of them.
func (b *bench) yarns(balls []head.Stack, yarns []head.Wrap) []head.Wrap {
	mid := len(b.rungs) / 2
	var list []head.Stack
	for _, ball := range balls {
		for _, y := range yarns {
			for _, turns := range []int{90, 150} {
				s := ball
				w := y
				w.Turns = turns
				s.Wrap = &w
				list = append(list, s)
			}
		}
	}
	best := map[string]float64{}
	for _, c := range b.quickAll(list) {
		id := c.Stack.Wrap.Yarn.ID
		if x := b.apart(mid, &c); best[id] == 0 || x > best[id] {
			best[id] = x
		}
	}
	out := slices.Clone(yarns)
	slices.SortStableFunc(out, func(x, y head.Wrap) int { return cmp.Compare(best[y.Yarn.ID], best[x.Yarn.ID]) })
	return out
}

// tubing returns the few tubings that the layer rules like best on a ball and
// on a slice over it.
func (b *bench) tubing(ball head.Stack, yarn head.Wrap) []head.Slice {
	yarn.Turns = 100
	ball.Wrap = &yarn
	type liked struct {
		slice head.Slice
		score float64
	}
	on := func(below []head.Slice) []liked {
		var stacks []head.Stack
		for _, t := range b.parts.Tubing() {
			s := ball
			s.Slices = append(slices.Clone(below), t)
			stacks = append(stacks, s)
		}
		var list []liked
		for _, c := range b.quickAll(stacks) {
			list = append(list, liked{c.Stack.Slices[len(below)], b.apart(len(b.rungs)-1, &c)})
		}
		slices.SortStableFunc(list, func(x, y liked) int { return cmp.Compare(y.score, x.score) })
		return list
	}
	first := on(nil)
	if len(first) == 0 {
		return nil
	}
	list := []head.Slice{first[0].slice}
	add := func(s head.Slice) {
		if len(list) < mostTubing && !slices.ContainsFunc(list, func(x head.Slice) bool { return x.Tube.ID == s.Tube.ID }) {
			list = append(list, s)
		}
	}
	if second := on(list); len(second) > 0 {
		add(second[0].slice)
	}
	for _, x := range first[1:] {
		add(x.slice)
	}
	return list
}

// likes is how well a ball does over the rungs with what suits it.
func (b *bench) likes(ball head.Stack, yarn head.Wrap, tubing []head.Slice) float64 {
	f := family{balls: []head.Stack{ball}, yarn: &yarn, tubing: tubing}
	list := b.quickAll(f.stacks([]int{90, 150}))
	if len(list) == 0 {
		return math.Inf(-1)
	}
	sum := 0.0
	for k, want := range b.rungs {
		best := math.Inf(-1)
		for i := range list {
			off := math.Abs(list[i].Facts.Head.Softness - want)
			best = max(best, b.apart(k, &list[i])-b.set["set-notch"]*max(0, off-0.8))
		}
		sum += best
	}
	return sum
}

// stacks lists the heads of a family with given turns.
func (f *family) stacks(turns []int) []head.Stack {
	if f.yarn == nil {
		return slices.Clone(f.balls)
	}
	var list []head.Stack
	var grow func(s head.Stack)
	grow = func(s head.Stack) {
		for _, n := range turns {
			x := s
			w := *f.yarn
			w.Turns = n
			x.Wrap = &w
			list = append(list, x)
		}
		if len(s.Slices) == mostTubing {
			return
		}
		for _, t := range f.tubing {
			x := s
			x.Slices = append(slices.Clone(s.Slices), t)
			grow(x)
		}
	}
	for _, ball := range f.balls {
		grow(ball)
	}
	return list
}

// pool is the heads of a family, and the ladder to be climbed with them.
type pool struct {
	heads   []propose.Candidate // by item
	problem *ladder.Problem
}

// choose tries every family, and returns the best set and what it falls short
// of.
func (b *bench) choose(ctx context.Context) (Set, *Short, error) {
	fams := b.families()
	var turns []int
	for n := leastTurns; n <= mostTurns; n += turnsApart {
		turns = append(turns, n)
	}
	made := make([][]propose.Candidate, len(fams))
	for i := range fams {
		made[i] = b.quickAll(fams[i].stacks(turns))
		if err := ctx.Err(); err != nil {
			return Set{}, nil, err
		}
	}
	if !b.fits(made) {
		return Set{}, nil, fault.Errorf("no heads that can be built make a set of %d", b.opts.Rungs)
	}
	b.judges()
	top := make([]float64, len(b.rungs))
	scores := make([][][]float64, len(fams))
	for k := range b.rungs {
		top[k] = math.Inf(-1)
	}
	const near = 1.0
	for i := range made {
		scores[i] = make([][]float64, len(b.rungs))
		for k, want := range b.rungs {
			scores[i][k] = make([]float64, len(made[i]))
			for n := range made[i] {
				c := &made[i][n]
				scores[i][k][n] = math.Inf(-1)
				if math.Abs(c.Facts.Head.Softness-want) <= b.mostReach() {
					x := b.apart(k, c)
					scores[i][k][n] = x
					if math.Abs(c.Facts.Head.Softness-want) <= near {
						top[k] = max(top[k], x)
					}
				}
			}
		}
	}
	trends := []bool{true, false} // strict first
	for _, strict := range trends {
		for _, reach := range b.reaches() {
			best := -1
			var got ladder.Set
			var from *pool
			for i := range fams {
				p := b.pool(&fams[i], made[i], scores[i], top, reach, strict)
				x, err := p.climb(ctx)
				if ctx.Err() != nil && x.Pick == nil {
					return Set{}, nil, ctx.Err()
				}
				if err == nil && (best < 0 || x.Cost < got.Cost-1e-9) {
					best, got, from = i, x, p
				}
			}
			if best < 0 {
				continue
			}
			if !strict {
				b.broken = "mass or size does not grow from each head to the next"
			}
			set, err := b.finish(&fams[best], got, from)
			if err != nil {
				return Set{}, nil, err
			}
			return set, b.short(&set), nil
		}
		if b.mass() == ladder.Free && b.size() == ladder.Free {
			break
		}
	}
	return Set{}, nil, fault.Errorf("the parts on hand do not reach for a set of %d", b.opts.Rungs)
}

// fits draws the rungs in to what some family reaches, and reports whether any
// does. The family that reaches furthest towards what was asked for decides.
func (b *bench) fits(made [][]propose.Candidate) bool {
	n := len(b.asked)
	least := math.Inf(1)
	var from, to float64
	for _, list := range made {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range list {
			lo, hi = min(lo, list[i].Facts.Head.Softness), max(hi, list[i].Facts.Head.Softness)
		}
		a, z := max(lo, b.asked[0]), min(hi, b.asked[n-1])
		if len(list) < n || z <= a {
			continue
		}
		if miss := (a - b.asked[0]) + (b.asked[n-1] - z); miss < least-1e-9 {
			least, from, to = miss, a, z
		}
	}
	if math.IsInf(least, 1) {
		return false
	}
	if least > 0.5 {
		b.rungs = make([]float64, n)
		for k := range b.rungs {
			b.rungs[k] = from + (to-from)*float64(k)/float64(n-1)
		}
	}
	return true
}

func (b *bench) gap() float64 {
	return (b.rungs[len(b.rungs)-1] - b.rungs[0]) / float64(len(b.rungs)-1)
}

// reaches are how far off its rung a head may be: wound heads a hair at first,
// so that the gaps are even to a quarter notch; of bare balls there are few.
func (b *bench) reaches() []float64 {
	if b.bare {
		return []float64{b.mostReach()}
	}
	return []float64{0.1, 0.2, 0.5, b.mostReach()}
}

func (b *bench) mostReach() float64 { return max(0.75*b.gap(), 0.6) }

func (b *bench) mass() ladder.Trend { return b.trend(b.opts.Mass) }
func (b *bench) size() ladder.Trend { return b.trend(b.opts.Size) }

func (b *bench) trend(t ladder.Trend) ladder.Trend {
	switch {
	case t != "":
		return t
	case b.bare:
		return ladder.Free
	}
	return ladder.Grow
}

// pool makes the ladder of a family.
func (b *bench) pool(fam *family, list []propose.Candidate, scores [][]float64, top []float64, reach float64, strict bool) *pool {
	w := &b.set
	p := &pool{problem: &ladder.Problem{
		Rungs: b.rungs, Reach: reach, Rise: b.gap() / 4, Mass: b.mass(), Size: b.size(), Strict: strict,
		Weights: ladder.Weights{Notch: (*w)["set-notch"], Gram: (*w)["set-gram"], MM: (*w)["set-mm"], Cent: (*w)["set-cost"] / 100},
	}}
	l := &laddering{b: b, p: p.problem, parts: map[string]int{}}
	for i := range list {
		c := &list[i]
		h := &c.Facts.Head
		for k, want := range b.rungs {
			if math.Abs(h.Softness-want) > reach || math.IsInf(scores[k][i], -1) {
				continue
			}
			it := ladder.Item{
				ID: c.Stack.String(), Softness: h.Softness, MassG: h.MassG, DiameterMM: h.DiameterMM,
				Penalty: max(0, top[k]-scores[k][i]),
			}
			if fam.yarn != nil && c.Stack.Core.ID != fam.balls[0].Core.ID {
				if k < len(b.rungs)-1 {
					continue // a smaller ball at the soft end alone
				}
				it.Penalty += (*w)["set-core"]
			}
			l.uses(&it, c)
			p.problem.Items = append(p.problem.Items, it)
			p.heads = append(p.heads, *c)
			break // rungs are further apart than heads reach
		}
	}
	return p
}

// climb solves the ladder, and again with the largest jump held down until no
// difference in mass or size is over twice the mean one.
func (p *pool) climb(ctx context.Context) (ladder.Set, error) {
	got, err := p.problem.Solve(ctx)
	if err != nil || !p.problem.Strict || p.problem.Mass != ladder.Grow {
		return got, err
	}
	for range 6 {
		grams, mostG := p.steps(got, func(it *ladder.Item) float64 { return it.MassG })
		mm, mostMM := p.steps(got, func(it *ladder.Item) float64 { return it.DiameterMM })
		if mostG <= 2*grams && mostMM <= 2*mm {
			return got, nil
		}
		tighter := *p.problem
		tighter.MostG, tighter.MostMM = min(mostG-0.05, 2*grams), min(mostMM-0.02, 2*mm)
		next, err := tighter.Solve(ctx)
		if err != nil {
			// No way without a jump: what there is stands, and costs.
			got.Cost += 3 * (mostG/max(grams, 0.1) - 2)
			return got, ctx.Err()
		}
		p.problem, got = &tighter, next
	}
	return got, nil
}

// steps returns the mean and the largest step of a measure.
func (p *pool) steps(got ladder.Set, of func(*ladder.Item) float64) (mean, most float64) {
	n := len(got.Pick)
	at := func(k int) float64 { return of(&p.problem.Items[got.Pick[k]]) }
	for k := 1; k < n; k++ {
		most = max(most, math.Abs(at(k)-at(k-1)))
	}
	return math.Abs(at(n-1)-at(0)) / float64(n-1), most
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
