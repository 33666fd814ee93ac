package taken

import "mallow/assistant/understand/reading"

// Had lets the part that was named last, in a question or not, be had, and reports
// whether there was one: would floss do? I have that.
func Had(l *Line) bool {
	if n := len(l.Out.Supposed.Parts); n > 0 && l.Out.Supposed.Parts[n-1].Holding == reading.Named {
		p := l.Out.Supposed.Parts[n-1]
		l.Out.Supposed.Parts, p.Holding = l.Out.Supposed.Parts[:n-1], reading.Have
		l.Out.Parts = append(l.Out.Parts, p)
		return true
	}
	if n := len(l.Out.Parts); n > 0 && l.Out.Parts[n-1].Holding == reading.Named {
		l.Out.Parts[n-1].Holding = reading.Have
		return true
	}
	return false
}
