package identify

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// drawHead makes a head as the prior has it, of parts that stray from their stated
// sizes as their tolerances say, and returns it as it was meant and as it came
// out. Everything is computed afresh by package head from the strayed parts;
// none of the matcher's own spreads go in.
func drawHead(t *matcher, rng *rand.Rand) (meant head.Stack, out head.Head) {
	w := &walker{matcher: t, scorer: t.scorer.Get().(*rules.Scorer[facts.Facts])}
	defer t.scorer.Put(w.scorer)
	for {
		c := t.cores[rng.IntN(len(t.cores))]
		mat, _ := t.f.Catalogue().Material(c.Material)
		meant = head.Stack{Core: c, Material: mat, Shaft: t.shaft}
		if t.shaft == nil {
			meant.Core.Bore = max(c.Bore, measure.Length(t.m.ShaftMM)*measure.Millimetre)
		}
		depth, at := 0, rng.Float64()
		for at > t.layered[depth] && depth < propose.MostLayers {
			at -= t.layered[depth]
			depth++
		}
		bed, on := head.Ball(c), mat.Family
		bed.Tol = 0
		for n := 1; n <= depth; n++ {
			var fits []cell
			sum := 0.0
			for i := range t.tubes {
				x := w.fit(bed, i, n, on)
				if x.ok {
					sum += x.likes
				}
				fits = append(fits, x)
			}
			if sum == 0 {
				break
			}
			at := rng.Float64() * sum
			for i, x := range fits {
				if !x.ok {
					continue
				}
				if at -= x.likes; at <= 0 {
					l := head.Fit(bed, t.tubes[i], t.lim)
					meant.Slices = append(meant.Slices, head.Slice{Tube: t.tubes[i].Tube, Rubber: t.tubes[i].Rubber, Cut: l.Cut})
					bed, on = l.Bed(), "rubber"
					break
				}
			}
		}
		if len(meant.Slices) != depth {
			continue
		}
		turns := 0
		if rng.Float64() > barePrior {
			y := t.yarns[rng.IntN(len(t.yarns))]
			bare := head.New(meant, *t.lim).Bare
			plain := float64(head.PlainTurns(y.Yarn, bare))
			spread := plain * float64(y.Yarn.Wraps.Full-y.Yarn.Wraps.Light) / (4 * float64(y.Yarn.Wraps.Plain))
			if turns = int(plain + spread*rng.NormFloat64()); turns < 1 {
				continue
			}
			y.Turns = turns
			meant.Wrap = &y
		}
		return meant, head.New(stray(meant, t.lim, rng), *t.lim)
	}
}

// stray lets the sizes of parts stray.
func stray(s head.Stack, lim *knowledge.Limits, rng *rand.Rand) head.Stack {
	off := func(tol float64) float64 { return tol / 1.959964 * rng.NormFloat64() }
	quantity := func(q *knowledge.Quantity) { q.Value += off(q.Tol) }
	length := func(l *measure.Length, tol measure.Length) { *l += measure.Length(off(float64(tol))) }
	length(&s.Core.Diameter, s.Core.Tol)
	quantity(&s.Material.DensityKgM3)
	slices := make([]head.Slice, len(s.Slices))
	for i, x := range s.Slices {
		length(&x.Tube.Bore, x.Tube.BoreTol)
		length(&x.Tube.Wall, x.Tube.WallTol)
		x.Tube.Wall = max(x.Tube.Wall, 0.2*measure.Millimetre)
		quantity(&x.Rubber.DensityKgM3)
		length(&x.Cut, measure.Length(lim.CutToleranceM.Value))
		slices[i] = x
	}
	s.Slices = slices
	if s.Wrap != nil {
		w := *s.Wrap
		quantity(&w.Yarn.Tex)
		quantity(&w.Yarn.Loose)
		w.Yarn.Loose.Value = min(max(w.Yarn.Loose.Value, 0.05), 1)
		quantity(&w.Fibre.DensityKgM3)
		s.Wrap = &w
	}
	return s
}

// TestMatchCalibrated builds heads of parts that stray, measures them with
// errors, and asks what they are. Sets of stacks that are said to hold the
// truth with some probability have to hold it about that often.
func TestMatchCalibrated(t *testing.T) {
	f := proposetest.Finder(t)
	for _, tt := range []struct {
		name  string
		draws int
		m     Measured // what is seen; sizes are measured
		seen  func(*Measured, *head.Stack)
	}{
		{"diameter and mass", 25, Measured{ShaftMM: 7.9375}, func(*Measured, *head.Stack) {}},
		{"edges, core and fibre seen as well", 120, Measured{ShaftMM: 7.9375}, func(m *Measured, s *head.Stack) {
			n := len(s.Slices)
			m.Layers, m.Core = &n, s.Material.Family
			if n > 0 {
				m.Outermost = s.Slices[n-1].Tube.ID
			}
			if s.Wrap != nil {
				m.Fibre = s.Wrap.Yarn.Fibre
			}
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(7, 11))
			model, err := newMatcher(f, Measured{DiameterMM: 30, ShaftMM: tt.m.ShaftMM})
			if err != nil {
				t.Fatal(err)
			}
			stated, varied, held, size := 0.0, 0.0, 0, 0
			for range tt.draws {
				meant, out := drawHead(model, rng)
				m := tt.m
				tt.seen(&m, &meant)
				m.DiameterMM = (out.Diameter + measure.Length(f.Catalogue().Limits.DiameterErrorM.Value/1.959964*rng.NormFloat64())).MM()
				m.MassG = (out.Mass + measure.Mass(f.Catalogue().Limits.MassErrorKg.Value/1.959964*rng.NormFloat64())).Grams()
				got, err := Head(context.Background(), f, m)
				if err != nil {
					t.Errorf("%s: %v", meant, err)
					continue
				}
				sum := 0.0
				for _, l := range got.Likely {
					if sum >= 0.8 {
						break
					}
					sum += l.Share
					size++
					if keyOf(&l.Stack) == keyOf(&meant) {
						held++
					}
				}
				stated += sum
				varied += sum * (1 - sum)
			}
			t.Logf("sets of %.1f stacks on average, stated to hold the truth %.1f times of %d, held it %d times",
				float64(size)/float64(tt.draws), stated, tt.draws, held)
			if off := math.Abs(float64(held) - stated); off > 3*math.Sqrt(varied) {
				t.Errorf("the sets are stated to hold %.1f of %d, and hold %d", stated, tt.draws, held)
			}
		})
	}
}
