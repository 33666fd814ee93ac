package strike

import "testing"

func TestFullLook(t *testing.T) {
	for _, bar := range []Bar{{}, newBar(62, 1e-3, 0.289, []float64{1, 4, 9.8}, 0), newBar(62, 100, 0.289, []float64{1, 4, 9.8}, 0), Reference(), newBar(62, 1000, 0.289, []float64{1, 4, 9.8}, 0), newBar(62, 3000, 0.289, []float64{1, 4, 9.8}, 0)} {
		for _, w := range []float64{.0013, .0026, .004, .0065} {
			b := medium(w)
			for _, v := range speeds {
				p, err := Full(&b, &bar, v)
				if err != nil {
					t.Fatal(err)
				}
				q := Quick(nil, &b, &bar, []float64{v})[0]
				t.Logf("%.4f v=%g T %.4g/%.4g F %.4g/%.4g fc %.5g/%.5g (%.2f%%) e=%.3f n=%d", w, v, p.ContactS, q.ContactS, p.PeakN, q.PeakN, p.CutoffHz, q.CutoffHz, 100*(q.CutoffHz/p.CutoffHz-1), p.Rebound, len(p.at))
				m := b.Mass
				e := 0.5*m*v*v - 0.5*m*p.end[headV]*p.end[headV] - p.Lost - p.Damped - 0.5*p.end[wholeV]*p.end[wholeV]/bar.Rigid
				for i, mo := range bar.Modes {
					e -= 0.5 / mo.Mobility * (p.end[mode1V+i]*p.end[mode1V+i] + mo.Omega*mo.Omega*p.end[mode1X+i]*p.end[mode1X+i])
				}
				_ = e
			}
		}
	}
}

func BenchmarkFull(b *testing.B) {
	h := medium(.0026)
	bar := Reference()
	b.ReportAllocs()
	for b.Loop() {
		Full(&h, &bar, 2)
	}
}
