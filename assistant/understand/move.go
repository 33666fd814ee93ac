package understand

import (
	"math"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// takeMove takes a relative wish, a complaint or a comparative.
func (s *walk) takeMove(i int) int {
	it := s.item(i)
	enough := s.item(i+1).has("enough") != nil
	denied := s.neg || s.hold == Avoid
	if x := it.has("move"); x != nil {
		switch {
		case !denied:
		case s.degree > 1: // not much harder
			s.degree = 0.5
		default: // but not lighter
			s.out.Keeps = append(s.out.Keeps, x.Value)
			s.kept = append(s.kept, plainName(x.Value))
			s.content = true
			return 1
		}
		return s.moveOr(i, x, s.lessened(x.Num), enough)
	}
	if x := it.has("wish"); x != nil {
		if !s.predicate(i) && !s.tooMuch && !denied && s.degree == 0 && s.more == 0 {
			return 1 // a big marimba, a big church
		}
		if last := s.lastFigure(); s.tooMuch && last != nil && last.Path == x.Value && last.Bound != "" { // under 20 g is too light
			last.Bound = map[bool]string{true: "most", false: "least"}[x.Num > 0]
			s.tooMuch = false
			return 1
		}
		by := s.lessened(x.Num)
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
	for _, x := range it.senses {
		side, unit := s.r.side(x)
		if side == 0 {
			continue
		}
		y := *x
		y.Value, y.Unit = x.Slot, unit
		return s.moveOr(i, &y, wanted*side, enough)
	}
	return 0
}

// predicate reports whether the word at item i is said of the head: it ends its
// clause, or a word for the head follows.
func (s *walk) predicate(i int) bool {
	for j := i + 1; s.item(j).has("wish") != nil || s.item(j).has("want.softness") != nil || s.is(j, "and"); j++ {
		i = j
	}
	wishes := s.clause.to-s.clause.from <= 2 || s.hasWord(s.clause, "want", "wants", "something", "make", "need", "needs", "like", "mallet", "mallets", "head", "heads", "pair", "be", "should", "prefer", "them", "gimme", "give", "looking")
	for j := s.clause.from; j < s.clause.to && !wishes; j++ {
		if s.unknown(j) {
			break
		}
		wishes = j == s.clause.to-1
	}
	if !wishes && s.ctx.Asked == "" {
		return false
	}
	return s.clauseEnds(i+1) || s.starts(i+1, "for", "and", "please", "to", "with", "but") && s.ctx.Asked == "" || s.item(i+1).any("enough", "after") || s.starts(i+1, "head", "heads", "mallet", "mallets", "beater", "beaters", "ones", "one")
}

// thatMuch reports whether item i is denied as it stands: not that soft.
func (s *walk) thatMuch(i int) bool {
	return s.neg && (s.is(i-1, "that", "this") || s.is(i-2, "that") && s.item(i-1).has("degree") != nil)
}

// lessened returns by, turned round after "less".
func (s *walk) lessened(by float64) float64 {
	if s.more < 0 {
		return -by
	}
	return by
}

// moveOr adds the move of sense x, or the limit or grade that it is put as.
func (s *walk) moveOr(i int, x *lexis.Sense, by float64, enough bool) int {
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
func (s *walk) than(i int, x *lexis.Sense, by float64) int {
	if !s.at(s.item(i + 1).from).Is("than") {
		return 0
	}
	to := s.item(i + 2)
	a := Take{Path: x.Value, Degree: 1, Text: s.said(i, min(i+3, len(s.items))), Sure: s.sure(s.item(i))}
	if g := to.has("want.softness"); g != nil && x.Value == "want.softness" {
		v, _ := g.Fact.(float64)
		a.Value = s.lex.Beyond(v, by)
	} else if to.qty != nil && s.moves(x.Value, to.qty) {
		a.Value, _ = (figures{s}).inUnit(x.Value, to.qty)
		a.Bound = "most"
		if by > 0 {
			a.Bound = "least"
		}
	} else {
		return 0
	}
	s.add(a)
	return 3
}

// move adds a move of by, in plain degrees or notches, as much as was said, and
// returns where the words for it end.
func (s *walk) move(i int, path string, by float64, unit string) (end int) {
	from, end := i, i+1
	q := s.item(i - 1).qty // two notches softer
	if q != nil && s.moves(path, q) {
		from = i - 1
	} else {
		j := end
		for s.filler(j) {
			j++ // softer by two notches
		}
		if q = s.item(j).qty; q != nil && s.moves(path, q) {
			end = j + 1
		} else {
			q = nil
		}
	}
	switch {
	case q != nil && q.dim == notches && unit == "": // one notch darker
		by *= q.value
	case q != nil:
		by = math.Copysign(s.amount(path, q), by)
		unit = map[dim]string{notches: "notches", mass: "g", length: "mm", money: "cents"}[q.dim]
	case s.degree != 0:
		by *= s.degree
	}
	m := Move{Path: path, By: by, Unit: unit, Text: s.said(from, end)}
	s.degree, s.more, s.tooMuch = 0, 0, false
	s.content = true
	for k, old := range s.out.Moves { // big fat heads
		if old.Path == m.Path && old.Unit == m.Unit && (old.By < 0) == (m.By < 0) {
			if math.Abs(m.By) > math.Abs(old.By) {
				s.out.Moves[k] = m
			}
			return end
		}
	}
	s.out.Moves = append(s.out.Moves, m)
	return end
}

// moves reports whether a quantity says by how much a fact is moved.
func (s *walk) moves(path string, q *quantity) bool {
	if q.dim == notches {
		return true
	}
	switch path {
	case "want.mass_g":
		return q.dim == mass
	case "want.diameter_mm":
		return q.dim == length
	case "want.budget":
		return q.dim == money
	}
	return false
}

// amount returns a quantity in the fact's own unit.
func (s *walk) amount(path string, q *quantity) float64 {
	switch path {
	case "want.mass_g":
		return measure.Mass(q.value).Grams()
	case "want.diameter_mm":
		return measure.Length(q.value).MM()
	}
	return q.value
}

// lastFigure returns the last answer when it is a number, else nil.
func (s *walk) lastFigure() *Take {
	if n := len(s.out.Takes); n > 0 {
		if _, ok := s.out.Takes[n-1].Value.(float64); ok {
			return &s.out.Takes[n-1]
		}
	}
	return nil
}
