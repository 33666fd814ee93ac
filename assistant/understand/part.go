package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// parter takes descriptions of parts.
type parter struct{ *walk }

// takePart takes the description of a part.
func (s parter) takePart(i int) int {
	if s.Asked(s.Item(i).Senses) && s.ctx.Asked != AskParts || false {
		return 0
	}
	if n := s.takeRole(i); n > 0 {
		return n
	}
	end := s.parts.Run(i)
	if n := s.takeMore(i); n > 0 && i+n >= end {
		return n
	}
	if end == i {
		return 0
	}
	if q := s.Item(i).Qty; q != nil && q.Dim != quantity.Pair && figures(s).beforeMove(i) > 0 {
		return 0
	}
	p, bare := s.parts.Describe(i, end)
	if s.ofHarm(i, end, p) {
		s.content = true
		return end - i
	}
	p.Text, p.Holding, p.Sure = s.Said(i, end), s.holding(), 1
	if s.At(s.Item(end).From).Is("off") && p.Holding == reading.Named { // leave the yarn off
		p.Holding = reading.Avoid
	}
	for j := i; j < end; j++ {
		it := s.Item(j)
		p.Sure = min(p.Sure, s.sure(it))
		if it.Qty != nil && it.Qty.Guess {
			p.Sure *= 0.9
		}
	}
	s.content = true
	switch {
	case bare && s.same:
		s.out.Keeps = append(s.out.Keeps, p.Kind)
		s.kept = append(s.kept, p.Kind)
		s.same = false
	case bare && p.Holding == reading.Named:
		s.content = false // "core" by itself says nothing
	case bare && s.Item(end).Mark == ":": // a heading
	default:
		s.keepPart(p)
	}
	return end - i
}

// namesKind reports whether the words of a part name its kind, not just what it
// is made of: one with proper wood.
func (s parter) namesKind(p reading.Part) bool {
	for i := s.clause.From; i < s.clause.To; i++ {
		if x := s.Item(i).Has("kind"); x != nil && x.Value == p.Kind {
			return true
		}
	}
	return len(p.IDs) == 1 || p.Kind == "yarn" || p.Kind == "shaft"
}

// ofHarm reports whether the items from..to only say what somebody reacts to,
// or doesn't: noone is allergic to latex. "No latex" says what to avoid as well.
func (s parter) ofHarm(from, to int, p reading.Part) bool {
	if p.Material != "latex" && p.Material != "rubber" || p.Bore > 0 || p.Diameter > 0 || p.Amount > 0 {
		return false
	}
	for i := from; i < to; i++ {
		if !s.Item(i).Harm {
			return false
		}
	}
	return !(s.neg || s.hold == reading.Avoid) || s.clause.To-s.clause.From > 4 || !slices.ContainsFunc(s.out.Harm, func(f harm.Fact) bool { return f.Path == harm.LatexOK && !f.Value })
}

// takeRole takes a size whose name comes first: "if the wall were 1/16".
func (s parter) takeRole(i int) int {
	x := s.Item(i).Has("role")
	if x == nil || x.Value != "wall" && x.Value != "bore" || s.Item(i-1).Qty != nil {
		return 0
	}
	j := i + 1
	for s.Filler(j) {
		j++
	}
	q := s.Item(j).Qty
	if q == nil || q.Dim != quantity.Length && !(q.Dim == quantity.Plain && (q.Frac || !q.Whole)) {
		return 0
	}
	p := reading.Part{Holding: s.holding(), Kind: "tube", Text: s.Said(i, j+1), Sure: 1}
	if x.Value == "wall" {
		p.Wall = s.parts.LengthOf(q)
	} else {
		p.Bore = s.parts.LengthOf(q)
	}
	p.IDs = s.parts.Stock.Match(p)
	s.out.Parts = append(s.out.Parts, p)
	s.content = true
	return j + 1 - i
}

// keepPart adds a part.
func (s parter) keepPart(p reading.Part) {
	switch {
	case p.Amount == 0 && p.Unit != "": // 0 yarn
		p.Holding, p.Unit = reading.Lack, ""
	case p.Amount > 0 && p.Holding == reading.Named && !s.wants && s.clause.Act == reading.Tell && s.namesKind(p): // an amount is of what one has
		p.Holding = reading.Have
	}
	p.IDs = s.parts.Stock.Match(p)
	s.out.Parts = append(s.out.Parts, p)
}

// takeMore lets figures complete the part named just before: "…, eighth
// wall", "…, a foot", "…, 6 pieces".
func (s parter) takeMore(i int) int {
	n := len(s.out.Parts)
	if s.after != afterPart || n == 0 || figures(s).headBeside(i) {
		return 0
	}
	last := s.out.Parts[n-1]
	end := i
	for s.Item(end).Qty != nil && !s.Item(end).Harm || s.Item(end).Has("role") != nil || s.Item(end).Has("form") != nil {
		end++
	}
	if x := s.Item(i).Has("material"); x != nil && last.Material == "" && s.ClauseEnds(i+1) { // ball, nylon
		if material, kind, _ := strings.Cut(x.Value, " "); kind == last.Kind {
			last.Material, last.IDs = material, nil
			last.IDs = s.parts.Stock.Match(last)
			s.out.Parts[n-1] = last
			s.changed = true
			return 1
		}
	}
	if s.Item(i).Qty == nil || s.OfPart(end) || s.Item(end).Id != "" || !s.ClauseEnds(end) {
		return 0
	}
	more, _ := s.parts.DescribeAs(last.Kind, i, end)
	if last.Kind != "tube" && more.Bore+more.Wall > 0 || clash(last.Bore, more.Bore) || clash(last.Wall, more.Wall) || clash(last.Diameter, more.Diameter) ||
		clash(last.Length, more.Length) || clash(last.Amount, more.Amount) || clash(last.DurometerA, more.DurometerA) {
		return 0
	}
	last.Outer = max(last.Outer, more.Outer)
	last.Bore += more.Bore
	last.Wall += more.Wall
	last.Diameter += more.Diameter
	last.Length += more.Length
	last.DurometerA += more.DurometerA
	if more.Amount > 0 {
		last.Amount, last.Unit = more.Amount, more.Unit
	}
	part.Complete(&last)
	last.IDs = nil
	last.IDs = s.parts.Stock.Match(last)
	s.out.Parts[n-1] = last
	s.changed = true
	return end - i
}

// clash reports whether both are said.
func clash[T ~float64](a, b T) bool { return a != 0 && b != 0 }

// refuse turns the part just named into one to avoid: "latex? no!".
func (s parter) refuse(i int) bool {
	n := len(s.out.Parts)
	if s.after != afterPart || n == 0 || !s.ClauseEnds(i+1) {
		return false
	}
	p := s.out.Parts[n-1]
	switch p.Holding {
	case reading.Named:
		p.Holding = reading.Avoid
	case reading.Have:
		p.Holding = reading.Lack
	default:
		return false
	}
	s.out.Parts = s.out.Parts[:n-1]
	s.keepPart(p)
	return true
}
