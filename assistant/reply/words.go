package reply

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// Words says parts and stacks by the names that a catalogue has for them.
type Words struct{ cat *knowledge.Catalogue }

// In returns the words of a catalogue.
func In(cat *knowledge.Catalogue) Words { return Words{cat} }

// Part is a part in words; the id itself where the catalogue has no name.
func (w Words) Part(id string) string {
	if c, ok := w.cat.Core(id); ok && c.Name != "" {
		return c.Name
	}
	if t, ok := w.cat.Tube(id); ok {
		name := t.Material
		if m, ok := w.cat.Material(t.Material); ok && m.Name != "" {
			name = m.Name
		}
		return fmt.Sprintf("%s tubing %s bore, %s wall", name, t.Bore.Sold(), t.Wall.Sold())
	}
	if y, ok := w.cat.Yarn(id); ok && y.Name != "" {
		return y.Name
	}
	if sh, ok := w.cat.Shaft(id); ok && sh.Name != "" {
		return sh.Name
	}
	return id
}

// Stack is a head in words, without its shaft.
func (w Words) Stack(st head.Stack) string {
	words := []string{w.Part(st.Core.ID)}
	for _, l := range st.Slices {
		words = append(words, w.Part(l.Tube.ID))
	}
	if st.Wrap != nil {
		words = append(words, fmt.Sprintf("%s, %d turns", w.Part(st.Wrap.Yarn.ID), st.Wrap.Turns))
	}
	return strings.Join(words, " + ")
}

// Brief is a head in few words, without its shaft: the ball, the slices by bore
// and wall in inches, and the turns.
func (w Words) Brief(st head.Stack) string {
	list := []string{w.plainly(st.Core.ID)}
	for i := 0; i < len(st.Slices); {
		t, n := st.Slices[i].Tube, 1
		for i+n < len(st.Slices) && st.Slices[i+n].Tube.ID == t.ID {
			n++
		}
		text := w.tubing(t)
		if n > 1 {
			text = fmt.Sprintf("%d of %s", n, text)
		}
		list = append(list, text)
		i += n
	}
	if st.Wrap != nil {
		list = append(list, w.Turns(st))
	}
	return strings.Join(list, "; ")
}

// sold is a length as it is sold: a fraction of an inch, or millimetres.
func sold(l measure.Length) string {
	if l.IsMetric() || !l.IsFraction() {
		return l.Mm()
	}
	return short(l)
}

// Sizes are the sizes that balls like the one of a head come in, as a sentence that
// follows another; empty for none.
func (w Words) Sizes(list []measure.Length) string {
	if len(list) == 0 {
		return ""
	}
	var texts []string
	for _, l := range list {
		texts = append(texts, l.Sold())
	}
	return " Balls like this one come in " + strings.Join(texts, ", ") + "."
}

// Turns is the yarn of a wound head in few words, with its turns.
func (w Words) Turns(st head.Stack) string {
	if st.Wrap.Turns == 0 {
		return w.plainly(st.Wrap.Yarn.ID)
	}
	return fmt.Sprintf("%d turns of %s", st.Wrap.Turns, w.plainly(st.Wrap.Yarn.ID))
}

// plainly is a part's name without what only a shopping list needs: that a ball
// comes drilled, and how yarn is put up.
func (w Words) plainly(id string) string {
	parts := strings.Split(w.Part(id), ", ")
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool {
		return s == "drilled" || strings.Contains(s, " m in ")
	}), ", ")
}

// rubber is the material of tubing in few words.
func (w Words) rubber(id string) string {
	if m, ok := w.cat.Material(id); ok && m.Latex {
		return "latex"
	}
	return w.material(id)
}

// Short is a part in few words.
func (w Words) Short(id string) string {
	if t, ok := w.cat.Tube(id); ok {
		return w.tubing(t)
	}
	return w.plainly(id)
}

// tubing is tubing by its rubber, bore and wall.
func (w Words) tubing(t knowledge.Tube) string {
	return fmt.Sprintf("%s %s x %s", w.rubber(t.Material), sold(t.Bore), sold(t.Wall))
}

// Layer is the nth slice in words, 0 on the core, or none.
func (w Words) Layer(st head.Stack, n int) string {
	if n >= len(st.Slices) {
		return "none"
	}
	return w.Short(st.Slices[n].Tube.ID)
}

// Yarn is the wrap in words, or none.
func (w Words) Yarn(st head.Stack) string {
	if st.Wrap == nil {
		return "none"
	}
	return w.Turns(st)
}

// Own names the parts of a stack that are the maker's own, with where each
// stands.
func (w Words) Own(st head.Stack) []string {
	var list []string
	add := func(id string, o knowledge.Origin) {
		if o.Own {
			list = append(list, fmt.Sprintf("%s (from %s)", w.Part(id), o))
		}
	}
	add(st.Core.ID, st.Core.Origin)
	for _, l := range st.Slices {
		add(l.Tube.ID, l.Tube.Origin)
	}
	if st.Wrap != nil {
		add(st.Wrap.Yarn.ID, st.Wrap.Yarn.Origin)
	}
	if st.Shaft != nil {
		add(st.Shaft.ID, st.Shaft.Origin)
	}
	return list
}

// InsideOut is a head part by part.
func (w Words) InsideOut(title string, c propose.Candidate) page.Table {
	h := c.Head
	t := page.Table{
		Title: title,
		Head:  []string{"part", "cut", "stretch", "wall", "over it", "mass"},
		Right: []bool{false, true, true, true, true, true},
		Rows:  [][]string{{w.Part(h.Stack.Core.ID), "", "", "", h.Stack.Core.Diameter.Mm(), grams(h.CoreMass)}},
	}
	for _, l := range h.Layers {
		t.Rows = append(t.Rows, []string{w.Short(l.Slice.Tube.ID), l.Cut.Sold(), fmt.Sprintf("%.2f", l.Stretch), l.Wall.Mm(), l.Outer.Mm(), grams(l.Mass)})
	}
	if x := h.Stack.Wrap; x != nil {
		t.Rows = append(t.Rows, []string{w.Part(x.Yarn.ID), fmt.Sprintf("%d turns", h.Turns), "", h.YarnWall.Mm(), h.Diameter.Mm(), grams(h.YarnMass)})
	}
	if sh := h.Stack.Shaft; sh != nil {
		t.Rows = append(t.Rows, []string{w.Part(sh.ID), sh.Length.String(), "", "", sh.Diameter.Mm(), grams(sh.Mass)})
	}
	return t
}

func grams(m measure.Mass) string { return fmt.Sprintf("%.1f g", m.Grams()) }
