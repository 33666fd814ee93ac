package part

import (
	"cmp"
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// filled returns a part with what it leaves open taken from was, which says the same of
// one part: the tubing and, later, its bore.
func filled(p, was reading.Part) reading.Part {
	if p.Material+p.Made == "" {
		p.Material, p.Made = was.Material, was.Made
	}
	p.Diameter, p.Length = cmp.Or(p.Diameter, was.Diameter), cmp.Or(p.Length, was.Length)
	if p.Durometer == 0 {
		p.Durometer, p.Shore = was.Durometer, was.Shore
	}
	p.Weight, p.Bored = cmp.Or(p.Weight, was.Weight), cmp.Or(p.Bored, was.Bored)
	if p.Bore == 0 && p.Outer == 0 {
		p.Bore = was.Bore
	}
	if p.Wall == 0 && p.Outer == 0 {
		p.Wall = was.Wall
	}
	if p.Amount == 0 {
		p.Amount, p.Unit = was.Amount, was.Unit
	}
	return p
}

// Clash reports whether two descriptions give one thing two sizes.
func Clash(a, b reading.Part) bool {
	return a.Bore*b.Bore != 0 || a.Wall*b.Wall != 0 || a.Diameter*b.Diameter != 0 || a.Length*b.Length != 0 || a.Durometer*b.Durometer != 0
}

// Sizes adds the sizes of more to a part that has none of them.
func Sizes(p, more reading.Part) reading.Part {
	p.Outer = max(p.Outer, more.Outer)
	p.Bore += more.Bore
	p.Wall += more.Wall
	p.Diameter += more.Diameter
	p.Length += more.Length
	p.Durometer, p.Shore = p.Durometer+more.Durometer, cmp.Or(p.Shore, more.Shore)
	return p
}

// join returns what two descriptions of a part on hand say together, if they can be
// of one: two feet of tubing; the tube says 1/2 in.
func join(was, p reading.Part) (reading.Part, bool) {
	if was.Holding != reading.Have || was.Sized() && was.Unit != "m" || Clash(was, p) || was.Material != "" && p.Material != "" && was.Material != p.Material {
		return was, false
	}
	text := was.Text
	was = filled(was, p)
	was.Outer, was.Text, was.IDs = cmp.Or(was.Outer, p.Outer), text, nil
	Complete(&was)
	return was, true
}

// MadeFor gives a part the kind that it is to be, where only its material was said:
// nitrile ones at 30 mm, for the middles.
func (s Describer) MadeFor(p *reading.Part, kind string) {
	named := func(it cover.Item) bool { x := it.Has("kind"); return x != nil && x.Value == p.Kind }
	if p.Kind == kind || slices.ContainsFunc(s.Items, named) {
		return
	}
	p.Diameter, p.Bore = cmp.Or(p.Diameter, p.Bore), 0
	p.Kind, p.IDs = kind, nil
	p.IDs = s.Stock.Match(*p)
}

// Prices reports whether the sum at item i, in the clause from..to, is what a part
// costs: eight dollars for one skein of wool.
func (s Describer) Prices(i, from, to int) bool {
	j := i + 1
	for s.Is(j, "for", "a", "the", "per", "an") {
		j++
	}
	return j > i+1 && s.Run(j) > j && !s.HasWord(from, to, "budget", "spend", "most", "max", "have", "got", "limit", "afford")
}

// Priced reports whether the clause from..to says what a part costs.
func (s Describer) Priced(from, to int) bool {
	for i := from; i < to; i++ {
		if q := s.Item(i).Qty; q != nil && q.Dim == quantity.Money && s.Prices(i, from, to) {
			return true
		}
	}
	return false
}

// Share gives a part the amount that there is of each, unless it has its own.
func Share(p *reading.Part, each reading.Part, wanted bool) {
	if p.Amount > 0 || each.Amount == 0 || p.Holding == reading.Lack || p.Holding == reading.Avoid {
		return
	}
	p.Amount, p.Unit = each.Amount, each.Unit
	if p.Holding == reading.Named && !wanted {
		p.Holding = reading.Have
	}
}

// Fill gives a part that corrects one named before what is left of that.
func Fill(p *reading.Part, before []reading.Part) {
	for _, was := range slices.Backward(before) {
		if was.Kind != p.Kind || p.Holding == reading.Lack || p.Holding == reading.Avoid || p.Material != "" && p.Material != was.Material && p.Sized() {
			continue
		}
		p.Was = was.Text
		length := p.Length
		*p = filled(*p, was)
		p.Length = length
		if p.Holding == reading.Named {
			p.Holding = was.Holding
		}
		return
	}
}

// Add adds what p says to the part of its kind that was named last, and reports
// whether both can be of one.
func (s *Stock) Add(list []reading.Part, p reading.Part) bool {
	for k, was := range slices.Backward(list) {
		if was.Kind != p.Kind {
			continue
		}
		was, ok := join(was, p)
		if ok {
			was.IDs = s.Match(was)
			list[k] = was
		}
		return ok
	}
	return false
}

// Slices makes tubing of rubber that is said to be lacking, and no more, by who has
// the balls: cores are here, no rubber, no sticks.
func (s *Stock) Slices(p *reading.Part, list []reading.Part) {
	if p.Kind == "core" && p.Material == "rubber" && p.Made == "" && p.Holding == reading.Lack && !p.Sized() && p.Amount == 0 &&
		slices.ContainsFunc(list, func(q reading.Part) bool { return q.Kind == "core" && q.Holding == reading.Have }) {
		p.Kind, p.Material, p.IDs = "tube", "", nil
	}
}

// Share lets the parts of a list that are like the last of it be of its material, where
// theirs was not said: a ball of 1 in and one of 1 1/4, both rubber.
func (s *Stock) Share(list []reading.Part) {
	last := list[len(list)-1]
	for k := len(list) - 2; k >= 0 && list[k].Kind == last.Kind && list[k].Holding == last.Holding && list[k].Material+list[k].Made == ""; k-- {
		list[k].Material, list[k].Made, list[k].IDs = last.Material, last.Made, nil
		list[k].IDs = s.Match(list[k])
	}
}
