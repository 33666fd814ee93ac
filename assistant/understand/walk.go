package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/guard"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reach"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/assistant/understand/slip"
	"mallow/assistant/understand/stroke"
	"mallow/assistant/understand/taken"
)

// scope is what was said and waits for the word it applies to.
type scope struct {
	hold     reading.Holding
	neg      bool
	spent    bool // neg or hold has found what it denies
	deniedAt int  // the item that set neg or hold last
	boundAt  int  // the item that set bound
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
	*taken.Line
	r     *Reader
	parts part.Describer
	reach reach.Reach
	scope

	clause      *clause.Clause
	content     bool    // something was taken or missed already in this clause
	between     bool    // "between" was said
	replied     bool    // the open question has its answer from a plain yes or no
	after       after   // what was taken last
	partsBefore int     // how many parts were named when the clause began
	before      int     // what had been taken when the clause began
	changed     bool    // something taken before was changed by the clause
	taking      int     // the item that is being taken
	head        int     // which of several heads is spoken of
	total       bool    // the number of pairs said first may be of all
	counted     float64 // pairs told apart since
	skip        int     // items before it are taken already
	over        bool    // the clause tells of what is over
	once        bool    // or of what somebody had or led once
	purpose     bool    // the clause asks, and says what is to be made
	wants       bool    // parts that follow are wished for or to be bought
	weak        bool    // the clause says too little of mallets for words of many meanings
	listed      bool    // the clause lists the parts that there are, and its words describe those
	replaces    bool    // something is told in place of what was told before
	octaves     []octaveSpan
	heading     reading.Part // a kind of part that was named and nothing said of: tubing: 4 pieces
	headAt      int          // where
	tie         stroke.Tie   // what the sentence says of sound and force
	each        reading.Part // how much there is of each part of a list to come: two of each
	sour        []string     // complaints that moves were made of
	list        part.List    // the parts that were named one after another
}

// line reads the whole text.
func (w *walk) line() {
	w.Out.Corrects = w.Contrasts
	w.Mends()
	w.Out.Harm = w.Harm.Read(w.Text, w.Ctx.Asked)
	all := clause.Cut(w.Chart)
	taken.Recast(w.Line, all)
	if len(all) == 0 {
		switch {
		case !slices.ContainsFunc(w.Items, func(it cover.Item) bool { return it.Mark != "" }):
			w.Out.Acts = []reading.Act{reading.Default}
		case w.Is(0, "?"):
			w.Out.Acts = []reading.Act{reading.Unsure}
		}
	}
	slips := slip.Read(slip.Line{Chart: w.Chart, Clauses: all, Before: w.Ctx.Before, Several: w.Several()})
	w.Out.Corrects, w.replaces = w.Out.Corrects || slips.Corrects, slips.Replaces
	for _, path := range slips.Withdraws {
		w.Withdraw(path)
		w.Act(reading.Change)
	}
	if slips.Rest {
		for _, t := range w.Ctx.Before.Takes {
			if strings.HasPrefix(t.Path, "want.") && t.Path != slips.Of {
				w.Keep(t.Path, "")
			}
		}
	}
	w.reach = reach.Read(w.Chart, all)
	w.hold = w.atFirst()
	for _, f := range w.Out.Harm {
		w.UseText(f.Text)
		if f.Path == harm.Minor && !f.Doubt {
			w.Spend(f.From, f.To) // turned 18 in june
		}
	}
	for k := range all {
		w.enter(&all[k])
		if slips.Aside[k] {
			all[k].Act, all[k].Heading = reading.Tell, true // it only names what was wrong, or why
		}
		w.take(&all[k])
		w.leave(&all[k])
	}
	if w.clause != nil {
		w.clear(w.clause.To)
	}
	w.settleOctaves()
	if len(w.Out.Moves) > len(w.sour) { // make them harder, these are mush: the one says why the other
		w.Out.Moves = slices.DeleteFunc(w.Out.Moves, func(m reading.Move) bool { return slices.Contains(w.sour, m.Text) })
	}
	taken.Described(w.Line, all)
	w.Out.Parts = part.Rest(w.Out.Parts, w.reach.Rest)
	w.Settle(all)
	w.SayBack()
}

// place returns where the clause at hand lies.
func (w *walk) place() figure.Place {
	return figure.Place{Chart: w.Chart, From: w.clause.From, To: w.clause.To}
}

// guard returns what watches words of many meanings in the clause at hand.
func (w *walk) guard() guard.Guard { return guard.Guard{Place: w.place(), Asked: w.Ctx.Asked} }

// enter begins a clause: what waits for a word is forgotten.
func (w *walk) enter(x *clause.Clause) {
	topic := w.topic
	if w.clause != nil {
		w.clear(w.clause.To)
	}
	w.clause, w.content, w.changed, w.before, w.partsBefore = x, false, false, w.Size(), len(w.Out.Parts)
	switch {
	case x.First && w.hold == reading.Lack && w.Is(x.From, "or", "nor"): // I have no press. Or a drill.
	case x.First:
		w.hold, w.wants = w.atFirst(), false
	case w.Item(x.From-1).Mark == ":":
		w.topic = topic // weight: 32
	case w.hold == reading.Lack || w.hold == reading.Avoid || w.hold == reading.Allow || w.Is(x.From, "so", "because", "when", "while", "since"):
		w.hold = reading.Named
	}
	if x.First {
		opener{w}.begin(x)
	}
	w.weak = !w.replaces && w.guard().Thin(w.reach.Of)
	w.over, w.once = w.place().Past(), figure.Once(w.place())
	w.listed = w.guard().Listing(w.Ctx.Asked == AskParts)
}

// leave ends a clause: a bound that nothing followed is of the figure before
// it: 20 grams; ideally under.
func (w *walk) leave(x *clause.Clause) {
	last := w.LastFigure()
	if path := limit.Compared(w.Chart, w.boundAt); path != "" && w.bound != "" && !w.Figured(x.From, x.To) { // softer, no heavier though
		if last != nil && last.Path == path && last.Bound == "" { // an inch and a quarter, no bigger
			last.Bound = w.bound
		} else {
			w.Keep(path, retell.Name(path))
		}
		w.bound, w.changed = "", true
	}
	if w.bound != "" && last != nil && last.Bound == "" && last.Path != "class.size" && x.Act == reading.Tell {
		if !w.content || w.after == afterAnswer || !w.Figured(w.boundAt, x.To) { // and not a cent more for the lot
			last.Bound = w.bound
			w.changed = true
		}
		w.bound = ""
	}
	if x.Act == reading.Tell && w.skip < x.To && !w.changed && w.Size() == w.before && w.Item(x.To).Mark != ":" && taken.SaysMore(w.Line, x.From, x.To) {
		for i := x.From; i < x.To; i++ {
			if !w.Harmed(i) {
				w.Item(i).Lost = true
			}
		}
	}
}

// clear forgets what waits for a word, at item i. A denial or a limit that has
// found none is missed, with what follows it.
func (w *walk) clear(i int) {
	w.settleDegree()
	if w.neg && !w.spent && w.clause.Act == reading.Tell {
		w.Loose(w.deniedAt, i)
	}
	if (w.bound == "most" || w.bound == "least") && w.clause.Act == reading.Tell {
		w.Loose(w.boundAt, i)
	}
	w.scope = scope{hold: w.hold, deniedAt: w.deniedAt}
}

// atFirst returns how a person stands to parts when nothing is said of it.
func (w *walk) atFirst() reading.Holding {
	if w.Ctx.Asked == AskParts {
		return reading.Have
	}
	return reading.Named
}

// take takes a clause by its act.
func (w *walk) take(x *clause.Clause) {
	switch {
	case x.Heading:
		w.UseAll(x.From, x.To)
		w.changed = true
	case x.Act == reading.Tell && w.place().Practised():
		w.UseAll(x.From, x.To)
		w.changed = true
	case x.Act == reading.Tell:
		w.tell(x.From, x.To)
	case clause.IsQuestion(x.Act):
		asker{w}.question(x)
	case x.Act == reading.No && w.reach.At(x.From, x.To) == reading.Lack: // no sticks
		x.Act = reading.Tell
		w.tell(x.From, x.To)
	case (x.Act == reading.Yes || x.Act == reading.No || x.Act == reading.Default || x.Act == reading.Leave) && w.reach.AllSpent(w.Chart, x.From, x.To):
		w.UseAll(x.From, x.To) // scale: yes
	case (x.Act == reading.Yes || x.Act == reading.No) && w.Item(x.From-1).Mark == ":" && taken.Truth(w.Line, x.Act == reading.Yes):
		w.UseAll(x.From, x.To)
	case x.Act == reading.Yes || x.Act == reading.No:
		w.Out.Corrects = w.Out.Corrects || x.Act == reading.No && w.Ctx.Asked == "" && len(w.Ctx.Before.Takes)+len(w.Ctx.Before.Parts) > 0
		w.Act(x.Act)
		w.UseAll(x.From, x.To)
		if v, ok := w.r.reply(w.Ctx.Asked, x.Act == reading.Yes); ok && !harm.Settles(w.Ctx.Asked) && !w.Answered(w.Ctx.Asked) {
			w.add(reading.Take{Path: w.Ctx.Asked, Value: v, Degree: 1, Text: w.Said(x.From, x.To), Sure: 1})
			w.replied = true
		}
	default:
		w.Act(x.Act)
		for i := x.TopicAt; i < x.To; i++ {
			w.Topic(i, x.Act, false)
		}
		if x.Act == reading.Change || x.Act == reading.Restart { // start over with vibes
			acts := w.Out.Acts
			w.tell(x.TopicAt, x.To)
			w.Out.Acts = acts
			w.changed = true
		}
		w.UseAll(x.From, x.To)
	}
}

// tell takes the items from..to as telling something.
func (w *walk) tell(from, to int) {
	before := w.Size()
	for i := max(from, w.skip); i < to; {
		i = max(i+w.step(i), w.skip)
	}
	if w.Size() > before {
		w.Act(reading.Tell)
	}
}

// step takes one or more items at i and returns how many.
func (w *walk) step(i int) int {
	it := w.Item(i)
	w.taking = i
	w.endDenial(i)
	if w.Filler(i) && !w.article(i) && !w.ClauseEnds(i) {
		w.degree = 0 // a degree is of the next word
	}
	if (w.weak || it.Used && !it.Any("bench.drill", "bench.scale", "bench.caliper") || w.Starts(i-1, "shes", "hes", "theyre", "he", "she", "youre")) && it.Has("weak") != nil && !guard.OfMallets(w.guard(), i) && !w.Asked(it.Senses) && it.Qty == nil {
		w.content = true
		return 1
	}
	if w.reach.Inventory && it.Has("weak") != nil && it.Fact() != nil && w.reach.Of[i] == "" && it.Qty == nil && !strings.HasPrefix(it.Fact().Slot, "bench.") { // hose, clear, 12 mm
		w.content = true
		return 1
	}
	if w.reach.Whence[i] {
		w.UseAll(i, i+1)
		return 1
	}
	if it.Harm && it.Qty != nil && harm.Aged(w.Out.Harm) && (it.Qty.Dim == quantity.Plain || it.Qty.Dim == quantity.Years) && w.parts.Run(i) < i+2 {
		k := max(1, figures{w}.takeCount(i)) // else an age
		w.UseAll(i, i+k)
		return k
	}
	if it.Of != "" {
		if k := (figures{w}).takeQuantity(i); k > 0 {
			w.after = afterAnswer
			w.UseAll(i, i+k)
			return k
		}
	}
	named, moves, takes := len(w.Out.Parts), len(w.Out.Moves), len(w.Out.Takes)
	p, f, n := parter{w}, figures{w}, noter{w}
	for _, take := range []func(int) int{
		opener{w}.takeTie, replier{w}.takeReply, replier{w}.takeAlone, replier{w}.takeAsked, opener{w}.takeOpening, keeper{w}.takeBack, keeper{w}.takeKeep, mender{w}.takeRevised, n.takeNotes, n.takePitch, n.takeOctaves, f.takePractice, mover{w}.takeAdjust, mover{w}.takeTuned, p.takeCounted, f.takeCount, p.takePart,
		mover{w}.takeMove, w.takeFact, topics{w}.takeTopic, f.takeQuantity,
	} {
		k := take(i)
		if k == 0 {
			continue
		}
		switch {
		case len(w.Out.Parts) > named:
			w.after = afterPart
		case len(w.Out.Moves) > moves:
			w.after = afterMove
		case len(w.Out.Takes) > takes || it.Fact() != nil && w.Answered(it.Fact().Slot):
			w.after = afterAnswer
		case it.Mark == "" && w.after != afterPart:
			w.after = afterOther
		}
		w.spent = w.spent || w.neg && it.Mark == "" && w.deniedAt < i && !(it.Has("topic") != nil && len(w.Out.Parts) == named && len(w.Out.Moves) == moves && len(w.Out.Takes) == takes)
		w.UseAll(i, i+k)
		return k
	}
	if k := w.takeGrammar(i); k > 0 {
		w.UseAll(i, i+k)
		return k
	}
	if it.Empty() {
		it.Used = true
	} else {
		w.content = true
		if w.after != afterPart {
			w.after = afterOther
		}
	}
	return 1
}

// endDenial ends the reach of a word like not that has found its word, where
// something else is begun: it's not marimba, it's vibes.
func (w *walk) endDenial(i int) {
	if !w.neg || !w.spent || w.Is(i-1, "or", "nor", "and") {
		return
	}
	if w.Subject(i) && !w.Starts(i, "the", "my", "our", "one", "his", "her") || w.Item(i).Has("holding") != nil || w.Item(i).Has("bound") != nil {
		w.neg, w.spent = false, false
	}
}

// article reports whether item i may stand between a degree and its word.
func (w *walk) article(i int) bool { return w.Starts(i, "a", "an", "the", "of") }

// holding returns how the person stands to a part named here.
func (w *walk) holding() reading.Holding {
	switch {
	case w.neg && w.hold == reading.Have:
		return reading.Lack
	case w.neg && w.hold == reading.Named:
		return reading.Avoid
	}
	return w.hold
}

// takeGrammar takes words that change the meaning of what follows.
func (w *walk) takeGrammar(i int) int {
	it := w.Item(i)
	n := 0
	for _, x := range it.Senses {
		switch x.Slot {
		case "held":
			w.changed = w.changed || w.reach.Spent[i] // and keeps them
		case "not":
			w.neg, w.deniedAt, w.spent = true, i, false
		case "too":
			w.tooMuch = true
		case "more":
			w.more = x.Num
		case "degree":
			if w.Is(i, "so") && i == w.clause.From && !w.clause.First {
				break // thin bars, so soft ones
			}
			w.degree = x.Num
		case "after":
			if k := len(w.Out.Takes); k > 0 {
				taken.Stretch(w.Line, &w.Out.Takes[k-1], x.Num)
			} else if k := len(w.Out.Moves); k > 0 && w.after == afterMove {
				w.Out.Moves[k-1].By *= x.Num
			}
		case "same":
			w.same = true
		case "bound":
			w.bound, w.boundAt = w.turned(x.Value), i
		case "span":
			w.between = w.between || w.At(it.From).Is("between")
		case "mend":
			w.Out.Corrects = w.Out.Corrects || !figure.Apart(w.Chart) // mine should be soft and his hard
		case "holding":
			if reach.OfAll(w.Chart, i) {
				break
			}
			w.hold, w.deniedAt = reading.Holding(x.Value), i
			if w.wants = w.hold == "want" || w.hold == reading.Need; w.hold == "want" {
				w.hold = reading.Named
			}
			if !w.reach.Spent[i] && !(parter{w}).named(i) {
				w.holdBefore(i)
			}
		case "join":
			if x.Value == "and" && w.hold == reading.Avoid && w.Item(i-1).Fact() != nil && w.Item(i+1).Fact() != nil && w.Item(i-1).Fact().Slot == w.Item(i+1).Fact().Slot {
				break // rule out soft and very soft
			}
			if x.Value == "and" || x.Value == "but" {
				w.clear(i)
				if w.hold == reading.Avoid || x.Value == "but" && w.hold == reading.Lack {
					w.hold = reading.Named
				}
			}
		case "alone":
			if x.Value != "no" || !w.Says(i, "not", "isnt", "arent", "aint") || w.ClauseEnds(i+1) {
				continue
			}
			w.neg, w.deniedAt, w.spent = true, i, false // definitely not for vibes
		case "reply": // "no" within a sentence
			p := parter{w}
			if x.Value == "no" && !w.reach.Spent[i] && w.Item(i-1).Has("mend") == nil && w.Item(i+1).Has("mend") == nil && !(w.guard().Refused(i) && w.Item(i-1).Fact() != nil) && !p.refuse(i) && !w.refuse(i) {
				w.neg, w.deniedAt = true, i
			}
		default:
			continue
		}
		n = 1
	}
	return n
}

// refuse turns round the limit before item i, a no that ends its clause: under 18
// mm no. It reports whether there was one.
func (w *walk) refuse(i int) bool {
	n := len(w.Out.Takes)
	if w.after != afterAnswer || n == 0 || !w.ClauseEnds(i+1) || w.Size() == w.before {
		return false
	}
	a := &w.Out.Takes[n-1]
	turn := (&cover.Item{Turned: true}).Turn(a.Bound)
	if turn == a.Bound {
		return false
	}
	a.Bound, w.changed = turn, true
	return true
}

// holdBefore lets words for having that follow their part count for it: tubing
// on the shelf is 19 mm; latex is not allowed.
func (w *walk) holdBefore(i int) {
	end := w.ClauseEnds(i + 1)
	if h := w.heading; h.Kind != "" && end && w.partsBefore == len(w.Out.Parts) { // balls we don't have
		h.Holding = w.hold
		w.Out.Parts = append(w.Out.Parts, h)
		w.heading, w.changed = reading.Part{}, true
		return
	}
	n := len(w.Out.Parts)
	if n == 0 || w.after != afterPart && !w.Starts(i, "all", "neither", "none") {
		return
	}
	first := w.partsBefore
	if w.Starts(i, "all", "neither", "none") { // all here
		first = 0
	}
	for k := n - 1; k >= first; k-- {
		switch p := &w.Out.Parts[k]; {
		case w.hold == reading.Have && p.Holding == reading.Named, w.hold == reading.Have && end && k == n-1 && p.Holding == reading.Need:
			p.Holding = reading.Have
		case w.hold == reading.Allow && p.Holding == reading.Named && k == n-1: // brass would do
			p.Holding = reading.Allow
		case w.hold == reading.Have && p.Holding == reading.Avoid:
			p.Holding = reading.Lack
		case (w.hold == reading.Avoid || w.hold == reading.Lack) && end && p.Holding == reading.Named:
			p.Holding = w.hold
		}
	}
}

// turned returns a bound, turned round by a word like not before it: nothing below.
func (w *walk) turned(bound string) string {
	if !w.neg && w.hold != reading.Avoid {
		return bound
	}
	w.neg = false
	if w.hold == reading.Avoid {
		w.hold = reading.Named
	}
	if w.Starts(w.taking, "no", "nothing", "nae", "nowt", "never", "none") { // there ain't no more: denied once, and said twice
		return bound
	}
	return (&cover.Item{Turned: true}).Turn(bound)
}
