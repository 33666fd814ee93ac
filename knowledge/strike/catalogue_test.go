package strike_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// sampled returns heads over every core, every tube that holds on it and
// every further tube over that, up to so many layers, and all yarns, thinned to
// about n evenly spread ones.
func sampled(t testing.TB, cat *knowledge.Catalogue, layers, n int) []head.Head {
	t.Helper()
	var stacks []head.Stack
	var grow func(s head.Stack, bed head.Bed)
	grow = func(s head.Stack, bed head.Bed) {
		stacks = append(stacks, s)
		if len(s.Slices) == layers {
			return
		}
		for _, tube := range cat.Tubing {
			if tube.Supply != s.Core.Supply {
				continue
			}
			m, _ := cat.Material(tube.Material)
			slice := head.Slice{Tube: tube, Rubber: m}
			l := head.Fit(bed, slice, &cat.Limits)
			if l.Verdict == head.Slack || l.Verdict == head.Over || l.Outer.MM() > 60 {
				continue
			}
			next := s
			next.Slices = append(slices.Clone(s.Slices), slice)
			grow(next, l.Bed())
		}
	}
	for _, c := range cat.Cores {
		m, _ := cat.Material(c.Material)
		grow(head.Stack{Core: c, Material: m}, head.Ball(c))
	}
	t.Logf("%d rubber stacks", len(stacks))
	var heads []head.Head
	kinds := len(cat.Yarns) + 1
	step := max(1, len(stacks)*kinds/n)
	for i := 0; i < len(stacks)*kinds; i += step {
		s := stacks[i/kinds]
		if y := i % kinds; y > 0 {
			yarn := cat.Yarns[y-1]
			fibre, _ := cat.Material(yarn.Fibre)
			s.Wrap = &head.Wrap{Yarn: yarn, Fibre: fibre, Turns: yarn.Wraps.Plain}
		}
		heads = append(heads, head.New(s, cat.Limits))
	}
	return heads
}

// The reduced form against the full integration, over the whole catalogue, on
// the reference bar and on a bar of each instrument in turn: within 3 %.
func TestReducedAgainstFull(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	n := 1500
	if testing.Short() {
		n = 200
	}
	ref := strike.Reference()
	speeds := make([]float64, len(cat.Dynamics))
	for i, d := range cat.Dynamics {
		speeds[i] = d.SpeedMS.Value
	}
	type pair struct {
		name        string
		quick, full float64 // cut-off at mf
	}
	var pairs []pair
	var sum, worst float64
	var worstAt string
	elsewhere := 0.0
	count := 0
	for i, h := range sampled(t, cat, 2, n) {
		b, err := strike.FromHead(h)
		if err != nil {
			t.Fatal(err)
		}
		in := cat.Instruments[i%len(cat.Instruments)]
		note := in.Low + measure.Note(i/len(cat.Instruments)%int(in.High-in.Low+1))
		bar, err := strike.NewBar(in, note)
		if err != nil {
			t.Fatal(err)
		}
		there := strike.Quick(nil, &b, &bar, speeds)
		for i, v := range speeds {
			full, err := strike.Full(&b, &bar, v)
			if err != nil {
				t.Fatalf("%s on %v of %s at %g m/s: %v", h.Stack, note, in.ID, v, err)
			}
			off := there[i].CutoffHz/full.CutoffHz - 1
			elsewhere = max(elsewhere, math.Abs(off))
			if !(math.Abs(off) <= 0.03) {
				t.Errorf("%s on %v of %s at %g m/s: cut-off %.0f Hz reduced, %.0f full (%+.1f %%)", h.Stack, note, in.ID, v, there[i].CutoffHz, full.CutoffHz, 100*off)
			}
		}
		quick := strike.Quick(nil, &b, &ref, speeds)
		for i, v := range speeds {
			full, err := strike.Full(&b, &ref, v)
			if err != nil {
				t.Fatalf("%s at %g m/s: %v", h.Stack, v, err)
			}
			off := quick[i].CutoffHz/full.CutoffHz - 1
			sum += off * off
			count++
			if math.Abs(off) > math.Abs(worst) {
				worst, worstAt = off, h.Stack.String()+" at "+cat.Dynamics[i].ID
			}
			if !(math.Abs(off) <= 0.03) {
				t.Errorf("%s at %g m/s: cut-off %.0f Hz reduced, %.0f full (%+.1f %%)", h.Stack, v, quick[i].CutoffHz, full.CutoffHz, 100*off)
			}
			if cat.Dynamics[i].ID == "mf" {
				pairs = append(pairs, pair{h.Stack.String(), quick[i].CutoffHz, full.CutoffHz})
			}
		}
	}
	t.Logf("%d strokes: cut-off off by %.2f %% (root mean square), at worst %+.2f %% (%s)", count, 100*math.Sqrt(sum/float64(count)), 100*worst, worstAt)

	t.Logf("on the instruments' own bars at worst %.2f %%", 100*elsewhere)

	// Two heads that the full form puts more than a notch apart never change
	// places: sort by full, and compare with the extremes so far.
	slices.SortFunc(pairs, func(a, b pair) int { return strings.Compare(a.name, b.name) })
	slices.SortFunc(pairs, func(a, b pair) int {
		return int(math.Copysign(1, a.full-b.full))
	})
	most := 0.0
	for i := range pairs {
		for j := i + 1; j < len(pairs); j++ {
			if pairs[i].quick > pairs[j].quick {
				apart := 6 * math.Log2(pairs[j].full/pairs[i].full)
				if most = max(most, apart); apart > 1 {
					t.Errorf("%s and %s change places %.2f notches apart", pairs[i].name, pairs[j].name, apart)
				}
			}
		}
	}
	t.Logf("heads that change places are at most %.2f notches apart", most)
}

// The reduced form's error against the full one, as metrics beside the times.
func BenchmarkReducedError(b *testing.B) {
	cat := knowledgetest.Catalogue(b)
	ref := strike.Reference()
	heads := sampled(b, cat, 1, 200)
	speeds := []float64{2}
	var sum, worst float64
	for b.Loop() {
		sum, worst = 0, 0
		for _, h := range heads {
			body, err := strike.FromHead(h)
			if err != nil {
				b.Fatal(err)
			}
			full, err := strike.Full(&body, &ref, speeds[0])
			if err != nil {
				b.Fatal(err)
			}
			off := 100 * (strike.Quick(nil, &body, &ref, speeds)[0].CutoffHz/full.CutoffHz - 1)
			sum += off * off
			worst = max(worst, math.Abs(off))
		}
	}
	b.ReportMetric(math.Sqrt(sum/float64(len(heads))), "rms-%")
	b.ReportMetric(worst, "worst-%")
}
