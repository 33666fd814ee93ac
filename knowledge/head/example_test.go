package head_test

import (
	"fmt"
	"log"

	"mallow/knowledge"
	"mallow/knowledge/head"
)

func Example() {
	cat, err := knowledge.Default()
	if err != nil {
		log.Fatal(err)
	}
	stack, err := head.Parse(cat, "poly-1-1/8 + 3/4x1/8 + wool-medium*140 + birch-16")
	if err != nil {
		log.Fatal(err)
	}
	h := head.New(stack, cat.Limits)
	l := h.Layers[0]
	fmt.Printf("cut %v; it is stretched %.2f times and %s\n", l.Cut, l.Stretch, l.Verdict)
	fmt.Printf("over the rubber %v, %v\n", h.Bare, h.BareMass)
	fmt.Printf("finished        %v, %v\n", h.Diameter, h.Mass)
	fmt.Println(stack)
	// Output:
	// cut 1 in (25.4 mm); it is stretched 1.50 times and good
	// over the rubber 1.33 in (33.8 mm), 15.5 g
	// finished        1.55 in (39.4 mm), 21 g
	// poly-1-1/8 + latex-3/4x1/8 + wool-medium*140 + birch-16
}

// A search fits each slice once and tries wraps over the same rubber.
func ExampleFit() {
	cat, err := knowledge.Default()
	if err != nil {
		log.Fatal(err)
	}
	core, _ := cat.Core("poly-1-1/8")
	plastic, _ := cat.Material(core.Material)
	tube, _ := cat.Tube("latex-3/4x1/8")
	latex, _ := cat.Material(tube.Material)

	l := head.Fit(head.Ball(core), head.Slice{Tube: tube, Rubber: latex}, &cat.Limits)
	fmt.Printf("%s: opens at %.0f N, grips with %.0f kPa; a next slice lies on %v\n",
		l.Verdict, l.HandN, l.GripPa/1e3, l.Bed().Diameter)

	bare := head.Assemble(core, plastic, []head.Layer{l}, nil, nil, &cat.Limits)
	yarn, _ := cat.Yarn("wool-medium")
	wool, _ := cat.Material(yarn.Fibre)
	for _, turns := range []int{90, 140, 200} {
		h := bare.Rewrap(&head.Wrap{Yarn: yarn, Fibre: wool, Turns: turns}, &cat.Limits)
		fmt.Printf("%d turns: %v, %v\n", turns, h.Diameter, h.Mass)
	}
	// Output:
	// good: opens at 57 N, grips with 92 kPa; a next slice lies on 1.33 in (33.8 mm)
	// 90 turns: 1.48 in (37.7 mm), 19.9 g
	// 140 turns: 1.55 in (39.4 mm), 21.9 g
	// 200 turns: 1.63 in (41.4 mm), 24.5 g
}
