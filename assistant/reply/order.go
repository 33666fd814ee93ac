package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/measure"
	"mallow/rules/stock"
	"mallow/rules/stock/cutting"
)

// Order is what to buy for some heads, and how to cut it.
type Order struct {
	Lines      []Line `json:"lines"`
	TotalCents int64  `json:"total_cents"`
	// LeastCents is a proven lower bound of the total.
	LeastCents int64 `json:"lower_bound_cents"`
}

// Line is one part of an order.
type Line struct {
	Kind       string  `json:"kind"` // core, tubing, yarn, shaft or adhesive
	Part       string  `json:"part"`
	Name       string  `json:"name"`
	Need       Amount  `json:"need"`  // for the heads
	Spare      Amount  `json:"spare"` // for mistakes
	Have       Amount  `json:"have"`  // on hand, no more than is needed
	Packs      int     `json:"packs"` // to buy
	Pack       Amount  `json:"pack"`  // in a pack; zero when it is not sold
	Short      *Amount `json:"short,omitempty"`
	PriceCents int64   `json:"price_cents"` // of a pack
	CostCents  int64   `json:"cost_cents"`
	Source     string  `json:"source"` // of the price and the pack; demo is invented
	Cuts       []Bar   `json:"cuts,omitempty"`
}

// Amount is a number of pieces or a length; the other is nil.
type Amount struct {
	Pieces *float64 `json:"pieces,omitempty"`
	Metres *float64 `json:"length_m,omitempty"`
}

// Bar is a length of stock and what is cut from it.
type Bar struct {
	StockMM float64 `json:"stock_mm"`
	Bought  bool    `json:"bought"` // or else on hand
	Times   int     `json:"times"`  // as many are cut alike
	Pieces  []Piece `json:"pieces"` // longest first
	LeftMM  float64 `json:"left_mm"`
}

// Piece is a number of equal pieces.
type Piece struct {
	CutMM float64 `json:"cut_mm"`
	Count int     `json:"count"`
}

// NewOrder gathers what is shown of an order.
func NewOrder(o stock.Order) Order {
	v := Order{Lines: []Line{}, TotalCents: int64(o.Total), LeastCents: int64(o.Bound)}
	for _, l := range o.Lines {
		of := func(x float64) Amount { return newAmount(x, l.Unit) }
		line := Line{Kind: l.Kind, Part: l.Part, Name: l.Name, Need: of(l.Need), Spare: of(l.Spare), Have: of(l.Have),
			Packs: l.Packs, Pack: of(l.Pack), PriceCents: int64(l.Price), CostCents: int64(l.Cost), Source: l.Source}
		if l.Short > 0 {
			short := of(l.Short)
			line.Short = &short
		}
		if l.Plan != nil {
			line.Cuts = newBars(*l.Plan)
		}
		v.Lines = append(v.Lines, line)
	}
	return v
}

func newAmount(x float64, unit string) Amount {
	x = Round(x, 3)
	if unit == "m" {
		return Amount{Metres: &x}
	}
	return Amount{Pieces: &x}
}

func newBars(p cutting.Plan) []Bar {
	var list []Bar
	for _, b := range p.Bars {
		bar := Bar{StockMM: Round(b.Stock.MM(), 2), Bought: b.Bought, Times: b.Times, LeftMM: Round(b.Left.MM(), 2)}
		for _, x := range b.Pieces {
			bar.Pieces = append(bar.Pieces, Piece{Round(x.Length.MM(), 2), x.Count})
		}
		list = append(list, bar)
	}
	return list
}

// String prints pieces or metres without needless decimals.
func (a Amount) String() string {
	switch {
	case a.Pieces != nil:
		return amount(*a.Pieces)
	case a.Metres != nil:
		return amount(*a.Metres) + " m"
	}
	return "0"
}

func amount(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
}

// Page is what to buy.
func (v Order) Page() page.Page {
	t := page.Table{
		Title: "To buy, at the catalogue's invented prices",
		Head:  []string{"part", "need", "spare", "have", "packs", "cost"},
		Right: []bool{false, true, true, true, true, true},
	}
	for _, l := range v.Lines {
		t.Rows = append(t.Rows, []string{
			l.Name, l.Need.String(), l.Spare.String(), l.Have.String(), fmt.Sprint(l.Packs), measure.Money(l.CostCents).String(),
		})
	}
	t.Rows = append(t.Rows, []string{"all together", "", "", "", "", measure.Money(v.TotalCents).String()})
	return page.Page{t}
}
