package taken

import (
	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
)

// Recast forms the second opinion of a line, and lets the clauses tell that the patterns
// take for questions and likely are none: the bread is in the oven so make this snappy.
func Recast(l *Line, all []clause.Clause) {
	l.Opinion = l.Hunch.Think(l.Shown, l.Ctx.Asked)
	for k := range all {
		x := &all[k]
		if !clause.IsQuestion(x.Act) {
			continue
		}
		p, ok := second{l}.right(reading.Answer{Of: hunch.Act, Path: "act.question", Value: string(x.Act), Text: l.Said(x.From, min(x.To+1, len(l.Items))), Sure: 1})
		if ok && l.Hunch.Leaves(hunch.Act, p) {
			x.Act = reading.Tell
		}
	}
}
