package few_test

import (
	"testing"

	"mallow/assistant/few"
	"mallow/knowledge"
)

// The small bench has only parts that are shipped, of every kind, and all else
// of the catalogue.
func TestParts(t *testing.T) {
	cat, err := few.Parts()
	if err != nil {
		t.Fatal(err)
	}
	all, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	if len(cat.Cores) == 0 || len(cat.Tubing) == 0 || len(cat.Yarns) == 0 || len(cat.Shafts) == 0 {
		t.Fatalf("%d cores, %d tubing, %d yarns, %d shafts", len(cat.Cores), len(cat.Tubing), len(cat.Yarns), len(cat.Shafts))
	}
	if len(cat.Cores) >= len(all.Cores) || len(cat.Terms) != len(all.Terms) || len(cat.Steps) != len(all.Steps) {
		t.Error("it leaves out what it should not")
	}
	for _, c := range cat.Cores {
		if _, ok := all.Core(c.ID); !ok {
			t.Errorf("%s is not shipped", c.ID)
		}
	}
	one, err := few.Of("poly-1")
	if err != nil || len(one.Cores) != 1 || len(one.Tubing)+len(one.Yarns)+len(one.Shafts) != 0 {
		t.Errorf("of one part there are %d cores (%v)", len(one.Cores), err)
	}
}
