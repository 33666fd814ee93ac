package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
	"mallow/rules/stock"
	"mallow/rules/stock/cutting"
)

// Buy is the shopping list and how to cut what is bought. Prices and packs of
// the shipped catalogue are invented for the demonstration, and Note says so.
type Buy struct {
	reply.Order
	Rows  []Purchase    `json:"-"`
	Total measure.Money `json:"-"`
	Cuts  []string      `json:"-"` // the cutting plan, a line for each length
	Note  string        `json:"note,omitempty"`
}

// Purchase is a line of the shopping list, in people's units.
type Purchase struct {
	Part, Name string
	Need       string
	Have       string   // there is of it, needed or not; empty for none
	Spare      string   // in Need
	Cuts       []string // how its lengths are cut up
	Packs      int
	Pack       string // as sold
	Price      measure.Money
	Cost       measure.Money
}

// buy puts an order in words; nil makes nil.
func (m *Maker) buy(o *stock.Order) *Buy {
	if o == nil {
		return nil
	}
	b := &Buy{Order: reply.NewOrder(*o), Total: o.Total}
	for _, l := range o.Lines {
		p := Purchase{Part: l.Part, Name: l.Name, Packs: l.Packs, Price: l.Price, Cost: l.Cost}
		switch {
		case l.Kind == "tubing" && l.Plan != nil:
			p.Need, p.Pack = placed(*l.Plan), measure.Length(l.Pack).Sold()
			b.Cuts = append(b.Cuts, bars(l.Name+": ", *l.Plan)...)
			p.Cuts = bars("; ", *l.Plan)
		case l.Unit == "m":
			p.Need, p.Pack = amount(l.Need+l.Spare)+" m", amount(l.Pack)+" m"
		default:
			p.Need, p.Pack = amount(l.Need), "pack of "+amount(l.Pack)
			if l.Spare > 0 {
				p.Spare = amount(l.Spare)
				p.Need += " and " + p.Spare + " spare"
			}
			if l.Pack <= 1 {
				p.Pack = "one"
			}
		}
		switch {
		case l.Have == 0:
		case math.IsInf(l.There, 1):
			p.Have = "enough"
		case l.Kind == "tubing":
			p.Have = measure.Length(l.There).Rule()
		case l.Unit == "m":
			p.Have = fmt.Sprintf("%.0f m", l.There)
		default:
			p.Have = amount(math.Floor(l.There))
		}
		b.Rows = append(b.Rows, p)
		if m.invented(l.Part) {
			b.Note = "Prices and packs are invented for this demonstration and in no particular currency; put your own in your parts file."
		}
	}
	return b
}

// used returns the order without glue and thread that no step of the build
// uses; nil stays nil.
func (m *Maker) used(c propose.Candidate, o *stock.Order) *stock.Order {
	if o == nil {
		return nil
	}
	p, err := m.plan(c, o, 2)
	if err != nil {
		return o // told where the sheet is made
	}
	used := map[string]bool{}
	for _, g := range p.glues {
		used[g.ID] = true
	}
	return only(o, used)
}

// only returns the order with no glue and thread but those used.
func only(o *stock.Order, used map[string]bool) *stock.Order {
	if o == nil {
		return nil
	}
	out := *o
	out.Lines = nil
	for _, l := range o.Lines {
		if l.Kind == "adhesive" && !used[l.Part] {
			out.Total -= l.Cost
			out.Bound -= l.Cost
			continue
		}
		out.Lines = append(out.Lines, l)
	}
	return &out
}

// merged gives cuts of one length from one tube a single line, and counts the
// spares that the order has cut.
func merged(cuts []Cut, o *stock.Order) []Cut {
	var list []Cut
	for _, c := range cuts {
		if i := slices.IndexFunc(list, func(x Cut) bool { return x.Part == c.Part && x.CutMM == c.CutMM }); i >= 0 {
			list[i].Count += c.Count
			continue
		}
		list = append(list, c)
	}
	if o == nil {
		return list
	}
	for i := range list {
		for _, l := range o.Lines {
			if l.Part != list[i].Part || l.Plan == nil {
				continue
			}
			all := 0
			for _, b := range l.Plan.Bars {
				for _, x := range b.Pieces {
					if reply.Round(x.Length.MM(), 2) == list[i].CutMM {
						all += b.Times * x.Count
					}
				}
			}
			list[i].Spare = max(all-list[i].Count, 0)
			list[i].Count += list[i].Spare
		}
	}
	return list
}

// invented reports whether the price of a part was made up for the
// demonstration.
func (m *Maker) invented(id string) bool {
	source := ""
	if x, ok := m.cat.Core(id); ok {
		source = x.PriceSource
	} else if x, ok := m.cat.Tube(id); ok {
		source = x.PriceSource
	} else if x, ok := m.cat.Yarn(id); ok {
		source = x.PriceSource
	} else if x, ok := m.cat.Shaft(id); ok {
		source = x.PriceSource
	} else if x, ok := m.cat.Adhesive(id); ok {
		source = x.PriceSource
	}
	s, _ := m.cat.Source(source)
	return s.Mark == "demo"
}

// ordered returns the adhesive of the order for a joint, nil when it has none.
func (m *Maker) ordered(o *stock.Order, joint string) *knowledge.Adhesive {
	if o == nil {
		return nil
	}
	for _, l := range o.Lines {
		for i, a := range m.cat.Adhesives {
			if a.ID == l.Part && strings.Contains(" "+strings.Join(a.Joins, " ")+" ", " "+joint+" ") {
				return &m.cat.Adhesives[i]
			}
		}
	}
	return nil
}

// placed says which pieces a plan cuts, spares included.
func placed(p cutting.Plan) string {
	var order []measure.Length
	count := map[measure.Length]int{}
	for _, b := range p.Bars {
		for _, x := range b.Pieces {
			if count[x.Length] == 0 {
				order = append(order, x.Length)
			}
			count[x.Length] += b.Times * x.Count
		}
	}
	var parts []string
	for _, l := range order {
		parts = append(parts, fmt.Sprintf("%d of %s", count[l], l.Rule()))
	}
	return strings.Join(parts, ", ")
}

// bars says how each length of a plan is cut up.
func bars(name string, p cutting.Plan) []string {
	var list []string
	for _, b := range p.Bars {
		var parts []string
		for _, x := range b.Pieces {
			parts = append(parts, fmt.Sprintf("%d of %s", x.Count, x.Length.Rule()))
		}
		from := "on hand"
		if b.Bought {
			from = "as bought"
		}
		times := ""
		if b.Times > 1 {
			times = fmt.Sprintf("%d times ", b.Times)
		}
		list = append(list, fmt.Sprintf("%s%s%s %s into %s, %s left", name, times, b.Stock.Sold(), from, strings.Join(parts, ", "), b.Left.Rule()))
	}
	return list
}

// amount is a number of pieces or metres.
func amount(v float64) string { return strconv.FormatFloat(round(v), 'f', -1, 64) }

// of says what to buy of a part, and what is left of it; nothing when there is
// no order.
func (b *Buy) of(part string) string {
	if b == nil {
		return ""
	}
	for _, x := range b.Rows {
		if x.Part != part {
			continue
		}
		text := ""
		switch {
		case x.Have == "enough":
			text += "; from what you have"
		case x.Have != "" && x.Packs > 0:
			text += "; your " + x.Have + ", and"
		case x.Have != "":
			text += "; from your " + x.Have
		}
		if x.Packs == 0 {
			return text + "; nothing to buy"
		}
		if strings.HasSuffix(text, "and") {
			text += " "
		} else {
			text += "; "
		}
		if x.Packs > 1 || x.Pack != "one" {
			text += fmt.Sprintf("buy %d × %s", x.Packs, x.Pack)
		} else {
			text += "buy one"
		}
		if x.Spare != "" {
			text += " (" + x.Spare + " for spare)"
		}
		return text + ", " + x.Cost.String() + strings.Join(x.Cuts, "")
	}
	return ""
}

// page is the list with its total and cutting plan.
func (b *Buy) page() page.Page {
	if b == nil || len(b.Rows) == 0 {
		return nil
	}
	t := page.Table{Title: "Shopping list, in whole packs", Head: []string{"part", "need", "on hand", "packs", "as sold", "each", "cost"},
		Right: []bool{false, false, false, true, false, true, true}}
	for _, x := range b.Rows {
		t.Rows = append(t.Rows, []string{x.Name, x.Need, x.Have, strconv.Itoa(x.Packs), x.Pack, x.Price.String(), x.Cost.String()})
	}
	t.Rows = append(t.Rows, []string{"together", "", "", "", "", "", b.Total.String()})
	p := page.Page{t}
	if len(b.Cuts) > 0 {
		p = append(p, page.Para("How to cut what is bought:"), page.List{Items: b.Cuts})
	}
	if b.Note != "" {
		p = append(p, page.Para(b.Note))
	}
	return p
}
