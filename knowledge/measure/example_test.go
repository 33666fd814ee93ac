package measure_test

import (
	"fmt"

	"mallow/knowledge/measure"
)

func ExampleParseLength() {
	for _, text := range []string{`1-1/8"`, "1 1/8 in", "⅛", "1.34", "28.6 mm", "2 ft", "1/0", "1,125"} {
		l, err := measure.ParseLength(text, measure.Inch)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(l)
	}
	// Output:
	// 1 1/8 in (28.6 mm)
	// 1 1/8 in (28.6 mm)
	// 1/8 in (3.18 mm)
	// 1.34 in (34 mm)
	// 1.13 in (28.6 mm)
	// 24 in (609.6 mm)
	// 1/0: a fraction's bottom can't be 0; try 1/8
	// 1,125: the comma may mark decimals or thousands; try 1.125 or 1125
}

func ExampleLength_Fraction() {
	for _, l := range []measure.Length{34 * measure.Millimetre, 25.4 * measure.Millimetre} {
		text, exact := l.Fraction()
		fmt.Println(text, exact)
	}
	// Output:
	// 1 11/32 false
	// 1 true
}

func ExampleNote_Hz() {
	n, err := measure.ParseNote("Bb4")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v %.2f Hz\n", n, n.Hz())
	// Output:
	// A#4 466.16 Hz
}
