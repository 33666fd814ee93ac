package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/rules/facts"
)

// settler decides what can only be decided when the whole text has been read.
type settler struct{ *walk }

// settle decides what can only be decided when the whole text has been read.
func (w settler) settle(all []clause.Clause) {
	w.settleDenials()
	w.settleHarm()
	w.settlePairs()
	w.settleBack()
	w.settleActs(all)
	w.collectMissed()
	w.settleTalk(all)
	w.withdrawn()
}

// settleDenials drops what was only denied where the line says what is wished
// for, and makes one answer of two extremes denied: neither very hard nor very
// soft; not an expert, but not a beginner.
func (w settler) settleDenials() {
	sound := []string{facts.WantSoftness, facts.WantColour, facts.WantAttack, facts.WantOpening}
	wished := slices.ContainsFunc(w.out.Moves, func(m reading.Move) bool { return slices.Contains(sound, m.Path) }) ||
		slices.ContainsFunc(w.out.Takes, func(t reading.Take) bool {
			return slices.Contains(sound, t.Path) && !t.Not && !slices.Contains(w.denials, t.Path)
		})
	if wished {
		w.out.Takes = slices.DeleteFunc(w.out.Takes, func(t reading.Take) bool {
			denied := slices.Contains(w.denials, t.Path)
			if denied {
				w.ruledOut = append(w.ruledOut, "not "+cover.Clip(t.Text))
			}
			return denied
		})
	}
	w.betweenTwo(facts.WantSoftness, func(a, b any) (any, bool) {
		x, _ := a.(float64)
		y, _ := b.(float64)
		return 0.0, x*y < 0
	})
	w.betweenTwo(facts.PlayerLevel, func(a, b any) (any, bool) { return "some", a != b })
}

// betweenTwo makes one answer of two to a fact that were denied, if made gives one.
func (w settler) betweenTwo(path string, made func(a, b any) (any, bool)) {
	var at []int
	for i, t := range w.out.Takes {
		if t.Path == path && t.Not {
			at = append(at, i)
		}
	}
	if len(at) < 2 {
		return
	}
	v, ok := made(w.out.Takes[at[0]].Value, w.out.Takes[at[1]].Value)
	if !ok {
		return
	}
	w.out.Takes[at[0]].Value, w.out.Takes[at[0]].Not = v, false
	w.out.Takes = slices.Delete(w.out.Takes, at[1], at[1]+1)
}

// settleHarm puts what the text says about harm into the reading. A doubt holds
// the careful answer and is asked; what is taken back is asked before it counts.
func (w settler) settleHarm() {
	for _, f := range w.out.Harm {
		switch {
		case f.TakesBack:
			keeper(w).withdraw(f.Path)
			w.doubt(f.Path, f.Text)
			w.out.Corrects = true
			continue
		case f.Doubt:
			w.doubt(f.Path, f.Text)
			if f.Path == harm.Supervised || f.Path == harm.Ventilated {
				continue // the careful answer is the usual one
			}
		}
		w.out.Takes = append(w.out.Takes, reading.Take{Path: f.Path, Value: f.Value, Degree: 1, Text: cover.Clip(f.Text), Sure: 1})
		if !slices.Contains(w.out.Acts, reading.Tell) && !slices.ContainsFunc(w.out.Acts, clause.IsQuestion) {
			w.act(reading.Tell)
		}
	}
	// What somebody must not touch is no part on hand.
	w.out.Parts = slices.DeleteFunc(w.out.Parts, func(p reading.Part) bool {
		return slices.ContainsFunc(w.out.Harm, func(f harm.Fact) bool {
			return !f.Value && (f.Path == harm.LatexOK && p.Material == "latex" || f.Path == harm.RubberOK && (p.Material == "rubber" || p.Material == "latex")) &&
				p.Bore == 0 && p.Diameter == 0 && p.Amount == 0 && (p.Holding == reading.Named || p.Holding == reading.Have)
		})
	})
}

// settlePairs makes one pair apiece as many as there are in the class.
func (w settler) settlePairs() {
	class, pairs := w.saidOf("class.size"), w.saidOf("want.pairs")
	for _, t := range w.ctx.Before.Takes {
		if t.Path == "class.size" && class == nil {
			class = &t
		}
	}
	if class == nil || pairs == nil || pairs.Value != 1.0 {
		return
	}
	for i := range w.Items {
		if w.HasWord(i, i+1, "each", "apiece", "every", "everyone", "everybody", "per", "all", "child", "kid", "student", "pupil") {
			pairs.Value = class.Value
		}
	}
}

// useText marks the items within a stretch of the text as made something of.
func (w settler) useText(text string) {
	at := strings.Index(w.Text, text)
	if at < 0 || text == "" {
		return
	}
	for i := range w.Items {
		it := &w.Items[i]
		if w.At(it.From).From >= at && w.At(it.To-1).To <= at+len(text) {
			it.Used, it.Harm = true, true
		}
	}
}

// settleBack makes a correction of "scratch that, make it dark": it takes back
// what was said last, and tells.
func (w settler) settleBack() {
	i := slices.Index(w.out.Acts, reading.Undo)
	if i < 0 || w.out.Empty() {
		return
	}
	w.out.Acts[i] = reading.Change
	w.out.Corrects = true
	for _, t := range w.ctx.Before.Takes {
		if !harm.Settles(t.Path) {
			keeper(w).withdraw(t.Path)
		}
	}
}

// settleActs decides between a command and a wish that began like one.
func (w settler) settleActs(all []clause.Clause) {
	told := !w.out.Empty()
	drop := func(acts ...reading.Act) {
		w.out.Acts = slices.DeleteFunc(w.out.Acts, func(a reading.Act) bool { return slices.Contains(acts, a) })
	}
	if slices.Contains(w.out.Acts, reading.Yes) {
		drop(reading.More)
	}
	if told {
		drop(reading.Default, reading.Skip, reading.Unsure)
		if len(all) > 1 {
			drop(reading.Leave, reading.Save, reading.More)
		}
		if w.ctx.Asked == "" && slices.Contains(w.out.Acts, reading.No) {
			w.out.Corrects = true
			drop(reading.No)
		}
	} else if slices.ContainsFunc(w.out.Acts, func(a reading.Act) bool { return a == reading.Default || a == reading.Unsure || a == reading.Skip }) && len(w.out.About) == 0 {
		w.out.About = w.passed // weight doesn't matter
	}
	if len(w.out.Takes)+len(w.out.Parts) == 0 && len(w.out.Withdraws) == 0 {
		w.out.Corrects = false
	}
}

// settleTalk names the act of a text that told, asked and ordered nothing: small
// talk, a worry, or something that was not understood.
func (w settler) settleTalk(all []clause.Clause) {
	for i := range w.Items {
		if x := w.Items[i].Has("social"); x != nil && (w.out.Talk == "" || x.Value == "worry") {
			w.out.Talk = x.Value
		}
	}
	if len(w.out.Acts) > 0 {
		return
	}
	if !w.out.Empty() {
		w.act(reading.Tell)
		return
	}
	if len(w.passed) > 0 && len(all) == 1 && w.ctx.Asked == "" && len(w.out.Missed) == 0 { // weight
		w.out.About = w.passed
		w.act(reading.Ask)
		return
	}
	if w.out.Talk != "" {
		w.act(reading.Social)
		return
	}
	w.act(reading.Tell)
}

// withdrawn drops from what is taken back what is told anew.
func (w settler) withdrawn() {
	w.out.Withdraws = slices.DeleteFunc(w.out.Withdraws, func(path string) bool { return w.answered(path) })
	if len(w.out.Withdraws) == 0 {
		w.out.Withdraws = nil
	}
}

// harmWord reports whether an item is made of words of harm, which are accounted
// for once something was read about it.
func (w settler) harmWord(it *cover.Item) bool {
	for k := it.From; k < it.To; k++ {
		if !w.r.harm.Knows(w.At(k).Text) {
			return false
		}
	}
	return true
}

// collectMissed gathers the stretches that nothing was made of.
func (w settler) collectMissed() {
	lost := func(i int) bool {
		it := w.Item(i)
		if i < len(w.Items) && len(w.out.Harm) > 0 && w.harmWord(it) {
			return false
		}
		return i < len(w.Items) && (it.Lost || !it.Used && it.Mark == "" && !it.Empty())
	}
	for i := 0; i < len(w.Items); i++ {
		if !lost(i) {
			continue
		}
		end := i + 1
		for lost(end) || w.Filler(end) && lost(end+1) {
			end++
		}
		w.out.Missed = append(w.out.Missed, cover.Clip(w.Said(i, end)))
		i = end - 1
	}
}

// sayBack fills Said.
func (w settler) sayBack() {
	for _, a := range w.out.Takes {
		if a.Path == "instrument.kind" && !a.Not && w.answered("instrument.id") ||
			a.Path == "player.mallets" && w.answered("player.grip") || a.Path == "instrument.octaves" {
			continue // the other says it too
		}
		if harm.Settles(a.Path) {
			w.out.Noted = append(w.out.Noted, w.r.retell.Take(a))
		} else {
			w.out.Said = append(w.out.Said, w.r.retell.Take(a))
		}
	}
	for _, p := range w.out.Parts {
		w.out.Said = append(w.out.Said, w.r.retell.Part(p))
	}
	for _, m := range w.out.Moves {
		w.out.Said = append(w.out.Said, retell.Move(m))
	}
	w.out.Said = append(w.out.Said, w.ruledOut...)
	for _, k := range w.kept {
		w.out.Said = append(w.out.Said, "the same "+k)
	}
}
