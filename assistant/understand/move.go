package understand

import (
	"math"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/assistant/understand/taken"
	"mallow/rules/facts"
)

// mover takes relative wishes.
type mover struct{ *walk }

// takeMove takes a relative wish, a complaint or a comparative.
func (s mover) takeMove(i int) int {
	it := s.Item(i)
	enough := s.Item(i+1).Has("enough") != nil
	if s.listed && it.Any("move", "wish") { // a ball, very light
		it.Lost, s.content = true, true
		return 1
	}
	denied := s.neg || s.hold == reading.Avoid || keeper(s).stay().Refused(i) || it.Has("move") != nil && (s.guard().Refused(i+1) || s.hold == reading.Lack && s.deniedAt == i-1) // and no bigger
	if x := it.Has("move"); x != nil && s.hold == reading.Have && s.At(s.Item(i+1).From).Is("than") && s.Item(i+2).Qty == nil {
		return 1 // more yarn than I could ever use
	}
	if it.Has("move") != nil && s.guard().Effort(i) {
		it.Lost, s.content = true, true
		return 1
	}
	if x := it.Has("move"); x != nil && taken.SecondPair(s.Line, i, s.clause.To) { // and a harder pair: of another head, or of this one
		s.Doubt(x.Value, s.Said(i, i+2))
		s.content, s.changed = true, true
		return 2
	}
	if x := it.Has("move"); x != nil && x.Value == "head.rubber_mm" && part.OtherKind(s.Chart, i, s.clause.From, s.clause.To) { // a thinner dowel
		it.Lost, s.content = true, true
		return 1
	}
	if x := it.Has("move"); x != nil && keeper(s).stay().Allowed(i) {
		s.degree, s.content, s.changed = 0, true, true
		return s.clause.To - i
	}
	if x := it.Has("move"); x != nil && !s.tooMuch && figure.Was(s.place(), i) { // mine was softer before I rewound it
		it.Lost, s.content = true, true
		return 1
	}
	if x := it.Has("move"); x != nil {
		switch {
		case !denied:
		case s.degree > 1 && len(s.Out.Moves) == 0: // not much harder; else a limit: softer, but not much heavier
			s.degree = 0.5
		case s.At(s.Item(i+1).From).Is("than") && s.than(i, x, x.Num) > 0:
			return 3
		case taken.LimitedTo(s.Line, x.Value, x.Num) && s.ClauseEnds(i+1): // as small as 22 mm but no smaller
			s.content, s.changed = true, true
			return 1
		default: // but not lighter
			s.Keep(x.Value, retell.Name(x.Value))
			s.content = true
			return 1
		}
		return s.moveOr(i, x, s.lessened(figure.Wished(s.place(), i, x.Num)), enough)
	}
	if x := it.Has("wish"); x != nil {
		if !s.guard().Predicate(i) && !s.tooMuch && !denied && s.degree == 0 && s.more == 0 {
			return 1 // a big marimba, a big church
		}
		if x.Value == facts.WantMassG && !s.tooMuch && s.Ctx.Asked != x.Value && s.guard().OfSound() {
			s.Item(i).Lost = true // the sound heavy, like wet clay
			return 1
		}
		if x.Value == facts.WantDiameterMM && !s.tooMuch && s.Ctx.Asked != x.Value && !s.guard().OfHead(i) {
			s.Item(i).Lost = true // quite tiny bars, nobody big
			return 1
		}
		if last := s.LastFigure(); s.tooMuch && last != nil && last.Path == x.Value && last.Bound != "" { // under 20 g is too light
			last.Bound = limit.Against(x.Num)
			s.tooMuch = false
			return 1
		}
		by := s.lessened(figure.Wished(s.place(), i, x.Num))
		if (denied || s.tooMuch) && !enough {
			by = -by // not heavy, too heavy, not too heavy
		}
		return s.moveOr(i, x, by, enough)
	}
	// more bright, too bright, not bright enough, not that bright
	wanted := s.more
	if wanted == 0 && s.tooMuch && !denied {
		wanted = -1
	}
	if wanted == 0 && denied && enough {
		wanted = 1
	}
	if wanted == 0 && s.thatMuch(i) {
		wanted = -1
	}
	if wanted == 0 {
		return 0
	}
	for _, x := range it.Senses {
		side, unit := s.Lex.Side(x)
		if side == 0 {
			continue
		}
		y := *x
		y.Value, y.Unit = x.Slot, unit
		return s.moveOr(i, &y, wanted*side, enough)
	}
	return 0
}

// thatMuch reports whether item i is denied as it stands: not that soft.
func (s mover) thatMuch(i int) bool {
	return s.neg && (s.Is(i-1, "that", "this") || s.Says(i-1, "so", "as", "quite") && s.HasWord(i+1, i+6, "as") || s.Is(i-2, "that") && s.Item(i-1).Has("degree") != nil)
}

// lessened returns by, turned round after "less".
func (s mover) lessened(by float64) float64 {
	if s.more < 0 {
		return -by
	}
	return by
}

// moveOr adds the move of sense x, or the limit or grade that it is put as.
func (s mover) moveOr(i int, x *lexis.Sense, by float64, enough bool) int {
	if n := s.than(i, x, by); n > 0 {
		return n
	}
	end := s.move(i, x.Value, by, x.Unit)
	if enough {
		end = i + 2
	}
	return end - i
}

// than takes "lighter than 30 g", a limit, and "softer than medium", a grade.
func (s mover) than(i int, x *lexis.Sense, by float64) int {
	if next := s.At(s.Item(i + 1).From); !next.Is("than") && !next.Is("then") && !next.Is("as") {
		return 0
	}
	last := i + 2
	if s.Filler(last) && s.Starts(last, "a", "the", "an") && s.Item(last+1).Has("want.softness") != nil { // softer than a medium
		last++
	}
	to := s.Item(last)
	a := reading.Take{Path: x.Value, Degree: 1, Text: s.Said(i, min(last+1, len(s.Items))), Sure: s.Item(i).Sure()}
	if g := to.Has("want.softness"); g != nil && x.Value == "want.softness" {
		v, _ := g.Fact.(float64)
		a.Value = s.Lex.Beyond(v, by)
		if s.neg || s.hold == reading.Avoid || s.Is(i-1, "no") { // no softer than medium
			a.Value, a.Bound = v, limit.Against(by)
		}
	} else if to.Qty != nil && figure.Moves(x.Value, to.Qty) {
		a.Value, _ = figure.In(x.Value, to.Qty)
		a.Bound = "most"
		if denied := s.neg || s.hold == reading.Avoid; (by > 0) != denied { // mustn't be any heavier than ten
			a.Bound = "least"
		}
		a.Bound = to.Turn(a.Bound)
	} else {
		return 0
	}
	s.add(a)
	return last + 1 - i
}

// move adds a move of by, in plain degrees or notches, as much as was said, and
// returns where the words for it end.
func (s mover) move(i int, path string, by float64, unit string) (end int) {
	from, end := i, i+1
	q := s.Item(i - 1).Qty // two notches softer
	if q != nil && figure.Moves(path, q) {
		from = i - 1
	} else {
		j := end
		for s.Filler(j) {
			j++ // softer by two notches
		}
		if q = s.Item(j).Qty; q != nil && figure.Moves(path, q) {
			end = j + 1
		} else {
			q = nil
		}
	}
	switch {
	case q != nil && q.Dim == quantity.Notches && unit == "": // one notch darker
		by *= q.Value
	case q != nil:
		by = math.Copysign(figure.Amount(path, q), by)
		unit = figure.Unit(q.Dim)
	case s.degree != 0:
		by *= s.degree
	}
	m := reading.Move{Path: path, By: by, Unit: unit, Text: s.Said(from, end)}
	s.degree, s.more, s.tooMuch, s.content = 0, 0, false, true
	for k, old := range s.Out.Moves { // big fat heads; too light, 2 g more
		if old.Path == m.Path && (old.Unit == m.Unit || old.Unit == "") && (old.By < 0) == (m.By < 0) {
			if math.Abs(m.By) > math.Abs(old.By) || old.Unit != m.Unit {
				s.Out.Moves[k] = m
			}
			s.changed = true
			return end
		}
	}
	s.Out.Moves = append(s.Out.Moves, m)
	return end
}
