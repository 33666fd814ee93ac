package correct_test

import (
	"fmt"

	"mallow/knowledge"
	"mallow/knowledge/correct"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

// A head that came out heavier and smaller than computed: the yarn turns out to be
// heavier, and to lie closer, than the catalogue's.
func ExampleFit() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	set := strike.Setting{Dynamics: cat.Dynamics, Scale: cat.Scale}
	log := correct.Log{Heads: []correct.Built{{
		Name: "first pair", Stack: "poly-1-1/8 + 3/4x1/8@1 + wool-medium",
		Mass: 23 * measure.Gram, Diameter: 39 * measure.Millimetre,
	}}}
	log, moved, err := correct.Fit(cat, set, log)
	if err != nil {
		fmt.Println(err)
		return
	}
	m := moved[0]
	fmt.Printf("%.1f g computed, %.1f g measured, %.1f g from now on\n", m.MassWas.Grams(), m.MassMeasured.Grams(), m.MassNow.Grams())
	for _, a := range log.Adjust {
		if a.Kind == "yarn" {
			fmt.Printf("%s %s: %.3g, was %.3g\n", a.ID, a.Field, a.Now, a.Was)
		}
	}
	// Output:
	// 22.3 g computed, 23.0 g measured, 22.4 g from now on
	// wool-medium tex: 375, was 370
	// wool-medium loose: 0.22, was 0.21
	// wool-medium crush_pa: 5.08e+07, was 6.5e+07
}
