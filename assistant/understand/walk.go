package understand

import (
	"slices"

	"mallow/assistant/understand/lexis"
)

// scope is what was said and waits for the word it applies to.
type scope struct {
	hold     Holding
	neg      bool
	deniedAt int // the item that set neg or hold last
	tooMuch  bool
	degree   float64 // 0 for none
	more     float64 // +1 after "more", -1 after "less"
	same     bool    // what follows is to stay as it is
	bound    string
	topic    string // the fact a figure that follows is for
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

// walk takes a text clause by clause and fills a reading.
type walk struct {
	*chart
	scope
	out Reading

	clause  *clause
	passed  []Topic // facts that were named and nothing said of
	content bool    // something was taken or missed already in this clause
	between bool    // "between" was said
	asks    bool    // about the head as it is: why so heavy, how heavy
	replied bool    // the open question has its answer from a plain yes or no
	after   after   // what was taken last
	before  int     // what had been taken when the clause began
	changed bool    // something taken before was changed by the clause
	taking  int     // the item that is being taken
	head    int     // which of several heads is spoken of
	wants   bool    // parts that follow are wished for or to be bought
	weak    bool    // the clause says too little of mallets for words of many meanings
	kept    []string
	octaves []octaveSpan
}

// line reads the whole text.
func (w *walk) line() {
	w.out.Harm = w.r.harm.Read(w.text, w.ctx.Asked)
	all := w.clauses()
	if len(all) == 0 {
		if !slices.ContainsFunc(w.items, func(it item) bool { return it.mark != "" }) {
			w.out.Acts = []Act{Default}
			return
		}
		if w.is(0, "?") {
			w.out.Acts = []Act{Unsure}
			return
		}
	}
	w.hold = w.atFirst()
	for _, f := range w.out.Harm {
		w.useText(f.Text)
	}
	for k := range all {
		w.enter(&all[k])
		w.take(&all[k])
		w.leave(&all[k])
	}
	w.settleDegree()
	w.settleOctaves()
	w.settle(all)
	w.sayBack()
}

// enter begins a clause: what waits for a word is forgotten.
func (w *walk) enter(x *clause) {
	topic := w.topic
	w.clear()
	w.clause, w.content, w.asks, w.changed, w.before = x, false, false, false, w.size()
	switch {
	case x.first:
		w.hold, w.wants = w.atFirst(), false
	case w.item(x.from-1).mark == ":":
		w.topic = topic // weight: 32
	case w.hold == Lack || w.hold == Avoid:
		w.hold = Named
	}
	w.weak = w.thin(x)
}

// leave ends a clause: a bound that nothing followed is of the figure before
// it: 20 grams; ideally under.
func (w *walk) leave(x *clause) {
	last := w.lastFigure()
	if w.bound != "" && last != nil && last.Bound == "" && x.act == Tell {
		if !w.content || w.after == afterAnswer {
			last.Bound = w.bound
			w.changed = true
		}
		w.bound = ""
	}
	if x.act == Tell && !w.changed && w.size() == w.before && w.item(x.to).mark != ":" && w.says(x) {
		for i := x.from; i < x.to; i++ {
			if !w.harmed(i) {
				w.item(i).lost = true
			}
		}
	}
}

// says reports whether a clause that nothing was made of holds words that may
// have said something.
func (w *walk) says(x *clause) bool {
	for i := x.from; i < x.to; i++ {
		it := w.item(i)
		if w.harmed(i) || len(w.out.Harm) > 0 && w.harmWord(it) || it.any("social", "mend", "reply", "alone", "filler", "join", "act", "degree") && it.qty == nil && it.fact() == nil {
			continue
		}
		if it.qty != nil && it.qty.spelt && it.qty.value == 1 {
			continue
		}
		return true
	}
	return false
}

// harmed reports whether item i is part of what was said about harm.
func (w *walk) harmed(i int) bool { return w.item(i).harm }

// clear forgets what waits for a word.
func (w *walk) clear() {
	w.settleDegree()
	w.scope = scope{hold: w.hold, deniedAt: w.deniedAt}
}

// atFirst returns how a person stands to parts when nothing is said of it.
func (w *walk) atFirst() Holding {
	if w.ctx.Asked == AskParts {
		return Have
	}
	return Named
}

// thin reports whether most words of a clause are none that mallow knows, so
// that a word of many meanings in it hardly means a mallet: the tube to work.
func (w *walk) thin(x *clause) bool {
	known, unknown := 0, 0
	for i := x.from; i < x.to; i++ {
		it := w.item(i)
		switch {
		case it.has("weak") != nil, w.filler(i), it.mark != "":
		case it.qty != nil || it.note != nil || it.id != "":
			known++
		case it.fact() != nil, it.any("move", "wish", "kind", "material", "count", "keep"):
			known += 2
		case len(it.senses) == 0, it.any("plain", "social"):
			unknown++
		}
	}
	return 2*unknown > known
}

// take takes a clause by its act.
func (w *walk) take(x *clause) {
	switch {
	case x.act == Tell:
		w.tell(x.from, x.to)
	case isQuestion(x.act):
		w.question(x)
	case x.act == Yes || x.act == No:
		w.act(x.act)
		w.useAll(x.from, x.to)
		if v, ok := w.r.reply(w.ctx.Asked, x.act == Yes); ok && !isHarm(w.ctx.Asked) && !w.answered(w.ctx.Asked) {
			w.add(Take{Path: w.ctx.Asked, Value: v, Degree: 1, Text: w.said(x.from, x.to), Sure: 1})
			w.replied = true
		}
	default:
		w.act(x.act)
		for i := x.topicAt; i < x.to; i++ {
			w.topicOf(i)
		}
		if x.act == Change || x.act == Restart { // start over with vibes
			acts := w.out.Acts
			w.tell(x.topicAt, x.to)
			w.out.Acts = acts
			w.changed = true
		}
		w.useAll(x.from, x.to)
	}
}

// act notes an act.
func (w *walk) act(a Act) {
	if n := len(w.out.Acts); n == 0 || w.out.Acts[n-1] != a {
		w.out.Acts = append(w.out.Acts, a)
	}
}

// useAll marks items as made something of.
func (w *walk) useAll(from, to int) {
	for i := from; i < to; i++ {
		w.item(i).used = true
	}
}

// tell takes the items from..to as telling something.
func (w *walk) tell(from, to int) {
	before := w.size()
	for i := from; i < to; {
		i += w.step(i)
	}
	if w.size() > before {
		w.act(Tell)
	}
}

// size counts what was taken.
func (w *walk) size() int {
	return len(w.out.Takes) + len(w.out.Parts) + len(w.out.Moves) + len(w.out.Keeps) + len(w.out.Withdraws)
}

// step takes one or more items at i and returns how many.
func (w *walk) step(i int) int {
	it := w.item(i)
	w.taking = i
	if w.filler(i) && !w.article(i) && !w.clauseEnds(i) {
		w.degree = 0 // a degree is of the next word
	}
	if (w.weak || it.used || w.starts(i-1, "shes", "hes", "theyre", "he", "she", "youre")) && it.has("weak") != nil && !w.asked(it.senses) && it.qty == nil {
		w.content = true
		return 1
	}
	if it.harm && it.qty != nil && (it.qty.dim == plainNumber || it.qty.dim == years) {
		k := max(1, figures{w}.takeCount(i)) // else an age
		w.useAll(i, i+k)
		return k
	}
	parts, moves, takes := len(w.out.Parts), len(w.out.Moves), len(w.out.Takes)
	p, f, n := parter{w}, figures{w}, noter{w}
	for _, take := range []func(int) int{
		w.takeReply, w.takeAlone, w.takeAsked, w.takeBack, w.takeKeep, n.takeNotes, n.takeOctaves, f.takeCount, p.takePart,
		w.takeMove, w.takeFact, w.takeTopic, f.takeQuantity,
	} {
		k := take(i)
		if k == 0 {
			continue
		}
		switch {
		case len(w.out.Parts) > parts:
			w.after = afterPart
		case len(w.out.Moves) > moves:
			w.after = afterMove
		case len(w.out.Takes) > takes || it.fact() != nil && w.answered(it.fact().Slot):
			w.after = afterAnswer
		case it.mark == "" && w.after != afterPart:
			w.after = afterOther
		}
		w.useAll(i, i+k)
		return k
	}
	if k := w.takeGrammar(i); k > 0 {
		w.useAll(i, i+k)
		return k
	}
	if it.empty() {
		it.used = true
	} else {
		w.content, w.after = true, afterOther
	}
	return 1
}

// article reports whether item i is a word that may stand between a degree
// and its word.
func (w *walk) article(i int) bool { return w.starts(i, "a", "an", "the", "of") }

// takeReply takes a word like no at the beginning of a clause that goes on: "no
// vibes" corrects, "no i have one" replies, "no drill" denies.
func (w *walk) takeReply(i int) int {
	it := w.item(i)
	x := it.has("reply")
	if x == nil || w.content || i != w.clause.from || !w.clause.first {
		return 0
	}
	if w.asked(it.senses) && w.clauseEnds(i+1) {
		return 0 // the word answers the question outright
	}
	next := w.item(i + 1)
	if x.Value == "no" {
		switch {
		case w.names(next, "instrument.kind", "player.grip", "player.mallets"):
			w.out.Corrects = true
			return 1
		case next.has("mend") != nil:
			return 1
		case next.has("reply") != nil:
			return 1
		case !w.filler(i+1) && !next.any("holding", "not", "age") || next.any("kind", "topic", "bench.drill", "bench.scale", "bench.caliper"):
			return 0
		case w.filler(i+1) && (next.has("count") != nil || w.is(i+1, "other", "more", "one", "such", "need")):
			return 0
		}
	}
	if v, ok := w.r.reply(w.ctx.Asked, x.Value == "yes"); ok && !isHarm(w.ctx.Asked) {
		w.add(Take{Path: w.ctx.Asked, Value: v, Degree: 1, Text: w.said(i, i+1), Sure: w.sure(it)})
		w.content, w.replied = false, true
	}
	w.act(Act(x.Value))
	return 1
}

// takeAlone takes a reply that ends a clause which says nothing else: weight
// doesn't matter.
func (w *walk) takeAlone(i int) int {
	x := w.item(i).has("alone")
	if x == nil || w.size() > w.before || !w.clauseEnds(i+1) || w.neg || w.asked(w.item(i).senses) {
		return 0
	}
	switch a := Act(x.Value); a {
	case Default, Unsure, Skip:
		if a != Default && w.topic == "" {
			return 0
		}
		w.act(a)
		w.changed = true
		return 1
	}
	return 0
}

// takeTopic takes what can be asked about, changed or kept.
func (w *walk) takeTopic(i int) int {
	it := w.item(i)
	x := it.has("topic")
	if x == nil {
		return 0
	}
	switch {
	case w.same:
		w.keep(i)
		w.same, w.content = false, true
	case w.allTools(x):
		for _, t := range x.Topic {
			w.add(Take{Path: t.ID, Value: w.holding() == Have, Degree: 1, Text: w.said(i, i+1), Sure: w.sure(it)})
		}
	case x.Topic[0].Kind == "fact":
		w.topic = x.Topic[0].ID
		w.passed = append(w.passed, x.Topic...)
	case w.aboutOnly(i):
		w.topicOf(i)
	}
	return 1
}

// allTools reports whether the person has, or lacks, what a sense stands for:
// "no tools".
func (w *walk) allTools(x *lexis.Sense) bool {
	for _, t := range x.Topic {
		if !w.lex.IsTruth(t.ID) || len(x.Topic) < 2 {
			return false
		}
	}
	return w.hold == Have || w.hold == Lack || w.neg && w.deniedAt == w.itemBefore()
}

// aboutOnly reports whether item i stands alone in the text.
func (w *walk) aboutOnly(i int) bool {
	for j := range w.items {
		if j != i && !w.items[j].empty() {
			return false
		}
	}
	return true
}

// holding returns how the person stands to a part named here.
func (w *walk) holding() Holding {
	switch {
	case w.neg && w.hold == Have:
		return Lack
	case w.neg && w.hold == Named:
		return Avoid
	}
	return w.hold
}

// sure returns the confidence that the item's spelling leaves.
func (w *walk) sure(it *item) float64 {
	switch it.slips {
	case 0:
		return 1
	case 1:
		return 0.9
	}
	return 0.75
}

// takeGrammar takes words that change the meaning of what follows.
func (w *walk) takeGrammar(i int) int {
	it := w.item(i)
	n := 0
	for _, x := range it.senses {
		switch x.Slot {
		case "not":
			w.neg, w.deniedAt = true, i
		case "too":
			w.tooMuch = true
		case "more":
			w.more = x.Num
		case "degree":
			w.degree = x.Num
		case "after":
			if k := len(w.out.Takes); k > 0 {
				w.stretch(&w.out.Takes[k-1], x.Num)
			} else if k := len(w.out.Moves); k > 0 && w.after == afterMove {
				w.out.Moves[k-1].By *= x.Num
			}
		case "same":
			w.same = true
		case "bound":
			w.bound = w.turned(x.Value)
		case "span":
			w.between = w.between || w.at(it.from).Is("between")
		case "mend":
			w.out.Corrects = true
		case "holding":
			w.hold, w.deniedAt = Holding(x.Value), i
			w.wants = w.hold == "want" || w.hold == Need
			if w.hold == "want" {
				w.hold = Named
			}
			w.holdBefore()
		case "join":
			if x.Value == "and" || x.Value == "but" {
				w.clear()
				if w.hold == Avoid || x.Value == "but" && w.hold == Lack {
					w.hold = Named
				}
			}
		case "reply": // "no" within a sentence
			p := parter{w}
			if x.Value == "no" && !p.refuse(i) {
				w.neg, w.deniedAt = true, i
			}
		default:
			continue
		}
		n = 1
	}
	return n
}

// holdBefore lets words for having that follow their part count for it: tubing
// on the shelf is 19 mm.
func (w *walk) holdBefore() {
	n := len(w.out.Parts)
	if w.hold != Have || n == 0 || w.after != afterPart {
		return
	}
	switch p := &w.out.Parts[n-1]; p.Holding {
	case Named:
		p.Holding = Have
	case Avoid:
		p.Holding = Lack
	}
}

// turned returns a bound, turned round by a word like not before it: nothing
// below.
func (w *walk) turned(bound string) string {
	if !w.neg && w.hold != Avoid {
		return bound
	}
	w.neg = false
	switch bound {
	case "most":
		return "least"
	case "least":
		return "most"
	}
	return bound
}
