package part

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
)

// role returns what the length at item i is a length of: by the word behind it
// or, where such words come first in the description, by the one before.
func (s Describer) role(i, from, to int) string {
	first := -1
	for j := from; j < i; j++ {
		if s.Item(j).Has("role") != nil {
			first = j
			break
		}
		if s.Item(j).Qty != nil {
			break
		}
	}
	before, after := "", ""
	if i+1 < to && s.Starts(i+1, "slice", "slices") || s.Says(i+1, "each", "apiece") { // one inch slices
		return "long"
	}
	k := i + 1
	if s.Is(k, "of") && k+1 < to { // 3/32 of thickness
		k++
	}
	if x := s.Item(k).Has("role"); x != nil && k < to && (k == i+1 || x.Value == "wall" || x.Value == "bore") {
		after = x.Value
	}
	j := i - 1
	if bored(s.Chart, j, from) { // nylon balls drilled 8 mm
		return "bore"
	}
	for j >= from && s.Item(j).Has("role") == nil && (s.Filler(j) || s.Item(j).Has("bound") != nil || s.Item(j).Mark == ":") {
		j--
	}
	if x := s.Item(j).Has("role"); x != nil && j >= from {
		before = x.Value
	}
	if after != "" && first < 0 && rolesBehind(s.Chart, from, to) {
		return after
	}
	if after == "" || before != "" && (first >= 0 || s.Item(s.past(k+1)).Qty != nil && k+1 < to) { // ID 16 wall 2
		return before
	}
	return after
}

// rolesBehind reports whether the last size of the items from..to has its name behind
// it, so that the others have as well: 20 mm bore 3 mm thick 40 cm long.
func rolesBehind(s *cover.Chart, from, to int) bool {
	for i := to - 1; i >= from; i-- {
		if q := s.Item(i).Qty; q != nil {
			return i+1 < to && s.Item(i+1).Has("role") != nil
		}
	}
	return false
}

// bored reports whether item i, or the to before it, says that a ball is drilled.
func bored(s *cover.Chart, i, from int) bool {
	for i > from && s.Is(i, "to", "at", "for") {
		i--
	}
	x := s.Item(i).Has("bored")
	return i >= from && x != nil && x.Value == "bored"
}

// longest is the length from which rod is no shaft yet, but what shafts are cut from.
const longest = 1.2 * measure.Metre

// thick is how thick a cord is at most: what is longer is a length of it.
const thick = 10 * measure.Millimetre

// place takes the length at item i as a dimension or as an amount of the part.
func (s Describer) place(p *reading.Part, i, from, to int) {
	l := s.LengthOf(s.Item(i).Qty)
	role := s.role(i, from, to)
	if q := s.Item(i).Qty; p.Kind == "yarn" && q.Dim == quantity.Plain && q.Frac { // cotton 8/4
		return
	}
	if q := s.Item(i).Qty; role == "wall" && q.Dim == quantity.Plain && q.Value >= 1 { // 3 wall
		l = measure.Length(q.Value) * measure.Millimetre
	}
	switch p.Kind {
	case "tube":
		placeTube(p, l, role, s.At(s.Item(i).To).Is("of"))
	case "yarn":
		if (p.Unit == "skein" || p.Unit == "piece") && l > thick {
			p.Length = l
		} else if l >= 100*measure.Millimetre {
			p.Amount, p.Unit = float64(l), "m"
		} else if p.Diameter == 0 && l <= thick {
			p.Diameter = l
		}
	case "shaft":
		if q := s.Item(i).Qty; q.Dim == quantity.Plain && q.Whole && q.Value >= 25 && q.Value <= 50 && (role == "long" || s.Is(i-1, "to")) { // 38 long
			l, role = measure.Length(q.Value)*measure.Centimetre, "long"
		}
		if role == "" && p.Amount == 0 && l > longest {
			p.Amount, p.Unit = float64(l), "m"
		} else if role != "wall" && role != "across" && l >= 100*measure.Millimetre || role == "long" {
			p.Length = l
		} else {
			p.Diameter = l
		}
	case "core":
		if role == "bore" {
			p.Bore = l
		} else if p.Diameter == 0 || role == "across" || role == "outer" {
			p.Diameter = l
		}
	default:
		p.Diameter = l
	}
}

// placeTube takes a length of tubing as its bore, wall, outside, or as how much
// of it there is.
func placeTube(p *reading.Part, l measure.Length, role string, of bool) {
	switch {
	case role == "wall":
		p.Wall = l
	case role == "bore":
		p.Bore = l
	case role == "outer", role == "across" && p.Bore > 0:
		p.Outer = l
	case of, role == "long", l >= 45*measure.Millimetre, p.Bore > 0 && p.Wall > 0:
		if p.Unit == "piece" {
			p.Length = l
		} else {
			p.Amount, p.Unit = float64(l), "m"
		}
	case p.Bore == 0:
		p.Bore = l
	default:
		p.Wall = l
	}
}
