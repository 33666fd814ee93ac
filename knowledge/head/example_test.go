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
	// finished        1.46 in (37 mm), 20.8 g
	// poly-1-1/8 + latex-3/4x1/8 + wool-medium*140 + birch-16
}
