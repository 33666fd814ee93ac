package propose_test

import (
	"fmt"
	"log"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/stock"
)

// made returns so many heads of a stack.
func made(t testing.TB, f *propose.Finder, text string, heads int) propose.Make {
	t.Helper()
	s, err := head.Parse(f.Catalogue(), text)
	if err != nil {
		t.Fatal(err)
	}
	return propose.Make{Head: head.New(s, f.Catalogue().Limits), Heads: heads}
}

// What the lines of orders come to, worked out by hand: packs of 10 balls and
// dowels, tubing of 10 ft of which 1/2 in squares the ends, 0.5 mm a cut.
func TestOrder(t *testing.T) {
	f := proposetest.Finder(t)
	level := func(l string) propose.Request {
		q := proposetest.Player()
		q.Facts.Player.Level = l
		return q
	}
	first, bin := level("first"), level("many")
	bin.Bin = &stock.Bin{Items: []stock.Item{
		{Part: "poly-1-1/8", Amount: 15}, {Part: "latex-3/4x1/8", Amount: float64(12 * measure.Inch)}, {Part: "birch-16", Amount: 3},
	}}
	const one = "poly-1-1/8 + latex-3/4x1/8@1 + birch-16"
	for _, tt := range []struct {
		name  string
		makes []propose.Make
		q     propose.Request
		want  string
	}{
		// Half as many slices again, and half as many of those balls, are
		// spoilt by a first set: 2, and 1, of 4.
		{"first set", []propose.Make{made(t, f, one, 4)}, first,
			"poly-1-1/8 4+1-0 1 pack; latex-3/4x1/8 0.1016+0.0508-0 1 pack; birch-16 4+0-0 1 pack"},
		// A bored ball is not spoilt by boring.
		{"bored ball", []propose.Make{made(t, f, "poly-1-1/8-drilled + latex-3/4x1/8@1 + birch-16", 4)}, first,
			"poly-1-1/8-drilled 4+0-0 1 pack; latex-3/4x1/8 0.1016+0.0508-0 1 pack; birch-16 4+0-0 1 pack"},
		// (609.6 − 12.7 + 0.5) / (25.4 + 0.5) is 23.07: five lengths give 115
		// slices, and 112 with 6 spares take a sixth.
		{"a length more", []propose.Make{made(t, f, one, 112)}, level("many"),
			"poly-1-1/8 112+3-0 12 pack; latex-3/4x1/8 2.8448+0.1524-0 6 pack; birch-16 112+0-0 12 pack"},
		// 12 in less 1/2 in for the ends gives 11 slices: 12 and 1 spare need
		// a new length. 12 balls and 1 spare, less 15; 12 dowels less 3.
		{"parts on hand", []propose.Make{made(t, f, one, 12)}, bin,
			"poly-1-1/8 12+1-13 0 pack; latex-3/4x1/8 0.3048+0.0254-0.3048 1 pack; birch-16 12+0-3 1 pack"},
		// Two dowels of 16 in out of one of 36 in.
		{"long dowels", []propose.Make{made(t, f, "poly-1-1/8 + birch-16-cut", 5)}, level("many"),
			"poly-1-1/8 5+1-0 1 pack; birch-16-cut 5+0-0 3 pack"},
		{"nothing", []propose.Make{made(t, f, one, 0)}, level("many"), ""},
		{"tubing that nobody sells", []propose.Make{made(t, f, "poly-1-1/8 + 0.8x0.1@1", 2)}, level("many"),
			"poly-1-1/8 2+0-0 1 pack; 0.8000x0.1000 0.0508+0.0254-0 0 pack short 0.0762"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o, err := f.Order(tt.makes, tt.q)
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			sum := measure.Money(0)
			for _, l := range o.Lines {
				s := fmt.Sprintf("%s %.5g+%.4g-%.4g %d pack", l.Part, l.Need, l.Spare, l.Have, l.Packs)
				if l.Short > 0 {
					s += fmt.Sprintf(" short %.4g", l.Short)
				}
				lines = append(lines, s)
				if l.Cost != l.Price*measure.Money(l.Packs) {
					t.Errorf("%s: %d packs at %v for %v", l.Part, l.Packs, l.Price, l.Cost)
				}
				sum += l.Cost
			}
			if d := cmp.Diff(tt.want, strings.Join(lines, "; ")); d != "" {
				t.Errorf("lines (-want +got):\n%s", d)
			}
			if o.Total != sum || o.Bound > o.Total {
				t.Errorf("lines of %v, a total of %v, a lower bound of %v", sum, o.Total, o.Bound)
			}
		})
	}
}

// Makers who spoil more buy more spares, and each gets a glue of his own kind.
func TestOrderOfSeveralMakers(t *testing.T) {
	f := proposetest.Finder(t)
	young, grown := proposetest.Player(), proposetest.Player()
	young.Pass, young.Facts.Player.Level = young.Pass.But(gate.Minor, true), "first"
	grown.Facts.Player.Level = "many"
	a, b := made(t, f, "maple-1-1/8 + latex-3/4x1/8@1 + birch-16", 4), made(t, f, "maple-1-1/8 + latex-3/4x1/8@1in + birch-16", 4)
	a.For, b.For = &young, &grown
	o, err := f.Order([]propose.Make{a, b}, propose.Request{})
	if err != nil {
		t.Fatal(err)
	}
	glues := 0
	for _, l := range o.Lines {
		switch l.Kind {
		case "adhesive":
			glues++
			g, _ := f.Catalogue().Adhesive(l.Part)
			if g.Base == "solvent" {
				t.Errorf("%s has a solvent", g.ID)
			}
		case "tubing": // 4 · 0.5 + 4 · 0.05, rounded up once
			if spare := l.Spare / float64(measure.Inch); spare < 2.99 || spare > 3.01 {
				t.Errorf("%.2f slices to spare, want 3", spare)
			}
		}
	}
	if glues != 2 {
		t.Errorf("%d kinds of glue, want one for each maker", glues)
	}
}

func ExampleFinder_Order() {
	f, err := proposetest.New()
	if err != nil {
		log.Fatal(err)
	}
	s, err := head.Parse(f.Catalogue(), "rubber-50a-1-1/8 + latex-3/4x1/8@1 + birch-16")
	if err != nil {
		fmt.Println(err)
		return
	}
	q := propose.Request{Pass: proposetest.Grown()}
	q.Facts.Player.Level = "first"
	o, err := f.Order([]propose.Make{{Head: head.New(s, f.Catalogue().Limits), Heads: 4}}, q)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range o.Lines {
		fmt.Println(l.Part, l.Packs, l.Cost)
	}
	fmt.Println(o.Total)
	// Output:
	// rubber-50a-1-1/8 1 12.59
	// latex-3/4x1/8 1 20.45
	// birch-16 1 13.00
	// epoxy 1 8.50
	// 54.54
}
