package sheet_test

import (
	"fmt"
	"log"

	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

func Example() {
	cat, err := knowledge.Default()
	if err != nil {
		log.Fatal(err)
	}
	book, err := facts.Book()
	if err != nil {
		log.Fatal(err)
	}
	finder, err := propose.New(cat, book)
	if err != nil {
		log.Fatal(err)
	}
	maker, err := sheet.NewMaker(cat)
	if err != nil {
		log.Fatal(err)
	}
	stack, err := head.Parse(cat, "rubber-50a-1-1/8 + wool-medium*140 + birch-16")
	if err != nil {
		log.Fatal(err)
	}
	player := facts.Facts{Bench: facts.Bench{Scale: true}}
	candidate, err := finder.Consider(stack, propose.Request{Facts: player})
	if err != nil {
		log.Fatal(err)
	}
	s, err := maker.Sheet(candidate, sheet.Options{})
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range s.Steps {
		fmt.Printf("%d. %s\n", step.Number, step.Title)
	}
	// Output:
	// 1. Lay out the parts and check them
	// 2. Choose the core
	// 3. Weigh the core
	// 4. Try the shaft without glue
	// 5. Glue in the shaft
	// 6. Try the shaft with 22 N
	// 7. Start the yarn
	// 8. Wind the first layer: 84 turns
	// 9. Wind the second layer: 56 turns, steeper
	// 10. Sew the crown
	// 11. Fasten off the yarn
	// 12. Weigh and measure the finished head
	// 13. Match the pair
	// 14. Trim the heavier or lighter head with its yarn
	// 15. Check the balance
	// 16. Listen
	// 17. Clean up and put away
}
