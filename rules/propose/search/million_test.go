package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"syscall"
	"testing"
	"time"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// synthetic is a made-up catalogue: cores and yarns of the shipped one, and
// tubing in finer steps of bore and wall than anybody stocks.
func synthetic(cat *knowledge.Catalogue, tubes int) *knowledge.Catalogue {
	c := *cat
	c.Cores, c.Tubing = nil, nil
	for _, x := range cat.Cores {
		if m, _ := cat.Material(x.Material); m.Family == "plastic" && x.Bore > 0 {
			c.Cores = append(c.Cores, x)
		}
	}
	c.Yarns = cat.Yarns[:6]
	base := cat.Tubing[0]
	for i := range tubes {
		t := base
		t.Bore = measure.Inch * measure.Length(0.5+0.6*float64(i)/float64(tubes))
		t.Wall = measure.Inch * measure.Length(1+i%4) / 32
		t.ID = fmt.Sprintf("synthetic-%d", i)
		c.Tubing = append(c.Tubing, t)
	}
	return &c
}

// count walks every head of a search and counts those that no rule refuses
// before a stroke.
func (s *Search) count() (heads int) {
	w := s.worker()
	var walk func(n *node)
	walk = func(n *node) {
		for i := range n.root.Cores {
			on := n.root.Cores[i].Alone()
			for k := range w.Wraps {
				w.within(n, &on, []int{k})
				w.narrow(-100, 100)
				if _, refused := w.bound.Bound(&w.lo, &w.hi); refused == nil {
					heads++
				}
			}
		}
		if n.depth < propose.MostLayers {
			for t := range w.Tubes { // not by child, which would keep them all
				if x := w.fit(n, t); x != nil {
					walk(x)
				}
			}
		}
	}
	for _, r := range s.Roots {
		walk(&node{root: r, bed: head.Ball(r.Cores[0].Core), gripKPa: math.Inf(1)})
	}
	return heads
}

func spentCPU() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkSearch searches synthetic catalogues of growing size for the best
// head. heads is how many can be built, zero where they are too many to count, cpu-ms
// processor time over all cores, heap-MB what the search holds at its end. Brute
// force tries everything, where that is over within the hour.
func BenchmarkSearch(b *testing.B) {
	cat := proposetest.Finder(b).Catalogue()
	for _, tubes := range []int{4, 8, 12, 16} {
		f := finderOf(b, synthetic(cat, tubes))
		q := propose.Request{}
		q.Facts.Player = facts.Player{Grip: "two", Level: "many"}
		q.Pass = proposetest.Grown()
		q.Facts.Instrument.Kind = "marimba"
		q.Facts.Want.Softness = 2
		heads := 0
		if tubes <= 12 { // it takes 1.3 µs a head
			heads = New(f, q).count()
		}
		name := fmt.Sprintf("tubes=%d", tubes)
		b.Run(name+"/search", func(b *testing.B) {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			at := spentCPU()
			for b.Loop() {
				s := New(f, q)
				g := NewGoal(Shortlist, math.Inf(-1))
				s.Run(context.Background(), g)
				if len(g.best) == 0 {
					b.Fatal("nothing found")
				}
				runtime.ReadMemStats(&after)
			}
			b.ReportMetric(float64(heads), "heads")
			b.ReportMetric(float64((spentCPU()-at).Microseconds())/1000/float64(b.N), "cpu-ms")
			b.ReportMetric(float64(after.HeapAlloc-min(before.HeapAlloc, after.HeapAlloc))/1e6, "heap-MB")
		})
		if heads == 0 || heads > 60_000 {
			continue
		}
		b.Run(name+"/brute", func(b *testing.B) {
			at := spentCPU()
			for b.Loop() {
				s := New(f, q)
				if len(s.quickAll(s.everything())) == 0 {
					b.Fatal("nothing found")
				}
			}
			b.ReportMetric(float64(heads), "heads")
			b.ReportMetric(float64((spentCPU()-at).Microseconds())/1000/float64(b.N), "cpu-ms")
		})
	}
}

// TestSearchIsExactOnMany compares the search with a sample out of very many
// heads: none that is drawn at random does better than the best found. With
// MALLOW_LONG set, out of many more.
func TestSearchIsExactOnMany(t *testing.T) {
	cat := proposetest.Finder(t).Catalogue()
	tubes := 6
	if os.Getenv("MALLOW_LONG") != "" {
		tubes = 24
	}
	f := finderOf(t, synthetic(cat, tubes))
	q := propose.Request{}
	q.Facts.Player = facts.Player{Grip: "cross", Level: "many"}
	q.Pass = proposetest.Grown()
	q.Facts.Want.Softness = 1
	s := New(f, q)
	g := NewGoal(1, math.Inf(-1))
	s.Run(context.Background(), g)
	if len(g.best) == 0 {
		t.Fatal("nothing found")
	}
	r := rand.New(rand.NewPCG(9, 9))
	j := f.Judging(q)
	better := 0
	for range 4000 {
		root := s.Roots[r.IntN(len(s.Roots))]
		c := &root.Cores[r.IntN(len(root.Cores))]
		st := head.Stack{Core: c.Core, Material: c.Material, Shaft: c.Shaft}
		for range r.IntN(4) {
			st.Slices = append(st.Slices, s.Tubes[r.IntN(len(s.Tubes))].Slice)
		}
		if o := &s.Wraps[r.IntN(len(s.Wraps))]; !o.None {
			w := o.Wrap
			w.Turns = head.PlainTurns(w.Yarn, s.bare(st))
			st.Wrap = &w
		}
		if st.Check() != nil {
			continue
		}
		if x, ok := j.Quick(st); ok {
			better++
			if x.Score > g.best[0].score+1e-9 {
				t.Errorf("%s scores %v, the best found %v", x.Stack, x.Score, g.best[0].score)
			}
		}
	}
	if better < 100 {
		t.Errorf("only %d heads drawn could be built; the test says little", better)
	}
}
