package knowledge_test

import (
	"testing"

	"mallow/knowledge"
)

// TestEndIn holds that no shaft is glued into a ball that glue doesn't take on,
// and that there is a way without drilling across for every ball: what a young
// maker on their own is left with.
func TestEndIn(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		material      string
		drill, noHole string
	}{
		{"polypropylene", "pinned", "barbed"}, // source bond
		{"polyethylene", "pinned", "barbed"},  // source bond
		{"acetal", "pinned", "barbed"},        // source bond
		{"brass", "pinned", "barbed"},
		{"nylon", "roughened", "roughened"},
		{"phenolic", "roughened", "roughened"},
		{"maple", "roughened", "roughened"},
		{"rubber", "roughened", "roughened"},
	} {
		m, ok := cat.Material(c.material)
		if !ok {
			t.Fatalf("no %s", c.material)
		}
		for _, drill := range []bool{true, false} {
			want := c.noHole
			if drill {
				want = c.drill
			}
			if got, ok := cat.EndIn(m, drill); !ok || got.ID != want {
				t.Errorf("%s, to be drilled %v: %q, %v, want %q", c.material, drill, got.ID, ok, want)
			}
		}
	}
	for _, k := range cat.Cores {
		m, _ := cat.Material(k.Material)
		if e, ok := cat.EndIn(m, false); !ok || e.Drill {
			t.Errorf("%s: nothing holds a shaft in it without drilling across", k.ID)
		}
	}
	for _, e := range cat.ShaftEnds {
		if e.Drill && len(e.Fasteners) == 0 {
			t.Errorf("%s: drilled for nothing", e.ID)
		}
	}
}
