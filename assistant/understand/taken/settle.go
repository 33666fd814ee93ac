package taken

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/rules/facts"
)

// Settle decides what can only be decided when the whole text has been read.
func (l *Line) Settle(all []clause.Clause) {
	l.settleDenials()
	l.complained()
	l.settleBars()
	second{l}.hears()
	second{l}.harm()
	l.settleHarm()
	purse{l}.settle()
	purse{l}.pairs()
	if l.Out.Grades > 0 { // from soft to hard
		l.Out.Asks = slices.DeleteFunc(l.Out.Asks, func(d reading.Doubt) bool { return d.Path == facts.WantSoftness })
	}
	second{l}.order()
	l.settleBack()
	l.settleActs(all)
	second{l}.hear()
	l.account()
	l.settleTalk(all)
	l.withdrawn()
}

// settleDenials drops what was only denied where the line says what is wished
// for, and makes one answer of two extremes denied: neither very hard nor very
// soft; not an expert, but not a beginner.
func (l *Line) settleDenials() {
	sound := []string{facts.WantSoftness, facts.WantColour, facts.WantAttack, facts.WantOpening}
	wished := slices.ContainsFunc(l.Out.Moves, func(m reading.Move) bool { return slices.Contains(sound, m.Path) }) ||
		slices.ContainsFunc(l.Out.Takes, func(t reading.Take) bool {
			return slices.Contains(sound, t.Path) && !t.Not && !slices.Contains(l.Denials, t.Path)
		})
	if wished {
		l.Out.Takes = slices.DeleteFunc(l.Out.Takes, func(t reading.Take) bool {
			denied := slices.Contains(l.Denials, t.Path)
			if denied {
				l.ruledOut = append(l.ruledOut, "not "+cover.Clip(t.Text))
			}
			return denied
		})
	}
	l.betweenTwo(facts.WantSoftness, func(a, b any) (any, bool) {
		x, _ := a.(float64)
		y, _ := b.(float64)
		return 0.0, x*y < 0 && l.HasWord(0, len(l.Items), "not", "neither", "nor", "isnt", "wouldnt", "dont", "never")
	})
	l.betweenTwo(facts.PlayerLevel, func(a, b any) (any, bool) { return "some", a != b })
}

// complained drops what was said of the head there is where the line wishes it the other
// way: that's bright, tone it down.
func (l *Line) complained() {
	way := map[any]float64{"bright": 1, "dark": -1, "clear": -1, "blended": 1}
	l.Out.Takes = slices.DeleteFunc(l.Out.Takes, func(t reading.Take) bool {
		side := way[t.Value]
		return side != 0 && !t.Not && slices.ContainsFunc(l.Out.Moves, func(m reading.Move) bool { return m.Path == t.Path && m.By*side < 0 })
	})
}

// settleBars puts what was said of the bars behind the instrument, which comes with
// bars of its own: a synthetic-bar xylophone.
func (l *Line) settleBars() {
	at := func(path string) int {
		return slices.IndexFunc(l.Out.Takes, func(t reading.Take) bool { return t.Path == path })
	}
	bars, kind := at(facts.InstrumentBars), at(facts.InstrumentKind)
	if bars < 0 || bars > kind || l.Out.Takes[bars].Head != l.Out.Takes[kind].Head {
		return
	}
	t := l.Out.Takes[bars]
	copy(l.Out.Takes[bars:kind], l.Out.Takes[bars+1:kind+1])
	l.Out.Takes[kind] = t
}

// betweenTwo makes one answer of two to a fact that were denied, if made gives one.
func (l *Line) betweenTwo(path string, made func(a, b any) (any, bool)) {
	var at []int
	for i, t := range l.Out.Takes {
		if t.Path == path && t.Not {
			at = append(at, i)
		}
	}
	if len(at) < 2 {
		return
	}
	v, ok := made(l.Out.Takes[at[0]].Value, l.Out.Takes[at[1]].Value)
	if !ok {
		return
	}
	l.Out.Takes[at[0]].Value, l.Out.Takes[at[0]].Not = v, false
	l.Out.Takes = slices.Delete(l.Out.Takes, at[1], at[1]+1)
}

// settleHarm puts what the text says about harm into the reading. A doubt holds
// the careful answer and is asked; what is taken back is asked before it counts.
func (l *Line) settleHarm() {
	for _, f := range l.Out.Harm {
		switch {
		case f.TakesBack:
			l.Withdraw(f.Path)
			l.Doubt(f.Path, f.Text)
			l.Out.Corrects = true
			continue
		case f.Path == harm.Minor && !f.Value && slices.ContainsFunc(l.Ctx.Before.Takes, func(t reading.Take) bool { return t.Path == f.Path && t.Value == true }):
			l.Doubt(f.Path, f.Text) // an adult about does not make the young ones of before grown
			continue
		case f.Doubt:
			l.Doubt(f.Path, f.Text)
			if f.Faint || f.Path == harm.Supervised || f.Path == harm.Ventilated {
				continue // the careful answer is the usual one, and holds while nothing is said
			}
		}
		l.Out.Takes = append(l.Out.Takes, reading.Take{Path: f.Path, Value: f.Value, Degree: 1, Text: cover.Clip(f.Text), Sure: 1})
		if !slices.Contains(l.Out.Acts, reading.Tell) && !slices.ContainsFunc(l.Out.Acts, clause.IsQuestion) {
			l.Act(reading.Tell)
		}
	}
	// What somebody must not touch is no part on hand, and a glue that is not to smell is one.
	l.Out.Parts = slices.DeleteFunc(l.Out.Parts, func(p reading.Part) bool {
		return slices.ContainsFunc(l.Out.Harm, func(f harm.Fact) bool {
			return !f.Value && (f.Path == harm.LatexOK && p.Material == "latex" || f.Path == harm.RubberOK && (p.Material == "rubber" || p.Material == "latex")) &&
				p.Bore == 0 && p.Diameter == 0 && p.Amount == 0 && (p.Holding == reading.Named || p.Holding == reading.Have) ||
				!f.Value && f.Path == harm.SolventOK && p.AnyGlue() && p.Holding == reading.Avoid && described(l.Chart, f.From, p.Text)
		})
	})
}

// described reports whether what is said of harm from a byte of the text on only tells
// what some words are like, which are no more than denied with it: no smelly glue; and not
// no glue, nor fumes, and no glue.
func described(c *cover.Chart, from int, words string) bool {
	to, said := strings.Index(c.Text, words)+len(words), 0
	for _, t := range c.Tokens {
		switch denies := t.Is("no") || t.Is("not") || t.Is("without"); {
		case t.From < from || t.From >= to || denies && t.From == from:
		case denies:
			return false
		default:
			said++
		}
	}
	return said > 1
}

// UseText marks the items within a stretch of the text as made something of.
func (l *Line) UseText(text string) {
	for _, i := range within(l, text) {
		l.Item(i).Used, l.Item(i).Harm = true, true
	}
}

// within lists the items within a stretch of the text, none where it isn't there.
func within(l *Line, text string) (list []int) {
	at := strings.Index(l.Text, text)
	if at < 0 || text == "" {
		return nil
	}
	for i := range l.Items {
		it := l.Item(i)
		if l.At(it.From).From >= at && l.At(it.To-1).To <= at+len(text) {
			list = append(list, i)
		}
	}
	return list
}

// Spend marks the items that overlap the bytes from..to of the text as made
// something of, and leaves no figure in them to be made anything else of.
func (l *Line) Spend(from, to int) {
	for i := range l.Items {
		it := &l.Items[i]
		if l.At(it.From).From < to && l.At(it.To-1).To > from {
			it.Used, it.Harm, it.Qty, it.Note = true, true, nil, nil
		}
	}
}

// settleBack makes a correction of "scratch that, make it dark": it takes back
// what was said last, and tells.
func (l *Line) settleBack() {
	i := slices.Index(l.Out.Acts, reading.Undo)
	if i >= 0 && l.Out.Empty() {
		if n := len(l.Ctx.Before.Takes); n > 0 && !harm.Settles(l.Ctx.Before.Takes[n-1].Path) {
			l.Withdraw(l.Ctx.Before.Takes[n-1].Path)
		}
		return
	}
	if i < 0 {
		return
	}
	l.Out.Acts[i] = reading.Change
	l.Out.Corrects = true
	for _, t := range l.Ctx.Before.Takes {
		if !harm.Settles(t.Path) {
			l.Withdraw(t.Path)
		}
	}
}

// settleActs decides between a command and a wish that began like one.
func (l *Line) settleActs(all []clause.Clause) {
	told := !l.Out.Empty()
	drop := func(acts ...reading.Act) {
		l.Out.Acts = slices.DeleteFunc(l.Out.Acts, func(a reading.Act) bool { return slices.Contains(acts, a) })
	}
	if slices.Contains(l.Out.Acts, reading.Yes) {
		drop(reading.More)
	}
	if told {
		drop(reading.Default, reading.Skip, reading.Unsure)
		if last := all[len(all)-1]; len(all) > 1 && !l.Starts(last.From, "and", "then") { // make it softer and save it
			drop(reading.Leave, reading.Save, reading.More)
		}
		if l.Ctx.Asked == "" && slices.Contains(l.Out.Acts, reading.No) {
			l.Out.Corrects = true
			drop(reading.No)
		}
	} else if slices.ContainsFunc(l.Out.Acts, func(a reading.Act) bool { return a == reading.Default || a == reading.Unsure || a == reading.Skip }) && len(l.Out.About) == 0 {
		l.Out.About = l.Passed // weight doesn't matter
	}
	if len(l.Out.Takes)+len(l.Out.Parts) == 0 && len(l.Out.Withdraws) == 0 {
		l.Out.Corrects = false
	}
}

// settleTalk names the act of a text that told, asked and ordered nothing: small
// talk, a worry, or something that was not understood.
func (l *Line) settleTalk(all []clause.Clause) {
	for i := range l.Items {
		if x := l.Items[i].Has("social"); x != nil && (l.Out.Talk == "" || x.Value == "worry") {
			l.Out.Talk = x.Value
		}
	}
	if l.Out.Talk == "worry" && len(l.Out.Takes) == 0 && len(all) <= 2 { // I'm worried I'll waste the rubber
		l.Out.Parts = slices.DeleteFunc(l.Out.Parts, func(p reading.Part) bool {
			return p.Holding == reading.Named && p.Amount == 0 && p.Diameter == 0 && p.Bore == 0
		})
		if l.Out.Empty() {
			l.Out.Acts = slices.DeleteFunc(l.Out.Acts, func(a reading.Act) bool { return a == reading.Tell })
		}
	}
	if l.Out.Talk == "thanks" && l.Ctx.Asked == "" && l.Out.Empty() && slices.Equal(l.Out.Acts, []reading.Act{reading.Yes}) && !l.HasWord(0, len(l.Items), "yes", "yeah", "yep", "sure", "please") { // phew, okay, thanks
		l.Out.Acts = []reading.Act{reading.Social}
	}
	if len(l.Out.Acts) > 0 {
		return
	}
	if !l.Out.Empty() {
		l.Act(reading.Tell)
		return
	}
	if len(l.Passed) > 0 && len(all) == 1 && l.Ctx.Asked == "" && len(l.Out.Missed) == 0 && l.Out.Talk == "" { // weight
		l.Out.About = l.Passed
		l.Act(reading.Ask)
		return
	}
	if l.Out.Talk != "" {
		l.Act(reading.Social)
		return
	}
	l.Act(reading.Tell)
}

// withdrawn drops from what is taken back what is told anew.
func (l *Line) withdrawn() {
	l.Out.Withdraws = slices.DeleteFunc(l.Out.Withdraws, func(path string) bool { return l.Answered(path) })
	if len(l.Out.Withdraws) == 0 {
		l.Out.Withdraws = nil
	}
}

// harmWord reports whether an item is made of words of harm, which are accounted
// for once something was read about it.
func (l *Line) harmWord(it *cover.Item) bool {
	for k := it.From; k < it.To; k++ {
		if !l.Harm.Accounts(l.At(k).Text, l.Out.Harm) {
			return false
		}
	}
	return true
}

// SayBack fills Said.
func (l *Line) SayBack() {
	for _, a := range l.Out.Takes {
		if a.Path == "instrument.kind" && !a.Not && l.Answered("instrument.id") ||
			a.Path == "player.mallets" && l.Answered("player.grip") || a.Path == "instrument.octaves" {
			continue // the other says it too
		}
		if harm.Settles(a.Path) {
			l.Out.Noted = append(l.Out.Noted, l.Speaker.Take(a))
		} else {
			l.Out.Said = append(l.Out.Said, l.Speaker.Take(a))
		}
	}
	if l.Out.Grades > 0 {
		l.Out.Said = append(l.Out.Said, fmt.Sprintf("a set of %d grades", l.Out.Grades))
	}
	for _, p := range l.Out.Parts {
		l.Out.Said = append(l.Out.Said, l.Speaker.Part(p))
	}
	for _, m := range l.Out.Moves {
		l.Out.Said = append(l.Out.Said, retell.Move(m))
	}
	l.Out.Said = append(l.Out.Said, l.ruledOut...)
	for _, k := range l.Kept {
		l.Out.Said = append(l.Out.Said, "the same "+k)
	}
}
