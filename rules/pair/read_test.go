package pair

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"mallow/knowledge/measure"
)

func TestRead(t *testing.T) {
	g := func(x float64) Thing { return Thing{Mass: measure.Mass(x) * measure.Gram} }
	mm := func(x float64) Thing { return Thing{Size: measure.Length(x) * measure.Millimetre} }
	both := func(name string, x, d float64) Thing {
		return Thing{name, measure.Mass(x) * measure.Gram, measure.Length(d) * measure.Millimetre}
	}
	tests := []struct {
		text, unit string
		want       []Thing
	}{
		{"14.2 g 14.6 g", "", []Thing{g(14.2), g(14.6)}},
		{"14.2g, 14.6g; 13,9 g", "", []Thing{g(14.2), g(14.6), g(13.9)}},
		{"14.2 14.6", "g", []Thing{g(14.2), g(14.6)}},
		{"14.2 14.6 g 13", "", []Thing{g(14.2), g(14.6), g(13)}},
		{"25.4 25.5", "mm", []Thing{mm(25.4), mm(25.5)}},
		{"1 1/8 in, 1-1/4\" 1⅛ in", "", []Thing{mm(28.575), mm(31.75), mm(28.575)}},
		{"1/2 oz", "", []Thing{g(14.1747615625)}},
		{"A: 14.2 g 28.5 mm\nB=14.3 g, 28.6 mm # the red one\n\n", "", []Thing{both("A", 14.2, 28.5), both("B", 14.3, 28.6)}},
		{"14.2g/28.5mm 14.3g/28.6mm", "", []Thing{both("", 14.2, 28.5), both("", 14.3, 28.6)}},
		{"14.2 g x 28.5 mm", "", []Thing{both("", 14.2, 28.5)}},
		{"28.5 mm at 14.2 g; 28.6 mm at 14.3 g", "", []Thing{both("", 14.2, 28.5), both("", 14.3, 28.6)}},
		{"a: 14 b: 15", "g", []Thing{{Name: "a", Mass: 14 * measure.Gram}, {Name: "b", Mass: 15 * measure.Gram}}},
	}
	for _, test := range tests {
		got, err := Read("", test.text, test.unit)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if d := cmp.Diff(test.want, got, cmpopts.EquateApprox(1e-12, 0)); d != "" {
			t.Errorf("%q: %s", test.text, d)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for _, test := range []struct{ text, unit, says string }{
		{"", "", "bag:0"},
		{"14.2 g\n14.3 stone", "", "bag:2:1: stone is no unit"},
		{"14.2 g\n  heavy", "", "bag:2:3: heavy is no weight"},
		{"14.2 14.6", "", "bag:1:1: 14.2 has no unit"},
		{"14.2 g 28 mm 15", "", "bag:1:14: 15 has no unit"},
		{"14,2,14,6", "g", "commas"},
		{"0 g 14 g", "", "bag:1:1: 0 g: nothing"},
		{"-14 g", "", "bag:1:1"},
		{"14 g\nA:\nB: 15 g", "", "bag:2:1: A has no weight"},
		{"A: B: 15 g", "", "bag:1:4: A has no weight"},
		{"1000000 kg", "", "too large"},
		{"14", "stone", "stone is no unit"},
	} {
		_, err := Read("bag", test.text, test.unit)
		says := strings.Replace(test.says, "bag:0", "bag: there is no weight", 1)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", test.text, err, says)
		}
	}
}

// Whatever the text, reading it ends, and what was read has a measure and can
// be sorted or is refused.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"14.2 g 14.6 g", "A: 14.2 g 28.5 mm\nB: 1/2 oz, 1 1/8 in # x", "14,2,3", "½ in x 3", "\xff:\xfe", "1e9 g", "a:b:c: 1"} {
		f.Add(s, "g")
	}
	f.Fuzz(func(t *testing.T, text, unit string) {
		if len(text) > 200 {
			return
		}
		things, err := Read("f", text, unit)
		if err != nil {
			return
		}
		for i, th := range things {
			if !(th.Mass > 0 || th.Size > 0) {
				t.Errorf("%q: %s has no measure", text, Name(th, i))
			}
		}
		if s, err := Sort(things, Options{}); err == nil {
			if n := 2*len(s.Groups) + len(s.Left); n != len(things) {
				t.Errorf("%q: %d things in, %d out", text, len(things), n)
			}
		}
	})
}

func Example() {
	things, _ := Read("", "14.1 g 14.9 g 14.2 g 15.6 g 14.8 g", "")
	sorted, _ := Sort(things, Options{})
	for _, g := range sorted.Groups {
		fmt.Println(g.Things[0].Name, "with", g.Things[1].Name)
	}
	fmt.Println("left over:", sorted.Left[0].Name)
	// Output:
	// no. 1 with no. 3
	// no. 5 with no. 2
	// left over: no. 4
}
