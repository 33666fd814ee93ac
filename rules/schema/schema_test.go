package schema_test

import (
	"fmt"
	"testing"

	"mallow/rules/schema"
)

// ball is a struct of facts as a reader of rules declares one.
type ball struct {
	Ball struct {
		MassG float64 `expr:"mass_g" doc:"mass" unit:"g" range:"0..100"`
		Core  string  `expr:"core" doc:"what it is of" oneof:"plastic|wood"`
		Bored bool    `expr:"bored" doc:"has a hole"`
	} `expr:"ball"`
}

func ExampleOf() {
	x, err := schema.NewIndex[ball]()
	if err != nil {
		fmt.Println(err)
		return
	}
	var b ball
	fmt.Println(x.Parse(&b, "ball.mass_g", "12.5"), x.Get(&b, "ball.mass_g"))
	fmt.Println(x.Parse(&b, "ball.core", "stone"))
	// Output:
	// <nil> 12.5
	// ball.core: "stone" is not one of plastic, wood
}

func TestParse(t *testing.T) {
	x, err := schema.NewIndex[ball]()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, path, text string
		want             any
		err              string
	}{
		{"a number", "ball.mass_g", "7", 7.0, ""},
		{"no number", "ball.mass_g", "heavy", nil, `"heavy" is not a number`},
		{"not finite", "ball.mass_g", "NaN", nil, `"NaN" is not a number`},
		{"a word", "ball.core", "wood", "wood", ""},
		{"another word", "ball.core", "Wood", nil, `"Wood" is not one of plastic, wood`},
		{"truth", "ball.bored", "true", true, ""},
		{"no truth", "ball.bored", "yes", nil, `"yes" is not true or false`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, ok := x.Fact(tt.path)
			if !ok {
				t.Fatalf("no fact %s", tt.path)
			}
			got, err := f.Parse(tt.text)
			if got != tt.want || fmt.Sprint(err) != map[bool]string{true: "<nil>", false: tt.err}[tt.err == ""] {
				t.Errorf("%v, %v; want %v, %s", got, err, tt.want, tt.err)
			}
		})
	}
}

// TestOf says which field of a struct can't be a fact.
func TestOf(t *testing.T) {
	if _, err := schema.NewIndex[struct {
		N int `expr:"n"`
	}](); err == nil {
		t.Error("an int passes for a fact")
	}
	if _, err := schema.NewIndex[struct {
		N float64 `expr:"n" range:"5..1"`
	}](); err == nil {
		t.Error("a range that ends before it begins passes")
	}
	if _, err := schema.NewIndex[struct{ N float64 }](); err == nil {
		t.Error("a field without a path passes")
	}
}
