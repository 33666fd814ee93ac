package class_test

import (
	"context"
	"testing"

	"mallow/rules/class"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
)

// A bin with balls and tubing in inches and in millimetres: who asked for one world's sizes
// gets a ball and tubing of it, also where packs are shared; who did not may have any
// of what is on hand.
func TestClassOfBothWorlds(t *testing.T) {
	f := proposetest.Finder(t)
	r := class.ReadRoster(f, "both.yaml", []byte(`
class: Both
facts: {instrument.kind: marimba, bench.drill: true, bench.supervised: true}
bin:
  poly-1-1/8-drilled: 6
  poly-28mm-drilled: 6
  latex-3/4x1/8: 5 ft
  latex-18x3mm: 2 m
  wool-medium: 200 g
  birch-15: 12
students:
  - {name: any, want: x, age: 20}
  - {name: inch, want: x, age: 20, facts: {bench.units: inch}}
  - {name: metric, want: x, age: 20, facts: {bench.units: metric}}
  - {name: metric and soft, want: x, age: 20, facts: {bench.units: metric, want.softness: 2}}
`))
	if len(r.Broken) > 0 {
		t.Fatal(r.Broken)
	}
	c, err := class.Plan(context.Background(), f, r, plainWords)
	if err != nil {
		t.Fatal(err)
	}
	asked := map[string]string{"inch": propose.Inch, "metric": "metric", "metric and soft": "metric"}
	for _, p := range c.Students {
		if p.Err != nil {
			t.Errorf("%s: %v", p.Name, p.Err)
			continue
		}
		t.Logf("%s: %s", p.Name, p.Stack)
		want := asked[p.Name]
		if want == "" {
			continue
		}
		st := p.Head.Head.Stack
		parts := []string{st.Core.ID}
		for _, s := range st.Slices {
			parts = append(parts, s.Tube.ID)
		}
		for _, id := range parts {
			if got := f.Catalogue().Supply(id); got != want {
				t.Errorf("%s is given %s, in %s sizes", p.Name, id, got)
			}
		}
	}
	if len(c.Students) != 4 {
		t.Errorf("%d students", len(c.Students))
	}
}
