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

// harm doubts what is said of harm: the careful answer never, and the other is not taken
// meanwhile.
func (l second) harm(o hunch.Opinion) {
	for i := range l.Out.Harm {
		f := &l.Out.Harm[i]
		if f.Value != harm.Careful(f.Path) && !f.TakesBack && !f.Doubt && !l.alone(f.Text) && o.Harm(f.Path, f.Value) {
			f.Value, f.Doubt, f.Faint = harm.Careful(f.Path), true, true
		}
	}
	for _, path := range o.Missed() {
		if harm.Settles(path) && !slices.ContainsFunc(l.Out.Harm, func(f harm.Fact) bool { return f.Path == path }) {
			l.Out.Harm = append(l.Out.Harm, harm.Fact{Path: path, Value: harm.Careful(path), Doubt: true, Faint: true})
		}
	}
}

// hear asks back what was taken and the line hardly speaks of, and asks for what it
// likely speaks of and nothing was taken of. A question may speak of what it will.
func (l second) hear(o hunch.Opinion) {
	for _, t := range l.Out.Takes {
		value := t.Value
		if t.Not || t.Bound != "" {
			value = nil
		}
		heard := l.Out.Corrects && slices.ContainsFunc(l.Ctx.Before.Takes, func(b reading.Take) bool { return b.Path == t.Path })
		if !heard && !harm.Settles(t.Path) && !l.alone(t.Text) && o.Fact(t.Path, value) {
			l.Doubt(t.Path, t.Text)
		}
	}
	for _, m := range l.Out.Moves {
		if !l.alone(m.Text) && o.Move(m.Path, m.By) {
			l.Doubt(m.Path, m.Text)
		}
	}
	for _, p := range l.Out.Parts {
		if p.Holding == reading.Have && !l.alone(p.Text) && o.Part(p.Kind) {
			l.Doubt("parts", p.Text)
		}
	}
	if slices.ContainsFunc(l.Out.Acts, clause.IsQuestion) {
		return
	}
	for _, path := range o.Missed() {
		if !harm.Settles(path) && !slices.ContainsFunc(hunch.Near(path), l.heard) {
			l.Doubt(path, "")
		}
	}
}

// alone reports whether words stand between marks with hardly anything beside them:
// four mallets, dark, 28 g.
func (l second) alone(words string) bool {
	const marks = ",.;:!?()&"
	at := strings.Index(l.Text, words)
	if at < 0 || words == "" {
		return false
	}
	from := strings.LastIndexAny(l.Text[:at], marks) + 1
	to := len(l.Text)
	if n := strings.IndexAny(l.Text[at+len(words):], marks); n >= 0 {
		to = at + len(words) + n
	}
	return len(strings.Fields(l.Text[from:to])) < hunch.Shortest
}

// heard reports whether something was made of a fact.
func (l second) heard(path string) bool {
	of := func(p string) bool { return strings.Replace(p, "head.", "want.", 1) == path }
	return l.Answered(path) || slices.ContainsFunc(l.Out.Moves, func(m reading.Move) bool { return of(m.Path) }) ||
		slices.ContainsFunc(l.Out.Keeps, of) || slices.ContainsFunc(l.Out.Withdraws, of) ||
		slices.ContainsFunc(l.Passed, func(t reading.Topic) bool { return of(t.ID) })
}
