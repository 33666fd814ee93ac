package stray

import (
	"math"
	"testing"
)

// A wider stretch of cut-offs, under more rubber and less yarn, bounds all that a narrower one does, and none
// comes to no number, whatever is not known yet.
func TestWiderHoldsNarrower(t *testing.T) {
	hz := []float64{0, 150, 336, 475, 672, 1000, 2000, 2688, 4000, 20_000, math.Inf(1)}
	coats := []Coat{{0, 9}, {3, 2}, {12, 0}, {math.Inf(1), 0}} // each holds the one before
	inside := func(a, b Range) bool {
		return a.LeastPulse >= b.LeastPulse && a.MostPulse <= b.MostPulse && a.LeastRise >= b.LeastRise && a.MostRise <= b.MostRise &&
			a.LeastOpens >= b.LeastOpens && a.MostOpens <= b.MostOpens
	}
	for _, core := range []string{"plastic", "rubber"} {
		for i := range hz {
			for k := i; k < len(hz); k++ {
				for c := range coats {
					at := Of(core, Under, coats[c], hz[i], hz[k])
					if !inside(at, at) || at.LeastPulse > at.MostPulse || at.LeastRise > at.MostRise || at.LeastOpens > at.MostOpens {
						t.Errorf("%s, %v, %v to %v Hz: %+v", core, coats[c], hz[i], hz[k], at)
					}
					for _, wider := range []Range{
						Of(core, Under, coats[min(c+1, len(coats)-1)], hz[i], hz[k]),
						Of(core, Under, coats[c], hz[max(0, i-1)], hz[k]),
						Of(core, Under, coats[c], hz[i], hz[min(k+1, len(hz)-1)]),
						Of(core, Any, coats[c], hz[i], hz[k]),
					} {
						if !inside(at, wider) {
							t.Errorf("%s, %v, %v to %v Hz: %+v is not within %+v", core, coats[c], hz[i], hz[k], at, wider)
						}
					}
				}
			}
		}
	}
}
