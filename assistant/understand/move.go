package understand

import (
	"math"

	"mallow/knowledge/measure"
)

// takeMove takes a relative wish, a complaint or a comparative.
func (s *sentence) takeMove(i int) int {
	it := s.item(i)
	enough := s.item(i+1).has("enough") != nil
	if x := it.has("move"); x != nil {
		switch {
		case !s.neg && s.hold != Avoid:
		case s.degree > 1: // not much harder
			s.degree = 0.5
		default: // but not lighter
			s.out.Keep = append(s.out.Keep, x.value)
			s.kept = append(s.kept, plainName(x.value))
			s.content = true
			return 1
		}
		return s.moveOrWhy(i, x, s.turned(x.num), enough)
	}
	if x := it.has("wish"); x != nil {
		if s.names(s.item(i+1), "instrument.kind") {
			return 1 // a big marimba
		}
		by := s.turned(x.num)
		if (s.neg || s.tooMuch || s.hold == Avoid) && !enough {
			by = -by // not heavy, too heavy, not too heavy
		}
		return s.moveOrWhy(i, x, by, enough)
	}
	// more bright, too bright, not bright enough
	wanted := s.more
	denied := s.neg || s.hold == Avoid
	if wanted == 0 && s.tooMuch && !denied {
		wanted = -1
	}
	if wanted == 0 && denied && enough {
		wanted = 1
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
		y.value, y.unit = x.slot, unit
		return s.moveOrWhy(i, &y, wanted*side, enough)
	}
	return 0
}

// turned returns by, turned round after "less".
func (s *sentence) turned(by float64) float64 {
	if s.more < 0 {
		return -by
	}
	return by
}

// moveOrWhy adds the move of sense x, or, after "why", asks about the head's
// own figure: "why so heavy".
func (s *sentence) moveOrWhy(i int, x *sense, by float64, enough bool) int {
	if s.asks {
		s.out.About = append(s.out.About, Topic{Kind: "fact", ID: headFact(x.value), Text: s.words(i, i+1)})
		s.content, s.degree = true, 0
		return 1
	}
	if n := s.than(i, x, by); n > 0 {
		return n
	}
	end := s.move(i, x.value, by, x.unit)
	if enough {
		end = i + 2
	}
	return end - i
}

// than takes "lighter than 30 g", a limit, and "softer than medium", a grade.
func (s *sentence) than(i int, x *sense, by float64) int {
	if !s.at(s.item(i + 1).from).is("than") {
		return 0
	}
	to := s.item(i + 2)
	a := Answer{Path: x.value, Degree: 1, Text: s.words(i, min(i+3, len(s.items))), Confidence: s.sure(s.item(i))}
	if g := to.has("want.softness"); g != nil && x.value == "want.softness" {
		v, _ := g.fact.(float64)
		a.Value = s.r.words.beyond(v, by)
	} else if to.qty != nil && s.moves(x.value, to.qty) {
		a.Value, _ = s.inUnit(x.value, to.qty)
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
func (s *sentence) move(i int, path string, by float64, unit string) (end int) {
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
	m := Move{Path: path, By: by, Unit: unit, Text: s.words(from, end)}
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
func (s *sentence) moves(path string, q *quantity) bool {
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
func (s *sentence) amount(path string, q *quantity) float64 {
	switch path {
	case "want.mass_g":
		return measure.Mass(q.value).Grams()
	case "want.diameter_mm":
		return measure.Length(q.value).MM()
	}
	return q.value
}

// settleDegree gives a degree that nothing followed to what was said before
// it: "softer, just a bit".
func (s *sentence) settleDegree() {
	if s.degree != 0 && !s.neg {
		switch s.after {
		case afterMove:
			s.out.Moves[len(s.out.Moves)-1].By *= s.degree
		case afterAnswer:
			s.stretch(&s.out.Answers[len(s.out.Answers)-1], s.degree)
		}
	}
	s.degree = 0
}
