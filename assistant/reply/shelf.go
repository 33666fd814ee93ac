package reply

import (
	"fmt"
	"math"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/shelf"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/stock"
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

// NewShelf gathers what is shown of a shelf that is kept in a file.
func NewShelf(cat *knowledge.Catalogue, s *shelf.Shelf, file string) Shelf {
	v := Shelf{File: file, Parts: []ShelfPart{}, Did: []string{}, Notes: []string{}}
	words := In(cat)
	for _, id := range cat.PartIDs() {
		x := ShelfPart{Part: id, Name: words.Part(id)}
		for _, it := range s.Bin.Items {
			if it.Part == id {
				x.Amounts = append(x.Amounts, stock.Amount(cat, id, it.Amount))
			}
		}
		if len(x.Amounts) == 0 {
			continue
		}
		if worth, own, ok := s.Worth(cat, id, s.Bin.OnHand(id)); ok {
			x.WorthCents, x.OwnPrice = int64(worth), own
			v.WorthCents += int64(worth)
		}
		v.Parts = append(v.Parts, x)
	}
	return v
}

// TakenOff is what is said of parts that came off a shelf.
const TakenOff = "Taken off"

// PutOrTaken says what was put on a shelf or taken off it, each part in one line.
func PutOrTaken(cat *knowledge.Catalogue, did string, items []stock.Item) (list []string) {
	amounts, order := map[string][]string{}, []string{}
	for _, it := range items {
		if amounts[it.Part] == nil {
			order = append(order, it.Part)
		}
		amount := stock.Amount(cat, it.Part, it.Amount)
		if math.IsInf(it.Amount, 1) && did == TakenOff {
			amount = "all there was"
		}
		amounts[it.Part] = append(amounts[it.Part], amount)
	}
	words := In(cat)
	for _, id := range order {
		list = append(list, fmt.Sprintf("%s: %s, %s.", did, words.Part(id), alikes(amounts[id])))
	}
	return list
}

// alikes lists amounts, those that are alike as so many of one.
func alikes(amounts []string) string {
	var list []string
	for at := 0; at < len(amounts); {
		n := at
		for n < len(amounts) && amounts[n] == amounts[at] {
			n++
		}
		if n > at+1 {
			list = append(list, fmt.Sprintf("%d × %s", n-at, amounts[at]))
		} else {
			list = append(list, amounts[at])
		}
		at = n
	}
	return strings.Join(list, ", ")
}

// TakeOff is how to take off a shelf what some heads of each stack used, once they
// are built.
func TakeOff(heads int, stacks ...string) string {
	s := fmt.Sprintf("Once they are built, this takes off your shelf what they used: mallow shelf take --heads %d", heads)
	for _, x := range stacks {
		s += " --built '" + x + "'"
	}
	return s
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
		t.Rows = append(t.Rows, []string{x.Name, x.Part, alikes(x.Amounts), worth})
	}
	p = append(p, t, page.Para(fmt.Sprintf("What was counted is worth %s in all.", measure.Money(v.WorthCents))))
	if catalogue {
		p = append(p, page.Para("* at the catalogue's invented prices; mallow shelf price says what you paid."))
	}
	return append(p, page.Para("Kept in "+v.File+"."))
}
