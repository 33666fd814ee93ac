package graded_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"mallow/rules/gate"
	"mallow/rules/graded"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose/proposetest"
)

// usual is how heavy and how large the heads of an instrument are, a ball of 5/8 in
// being 15.9 mm: common practice, no source.
type usual struct{ leastG, mostG, leastMM, mostMM float64 }

// instruments are what sets are made for, with the bars.
func instruments() []struct {
	kind, bars string
	usual
	bare bool
} {
	return []struct {
		kind, bars string
		usual
		bare bool
	}{
		{"marimba", "wood", usual{15, 36, 32, 48}, false},
		{"marimba", "synthetic", usual{15, 36, 32, 48}, false},
		{"vibraphone", "metal", usual{16, 34, 27, 40}, false},
		{"xylophone", "wood", usual{5, 20, 22, 32}, true},
		{"xylophone", "synthetic", usual{5, 20, 22, 32}, true},
		{"bells", "metal", usual{3, 30, 15.8, 27}, true},
	}
}

// spans are the ends that are asked for, by their grades.
func spans() [][2]string {
	return [][2]string{{}, {"hard", "soft"}, {"medium", "very soft"}, {"very hard", "medium"}, {"very hard", "very soft"}, {"medium hard", "medium soft"}}
}

// Of every instrument, in sets of three, four and five over every span, as adults
// make them with latex and without: what a good maker would stand behind, or
// what can't be had, with the nearest and what would open it up. Without
// MALLOW_LONG set, one of these six over each span, so that each instrument
// has all six and each span has several.
func TestSets(t *testing.T) {
	f := proposetest.Finder(t)
	long := os.Getenv("MALLOW_LONG") != ""
	most, all, short := 0.0, 0, 0
	for i, in := range instruments() {
		for k, span := range spans() {
			for n := 3; n <= 5; n++ {
				for m, who := range []string{"two, latex", "cross, no latex"} {
					if !long && (i+k)%6 != 2*(n-3)+m {
						continue
					}
					q := proposetest.Player()
					q.Facts.Instrument.Kind, q.Facts.Instrument.Bars = in.kind, in.bars
					if who != "two, latex" {
						q.Facts.Player.Grip, q.Facts.Player.Level = "cross", "many"
						q.Pass = gate.Settle(gate.Stated{Minor: gate.No, LatexOK: gate.No, RubberOK: gate.Yes, SolventOK: gate.No, Ventilated: gate.Yes})
					}
					name := fmt.Sprintf("%s, %s bars, %d from %s to %s, %s", in.kind, in.bars, n, span[0], span[1], who)
					o := graded.Options{Rungs: n}
					if span[0] != "" {
						a, ok := f.Grade(in.kind, span[0])
						z, fine := f.Grade(in.kind, span[1])
						if !ok || !fine {
							t.Fatalf("no grades %v", span)
						}
						o.Hardest, o.Softest = &a, &z
					}
					if o.Hardest != nil && (*o.Softest-*o.Hardest)/float64(n-1) < 0.5 {
						continue // closer than can be told apart
					}
					before := proposetest.Spent()
					set, err := graded.Choose(context.Background(), f, q, o)
					spent := (proposetest.Spent() - before).Seconds()
					all++
					if n == 4 {
						most = max(most, spent)
					}
					var e *graded.Short
					if errors.As(err, &e) {
						short++
						if len(e.Misses) == 0 || len(e.Opens) == 0 || len(e.Nearest.Rungs) < 2 {
							t.Errorf("%s: %+v", name, e)
						}
						if strings.Contains(e.Error(), "Inf") || strings.Contains(e.Error(), "NaN") {
							t.Errorf("%s: %v", name, e)
						}
					} else if err != nil {
						t.Errorf("%s: %v", name, err)
						continue
					}
					t.Logf("%s (%.1f s): %s", name, spent, line(&set))
					if err != nil {
						t.Logf("    %v", err)
					}
					wrong := judge(&set, in.bare, in.usual, e)
					if e == nil && o.Hardest != nil {
						far := 1.05
						if in.bare {
							far = max(far, (*o.Softest-*o.Hardest)/float64(n-1)/2)
						}
						for _, off := range []float64{set.Rungs[0].Softness - *o.Hardest, set.Rungs[len(set.Rungs)-1].Softness - *o.Softest} {
							if math.Abs(off) > far {
								wrong = append(wrong, fmt.Sprintf("an end is %.1f notches off, and nothing is said", off))
							}
						}
					}
					for _, x := range wrong {
						t.Errorf("%s: %s: %s", name, x, line(&set))
					}
				}
			}
		}
	}
	t.Logf("%d sets, %d of them the nearest to what can't be had; a set of four takes %.2f s of processor time at most", all, short, most)
}

func line(s *graded.Set) string {
	var list []string
	for _, r := range s.Rungs {
		list = append(list, fmt.Sprintf("%s %+.1f %.1f g %.1f mm", r.Stack, r.Softness, r.MassG, r.MM))
	}
	return strings.Join(list, " | ")
}

// judge says what a good maker would not stand behind in a set. Of a set that
// falls short, it holds all that it is not said to fall short of.
func judge(s *graded.Set, bare bool, in usual, short *graded.Short) (wrong []string) {
	said := func(what string) bool {
		return short != nil && strings.Contains(strings.Join(short.Misses, "; "), what)
	}
	add := func(form string, args ...any) { wrong = append(wrong, fmt.Sprintf(form, args...)) }
	n := len(s.Rungs)
	cores, yarns, tubes, shafts := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	materials := map[string]bool{}
	first, last := s.Rungs[0], s.Rungs[n-1]
	gap, grams, mm := (last.Softness-first.Softness)/float64(n-1), (last.MassG-first.MassG)/float64(n-1), (last.MM-first.MM)/float64(n-1)
	if !s.Exact {
		add("not the best of what was looked at")
	}
	for k, r := range s.Rungs {
		h := r.Head.Facts.Head
		cores[r.Head.Stack.Core.ID], materials[h.Material] = true, true
		if w := r.Head.Stack.Wrap; w != nil {
			yarns[w.Yarn.ID] = true
		}
		if sh := r.Head.Stack.Shaft; sh != nil {
			shafts[sh.ID] = true
		}
		for _, sl := range r.Head.Stack.Slices {
			tubes[sl.Tube.ID] = true
		}
		const hair = 0.1
		if !said("past what the instrument usually takes") && (r.MassG < in.leastG-hair || r.MassG > in.mostG+hair || r.MM < in.leastMM-hair || r.MM > in.mostMM+hair) {
			add("%.1f g and %.1f mm are past what the instrument takes", r.MassG, r.MM)
		}
		if x := r.Head.Refused(); x != nil {
			add("rung %d is refused: %s", k+1, x.Reason)
		}
		if bare != (h.Turns == 0) {
			add("rung %d has %g turns", k+1, h.Turns)
		}
		if bare && h.Layers > 0 {
			add("rung %d is no bare ball", k+1)
		}
		if !bare && (h.Turns < 60 || h.Turns > 220) {
			add("%g turns", h.Turns)
		}
		if k == 0 {
			continue
		}
		was := s.Rungs[k-1]
		if r.Softness <= was.Softness {
			add("rung %d is no softer than the one before", k+1)
		}
		if bare {
			continue
		}
		if math.Abs(r.Softness-was.Softness-gap) > 0.25 && !said("off the mean one") {
			add("a gap of %.2f notches, on average %.2f", r.Softness-was.Softness, gap)
		}
		if said("mass and size grow") {
			continue
		}
		if r.MassG < was.MassG-0.05 || r.MM < was.MM-0.05 {
			add("rung %d is lighter or smaller than the one before", k+1)
		}
		if r.MassG-was.MassG > 2*grams+0.05 || r.MM-was.MM > 2*mm+0.05 {
			add("a jump of %.1f g, %.1f mm, on average %.1f and %.1f", r.MassG-was.MassG, r.MM-was.MM, grams, mm)
		}
	}
	if len(shafts) > 1 {
		add("%d kinds of shaft", len(shafts))
	}
	if bare {
		if len(materials) == 1 && len(cores) < n {
			add("one ball on two rungs")
		}
		return wrong
	}
	if len(materials) != 1 || len(yarns) != 1 || len(tubes) > 3 {
		add("%d kinds of core, %d yarns, %d tubings", len(materials), len(yarns), len(tubes))
	}
	sizes := map[float64]bool{}
	for k, r := range s.Rungs {
		sizes[r.Head.Facts.Head.CoreMM] = true
		if k > 0 && r.Head.Stack.Core.DurometerA > s.Rungs[k-1].Head.Stack.Core.DurometerA {
			add("a harder ball on rung %d than on the one before", k+1)
		}
	}
	if len(sizes) > 2 || len(cores) > 2 && first.Head.Stack.Core.DurometerA == 0 {
		add("%d sizes of ball, %d balls", len(sizes), len(cores))
	}
	for k, r := range s.Rungs[:n-1] {
		if r.Head.Facts.Head.CoreMM != first.Head.Facts.Head.CoreMM {
			add("another ball on rung %d, which is not the softest", k+1)
		}
	}
	return wrong
}

// Grow means grow, whatever the heads are of: each rung is at least as heavy and
// as large as the one before, or it is said that no such set can be had.
func TestGrowMeansGrow(t *testing.T) {
	f := proposetest.Finder(t)
	grown := 0
	for _, in := range instruments() {
		for _, x := range []struct{ mass, size ladder.Trend }{{ladder.Grow, ladder.Grow}, {ladder.Grow, ladder.Free}, {ladder.Free, ladder.Grow}} {
			q := proposetest.Player()
			q.Facts.Instrument.Kind, q.Facts.Instrument.Bars = in.kind, in.bars
			set, err := graded.Choose(context.Background(), f, q, graded.Options{Rungs: 4, Mass: x.mass, Size: x.size})
			var e *graded.Short
			if err != nil && !errors.As(err, &e) {
				t.Errorf("%s %v: %v", in.kind, x, err)
				continue
			}
			falls := ""
			for k := 1; k < len(set.Rungs); k++ {
				if x.mass == ladder.Grow && set.Rungs[k].MassG < set.Rungs[k-1].MassG-0.05 {
					falls = "mass"
				}
				if x.size == ladder.Grow && set.Rungs[k].MM < set.Rungs[k-1].MM-0.05 {
					falls = "size"
				}
			}
			switch {
			case falls == "" && e == nil:
				grown++
			case falls != "" && (e == nil || !strings.Contains(strings.Join(e.Misses, "; "), "grow")):
				t.Errorf("%s %v: %s falls, and %v is said: %s", in.kind, x, falls, err, line(&set))
			}
		}
	}
	t.Logf("%d of 18 wishes to grow are met", grown)
	if grown < 15 {
		t.Errorf("only %d of 18 wishes to grow are met", grown)
	}
}

// What is out of reach ends with the nearest set and what would open it up, never
// with an infinite figure.
func TestOutOfReach(t *testing.T) {
	f := proposetest.Finder(t)
	for _, in := range instruments() {
		for _, ends := range [][2]float64{{20, 26}, {-40, -34}, {-30, 30}} {
			q := proposetest.Player()
			q.Facts.Instrument.Kind, q.Facts.Instrument.Bars = in.kind, in.bars
			a, z := ends[0], ends[1]
			o := graded.Options{Rungs: 3, Hardest: &a, Softest: &z}
			if (z-a)/2 > 12 {
				o.Rungs = 8
			}
			set, err := graded.Choose(context.Background(), f, q, o)
			var e *graded.Short
			if !errors.As(err, &e) {
				t.Errorf("%s %v: %v", in.kind, ends, err)
				continue
			}
			if len(set.Rungs) < 2 || len(e.Misses) == 0 || len(e.Opens) == 0 || strings.Contains(e.Error(), "Inf") || strings.Contains(e.Error(), "NaN") {
				t.Errorf("%s %v: %v", in.kind, ends, e)
			}
			if strings.Contains(set.Firm, "over 0 times") {
				t.Errorf("%s %v: %s", in.kind, ends, set.Firm)
			}
		}
	}
}
