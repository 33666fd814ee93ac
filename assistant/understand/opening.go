package understand

import (
	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/stroke"
	"mallow/rules/facts"
)

// opener takes how a sound changes with the force of the stroke.
type opener struct{ *walk }

// begin reads what the sentence that begins with a clause says of sound and force.
func (w opener) begin(x *clause.Clause) {
	w.tie = stroke.Tie{}
	if x.Act != reading.Tell || w.Answered(facts.WantOpening) {
		return
	}
	from, to := stroke.Sentence(w.Chart, x.From)
	for i := x.From; i < len(w.Items) && w.Item(i).From < to; i++ {
		if w.Item(i).Has(facts.WantOpening) != nil {
			return
		}
	}
	w.tie = stroke.Read(w.Chart, from, to)
}

// takeTie takes what a sentence says of sound and force, at the first word that does.
func (w opener) takeTie(i int) int {
	it := w.Item(i)
	if !w.tie.Takes(it) || w.clause.Act != reading.Tell {
		return 0
	}
	if !w.Answered(facts.WantOpening) {
		w.add(reading.Take{Path: facts.WantOpening, Value: w.tie.How, Degree: 1, Text: w.Said(w.clause.From, w.clause.To), Sure: 0.9})
	}
	w.neg, w.more, w.degree, w.changed = false, 0, 0, true
	return 1
}

// takeOpening takes a sound that changes, or doesn't, with the force of the
// stroke: gets brighter when we lay into it, doesn't turn sharp when I hit harder.
func (w opener) takeOpening(i int) int {
	if !w.brightens(i) || w.Answered(facts.WantOpening) {
		return 0
	}
	for j := i + 1; j < w.clause.To && j < i+7; j++ {
		if !w.HasWord(j, j+1, "when", "as", "if", "once", "at", "whenever") {
			continue
		}
		if w.HasWord(j, min(j+7, w.clause.To), "hit", "lay", "dig", "lean", "push", "hard", "harder", "louder", "loud", "loudly", "strike", "stronger", "strong", "forte", "fortissimo", "force", "pushed", "ff") {
			value := "opens"
			if w.neg {
				value = "steady"
			}
			w.neg, w.more, w.degree = false, 0, 0
			end := min(j+8, w.clause.To)
			for k := j; k < end; k++ {
				if w.Item(k).Has("join") != nil || w.Item(k).Qty != nil {
					end = k
				}
			}
			w.add(reading.Take{Path: facts.WantOpening, Value: value, Degree: 1, Text: w.Said(i, end), Sure: 0.9})
			return end - i
		}
	}
	return 0
}

// brightens reports whether item i speaks of a sound that turns brighter.
func (w opener) brightens(i int) bool {
	for _, x := range w.Item(i).Senses {
		if x.Slot == "move" && x.Value == facts.WantColour && x.Num > 0 {
			return true
		}
		if x.Slot == facts.WantColour && x.Value == "bright" {
			return w.turns(i)
		}
	}
	return false
}

// turns reports whether a word for becoming stands before item i.
func (w opener) turns(i int) bool {
	return w.HasWord(max(w.clause.From, i-4), i+1, "get", "gets", "getting", "turn", "turns", "become", "becomes", "go", "goes", "grow", "grows", "gone", "going")
}
