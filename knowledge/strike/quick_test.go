package strike

import (
	"math"
	"testing"
)

var speeds = []float64{1, 2, 3.5, 5}

func ball(e, nu, r, m float64) Body {
	return Body{Mass: m, Radius: r, Core: Core{Radius: r, Modulus: e, Poisson: nu}}
}

func TestQuickHertz(t *testing.T) {
	for _, v := range speeds {
		b := ball(5e6, 0.5, 0.015, 0.030)
		wall := Bar{}
		r := Quick(nil, &b, &wall, []float64{v})[0]
		es := 5e6 / 0.75
		T := 2.86827 * math.Pow(0.03*0.03/(0.015*es*es*v), 0.2)
		F := 1.28269 * math.Pow(math.Pow(.03, 3)*math.Pow(v, 6)*es*es*0.015, 0.2)
		t.Logf("v=%g T %.6g want %.6g (%.5f) F %.6g want %.6g (%.5f) fT %.5g", v, r.ContactS, T, r.ContactS/T, r.PeakN, F, r.PeakN/F, r.CutoffHz*r.ContactS)
	}
}

func medium(wall float64) Body {
	return Body{Mass: 0.025, Radius: .0143 + wall + .002, Core: Core{.0143, 1.5e9, 0.4, 0.2},
		Rubber: []Rubber{{wall, 1.395e6, 0.15}}, Yarn: Yarn{.002, 0.675e6, 0.5}, Grip: 0.5}
}

func TestPrint(t *testing.T) {
	bar := Reference()
	for _, w := range []float64{.0013, .0026, .004, .0065} {
		b := medium(w)
		for _, r := range Quick(nil, &b, &bar, speeds) {
			t.Logf("%.4f %+v", w, r)
		}
	}
}

func BenchmarkQuick(b *testing.B) {
	h := medium(.0026)
	bar := Reference()
	dst := make([]Reduced, 0, 4)
	b.ReportAllocs()
	for b.Loop() {
		dst = Quick(dst[:0], &h, &bar, speeds)
	}
}
