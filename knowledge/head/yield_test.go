package head

import (
	"math"
	"testing"

	"mallow/knowledge/rubber"
)

// legendre returns P₀(x) to P_most(x).
func legendre(most int, x float64) []float64 {
	p := []float64{1, x}
	for n := 1; n < most; n++ {
		p = append(p, (float64(2*n+1)*x*p[n]-float64(n)*p[n-1])/float64(n+1))
	}
	return p
}

// giving is how much narrower, at its equator and over its radius, a solid
// elastic ball that keeps its volume gets under a pressure, over its shear
// modulus, on the belt to ±reach. A load S·Pₙ on the surface moves it by
// S·n(2n+1)/(2(n−1)(2n²+4n+3)) (derived from Lamb's solution; n = 2 gives
// Kelvin's 5/19).
func giving(pressure, reach float64) float64 {
	const most = 60
	edge, middle := legendre(most+1, math.Sin(reach)), legendre(most, 0)
	var sum float64
	for i := 2; i <= most; i += 2 {
		n := float64(i)
		load := pressure * (edge[i+1] - edge[i-1]) // the belt's share of Pₙ
		sum += load * n * (2*n + 1) / (2 * (n - 1) * (2*n*n + 4*n + 3)) * middle[i]
	}
	return sum
}

// A rubber core gives under its slices, which Fit does not count. Under the
// usual slice that is at most what the sizes' tolerance allows: half a
// millimetre on the softest ball.
func TestRubberCoreGivesLittle(t *testing.T) {
	for _, tt := range []struct {
		core        string
		least, most float64 // mm of diameter
	}{
		{"rubber-40a-1-1/8", 0.4, 0.6},
		{"rubber-60a-1-1/8", 0.15, 0.3},
		{"rubber-75a-1-1/8", 0.05, 0.2},
	} {
		l := build(t, tt.core+" + 3/4x1/8").Layers[0]
		core, ok := catalogue(t).Core(tt.core)
		if !ok {
			t.Fatalf("no core %s", tt.core)
		}
		mm := giving(l.GripPa/rubber.Shear(core.DurometerA), l.Reach) * core.Diameter.MM()
		if mm < tt.least || mm > tt.most || mm > l.OuterTol.MM() {
			t.Errorf("%s gives %.2f mm, tolerance over the slice %.2f mm", tt.core, mm, l.OuterTol.MM())
		}
	}
	if all := giving(1, math.Pi/2); math.Abs(all) > 1e-9 {
		t.Errorf("pressed all round it gives %g; it keeps its volume", all)
	}
}
