package taken

import (
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/reading"
)

// account says of every item what became of it, and names what was missed. An item
// that carries something and was neither used nor read about harm is missed.
func (l *Line) account() {
	owners := make([]reading.Owner, len(l.Items))
	for i := range l.Items {
		owners[i] = l.owner(i)
	}
	for i := 0; i < len(owners); i++ {
		if owners[i] != reading.Missed {
			continue
		}
		end := i + 1
		for end < len(owners) && (owners[end] == reading.Missed || l.Filler(end) && end+1 < len(owners) && owners[end+1] == reading.Missed) {
			end++
		}
		for j := i; j < end; j++ {
			owners[j] = reading.Missed
		}
		l.Out.Missed = append(l.Out.Missed, cover.Clip(l.Said(i, end)))
		i = end - 1
	}
	for i := 0; i < len(owners); {
		end := i + 1
		for end < len(owners) && owners[end] == owners[i] {
			end++
		}
		l.Out.Spans = append(l.Out.Spans, reading.Span{Text: l.Said(i, end), Owner: owners[i]})
		i = end
	}
}

// owner says what became of item i.
func (l *Line) owner(i int) reading.Owner {
	it := l.Item(i)
	switch {
	case l.harmed(i):
		return reading.Used
	case it.Lost, !it.Used && it.Mark == "" && !it.Empty():
		return reading.Missed
	case it.Mark != "", l.Filler(i):
		return reading.Filler
	case it.Used && !it.Empty(), l.turns(it):
		return reading.Used
	}
	return reading.Filler
}

// turners are the kinds of word that can turn round the meaning of others.
var turners = []string{"not", "bound", "holding", "withdraw", "mend", "keep", "same", "too"}

// turns reports whether an item can turn round the meaning of others.
func (l *Line) turns(it *cover.Item) bool { return it.Any(turners...) }

// Loose marks the items from..to as missed: they begin with a word that turns a
// meaning, such as not, and nothing was found that it is said of. What else is not
// known among them is named with it; where all is filler, as in didn't I, nothing is.
func (l *Line) Loose(from, to int) {
	said := false
	for i := from; i < to; i++ {
		if l.harmed(i) || i > from && l.Item(i).Used && !l.Item(i).Empty() {
			return
		}
		said = said || i > from && l.Item(i).Mark == "" && !l.Item(i).Empty()
	}
	for i := from; i < to && said; i++ {
		l.Item(i).Lost = l.Item(i).Mark == ""
	}
}

// harmed reports whether item i was read about harm, or is of its words where
// something was.
func (l *Line) harmed(i int) bool {
	return len(l.Out.Harm) > 0 && (l.Harmed(i) || l.harmWord(l.Item(i)))
}
