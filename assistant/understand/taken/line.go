// Package taken holds what has been taken of a line so far, and settles at its
// end what only the whole line can decide: denials, harm, orders, what was missed,
// how it is said back. It never reads a phrase as an answer, and keeps no words.
package taken

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/rules/facts"
)

// Context is what a text answers to.
type Context struct {
	// Asked is the path of the fact just asked about, such as want.mass_g, or
	// "parts" where it was which parts are on hand, or empty. It lets "28", "yes"
	// and "3/4" be read.
	Asked string
	// Instrument is the catalogue id of the instrument settled so far, which
	// "top octave" is a part of.
	Instrument string
	// Before is what the same person said last that settled something. It lets
	// "sorry, I meant 28" and "scratch that" be read.
	Before reading.Reading
	// Head is set where there is a head that the text may be about: a bit softer.
	Head bool
	// Note is set where nobody can be asked back: a wish on a command line, or of a roster.
	Note bool
}

// follows reports whether something was said before, or there is a head.
func (c Context) follows() bool {
	return c.Head || len(c.Before.Takes)+len(c.Before.Moves)+len(c.Before.Parts) > 0
}

// Told reports whether an answer is one that was given before: leave it dark.
func (c Context) Told(x *lexis.Sense) bool {
	return x != nil && slices.ContainsFunc(c.Before.Takes, func(t reading.Take) bool { return t.Path == x.Slot && t.Value == x.Fact && !t.Not })
}

// Line is a line and what was taken of it so far.
type Line struct {
	*cover.Chart
	Ctx     Context
	Harm    *harm.Reader
	Speaker *retell.Speaker
	Hunch   *hunch.Net

	Shown   []hunch.Word // the line as the second opinion is shown it
	Opinion hunch.Opinion
	Guesses []hunch.Guess // what the line likely says
	Out     reading.Reading
	Passed  []reading.Topic // facts that were named and nothing said of
	Kept    []string        // what is to stay, in words
	Denials []string        // facts that were answered by a denial alone: not mushy

	ruledOut []string // what was ruled out beside a wish, in their words
}

// Answered reports whether a fact has an answer by now.
func (l *Line) Answered(path string) bool { return l.SaidOf(path) != nil }

// SaidOf returns the last answer to a fact so far, or nil.
func (l *Line) SaidOf(path string) *reading.Take {
	for i := len(l.Out.Takes) - 1; i >= 0; i-- {
		if l.Out.Takes[i].Path == path {
			return &l.Out.Takes[i]
		}
	}
	return nil
}

// Doubt notes that a fact has to be asked.
func (l *Line) Doubt(path, text string) {
	if !slices.ContainsFunc(l.Out.Asks, func(d reading.Doubt) bool { return d.Path == path }) {
		l.Out.Asks = append(l.Out.Asks, reading.Doubt{Path: path, Text: cover.Clip(text)})
	}
}

// Several reports whether the text speaks of more than one head or instrument.
func (l *Line) Several() bool {
	ones := 0
	for i := range l.Items {
		if l.Says(i, "pair") && l.Item(i).Qty == nil || l.Is(i, "one", "1", "other", "others", "another", "both", "ones", "pair", "pairs", "set", "sets", "/") || l.Says(i, "second", "third") || l.Item(i).Has("count") != nil {
			ones++
		}
		if q := l.Item(i).Qty; q != nil && q.Form == "pair" && q.Value > 1 { // 3 pairs: soft, medium, hard
			ones++
		}
		if l.Item(i).Qty != nil && l.Item(i).Qty.Form == "pair" || l.Item(i).Qty != nil && l.Is(i, "one", "1") {
			ones++
		}
	}
	return l.Kinds() > 1 || figure.Apart(l.Chart) || ones > 1 || l.purposes() > 1 || l.graded() > 2
}

// graded counts the grades of hardness that stand in a list, one straight after
// another: soft, medium soft, medium and hard.
func (l *Line) graded() (n int) {
	last := -9
	for i := range l.Items {
		if l.Item(i).Has(facts.WantSoftness) == nil || l.Item(i).Qty != nil {
			continue
		}
		if i-last > 3 {
			n = 0
		}
		n, last = n+1, i
	}
	return n
}

// purposes counts the wishes that are told for what or for whom they are: soft for the
// low bars and hard for up top.
func (l *Line) purposes() int {
	n := 0
	for i := range l.Items {
		f := l.Item(i).Fact()
		if f == nil || f.Slot != facts.WantSoftness && f.Slot != facts.WantColour && f.Slot != facts.WantAttack {
			continue
		}
		j := i + 1
		for l.Is(j, "one", "ones", "pair", "pairs", "head", "heads", "mallets", "set") {
			j++
		}
		if l.Starts(j, "for", "on", "to") {
			n++
		}
	}
	return n
}

// Kinds counts the instruments that the text speaks of.
func (l *Line) Kinds() int {
	kinds := map[string]bool{}
	for i := range l.Items {
		if x := l.Items[i].Has("instrument.kind"); x != nil {
			kinds[x.Value] = true
		}
	}
	return len(kinds)
}

// Louder reports whether dynamic a is above b.
func (l *Line) Louder(a, b any) bool {
	dynamics := l.Lex.OneOf("want.loudest")
	x, _ := a.(string)
	y, _ := b.(string)
	return slices.Index(dynamics, x) > slices.Index(dynamics, y)
}

// Harmed reports whether item i is part of what was said about harm.
func (l *Line) Harmed(i int) bool { return l.Item(i).Harm }

// Act notes an act.
func (l *Line) Act(a reading.Act) {
	if n := len(l.Out.Acts); n == 0 || l.Out.Acts[n-1] != a {
		l.Out.Acts = append(l.Out.Acts, a)
	}
}

// UseAll marks items as made something of.
func (l *Line) UseAll(from, to int) {
	for i := from; i < to; i++ {
		l.Item(i).Used = true
	}
}

// Size counts what was taken.
func (l *Line) Size() int {
	return len(l.Out.Takes) + len(l.Out.Parts) + len(l.Out.Moves) + len(l.Out.Keeps) + len(l.Out.Withdraws) + l.Out.Grades
}

// Keep notes that a fact or a kind of part is to stay, said back as say, or not where
// that is "".
func (l *Line) Keep(id, say string) {
	if slices.Contains(l.Out.Keeps, id) || harm.Settles(id) { // everyone is fine
		return
	}
	l.Out.Keeps = append(l.Out.Keeps, id)
	if say != "" && !slices.Contains(l.Kept, say) {
		l.Kept = append(l.Kept, say)
	}
}

// Withdraw notes that a fact or a kind of part is taken back.
func (l *Line) Withdraw(path string) {
	if !slices.Contains(l.Out.Withdraws, path) {
		l.Out.Withdraws = append(l.Out.Withdraws, path)
	}
}

// LastFigure returns the last answer when it is a number, else nil.
func (l *Line) LastFigure() *reading.Take {
	if n := len(l.Out.Takes); n > 0 {
		if _, ok := l.Out.Takes[n-1].Value.(float64); ok {
			return &l.Out.Takes[n-1]
		}
	}
	return nil
}
