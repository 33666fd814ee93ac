package understand

import (
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
	answers  bool // taken for an answer
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
	if it.mark != "" || it.has("filler") != nil {
		return true
	}
	if it.has("plain") != nil || it.has("paint") != nil {
		return false
	}
	if it.has("act") != nil {
		return it.slips == 0 // not asked for where it stands
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
	hold     Holding
	neg      bool
	deniedAt int // the item that set neg or hold last
	tooMuch  bool
	degree   float64 // 0 for none
	more     float64 // +1 after "more", -1 after "less"
	same     bool
	bound    string
	topic    string   // the fact a figure that follows is for
	passed   []Topic  // facts that were named and nothing said of
	content  bool     // something was taken or missed already
	between  bool     // "between" was said
	asks     bool     // about the head as it is: why so heavy, how heavy
	replied  bool     // the open question has its answer from a plain yes or no
	after    after    // what was taken last
	kept     []string // what is to stay as it is, in plain words
	octaves  []octaveSpan
}

// after says what the words just before were about, which words that follow
// may complete.
type after byte

const (
	afterOther after = iota
	afterPart
	afterMove
	afterAnswer
)

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
	defines := s.defines()
	for i := len(s.tokens) - 1; i >= 0; i-- {
		c := cut{score: 1 + best[i+1].score, n: 1}
		s.r.words.phrases(s.tokens, i, func(senses []*sense, n int) {
			if !s.open(senses, defines) {
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
// are not open and, unless the text asks what words mean, terms of the
// glossary.
func (s *sentence) open(senses []*sense, defines bool) bool {
	return slices.ContainsFunc(senses, func(x *sense) bool {
		switch x.slot {
		case "asked":
			return x.value == s.ctx.Asked
		case "term":
			return defines
		}
		return true
	})
}

// defines reports whether the text may ask what a word means.
func (s *sentence) defines() bool {
	if n := len(s.tokens); n > 0 && s.tokens[n-1].is("?") {
		return true
	}
	for i := range s.tokens {
		if x, _ := s.slotAt(i, "act"); x != nil && Act(x.value) == Define {
			return true
		}
	}
	return false
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
	s.hold = s.atFirst()
	if strings.TrimSpace(s.text) == "" {
		s.out.Act = Default
		return
	}
	for i := 0; i < len(s.items); {
		i += s.step(i)
	}
	s.settleDegree()
	s.settleOctaves()
	s.settleHarm()
	s.settleAct()
	s.collectMissed()
}

// atFirst returns how a person stands to parts when nothing is said of it.
func (s *sentence) atFirst() Holding {
	if s.ctx.Asked == AskParts {
		return Have
	}
	return Named
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
		case it.fact() != nil && s.answered(it.fact().slot):
			s.after = afterAnswer
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

// names reports whether the item settles one of the facts.
func (s *sentence) names(it *item, paths ...string) bool {
	return slices.ContainsFunc(it.senses, func(x *sense) bool { return slices.Contains(paths, x.slot) })
}

// afterWord reports whether the token before item i is w.
func (s *sentence) afterWord(i int, w string) bool {
	return s.at(s.item(i).from - 1).is(w)
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

// pastFiller returns i past fillers and commas.
func (s *sentence) pastFiller(i int) int {
	for s.filler(i) || s.item(i).mark == "," && i < len(s.items) {
		i++
	}
	return i
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
