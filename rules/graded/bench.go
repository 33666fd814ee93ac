package graded

import (
	"context"
	"maps"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
)

// bench is what a set is chosen from.
type bench struct {
	f       *propose.Finder
	q       propose.Request
	opts    Options
	judge   []*propose.Judging // by rung: what is liked differs with the softness
	asked   []float64          // softness asked for on each rung
	said    bool               // by somebody, and not by what sets usually are
	rungs   []float64          // and gone for
	parts   *search.Search
	measure Measure
	wide    bool             // also heads past the usual weight and size of the instrument
	kept    map[aim]*brought // wound already

	opens []string // what would open up what can't be had
}

// newBench gathers what a request may use.
func newBench(f *propose.Finder, q propose.Request, opts Options) *bench {
	j := f.Judging(q)
	b := &bench{f: f, q: q, opts: opts, parts: search.New(f, q), kept: map[aim]*brought{}}
	b.measure = measureOf(f.Book().Weights(j.Base, f.Told(j.Base, q.Known)))
	b.asked = opts.rungs(f.Usual(q).Softness)
	b.aim(b.asked)
	return b
}

// aim goes for a softness on each rung.
func (b *bench) aim(rungs []float64) {
	b.rungs, b.judge = rungs, nil
	for k := range rungs {
		b.judge = append(b.judge, b.f.Judging(b.at(k)))
	}
}

// at is the request for a rung.
func (b *bench) at(k int) propose.Request { return b.wanting(b.rungs[k]) }

// wanting is the request for a softness.
func (b *bench) wanting(softness float64) propose.Request {
	q := b.q
	q.Facts.Want.Softness = softness
	q.Known = maps.Clone(q.Known)
	if q.Known == nil {
		q.Known = rules.Known{}
	}
	q.Known[facts.WantSoftness] = true // medium as well, where that is the rung
	return q
}

// choose chooses a set, and returns what it misses of what was asked.
func (b *bench) choose(ctx context.Context) (Set, []string, error) {
	yarns, bare := b.parts.Yarns()
	if b.measure.Bare && bare || len(yarns) == 0 {
		return b.bare(ctx)
	}
	return b.wound(ctx)
}

// quick is a head by the reduced stroke, and whether a rule refuses it.
type quick struct {
	propose.Candidate
	ok bool
}

// quicks computes stacks on all processors. A stack that can't be built is not
// ok.
func (b *bench) quicks(list []head.Stack) []quick {
	made := make([]quick, len(list))
	b.share(len(list), func(j *propose.Judging, i int) {
		if list[i].Check() == nil {
			made[i].Candidate, made[i].ok = j.Quick(list[i])
		}
	})
	return made
}

// plain computes how soft, heavy and large stacks are.
func (b *bench) plain(list []head.Stack) []weighed {
	all := make([]weighed, len(list))
	b.share(len(list), func(j *propose.Judging, i int) {
		all[i].softness = math.NaN()
		if list[i].Check() == nil {
			if h, x, ok := j.Softness(list[i]); ok {
				all[i] = weighed{x, h.Mass.Grams(), h.Diameter.MM()}
			}
		}
	})
	return all
}

// share does something n times, on all processors.
func (b *bench) share(n int, do func(j *propose.Judging, i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range max(1, min(runtime.GOMAXPROCS(0), 8, n/16)) {
		wait.Go(func() {
			j := b.f.Judging(b.q)
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(j, i)
			}
		})
	}
	wait.Wait()
}

// apart is a head's score on a rung apart from its softness, which the ladder
// weighs.
func (b *bench) apart(k int, c *propose.Candidate) float64 {
	j := b.judge[k]
	score, refused := j.Again(c)
	if refused != nil {
		return math.Inf(-1)
	}
	return score + j.Weights.Softness*math.Abs(c.Facts.Head.Softness-b.rungs[k])
}

// fits reports whether a head may be in a set at all.
func (b *bench) fits(c *propose.Candidate) bool {
	return b.wide || b.measure.usual(c.Facts.Head.MassG, c.Facts.Head.DiameterMM)
}

func (b *bench) gap() float64 {
	return (b.rungs[len(b.rungs)-1] - b.rungs[0]) / float64(len(b.rungs)-1)
}

// trend is what mass or size is to do: what was asked, else grow where heads
// are wound.
func trend(asked ladder.Trend, bare bool) ladder.Trend {
	switch {
	case asked != "":
		return asked
	case bare:
		return ladder.Free
	}
	return ladder.Grow
}
