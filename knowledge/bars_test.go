package knowledge_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

// bar is a bar of a keyboard, undercut by a parabolic arch whose half-width is
// Arch and whose thickness at the middle is Mid.
type bar struct {
	Length, Width, Thick float64 // m
	Arch, Mid            float64 // m; Mid == Thick is a uniform bar
	E, Rho               float64 // Pa, kg/m3
}

// thick returns the thickness at x from the middle.
func (b bar) thick(x float64) float64 {
	x = math.Abs(x)
	if x >= b.Arch {
		return b.Thick
	}
	return b.Mid + (b.Thick-b.Mid)*(x/b.Arch)*(x/b.Arch)
}

// mass integrates the parabola.
func (b bar) mass() float64 {
	return b.Rho * b.Width * (b.Thick*b.Length - (b.Thick-b.Mid)*b.Arch*2*2/3)
}

// modes returns the frequencies in Hz of the first n bending modes of the free
// bar: Euler-Bernoulli finite elements with cubic shape functions, which come
// down to the true frequencies from above as elements are added.
func (b bar) modes(n int) []float64 {
	const elements = 48
	size := 2 * (elements + 1)
	k, m := mat.NewSymDense(size, nil), mat.NewSymDense(size, nil)
	l := b.Length / elements
	for e := range elements {
		h := b.thick(-b.Length/2 + (float64(e)+0.5)*l)
		ei := b.E * b.Width * h * h * h / 12 / (l * l * l)
		ra := b.Rho * b.Width * h * l / 420
		ke := [4][4]float64{
			{12, 6 * l, -12, 6 * l},
			{6 * l, 4 * l * l, -6 * l, 2 * l * l},
			{-12, -6 * l, 12, -6 * l},
			{6 * l, 2 * l * l, -6 * l, 4 * l * l},
		}
		me := [4][4]float64{
			{156, 22 * l, 54, -13 * l},
			{22 * l, 4 * l * l, 13 * l, -3 * l * l},
			{54, 13 * l, 156, -22 * l},
			{-13 * l, -3 * l * l, -22 * l, 4 * l * l},
		}
		for i := range 4 {
			for j := i; j < 4; j++ {
				r, c := 2*e+i, 2*e+j
				k.SetSym(r, c, k.At(r, c)+ei*ke[i][j])
				m.SetSym(r, c, m.At(r, c)+ra*me[i][j])
			}
		}
	}
	// k x = w2 m x as a plain eigenvalue problem: m = L Lᵀ.
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return nil
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	var a, c mat.Dense
	if a.Solve(&lower, k) != nil || c.Solve(&lower, a.T()) != nil {
		return nil
	}
	sym := mat.NewSymDense(size, nil)
	for i := range size {
		for j := i; j < size; j++ {
			sym.SetSym(i, j, (c.At(i, j)+c.At(j, i))/2)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, false) {
		return nil
	}
	f := make([]float64, n)
	for i := range n {
		f[i] = math.Sqrt(max(eig.Values(nil)[i+2], 0)) / (2 * math.Pi) // after two rigid motions
	}
	return f
}

// readBars returns the bars of bars.csv by kind and note, as in "marimba C4".
func readBars(t *testing.T) map[string]bar {
	t.Helper()
	f, err := os.Open("../testdata/bars.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	bars := map[string]bar{}
	for _, row := range rows[1:] {
		x := make([]float64, len(row))
		for i, s := range row[2:] {
			if x[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		bars[row[0]+" "+row[1]] = bar{
			Length: x[0] / 1e3, Width: x[1] / 1e3, Thick: x[2] / 1e3,
			Arch: x[3] / 1e3, Mid: x[4] / 1e3,
			E: x[5] * 1e9, Rho: x[6],
		}
	}
	return bars
}

// Checks the finite elements against the closed form for a uniform free bar:
// cos(x)cosh(x) = 1 at 4.73004, 7.85320, 10.99561 (Euler-Bernoulli).
func TestUniformBar(t *testing.T) {
	b := bar{Length: 0.3, Width: 0.06, Thick: 0.01915, Mid: 0.01915, E: 17.96e9, Rho: 837}
	for i, x := range []float64{4.730041, 7.853205, 10.995608} {
		want := x * x / (2 * math.Pi) * b.Thick / (b.Length * b.Length) * math.Sqrt(b.E/b.Rho/12)
		if got := b.modes(3)[i]; math.Abs(got/want-1) > 1e-4 {
			t.Errorf("mode %d: %.2f Hz, want %.2f", i+1, got, want)
		}
	}
	// The blank of a published beam-theory example: 0.289 kg.
	if got := b.mass(); math.Abs(got-0.289) > 0.0005 {
		t.Errorf("mass %.4f kg, want 0.289", got)
	}
}

// The bars from which the bar masses follow sound their notes, and have the
// tuned second partial where an arch can give it.
func TestBarsInTune(t *testing.T) {
	ratio := map[string]float64{"marimba": 4, "vibraphone": 4, "xylophone": 3, "bells": 2.7565}
	for name, b := range readBars(t) {
		t.Run(name, func(t *testing.T) {
			family, text, _ := strings.Cut(name, " ")
			kind := strings.TrimSuffix(family, "-4")
			note, err := measure.ParseNote(text)
			if err != nil {
				t.Fatal(err)
			}
			f := b.modes(3)
			if cents := 1200 * math.Log2(f[0]/note.Hz()); math.Abs(cents) > 10 {
				t.Errorf("fundamental %.1f Hz, %.0f cents off %v", f[0], cents, note)
			}
			second := f[1] / f[0]
			t.Logf("1 : %.2f : %.2f, %.1f mm at the middle", second, f[2]/f[0], b.Mid*1e3)
			held := b.Arch > 0 && (b.Arch < 0.151*b.Length || b.Arch > 0.499*b.Length)
			if want := ratio[kind]; !held && math.Abs(second/want-1) > 0.005 {
				t.Errorf("second partial %.3f, want %.3f", second, want)
			}
		})
	}
}

// The bass of the marimba against what is published: the arch of low bars is
// about 1/4 in at its thinnest (seen), and the third partial
// lies close to the tenth (seen; 9.6 if just).
func TestBassBars(t *testing.T) {
	bars := readBars(t)
	for _, name := range []string{"marimba C2", "marimba F2"} {
		b := bars[name]
		if b.Mid < 5e-3 || b.Mid > 7.5e-3 {
			t.Errorf("%s: %.1f mm at the middle, want about 6.4", name, b.Mid*1e3)
		}
		f := b.modes(3)
		if third := f[2] / f[0]; third < 9 || third > 10.5 {
			t.Errorf("%s: third partial %.2f, want close to 10", name, third)
		}
	}
}

// The catalogue's bar masses are those of bars of the sizes in bars.csv.
func TestBarMasses(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	bars := readBars(t)
	for _, in := range cat.Instruments {
		if in.BarMassSource != "bar-geometry" {
			continue
		}
		for _, bm := range in.BarMass {
			family := in.Kind
			if in.ID == "marimba-4" { // its lowest bar is of the size that was measured
				family = in.ID
			}
			b, ok := bars[family+" "+bm.Note.String()]
			if !ok {
				t.Errorf("%s: no bar of %v in bars.csv", in.ID, bm.Note)
				continue
			}
			if got, want := bm.Mass.Grams(), b.mass()*1e3; math.Abs(got/want-1) > 0.01 {
				t.Errorf("%s %v: mass %.4g g, the bar's is %.4g g", in.ID, bm.Note, got, want)
			}
		}
	}
}
