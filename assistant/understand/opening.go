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
	tie := stroke.Read(w.Chart, from, to)
	for i := x.From; i < len(w.Items) && w.Item(i).From < to; i++ {
		if w.Item(i).Has(facts.WantOpening) != nil && tie.How != stroke.Even {
			tie.Only = true // the words say it by themselves
		}
	}
	w.tie = tie
}

// takeTie takes what a sentence says of sound and force, at the first word that does.
func (w opener) takeTie(i int) int {
	it := w.Item(i)
	if !w.tie.Takes(it) || w.clause.Act != reading.Tell || w.tie.Only && it.Has(facts.WantLoudest) == nil {
		return 0
	}
	if !w.Answered(facts.WantOpening) && !w.tie.Only {
		w.add(reading.Take{Path: facts.WantOpening, Value: w.tie.How, Degree: 1, Text: w.Said(w.clause.From, w.clause.To), Sure: 0.9})
	}
	w.neg, w.more, w.degree, w.changed = false, 0, 0, true
	return 1
}

// takeOpening takes a sound that changes, or doesn't, with the force of the
// stroke: gets brighter when we lay into it, doesn't turn sharp when I hit harder.
func (w opener) takeOpening(i int) int {
	if !stroke.Brightens(w.Chart, w.clause.From, i) || w.Answered(facts.WantOpening) {
		return 0
	}
	for j := i + 1; j < w.clause.To && j < i+7; j++ {
		if !w.Says(j, "when", "as", "if", "once", "at", "whenever") {
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
