package understand

import (
	"cmp"
	"slices"
	"strings"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reach"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/taken"
	"mallow/knowledge/measure"
)

// parter takes descriptions of parts.
type parter struct{ *walk }

// takePart takes the description of a part.
func (s parter) takePart(i int) int {
	if s.Asked(s.Item(i).Senses) && s.Ctx.Asked != AskParts {
		return 0
	}
	if list, end := s.parts.Listed(i, s.clause.To, cmp.Or(s.reach.Of[i], s.holding()), s.Out.Parts, s.after == afterPart); end > i && s.clause.Act == reading.Tell {
		for _, p := range list {
			s.addPart(p)
		}
		s.content, s.changed, s.skip = true, true, end
		return end - i
	}
	if amount, end := s.parts.Each(i); end > i {
		s.takeEach(amount)
		return end - i
	}
	if members, next := s.parts.Series(i); len(members) > 0 {
		return s.takeSeries(members, next) - i
	}
	end := s.parts.Run(i)
	if n := s.takeMore(i); n > 0 && i+n >= end {
		return n
	}
	if n := s.takeRole(i); n > 0 {
		return n
	}
	if s.clause.Act == reading.Tell && !s.Out.Corrects { // else the first of two keeps its number
		if p, end := part.Other(s.parts, s.Out.Parts, i, s.clause.To); end > i { // the other 28
			s.addPart(p)
			s.content, s.changed = true, true
			return end - i
		}
	}
	if q, x := s.Item(i).Qty, s.Item(i+1).Has("role"); s.reach.Inventory && s.after != afterPart && q != nil && q.Dim == quantity.Length && x != nil && x.Value == "outer" { // 20 mm OD, 3 mm wall
		s.Out.Parts = append(s.Out.Parts, reading.Part{Kind: "tube", Holding: reading.Have, Outer: s.parts.LengthOf(q), Text: s.Said(i, i+2), Sure: 1})
		s.content = true
		return 2
	}
	if x := s.Item(i).Has("purpose"); x != nil && s.after == afterPart { // a ball; use it for the middle
		if n := len(s.Out.Parts); n > 0 {
			s.parts.MadeFor(&s.Out.Parts[n-1], x.Value)
		}
		s.content, s.changed = true, true
		return 1
	}
	if end == i && reach.Sticks(s.Chart, i) && s.reach.Of[i] == reading.Lack && s.clause.Act == reading.Tell {
		s.addPart(reading.Part{Kind: "shaft", Holding: reading.Lack, Text: s.Said(i, i+1), Sure: 1})
		s.changed = true
		return 1
	}
	if end == i {
		return 0
	}
	if q := s.Item(i).Qty; q != nil && q.Dim != quantity.Pair && figures(s).beforeMove(i) > 0 {
		return 0
	}
	p, bare := s.parts.Describe(i, end)
	bare = bare || p.Kind == "glue" && p.Amount == 0 && s.clause.Act != reading.Tell
	if n := len(s.Out.Parts); n > 0 && s.after == afterPart && s.parts.Balls(i, end) && s.Out.Parts[n-1].Kind == "yarn" && s.Out.Parts[n-1].Amount == 0 { // wool, 3 balls
		s.Out.Parts[n-1].Amount, s.Out.Parts[n-1].Unit = p.Amount, "skein"
		if s.Out.Parts[n-1].Holding == reading.Named {
			s.Out.Parts[n-1].Holding = reading.Have
		}
		s.content, s.changed = true, true
		return end - i
	}
	if taken.OfHarm(s.Line, i, end, s.clause, p, s.neg, s.neg || s.hold == reading.Avoid) {
		s.content = true
		return end - i
	}
	if n := part.Thing(s.Chart, i, end); n > 0 { // rubber grommets
		for j := i; j < end+n; j++ {
			s.Item(j).Lost = true
		}
		s.content = true
		return end + n - i
	}
	p.Text, p.Holding, p.Sure = s.Said(i, end), s.holding(), 1
	part.Both(s.Chart, &p, i, end)
	for j := i; j < end; j++ {
		it := s.Item(j)
		p.Sure = min(p.Sure, it.Sure())
		if it.Qty != nil && it.Qty.Guess {
			p.Sure *= 0.9
		}
	}
	s.content = true
	if p.Holding == reading.Named && s.clause.Act == reading.Tell && (p.Sized() && !s.wants && s.place().OfMine(i) || part.UsesOwn(s.Chart, s.clause.From, i)) {
		p.Holding = reading.Have
	}
	if p.Amount == 1 && p.Kind != "core" && s.Item(i).Qty != nil && s.Item(i).Qty.Spelt && figure.Pairs(s.Chart) > 1 && (s.ClauseEnds(end) || s.Starts(end, "for", "throughout", "on", "all", "over")) { // one cord for all
		s.changed = true
		return end - i
	}
	fixed := part.Kept(s.Chart, p, i, end, s.reach.At(i, end))
	if fixed == reading.Have && p.Amount == 0 && p.Unit != "" { // and zero tubing
		fixed, p.Unit = reading.Lack, ""
	}
	switch {
	case part.Idle(s.Chart, p, i, fixed) && !s.listing(): // cut it with a knife
		s.content = false
		return 0
	case fixed == "" && part.OnlyRubber(s.Chart, p, i, end) && strings.HasSuffix(s.Ctx.Asked, "_ok"): // no, rubber is fine
		s.changed = true
	case bare && p.Kind == "core" && p.Holding != reading.Lack && p.Holding != reading.Avoid && fixed != reading.Lack && p.Amount == 0 && s.Item(end).Mark != ":" && slices.ContainsFunc(s.Out.Parts, func(q reading.Part) bool { return q.Kind == p.Kind && q.Holding == reading.Have }): // beech on the lathe, I turn balls
		s.changed = true
	case bare && s.same: // keep the shaft I've got
		s.Keep(p.Kind, p.Kind)
		s.same = false
	case fixed != "" && !(bare && fixed != reading.Lack && s.Item(end).Mark == ":" && !s.reach.Spent[min(end+1, len(s.Items)-1)]):
		p.Holding = fixed
		s.addPart(p)
	case bare && p.Holding == reading.Named && s.listing():
		s.keepPart(p)
	case bare && (p.Holding == reading.Named || s.Item(end).Mark == ":"):
		s.content = p.Holding != reading.Named // "core" by itself says nothing
		s.heading, s.headAt = p, i
	default:
		s.keepPart(p)
	}
	if s.heading.Kind == "" {
		s.list.Agree(s.parts, s.Out.Parts, i, end)
	}
	return end - i
}

// takeSeries takes the sizes of a list that share what is said of the last one, which
// begins at item next: 1 in and 1 1/4 in rubber balls. It returns where that ends.
func (s parter) takeSeries(members [][2]int, next int) int {
	named := len(s.Out.Parts)
	end := next + s.takePart(next)
	if len(s.Out.Parts) != named+1 {
		return end
	}
	s.Out.Parts = append(s.Out.Parts, s.parts.Members(members, s.Out.Parts[named], s.each)...)
	s.skip = end
	return end
}

// takeCounted takes a number that only says how many there are of the part named
// last: six of them; got 11.
func (s parter) takeCounted(i int) int {
	n := len(s.Out.Parts) - 1
	if n < 0 || s.wants || s.neg || s.Out.Parts[n].Amount > 0 {
		return 0
	}
	p := &s.Out.Parts[n]
	count, end := s.parts.Counted(i, s.clause.From, s.clause.To)
	if end == i || s.after != afterPart && s.Size() != s.before || p.Holding != reading.Named && p.Holding != reading.Have || p.Kind == "tube" || p.Kind == "glue" || p.Kind == reading.Tool ||
		s.Item(i).Qty != nil && s.Item(i).Qty.Form == "pair" && p.Holding == reading.Named && !p.Sized() {
		return 0
	}
	amount := reading.Part{Amount: count, Unit: map[bool]string{true: "skein", false: "piece"}[p.Kind == "yarn"]}
	if q := s.Item(i).Qty; q != nil {
		q.Form = "piece" // two pairs of sticks are no pairs of mallets
	}
	part.Share(p, amount, false)
	s.content, s.changed = true, true
	return end - i
}

// takeEach gives each part named so far the amount that there is of each or, where
// there is none, each that follows.
func (s parter) takeEach(amount reading.Part) {
	s.content, s.changed = true, true
	if len(s.Out.Parts) == 0 {
		s.each = amount
		return
	}
	for i := range s.Out.Parts {
		part.Share(&s.Out.Parts[i], amount, s.wants)
	}
}

// takeRole takes a size whose name comes first: "if the wall were 1/16".
func (s parter) takeRole(i int) int {
	p, end := s.parts.RoleFirst(i)
	if end == i {
		return 0
	}
	p.Holding, p.Text, p.Sure = s.holding(), s.Said(i, end), 1
	if s.reach.Inventory || s.Out.Corrects && p.Holding == reading.Named {
		p.Holding = reading.Have
	}
	p.IDs = s.parts.Stock.Match(p)
	s.Out.Parts = append(s.Out.Parts, p)
	s.content = true
	return end - i
}

// keepPart adds a part.
func (s parter) keepPart(p reading.Part) {
	switch {
	case p.Amount == 0 && p.Unit != "": // 0 yarn
		p.Holding, p.Unit = reading.Lack, ""
	case p.Holding == reading.Named && !s.wants && !s.parts.Priced(s.clause.From, s.clause.To) && s.clause.Act == reading.Tell && (p.Amount > 0 || s.Out.Corrects && p.Sized()) && part.NamesKind(s.Chart, p, s.clause.From, s.clause.To): // an amount is of what one has
		p.Holding = reading.Have
	case p.Holding == reading.Named && s.listing(): // a list of what one has goes on
		p.Holding = reading.Have
	case p.Holding == reading.Avoid && s.neg && p.Material == "" && s.listing():
		p.Holding = reading.Lack
	}
	s.addPart(p)
}

// addPart adds a part as it is held.
func (s parter) addPart(p reading.Part) {
	if s.Out.Corrects {
		amount := p.Amount
		part.Fill(&p, s.Ctx.Before.Parts)
		if amount == 0 && p.Amount > 1 && p.Unit == "piece" && s.HasWord(s.clause.From, s.taking, "other", "second", "smaller", "bigger", "larger", "one") { // the other ball is 27 mm, not 28
			p.Amount = 1
		}
	}
	part.Share(&p, s.each, s.wants)
	s.parts.Stock.Slices(&p, s.Out.Parts)
	if p.Holding == reading.Lack && p.Unit == "piece" { // not one ball
		p.Amount, p.Unit = 0, ""
	}
	if s.listed && p.Holding == reading.Avoid && p.Material+p.Made == "" && !p.Sized() { // just not the tubing
		p.Holding = reading.Lack
	}
	p.IDs = s.parts.Stock.Match(p)
	if s.heading.Kind == p.Kind {
		s.useHeading()
	}
	if s.again(p) {
		return
	}
	s.Out.Parts = append(s.Out.Parts, p)
}

// again completes a part on hand that was named before by what is said of it now:
// two feet of tubing and a drill; the tube says 1/2 in id. It reports whether it did.
func (s parter) again(p reading.Part) bool {
	i := s.taking
	if !p.Sized() || p.Amount > 0 || p.Holding != reading.Have && p.Holding != reading.Named || !s.Starts(i-1, "the", "that", "this", "its", "my") || s.Out.Corrects {
		return false
	}
	ok := s.parts.Stock.Add(s.Out.Parts, p)
	s.changed = s.changed || ok
	return ok
}

// named lets the part that an earlier clause only named be had where this one says so of
// it, with the word for having at item i: would floss do? I have that. It reports
// whether it did.
func (s parter) named(i int) bool {
	if s.hold != reading.Have || s.neg || len(s.Out.Parts) > s.partsBefore || s.clause.Act != reading.Tell || !part.Pointed(s.Chart, s.clause.From, s.clause.To) {
		return false
	}
	if taken.Had(s.Line) {
		s.content, s.changed, s.after = true, true, afterPart
		return true
	}
	return false
}

// listing reports whether the line lists what somebody has, and this clause goes
// on with that: it has no verb of its own.
func (s parter) listing() bool {
	if s.wants || s.clause.Act != reading.Tell || !slices.ContainsFunc(s.Out.Parts, func(p reading.Part) bool { return p.Holding == reading.Have }) {
		return false
	}
	for i := s.clause.From; i < s.clause.To; i++ {
		if s.Subject(i) && !s.Starts(i, "the", "my", "our", "this", "that", "his", "her", "one") || s.Item(i).Any("withdraw", "keep", "mend") || s.Is(i, "with", "use", "make", "can", "should", "in", "for") {
			return false
		}
	}
	return true
}

// takeMore lets figures complete the part named just before: "…, eighth
// wall", "…, a foot", "…, 6 pieces".
func (s parter) takeMore(i int) int {
	n := len(s.Out.Parts)
	if s.after != afterPart && s.heading.Kind == "" && !part.Across(s.Chart, s.Out.Parts, i) || s.place().HeadBeside(i) || s.Item(i).Limit != "" && !s.listed {
		return 0
	}
	last := s.heading
	if last.Kind == "" {
		if n == 0 {
			return 0
		}
		last = s.Out.Parts[n-1]
		n--
	}
	if t := s.At(s.Item(i).To - 1); s.reach.Inventory && s.Item(i).Any("player.grip", "player.mallets") && s.Starts(i, "only", "just") && t.Whole && last.Amount == 0 { // and only two
		last.Amount, last.Unit = t.Value, "piece"
		s.Out.Parts = append(s.Out.Parts[:n], last)
		s.useHeading()
		return 1
	}
	if last.Kind == reading.Tool {
		return 0
	}
	if x := s.Item(i).Has("bored"); x != nil && last.Kind == "core" && last.Bored == "" { // rubber balls, undrilled
		last.Bored, last.IDs = x.Value, nil
		taken := 1
		if q := s.Item(i + 1).Qty; q != nil && q.Dim == quantity.Length && x.Value == "bored" { // drilled 8 mm
			last.Bore, taken = s.parts.LengthOf(q), 2
		}
		last.IDs = s.parts.Stock.Match(last)
		s.Out.Parts = append(s.Out.Parts[:n], last)
		s.useHeading()
		return taken
	}
	end := s.parts.Measures(i, s.clause.To)
	if x := s.Item(i).Has("material"); x != nil && !s.neg && s.Item(i-1).Has("holding") == nil && last.Material+last.Made == "" && s.ClauseEnds(i+1) && (s.reach.Of[i] == "" || s.reach.Of[i] == last.Holding) { // ball, nylon
		if m := x.Material(); m.Kind == last.Kind {
			last.Material, last.Made, last.IDs = m.ID, m.Made, nil
			last.IDs = s.parts.Stock.Match(last)
			s.Out.Parts = append(s.Out.Parts[:n], last)
			s.useHeading()
			return 1
		}
	}
	if p, to, ok := s.parts.Completes(last, i, s.clause.To); ok && !s.neg && last.Holding != reading.Lack && last.Holding != reading.Avoid && s.clause.Act == reading.Tell { // dowels (9 mm beech)
		if p.Holding == reading.Named && (p.Amount > 0 && !s.wants || s.reach.Of[i] == reading.Have) {
			p.Holding = reading.Have
		}
		s.Out.Parts = append(s.Out.Parts[:n], p)
		s.useHeading()
		return to - i
	}
	if end == i || s.OfPart(end) || s.Item(end).ID != "" || !s.ClauseEnds(end) && !s.reach.Whence[end] && !s.parts.GoesOn(end, s.clause.To) {
		return 0
	}
	more, _ := s.parts.DescribeAs(last.Kind, i, end)
	if last.Kind == "tube" && last.Unit == "piece" && last.Length == 0 && more.Unit == "m" { // 12 slices, one inch each
		more.Length, more.Amount, more.Unit = measure.Length(more.Amount), 0, ""
	}
	if last.Unit == "piece" && last.Amount == 2 && more.Amount == 1 && more.Sized() && !last.Sized() { // two balls, one 30 mm
		last.Amount = 1
	}
	joined := last.Kind == "core" && last.Amount+more.Amount == 0 && (s.Is(i-1, "and", "or", "&") || s.Item(i-1).Mark == "/") // and 30 mm
	if clash(last.Diameter, more.Diameter) && (clash(last.Amount, more.Amount) || joined) && s.heading.Kind == "" {           // and two at 30 mm
		more.Material, more.Holding, more.Text, more.Sure = last.Material, last.Holding, s.Said(i, end), last.Sure
		s.addPart(more)
		s.changed = true
		return end - i
	}
	if last.Kind == "core" && more.Bore > 12*measure.Millimetre || last.Kind != "tube" && more.Wall > 0 || last.Kind != "tube" && last.Kind != "core" && more.Bore > 0 || part.Clash(last, more) || part.OnlyMade(last) && more.Amount > 0 && !more.Sized() ||
		clash(last.Amount, more.Amount) && last.Amount != more.Amount && !(last.Amount == 1 && (more.Unit == "kg" || more.Unit == "m")) && !(last.Unit == "skein" && more.Unit == "kg") {
		return 0
	}
	last = part.Sizes(last, more)
	if more.Amount > 0 {
		if last.Unit == "skein" && last.Amount > 1 && more.Unit == "kg" { // 3 balls of wool, 50 g each
			s.changed = true
			return end - i
		}
		if more.Unit == "kg" && last.Kind != "yarn" && last.Kind != "glue" {
			if s.HasWord(i, end+1, "apiece", "each", "ea") && !s.wants && (s.listed || s.reach.Inventory || last.Kind == "core" && last.Sized()) { // what each ball weighs
				s.changed = true
				return max(end, i+1) - i
			}
			return 0 // the weight of a head
		}
		last.Amount, last.Unit = more.Amount, more.Unit
		if (last.Holding == reading.Named || last.Holding == reading.Lack && s.hold == reading.Have && !s.neg) && !s.wants && s.clause.Act == reading.Tell {
			last.Holding = reading.Have
		}
	}
	part.Complete(&last)
	s.parts.Stock.Thin(s.Chart, &last)
	last.IDs = nil
	last.IDs = s.parts.Stock.Match(last)
	s.Out.Parts = append(s.Out.Parts[:n], last)
	s.useHeading()
	return end - i
}

// useHeading notes that the kind of part named before has found what it headed.
func (s parter) useHeading() {
	if n := len(s.Out.Parts); n > 1 && s.HasWord(s.clause.From, s.taking+1, "both", "all") {
		s.parts.Stock.Share(s.Out.Parts)
		for j := s.clause.From; j <= s.taking; j++ {
			s.Item(j).Used = s.Item(j).Used || s.Says(j, "both", "all")
		}
	}
	if s.heading.Kind != "" {
		for j := s.headAt; j < s.taking; j++ {
			s.Item(j).Lost = false
		}
	}
	s.heading, s.changed = reading.Part{}, true
}

// clash reports whether both are said.
func clash[T ~float64](a, b T) bool { return a != 0 && b != 0 }

// refuse turns the part just named into one to avoid: "latex? no!".
func (s parter) refuse(i int) bool {
	n := len(s.Out.Parts)
	if s.after != afterPart || n == 0 || !s.ClauseEnds(i+1) {
		return false
	}
	p := s.Out.Parts[n-1]
	switch p.Holding {
	case reading.Named:
		p.Holding = reading.Avoid
	case reading.Have:
		p.Holding = reading.Lack
	default:
		return false
	}
	s.Out.Parts = s.Out.Parts[:n-1]
	s.keepPart(p)
	return true
}
