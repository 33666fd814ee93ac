// Package slip finds what a person says of a slip of their own: how it came about (I
// read the ruler from the wrong end), which tells nothing of mallets, and what they had
// said (did I say bells? the soft was wrong), which something else stands for. It takes
// nothing, and changes only the chart: what was said before and no longer holds is dropped.
package slip

import (
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
)

// Line is a line in its clauses, and what the same person said before it.
type Line struct {
	*cover.Chart
	Clauses []clause.Clause
	Before  reading.Reading
	Several bool // it speaks of more than one head
}

// Found is what a line says of slips.
type Found struct {
	Aside     []bool   // by clause: it only tells of a slip
	Withdraws []string // facts that were wrongly told, with nothing told in their place
	Corrects  bool
	Replaces  bool   // something is told in place of what was
	Rest      bool   // and only of that: all else stays
	Of        string // the fact that was
}

// Read returns what the line says of slips, and drops from its chart what something
// else stands for.
func Read(l Line) Found {
	out := Found{Aside: make([]bool, len(l.Clauses))}
	if len(l.Before.Takes)+len(l.Before.Parts)+len(l.Before.Moves) == 0 {
		return out
	}
	kinds := make([]string, len(l.Clauses))
	out.Corrects = l.starred()
	excused := l.Contrasts || out.Corrects
	for k, x := range l.Clauses {
		kinds[k] = l.kind(x)
		excused = excused || kinds[k] == "aside" || kinds[k] == "loose"
	}
	for i := range l.Items {
		excused = excused || l.Item(i).Has("mend") != nil
	}
	for k, x := range l.Clauses {
		if l.takesBack(x) {
			continue // by its own words
		}
		for i := x.From; i < x.To; i++ {
			path := l.old(i)
			if path == "" || strings.HasPrefix(path, "material ") && l.gone(x) {
				continue
			}
			if at := l.other(i, path); at < 0 {
				if !l.withdrawn(x, i, kinds[k]) {
					continue
				}
				out.Withdraws = append(out.Withdraws, path)
			} else {
				if !l.denied(x, i, kinds[k]) && (!excused || l.Several) {
					continue
				}
				out.Replaces = true
				l.Share(at, i)
				if q := l.Item(i).Qty; q != nil {
					was := *q
					l.Denied = &was
				}
			}
			out.Of = path
			out.Rest = out.Rest || kinds[k] == "wrong" && l.Starts(x.From, "only", "just")
			l.drop(x, i)
			out.Corrects, out.Aside[k] = true, true
		}
	}
	for k, x := range l.Clauses {
		switch told := l.tells(x); {
		case out.Aside[k] && told:
			out.Aside[k] = false
		case out.Aside[k]:
			for i := x.From; i < x.To; i++ {
				l.Drop(i)
			}
		case kinds[k] == "loose":
			out.Aside[k] = l.told(k)
		case kinds[k] == "aside":
			out.Aside[k] = !told
		}
		out.Corrects = out.Corrects || out.Aside[k]
	}
	return out
}

// starred reports whether the line is put right as people do in a chat: *28 g.
func (l Line) starred() bool {
	n := len(l.Tokens)
	return n > 1 && (l.Tokens[0].Is("*") || l.Tokens[n-1].Is("*"))
}

// takesBack reports whether a clause has words for taking something back.
func (l Line) takesBack(x clause.Clause) bool {
	for i := x.From; i < x.To; i++ {
		if l.Item(i).Has("withdraw") != nil {
			return true
		}
	}
	return false
}

// gone reports whether a clause says what became of a part: the mohair went to the charity.
func (l Line) gone(x clause.Clause) bool {
	for i := x.From; i < x.To; i++ {
		if l.Item(i).Any("held", "holding") {
			return true
		}
	}
	return l.HasWord(x.From, x.To, "gave", "sold", "lent", "binned", "lost")
}

// kind returns what a clause says of a slip, as the word list has it, or "".
func (l Line) kind(x clause.Clause) (kind string) {
	if x.Act != reading.Tell && !clause.IsQuestion(x.Act) && x.Act != reading.Unsure && x.Act != reading.Show && x.Act != reading.Social {
		return ""
	}
	first, last := l.Item(x.From).From, l.Item(x.To-1).To
	for t := first; t < last; t++ {
		s, n := l.at(t)
		if s == nil || t+n > last || x.Act == reading.Show && t > first {
			continue
		}
		if kind == "" || s.Value == "loose" {
			kind = s.Value
		}
		t += n - 1
	}
	return kind
}

// at returns the longest phrase at token t that tells of a slip, and its length.
func (l Line) at(t int) (sense *lexis.Sense, n int) {
	l.Phrases(t, func(senses []*lexis.Sense, m int) {
		for _, s := range senses {
			if s.Slot == "slip" {
				sense, n = s, m
			}
		}
	})
	return sense, n
}

// withdrawn reports whether what was said before, at item i of clause x, is taken back
// with nothing told in its place.
func (l Line) withdrawn(x clause.Clause, i int, kind string) bool {
	return kind == "wrong" || l.asksSaid(x) || kind == "said" && l.HasWord(i, x.To, "nothing", "none", "blank", "undecided", "open")
}

// asksSaid reports whether a clause asks whether something was said: did I say bells?
func (l Line) asksSaid(x clause.Clause) bool {
	return l.Starts(x.TopicAt, "did", "didnt") || l.Starts(x.From, "did", "didnt")
}

// denied reports whether what was said before, at item i of clause x, is named as what
// no longer holds.
func (l Line) denied(x clause.Clause, i int, kind string) bool {
	if kind != "" || l.negated(x, i) >= 0 || l.Starts(x.From, "for") && l.HasWord(i, x.To, "read", "say", "put") || l.Starts(i+1, "was", "were", "before", "earlier", "previously") {
		return true
	}
	return l.HasWord(x.From, i, "was", "were", "wasnt", "werent", "had") && !l.HasWord(i, x.To, "still")
}

// negated returns the item that denies what item i names, or -1.
func (l Line) negated(x clause.Clause, i int) int {
	j := i - 1
	for j > x.From && (l.Filler(j) || l.Item(j).Has("degree") != nil || l.OfPart(j)) {
		j--
	}
	if j >= x.From && (l.Item(j).Any("not", "withdraw") || l.Starts(j, "not", "isnt", "wasnt", "arent", "instead", "rather", "replace", "change", "correct", "swap", "switch", "no") || l.Says(j, "not", "isnt", "arent")) {
		return j
	}
	return -1
}

// drop drops what item i of clause x names, the words that make one with it, and the word
// that denies it.
func (l Line) drop(x clause.Clause, i int) {
	if j := l.negated(x, i); j >= 0 && l.Item(j).Any("not", "holding", "mend") {
		l.Drop(j)
	}
	if l.Item(i).Has("material") != nil && l.Item(i+1).Has("kind") != nil {
		l.Drop(i + 1)
	}
	if l.Item(i).Qty != nil && l.Item(i+1).Any("kind", "count", "role") {
		l.Drop(i + 1)
	}
	if l.Item(i-1).Has("degree") != nil {
		l.Drop(i - 1)
	}
	l.Drop(i)
}

// tells reports whether a clause holds what may be told, past what was dropped.
func (l Line) tells(x clause.Clause) bool {
	for i := x.From; i < x.To; i++ {
		it := l.Item(i)
		if it.Qty != nil && !(it.Qty.Spelt && it.Qty.Value == 1) || it.Note != nil || it.ID != "" || it.Any("move", "wish", "kind", "material", "withdraw") {
			return true
		}
		if f := it.Fact(); f != nil && !strings.HasPrefix(f.Slot, "bench.") {
			return true
		}
	}
	return false
}

// told reports whether another clause than k holds what may be told.
func (l Line) told(k int) bool {
	for j, x := range l.Clauses {
		if j != k && l.tells(x) {
			return true
		}
	}
	return false
}
