package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/taken"
	"mallow/rules/facts"
)

// takeFact takes words that answer a fact.
func (w *walk) takeFact(i int) int {
	it := w.Item(i)
	if w.same && it.Has("topic") != nil {
		return 0
	}
	if w.same && (keeper{w}).stay().Named(i) { // keep the clarity
		keeper{w}.keep(i)
		w.same, w.content, w.changed = false, true, true
		return 1
	}
	if w.OnlyNames(i) {
		return 1 // the loudest is mf
	}
	taken, g := 0, w.guard()
	for _, x := range it.Senses {
		if x.Fact == nil || x.Slot == "asked" || strings.HasPrefix(x.Slot, "want.") && x.Slot != w.Ctx.Asked && it.Has(w.Ctx.Asked) != nil { // how tight? tight as a drum
			continue
		}
		if x.Slot == facts.BenchUnits && it.To == it.From+1 && !w.OfPart(i+1) && (it.Slips > 0 || i > 0 && w.Item(i-1).Mark == "" || !w.ClauseEnds(i+1)) {
			continue // the one word is an answer alone, or says what balls there are; metric is what I hold
		}
		if harm.Settles(x.Slot) {
			avoided := slices.ContainsFunc(w.Out.Harm, func(f harm.Fact) bool { return f.Path == x.Slot && !f.Value })
			kind, material := map[string]string{harm.LatexOK: "tube", harm.SolventOK: "glue"}[x.Slot], map[string]string{harm.LatexOK: "latex"}[x.Slot]
			if x.Value == "false" && kind != "" && avoided && w.clause.Act == reading.Tell {
				p := reading.Part{Holding: reading.Avoid, Kind: kind, Material: material, Text: w.Said(i, i+1), Sure: 1}
				p.IDs = w.parts.Stock.Match(p)
				w.Out.Parts = append(w.Out.Parts, p)
				taken = 1
			}
			continue
		}
		if x.Slot == facts.PlayerLevel && w.Ctx.Asked != x.Slot && w.Says(i, "first", "second", "third", "another") && w.HasWord(i, min(i+2, len(w.Items)), "pair", "one", "set") && (figure.Pairs(w.Chart) > 1 || w.HasWord(0, len(w.Items), "first", "one") && w.HasWord(0, len(w.Items), "second", "other", "another")) {
			w.changed, taken = true, 1 // the first pair soft, the second hard
			continue
		}
		if !w.neg && w.hold != reading.Avoid && g.EitherOr(i, x) { // dark or even
			w.Doubt(x.Slot, w.Said(i, i+3))
			w.changed, taken, w.skip = true, 1, i+3
			continue
		}
		if g.AllRound(i, x) || g.Elsewhere(i, x) {
			w.changed, taken = true, 1
			continue
		}
		if g.NoRegister(i, x) || g.OfOther(i, x) || g.OfCount(i, x) || g.OfBody(i, x) {
			continue
		}
		if w.listed && (strings.HasPrefix(x.Slot, "want.") || x.Slot == facts.PlayerTensionN) || strings.HasPrefix(x.Slot, "want.") && w.Ctx.Asked != x.Slot && g.Attributive(i) { // balls, unvarnished; a warm car
			it.Lost, w.content, taken = true, true, 1
			continue
		}
		if w.weak && it.Limit == "" && w.Ctx.Asked != x.Slot && strings.HasPrefix(x.Slot, "want.") && !g.Wishing() {
			w.Doubt(x.Slot, w.Said(w.clause.From, w.clause.To))
			w.changed, taken = true, 1
			continue
		}
		if !w.neg && w.hold != reading.Avoid && len(w.Ctx.Before.Takes) == 0 && g.Foreign(i, x) {
			w.Doubt(x.Slot, w.Said(w.clause.From, w.clause.To))
			w.changed, taken = true, 1
			continue
		}
		if x.Slot == facts.WantSoftness && w.hold == reading.Have && w.after == afterPart && w.Ctx.Asked != x.Slot && !w.wants {
			w.changed, taken = true, 1 // a ball of one inch, quite hard
			continue
		}
		if x.Slot == reading.GradedSet {
			if n, ok := x.Fact.(float64); ok && !w.OfPart(w.PastFiller(i+1)) && w.hold != reading.Have && !w.neg {
				w.Out.Grades = int(n)
			}
			w.changed, taken = true, 1
			continue
		}
		if x.Slot == "want.heads" && !g.OneHead(i) {
			taken = 1
			continue
		}
		if told := strings.HasPrefix(x.Slot, "want.") && w.Ctx.Asked != x.Slot && (g.Describes(i, x) || g.Condition(i, x) || x.Slot != facts.WantLoudest && g.Existing(i) && !g.Sour(i) || g.Outcome(i) || g.Report(i) || x.Slot != facts.WantRegister && x.Slot != facts.WantLoudest && g.OfThing(i)); told || g.Doubtful(i, x) {
			if !told && !(x.Slot == facts.WantRegister && (g.SoftnessSaid() || g.NoteSaid())) { // something in the middle, not too soft
				w.Doubt(x.Slot, w.Said(i, i+1))
			}
			w.changed, taken = true, 1
			continue
		}
		if side, unit := w.Lex.Side(x); side != 0 && !w.neg && w.hold != reading.Avoid && !w.tooMuch && g.Sour(i) {
			by := -side
			if w.degree != 0 {
				by *= w.degree
			}
			w.Out.Moves = append(w.Out.Moves, reading.Move{Path: x.Slot, By: by, Unit: unit, Text: w.Said(i, i+1)})
			w.sour = append(w.sour, w.Said(i, i+1))
			w.degree, w.changed, taken = 0, true, 1
			continue
		}
		if v, ok := w.Lex.Flip(x.Slot, x.Fact); ok && g.Opposed(i) {
			y := *x
			y.Fact, x = v, &y
		}
		w.answer(i, i+1, x, x.Slot)
		taken = 1
	}
	return taken
}

// answer adds the answer that a sense gives to the fact at path, denied or
// strengthened by what came before it.
func (w *walk) answer(from, to int, x *lexis.Sense, path string) {
	a := reading.Take{Path: path, Value: x.Fact, Bound: x.Bound, Degree: 1, Text: w.Said(from, to), Sure: w.Item(from).Sure()}
	if w.degree != 0 {
		a.Degree = w.degree
	}
	if a.Degree == 1 && !w.neg && w.place().Again(from) { // loud loud, soft. like SOFT soft
		if _, graded := a.Value.(float64); graded {
			a.Degree = 1.5
		} else if path == facts.WantLoudest && a.Value == "f" {
			a.Value = "ff"
		}
	}
	if path == facts.WantLoudest && a.Value == "ff" && from == w.clause.From && !w.clause.First && w.Starts(from, "so") {
		a.Value = "f" // I'm never heard, so loud please
	}
	denied := (w.neg || w.hold == reading.Avoid || w.hold == reading.Lack && strings.HasPrefix(path, "want.")) && !(strings.HasPrefix(path, "instrument.") && w.neg && from-w.deniedAt > 3)
	w.degree = 0
	to = w.limitAnswer(to, &a)
	refused := w.guard().Refused(to) || w.guard().Scant(from)
	denied = denied || refused
	switch v := a.Value.(type) {
	case bool:
		a.Degree = 1
		if refused || w.deniesTruth(from, path) {
			a.Value = !v
			if x.Deny != nil {
				a.Value = x.Deny
			}
		}
		if h := w.reach.Of[from]; h != "" && strings.HasPrefix(path, "bench.") && v { // scale yes, drill no
			a.Value = h == reading.Have
		}
		w.add(a)
		return
	case float64:
		if path == "want.softness" && !denied {
			a.Value = w.Lex.Graded(v, a.Degree)
		}
	}
	if denied && !strings.HasPrefix(path, "want.") && !w.deniesTruth(from, path) {
		w.changed = true
		return // said of something else
	}
	if !denied {
		w.add(a)
		return
	}
	if said := w.SaidOf(path); said != nil && !said.Not && said.Sure > 0 && said.Degree != 0.5 && said.Head == w.head {
		if strings.EqualFold(said.Text, a.Text) { // dark, but not too dark
			said.Degree = 0.5
			if v, ok := x.Fact.(float64); ok {
				said.Value = w.Lex.Graded(v, 0.5)
			}
		}
		w.changed = true
		return // bright, not dark
	}
	plain := w.hold == reading.Avoid || w.hold == reading.Lack || refused ||
		!w.tooMuch && (a.Degree == 1 || w.Is(from-1, "so") && w.Starts(w.deniedAt, "isnt", "arent")) && (w.Item(from).Has("sour") == nil && (path == facts.WantColour || path == facts.WantAttack) || path == facts.WantColour && (w.Is(w.deniedAt, "not") && from == w.deniedAt+1 || w.Is(from-1, "so")))
	if x.Deny != nil && !plain && (path != "want.softness" || w.tooMuch || w.Ctx.Asked == path) {
		a.Value, a.Degree = x.Deny, 0.5
		if w.Ctx.Asked != path && !w.tooMuch {
			w.Denials = append(w.Denials, path)
		}
	} else {
		a.Not = true
	}
	w.add(a)
}

// limitAnswer gives a loudness or a softness that ends before item i the limit it
// is put as, and returns where the words for that end: mf tops, never above mf,
// medium at the softest, medium or harder.
func (w *walk) limitAnswer(i int, a *reading.Take) int {
	switch a.Path {
	case facts.WantLoudest, facts.WantSoftness:
	default:
		return i
	}
	if a.Path == facts.WantLoudest && (w.bound == "most" || w.bound == "least" && w.neg) {
		a.Bound, w.bound, w.neg = "most", "", false
		return i
	}
	if said := w.Item(i - 1).Limit; said != "" {
		a.Bound = said
		return i
	}
	end := i
	if v, ok := a.Value.(float64); ok && a.Path == facts.WantSoftness && v != 0 && !w.neg && (w.bound == "most" || w.bound == "least") && w.boundAt < i { // at least medium hard
		if a.Bound, w.bound = w.bound, ""; v < 0 {
			a.Bound = cover.Opposite(a.Bound)
		}
		return i
	}
	if n := w.place().EvenMore(i, a.Path); n > 0 {
		a.Bound, end = cover.Opposite(limit.Against(w.Item(i+n-2).Has("move").Num)), i+n
	} else if a.Path == facts.WantSoftness && w.Is(i, "or") {
		if x := w.Item(i + 1).Has("move"); x != nil && x.Value == a.Path {
			a.Bound, end = cover.Opposite(limit.Against(x.Num)), i+2
		}
	} else if x := w.Item(i).Has("bound"); x != nil && x.Value != "about" && (a.Path == facts.WantLoudest || w.Says(i, "softest", "hardest", "hard", "soft")) {
		a.Bound, end = x.Value, i+1
	}
	w.UseAll(i, end)
	w.skip = max(w.skip, end)
	return end
}

// deniesTruth reports whether item i, which says that a fact is true or false,
// is denied. One can lack several things of the bench in a row; anything else
// is denied only straight before, fillers aside, so that in "I don't have a
// scale and I'm a beginner" the beginner stands.
func (w *walk) deniesTruth(i int, path string) bool {
	if !w.neg && w.hold != reading.Avoid && w.hold != reading.Lack {
		return false
	}
	if strings.HasPrefix(path, "bench.") {
		return true
	}
	for j := w.deniedAt + 1; j < i; j++ {
		if !w.Filler(j) {
			return false
		}
	}
	return true
}

// add keeps an answer. A later one to the same fact replaces the earlier when
// it corrects it, goes to another head when several are spoken of, and is
// doubtful otherwise.
func (w *walk) add(a reading.Take) {
	w.content, w.changed = true, true
	a.Head = w.head
	old := w.SaidOf(a.Path)
	switch {
	case old != nil && old.Not && a.Not && !w.HasWord(w.clause.From, w.clause.To, "no") && w.Lex.Opposed(a.Path, old.Value, a.Value): // neither gloomy nor dazzling
		old.Not, old.Value, old.Text = false, w.Lex.OneOf(a.Path)[1], old.Text+" … "+a.Text
	case old == nil || old.Not && a.Not:
		w.Out.Takes = append(w.Out.Takes, a)
	case old.Not: // not marimba, vibes
		*old = a
	case a.Path == facts.PlayerLevel && !a.Not && a.Value == "first" && !w.Out.Corrects && !strings.HasPrefix(strings.ToLower(a.Text), "never built"): // my second go; the first was a disaster
	case a.Path == "want.loudest" && !a.Not && w.Is(w.clause.From, "but") && w.HasWord(w.clause.From, len(w.Items), "always", "only", "never", "strictly"): // loud music, but this at p, always
		*old = a
	case a.Path == "want.loudest" && !a.Not && w.Louder(old.Value, a.Value) && figure.Pairs(w.Chart) < 2: // the loudest it must serve
	case w.replied && a.Path == w.Ctx.Asked:
		*old, w.replied = a, false
	case a.Not:
	case w.between && a.Path == "want.softness": // between medium and hard
		x, _ := old.Value.(float64)
		y, _ := a.Value.(float64)
		old.Value, old.Text, w.between = w.Lex.Middle(x, y), a.Text, false
	case a.Value == old.Value && a.Bound == old.Bound:
	case a.Bound != "" && old.Bound != "" && a.Bound != old.Bound && a.Bound != "about":
		w.Out.Takes = append(w.Out.Takes, a) // from 20 to 30 g
	case w.Is(w.clause.From, "but") && strings.HasPrefix(a.Path, "bench."): // no drill, but a neighbour lends us one
		*old = a
	case w.Out.Corrects && w.repeats(a) && !w.repeats(*old): // it's a vibraphone, I said marimba before
	case w.Out.Corrects, a.Path == "want.loudest" && figure.Pairs(w.Chart) < 2, old.Degree == 0.5:
		*old = a
	case w.Several():
		if old.Head == w.head {
			w.head++
		}
		a.Head = w.head
		w.Out.Takes = append(w.Out.Takes, a)
	default:
		w.Doubt(a.Path, old.Text+" … "+a.Text)
		w.Out.Takes = slices.DeleteFunc(w.Out.Takes, func(t reading.Take) bool { return t.Path == a.Path })
	}
}

// repeats reports whether an answer was given before, as it is.
func (w *walk) repeats(a reading.Take) bool {
	return slices.ContainsFunc(w.Ctx.Before.Takes, func(b reading.Take) bool { return b.Path == a.Path && b.Value == a.Value && b.Not == a.Not })
}

// settleDegree gives a degree that nothing followed to what was said before
// it: "softer, just a bit".
func (w *walk) settleDegree() {
	if w.degree != 0 && !w.neg {
		switch {
		case w.after == afterMove && len(w.Out.Moves) > 0:
			w.Out.Moves[len(w.Out.Moves)-1].By *= w.degree
		case w.after == afterAnswer && len(w.Out.Takes) > 0:
			taken.Stretch(w.Line, &w.Out.Takes[len(w.Out.Takes)-1], w.degree)
		}
	}
	w.degree = 0
}
