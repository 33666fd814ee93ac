package taken

import (
	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
)

// Recast forms the second opinion of a line, and where that is strongly against a question
// lets its clauses tell, which it returns: the bread is in the oven so make this snappy.
func Recast(l *Line, all []clause.Clause) []clause.Clause {
	l.Opinion = l.Hunch.Think(l.Shown, l.Ctx.Asked)
	some, s := false, hunch.Signs{Only: true, More: -1}
	for k := range all {
		x := &all[k]
		if x.First {
			s.More++
			s.Word = s.Word || clause.Begins(l.Chart, x)
		}
		some = some || clause.IsQuestion(x.Act)
		s.Only = s.Only && clause.IsQuestion(x.Act)
		s.Mark = x.End == "?"
	}
	if plain := s.Only && s.Word && s.More == 0; !some || plain || !l.Opinion.Idle(s) { // can my son use them on his
		return all
	}
	for k := range all {
		if clause.IsQuestion(all[k].Act) {
			all[k].Act = reading.Tell
		}
	}
	return all
}
