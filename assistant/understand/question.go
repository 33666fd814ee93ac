package understand

import (
	"slices"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// asker takes clauses that ask.
type asker struct{ *walk }

// question takes a clause that asks. Nothing in it is told, but for how many
// pairs the question is put.
func (w asker) question(x *clause.Clause) {
	w.Act(x.Act)
	about := len(w.Out.About)
	for i := x.From; i < x.To; i++ {
		w.Topic(i, x.Act, true)
		f := figures(w)
		f.pairsAsked(i)
		if x := w.Item(i).Fact(); x != nil && (x.Slot == facts.InstrumentKind || x.Slot == facts.InstrumentBars) && figure.Mine(w.place(), i) {
			w.answer(i, i+1, x, x.Slot)
		}
		if x := w.Item(i).Has("player.level"); x != nil && w.Is(i-1, "for", "a") {
			w.answer(i, i+1, x, x.Slot)
		}
	}
	if x.Act != reading.Define {
		w.suppose(x)
	}
	if x.Act == reading.WhyNot || x.Act == reading.Compare || x.Act == reading.Define || len(w.Out.About) == about {
		w.Unknowns(x)
	}
	if (x.Act == reading.Why || x.Act == reading.WhyNot) && len(w.Out.About) == 0 && len(w.Out.Supposed.Takes)+len(w.Out.Supposed.Parts)+len(w.Out.Supposed.Moves) == 0 {
		w.Out.About = []reading.Topic{{Kind: "question"}}
	}
	at := figure.Purpose(w.place())
	if w.purpose && !x.First { // … for a soft, blended colour?
		at = x.From
	}
	said := slices.ContainsFunc(w.Ctx.Before.Takes, func(a reading.Take) bool { return a.Path == facts.InstrumentKind })
	if w.purpose = at >= 0 && !said && (x.Act == reading.Ask || x.Act == reading.WhatIf); w.purpose {
		w.hold, w.after, w.weak = reading.Named, afterOther, false
		for i := at; i < x.To; i++ {
			w.Item(i).Used = false // by what was supposed
		}
		w.tell(at, x.To)
	}
	if at := figure.Sought(w.place()); !said && at >= 0 && w.Ctx.Asked == "" && !w.Answered(facts.InstrumentKind) {
		w.answer(at, at+1, w.Item(at).Has(facts.InstrumentKind), facts.InstrumentKind)
	}
	for i := x.From; i < x.To; i++ {
		if x.Act != reading.WhatIf || i < x.TopicAt || !w.Unknown(i) || len(w.Out.Supposed.Said) > 0 {
			w.Item(i).Used = true
		}
	}
}

// suppose reads what a question supposes, and keeps it apart.
func (w asker) suppose(x *clause.Clause) {
	v := &walk{Line: w.r.line(w.Chart, w.Ctx), r: w.r, parts: w.parts, reach: w.reach, clause: x, weak: w.weak, over: w.over}
	v.hold = reading.Named
	v.tell(x.TopicAt, x.To)
	v.settleDegree()
	v.SayBack()
	if x.Act == reading.Why || x.Act == reading.Ask { // about what is, not about what could be
		v.Out = reading.Reading{Parts: v.Out.Parts}
		for k := range v.Out.Parts {
			if p := &v.Out.Parts[k]; p.Holding == reading.Have || p.Holding == reading.Need {
				p.Holding = reading.Named
			}
		}
	}
	s := &w.Out.Supposed
	s.Takes = append(s.Takes, v.Out.Takes...)
	s.Parts = append(s.Parts, v.Out.Parts...)
	s.Moves = append(s.Moves, v.Out.Moves...)
	s.Said = append(s.Said, v.Out.Said...)
	if x.Act == reading.Ask {
		return
	}
	for _, k := range v.Out.Keeps {
		w.Keep(k, "")
	}
}
