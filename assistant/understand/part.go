package understand

import (
	"mallow/assistant/understand/harm"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// parter takes descriptions of parts.
type parter struct{ *walk }

// partItem reports whether item i can be a piece of the description of a part.
func (s parter) partItem(i int) bool {
	it := s.item(i)
	if it.id != "" {
		return true
	}
	if it.qty != nil {
		switch it.qty.dim {
		case plainNumber, length, pair, mass, shore, pieces:
			return true
		}
		return false
	}
	for _, slot := range []string{"kind", "material", "weight", "form", "role"} {
		if it.has(slot) != nil {
			return true
		}
	}
	return false
}

// partAdjective reports whether item i is a word that describes the part straight
// after it: a hard ball, grey wool.
func (s parter) partAdjective(i int) bool {
	it := s.item(i)
	if it.has("want.softness") == nil && it.has("wish") == nil && it.has("paint") == nil {
		return false
	}
	next := s.item(i + 1)
	return next.id != "" || s.ofPart(i+1) || next.has("weight") != nil && s.ofPart(i+2) || s.partAdjective(i+1)
}

// partRun returns the end of the stretch of items from i that describes one
// part, or i when there is none.
func (s parter) partRun(i int) int {
	if it := s.item(i); !s.partItem(i) && !s.partAdjective(i) || it.has("role") != nil && it.has("weight") == nil && it.qty == nil {
		return i
	}
	anchored, end, kinds := false, i, 0
run:
	for j := i; j < len(s.items); j++ {
		it := s.item(j)
		switch {
		case s.partItem(j):
			if it.has("kind") != nil {
				if kinds++; kinds > 1 {
					break run
				}
			}
			anchored = anchored || s.anchors(j)
			end = j + 1
		case s.partAdjective(j):
		case it.mark == "-" || it.mark == `"`:
		case s.by(it.from) && it.to == it.from+1:
		case s.filler(j) && s.linkWord(j) && s.partItem(j+1):
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
func (s parter) anchors(i int) bool {
	it := s.item(i)
	if it.id != "" || s.ofPart(i) || it.qty != nil && it.qty.dim == pair {
		return true
	}
	x := it.has("role")
	return x != nil && (x.Value == "bore" || x.Value == "wall") && s.item(i-1).qty != nil
}

// linkWord reports whether a filler may stand inside the description of a
// part: a foot OF tubing, balls IN nylon.
func (s parter) linkWord(i int) bool {
	switch t := s.at(s.item(i).from); t.Text {
	case "of", "a", "an", "the", "some", "in", "for", "my":
		return true
	}
	return false
}

// takePart takes the description of a part.
func (s parter) takePart(i int) int {
	if s.asked(s.item(i).senses) && s.ctx.Asked != AskParts || false {
		return 0
	}
	if n := s.takeRole(i); n > 0 {
		return n
	}
	end := s.partRun(i)
	if n := s.takeMore(i); n > 0 && i+n >= end {
		return n
	}
	if end == i {
		return 0
	}
	if q := s.item(i).qty; q != nil && q.dim != pair && figures(s).beforeMove(i) > 0 {
		return 0
	}
	p, bare := s.describe(i, end)
	if s.ofHarm(i, end, p) {
		s.content = true
		return end - i
	}
	p.Text, p.Holding, p.Sure = s.said(i, end), s.holding(), 1
	if s.at(s.item(end).from).Is("off") && p.Holding == Named { // leave the yarn off
		p.Holding = Avoid
	}
	for j := i; j < end; j++ {
		it := s.item(j)
		p.Sure = min(p.Sure, s.sure(it))
		if it.qty != nil && it.qty.guess {
			p.Sure *= 0.9
		}
	}
	s.content = true
	switch {
	case bare && s.same:
		s.out.Keeps = append(s.out.Keeps, p.Kind)
		s.kept = append(s.kept, p.Kind)
		s.same = false
	case bare && p.Holding == Named:
		s.content = false // "core" by itself says nothing
	case bare && s.item(end).mark == ":": // a heading
	default:
		s.keepPart(p)
	}
	return end - i
}

// namesKind reports whether the words of a part name its kind, not just what it
// is made of: one with proper wood.
func (s parter) namesKind(p Part) bool {
	for i := s.clause.from; i < s.clause.to; i++ {
		if x := s.item(i).has("kind"); x != nil && x.Value == p.Kind {
			return true
		}
	}
	return len(p.IDs) == 1 || p.Kind == "yarn" || p.Kind == "shaft"
}

// ofHarm reports whether the items from..to only say what somebody reacts to,
// or doesn't: noone is allergic to latex. "No latex" says what to avoid as well.
func (s parter) ofHarm(from, to int, p Part) bool {
	if p.Material != "latex" && p.Material != "rubber" || p.Bore > 0 || p.Diameter > 0 || p.Amount > 0 {
		return false
	}
	for i := from; i < to; i++ {
		if !s.item(i).harm {
			return false
		}
	}
	return !(s.neg || s.hold == Avoid) || s.clause.to-s.clause.from > 4 || !slices.ContainsFunc(s.out.Harm, func(f harm.Fact) bool { return f.Path == harm.LatexOK && !f.Value })
}

// takeRole takes a size whose name comes first: "if the wall were 1/16".
func (s parter) takeRole(i int) int {
	x := s.item(i).has("role")
	if x == nil || x.Value != "wall" && x.Value != "bore" || s.item(i-1).qty != nil {
		return 0
	}
	j := i + 1
	for s.filler(j) {
		j++
	}
	q := s.item(j).qty
	if q == nil || q.dim != length && !(q.dim == plainNumber && (q.frac || !q.whole)) {
		return 0
	}
	p := Part{Holding: s.holding(), Kind: "tube", Text: s.said(i, j+1), Sure: 1}
	if x.Value == "wall" {
		p.Wall = s.lengthOf(q)
	} else {
		p.Bore = s.lengthOf(q)
	}
	p.IDs = s.r.match(p)
	s.out.Parts = append(s.out.Parts, p)
	s.content = true
	return j + 1 - i
}

// keepPart adds a part.
func (s parter) keepPart(p Part) {
	switch {
	case p.Amount == 0 && p.Unit != "": // 0 yarn
		p.Holding, p.Unit = Lack, ""
	case p.Amount > 0 && p.Holding == Named && !s.wants && s.clause.act == Tell && s.namesKind(p): // an amount is of what one has
		p.Holding = Have
	}
	p.IDs = s.r.match(p)
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
	for s.item(end).qty != nil && !s.item(end).harm || s.item(end).has("role") != nil || s.item(end).has("form") != nil {
		end++
	}
	if x := s.item(i).has("material"); x != nil && last.Material == "" && s.clauseEnds(i+1) { // ball, nylon
		if material, kind, _ := strings.Cut(x.Value, " "); kind == last.Kind {
			last.Material, last.IDs = material, nil
			last.IDs = s.r.match(last)
			s.out.Parts[n-1] = last
			s.changed = true
			return 1
		}
	}
	if s.item(i).qty == nil || s.ofPart(end) || s.item(end).id != "" || !s.clauseEnds(end) {
		return 0
	}
	more, _ := s.describeAs(last.Kind, i, end)
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
	last.complete()
	last.IDs = nil
	last.IDs = s.r.match(last)
	s.out.Parts[n-1] = last
	s.changed = true
	return end - i
}

// clash reports whether both are said.
func clash[T ~float64](a, b T) bool { return a != 0 && b != 0 }

// lengthOf returns a quantity as a length, in a guessed unit if need be.
func (s parter) lengthOf(q *quantity) measure.Length {
	if q.dim == plainNumber {
		q.guess = true
		return measure.Length(q.value * guessUnit(*q))
	}
	return measure.Length(q.value)
}

// describe reads the items from..to as one part. Bare is set when nothing but
// its kind is said.
func (s parter) describe(from, to int) (p Part, bare bool) { return s.describeAs("", from, to) }

// describeAs is describe for a kind that is known already, or "".
func (s parter) describeAs(kind string, from, to int) (p Part, bare bool) {
	p.Kind = kind
	likely := ""
	bare = true
	var lengths []int
	for i := from; i < to; i++ {
		it := s.item(i)
		if it.id != "" {
			p.Kind, p.IDs, bare = s.r.partKinds[it.id], []string{it.id}, false
			continue
		}
		if x := it.has("kind"); x != nil {
			p.Kind = x.Value
			continue
		}
		if x := it.has("material"); x != nil {
			p.Material, likely, _ = strings.Cut(x.Value, " ")
			bare = false
			continue
		}
		if x := it.has("weight"); x != nil && it.has("role") == nil {
			p.Weight = x.Value
		}
		if q := it.qty; q != nil {
			bare = false
			switch q.dim {
			case pair:
				p.Bore, p.Wall = measure.Length(q.value), measure.Length(q.wall)
				if p.Kind == "" {
					p.Kind = "tube"
				}
			case shore:
				p.DurometerA = q.value
			case mass: // 2 x 50 g
				if p.Unit != "piece" {
					p.Amount = 1
				}
				p.Amount, p.Unit = p.Amount*q.value, "kg"
			case pieces:
				p.Amount, p.Unit = q.value, "piece"
				switch q.form {
				case "pair":
					p.Amount *= 2
				case "dozen":
					p.Amount *= 12
				case "skein":
					p.Unit = "skein"
				}
			case length:
				lengths = append(lengths, i)
			case plainNumber:
				if q.whole && !q.frac && s.counts(i, to) {
					p.Amount, p.Unit = q.value, "piece"
					if s.minus(i) {
						p.Amount = -p.Amount
					}
				} else {
					lengths = append(lengths, i)
				}
			}
		}
		if x := it.has("form"); x != nil && p.Amount == 0 {
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
		if x := s.item(i + 1).has("role"); p.Kind == "" && x != nil && x.Value != "across" && x.Value != "long" && i+1 < to {
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
	p.complete()
	return p, bare && p.Weight == ""
}

// complete works out a tube's bore or wall from its outside diameter.
func (p *Part) complete() {
	switch {
	case p.Outer == 0:
	case p.Bore == 0 && p.Wall > 0 && p.Outer > 2*p.Wall:
		p.Bore = p.Outer - 2*p.Wall
	case p.Wall == 0 && p.Bore > 0 && p.Outer > p.Bore:
		p.Wall = (p.Outer - p.Bore) / 2
	}
}

// minus reports whether the number at item i is written as below zero.
func (s *chart) minus(i int) bool {
	sign, number := s.at(s.item(i).from-1), s.at(s.item(i).from)
	return sign.Is("-") && number.Near && !sign.Near
}

// counts reports whether the whole number at item i counts pieces: it does
// unless it is said what it measures.
func (s parter) counts(i, to int) bool { return i+1 >= to || s.item(i+1).has("role") == nil }

// place takes the length at item i as a dimension or as an amount of the part.
func (s parter) place(p *Part, i, to int) {
	l := s.lengthOf(s.item(i).qty)
	role := ""
	if x := s.item(i + 1).has("role"); x != nil && i+1 < to {
		role = x.Value
	}
	of := s.at(s.item(i).to).Is("of")
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

// The slack allowed between a size as said and a part's own: sizes are said
// in round millimetres and in the nearest sixteenth.
const (
	sizeSlack   = 0.5 * measure.Millimetre
	wallSlack   = 0.25 * measure.Millimetre
	lengthSlack = 8 * measure.Millimetre
	shoreSlack  = 3.0
)

// match returns the ids of the catalogue's parts that fit a description, none
// when it says nothing but the kind.
func (r *Reader) match(p Part) []string {
	if len(p.IDs) > 0 {
		return p.IDs
	}
	near := func(said, is, slack measure.Length) bool {
		return said == 0 || math.Abs(float64(said-is)) <= float64(slack)
	}
	var out []string
	switch p.Kind {
	case "core":
		if p.Material == "" && p.Diameter == 0 && p.DurometerA == 0 {
			return nil
		}
		for _, c := range r.cat.Cores {
			a := c.DurometerA
			if a == 0 {
				a = r.materials[c.Material].DurometerA.Value
			}
			if r.madeOf(c.Material, p.Material) && near(p.Diameter, c.Diameter, sizeSlack) &&
				(p.DurometerA == 0 || math.Abs(a-p.DurometerA) <= shoreSlack) {
				out = append(out, c.ID)
			}
		}
	case "tube":
		if p.Material == "" && p.Bore == 0 && p.Wall == 0 {
			return nil
		}
		for _, t := range r.cat.Tubing {
			if r.madeOf(t.Material, p.Material) && near(p.Bore, t.Bore, sizeSlack) && near(p.Wall, t.Wall, wallSlack) {
				out = append(out, t.ID)
			}
		}
	case "yarn":
		if p.Material == "" && p.Weight == "" {
			return nil
		}
		for _, y := range r.cat.Yarns {
			if r.madeOf(y.Fibre, p.Material) && (p.Weight == "" || slices.Contains(fields(y), p.Weight)) {
				out = append(out, y.ID)
			}
		}
	case "shaft":
		if p.Material == "" && p.Length == 0 && p.Diameter == 0 {
			return nil
		}
		for _, x := range r.cat.Shafts {
			if r.madeOf(x.Material, p.Material) && near(p.Length, x.Length, lengthSlack) && near(p.Diameter, x.Diameter, sizeSlack) {
				out = append(out, x.ID)
			}
		}
	}
	return out
}

// fields returns the words of a yarn's id and name.
func fields(y knowledge.Yarn) []string {
	return strings.FieldsFunc(strings.ToLower(y.ID+" "+y.Name), func(r rune) bool {
		return r == ' ' || r == '-' || r == ',' || r == '('
	})
}

// madeOf reports whether a material is what was said: by id, by the start of
// its id, or by family.
func (r *Reader) madeOf(id, said string) bool {
	return said == "" || id == said || strings.HasPrefix(id, said+"-") || r.materials[id].Family == said
}

// ofPart reports whether item i belongs to a part.
func (s *chart) ofPart(i int) bool {
	it := s.item(i)
	return it.has("kind") != nil || it.has("material") != nil
}

// refuse turns the part just named into one to avoid: "latex? no!".
func (s parter) refuse(i int) bool {
	n := len(s.out.Parts)
	if s.after != afterPart || n == 0 || !s.clauseEnds(i+1) {
		return false
	}
	p := s.out.Parts[n-1]
	switch p.Holding {
	case Named:
		p.Holding = Avoid
	case Have:
		p.Holding = Lack
	default:
		return false
	}
	s.out.Parts = s.out.Parts[:n-1]
	s.keepPart(p)
	return true
}
