package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
)

// takeAsked takes words that mean something only as an answer to the open
// question.
func (s *sentence) takeAsked(i int) int {
	it := s.item(i)
	if s.ctx.Asked == "" || s.answered(s.ctx.Asked) && !s.replied || s.names(it, s.ctx.Asked) {
		return 0
	}
	for _, x := range it.senses {
		if x.slot == "asked" && x.value == s.ctx.Asked {
			s.answer(i, i+1, x, x.path)
			return 1
		}
	}
	return 0
}

// answered reports whether a fact has an answer by now.
func (s *sentence) answered(path string) bool {
	return slices.ContainsFunc(s.out.Answers, func(a Answer) bool { return a.Path == path })
}

// takeAge takes "I'm 14" and "14 years old".
func (s *sentence) takeAge(i int) int {
	it := s.item(i)
	if it.qty != nil && (it.qty.dim == years || s.ctx.Asked == "player.minor" && it.qty.dim == plainNumber) && !s.ofPart(i+1) {
		if it.qty.dim == years && (s.afterWord(i, "for") || s.afterWord(i, "since") || s.at(it.to).is("ago")) {
			return s.practice(i) // not an age
		}
		return s.age(i, i+1, it.qty)
	}
	if it.has("age") == nil {
		return 0
	}
	j := i + 1
	for s.item(j).has("bound") != nil || s.item(j).has("filler") != nil && s.item(j).qty == nil {
		j++
	}
	next := s.item(j)
	if next.qty == nil || next.qty.dim != plainNumber || !next.qty.whole || next.qty.value < 4 || next.qty.value > 99 || s.ofPart(j+1) {
		return 0
	}
	return s.age(i, j+1, next.qty)
}

func (s *sentence) age(from, to int, q *quantity) int {
	s.add(Answer{Path: "player.minor", Value: q.value < 18, Degree: 1, Text: s.words(from, to), Confidence: 1})
	return to - from
}

// practice takes "for 10 years": of making mallets, it is experience.
func (s *sentence) practice(i int) int {
	making := func(t token) bool { return t.is("made") || t.is("making") || t.is("make") || t.is("building") }
	if slices.ContainsFunc(s.tokens, making) && !s.answered("player.level") && !s.at(s.item(i).to).is("ago") {
		level := "some"
		if s.item(i).qty.value >= 3 {
			level = "many"
		}
		s.add(Answer{Path: "player.level", Value: level, Degree: 1, Text: s.words(i, i+1), Confidence: 0.8})
	}
	return 1
}

// takeFact takes words that answer a fact.
func (s *sentence) takeFact(i int) int {
	it := s.item(i)
	taken := false
	if s.same && it.has("topic") != nil || s.out.Act == Define && it.has("term") != nil {
		return 0
	}
	for _, x := range it.senses {
		if x.fact == nil || x.slot == "asked" {
			continue
		}
		if s.asks && strings.HasPrefix(x.slot, "want.") { // why so bright
			s.out.About = append(s.out.About, Topic{Kind: "fact", ID: headFact(x.slot), Text: s.words(i, i+1)})
			s.content, s.degree, taken = true, 0, true
			continue
		}
		s.answer(i, i+1, x, x.slot)
		taken = true
	}
	if !taken {
		return 0
	}
	return 1
}

// answer adds the answer that a sense gives to the fact at path, denied or
// strengthened by what came before it.
func (s *sentence) answer(from, to int, x *sense, path string) {
	a := Answer{Path: path, Value: x.fact, Degree: 1, Text: s.words(from, to), Confidence: s.sure(s.item(from))}
	if s.degree != 0 {
		a.Degree = s.degree
	}
	s.item(from).answers = true
	denied := s.neg || s.hold == Avoid
	s.degree = 0
	switch v := a.Value.(type) {
	case bool:
		a.Degree = 1
		if s.deniesTruth(from, path) {
			a.Value = !v
			if x.deny != nil {
				a.Value = x.deny
			}
		}
		s.add(a)
		return
	case float64:
		if path == "want.softness" && !denied {
			a.Value = s.r.words.graded(v, a.Degree)
		}
	}
	if !denied {
		s.add(a)
		return
	}
	if said := s.said(path); said != nil && !said.Not && said.Confidence > 0 && said.Degree != 0.5 {
		if strings.EqualFold(said.Text, a.Text) { // dark, but not too dark
			said.Degree = 0.5
			if v, ok := x.fact.(float64); ok {
				said.Value = s.r.words.graded(v, 0.5)
			}
		}
		return // bright, not dark
	}
	if x.deny != nil {
		a.Value, a.Degree = x.deny, 0.5
	} else {
		a.Not = true
	}
	s.add(a)
}

// deniesTruth reports whether item i, which says that a fact is true or false,
// is denied. One can lack several things of the bench in a row; anything else
// is denied only straight before, fillers aside, so that in "I don't have a
// scale and I'm allergic to latex" the allergy stands.
func (s *sentence) deniesTruth(i int, path string) bool {
	if !s.neg && s.hold != Avoid && s.hold != Lack {
		return false
	}
	if strings.HasPrefix(path, "bench.") {
		return true
	}
	for j := s.deniedAt + 1; j < i; j++ {
		if !s.filler(j) {
			return false
		}
	}
	return true
}

// said returns the answer to a fact so far, or nil.
func (s *sentence) said(path string) *Answer {
	for i := range s.out.Answers {
		if s.out.Answers[i].Path == path {
			return &s.out.Answers[i]
		}
	}
	return nil
}

// add keeps an answer. A later one to the same fact replaces the earlier;
// unless it was meant to, it is doubtful which of the two is meant.
func (s *sentence) add(a Answer) {
	s.content = true
	old := s.said(a.Path)
	switch {
	case old == nil || old.Not && a.Not:
		s.out.Answers = append(s.out.Answers, a)
	case old.Not: // not marimba, vibes
		*old = a
	case a.Path == "want.loudest" && !a.Not && s.louder(old.Value, a.Value): // the loudest it must serve
	case s.replied && a.Path == s.ctx.Asked:
		*old, s.replied = a, false
	case a.Not:
	case s.between && a.Path == "want.softness": // between medium and hard
		x, _ := old.Value.(float64)
		y, _ := a.Value.(float64)
		old.Value, old.Text, s.between = s.r.words.middle(x, y), a.Text, false
	default:
		if a.Value != old.Value && !s.out.Corrects && old.Degree != 0.5 && a.Path != "want.loudest" {
			a.Confidence = min(a.Confidence, doubtful)
		}
		*old = a
	}
}

// louder reports whether dynamic a is above b.
func (s *sentence) louder(a, b any) bool {
	dynamics := s.r.words.facts["want.loudest"].oneOf
	x, _ := a.(string)
	y, _ := b.(string)
	return slices.Index(dynamics, x) > slices.Index(dynamics, y)
}

// doubtful is the confidence of an answer that contradicts another in the same
// text, and of a guess made to be on the safe side.
const doubtful = 0.5

// sure returns the confidence that the item's spelling leaves.
func (s *sentence) sure(it *item) float64 {
	switch it.slips {
	case 0:
		return 1
	case 1:
		return 0.9
	}
	return 0.75
}

// takeQuantity takes a figure that is not part of a part.
func (s *sentence) takeQuantity(i int) int {
	it := s.item(i)
	q := it.qty
	if q == nil {
		return 0
	}
	if n := s.beforeMove(i); n > 0 {
		return n
	}
	if n := s.takeRange(i); n > 0 {
		return n
	}
	if s.choosing() && q.dim == plainNumber && q.whole && (!q.spelt || s.out.Act == Compare) && q.value >= 1 && q.value <= 9 &&
		s.item(i+1).has("topic") == nil {
		s.out.About = append(s.out.About, Topic{Kind: "choice", N: int(q.value), Text: s.words(i, i+1)})
		s.content = true
		return 1
	}
	if q.dim == plainNumber && (s.neg && s.ctx.Asked == "" || s.out.Act != Tell && s.item(i+1).has("topic") != nil) {
		return 1 // "not four", "why two layers"
	}
	path, to := s.figureFor(i)
	if path == "" {
		if q.dim == plainNumber && q.spelt && q.value == 1 {
			return 1 // "one" the pronoun
		}
		return 0
	}
	v, guess := s.inUnit(path, q)
	if math.IsNaN(v) {
		return 0
	}
	if path == "want.softness" && s.minus(i) {
		v = -v
	}
	if x := s.item(to).has("bound"); x != nil && s.bound == "" && s.clauseEnds(to+1) { // 35 g max
		s.bound = x.value
		to++
	}
	a := Answer{Path: path, Value: v, Bound: s.bound, Degree: 1, Text: s.words(i, i+1), Confidence: 1}
	if guess {
		a.Confidence = 0.8
	}
	switch path {
	case "player.level":
		a.Value = []string{"first", "some", "many"}[min(2, int(math.Ceil(v/4)))]
	case "player.minor":
		a.Value = v < 18
	case "player.mallets":
		if v == 2 {
			s.add(Answer{Path: "player.grip", Value: "two", Degree: 1, Text: a.Text, Confidence: 1})
			return 1
		}
	}
	s.add(a)
	s.bound, s.topic = "", ""
	return to - i
}

// takeRange takes "30 to 35 g": about the middle, or, of money, at most the
// upper end.
func (s *sentence) takeRange(i int) int {
	low, high := s.item(i).qty, s.item(i+2).qty
	if high == nil || high.unit == 0 && high.dim != plainNumber || low.dim != plainNumber && low.dim != high.dim || low.value >= high.value && low.dim == high.dim || s.ofPart(i+3) {
		return 0
	}
	link := s.item(i + 1)
	between := s.item(i-1).has("span") != nil
	if to := link.has("span"); link.mark != "-" && (to == nil || to.value != "to") && (link.has("join") == nil || !between) {
		return 0
	}
	path, _ := s.figureFor(i + 2)
	if path != "want.mass_g" && path != "want.diameter_mm" && path != "want.budget" && path != "want.softness" {
		return 0
	}
	b, guess := s.inUnit(path, high)
	from := *low
	if low.dim == plainNumber && high.dim != plainNumber { // the unit is of both
		from.dim, from.value = high.dim, low.value*high.unit
	}
	a, _ := s.inUnit(path, &from)
	if math.IsNaN(a) || math.IsNaN(b) || a >= b {
		return 0
	}
	answer := Answer{Path: path, Value: (a + b) / 2, Bound: "about", Degree: 1, Text: s.words(i, i+3), Confidence: 1}
	if path == "want.budget" {
		answer.Value, answer.Bound = b, "most"
	}
	if guess {
		answer.Confidence = 0.8
	}
	s.add(answer)
	s.bound, s.topic = "", ""
	return 3
}

// choosing reports whether a bare number would be one of the heads offered.
func (s *sentence) choosing() bool {
	switch s.out.Act {
	case Why, WhyNot, Compare, Show:
		return true
	}
	return false
}

// beforeMove lets "5 g lighter" be taken by its move.
func (s *sentence) beforeMove(i int) int {
	if x := s.item(i + 1).has("move"); x != nil && s.moves(x.value, s.item(i).qty) {
		return 1
	}
	return 0
}

// figureFor returns the fact that the figure at item i settles, or "", and
// where the words for it end.
func (s *sentence) figureFor(i int) (path string, to int) {
	q := s.item(i).qty
	to = i + 1
	role := s.item(to).has("role")
	switch {
	case s.topic != "" && s.fits(s.topic, q):
		return s.topic, to
	case s.ctx.Asked != "" && s.fits(s.ctx.Asked, q) && !s.answered(s.ctx.Asked):
		if role != nil {
			to++
		}
		return s.ctx.Asked, to
	case q.dim == plainNumber && (q.value == 2 || q.value == 4) && s.names(s.item(s.pastFiller(to)), "player.grip"):
		return "player.mallets", to // four, independent grip
	case q.dim == mass:
		return "want.mass_g", to
	case q.dim == money:
		return "want.budget", to
	case q.dim == notches && s.out.Act == Tell:
		return "want.softness", to
	case q.dim == length && role != nil && role.value == "across":
		return "want.diameter_mm", to + 1
	case q.dim == length && s.headBeside(i):
		return "want.diameter_mm", to
	}
	return "", to
}

// headBeside reports whether a head or mallet is spoken of beside item i.
func (s *sentence) headBeside(i int) bool {
	for j := i - 3; j <= i+2; j++ {
		for k := s.item(j).from; k < s.item(j).to; k++ {
			if t := s.at(k).text; t == "head" || t == "heads" || t == "mallet" || t == "mallets" {
				return true
			}
		}
	}
	return false
}

// fits reports whether a fact can be settled by a quantity.
func (s *sentence) fits(path string, q *quantity) bool {
	switch path {
	case "want.mass_g":
		return q.dim == mass || q.dim == plainNumber
	case "want.diameter_mm":
		return q.dim == length || q.dim == plainNumber
	case "want.budget":
		return q.dim == money || q.dim == plainNumber || q.dim == pieces && q.form == "pair" // 15 a pair
	case "want.softness":
		return q.dim == notches || q.dim == plainNumber
	case "player.level", "player.minor", "player.mallets", "player.hand_n":
		return q.dim == plainNumber || q.dim == pieces
	case "player.grip":
		return q.dim == plainNumber && q.value == 2
	}
	return false
}

// inUnit returns a quantity in the fact's unit, and whether that was a guess;
// NaN when it can't be meant.
func (s *sentence) inUnit(path string, q *quantity) (v float64, guess bool) {
	v = q.value
	switch path {
	case "want.mass_g":
		if q.dim == mass {
			v = measure.Mass(v).Grams()
		}
		v = round(v, 6)
	case "want.diameter_mm":
		unit := 1.0
		if q.dim == plainNumber {
			unit, guess = guessUnit(*q), true
		}
		v = round(measure.Length(v*unit).MM(), 6)
	case "want.budget":
		if q.dim != money {
			v *= 100
		}
		v = math.Round(v)
	}
	if v < 0 || v > 1e6 {
		return math.NaN(), false
	}
	return v, guess
}

// stretch makes an answer stronger: "as soft as possible".
func (s *sentence) stretch(a *Answer, degree float64) {
	if _, ok := a.Value.(bool); ok {
		return
	}
	if v, ok := a.Value.(float64); ok && a.Path == "want.softness" && a.Degree == 1 {
		a.Value = s.r.words.graded(v, degree)
	}
	a.Degree = degree
}
