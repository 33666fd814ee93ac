package taken

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
)

// second sets a second opinion beside what was taken of a line.
type second struct{ *Line }

// hears shows the second opinion what was made of the line so far.
func (l second) hears() {
	missed := 0
	for i := range l.Items {
		if l.owner(i) == reading.Missed {
			missed++
		}
	}
	l.Out.Heard = hunch.Hear(l.Out, missed)
	for _, g := range l.Opinion.Guesses() { // of harm what it thought at first counts too
		if harm.Settles(g.Path) {
			l.Guesses = append(l.Guesses, g)
		}
	}
	l.Opinion = l.Opinion.Knowing(l.Out.Heard)
	l.Guesses = append(l.Guesses, l.Opinion.Guesses()...)
}

// right reports how likely an answer is right, and ok where there is an opinion of it.
func (l second) right(a reading.Answer) (likely float64, ok bool) {
	a.Asked, a.Asks, a.Corrects = l.Ctx.Asked, slices.ContainsFunc(l.Out.Acts, clause.IsQuestion), l.Out.Corrects
	a.Follows = l.Ctx.follows()
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
		if ok && !f.TakesBack && !f.Faint && l.Hunch.Asks(of, p) && !(l.Ctx.Note && apart(l.Text, f.Text)) {
			f.Value, f.Doubt, f.Faint = harm.Careful(f.Path), true, !careful || l.Hunch.Leaves(of, p)
		}
	}
	for _, g := range l.Guesses {
		if g.Of != hunch.Take || !harm.Settles(g.Path) || slices.ContainsFunc(l.Out.Harm, func(f harm.Fact) bool { return f.Path == g.Path }) {
			continue
		}
		careful := harm.Careful(g.Path)
		if held := g.Value == careful && l.Hunch.Holds(g); held || l.Hunch.Wonders(g) {
			l.Out.Harm = append(l.Out.Harm, harm.Fact{Path: g.Path, Value: careful, Doubt: true, Faint: !held})
		}
	}
}

// apart reports whether a few words stand by themselves between marks, as notes are
// written: marimba, adult, latex is fine.
func apart(text, stretch string) bool {
	const marks, few = ",;", 4
	before, behind, ok := strings.Cut(text, stretch)
	before, behind = strings.TrimSpace(before), strings.TrimSpace(behind)
	return ok && stretch != text && len(strings.Fields(stretch)) <= few && (before == "" || strings.ContainsRune(marks, rune(before[len(before)-1]))) && (behind == "" || strings.ContainsRune(marks, rune(behind[0])))
}

// hear asks back what was taken and is likely wrong, leaves what is likelier wrong than
// right, and asks for what the line likely speaks of and nothing was taken of. A question may speak
// of what it will.
func (l second) hear() {
	l.Out.Takes = slices.DeleteFunc(l.Out.Takes, func(t reading.Take) bool {
		return !harm.Settles(t.Path) && l.leaves(t.Path, reading.Answer{Of: hunch.Take, Path: t.Path, Value: t.Value, Not: t.Not, Bound: t.Bound, Text: t.Text, Sure: t.Sure})
	})
	l.Out.Moves = slices.DeleteFunc(l.Out.Moves, func(m reading.Move) bool {
		left := l.leaves(m.Path, reading.Answer{Of: hunch.Move, Path: m.Path, Value: m.By, Text: m.Text})
		return left && !l.Ctx.Head // what is said of a head there is mostly moves it
	})
	l.Out.Parts = slices.DeleteFunc(l.Out.Parts, func(p reading.Part) bool {
		return p.Holding == reading.Have && l.leaves("parts", reading.Answer{Of: hunch.Part, Path: "part." + p.Kind, Value: string(p.Holding), Part: &p, Text: p.Text, Sure: p.Sure})
	})
	if slices.ContainsFunc(l.Out.Acts, clause.IsQuestion) {
		return
	}
	for _, g := range l.Guesses {
		if !harm.Settles(g.Path) && !slices.ContainsFunc(hunch.Near(g.Path), l.heard) {
			l.guess(g)
		}
	}
}

// guess takes what the line likely says of a fact of which nothing was taken, and asks it
// back unless it is nearly sure.
func (l second) guess(g hunch.Guess) {
	held := l.Hunch.Holds(g)
	switch {
	case g.Of == hunch.Withdraw:
		return
	case g.Of == hunch.Keep:
		if held && l.Ctx.follows() {
			l.Keep(g.Path, retell.Name(g.Path))
		}
		return
	case held && g.Of == hunch.Move:
		l.Out.Moves = append(l.Out.Moves, reading.Move{Path: g.Path, By: g.By})
	case held:
		l.Out.Takes = append(l.Out.Takes, reading.Take{Path: g.Path, Value: g.Value, Bound: g.Bound, Sure: g.Likely})
	case !l.Hunch.Wonders(g):
		return
	}
	if !l.Hunch.Sure(g) {
		l.Doubt(g.Path, "")
	}
}

// order finds what a line of which nothing was taken likely asks or orders. What it takes
// back is what it likely speaks of.
func (l second) order() {
	plain := !slices.ContainsFunc(l.Out.Acts, func(a reading.Act) bool { return a != reading.Tell && a != reading.Social })
	act, ok := l.Hunch.Orders(l.Opinion)
	if !ok || !plain || !l.Out.Empty() || len(l.Out.Harm) > 0 || act == reading.Undo && !l.Ctx.follows() {
		return
	}
	if act != reading.Undo {
		l.Out.Acts = []reading.Act{act}
		return
	}
	for _, g := range l.Guesses {
		if !harm.Settles(g.Path) && l.Hunch.Drops(g) {
			l.Withdraw(g.Path)
			l.Out.Acts, l.Out.Corrects = []reading.Act{reading.Change}, true
		}
	}
}

// leaves asks back a fact whose answer is likely wrong, unless it is nearly sure to be,
// and reports whether that is not to be taken meanwhile.
func (l second) leaves(path string, a reading.Answer) bool {
	p, ok := l.right(a)
	if !ok || !l.Hunch.Asks(a.Of, p) {
		return false
	}
	if l.Hunch.Gone(a.Of, p) {
		l.lose(a.Text)
		return true
	}
	l.Doubt(path, a.Text)
	return l.Hunch.Leaves(a.Of, p)
}

// lose marks the items of a stretch of the text as missed, of which something had been made.
func (l second) lose(text string) {
	for _, i := range within(l.Line, text) {
		it := l.Item(i)
		it.Lost = !l.harmed(i) && it.Mark == "" && !it.Empty()
	}
}

// heard reports whether something was made of a fact.
func (l second) heard(path string) bool {
	of := func(p string) bool { return strings.Replace(p, "head.", "want.", 1) == path }
	return l.Answered(path) || slices.ContainsFunc(l.Out.Moves, func(m reading.Move) bool { return of(m.Path) }) ||
		slices.ContainsFunc(l.Out.Keeps, of) || slices.ContainsFunc(l.Out.Withdraws, of) ||
		slices.ContainsFunc(l.Passed, func(t reading.Topic) bool { return of(t.ID) })
}
