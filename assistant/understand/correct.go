package understand

import (
	"math"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/revise"
)

// mender takes corrections: what is said of a thing named before, all of it and
// nothing else.
type mender struct{ *walk }

// takeRevised takes a bare figure that corrects one said before: the balls are 25,
// not 28; make that 26; I measured again, 25.4.
func (m mender) takeRevised(i int) int {
	if !m.Out.Corrects && !m.restates() {
		return 0
	}
	f := revise.Figure{Old: m.Denied}
	end, at := f.Reach(m.Chart, i, m.clause.To, func(j int) bool { return m.topic != "" || m.place().BesideOther(j) })
	if at < 0 {
		return 0
	}
	if m.place().Gone(end) { // two have left
		return end - i
	}
	f.New = *m.Item(at).Qty
	if f.Kind == "" && f.New.Dim == quantity.Plain && figure.SumAgain(m.Ctx.Before, f.New.Value) {
		return 0 // so 800 should be for all four
	}
	if f.Kind == "" && f.Old == nil && f.New.Dim != quantity.Plain && f.New.Dim != quantity.Length {
		return 0 // it names its fact itself
	}
	r, ok := revise.Find(m.Ctx.Before, f)
	switch {
	case !ok:
		return 0
	case r.Part != nil:
		p := *r.Part
		if p.Kind == "tube" && p.Holding == reading.Named {
			p.Holding = reading.Have
		}
		p.Was, p.Text = p.Text, m.Said(i, end)
		p.IDs = nil
		p.IDs = m.parts.Stock.Match(p)
		m.Out.Parts = append(m.Out.Parts, p)
	default:
		r.Take.Text = m.Said(at, at+1)
		if m.bound != "" {
			r.Take.Bound, m.bound = m.bound, ""
		}
		m.add(*r.Take)
	}
	m.content, m.changed, m.neg = true, true, false
	return end - i
}

// restates reports whether the clause only says a figure anew: it's 22 now; it is
// only 1.5 m.
func (m mender) restates() bool {
	if m.Ctx.Asked != "" || !m.HasWord(m.clause.From, m.clause.From+2, "its", "theyre", "is", "are") || len(m.Out.Takes)+len(m.Out.Parts) > 0 {
		return false
	}
	return figure.OneFigure(m.place())
}

// end returns the end of the keyboard that was said before and that a bare note puts
// right, or "": whichever lies nearer.
func (m mender) end(hz float64) (path string) {
	if !m.Out.Corrects {
		return ""
	}
	nearest := math.Inf(1)
	for _, t := range m.Ctx.Before.Takes {
		if v, ok := t.Value.(float64); ok && (t.Path == "instrument.low_hz" || t.Path == "instrument.high_hz") {
			if d := math.Abs(math.Log(v / hz)); d < nearest {
				path, nearest = t.Path, d
			}
		}
	}
	return path
}
