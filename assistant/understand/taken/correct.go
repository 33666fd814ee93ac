package taken

import (
	"slices"

	"mallow/assistant/understand/reading"
)

// Mends settles whether the line corrects what was said before it, and drops the
// materials that it replaces: they're acetal, not nylon.
func (l *Line) Mends() {
	if len(l.Ctx.Before.Takes)+len(l.Ctx.Before.Parts) == 0 {
		return
	}
	for i := range l.Items {
		l.Out.Corrects = l.Out.Corrects || l.Item(i).Has("mend") != nil && !l.adds(i)
	}
	for i := range l.Items {
		kind := l.materialOf(i)
		if kind == "" || !l.saidBefore(i) {
			continue
		}
		denied := l.Is(i-1, "not") || l.Filler(i-1) && l.Is(i-2, "not")
		for j := range l.Items {
			if j != i && l.materialOf(j) == kind && !l.saidBefore(j) && (denied || l.Out.Corrects && j > i) {
				l.Out.Corrects = true
				if denied {
					for k := i - 1; k >= i-2 && l.Starts(k, "not"); k-- {
						l.Drop(k)
					}
				}
				l.Drop(i)
				break
			}
		}
	}
}

// adds reports whether what follows item i is told beside what was said before.
func (l *Line) adds(i int) bool {
	return l.HasWord(i, min(i+6, len(l.Items)), "also", "another", "too", "forgot", "forgotten", "besides", "plus")
}

// materialOf returns the kind of part that item i is a material for, or "".
func (l *Line) materialOf(i int) string {
	if x := l.Item(i).Has("material"); x != nil {
		return x.Material().Kind
	}
	return ""
}

// saidBefore reports whether the material of item i is that of a part named before.
func (l *Line) saidBefore(i int) bool {
	m := l.Item(i).Has("material").Material()
	return slices.ContainsFunc(l.Ctx.Before.Parts, func(p reading.Part) bool { return p.Kind == m.Kind && p.Material == m.ID && p.Made == m.Made })
}

// Truth gives the truth that was named last the value that stands behind a colon:
// drill: yes; scale: no. It reports whether there was one.
func Truth(l *Line, v bool) bool {
	n := len(l.Out.Takes)
	if n == 0 {
		return false
	}
	a := &l.Out.Takes[n-1]
	if _, ok := a.Value.(bool); ok {
		a.Value = v
		return true
	}
	return false
}

// Stretch makes an answer stronger: "as soft as possible".
func Stretch(l *Line, a *reading.Take, degree float64) {
	if _, ok := a.Value.(bool); ok {
		return
	}
	if v, ok := a.Value.(float64); ok && a.Path == "want.softness" && a.Degree == 1 {
		a.Value = l.Lex.Graded(v, degree)
	}
	a.Degree = degree
}
