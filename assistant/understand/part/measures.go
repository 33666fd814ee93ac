package part

import (
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// Measures returns the end of the stretch of figures, with what they are figures
// of, from item i, before item to: wall 3.2 mm, 300 mm long; about thirty of them.
func (s Describer) Measures(i, to int) int {
	end, found := i, false
	for j := i; j < to; j++ {
		it := s.Item(j)
		switch {
		case it.Qty != nil && !it.Harm && (it.Qty.Dim != quantity.Money || s.pound(j)):
			end, found = j+1, true
		case it.Any("role", "form") && it.Has("kind") == nil:
			if found = found || it.Has("form") != nil && it.Has("form").Value == "pair" && s.ClauseEnds(j+1); found { // rods, a pair
				end = j + 1
			}
		case found && (it.Has("share") != nil || s.Is(j, "of", "them", "each")):
			end = j + 1
		case found && s.By(it.From) && it.To == it.From+1:
		case about(it), s.Filler(j) && (found || j > i):
		default:
			if found {
				return end
			}
			return i
		}
	}
	if !found {
		return i
	}
	return end
}

// GoesOn reports whether what stands at item i, before item to, begins something
// else, so that the figures before it are whole.
func (s Describer) GoesOn(i, to int) bool {
	it := s.Item(i)
	if it.Has("join") != nil && !s.Is(i, "or") || it.Has("holding") != nil {
		return true
	}
	for j := i; j < to; j++ { // 400 g left
		if x := s.Item(j).Has("holding"); x != nil && x.Value == string(reading.Have) { // a yard coiled up in the drawer
			return true
		}
		if !s.Unknown(j) && !s.Filler(j) && !s.Is(j, "through", "down", "along", "across", "inside") { // half inch hole through it
			return false
		}
	}
	return true
}

// Counted returns the number at item i, and where it ends, if it counts what was named
// before and the clause from..to says no more of it: six of them, got 11. The end is i
// if not.
func (s Describer) Counted(i, from, to int) (n float64, end int) {
	it := s.Item(i)
	for k := it.From; k < it.To; k++ {
		if t := s.At(k); t.Kind == lexis.Number && t.Whole && t.Value > 0 && s.At(k+1).Is("of") && (s.At(k+2).Is("them") || s.At(k+2).Is("em") || s.At(k+2).Is("those") || s.At(k+2).Is("these")) {
			for end = i + 1; s.Item(end).From < k+3 && end < to; {
				end++
			}
			return t.Value, end
		}
		if it.Qty != nil || !it.Any("player.mallets") {
			break
		}
	}
	if t := s.At(it.From); it.Qty == nil && it.Any("player.mallets", "player.grip") && t.Kind == lexis.Number && t.Whole && it.To == it.From+2 && s.At(it.From+1).Is("sticks") { // rattan, four sticks
		return t.Value, i + 1
	}
	q := it.Qty
	if q != nil && q.Form == "pair" && alone(s.Chart, i, from, to) { // sticks, two pairs
		return 2 * q.Value, i + 1
	}
	if q == nil || q.Dim != quantity.Plain || !q.Whole || q.Frac || q.Value < 1 || year(s.Chart, i) {
		return 0, i
	}
	have := false
	for j := from; j < to; j++ {
		x := s.Item(j).Has("holding")
		if have = have || x != nil && x.Value == string(reading.Have); j == i || x != nil && x.Value == string(reading.Have) || s.Filler(j) || s.HasWord(j, j+1, "counted", "just", "only", "exactly", "about") || j > i && aside(s.Chart, j, i) {
			continue
		}
		return 0, i
	}
	if !have {
		return 0, i
	}
	return q.Value, i + 1
}

// aside reports whether item j, behind the number at item i, only tells when or how what it
// counts was got: eight this afternoon, ten by mistake, six at a fair.
func aside(s *cover.Chart, j, i int) bool {
	it := s.Item(j)
	if it.Mark != "" || it.Qty != nil || it.Note != nil || it.Any("kind", "material", "count", "unit", "form", "instrument.kind", "want.softness", "move", "wish", "role", "share", "topic") {
		return false
	}
	return j > i+1 && s.Filler(i+1) || it.Any("social", "mend") || s.Is(j, "yesterday", "today", "tonight", "online", "already", "altogether", "cheap", "cheaply", "secondhand", "somewhere", "once") || s.Is(i+1, "at", "from", "off", "in", "for", "last", "by", "this")
}

// alone reports whether the clause from..to holds nothing that counts but item i.
func alone(s *cover.Chart, i, from, to int) bool {
	for j := from; j < to; j++ {
		if j != i && !s.Filler(j) {
			return false
		}
	}
	return true
}

// OtherKind reports whether item i, a word such as thinner, is said of a shaft or of
// yarn that is named in the clause from..to, and no tubing is.
func OtherKind(s *cover.Chart, i, from, to int) bool {
	other := false
	for j := from; j < to; j++ {
		x := s.Item(j).Has("kind")
		if x == nil || j == i {
			continue
		}
		if x.Value == "tube" {
			return false
		}
		other = other || x.Value == "shaft" || x.Value == "yarn"
	}
	return other
}

// Each reads an amount that there is of each of several parts at item i, two of each,
// a foot each of, and returns where it ends, i where there is none.
func (s Describer) Each(i int) (amount reading.Part, end int) {
	q := s.Item(i).Qty
	if q == nil {
		return amount, i
	}
	k := s.Item(i).To
	switch {
	case (s.At(k).Is("of") || s.At(k).Is("from")) && (s.At(k+1).Is("each") || s.At(k+1).Is("every") || s.At(k+1).Is("both")):
		k += 2
	case s.At(k).Is("each") && s.At(k+1).Is("of"):
		k += 2
	default:
		return amount, i
	}
	switch q.Dim {
	case quantity.Plain:
		if !q.Whole || q.Frac {
			return amount, i
		}
		amount.Amount, amount.Unit = q.Value, "piece"
	case quantity.Pieces:
		form(&amount, q.Form, q.Value)
	case quantity.Length:
		amount.Amount, amount.Unit = q.Value, "m"
	case quantity.Mass:
		amount.Amount, amount.Unit = q.Value, "kg"
	default:
		return amount, i
	}
	for end = i + 1; end < len(s.Items) && s.Item(end).From < k; end++ {
	}
	for s.Is(end, "of", "the", "kind", "sort", "type", "size", "wood", "colour", "color", "one", "them", "these", "those", "thickness") {
		end++
	}
	return amount, end
}

// Series returns where the members begin and end that share one description with the
// item next, which is the last of them: 1 in and two 1 1/4 | in rubber balls. There
// are none where item i begins no such series.
func (s Describer) Series(i int) (members [][2]int, next int) {
	bares, joined := false, false // of numbers whose unit stands behind the last; with a word between
	for j := i; ; {
		k := j
		if q := s.Item(k).Qty; q != nil && q.Dim == quantity.Plain && q.Whole && !q.Frac && s.size(k+1) {
			k++
		}
		bare := !s.size(k)
		if q := s.Item(k).Qty; bare && (q == nil || q.Dim != quantity.Plain || q.Value < 15 || q.Value > 60) {
			break
		}
		if end := s.Run(j); !bare && end > k+1 {
			if bares && !joined {
				break
			}
			return members, j
		}
		bares = bares || bare
		members = append(members, [2]int{j, k + 1})
		j = k + 1
		if s.Item(j).Mark == "," || s.Item(j).Mark == "/" {
			joined = joined || s.Item(j).Mark == "/"
			j++
		}
		if s.Is(j, "and", "or", "&") {
			j, joined = j+1, true
		}
		if j == k+1 {
			break
		}
	}
	return nil, i
}

// member describes one of a series, a part of that kind, by the items from..to. A
// number whose unit stands behind the last is a size as well.
func (s Describer) member(kind string, from, to int) reading.Part {
	q := s.Item(from).Qty
	if to > from+1 || q.Dim != quantity.Plain || q.Frac {
		p, _ := s.DescribeAs(kind, from, to)
		return p
	}
	p := reading.Part{Kind: kind}
	s.place(&p, from, from, to)
	return p
}

// Members describes the members of a series like the last of them; each is how much
// there is of each, or nothing.
func (s Describer) Members(members [][2]int, last, each reading.Part) (list []reading.Part) {
	shares := last
	shares.Amount, shares.Unit = each.Amount, each.Unit
	for _, m := range members {
		p := s.member(last.Kind, m[0], m[1])
		p.Holding, p.Text, p.Sure = last.Holding, s.Said(m[0], m[1]), last.Sure
		p = filled(p, shares)
		p.IDs = s.Stock.Match(p)
		list = append(list, p)
	}
	return list
}

// size reports whether item i is a size that balls, tubing and shafts come in.
func (s Describer) size(i int) bool {
	q := s.Item(i).Qty
	return q != nil && (q.Dim == quantity.Length && q.Value < 0.08 || q.Dim == quantity.Plain && q.Frac || q.Dim == quantity.Pair)
}

// RoleFirst describes a part of which the name of a size comes first, at item i, and
// returns where that ends, i where none does: if the wall were 1/16.
func (s Describer) RoleFirst(i int) (p reading.Part, end int) {
	x := s.Item(i).Has("role")
	if x == nil || x.Value != "wall" && x.Value != "bore" && x.Value != "outer" || s.Item(i-1).Qty != nil || strings.ContainsAny(s.Said(i, i+1), "'’") { // I'd say
		return p, i
	}
	j := i + 1
	for s.Filler(j) {
		j++
	}
	q := s.Item(j).Qty
	if q == nil || q.Dim != quantity.Length && !(q.Dim == quantity.Plain && (q.Frac || !q.Whole)) {
		return p, i
	}
	p.Kind = "tube"
	placeTube(&p, s.LengthOf(q), x.Value, false)
	return p, j + 1
}

// NamesKind reports whether the words of a part, in the clause from..to, name its kind
// and not just what it is made of: one with proper wood.
func NamesKind(s *cover.Chart, p reading.Part, from, to int) bool {
	for i := from; i < to; i++ {
		if x := s.Item(i).Has("kind"); x != nil && x.Value == p.Kind {
			return true
		}
	}
	return len(p.IDs) == 1 || p.Kind == "yarn" || p.Kind == "shaft" || p.Amount > 1
}

// Completes returns a part with what the items from i to the end of the clause, before
// item to, say of it, and where that ends, if they are nothing but what it is made of
// and its sizes: the dowels (9 mm beech). By itself it would be of another kind, or a
// mark stands before it.
func (s Describer) Completes(was reading.Part, i, to int) (p reading.Part, end int, ok bool) {
	end = s.Run(i)
	graded := was.Kind == "yarn" && was.Material != "" && was.Weight == "" && (s.Item(i-1).Mark == "(" || s.Is(i-1, "is")) // wool (aran)
	again := was.Kind == "core" && !was.Sized() && s.Item(i-1).Mark == "(" && made(s.Chart, i, end) == was.Material        // bouncy balls (rubber, 27 mm)
	if was.Material+was.Made != "" && !graded && !again || end == i || end > to || !s.ClauseEnds(end) {
		return p, i, false
	}
	made := false
	for j := i; j < end; j++ {
		it := s.Item(j)
		x := it.Has("material")
		if k := it.Has("kind"); k != nil && !(graded && k.Value == "yarn" && it.Has("weight") != nil) || it.Has("purpose") != nil || it.ID != "" || x != nil && !s.Stock.canBe(x.Material().ID, x.Material().Kind, was.Kind) {
			return p, i, false
		}
		if graded && x != nil {
			return p, i, false
		}
		made = made || x != nil || graded && it.Has("weight") != nil
	}
	if !made {
		return p, i, false
	}
	more, _ := s.DescribeAs(was.Kind, i, end)
	if other, _ := s.Describe(i, end); other.Kind == was.Kind && s.Item(i-1).Mark == "" && !graded || Clash(was, more) || was.Amount > 0 && more.Amount > 0 {
		return p, i, false
	}
	p = filled(was, more)
	p.Outer, p.IDs = max(p.Outer, more.Outer), nil
	Complete(&p)
	p.IDs = s.Stock.Match(p)
	return p, end, true
}

// made is the material that the items from..to name, "" for none.
func made(s *cover.Chart, from, to int) string {
	for i := from; i < to; i++ {
		if x := s.Item(i).Has("material"); x != nil {
			return x.Material().ID
		}
	}
	return ""
}

// Both counts the part that the items from..to describe where both of a pair are spoken
// of: both the unused dowels. One that is left off is to be avoided: leave the yarn off.
func Both(s *cover.Chart, p *reading.Part, from, to int) {
	if s.At(s.Item(to).From).Is("off") && p.Holding == reading.Named {
		p.Holding = reading.Avoid
	}
	j := from - 1
	for s.Filler(j) && !s.Starts(j, "both") || s.Unknown(j) && s.Item(j-1).Mark == "" && j > from-3 {
		j--
	}
	if s.Says(j, "both") && p.Amount == 0 && (p.Kind == "core" || p.Kind == "shaft") && s.Item(to-1).Has("kind") != nil {
		p.Amount, p.Unit = 2, "piece"
		s.Item(j).Used = true
	}
}

// Pointed reports whether the clause from..to names no part and points at one that was
// named before: that I do have, there is a coil of it here.
func Pointed(s *cover.Chart, from, to int) bool {
	for i := from; i < to; i++ {
		if s.OfPart(i) || s.Item(i).ID != "" || s.Item(i).Fact() != nil {
			return false
		}
	}
	return s.HasWord(from, to, "it", "them", "those", "these", "that", "one", "some", "em")
}

// Thing returns how many items behind the material of items from..to name things made
// of it that are no part mallow knows, 0 for none: rubber grommets, cotton sheets.
func Thing(s *cover.Chart, from, to int) int {
	for i := from; i < to; i++ {
		if s.Item(i).Any("kind", "form", "weight", "purpose") || s.Item(i).ID != "" || s.Item(i).Qty != nil && s.Item(i).Qty.Dim != quantity.Plain {
			return 0
		}
	}
	if s.Item(to).Mark == ")" && s.Is(to+1, "bars", "keys") && s.Item(to-1).Has("material") != nil { // synthetic (fibreglass) bars
		return 2
	}
	if s.Item(to-1).Has("material") != nil && s.Unknown(to) && s.Is(to, "jumper", "sweater", "cardigan", "pullover", "hat", "scarf", "blanket", "coat", "shirt", "dress", "skirt", "suit",
		"sheet", "curtain", "rug", "carpet", "mat", "cushion", "pillow", "bag", "sofa", "chair", "floor", "door", "fence", "boat", "duck", "band", "stamp", "boot", "glove", "tree", "plant", "shop", "things", "stuff") { // a wool jumper
		return 1
	}
	if w := s.Word(to); s.Item(to-1).Has("material") == nil || !s.Unknown(to) || s.Item(to).To != s.Item(to).From+1 || len(w) < 4 || !strings.HasSuffix(w, "s") || strings.HasSuffix(w, "ss") || strings.HasSuffix(w, "us") || !thingEnds(s, to+1) {
		return 0
	}
	return 1
}

// thingEnds reports whether what is named before item i is a noun, by what follows.
func thingEnds(s *cover.Chart, i int) bool {
	return s.ClauseEnds(i) || s.Item(i).Has("join") != nil || s.Starts(i, "from", "off", "in", "on", "with", "of")
}
