// Package part reads the description of a part, and finds the parts of the
// catalogue that fit it. It never decides whether somebody has it.
package part

import (
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
)

// Describer reads the description of one part.
type Describer struct {
	*cover.Chart
	Stock *Stock
}

// partItem reports whether item i can be a piece of the description of a part.
func (s Describer) partItem(i int) bool {
	it := s.Item(i)
	if it.Id != "" {
		return true
	}
	if it.Qty != nil {
		switch it.Qty.Dim {
		case quantity.Plain, quantity.Length, quantity.Pair, quantity.Mass, quantity.Shore, quantity.Pieces:
			return true
		}
		return false
	}
	for _, slot := range []string{"kind", "material", "weight", "form", "role"} {
		if it.Has(slot) != nil {
			return true
		}
	}
	return false
}

// partAdjective reports whether item i is a word that describes the part straight
// after it: a hard ball, grey wool.
func (s Describer) partAdjective(i int) bool {
	it := s.Item(i)
	if it.Has("want.softness") == nil && it.Has("wish") == nil && it.Has("paint") == nil {
		return false
	}
	next := s.Item(i + 1)
	return next.Id != "" || s.OfPart(i+1) || next.Has("weight") != nil && s.OfPart(i+2) || s.partAdjective(i+1)
}

// Run returns the end of the stretch of items from i that describes one
// part, or i when there is none.
func (s Describer) Run(i int) int {
	if it := s.Item(i); !s.partItem(i) && !s.partAdjective(i) || it.Has("role") != nil && it.Has("weight") == nil && it.Qty == nil {
		return i
	}
	anchored, end, kinds := false, i, 0
run:
	for j := i; j < len(s.Items); j++ {
		it := s.Item(j)
		switch {
		case s.partItem(j):
			if it.Has("kind") != nil {
				if kinds++; kinds > 1 {
					break run
				}
			}
			anchored = anchored || s.anchors(j)
			end = j + 1
		case s.partAdjective(j):
		case it.Mark == "-" || it.Mark == `"`:
		case s.By(it.From) && it.To == it.From+1:
		case s.Filler(j) && s.linkWord(j) && s.partItem(j+1):
		default:
			break run
		}
	}
	if !anchored {
		return i
	}
	return end
}

// anchors reports whether item i by itself shows that a part is meant: a kind,
// a material, bore by wall, or "1/8 wall".
func (s Describer) anchors(i int) bool {
	it := s.Item(i)
	if it.Id != "" || s.OfPart(i) || it.Qty != nil && it.Qty.Dim == quantity.Pair {
		return true
	}
	x := it.Has("role")
	return x != nil && (x.Value == "bore" || x.Value == "wall") && s.Item(i-1).Qty != nil
}

// linkWord reports whether a filler may stand inside the description of a
// part: a foot OF tubing, balls IN nylon.
func (s Describer) linkWord(i int) bool {
	switch t := s.At(s.Item(i).From); t.Text {
	case "of", "a", "an", "the", "some", "in", "for", "my":
		return true
	}
	return false
}

// LengthOf returns a quantity as a length, in a guessed unit if need be.
func (s Describer) LengthOf(q *quantity.Quantity) measure.Length {
	if q.Dim == quantity.Plain {
		q.Guess = true
		return measure.Length(q.Value * quantity.GuessUnit(*q))
	}
	return measure.Length(q.Value)
}

// Describe reads the items from..to as one part. Bare is set when nothing but
// its kind is said.
func (s Describer) Describe(from, to int) (p reading.Part, bare bool) {
	return s.DescribeAs("", from, to)
}

// DescribeAs is describe for a kind that is known already, or "".
func (s Describer) DescribeAs(kind string, from, to int) (p reading.Part, bare bool) {
	p.Kind = kind
	likely := ""
	bare = true
	var lengths []int
	for i := from; i < to; i++ {
		it := s.Item(i)
		if it.Id != "" {
			p.Kind, p.IDs, bare = s.Stock.kinds[it.Id], []string{it.Id}, false
			continue
		}
		if x := it.Has("kind"); x != nil {
			p.Kind = x.Value
			continue
		}
		if x := it.Has("material"); x != nil {
			p.Material, likely, _ = strings.Cut(x.Value, " ")
			bare = false
			continue
		}
		if x := it.Has("weight"); x != nil && it.Has("role") == nil {
			p.Weight = x.Value
		}
		if q := it.Qty; q != nil {
			bare = false
			switch q.Dim {
			case quantity.Pair:
				p.Bore, p.Wall = measure.Length(q.Value), measure.Length(q.Wall)
				if p.Kind == "" {
					p.Kind = "tube"
				}
			case quantity.Shore:
				p.DurometerA = q.Value
			case quantity.Mass: // 2 x 50 g
				if p.Unit != "piece" {
					p.Amount = 1
				}
				p.Amount, p.Unit = p.Amount*q.Value, "kg"
			case quantity.Pieces:
				p.Amount, p.Unit = q.Value, "piece"
				switch q.Form {
				case "pair":
					p.Amount *= 2
				case "dozen":
					p.Amount *= 12
				case "skein":
					p.Unit = "skein"
				}
			case quantity.Length:
				lengths = append(lengths, i)
			case quantity.Plain:
				if q.Whole && !q.Frac && s.counts(i, to) {
					p.Amount, p.Unit = q.Value, "piece"
					if s.Minus(i) {
						p.Amount = -p.Amount
					}
				} else {
					lengths = append(lengths, i)
				}
			}
		}
		if x := it.Has("form"); x != nil && p.Amount == 0 {
			switch x.Value {
			case "pair":
				p.Amount, p.Unit = 2, "piece"
			case "dozen":
				p.Amount, p.Unit = 12, "piece"
			case "skein":
				p.Amount, p.Unit = 1, "skein"
			}
		}
	}
	for _, i := range lengths {
		if x := s.Item(i + 1).Has("role"); p.Kind == "" && x != nil && x.Value != "across" && x.Value != "long" && i+1 < to {
			p.Kind = "tube"
		}
	}
	if p.Kind == "" {
		p.Kind = likely
	}
	if p.Kind != "yarn" {
		p.Weight = ""
	}
	for _, i := range lengths {
		s.place(&p, i, to)
	}
	Complete(&p)
	return p, bare && p.Weight == ""
}

// counts reports whether the whole number at item i counts pieces: it does
// unless it is said what it measures.
func (s Describer) counts(i, to int) bool { return i+1 >= to || s.Item(i+1).Has("role") == nil }

// place takes the length at item i as a dimension or as an amount of the part.
func (s Describer) place(p *reading.Part, i, to int) {
	l := s.LengthOf(s.Item(i).Qty)
	role := ""
	if x := s.Item(i + 1).Has("role"); x != nil && i+1 < to {
		role = x.Value
	}
	of := s.At(s.Item(i).To).Is("of")
	switch p.Kind {
	case "tube":
		switch {
		case role == "wall":
			p.Wall = l
		case role == "bore":
			p.Bore = l
		case role == "outer":
			p.Outer = l
		case of, role == "long", l >= 100*measure.Millimetre:
			p.Amount, p.Unit = float64(l), "m"
		case p.Bore == 0:
			p.Bore = l
		case p.Wall == 0:
			p.Wall = l
		default:
			p.Amount, p.Unit = float64(l), "m"
		}
	case "yarn":
		p.Amount, p.Unit = float64(l), "m"
	case "shaft":
		if l >= 100*measure.Millimetre {
			p.Length = l
		} else {
			p.Diameter = l
		}
	default:
		p.Diameter = l
	}
}
