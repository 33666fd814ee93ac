package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search/bounds"
	"mallow/rules/propose/search/girth"
	"mallow/rules/propose/search/kit"
	"mallow/rules/propose/stray"
)

func finderOf(t testing.TB, cat *knowledge.Catalogue) *propose.Finder {
	t.Helper()
	book := factstest.Book(t)
	f, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// small returns the catalogue cut down to a few parts drawn at random, so that
// every stack of them can be tried.
func small(r *rand.Rand, cat *knowledge.Catalogue, cores, tubes, yarns int) *knowledge.Catalogue {
	c := *cat
	c.Cores = draw(r, cat.Cores, cores)
	c.Tubing = draw(r, cat.Tubing, tubes)
	c.Yarns = draw(r, cat.Yarns, yarns)
	return &c
}

func draw[T any](r *rand.Rand, list []T, n int) []T {
	list = slices.Clone(list)
	r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	return list[:min(n, len(list))]
}

// someone draws a player who asks for something.
func someone(r *rand.Rand) propose.Request {
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	var q propose.Request
	q.Facts.Player = facts.Player{
		Grip: pick("two", "cross", "independent"), Level: pick("first", "some", "many"),
	}
	q.Pass = proposetest.Grown().But(gate.LatexOK, r.IntN(4) > 0).But(gate.Minor, r.IntN(5) == 0).But(gate.Supervised, true)
	q.Facts.Bench = facts.Bench{Drill: r.IntN(4) > 0}
	q.Pass = q.Pass.But(gate.Ventilated, r.IntN(2) == 0)
	q.Facts.Instrument.Kind = pick("marimba", "marimba", "vibraphone", "xylophone")
	q.Facts.Want = facts.Want{
		Softness: float64(r.IntN(25))/2 - 8, Register: pick("whole", "low", "high"), Loudest: pick("p", "mf", "f", "ff"),
		Colour: pick("dark", "even", "bright"), Attack: pick("clear", "even", "blended"), Opening: pick("steady", "even", "opens"),
	}
	if r.IntN(3) == 0 {
		q.Facts.Want.MassG = 20 + 20*r.Float64()
	}
	if r.IntN(3) == 0 {
		q.Facts.Want.BudgetCents = 600 + 800*r.Float64()
	}
	return q
}

// everything lists every stack that a search may build, by no cleverness at
// all.
func (s *Search) everything() []head.Stack {
	var list []head.Stack
	for _, r := range s.Roots {
		for i := range r.Cores {
			c := &r.Cores[i]
			var grow func(st head.Stack)
			grow = func(st head.Stack) {
				for k := range s.Wraps {
					o := &s.Wraps[k]
					x := st
					x.Wrap = nil
					if !o.None {
						w := o.Wrap
						w.Turns = head.PlainTurns(w.Yarn, s.bare(st))
						w.Yarn, _ = s.f.Catalogue().Yarn(w.Yarn.ID)
						x.Wrap = &w
					}
					list = append(list, x)
				}
				if len(st.Slices) == propose.MostLayers {
					return
				}
				for t := range s.Tubes {
					x := st
					x.Slices = append(slices.Clone(st.Slices), s.Tubes[t].Slice)
					grow(x)
				}
			}
			grow(head.Stack{Core: c.Core, Material: c.Material, Shaft: c.Shaft})
		}
	}
	return list
}

// quickAll computes stacks one by one, and returns those that no rule refuses.
func (s *Search) quickAll(stacks []head.Stack) (list []propose.Candidate) {
	j := s.f.Judging(s.q)
	for _, st := range stacks {
		if s.mixed(st) || st.Check() != nil {
			continue
		}
		if c, ok := j.Quick(st); ok {
			list = append(list, c)
		}
	}
	return list
}

// TestSearchIsExact compares the search with trying everything: the same best
// heads with the same scores, and facts that agree with those of heads
// computed one by one. With MALLOW_LONG set, over many more catalogues.
func TestSearchIsExact(t *testing.T) {
	cat := proposetest.Finder(t).Catalogue()
	none, halved := 0, 0
	draws := 12
	if os.Getenv("MALLOW_LONG") != "" {
		draws = 300
	}
	for seed := range uint64(draws) {
		r := rand.New(rand.NewPCG(seed, 3))
		parts := small(r, cat, 3, 3, 2)
		if seed%3 == 2 { // so many cores that they are bound in halves, and many yarns
			parts = small(r, cat, 1, 2, 9)
			for i := range 3 * kit.FewAtOnce {
				c := parts.Cores[0]
				c.ID, c.Price = fmt.Sprintf("%s-%d", c.ID, i), c.Price*measure.Money(i+1)/4
				parts.Cores = append(parts.Cores, c)
			}
		}
		f := finderOf(t, parts)
		q := someone(r)
		s := New(f, q)
		if seed%3 == 2 && len(s.Roots) > 0 {
			halved += len(s.Roots[0].Halves)
		}
		g := NewGoal(Shortlist, math.Inf(-1))
		s.Run(context.Background(), g)
		all := s.quickAll(s.everything())
		if len(all) == 0 {
			none++
			if len(g.best) != 0 {
				t.Errorf("seed %d: nothing can be built, but the search finds %s", seed, s.stack(&g.best[0]))
			}
			continue
		}
		if len(g.best) == 0 {
			t.Errorf("seed %d: of %d heads that can be built the search finds none", seed, len(all))
			continue
		}
		// The search keeps one head for each rubber and core.
		slices.SortStableFunc(all, func(a, b propose.Candidate) int {
			if a.Score > b.Score {
				return -1
			} else if a.Score < b.Score {
				return 1
			}
			return 0
		})
		seen := map[string]bool{}
		all = slices.DeleteFunc(all, func(c propose.Candidate) bool {
			st := c.Stack
			st.Wrap = nil
			text := st.String()
			was := seen[text]
			seen[text] = true
			return was
		})
		for i := range g.best {
			x := &g.best[i]
			if i >= len(all) {
				t.Fatalf("seed %d: the search finds %d heads, there are %d", seed, len(g.best), len(all))
			}
			if math.Abs(x.score-all[i].Score) > 1e-9 {
				t.Fatalf("seed %d: number %d scores %v (%s); trying everything, %v (%s)", seed, i+1, x.score, s.stack(x), all[i].Score, all[i].Stack)
			}
		}
		c, ok := f.Judging(q).Quick(s.stack(&g.best[0]))
		if !ok {
			t.Fatalf("seed %d: %s is refused", seed, s.stack(&g.best[0]))
		}
		if d := cmp.Diff(c.Facts.Head, g.best[0].facts, cmpopts.EquateApprox(1e-9, 1e-9)); d != "" {
			t.Fatalf("seed %d: facts one by one (-) and in the search (+):\n%s", seed, d)
		}
		if d := cmp.Diff(c.Layers, g.best[0].layersOf(), cmpopts.EquateApprox(1e-9, 1e-9), cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("seed %d: layers:\n%s", seed, d)
		}
	}
	if halved < draws/3 {
		t.Errorf("only %d halves of cores", halved)
	}
	if none > draws/2 {
		t.Errorf("nothing could be built in %d of %d draws; the test says little", none, draws)
	}
}

// TestBoundsHold checks over the shipped parts what the bounds of the search
// take for granted: that neither a layer nor more yarn makes a head harder at
// mf, by more than slackNotches, that contact, rise and opening stay within their
// ranges, and how far the notes served and the level of the second partial stray
// from what the cut-off says. The same over tubing that nobody sells.
func TestBoundsHold(t *testing.T) {
	f := proposetest.Finder(t)
	parts := synthetic(f.Catalogue(), 120)
	parts.Cores, parts.Yarns = f.Catalogue().Cores, f.Catalogue().Yarns
	for i := range parts.Tubing { // of every rubber, and up to walls of a quarter inch
		t := &parts.Tubing[i]
		t.Material = f.Catalogue().Tubing[7*i%len(f.Catalogue().Tubing)].Material
		t.Wall = measure.Inch * measure.Length(1+i%8) / 32
	}
	odd := finderOf(t, parts)
	for i, kind := range []string{"marimba", "vibraphone", "xylophone", "bells"} {
		for k, register := range []string{"low", "whole", "high"} {
			q := propose.Request{}
			q.Pass = proposetest.Grown()
			q.Facts.Bench.Drill = true
			q.Facts.Instrument.Kind, q.Facts.Want.Register, q.Facts.Want.Colour = kind, register, "dark" // so that it is told closely
			boundsHold(t, f, q, rand.New(rand.NewPCG(5, uint64(5+3*i+k))))
			if kind == "marimba" {
				boundsHold(t, odd, q, rand.New(rand.NewPCG(6, uint64(k))))
			}
		}
	}
}

func boundsHold(t *testing.T, f *propose.Finder, q propose.Request, r *rand.Rand) {
	cat := f.Catalogue()
	s := New(f, q)
	w := s.worker()
	j := f.Judging(q)
	notches := func(st head.Stack) (float64, float64, bool) {
		if st.Check() != nil {
			return 0, 0, false
		}
		if st.Material.Family == "metal" && (len(st.Slices) > 0 || st.Wrap != nil) {
			return 0, 0, false // the rules refuse both, so the search never builds on it
		}
		c, _ := j.Quick(st)
		h := c.Facts.Head
		lo, hi := h, h
		rg := stray.Of(h.Core, bounds.Cover(&h, &h), bounds.Coat(&h, &h), h.CutoffMFHz, h.CutoffMFHz)
		pulse := h.ContactMS / 1000 * h.CutoffMFHz
		for what, x := range map[string][3]float64{
			"cut-off times contact":                        {pulse, rg.LeastPulse, rg.MostPulse},
			"the rise of the cut-off from mf to f":         {h.CutoffFHz / h.CutoffMFHz, rg.LeastRise, rg.MostRise},
			"how many octaves the head opens from p to ff": {h.OpensUp, rg.LeastOpens, rg.MostOpens},
		} {
			if x[0] < x[1] || x[0] > x[2] {
				t.Errorf("%s: %s is %.3f, not between %.3f and %.3f", st, what, x[0], x[1], x[2])
			}
		}
		w.sound.Span(&lo, &hi)
		w.sound.Bright(&lo, &hi, h.CutoffFHz, h.CutoffFHz)
		if h.LowHz < lo.LowHz || h.LowHz > hi.LowHz || h.HighHz < lo.HighHz || h.HighHz > hi.HighHz {
			t.Errorf("%s serves %.0f to %.0f Hz, not between %.0f to %.0f and %.0f to %.0f", st, h.LowHz, h.HighHz, lo.LowHz, lo.HighHz, hi.LowHz, hi.HighHz)
		}
		if h.BrightDB < lo.BrightDB || h.BrightDB > hi.BrightDB {
			t.Errorf("%s: the second partial at %.1f dB, not between %.1f and %.1f", st, h.BrightDB, lo.BrightDB, hi.BrightDB)
		}
		for _, l := range c.Head.Layers {
			if l.Verdict == head.Slack {
				return 0, 0, false // laid on, not stretched: the search never builds on it
			}
		}
		return h.Softness, pulse, true
	}
	worst := 0.0
	for range 500 {
		root := s.Roots[r.IntN(len(s.Roots))]
		c := &root.Cores[r.IntN(len(root.Cores))]
		st := head.Stack{Core: c.Core, Material: c.Material}
		last, _, ok := notches(st)
		for n := r.IntN(4); n > 0 && ok; n-- {
			st.Slices = append(slices.Clone(st.Slices), s.Tubes[r.IntN(len(s.Tubes))].Slice)
			var next float64
			if next, _, ok = notches(st); ok {
				if worst = max(worst, last-next); last-next > slackNotches {
					t.Errorf("%s is %.3f notches harder for its last layer", st, last-next)
				}
				last = next
			}
		}
		if !ok {
			continue
		}
		y := cat.Yarns[r.IntN(len(cat.Yarns))]
		fibre, _ := cat.Material(y.Fibre)
		for _, turns := range []int{y.Wraps.Light / 2, y.Wraps.Light, y.Wraps.Plain, y.Wraps.Full} {
			st.Wrap = &head.Wrap{Yarn: y, Fibre: fibre, Turns: turns}
			next, _, ok := notches(st)
			if !ok {
				break
			}
			if worst = max(worst, last-next); last-next > slackNotches {
				t.Errorf("%s is %.3f notches harder for its yarn", st, last-next)
			}
			last = next
		}
	}
	t.Logf("at worst %.4f notches harder, %v allowed", worst, slackNotches)
}

// TestMostAbove checks that no head above a node is larger or heavier than is taken
// to be the most, nor its yarn thicker, and that what its cell is taken to hold holds it: its slices and
// how they are liked, its wrap, and how soft it is.
func TestMostAbove(t *testing.T) {
	cat := proposetest.Finder(t).Catalogue()
	odd := synthetic(cat, 40)
	odd.Cores, odd.Tubing = cat.Cores, append(odd.Tubing, cat.Tubing...)
	odd.Yarns = cat.Yarns
	f := finderOf(t, odd)
	r := rand.New(rand.NewPCG(8, 2))
	seen := 0
	for range 4 {
		s := New(f, someone(r))
		w := s.worker()
		for range 3000 {
			n := w.root(s.Roots[r.IntN(len(s.Roots))])
			var line []*node
			for n != nil {
				if line = append(line, n); len(line) > propose.MostLayers {
					break
				}
				n = w.child(n, r.IntN(len(s.Tubes)))
			}
			n = line[len(line)-1]
			var at facts.Head
			c := &n.root.Cores[r.IntN(len(n.root.Cores))]
			wrap := r.IntN(len(s.Wraps))
			wd := w.wind(n, wrap)
			w.describe(&at, n, c, &s.Wraps[wrap], wd)
			if at.DiameterMM > w.mostMM {
				continue
			}
			bed := girth.At(n.bed.Diameter)
			y := w.around(n, bed)[wrap]
			if o := wornAs(&s.Wraps[wrap], wd); o.MM < y.Lo.MM-1e-6 || o.MM > y.Hi.MM+1e-6 || o.Turns < y.Lo.Turns || o.Turns > y.Hi.Turns || o.Grams < y.Lo.Grams-1e-6 || o.Grams > y.Hi.Grams+1e-6 {
				t.Errorf("wrap %d over %.2f mm comes to %+v, not between %+v and %+v", wrap, n.bed.Diameter.MM(), o, y.Lo, y.Hi)
			}
			w.setRubber(n)
			w.put(n, &c.Body, c.Struck, yarnOf(&s.Wraps[wrap], wd))
			notches := w.notches()
			for _, x := range line {
				pile := w.piles.Over(girth.At(x.bed.Diameter), n.depth-x.depth)
				if grams := (n.mass - x.mass) * 1000; grams > pile.Grams[bed]+1e-9 || n.likes-x.likes > pile.Likes[bed]+1e-9 {
					t.Errorf("%d slices over %d of %.1f mm weigh %.2f g and are liked for %.1f points, not %.2f and %.1f at most", n.depth-x.depth, x.depth, x.bed.Diameter.MM(), grams, n.likes-x.likes, pile.Grams[bed], pile.Likes[bed])
				}
				w.setRubber(x)
				box := cell{worker: w, n: x, layers: n.depth, from: max(x.bed.Diameter.MM(), float64(bed)), to: float64(bed + 1)}
				if x == n {
					box.to = box.from
				}
				box.hi.MassG = x.root.Hi.MassG + x.mass*1000 + pile.Grams[bed]
				if least, most := box.hardest(&y), box.softest(&y); notches < least || notches > most {
					t.Errorf("%d slices over %d, wrap %d: %.2f notches, not between %.2f and %.2f", n.depth-x.depth, x.depth, wrap, notches, least, most)
				}
				if w.above(x, n.depth, n.depth); at.RubberMM > w.hi.Head.RubberMM+1e-9 {
					t.Errorf("%d slices over %d: %.2f mm of rubber, not at most %.2f", n.depth-x.depth, x.depth, at.RubberMM, w.hi.Head.RubberMM)
				}
				seen++
				mm, grams, yarn := w.mostAbove(x, n.depth-x.depth)
				if at.DiameterMM > mm || at.MassG > grams || at.Turns > yarn.turns || at.YarnMM > yarn.wallMM {
					t.Errorf("%d slices over %d, wrap %d: %.1f mm, %.1f g, %.0f turns, not at most %.1f, %.1f, %.0f", n.depth-x.depth, x.depth, wrap, at.DiameterMM, at.MassG, at.Turns, mm, grams, yarn.turns)
				}
			}
		}
	}
	if seen < 10_000 {
		t.Errorf("only %d were looked at", seen)
	}
}
