package taken

import (
	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
)

// Recast forms the second opinion of a line, and lets the clauses tell that the patterns
// take for questions or orders and likely are none: the bread is in the oven so make this snappy.
func Recast(l *Line, all []clause.Clause) {
	l.Opinion = l.Hunch.Think(l.Shown, l.Ctx.Asked, l.Ctx.follows())
	for k := range all {
		x := &all[k]
		of, path := hunch.Act, "act.question"
		switch x.Act {
		case reading.Undo, reading.Back, reading.Restart, reading.Save, reading.Leave, reading.Lesson:
			of, path = hunch.Order, "act.order"
		default:
			if !clause.IsQuestion(x.Act) {
				continue
			}
		}
		p, ok := second{l}.right(reading.Answer{Of: of, Path: path, Value: string(x.Act), Text: l.Said(x.From, min(x.To+1, len(l.Items))), Sure: 1})
		if ok && l.Hunch.Leaves(of, p) {
			x.Act = reading.Tell
		}
	}
}
