package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/measure"
)

// Shelf is what a maker owns.
type Shelf struct {
	File  string      `json:"file"`
	Parts []ShelfPart `json:"parts"`
	// WorthCents is what all that was counted cost.
	WorthCents int64    `json:"worth_cents"`
	Did        []string `json:"did"`   // what was just put there or taken off
	Notes      []string `json:"notes"` // what was assumed of the parts
}

// ShelfPart is one part on a shelf.
type ShelfPart struct {
	Part    string   `json:"part"`
	Name    string   `json:"name"`
	Amounts []string `json:"amounts"` // each length and skein by itself; enough is uncounted
	// WorthCents is zero for what nobody counted.
	WorthCents int64 `json:"worth_cents"`
	OwnPrice   bool  `json:"own_price"` // as the maker paid, not as the catalogue has it
}

// Page is the shelf for people.
func (v Shelf) Page() page.Page {
	var p page.Page
	for _, n := range v.Notes {
		p = append(p, page.Para(n))
	}
	for _, d := range v.Did {
		p = append(p, page.Para(d))
	}
	if len(v.Parts) == 0 {
		return append(p, page.Para("Nothing is on the shelf. Put something there with, for example: mallow shelf add '40 plastic balls 1 1/8, 200 g of wool'."))
	}
	t := page.Table{Title: "On the shelf", Head: []string{"part", "id", "there", "worth"}, Right: []bool{false, false, false, true}}
	catalogue := false
	for _, x := range v.Parts {
		worth := "-"
		if x.WorthCents > 0 {
			worth = measure.Money(x.WorthCents).String()
			if !x.OwnPrice {
				worth, catalogue = worth+" *", true
			}
		}
		t.Rows = append(t.Rows, []string{x.Name, x.Part, strings.Join(x.Amounts, ", "), worth})
	}
	p = append(p, t, page.Para(fmt.Sprintf("What was counted is worth %s in all.", measure.Money(v.WorthCents))))
	if catalogue {
		p = append(p, page.Para("* at the catalogue's invented prices; mallow shelf price says what you paid."))
	}
	return append(p, page.Para("Kept in "+v.File+"."))
}
