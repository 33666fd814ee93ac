package facts_test

import (
	"fmt"
	"slices"

	"mallow/knowledge/yamlfile"
	"mallow/rules"
	"mallow/rules/facts"
)

// A user's own rule stands beside the shipped ones and is asked with them.
func ExampleBook() {
	mine := yamlfile.Source{Name: "mine.yaml", Data: []byte(`
rules:
  - id: my-hands-tire
    title: my hands tire early
    on: head
    when: head.mass_g > 30 and player.mallets >= 4
    do: prefer
    weight: -3
    reason: at {head.mass_g:g} four of these tire my hands
    change: a head of 30 g or less
    source: practice
    fires: [{head.mass_g: 33, player.mallets: 4}]
    quiet: [{head.mass_g: 33, player.mallets: 2}]
`)}
	book, err := facts.Book(mine)
	if err != nil {
		fmt.Println(err)
		return
	}
	var f facts.Facts
	f.Player.Mallets, f.Player.EasyG, f.Player.MostG = 4, 36, 55
	f.Head.MassG = 41.2
	known := rules.Known{"player.mallets": true, "player.easy_g": true, "player.most_g": true, "head.mass_g": true}
	for _, a := range book.Ask("head", f, known) {
		if a.State == rules.Fired && slices.Contains([]rules.Effect{rules.Refuse, rules.Prefer}, a.Rule.Do) {
			fmt.Printf("%s %+g: %s\n", a.Rule.ID, a.Rule.Weight, a.Reason)
		}
	}
	// Output:
	// tiring-costs -3: the head comes to 41.2 g, and 36.0 g stays comfortable in this grip
	// my-hands-tire -3: at 41.2 g four of these tire my hands
}
