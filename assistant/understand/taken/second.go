package taken

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
)

// second sets a second opinion beside what was taken of a line.
type second struct{ *Line }

// right reports how likely an answer is right, and ok where there is an opinion of it.
func (l second) right(a reading.Answer) (likely float64, ok bool) {
	a.Asked, a.Asks, a.Corrects = l.Ctx.Asked, slices.ContainsFunc(l.Out.Acts, clause.IsQuestion), l.Out.Corrects
	a.Follows = len(l.Ctx.Before.Takes)+len(l.Ctx.Before.Moves)+len(l.Ctx.Before.Parts) > 0
	l.Out.Weighed = append(l.Out.Weighed, a)
	return l.Opinion.Right(hunch.Show(a, l.Shown, l.Text))
}

// harm doubts what is said of harm where that is likely wrong. It is asked: the careful
// answer holds meanwhile, unless it is nearly sure to be wrong; the other never does. What
// the line likely speaks of and nothing was heard of is asked as well.
func (l second) harm() {
	for i := range l.Out.Harm {
		f := &l.Out.Harm[i]
		careful := f.Value == harm.Careful(f.Path)
		of := hunch.Safe
		if careful {
			of = hunch.Harm
		}
		p, ok := l.right(reading.Answer{Of: of, Path: f.Path, Value: f.Value, Doubt: f.Doubt, Faint: f.Faint, Back: f.TakesBack, Text: f.Text, Sure: 1})
		if ok && !f.TakesBack && !f.Faint && l.Hunch.Asks(of, p) {
			f.Value, f.Doubt, f.Faint = harm.Careful(f.Path), true, !careful || l.Hunch.Leaves(of, p)
		}
	}
	for _, path := range l.Opinion.Missed() {
		if harm.Settles(path) && !slices.ContainsFunc(l.Out.Harm, func(f harm.Fact) bool { return f.Path == path }) {
			l.Out.Harm = append(l.Out.Harm, harm.Fact{Path: path, Value: harm.Careful(path), Doubt: true, Faint: true})
		}
	}
}

// hear asks back what was taken and is likely wrong, leaves what is nearly sure to be, and
// asks for what the line likely speaks of and nothing was taken of. A question may speak
// of what it will.
func (l second) hear() {
	l.Out.Takes = slices.DeleteFunc(l.Out.Takes, func(t reading.Take) bool {
		return !harm.Settles(t.Path) && l.leaves(t.Path, reading.Answer{Of: hunch.Take, Path: t.Path, Value: t.Value, Not: t.Not, Bound: t.Bound, Text: t.Text, Sure: t.Sure})
	})
	l.Out.Moves = slices.DeleteFunc(l.Out.Moves, func(m reading.Move) bool {
		return l.leaves(m.Path, reading.Answer{Of: hunch.Move, Path: m.Path, Value: m.By, Text: m.Text})
	})
	l.Out.Parts = slices.DeleteFunc(l.Out.Parts, func(p reading.Part) bool {
		return p.Holding == reading.Have && l.leaves("parts", reading.Answer{Of: hunch.Part, Path: "part." + p.Kind, Value: string(p.Holding), Part: &p, Text: p.Text, Sure: p.Sure})
	})
	if slices.ContainsFunc(l.Out.Acts, clause.IsQuestion) {
		return
	}
	for _, path := range l.Opinion.Missed() {
		if !harm.Settles(path) && !slices.ContainsFunc(hunch.Near(path), l.heard) {
			l.Doubt(path, "")
		}
	}
}

// leaves asks back a fact whose answer is likely wrong, and reports whether that is not
// to be taken meanwhile.
func (l second) leaves(path string, a reading.Answer) bool {
	p, ok := l.right(a)
	if !ok || !l.Hunch.Asks(a.Of, p) {
		return false
	}
	l.Doubt(path, a.Text)
	return l.Hunch.Leaves(a.Of, p)
}

// heard reports whether something was made of a fact.
func (l second) heard(path string) bool {
	of := func(p string) bool { return strings.Replace(p, "head.", "want.", 1) == path }
	return l.Answered(path) || slices.ContainsFunc(l.Out.Moves, func(m reading.Move) bool { return of(m.Path) }) ||
		slices.ContainsFunc(l.Out.Keeps, of) || slices.ContainsFunc(l.Out.Withdraws, of) ||
		slices.ContainsFunc(l.Passed, func(t reading.Topic) bool { return of(t.ID) })
}
