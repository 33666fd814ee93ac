package understand

import (
	"mallow/assistant/understand/harm"
	"slices"
	"strings"
)

// settle decides what can only be decided when the whole text has been read.
func (w *walk) settle(all []clause) {
	w.settleHarm()
	w.settlePairs()
	w.settleBack()
	w.settleActs(all)
	w.collectMissed()
	w.settleTalk(all)
	w.withdrawn()
}

// settleHarm puts what the text says about harm into the reading. A doubt holds
// the careful answer and is asked; what is taken back is asked before it counts.
func (w *walk) settleHarm() {
	for _, f := range w.out.Harm {
		switch {
		case f.TakesBack:
			w.withdraw(f.Path)
			w.doubt(f.Path, f.Text)
			w.out.Corrects = true
			continue
		case f.Doubt:
			w.doubt(f.Path, f.Text)
			if f.Path == harm.Supervised || f.Path == harm.Ventilated {
				continue // the careful answer is the usual one
			}
		}
		w.out.Takes = append(w.out.Takes, Take{Path: f.Path, Value: f.Value, Degree: 1, Text: clip(f.Text), Sure: 1})
		if !slices.Contains(w.out.Acts, Tell) && !slices.ContainsFunc(w.out.Acts, isQuestion) {
			w.act(Tell)
		}
	}
	// What somebody must not touch is no part on hand.
	w.out.Parts = slices.DeleteFunc(w.out.Parts, func(p Part) bool {
		return slices.ContainsFunc(w.out.Harm, func(f harm.Fact) bool {
			return !f.Value && (f.Path == harm.LatexOK && p.Material == "latex" || f.Path == harm.RubberOK && (p.Material == "rubber" || p.Material == "latex")) &&
				p.Bore == 0 && p.Diameter == 0 && p.Amount == 0 && (p.Holding == Named || p.Holding == Have)
		})
	})
}

// settlePairs makes one pair apiece as many as there are in the class.
func (w *walk) settlePairs() {
	class, pairs := w.saidOf("class.size"), w.saidOf("want.pairs")
	if class == nil || pairs == nil || pairs.Value != 1.0 {
		return
	}
	for i := range w.items {
		if w.starts(i, "each", "apiece", "every", "everyone", "everybody") {
			pairs.Value = class.Value
		}
	}
}

// useText marks the items within a stretch of the text as made something of.
func (w *walk) useText(text string) {
	at := strings.Index(w.text, text)
	if at < 0 || text == "" {
		return
	}
	for i := range w.items {
		it := &w.items[i]
		if w.at(it.from).From >= at && w.at(it.to-1).To <= at+len(text) {
			it.used, it.harm = true, true
		}
	}
}

// settleBack makes a correction of "scratch that, make it dark": it takes back
// what was said last, and tells.
func (w *walk) settleBack() {
	i := slices.Index(w.out.Acts, Undo)
	if i < 0 || w.out.Empty() {
		return
	}
	w.out.Acts[i] = Change
	w.out.Corrects = true
	for _, t := range w.ctx.Before.Takes {
		if !isHarm(t.Path) {
			w.withdraw(t.Path)
		}
	}
}

// settleActs decides between a command and a wish that began like one.
func (w *walk) settleActs(all []clause) {
	told := !w.out.Empty()
	drop := func(acts ...Act) {
		w.out.Acts = slices.DeleteFunc(w.out.Acts, func(a Act) bool { return slices.Contains(acts, a) })
	}
	if slices.Contains(w.out.Acts, Yes) {
		drop(More)
	}
	if told {
		drop(Default, Skip, Unsure)
		if len(all) > 1 {
			drop(Leave, Save, More)
		}
		if w.ctx.Asked == "" && slices.Contains(w.out.Acts, No) {
			w.out.Corrects = true
			drop(No)
		}
	} else if slices.ContainsFunc(w.out.Acts, func(a Act) bool { return a == Default || a == Unsure || a == Skip }) && len(w.out.About) == 0 {
		w.out.About = w.passed // weight doesn't matter
	}
	if len(w.out.Takes)+len(w.out.Parts) == 0 && len(w.out.Withdraws) == 0 {
		w.out.Corrects = false
	}
}

// settleTalk names the act of a text that told, asked and ordered nothing: small
// talk, a worry, or something that was not understood.
func (w *walk) settleTalk(all []clause) {
	for i := range w.items {
		if x := w.items[i].has("social"); x != nil && (w.out.Talk == "" || x.Value == "worry") {
			w.out.Talk = x.Value
		}
	}
	if len(w.out.Acts) > 0 {
		return
	}
	if !w.out.Empty() {
		w.act(Tell)
		return
	}
	if len(w.passed) > 0 && len(all) == 1 && w.ctx.Asked == "" && len(w.out.Missed) == 0 { // weight
		w.out.About = w.passed
		w.act(Ask)
		return
	}
	if w.out.Talk != "" {
		w.act(Social)
		return
	}
	w.act(Tell)
}

// withdrawn drops from what is taken back what is told anew.
func (w *walk) withdrawn() {
	w.out.Withdraws = slices.DeleteFunc(w.out.Withdraws, func(path string) bool { return w.answered(path) })
	if len(w.out.Withdraws) == 0 {
		w.out.Withdraws = nil
	}
}

// harmWord reports whether an item is made of words of harm, which are accounted
// for once something was read about it.
func (w *walk) harmWord(it *item) bool {
	for k := it.from; k < it.to; k++ {
		if !w.r.harm.Knows(w.at(k).Text) {
			return false
		}
	}
	return true
}

// collectMissed gathers the stretches that nothing was made of.
func (w *walk) collectMissed() {
	lost := func(i int) bool {
		it := w.item(i)
		if i < len(w.items) && len(w.out.Harm) > 0 && w.harmWord(it) {
			return false
		}
		return i < len(w.items) && (it.lost || !it.used && it.mark == "" && !it.empty())
	}
	for i := 0; i < len(w.items); i++ {
		if !lost(i) {
			continue
		}
		end := i + 1
		for lost(end) || w.filler(end) && lost(end+1) {
			end++
		}
		w.out.Missed = append(w.out.Missed, clip(w.said(i, end)))
		i = end - 1
	}
}
