package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
)

// item is a stretch of tokens that means one thing.
type item struct {
	from, to int // tokens
	senses   []*sense
	qty      *quantity
	note     *measure.Note
	id       string // of a part
	mark     string // punctuation
	slips    int
	used     bool
	lost     bool // taken up, but without sense
}

// has returns the item's sense of a slot, or nil.
func (it *item) has(slot string) *sense {
	for _, x := range it.senses {
		if x.slot == slot {
			return x
		}
	}
	return nil
}

// empty reports whether the item carries nothing.
func (it *item) empty() bool {
	if it.qty != nil || it.note != nil || it.id != "" {
		return false
	}
	if it.mark != "" {
		return true
	}
	if it.has("filler") != nil {
		return true
	}
	if it.has("plain") != nil || it.has("paint") != nil {
		return false
	}
	for _, x := range it.senses {
		switch x.slot {
		case "join", "span", "same", "more", "too", "enough", "not", "degree", "after", "bound", "mend", "role",
			"form", "holding", "age", "unit", "alone", "number", "asked", "reply", "topic":
			return true
		}
	}
	return false
}

// sentence is a text being read.
type sentence struct {
	r      *Reader
	ctx    Context
	text   string
	tokens []token
	items  []item
	out    Reading

	// What was said and waits for the word it applies to.
	hold    Holding
	neg     bool
	tooMuch bool
	degree  float64 // 0 for none
	more    float64 // +1 after "more", -1 after "less"
	same    bool
	bound   string
	topic   string // the fact a figure that follows is for
	content bool   // something was taken or missed already
	asks    bool   // about the head as it is: why so heavy, how heavy
	replied bool   // the open question has its answer from a plain yes or no
	after   after  // what was taken last
	octaves []octaveSpan
}

// after says what the words just before were about, which words that follow
// may complete.
type after byte

const (
	afterOther after = iota
	afterPart
	afterMove
)

// octaveSpan is "top two octaves", to be settled once the instrument is known.
type octaveSpan struct {
	top  bool
	n    float64
	text string
}

// scan cuts the tokens into items, phrases and quantities, so that the sum of
// the squares of their lengths is greatest: "I can't use latex" holds "can't
// use latex", not "I can't".
func (s *sentence) scan() {
	type cut struct {
		score int
		n     int
		qty   *quantity
		what  []*sense
	}
	best := make([]cut, len(s.tokens)+1)
	for i := len(s.tokens) - 1; i >= 0; i-- {
		c := cut{score: 1 + best[i+1].score, n: 1}
		s.r.words.phrases(s.tokens, i, func(senses []*sense, n int) {
			if !s.open(senses) {
				return
			}
			if score := n*n + best[i+n].score; score > c.score || n == 1 {
				c = cut{score: score, n: n, what: senses}
			}
		})
		if q, n := s.quantityAt(i); n > 0 {
			score := n*n + best[i+n].score
			if score > c.score || score == c.score && !s.asked(c.what) {
				c = cut{score: score, n: n, qty: &q}
			}
		}
		best[i] = c
	}
	for i := 0; i < len(s.tokens); i += best[i].n {
		t, c := s.tokens[i], best[i]
		it := item{from: i, to: i + c.n, qty: c.qty, senses: c.what}
		switch {
		case t.kind == idText:
			it = item{from: i, to: i + 1, id: t.text}
		case it.qty != nil:
		case it.has("note") != nil:
			it.note = noteOf(it.has("note").value)
		case len(it.senses) == 0 && t.kind == word:
			it.note = noteOf(t.text)
		case t.kind == mark && c.n == 1:
			it.mark = t.text
		}
		for _, t := range s.tokens[i:it.to] {
			it.slips = max(it.slips, t.slips)
		}
		s.items = append(s.items, it)
	}
}

// open reports whether a phrase has a sense beside answers to questions that
// are not open.
func (s *sentence) open(senses []*sense) bool {
	return slices.ContainsFunc(senses, func(x *sense) bool { return x.slot != "asked" || x.value == s.ctx.Asked })
}

// asked reports whether one of the senses answers the open question.
func (s *sentence) asked(senses []*sense) bool {
	return slices.ContainsFunc(senses, func(x *sense) bool { return x.slot == "asked" && x.value == s.ctx.Asked })
}

// noteOf reads a note name, or returns nil.
func noteOf(text string) *measure.Note {
	if isNote(text) != len(text) || text == "" {
		return nil
	}
	n, err := measure.ParseNote(text)
	if err != nil {
		return nil
	}
	return &n
}

// words returns the text of items from..to.
func (s *sentence) words(from, to int) string {
	return s.text[s.tokens[s.items[from].from].from:s.tokens[s.items[to-1].to-1].to]
}

// item returns items[i], or an empty one past either end.
func (s *sentence) item(i int) *item {
	if i < 0 || i >= len(s.items) {
		return &item{mark: "."}
	}
	return &s.items[i]
}

// filler reports whether items[i] carries nothing and ends nothing.
func (s *sentence) filler(i int) bool { return s.item(i).has("filler") != nil && s.item(i).qty == nil }

// clauseEnds reports whether nothing but fillers stands between item i and
// the end of its clause.
func (s *sentence) clauseEnds(i int) bool {
	for s.filler(i) {
		i++
	}
	it := s.item(i)
	return it.mark != "" && it.mark != "-" || it.has("join") != nil && it.has("join").value == "but"
}

// walk takes the items one after another.
func (s *sentence) walk() {
	s.hold = Named
	if s.ctx.Asked == AskParts {
		s.hold = Have
	}
	if strings.TrimSpace(s.text) == "" {
		s.out.Act = Default
		return
	}
	for i := 0; i < len(s.items); {
		i += s.step(i)
	}
	s.settleDegree()
	s.settleOctaves()
	s.settleAct()
	s.collectMissed()
}

// step takes one or more items at i and returns how many.
func (s *sentence) step(i int) int {
	it := s.item(i)
	if s.filler(i) && !s.article(i) && !s.clauseEnds(i) {
		s.degree = 0 // a degree is of the next word
	}
	parts, moves := len(s.out.Parts), len(s.out.Moves)
	for _, take := range []func(int) int{
		s.takeAge, s.takeReply, s.takeMark, s.takeAsked, s.takeAct, s.takeNotes, s.takeOctaves, s.takePart,
		s.takeMove, s.takeFact, s.takeTopic, s.takeQuantity,
	} {
		n := take(i)
		if n == 0 {
			continue
		}
		switch {
		case len(s.out.Parts) > parts:
			s.after = afterPart
		case len(s.out.Moves) > moves:
			s.after = afterMove
		case it.mark == "" && s.after != afterPart:
			s.after = afterOther
		}
		return s.use(i, n)
	}
	if n := s.takeGrammar(i); n > 0 {
		return s.use(i, n)
	}
	if it.empty() {
		it.used = true
	} else {
		s.content, s.after = true, afterOther
	}
	return 1
}

// use marks n items from i as taken, and returns n.
func (s *sentence) use(i, n int) int {
	for j := i; j < i+n; j++ {
		s.item(j).used = true
	}
	return n
}

// article reports whether item i is a word that may stand between a degree
// and its word.
func (s *sentence) article(i int) bool {
	switch s.at(s.item(i).from).text {
	case "a", "an", "the", "of":
		return true
	}
	return false
}

// clear forgets what waits for a word.
func (s *sentence) clear() {
	s.settleDegree()
	s.neg, s.tooMuch, s.degree, s.more, s.same, s.bound, s.topic = false, false, 0, 0, false, "", ""
}

// takeMark ends a clause. A question mark all alone has been taken as a reply.
func (s *sentence) takeMark(i int) int {
	switch s.item(i).mark {
	case "":
		return 0
	case ",", ".", ";", "!", "?", ":", "(", ")":
		topic := s.topic
		s.clear()
		if s.item(i).mark == ":" {
			s.topic = topic
		}
		if s.hold == Lack || s.hold == Avoid {
			s.hold = Named
		}
	}
	return 1
}

// takeReply takes yes, no and the like at the beginning.
func (s *sentence) takeReply(i int) int {
	it := s.item(i)
	if s.content || s.out.Act != Tell {
		return 0
	}
	x := it.has("reply")
	if x == nil {
		if x = it.has("alone"); x == nil {
			return 0
		}
		if n := s.subordinate(i + 1); n > 0 && Act(x.value) == Unsure {
			s.out.Act = Unsure // not sure about latex
			return 1 + n
		}
		if !s.clauseEnds(i + 1) {
			return 0
		}
	}
	if s.asked(it.senses) && s.clauseEnds(i+1) {
		return 0 // the word answers the question outright
	}
	next := s.item(i + 1)
	if x.value == "no" && !s.clauseEnds(i+1) {
		// "no drill" denies, "no vibes" corrects, "no i have one" replies
		switch {
		case s.names(next, "instrument.kind", "player.grip", "player.mallets"):
			s.out.Corrects = true
			return 1
		case next.has("mend") != nil:
			return 1
		case !s.filler(i+1) && next.has("holding") == nil && next.has("not") == nil && next.has("age") == nil:
			return 0
		}
	}
	s.out.Act = Act(x.value)
	if v, ok := s.r.reply(s.ctx.Asked, x.value); ok {
		s.out.Answers = append(s.out.Answers, Answer{
			Path: s.ctx.Asked, Value: v, Degree: 1, Text: s.words(i, i+1), Confidence: s.sure(it),
		})
		s.replied = true
	}
	return 1
}

// subordinate returns how many items an "about …" or "whether …" at item i
// takes, to the end of its clause; 0 when there is none.
func (s *sentence) subordinate(i int) int {
	switch s.at(s.item(i).from).text {
	case "about", "if", "whether", "which", "what", "how":
	default:
		return 0
	}
	j := i
	for j < len(s.items) && !s.clauseEnds(j) {
		j++
	}
	return j - i
}

// names reports whether the item settles one of the facts.
func (s *sentence) names(it *item, paths ...string) bool {
	return slices.ContainsFunc(it.senses, func(x *sense) bool { return slices.Contains(paths, x.slot) })
}

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

// takeAct takes what mallow is asked to do; it stands first.
func (s *sentence) takeAct(i int) int {
	it := s.item(i)
	x := it.has("act")
	if x == nil || s.content || s.out.Act != Tell && s.out.Act != Yes && s.out.Act != No {
		return 0
	}
	if s.neg || s.hold == Avoid { // "don't save"
		return 0
	}
	s.out.Act = Act(x.value)
	s.asks = s.out.Act == Why || x.id == "how"
	if s.out.Act == Why || s.out.Act == WhyNot || s.out.Act == WhatIf || s.out.Act == Compare || s.out.Act == Define {
		s.hold = Named
	}
	return 1
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

// afterWord reports whether the token before item i is w.
func (s *sentence) afterWord(i int, w string) bool {
	return s.at(s.item(i).from - 1).is(w)
}

// ofPart reports whether item i belongs to a part.
func (s *sentence) ofPart(i int) bool {
	it := s.item(i)
	return it.has("kind") != nil || it.has("material") != nil
}

// takeNotes takes a range of notes.
func (s *sentence) takeNotes(i int) int {
	it := s.item(i)
	if it.note == nil {
		return 0
	}
	lo, hi := 0.0, 0.0
	conf, n := 1.0, 1
	before, after := s.item(i-1), s.item(i+1)
	for k := i - 1; k > 0 && (s.filler(k) || s.item(k).mark == "-"); k-- {
		before = s.item(k - 1)
	}
	span := func(it *item, values ...string) bool {
		x := it.has("span")
		return x != nil && slices.Contains(values, x.value)
	}
	bound := func(it *item, value string) bool { x := it.has("bound"); return x != nil && x.value == value }
	joins := after.mark == "-" || span(after, "to") || after.has("join") != nil && span(before, "from") || bound(after, "most")
	if second := s.item(i + 2); joins && second.note != nil {
		lo, hi = min(it.note.Hz(), second.note.Hz()), max(it.note.Hz(), second.note.Hz())
		n = 3
	} else {
		switch {
		case span(after, "up"):
			lo, n = it.note.Hz(), 2
		case span(after, "down"):
			hi, n = it.note.Hz(), 2
		case bound(before, "most"), span(before, "to"), s.ctx.Asked == "instrument.high_hz":
			hi = it.note.Hz()
		case bound(before, "least"), span(before, "from", "above"), s.ctx.Asked == "instrument.low_hz":
			lo = it.note.Hz()
		case bound(before, "about"):
			lo, hi, conf = it.note.Hz()/math.Sqrt2, it.note.Hz()*math.Sqrt2, 0.6
		default:
			return 0
		}
	}
	if lo > 0 {
		s.add(Answer{Path: "instrument.low_hz", Value: lo, Degree: 1, Text: s.words(i, i+n), Confidence: conf})
	}
	if hi > 0 {
		s.add(Answer{Path: "instrument.high_hz", Value: hi, Degree: 1, Text: s.words(i, i+n), Confidence: conf})
	}
	s.bound = ""
	return n
}

// takeOctaves takes the size of an instrument, or a part of its range.
func (s *sentence) takeOctaves(i int) int {
	it := s.item(i)
	if x := it.has("span"); x != nil && (x.value == "top" || x.value == "bottom") || it.has("want.register") != nil {
		end := i + 1
		for s.filler(end) {
			end++
		}
		if q := s.item(end).qty; q != nil && q.dim == octaves && q.value <= 3 {
			return s.octaveSpan(i, end+1, q.value)
		}
		if next := s.item(end); next.has("unit") != nil && next.has("unit").value == "octave" {
			return s.octaveSpan(i, end+1, 1)
		}
		return 0
	}
	q := it.qty
	if q == nil || s.topic != "" || s.tooMuch {
		return 0
	}
	// "4.3" beside the instrument, or as the answer to which instrument
	named := s.names(s.item(i+1), "instrument.kind") || s.names(s.item(i-1), "instrument.kind")
	asked := strings.HasPrefix(s.ctx.Asked, "instrument.") && !strings.HasSuffix(s.ctx.Asked, "_hz")
	if q.dim != octaves && !(q.dim == plainNumber && q.value >= 2 && q.value <= 6 && (!q.whole && named || asked)) {
		return 0
	}
	id, kind := s.r.instrument(s.kindNear(i), q.value)
	if id == "" {
		if q.dim == octaves {
			s.missed(i, i+1)
			return 1
		}
		return 0
	}
	text := s.words(i, i+1)
	if !s.answered("instrument.kind") && kind != s.kindNear(i) {
		s.add(Answer{Path: "instrument.kind", Value: kind, Degree: 1, Text: text, Confidence: 0.8})
	}
	s.add(Answer{Path: "instrument.id", Value: id, Degree: 1, Text: text, Confidence: s.sure(it)})
	return 1
}

// octaveSpan notes "top two octaves".
func (s *sentence) octaveSpan(i, end int, n float64) int {
	top := false
	for _, x := range s.item(i).senses {
		top = top || x.slot == "span" && x.value == "top" || x.slot == "want.register" && x.value == "high"
	}
	register := "low"
	if top {
		register = "high"
	}
	s.add(Answer{Path: "want.register", Value: register, Degree: 1, Text: s.words(i, end), Confidence: 1})
	s.octaves = append(s.octaves, octaveSpan{top, n, s.words(i, end)})
	return end - i
}

// kindNear returns the kind of instrument the sentence names, nearest to item
// i, or "".
func (s *sentence) kindNear(i int) string {
	best, far := "", len(s.items)+1
	for j := range s.items {
		for _, x := range s.items[j].senses {
			if d := max(j-i, i-j); x.slot == "instrument.kind" && d < far {
				best, far = x.value, d
			}
		}
	}
	if best == "" {
		best = s.r.kindOf(s.ctx.Instrument)
	}
	return best
}

// settleOctaves turns "top octave" into notes of the instrument.
func (s *sentence) settleOctaves() {
	for _, o := range s.octaves {
		id := s.ctx.Instrument
		kind := ""
		for _, a := range s.out.Answers {
			if a.Path == "instrument.id" {
				id, _ = a.Value.(string)
			}
			if a.Path == "instrument.kind" {
				kind, _ = a.Value.(string)
			}
		}
		low, high, ok := s.r.noteSpan(id)
		if !ok || kind != "" && kind != s.r.kindOf(id) {
			continue
		}
		if o.top {
			low = high - measure.Note(math.Round(12*o.n))
		} else {
			high = low + measure.Note(math.Round(12*o.n))
		}
		s.add(Answer{Path: "instrument.low_hz", Value: low.Hz(), Degree: 1, Text: o.text, Confidence: 1})
		s.add(Answer{Path: "instrument.high_hz", Value: high.Hz(), Degree: 1, Text: o.text, Confidence: 1})
	}
}

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
			s.content = true
			return 1
		}
		return s.moveOrWhy(i, x, s.turned(x.num), enough)
	}
	if x := it.has("wish"); x != nil {
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
	if g := to.has("want.steps"); g != nil && x.value == "want.steps" {
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

// move adds a move of by, in plain degrees or steps, as much as was said, and
// returns where the words for it end.
func (s *sentence) move(i int, path string, by float64, unit string) (end int) {
	from, end := i, i+1
	q := s.item(i - 1).qty // two steps softer
	if q != nil && s.moves(path, q) {
		from = i - 1
	} else {
		j := end
		for s.filler(j) {
			j++ // softer by two steps
		}
		if q = s.item(j).qty; q != nil && s.moves(path, q) {
			end = j + 1
		} else {
			q = nil
		}
	}
	switch {
	case q != nil && q.dim == steps && unit == "": // one step darker
		by *= q.value
	case q != nil:
		by = math.Copysign(s.amount(path, q), by)
		unit = map[dim]string{steps: "steps", mass: "g", length: "mm", money: "cents"}[q.dim]
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
	if q.dim == steps {
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

// settleDegree gives a degree that nothing followed to the move before it:
// "softer, just a bit".
func (s *sentence) settleDegree() {
	if n := len(s.out.Moves); s.degree != 0 && s.after == afterMove && !s.neg {
		s.out.Moves[n-1].By *= s.degree
	}
	s.degree = 0
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
		if side, _ := s.r.side(x); s.asks && side != 0 { // why so bright
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
	denied := s.neg || s.hold == Avoid
	s.degree = 0
	switch v := a.Value.(type) {
	case bool:
		a.Degree = 1
		switch {
		case !denied && s.hold != Lack:
		case x.deny != nil:
			a.Value = x.deny
		default:
			a.Value = !v
		}
	case float64:
		if path == "want.steps" && !denied {
			a.Value = s.r.words.graded(v, a.Degree)
		}
	}
	if _, ok := a.Value.(bool); !denied || ok {
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
// text.
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

// takeTopic takes what can be asked about, changed or kept.
func (s *sentence) takeTopic(i int) int {
	it := s.item(i)
	x := it.has("topic")
	if t := it.has("term"); t != nil && (s.out.Act == Define || x == nil && s.loneTerm(i)) {
		if s.out.Act == Tell {
			s.out.Act = Define
		}
		s.about(i, t)
		return 1
	}
	if x == nil {
		return 0
	}
	switch {
	case s.same:
		for _, t := range x.topic {
			s.out.Keep = append(s.out.Keep, t.ID)
		}
		s.same, s.content = false, true
	case s.out.Act != Tell && s.out.Act != Yes && s.out.Act != No:
		s.about(i, x)
	case x.topic[0].Kind == "fact":
		s.topic = x.topic[0].ID
	case s.aboutOnly(i):
		s.about(i, x)
	}
	return 1
}

// about adds what a sense is about.
func (s *sentence) about(i int, x *sense) {
	for _, t := range x.topic {
		t.Text = s.words(i, i+1)
		if s.asks {
			t.ID = headFact(t.ID)
		}
		s.out.About = append(s.out.About, t)
	}
	s.content = true
}

// loneTerm reports whether a glossary term is all there is, with a question
// mark: "kerf?".
func (s *sentence) loneTerm(i int) bool {
	return !s.content && i == len(s.items)-2 && s.at(s.item(i+1).from).is("?") && s.item(i).fact() == nil
}

// fact returns a sense of the item that answers a fact, or nil.
func (it *item) fact() *sense {
	for _, x := range it.senses {
		if x.fact != nil && x.slot != "asked" {
			return x
		}
	}
	return nil
}

// aboutOnly reports whether item i stands alone in the text.
func (s *sentence) aboutOnly(i int) bool {
	for j := range s.items {
		if j != i && !s.filler(j) && s.items[j].mark == "" {
			return false
		}
	}
	return true
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
	if t := s.item(i - 1); path == "want.steps" && t.mark == "-" && s.at(it.from).near {
		v = -v
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
	case q.dim == steps && s.out.Act == Tell:
		return "want.steps", to
	case q.dim == length && role != nil && role.value == "across":
		return "want.diameter_mm", to + 1
	case q.dim == length && s.headBeside(i):
		return "want.diameter_mm", to
	}
	return "", to
}

// pastFiller returns i past fillers and commas.
func (s *sentence) pastFiller(i int) int {
	for s.filler(i) || s.item(i).mark == "," && i < len(s.items) {
		i++
	}
	return i
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
	case "want.steps":
		return q.dim == steps || q.dim == plainNumber
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

// takeGrammar takes words that change the meaning of what follows.
func (s *sentence) takeGrammar(i int) int {
	it := s.item(i)
	n := 0
	for _, x := range it.senses {
		switch x.slot {
		case "not":
			s.neg = true
		case "too":
			s.tooMuch = true
		case "more":
			s.more = x.num
		case "degree":
			s.degree = x.num
		case "after":
			if k := len(s.out.Answers); k > 0 {
				s.stretch(&s.out.Answers[k-1], x.num)
			} else if k := len(s.out.Moves); k > 0 && s.after == afterMove {
				s.out.Moves[k-1].By *= x.num
			}
		case "same":
			s.same = true
		case "bound":
			s.bound = x.value
		case "mend":
			s.out.Corrects = true
		case "holding":
			s.hold = Holding(x.value)
			if s.hold == "want" {
				s.hold = Named
			}
		case "join":
			switch x.value {
			case "and", "but":
				s.clear()
				if s.hold == Avoid || x.value == "but" && s.hold == Lack {
					s.hold = Named
				}
			}
		case "reply": // "no" within a sentence
			if x.value == "no" {
				s.neg = true
			}
		default:
			continue
		}
		n = 1
	}
	return n
}

// stretch makes an answer stronger: "as soft as possible".
func (s *sentence) stretch(a *Answer, degree float64) {
	if v, ok := a.Value.(float64); ok && a.Path == "want.steps" && a.Degree == 1 {
		a.Value = s.r.words.graded(v, degree)
	}
	a.Degree = degree
}

// settleAct decides between a command and a wish that began like one.
func (s *sentence) settleAct() {
	told := len(s.out.Answers) > 0 || len(s.out.Parts) > 0 || len(s.out.Moves) > 0
	switch s.out.Act {
	case Help, Leave, Save, Show, Lesson, Skip, Default, Unsure:
		if told && !(s.out.Act == Show && len(s.out.About) > 0) {
			s.out.Act = Tell
		}
	case Define:
		if told && len(s.out.About) == 0 {
			s.out.Act = Tell
		}
	case Yes, No:
		if told && s.ctx.Asked == "" {
			s.out.Corrects = s.out.Corrects || s.out.Act == No
			s.out.Act = Tell
		}
	case Why, WhyNot:
		if slices.ContainsFunc(s.out.About, func(t Topic) bool { return t.Kind == "question" }) {
			s.out.Answers, s.out.Parts, s.out.Moves = nil, nil, nil // "why do you ask about latex"
		}
		if !told && len(s.out.About) == 0 {
			s.out.About = []Topic{{Kind: "question"}}
		}
	}
	if len(s.out.Answers) == 0 {
		s.out.Corrects = false
	}
}

// missed marks items as not understood.
func (s *sentence) missed(from, to int) {
	for i := from; i < to; i++ {
		s.items[i].lost = true
	}
}

// collectMissed gathers the stretches that nothing was made of.
func (s *sentence) collectMissed() {
	lost := func(i int) bool {
		it := s.item(i)
		return i < len(s.items) && (it.lost || !it.used && it.mark == "")
	}
	for i := 0; i < len(s.items); i++ {
		if !lost(i) {
			continue
		}
		end := i + 1
		for lost(end) || s.filler(end) && lost(end+1) {
			end++
		}
		if s.out.Act == Define || s.out.Act == WhyNot || s.out.Act == Compare {
			s.out.About = append(s.out.About, Topic{Kind: "text", Text: clip(s.words(i, end))})
		} else {
			s.out.Missed = append(s.out.Missed, clip(s.words(i, end)))
		}
		i = end - 1
	}
}

// clip shortens a stretch that is said back.
func clip(text string) string {
	const most = 60
	n := 0
	for i := range text {
		if n++; n > most {
			return text[:i] + "…"
		}
	}
	return text
}
