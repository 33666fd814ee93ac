package knowledge_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mallow/knowledge"
	"mallow/knowledge/catalog"
	"mallow/knowledge/fault"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

// A base small enough to be read at a glance.
const small = `sources:
  - {id: practice, mark: practice, cite: common practice}
  - {id: demo, mark: demo, cite: invented}
  - {id: own, mark: seen, cite: your own}
materials:
  - id: poly
    name: polypropylene
    family: plastic
    density_kgm3: {value: 905, tol: 10, source: practice}
    modulus_pa: {value: 1.5e9, tol: 2e8, source: practice}
    poisson: {value: 0.4, tol: 0, source: practice}
    loss_factor: {value: 0.1, tol: 0, source: practice}
    source: practice
  - id: latex
    name: natural rubber latex
    family: rubber
    latex: true
    density_kgm3: {value: 950, tol: 20, source: practice}
    durometer_a: {value: 35, tol: 5, source: practice}
    stretch_limit: {value: 8.5, tol: 0, source: practice}
    poisson: {value: 0.5, tol: 0, source: practice}
    loss_factor: {value: 0.1, tol: 0, source: practice}
    solvents: poor
    source: practice
cores:
  - {id: poly-1, name: ball, material: poly, diameter: 1 in, tol: 0.005 in, price: 4.50, pack: 10, price_source: demo, source: practice}
tubing:
  - {id: latex-3/4x1/8, material: latex, bore: 3/4 in, wall: 1/8 in, bore_tol: 0.02 in, wall_tol: 0.015 in, source: practice}
tools:
  - {id: knife, name: knife, for: cutting, source: practice}
`

// fsOf returns a file system that holds one file.
func fsOf(name, text string) fstest.MapFS {
	return fstest.MapFS{name: {Data: []byte(text)}}
}

// loadSmall loads the small base with overlays that people call parts1.yaml,
// parts2.yaml and so on.
func loadSmall(overlays ...string) (*knowledge.Catalogue, error) {
	var os []knowledge.Overlay
	for i, text := range overlays {
		name := fmt.Sprintf("parts%d.yaml", i+1)
		os = append(os, knowledge.Overlay{Name: name, FS: fsOf("x.yaml", text), File: "x.yaml"})
	}
	return knowledge.Load(fsOf("base.yaml", small), os...)
}

func TestLoadSmall(t *testing.T) {
	cat, err := loadSmall()
	if err != nil {
		t.Fatal(err)
	}
	got, ok := cat.Core("poly-1")
	want := knowledge.Core{
		ID: "poly-1", Name: "ball", Material: "poly",
		Diameter: 1 * measure.Inch, Tol: 0.005 * measure.Inch,
		Price: 450, Pack: 10, PriceSource: "demo", Source: "practice",
		Origin: knowledge.Origin{File: "base.yaml", Line: 26},
	}
	if diff := cmp.Diff(want, got); !ok || diff != "" {
		t.Errorf("core (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"poly-1", "latex-3/4x1/8"}, cat.PartIDs()); diff != "" {
		t.Errorf("PartIDs (-want +got):\n%s", diff)
	}
	if _, ok := cat.Core("latex-3/4x1/8"); ok {
		t.Error("a tube was found among the cores")
	}
}

// Every error says where, what and where it can what would be valid.
func TestErrors(t *testing.T) {
	tests := []struct {
		name    string
		overlay string
		want    []string // without the file
	}{
		{
			"unknown field",
			"cores:\n  - {id: poly-1, diamter: 1 in}\n",
			[]string{`2:18: core poly-1: unknown field "diamter" (did you mean "diameter"?)`},
		},
		{
			"unknown field in a quantity",
			"materials:\n  - id: poly\n    density_kgm3: {vlue: 905}\n",
			[]string{`3:20: material poly: density_kgm3: unknown field "vlue" (did you mean "value"?)`},
		},
		{
			"unknown field like no other",
			"tools:\n  - {id: knife, colour: red}\n",
			[]string{`2:17: tool knife: unknown field "colour" (one of for, id, name, or, source)`},
		},
		{
			"unknown kind",
			"core:\n  - {id: poly-1}\n",
			[]string{`1:1: unknown kind "core" (did you mean "cores"?)`},
		},
		{
			"field twice",
			"tools:\n  - id: knife\n    name: a\n    name: b\n",
			[]string{`4:5: tool knife: field "name" is given twice (keep one)`},
		},
		{
			"kind twice",
			"tools: []\ntools: []\n",
			[]string{`2:1: file: field "tools" is given twice (keep one)`},
		},
		{
			"id twice",
			"tools:\n  - {id: saw, name: saw, for: wood, source: practice}\n  - {id: saw, name: saw, for: wood, source: practice}\n",
			[]string{`3:5: tool saw: already at parts1.yaml:2 (give another id, or join the two)`},
		},
		{
			"no id",
			"tools:\n  - {name: saw}\n",
			[]string{`2:5: tool: no id`},
		},
		{
			"id that no stack text could hold",
			"tools:\n  - {id: 'my saw'}\n",
			[]string{`2:10: tool: "my saw" can't be an id (lower-case letters, digits and . / _ - only)`},
		},
		{
			"two kinds of part with one id",
			"tubing:\n  - {id: poly-1, material: latex, bore: 1 in, wall: 1/8 in, source: practice}\n",
			[]string{`2:10: tubing poly-1: id: a core has this id too (give another id)`},
		},
		{
			"missing fields of a new record",
			"tools:\n  - {id: knif, name: blade}\n",
			[]string{`2:5: tool knif: no for (a new record has to give it; to change a known one, did you mean "knife"?)`},
		},
		{
			"unknown reference",
			"cores:\n  - {id: poly-1, material: polly}\n",
			[]string{`2:28: core poly-1: material: no material "polly" (did you mean "poly"?)`},
		},
		{
			"unknown source",
			"materials:\n  - id: poly\n    density_kgm3: {source: practise}\n",
			[]string{`3:28: material poly: density_kgm3.source: no source "practise" (did you mean "practice"?)`},
		},
		{
			"quantity without source",
			"materials:\n  - id: poly\n    stretch_limit: {value: 2}\n",
			[]string{`3:20: material poly: stretch_limit: only a rubber is stretched (leave it out)`},
		},
		{
			"unknown tool and caution of a step",
			"steps:\n  - {id: cut, title: Cut, text: Cut it., tools: [knife, nife], cautions: [knife], source: practice}\n",
			[]string{
				`2:57: step cut: tools.2: no tool "nife" (did you mean "knife"?)`,
				`2:75: step cut: cautions.1: no caution "knife"`,
			},
		},
		{
			"core of rubber tubing's material is fine, tubing of plastic is not",
			"cores:\n  - {id: poly-1, material: latex}\ntubing:\n  - {id: latex-3/4x1/8, material: poly}\n",
			[]string{`4:35: tubing latex-3/4x1/8: material: poly is a plastic, want a rubber`},
		},
		{
			"wall thicker than can be",
			"tubing:\n  - {id: latex-3/4x1/8, wall: 7/8 in}\n",
			[]string{`2:31: tubing latex-3/4x1/8: wall: a wall of 22.22 mm on a bore of 19.05 mm can't be stretched (no thicker than the bore)`},
		},
		{
			"tolerance below nothing",
			"materials:\n  - id: poly\n    density_kgm3: {tol: -1}\n",
			[]string{`3:25: material poly: density_kgm3.tol: a tolerance of -1 can't be (0 or more)`},
		},
		{
			"tolerance wider than the part",
			"cores:\n  - {id: poly-1, tol: 1/4 in}\n",
			[]string{`2:23: core poly-1: tol: 6.35 mm can't be (0 to 2.54 mm)`},
		},
		{
			"bore as wide as the core",
			"cores:\n  - {id: poly-1, bore: 1 in}\n",
			[]string{`2:24: core poly-1: bore: 25.4 mm can't be (0 to 17.78 mm)`},
		},
		{
			"out of physical range",
			"materials:\n  - id: poly\n    density_kgm3: {value: 0.905}\n    poisson: {value: 0.6}\n",
			[]string{
				`3:27: material poly: density_kgm3.value: 0.905 can't be (100 to 9000)`,
				`4:22: material poly: poisson.value: 0.6 can't be (0 to 0.5)`,
			},
		},
		{
			"hardness of a plastic ball",
			"cores:\n  - {id: poly-1, durometer_a: 60}\n",
			[]string{`2:31: core poly-1: durometer_a: only a rubber ball has a durometer reading here (leave it out)`},
		},
		{
			"choice not known",
			"materials:\n  - {id: poly, family: plastik}\n",
			[]string{`2:24: material poly: family: "plastik" is not known (did you mean "plastic"?)`},
		},
		{
			"instrument upside down",
			"instruments:\n  - id: m\n    name: m\n    kind: marimba\n    bars: wood\n    low: C7\n    high: C2\n    ratios: [1, 10, 4]\n    bar_mass: [{note: C4, mass: 400 g}, {note: C3, mass: 500 g}]\n    bar_mass_source: practice\n    loss_factor: {value: 0.004, source: practice}\n    source: practice\n",
			[]string{
				`7:11: instrument m: high: the highest note must lie above the lowest (above low)`,
				`8:21: instrument m: ratios.3: ratio 4 does not lie above 10 (rising)`,
				`9:48: instrument m: bar_mass.2.note: the notes of bar_mass must rise (rising)`,
			},
		},
		{
			"note off every keyboard",
			"instruments:\n  - {id: m, name: m, kind: bells, bars: metal, low: C0, high: C6, ratios: [1], bar_mass: [{note: C4, mass: 1 kg}], bar_mass_source: practice, loss_factor: {value: 0.1, source: practice}, source: practice}\n",
			[]string{`2:53: instrument m: low: no keyboard has this note (A0 to C9)`},
		},
		{
			"shaft heavier than its rod",
			"shafts:\n  - {id: s, name: s, material: poly, length: 16 in, diameter: 5/16 in, mass: 50 g, mass_tol: 1 g, source: practice}\n",
			[]string{`2:78: shaft s: mass: 50 g is not the mass of a rod of this size in poly (18.2 g within 1.2 g)`},
		},
		{
			"price without pack",
			"tubing:\n  - {id: latex-3/4x1/8, price: 5}\n",
			[]string{`2:5: tubing latex-3/4x1/8: pack: a priced part needs a pack above nothing (how much is sold at the price)`},
		},
		{
			"fraction into a whole number",
			"cores:\n  - {id: poly-1, pack: 3.5}\n",
			[]string{`2:24: core poly-1: pack: "3.5" is not a whole number`},
		},
		{
			"text into a number",
			"materials:\n  - id: poly\n    density_kgm3: {value: heavy, tol: .nan}\n",
			[]string{
				`3:27: material poly: density_kgm3: value: "heavy" is not a number`,
				`3:39: material poly: density_kgm3: tol: ".nan" is not a number`,
			},
		},
		{
			"nothing given",
			"cores:\n  - {id: poly-1, diameter: ~}\n  - {id: poly-1, name: }\n",
			[]string{
				`2:28: core poly-1: diameter: no value (leave the field out, or give it one)`,
				`3:5: core poly-1: already at parts1.yaml:2 (give another id, or join the two)`,
			},
		},
		{
			"yes for true",
			"materials:\n  - {id: poly, latex: yes}\n",
			[]string{`2:23: material poly: latex: "yes" is neither true nor false (true or false)`},
		},
		{
			"latex in a plastic",
			"materials:\n  - {id: poly, latex: true}\n",
			[]string{`2:23: material poly: latex: only a rubber can be natural rubber latex`},
		},
		{
			"list for a value, value for a list",
			"tools:\n  - {id: knife, name: [a]}\ncores: poly-1\nmaterials: {poly: 1}\n",
			[]string{
				`2:23: tool knife: name: want one value, found a list`,
				`3:8: cores: want a list, found "poly-1" (start each entry with -)`,
				`4:12: materials: want a list, found fields with values (start each entry with -)`,
			},
		},
		{
			"text at the top",
			"just words\n",
			[]string{`1:1: file: want fields with values, found "just words"`},
		},
		{
			"control character",
			"tools:\n  - {id: knife, name: \"knife\\e[31m\"}\n",
			[]string{`2:23: tool knife: name: control character U+001B (only plain text and line ends)`},
		},
		{
			"text turned about",
			"tools:\n  - {id: knife, name: \"knife\\u202E\"}\n",
			[]string{`2:23: tool knife: name: control character U+202E (only plain text and line ends)`},
		},
		{
			"control character in a field name",
			"tools:\n  - {id: knife, \"na\\eme\": x}\n",
			[]string{`2:17: tool knife: unknown field "na?me" (did you mean "name"?)`},
		},
		{
			"tab",
			"tools:\n\t- {id: knife}\n",
			[]string{"2:1: not YAML: found character that cannot start any token (indent with spaces, not tabs; a text that starts with @, ` or % needs quotes)"},
		},
		{
			"colon in a text",
			"tools:\n  - id: knife\n    name: knife: sharp\n",
			[]string{`3:1: not YAML: mapping values are not allowed in this context (a text with a colon in it needs quotes)`},
		},
		{
			"plain number for a quantity, out of range",
			"materials:\n  - {id: poly, density_kgm3: 0.9}\n",
			[]string{`2:30: material poly: density_kgm3.value: 0.9 can't be (100 to 9000)`},
		},
		{
			"second document",
			"tools: []\n---\ntools: []\n",
			[]string{`2:1: a second YAML document starts here (join them into one)`},
		},
		{
			"not YAML",
			"tools:\n  - {id: knife\n",
			[]string{`2:1: not YAML: did not find expected ',' or '}' (in what starts on this line)`},
		},
		{
			"not text",
			"tools: \xff\n",
			[]string{`: not YAML: invalid leading UTF-8 octet`},
		},
		{
			"too deep",
			strings.Repeat("[", 20000),
			[]string{`: not YAML: exceeded max depth of 10000`},
		},
		{
			"too large",
			strings.Repeat("#\n", 1<<19) + "#",
			[]string{`: the file has 1048577 bytes, the limit is 1048576`},
		},
		{
			"too many records",
			"tools:\n" + strings.Repeat("- {}\n", 5001),
			[]string{`2:1: tools: more than 5000 entries`},
		},
		{
			"too many fields",
			"tools:\n- {id: saw, " + strings.Repeat("a: 1, ", 101) + "}\n",
			[]string{`2:3: tool saw: more than 100 fields`},
		},
		{
			"too many aliases",
			"tools:\n  - id: knife\n    for: &f cutting\n    name: *f\nsteps:\n  - {id: s, order: 1, title: t, text: t, source: practice, tools: [&k knife" + strings.Repeat(", *k", 50) + "]}\n",
			[]string{`6:274: more than 50 aliases (write the values out)`},
		},
		{
			"an alias to itself",
			"tools:\n  - &a {id: knife, name: *a}\n",
			[]string{`2:26: tool knife: name: want one value, found fields with values`},
		},
		{
			"merge key",
			"tools:\n  - &a {id: saw, name: saw, for: wood, source: practice}\n  - {<<: *a, id: knife}\n",
			[]string{`3:6: tool knife: unknown field "<<" (one of for, id, name, or, source)`},
		},
		{
			"hiding nothing",
			"tools:\n  - {id: nife, hide: true}\n",
			[]string{`2:22: tool nife: hide: there is none to hide (did you mean "knife"?)`},
		},
		{
			"hiding what is needed",
			"materials:\n  - {id: poly, hide: true}\n",
			[]string{`base.yaml:26:40: core poly-1: material: material "poly" is hidden at parts1.yaml:2 (hide this record too, or give it another)`},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := loadSmall(tt.overlay)
			var all fault.Errors
			if !errors.As(err, &all) {
				t.Fatalf("error %v, want Errors", err)
			}
			var want []string
			for _, w := range tt.want {
				switch {
				case strings.HasPrefix(w, "base.yaml"):
				case strings.HasPrefix(w, ":"):
					w = "parts1.yaml" + w
				default:
					w = "parts1.yaml:" + w
				}
				want = append(want, w)
			}
			if diff := cmp.Diff(want, strings.Split(all.Error(), "\n")); diff != "" {
				t.Errorf("errors (-want +got):\n%s", diff)
			}
		})
	}
}

// A value of package measure is refused with its words, at its place.
func TestMeasureErrors(t *testing.T) {
	_, err := loadSmall("cores:\n  - {id: poly-1, diameter: 1 1/0 in}\n")
	if err == nil || !strings.HasPrefix(err.Error(), "parts1.yaml:2:28: core poly-1: diameter: ") {
		t.Errorf("error %v", err)
	}
}

func TestOverlay(t *testing.T) {
	const core = "cores:\n  - "
	tests := []struct {
		name     string
		overlays []string
		want     func(*knowledge.Core) // what changes of the base's; nil when it goes
	}{
		{
			"a given field changes, others stay",
			[]string{core + "{id: poly-1, price: 6}"},
			func(c *knowledge.Core) { c.Price, c.PriceSource = 600, "own" },
		},
		{
			"a later overlay goes over an earlier one",
			[]string{core + "{id: poly-1, price: 6, pack: 5}", core + "{id: poly-1, price: 7}"},
			func(c *knowledge.Core) { c.Price, c.Pack, c.PriceSource = 700, 5, "own" },
		},
		{
			"zero is a value",
			[]string{core + "{id: poly-1, tol: 0 in}"},
			func(c *knowledge.Core) { c.Tol, c.Source = 0, "own" },
		},
		{
			"sources are kept when they are named",
			[]string{core + "{id: poly-1, price: 6, price_source: demo, tol: 0 in, source: practice}"},
			func(c *knowledge.Core) { c.Price, c.Tol = 600, 0 },
		},
		{"hidden", []string{core + "{id: poly-1, hide: true}"}, nil},
		{
			"hidden, then brought back",
			[]string{core + "{id: poly-1, hide: true}", core + "{id: poly-1, hide: false}"},
			func(*knowledge.Core) {},
		},
		{
			"not hidden",
			[]string{core + "{id: poly-1, hide: false, pack: 2}"},
			func(c *knowledge.Core) { c.Pack, c.PriceSource = 2, "own" },
		},
		{"nothing in it", []string{"", "# only a comment\n", "cores:\n"}, func(*knowledge.Core) {}},
	}
	base, err := loadSmall()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cat, err := loadSmall(tt.overlays...)
			if err != nil {
				t.Fatal(err)
			}
			got, ok := cat.Core("poly-1")
			if tt.want == nil {
				if ok {
					t.Errorf("still there: %+v", got)
				}
				return
			}
			want, _ := base.Core("poly-1")
			tt.want(&want)
			got.Origin, want.Origin = knowledge.Origin{}, knowledge.Origin{}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("core (-want +got):\n%s", diff)
			}
			if len(cat.Cores) != 1 {
				t.Errorf("%d cores, want 1", len(cat.Cores))
			}
		})
	}
}

// Inside a quantity, too, only what is given changes, and it is credited to the
// user unless a source is named; a list changes whole.
func TestOverlayDepth(t *testing.T) {
	cat, err := loadSmall(`
materials:
  - {id: poly, density_kgm3: {value: 910}}
  - {id: latex, durometer_a: 40}
terms:
  - {id: bore, also: [inside, hole], means: the hole, source: practice}
`, `
terms:
  - {id: bore, also: [id]}
`)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := cat.Material("poly")
	if want := (knowledge.Quantity{Value: 910, Tol: 10, Source: "own"}); m.DensityKgM3 != want || m.Source != "practice" {
		t.Errorf("density %+v of %s, want %+v of practice", m.DensityKgM3, m.Source, want)
	}
	// A plain number is the value alone.
	m, _ = cat.Material("latex")
	if want := (knowledge.Quantity{Value: 40, Tol: 5, Source: "own"}); m.DurometerA != want {
		t.Errorf("durometer %+v, want %+v", m.DurometerA, want)
	}
	term, _ := cat.Term("bore")
	if diff := cmp.Diff([]string{"id"}, term.Also); diff != "" || term.Means != "the hole" {
		t.Errorf("term %+v", term)
	}
}

// A record says where it comes from, and what it changed.
func TestOrigin(t *testing.T) {
	cat, err := knowledge.Load(fsOf("base.yaml", small),
		knowledge.Overlay{Name: "your parts file", FS: fsOf("x.yaml", "cores:\n  - {id: poly-1, pack: 5}\n"), File: "x.yaml"},
		knowledge.Overlay{Name: "your parts", FS: fstest.MapFS{
			"a.yaml":   {Data: []byte("\ntools:\n  - {id: knife, name: blade}\n")},
			"b.yaml":   {Data: []byte("tools:\n\n\n  - {id: saw, name: saw, for: wood, source: practice}\n")},
			"note.txt": {Data: []byte("not ours")},
		}})
	if err != nil {
		t.Fatal(err)
	}
	core, _ := cat.Core("poly-1")
	knife, _ := cat.Tool("knife")
	saw, _ := cat.Tool("saw")
	tube, _ := cat.Tube("latex-3/4x1/8")
	for _, tt := range []struct {
		origin knowledge.Origin
		want   string
	}{
		{core.Origin, "your parts file, line 2, over base.yaml, line 26"},
		{knife.Origin, "your parts/a.yaml, line 3, over base.yaml, line 30"},
		{saw.Origin, "your parts/b.yaml, line 4"},
		{tube.Origin, "base.yaml, line 28"},
	} {
		if got := tt.origin.String(); got != tt.want {
			t.Errorf("origin %q, want %q", got, tt.want)
		}
	}
}

// The example of a maker's own parts file does what its comments say.
func TestPartsFile(t *testing.T) {
	cat, err := knowledge.Load(catalog.Files(),
		knowledge.Overlay{Name: "your parts file", FS: os.DirFS("../testdata"), File: "parts.yaml"})
	if err != nil {
		t.Fatal(err)
	}
	base := knowledgetest.Catalogue(t)
	poly, _ := cat.Core("poly-1-1/8")
	rubber, _ := cat.Core("rubber-50a-1-1/8")
	tube, _ := cat.Tube("latex-13/16x1/8")
	yarn, _ := cat.Yarn("wool-medium")
	type says struct {
		Price, RubberMM, BoreMM, Tex, EasyN float64
		Sources                             []string
		Origin                              string
	}
	got := says{
		float64(poly.Price), rubber.Diameter.MM(), tube.Bore.MM(), yarn.Tex.Value, cat.Limits.EasyHandN.Value,
		[]string{poly.PriceSource, poly.Source, rubber.Source, tube.Source, yarn.Tex.Source, yarn.Loose.Source},
		tube.Origin.String(),
	}
	want := says{
		320, 28.3, 20.6375, 420, 60,
		[]string{"own", "practice", "own", "own", "own", "calibration"},
		"your parts file, line 21",
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if _, ok := cat.Core("phenolic-1-1/8"); ok {
		t.Error("a hidden core is still there")
	}
	if len(cat.Cores) != len(base.Cores)-1 || len(cat.Tubing) != len(base.Tubing)+1 {
		t.Errorf("%d cores and %d tubes, shipped are %d and %d", len(cat.Cores), len(cat.Tubing), len(base.Cores), len(base.Tubing))
	}
}

// Laid over itself, the shipped knowledge stays what it is.
func TestOverlayOfItself(t *testing.T) {
	base := knowledgetest.Catalogue(t)
	cat, err := knowledge.Load(catalog.Files(), knowledge.Overlay{Name: "again", FS: catalog.Files()})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(base, cat, cmpopts.IgnoreTypes(knowledge.Origin{})); diff != "" {
		t.Errorf("(-once +twice):\n%s", diff)
	}
}

// Errors of all files come at once: base first, then by file and place.
func TestErrorsAreSorted(t *testing.T) {
	_, err := knowledge.Load(fstest.MapFS{
		"b.yaml": {Data: []byte("tools:\n  - {id: saw}\nbores: []\n")},
		"a.yaml": {Data: []byte("tools:\n  - {id: knife, nam: x}\n")},
	}, knowledge.Overlay{Name: "A.yaml", FS: fsOf("x.yaml", "what: 1\nelse: 2\n"), File: "x.yaml"})
	want := []string{
		`a.yaml:2:17: tool knife: unknown field "nam" (did you mean "name"?)`,
		`b.yaml:2:5: tool saw: no for`,
		`b.yaml:2:5: tool saw: no name`,
		`b.yaml:2:5: tool saw: no source`,
		`b.yaml:3:1: unknown kind "bores" (did you mean "cores"?)`,
		`A.yaml:1:1: unknown kind "what"`,
		`A.yaml:2:1: unknown kind "else"`,
	}
	if err == nil {
		t.Fatal("no error")
	}
	if diff := cmp.Diff(want, strings.Split(err.Error(), "\n")); diff != "" {
		t.Errorf("errors (-want +got):\n%s", diff)
	}
	var first *fault.Error
	if !errors.As(err, &first) || first.File != "a.yaml" || first.Line != 2 || first.Col != 17 {
		t.Errorf("first error %+v", first)
	}
}

func TestMissingFile(t *testing.T) {
	_, err := knowledge.Load(fsOf("base.yaml", small),
		knowledge.Overlay{Name: "your parts file", FS: fstest.MapFS{}, File: "parts.yaml"})
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v, want one of a file that does not exist", err)
	}
}

// Dynamics come softest first and steps by their order, wherever they stand.
func TestOrder(t *testing.T) {
	cat, err := loadSmall(`
dynamics:
  - {id: f, speed_ms: {value: 3.5, source: practice}}
  - {id: p, speed_ms: {value: 1, source: practice}}
steps:
  - {id: wrap, order: 20, title: Wrap, text: Wrap it., source: practice}
  - {id: cut, order: 10, title: Cut, text: Cut it., source: practice}
`, "steps:\n  - {id: weigh, order: 15.5, title: Weigh, text: Weigh it., source: practice}\n")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range cat.Dynamics {
		got = append(got, d.ID)
	}
	for _, s := range cat.Steps {
		got = append(got, s.ID)
	}
	if diff := cmp.Diff([]string{"p", "f", "cut", "weigh", "wrap"}, got); diff != "" {
		t.Errorf("order (-want +got):\n%s", diff)
	}
}

func ExampleLoad() {
	parts := fstest.MapFS{"parts.yaml": {Data: []byte(`
cores:
  - {id: poly-1-1/8, price: 3.20, pack: 4}
  - {id: phenolic-1, hide: true}
`)}}
	cat, err := knowledge.Load(catalog.Files(), knowledge.Overlay{
		Name: "your parts file", FS: parts, File: "parts.yaml",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	core, _ := cat.Core("poly-1-1/8")
	fmt.Println(core.Name, core.Price, core.Pack)
	_, ok := cat.Core("phenolic-1")
	fmt.Println("phenolic-1:", ok)

	parts["parts.yaml"].Data = []byte("cores:\n  - {id: poly-1-1/8, pric: 3.20}\n")
	_, err = knowledge.Load(catalog.Files(), knowledge.Overlay{
		Name: "parts.yaml", FS: parts, File: "parts.yaml",
	})
	fmt.Println(err)
	// Output:
	// polypropylene ball, 1 1/8 in 3.20 4
	// phenolic-1: false
	// parts.yaml:2:22: core poly-1-1/8: unknown field "pric" (did you mean "price"?)
}

// Whatever the bytes, Load returns a checked catalogue or a plain error, and
// no control character gets through.
func FuzzLoad(f *testing.F) {
	f.Add(small)
	f.Add("cores:\n  - {id: poly-1, price: 6, hide: true}\n")
	f.Add("tools:\n  - &a {id: knife, name: *a}\n")
	f.Add("tools: [{id: x, name: \"\\e[2J\", for: y, source: practice}]")
	f.Add("limits: {slack_stretch: {value: 1.02, source: practice}}")
	f.Add("a: &a [*a, *a]\n---\nb: ~\n")
	f.Add("{{{{: \x00")
	f.Fuzz(func(t *testing.T, text string) {
		cat, err := loadSmall(text)
		if err != nil {
			if cat != nil {
				t.Error("a catalogue and an error")
			}
			for _, r := range err.Error() {
				if r != '\n' && (r < ' ' || r >= 0x7f && r < 0xa0) {
					t.Errorf("control character %U in %q", r, err)
				}
			}
			return
		}
		for _, x := range cat.Tools {
			if strings.ContainsRune(x.Name, '\x1b') {
				t.Errorf("escape in %q", x.Name)
			}
		}
		for _, id := range cat.PartIDs() {
			if id == "" || strings.ContainsAny(id, " +*@") {
				t.Errorf("part id %q", id)
			}
		}
	})
}
