package understand

import (
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
)

// topics takes what can be asked about, changed or kept.
type topics struct{ *walk }

// takeTopic takes what can be asked about, changed or kept.
func (w topics) takeTopic(i int) int {
	it := w.Item(i)
	x := it.Has("topic")
	if x == nil {
		return 0
	}
	switch {
	case w.same:
		keeper(w).keep(i)
		w.same, w.content = false, true
	case w.allTools(x):
		for _, t := range x.Topic {
			w.add(reading.Take{Path: t.ID, Value: w.holding() == reading.Have, Degree: 1, Text: w.Said(i, i+1), Sure: it.Sure()})
		}
	case x.Topic[0].Kind == "fact":
		w.topic = x.Topic[0].ID
		w.Passed = append(w.Passed, x.Topic...)
	case figure.Alone(w.place(), i):
		w.Topic(i, w.clause.Act, false)
	}
	return 1
}

// allTools reports whether the person has, or lacks, what a sense stands for: "no tools".
func (w topics) allTools(x *lexis.Sense) bool {
	for _, t := range x.Topic {
		if !w.Lex.IsTruth(t.ID) || len(x.Topic) < 2 {
			return false
		}
	}
	return w.hold == reading.Have || w.hold == reading.Lack || w.neg && w.deniedAt == keeper(w).stay().ItemBefore(w.taking)
}
