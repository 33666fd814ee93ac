package knowledge_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

func TestCatalogueSize(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	tests := []struct {
		what      string
		got, want int
	}{
		{"cores", len(cat.Cores), 30},
		{"tubing sizes", len(cat.Tubing), 40},
		{"yarns and cords", len(cat.Yarns), 15},
		{"shafts", len(cat.Shafts), 10},
		{"adhesives", len(cat.Adhesives), 5},
		{"solvents", len(cat.Solvents), 6},
		{"tools", len(cat.Tools), 10},
		{"instruments", len(cat.Instruments), 7},
		{"grips", len(cat.Grips), 3},
		{"dynamics", len(cat.Dynamics), 4},
	}
	for _, tt := range tests {
		if tt.got < tt.want {
			t.Errorf("%d %s, want at least %d", tt.got, tt.what, tt.want)
		}
	}
}

// Everything that a maker may ask for by name or kind is there.
func TestCatalogueCovers(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, id := range strings.Fields("poly-1 poly-1-1/8 rubber-40a-1-1/8 rubber-50a-1-1/8 rubber-55a-1-1/8 rubber-60a-1-1/8 rubber-75a-1-1/8") {
		if _, ok := cat.Core(id); !ok {
			t.Errorf("no core %s", id)
		}
	}
	for _, id := range strings.Fields("latex-3/4x1/8 latex-3/4x1/16 latex-1x1/8 latex-7/8x1/8 latex-1x1/16 silicone-3/4x1/8") {
		if _, ok := cat.Tube(id); !ok {
			t.Errorf("no tubing %s", id)
		}
	}
	if _, ok := cat.Yarn("wool-medium"); !ok {
		t.Error("no yarn wool-medium")
	}
	if _, ok := cat.Shaft("birch-16"); !ok {
		t.Error("no shaft birch-16")
	}
	for _, id := range strings.Fields("two cross independent") {
		if _, ok := cat.Grip(id); !ok {
			t.Errorf("no grip %s", id)
		}
	}

	materials := map[string]int{}
	drilled := map[bool]int{}
	for _, c := range cat.Cores {
		materials[c.Material]++
		drilled[c.Bore > 0]++
		m, _ := cat.Material(c.Material)
		materials[m.Family]++
	}
	for _, want := range strings.Fields("polypropylene polyethylene nylon acetal phenolic wood rubber") {
		if materials[want] == 0 {
			t.Errorf("no core of %s", want)
		}
	}
	if drilled[true] == 0 || drilled[false] == 0 {
		t.Errorf("%d drilled and %d undrilled cores, want both", drilled[true], drilled[false])
	}
	size := func(c knowledge.Core) measure.Length { return c.Diameter }
	metric := 0
	cat.Cores = slices.DeleteFunc(slices.Clone(cat.Cores), func(c knowledge.Core) bool { return c.Supply != "inch" })
	cat.Tubing = slices.DeleteFunc(slices.Clone(cat.Tubing), func(x knowledge.Tube) bool {
		if x.Supply == "metric" {
			metric++
		}
		return x.Supply != "inch"
	})
	if metric < 20 {
		t.Errorf("%d tubings in millimetres", metric)
	}
	span(t, "core diameter", cat.Cores, size, 0.5, 1.5)
	span(t, "tubing bore", cat.Tubing, func(x knowledge.Tube) measure.Length { return x.Bore }, 0.25, 1.5)
	span(t, "tubing wall", cat.Tubing, func(x knowledge.Tube) measure.Length { return x.Wall }, 1./32, 0.25)

	shafts := map[string]int{}
	for _, s := range cat.Shafts {
		shafts[s.Material]++
	}
	for _, want := range strings.Fields("birch maple rattan fibreglass") {
		if shafts[want] == 0 {
			t.Errorf("no shaft of %s", want)
		}
	}
	fibres := map[string]int{}
	for _, y := range cat.Yarns {
		fibres[y.Fibre]++
	}
	for _, want := range strings.Fields("wool acrylic cotton nylon-fibre polyester wool-nylon") {
		if fibres[want] == 0 {
			t.Errorf("no yarn of %s", want)
		}
	}
}

// span reports when the sizes of parts do not reach from least to most inches.
func span[T any](t *testing.T, what string, parts []T, size func(T) measure.Length, least, most float64) {
	t.Helper()
	var in []float64
	for _, p := range parts {
		in = append(in, size(p).Inches())
	}
	lo, hi := slices.Min(in), slices.Max(in)
	if math.Abs(lo-least) > 1e-9 || math.Abs(hi-most) > 1e-9 {
		t.Errorf("%s from %g to %g in, want %g to %g", what, lo, hi, least, most)
	}
}

// Somebody who must avoid latex finds every kind of part.
func TestWithoutLatex(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	var cores, tubes int
	for _, c := range cat.Cores {
		if m, _ := cat.Material(c.Material); !m.Latex {
			cores++
		}
	}
	for _, x := range cat.Tubing {
		if m, _ := cat.Material(x.Material); !m.Latex {
			tubes++
		}
	}
	joins := map[string]bool{}
	for _, a := range cat.Adhesives {
		for _, j := range a.Joins {
			if !a.Latex && a.Base != "solvent" {
				joins[j] = true
			}
		}
	}
	if cores == 0 || tubes < 10 || len(joins) != 4 {
		t.Errorf("%d cores, %d tubes, joints %v without latex and solvent", cores, tubes, joins)
	}
}

// Densities against published ranges in kg/m3, with the handbook that gives
// them.
func TestDensities(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	tests := []struct {
		id       string
		least    float64
		most     float64
		citation string
	}{
		{"polypropylene", 895, 930, "two public notes (seen)"},
		{"polyethylene", 945, 965, "Morton and Hearle, Table 5.1 (seen; 0.95)"},
		{"nylon", 1130, 1150, "Morton and Hearle, Table 5.1 (seen; 1.14)"},
		{"acetal", 1410, 1420, "from memory"},
		{"phenolic", 1250, 1450, "one list 1.4 (seen), range from memory"},
		{"latex", 930, 970, "raw rubber 0.93 (seen); A-A-50247C: specific gravity at most 0.97 (second-hand)"},
		{"silicone", 1100, 1200, "from memory"},
		{"epdm", 1100, 1300, "from memory"},
		{"wool", 1300, 1310, "Morton and Hearle, Table 5.1 (seen)"},
		{"cotton", 1520, 1550, "Morton and Hearle, Table 5.1 (seen)"},
		{"acrylic", 1190, 1190, "Morton and Hearle, Table 5.1 (seen)"},
		{"nylon-fibre", 1140, 1140, "Morton and Hearle, Table 5.1 (seen)"},
		{"polyester", 1390, 1390, "Morton and Hearle, Table 5.1 (seen)"},
		{"maple", 630, 710, "Wood Handbook specific gravity 0.63, times 1 to 1.12 (second-hand)"},
		{"birch", 620, 700, "Wood Handbook 0.62, times 1 to 1.12 (memory); one list 670 (seen)"},
		{"rattan", 400, 700, "from memory"},
	}
	for _, tt := range tests {
		m, ok := cat.Material(tt.id)
		if d := m.DensityKgM3.Value; !ok || d < tt.least || d > tt.most {
			t.Errorf("%s: density %g, want %g to %g: %s", tt.id, d, tt.least, tt.most, tt.citation)
		}
	}
}

// Natural latex tubing against US Commercial Item Description A-A-50247C
// (second-hand): hardness 35 +/- 5, elongation at least 750 %, bore within
// 0.015 in up to 3/8 in, walls by thickness.
func TestLatexTubing(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	latex, _ := cat.Material("latex")
	if a := latex.DurometerA; a.Value != 35 || a.Tol != 5 {
		t.Errorf("hardness %g +/- %g, want 35 +/- 5", a.Value, a.Tol)
	}
	if s := latex.StretchLimit.Value; s < 8.5 {
		t.Errorf("stretch at break %g, want at least 8.5", s)
	}
	if !latex.Latex || latex.Solvents != "poor" {
		t.Errorf("latex %t, solvents %q, want true and poor", latex.Latex, latex.Solvents)
	}
	walls := []struct{ least, most, tol float64 }{ // in
		{1. / 32, 3. / 64, 0.007},
		{1. / 16, 5. / 64, 0.010},
		{3. / 32, 1. / 8, 0.015},
	}
	checked := 0
	for _, x := range cat.Tubing {
		if x.Material != "latex" || x.Supply != "inch" {
			continue
		}
		for _, w := range walls {
			if in := x.Wall.Inches(); in > w.least-1e-9 && in < w.most+1e-9 {
				checked++
				if got := x.WallTol.Inches(); math.Abs(got-w.tol) > 1e-9 {
					t.Errorf("%s: wall +/- %.4f in, want %.3f", x.ID, got, w.tol)
				}
			}
		}
		if got := x.BoreTol.Inches(); x.Bore <= 0.375*measure.Inch && math.Abs(got-0.015) > 1e-9 {
			t.Errorf("%s: bore +/- %.4f in, want 0.015", x.ID, got)
		}
	}
	if checked < 20 {
		t.Errorf("only %d walls checked", checked)
	}
}

// An id says what the part is: common practice is to name parts by kind and
// size, and a stack text is read by people.
func TestIDsSayTheSize(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	inches := func(l measure.Length) string {
		text, exact := l.Fraction()
		if !exact {
			t.Errorf("%v is no fraction of an inch", l)
		}
		return strings.ReplaceAll(strings.TrimSuffix(text, " in"), " ", "-")
	}
	whole := func(l measure.Length) string {
		if math.Abs(l.MM()*2-math.Round(l.MM()*2)) > 1e-9 {
			t.Errorf("%v is no half millimetre", l)
		}
		return fmt.Sprintf("%.2g", l.MM())
	}
	for _, c := range cat.Cores {
		want := ""
		switch c.Supply {
		case "inch":
			want = "-" + inches(c.Diameter)
		case "metric":
			want = "-" + whole(c.Diameter) + "mm"
		default:
			t.Errorf("core %s is of no world of sizes", c.ID)
		}
		if !strings.HasSuffix(strings.TrimSuffix(c.ID, "-drilled"), want) {
			t.Errorf("core %s does not end in %s", c.ID, want)
		}
	}
	for _, x := range cat.Tubing {
		want := ""
		switch x.Supply {
		case "inch":
			want = x.Material + "-" + inches(x.Bore) + "x" + inches(x.Wall)
		case "metric":
			want = x.Material + "-" + whole(x.Bore) + "x" + whole(x.Wall) + "mm"
		}
		if x.ID != want {
			t.Errorf("tubing %s, want %s", x.ID, want)
		}
	}
}

// An id begins with the material, and a rubber ball's hardness is a durometer
// reading; no part is told by its colour.
func TestIDsSayTheMaterial(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	begins := func(id, material string) {
		if !strings.HasPrefix(id+"-", material+"-") {
			t.Errorf("%s does not begin with %s", id, material)
		}
	}
	for _, c := range cat.Cores {
		if c.Material == "polypropylene" {
			begins(c.ID, "poly") // as everybody at the bench says
			continue
		}
		begins(c.ID, c.Material)
		if m, _ := cat.Material(c.Material); m.Family == "rubber" {
			if c.DurometerD > 0 {
				begins(c.ID, fmt.Sprintf("%s-%.0fd", c.Material, c.DurometerD))
			} else {
				begins(c.ID, fmt.Sprintf("%s-%.0fa", c.Material, c.DurometerA))
			}
		}
	}
	for _, y := range cat.Yarns {
		begins(y.ID, strings.TrimSuffix(y.Fibre, "-fibre"))
	}
	for _, s := range cat.Shafts {
		begins(s.ID, s.Material)
	}
	for _, id := range cat.PartIDs() {
		for _, colour := range strings.Fields("red orange yellow green blue purple violet pink white grey gray black brown") {
			if strings.Contains(id, colour) {
				t.Errorf("%s names a colour", id)
			}
		}
	}
}

// Published solvent figures: flash points from a university table of
// flammable liquids (seen), limits from OSHA and NIOSH pages (seen).
func TestSolvents(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	toluene, _ := cat.Solvent("toluene")
	heptane, _ := cat.Solvent("n-heptane")
	if toluene.FlashC.Value != 4 || toluene.PELPpm.Value != 200 || toluene.RELPpm.Value != 100 {
		t.Errorf("toluene: flash %v, PEL %v, REL %v, want 4, 200, 100", toluene.FlashC, toluene.PELPpm, toluene.RELPpm)
	}
	if heptane.FlashC.Value != -4 || heptane.PELPpm.Value != 500 || heptane.RELPpm.Value != 85 {
		t.Errorf("n-heptane: flash %v, PEL %v, REL %v, want -4, 500, 85", heptane.FlashC, heptane.PELPpm, heptane.RELPpm)
	}
	// 89 FR 39254 (2024): no consumer access.
	if dcm, ok := cat.Solvent("dichloromethane"); !ok || !dcm.Avoid {
		t.Error("dichloromethane is not marked to be avoided")
	}
}

// Sounding ranges in Hz, A4 = 440: marimbas, xylophone 349 to 4186 (seen),
// vibraphone and bells from memory.
func TestRanges(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	tests := []struct {
		id        string
		low, high float64
		ratios    []float64
	}{
		{"marimba-4", 130.813, 2093.005, []float64{1, 4, 10}},
		{"marimba-4-1/3", 110.000, 2093.005, []float64{1, 4, 10}},
		{"marimba-4-1/2", 87.307, 2093.005, []float64{1, 4, 10}},
		{"marimba-5", 65.406, 2093.005, []float64{1, 4, 10}},
		{"vibraphone", 174.614, 1396.913, []float64{1, 4}},
		{"xylophone", 349.228, 4186.009, []float64{1, 3}},
		{"bells", 783.991, 4186.009, []float64{1, 2.757, 5.404}},
	}
	for _, tt := range tests {
		in, ok := cat.Instrument(tt.id)
		if !ok {
			t.Errorf("no instrument %s", tt.id)
			continue
		}
		if lo, hi := in.Low.Hz(), in.High.Hz(); math.Abs(lo-tt.low) > 1e-3 || math.Abs(hi-tt.high) > 1e-3 {
			t.Errorf("%s: %.3f to %.3f Hz, want %.3f to %.3f", tt.id, lo, hi, tt.low, tt.high)
		}
		if n := len(tt.ratios); len(in.Ratios) < n || !slices.Equal(in.Ratios[:n], tt.ratios) {
			t.Errorf("%s: ratios %v, want %v first", tt.id, in.Ratios, tt.ratios)
		}
	}
}

// Invented figures are marked so, and nothing else is.
func TestPricesAreDemo(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	demo, ok := cat.Source("demo")
	if !ok || demo.Mark != "demo" {
		t.Fatal("no source demo with mark demo")
	}
	check := func(id string, price measure.Money, priceSource, source string) {
		if price <= 0 || priceSource != "demo" || source == "demo" {
			t.Errorf("%s: price %v from %q, figures from %q", id, price, priceSource, source)
		}
	}
	for _, x := range cat.Cores {
		check(x.ID, x.Price, x.PriceSource, x.Source)
	}
	for _, x := range cat.Tubing {
		check(x.ID, x.Price, x.PriceSource, x.Source)
	}
	for _, x := range cat.Yarns {
		check(x.ID, x.Price, x.PriceSource, x.Source)
	}
	for _, x := range cat.Shafts {
		check(x.ID, x.Price, x.PriceSource, x.Source)
	}
	for _, x := range cat.Adhesives {
		check(x.ID, x.Price, x.PriceSource, x.Source)
	}
}

// Names are generic: no capital letter but those of units, materials and
// notes stands in the name of a part, and no mark of a protected name.
func TestNamesAreGeneric(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	allowed := strings.Fields("PVA EPDM D")
	check := func(id, name string) {
		for _, w := range strings.Fields(name) {
			if w != strings.ToLower(w) && !slices.Contains(allowed, w) {
				t.Errorf("%s: %q in its name is no generic word", id, w)
			}
		}
		if strings.ContainsAny(name, "®™©") {
			t.Errorf("%s: name %q", id, name)
		}
	}
	for _, x := range cat.Cores {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Yarns {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Shafts {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Adhesives {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Materials {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Instruments {
		check(x.ID, x.Name)
	}
	for _, x := range cat.Grips {
		check(x.ID, x.Name)
	}
}

// A ball's volume times its density: a 1 1/8 in polypropylene ball weighs
// about 11 g (common practice, no source).
func TestBallMass(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	c, _ := cat.Core("poly-1-1/8")
	m, _ := cat.Material(c.Material)
	g := math.Pi / 6 * math.Pow(float64(c.Diameter), 3) * m.DensityKgM3.Value * 1e3
	if math.Abs(g-11) > 0.3 {
		t.Errorf("%.2f g, want about 11", g)
	}
}

// Linear densities against a chart of a standard yarn weight system (seen):
// metres in 100 g by category. tex = 100000 / (m in 100 g), ISO 1144.
func TestYarnWeights(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	weights := map[string][2]float64{
		"lace":       {600, 800},
		"super fine": {400, 480},
		"fine":       {300, 400},
		"light":      {240, 300},
		"medium":     {120, 240},
		"bulky":      {100, 130},
	}
	chart := map[string]int{"lace": 0, "super fine": 1, "fine": 2, "light": 3, "medium": 4, "bulky": 5}
	tests := []struct{ id, weight string }{
		{"wool-lace", "lace"},
		{"wool-fine", "super fine"},
		{"wool-light", "fine"},
		{"wool-medium", "light"},
		{"wool-heavy", "medium"},
		{"wool-single", "medium"},
		{"wool-bulky", "bulky"},
		{"acrylic-fine", "super fine"},
		{"acrylic-medium", "light"},
		{"acrylic-heavy", "medium"},
		{"acrylic-bulky", "bulky"},
		{"wool-nylon", "super fine"},
		{"wool-acrylic", "light"},
	}
	for _, tt := range tests {
		y, ok := cat.Yarn(tt.id)
		w := weights[tt.weight]
		in := func(form string) bool {
			return strings.Contains(y.Name, fmt.Sprintf(form, tt.weight, chart[tt.weight]))
		}
		if tt.id != "wool-single" && !in(", %s (chart %d)") && !in(" (%s, chart %d)") {
			t.Errorf("%s is called %q, the chart has %s as its %d", tt.id, y.Name, tt.weight, chart[tt.weight])
		}
		if m := 1e5 / y.Tex.Value; !ok || m < w[0] || m > w[1] {
			t.Errorf("%s: %.0f m in 100 g, %s yarn has %.0f to %.0f", tt.id, m, tt.weight, w[0], w[1])
		}
	}
}

// Wood is struck across its grain: the modulus along it times the geometric mean of the
// Wood Handbook's radial and tangential ratios, sugar maple's as copied in a public
// database (second-hand), yellow birch's from memory.
func TestWoodAcrossTheGrain(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, w := range []struct {
		id                        string
		along, radial, tangential float64
	}{{"maple", 12.6e9, 0.132, 0.065}, {"birch", 13.9e9, 0.078, 0.050}} {
		m, ok := cat.Material(w.id)
		want := w.along * math.Sqrt(w.radial*w.tangential)
		if got := m.ModulusPa.Value; !ok || math.Abs(got/want-1) > 0.01 {
			t.Errorf("%s: %.3g Pa, across the grain %.3g", w.id, got, want)
		}
	}
}

// A blend's figures follow from its fibres' own: volumes and stiffness add up
// by share.
func TestBlends(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	tests := []struct {
		id, a, b string
		shareA   float64 // by mass
	}{
		{"wool-nylon", "wool", "nylon-fibre", 0.75},
		{"wool-acrylic", "wool", "acrylic", 0.5},
		{"polyester-cotton", "polyester", "cotton", 0.5},
	}
	for _, tt := range tests {
		m, _ := cat.Material(tt.id)
		a, _ := cat.Material(tt.a)
		b, _ := cat.Material(tt.b)
		density := 1 / (tt.shareA/a.DensityKgM3.Value + (1-tt.shareA)/b.DensityKgM3.Value)
		if got := m.DensityKgM3.Value; math.Abs(got-density) > 1 {
			t.Errorf("%s: density %g, want %.0f", tt.id, got, density)
		}
		modulus := tt.shareA*a.ModulusPa.Value + (1-tt.shareA)*b.ModulusPa.Value
		if got := m.ModulusPa.Value; math.Abs(got/modulus-1) > 0.01 {
			t.Errorf("%s: modulus %g, want %g", tt.id, got, modulus)
		}
	}
}

// The decay that a loss factor means, T60 = 2.2/(f*eta): 7.5 s for the lowest
// bar of a rosewood marimba (derived from the published 0.45 %), about 40 s for
// the low F of a vibraphone (Fletcher and Rossing, from memory).
func TestDecay(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	tests := []struct {
		id         string
		want, give float64 // s
	}{
		{"marimba-5", 7.5, 0.1},
		{"vibraphone", 40, 5},
	}
	for _, tt := range tests {
		in, _ := cat.Instrument(tt.id)
		if t60 := 2.2 / (in.Low.Hz() * in.LossFactor.Value); math.Abs(t60-tt.want) > tt.give {
			t.Errorf("%s: %v decays in %.1f s, want %g", tt.id, in.Low, t60, tt.want)
		}
	}
}

// An id says what its part is: of a yarn the word of its name, of a ball its size
// and hardness, of tubing bore and wall, of a shaft its length.
func TestIDsAgreeWithNames(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for _, y := range cat.Yarns {
		name := strings.FieldsFunc(y.Name, func(r rune) bool { return strings.ContainsRune(" ,()-", r) })
		for _, word := range strings.Split(y.ID, "-") {
			if !slices.Contains(name, word) {
				t.Errorf("yarn %s is called %q", y.ID, y.Name)
			}
		}
	}
	said := func(l measure.Length) string {
		if text, exact := l.Fraction(); exact && !l.IsMetric() {
			return strings.ReplaceAll(text, " ", "-")
		}
		return strings.ReplaceAll(l.Mm(), " ", "")
	}
	for _, c := range cat.Cores {
		id := strings.TrimSuffix(c.ID, "-drilled")
		if !strings.HasSuffix(id, "-"+said(c.Diameter)) || c.ID != id && c.Bore == 0 || c.DurometerA > 0 && !strings.Contains(id, fmt.Sprintf("-%ga-", c.DurometerA)) {
			t.Errorf("ball %s is %v across, of %g durometer and bored %v: %s", c.ID, c.Diameter, c.DurometerA, c.Bore, c.Name)
		}
	}
	for _, x := range cat.Tubing {
		size := said(x.Bore) + "x" + said(x.Wall)
		if x.Supply == "metric" {
			size = strings.TrimSuffix(said(x.Bore), "mm") + "x" + said(x.Wall)
		}
		if !strings.HasSuffix(x.ID, "-"+size) {
			t.Errorf("tubing %s has a bore of %v and a wall of %v", x.ID, x.Bore, x.Wall)
		}
	}
	for _, x := range cat.Shafts {
		if !strings.Contains(x.ID+"-", "-"+said(x.Length)+"-") {
			t.Errorf("shaft %s is %v long", x.ID, x.Length)
		}
	}
}
