package strike_test

import (
	"fmt"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
)

func Example() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	stack, err := head.Parse(cat, "poly-1-1/8 + 3/4x1/16@1 + wool-medium")
	if err != nil {
		fmt.Println(err)
		return
	}
	marimba, _ := cat.Instrument("marimba-5")
	r, err := strike.Of(head.New(stack, cat.Limits), strike.Setting{
		Instrument: marimba, Dynamics: cat.Dynamics, Scale: cat.Scale,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s; opens up %.1f octaves; serves %v to %v\n", r.Grade, r.OpensUp, r.Low, r.High)
	for _, s := range r.Reference {
		fmt.Printf("%-2s %.1f ms, yarn %.0f %%\n", s.Dynamic, s.ContactS*1e3, 100*s.Share[2])
	}
	// Output:
	// hard; opens up 1.2 octaves; serves C#3 to G5
	// p  2.4 ms, yarn 70 %
	// mf 1.8 ms, yarn 70 %
	// f  1.4 ms, yarn 70 %
	// ff 1.1 ms, yarn 70 %
}

// Two heads sold under different names may be one head.
func ExampleAboutSame() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	marimba, _ := cat.Instrument("marimba-5")
	set := strike.Setting{Instrument: marimba, Dynamics: cat.Dynamics, Scale: cat.Scale}
	report := func(text string) strike.Report {
		stack, err := head.Parse(cat, text)
		if err != nil {
			fmt.Println(err)
		}
		r, err := strike.Of(head.New(stack, cat.Limits), set)
		if err != nil {
			fmt.Println(err)
		}
		return r
	}
	light := report("poly-1-1/8 + 3/4x1/8@1 + wool-light")
	medium := report("poly-1-1/8 + 3/4x1/8@1 + wool-medium")
	thin := report("poly-1-1/8 + 3/4x1/16@1 + wool-medium")
	fmt.Println(strike.AboutSame(light, medium), strike.AboutSame(thin, medium))
	// Output: true false
}
