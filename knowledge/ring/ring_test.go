package ring_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"mallow/knowledge/measure"
	"mallow/knowledge/ring"
)

const rate = 48000

// halfSine is a push of the given impulse and about the given length, in
// whole steps of which per make a sample.
func halfSine(seconds, impulse float64, per int) []float64 {
	n := int(math.Round(seconds * rate * float64(per)))
	seconds = float64(n) / (rate * float64(per))
	f := make([]float64, n)
	for i := range f {
		f[i] = impulse / seconds * math.Pi / 2 * math.Sin(math.Pi*(float64(i)+0.5)/float64(n))
	}
	return f
}

// peak returns the frequency and height of the strongest line of x near hz,
// by gonum's FFT under a Hann window and a parabola through the logarithms.
func peak(x []float64, hz float64) (at, height float64) {
	n := len(x)
	w := make([]float64, n)
	for i := range w {
		w[i] = x[i] * (0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(n-1)))
	}
	bins := fourier.NewFFT(n).Coefficients(nil, w)
	mag := func(i int) float64 { return math.Log(cmplx.Abs(bins[i])) }
	from, to := int(hz*0.97*float64(n)/rate), int(math.Ceil(hz*1.03*float64(n)/rate))
	best := from
	for i := from; i <= to; i++ {
		if mag(i) > mag(best) {
			best = i
		}
	}
	a, b, c := mag(best-1), mag(best), mag(best+1)
	shift := 0.5 * (a - c) / (a - 2*b + c)
	return (float64(best) + shift) * rate / float64(n), math.Exp(b - 0.25*(a-c)*shift)
}

// Source of the pitches: ISO 16, A4 = 440 Hz, with equal temperament (from
// memory); of the ratios: marimba 1 : 4 : 10 (hyperphysics, seen), xylophone
// 1 : 3 (seen).
func TestPitchAndPartials(t *testing.T) {
	for _, test := range []struct {
		name   string
		note   measure.Note
		hz     float64 // as printed in tables of equal temperament
		ratios []float64
	}{
		{"marimba C3", 48, 130.813, []float64{1, 4, 10}},
		{"marimba A4", 69, 440, []float64{1, 4, 10}},
		{"marimba C6", 84, 1046.502, []float64{1, 4, 10}},
		{"xylophone F4", 65, 349.228, []float64{1, 3}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var modes []ring.Mode
			for _, r := range test.ratios {
				modes = append(modes, ring.Mode{Hz: test.note.Hz() * r, DecayS: ring.DecayS(test.note.Hz()*r, 0.0045), Gain: 1})
			}
			x := make([]float64, rate)
			ring.Add(x, rate, ring.Over(modes), halfSine(0.0004, 1, 8), 8)
			for _, r := range test.ratios {
				got, _ := peak(x, test.hz*r)
				if cents := 1200 * math.Log2(got/(test.hz*r)); math.Abs(cents) > 1 {
					t.Errorf("partial %g at %.2f Hz, %.2f cents from %.2f", r, got, cents, test.hz*r)
				}
			}
		})
	}
}

// A push far shorter than a period is an impulse: the answer is its closed
// form, g·I·exp(−αt)·cos ωt, t counted from the middle of the push.
func TestImpulse(t *testing.T) {
	m := ring.Mode{Hz: 100, DecayS: 0.3, Gain: 2}
	x := make([]float64, rate/2)
	f := halfSine(0.0001, 0.05, 16)
	ring.Add(x, rate, []ring.Mode{m}, f, 16)
	middle := float64(len(f)) / 2 / (rate * 16)
	for i := 10; i < len(x); i++ {
		at := float64(i+1)/rate - middle
		want := m.Gain * 0.05 * math.Exp(-at/m.DecayS) * math.Cos(2*math.Pi*m.Hz*at)
		if math.Abs(x[i]-want) > 2e-4*m.Gain*0.05 {
			t.Fatalf("sample %d is %g, closed form %g", i, x[i], want)
		}
	}
}

// A push of length T leaves a mode of frequency f with the spectrum of the
// push at f: for half a sine, cos(πfT)/(1 − 4f²T²) of what an impulse leaves.
func TestLongPushSparesHighPartials(t *testing.T) {
	const length = 0.002
	for _, hz := range []float64{50, 200, 400, 600, 1100} {
		x := make([]float64, rate/10)
		ring.Add(x, rate, []ring.Mode{{Hz: hz, DecayS: 1e6, Gain: 1}}, halfSine(length, 1, 16), 16)
		most := 0.0
		for _, v := range x[rate/200:] {
			most = max(most, math.Abs(v))
		}
		want := math.Abs(math.Cos(math.Pi*hz*length) / (1 - 4*hz*hz*length*length))
		if math.Abs(most-want) > 0.01*want+1e-3 {
			t.Errorf("%g Hz: amplitude %.4f, spectrum of the push %.4f", hz, most, want)
		}
	}
}

// The marimba's T60 by loss factor 0.45 % (Hill and Errede, seen): the
// derived table 7.5 s at C2, 1.87 s at C4, 0.47 s at C6.
func TestDecay(t *testing.T) {
	for _, test := range []struct{ hz, want float64 }{{65.4, 7.5}, {261.6, 1.87}, {1047, 0.47}} {
		if got := ring.T60(ring.DecayS(test.hz, 0.0045)); math.Abs(got-test.want) > 0.01*test.want {
			t.Errorf("%g Hz: T60 %.3f s, want %g", test.hz, got, test.want)
		}
	}
	x := make([]float64, rate)
	ring.Add(x, rate, []ring.Mode{{Hz: 440, DecayS: ring.DecayS(440, 0.0045), Gain: 1}}, []float64{1}, 1)
	level := func(from int) float64 {
		sum := 0.0
		for _, v := range x[from : from+4800] {
			sum += v * v
		}
		return 10 * math.Log10(sum)
	}
	want := 60 * 0.5 / ring.T60(ring.DecayS(440, 0.0045))
	if got := level(0) - level(rate/2); math.Abs(got-want) > 0.1 {
		t.Errorf("half a second takes %.2f dB, want %.2f", got, want)
	}
}

func ExampleT60() {
	fmt.Printf("%.2f s\n", ring.T60(ring.DecayS(261.6, 0.0045)))
	// Output: 1.87 s
}

func BenchmarkAdd(b *testing.B) {
	modes := []ring.Mode{{130, 1, 1}, {520, 0.25, 1}, {1300, 0.1, 1}}
	force := halfSine(0.002, 1, 8)
	x := make([]float64, rate)
	for b.Loop() {
		clear(x)
		ring.Add(x, rate, modes, force, 8)
	}
}
