package understand_test

import (
	"fmt"
	"strings"

	"mallow/assistant/understand"
	"mallow/knowledge"
)

func Example() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := understand.New(cat)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := r.Read("four mallets, cross grip, low end of a marimba, dark but not mushy, made from moonlight", understand.Context{})
	for _, a := range in.Answers {
		fmt.Println(a.Path, a.Value)
	}
	fmt.Println("understood:", strings.Join(in.Understood, "; "))
	fmt.Println("missed:", strings.Join(in.Missed, "; "))
	// Output:
	// player.mallets 4
	// player.grip cross
	// want.register low
	// instrument.kind marimba
	// want.colour dark
	// want.attack clear
	// understood: four mallets in a cross grip; the low end; marimba; dark; clear attack
	// missed: moonlight
}
