package assistant

import (
	"fmt"
	"mallow/assistant/inquiry"
	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/propose"
	"math"
	"slices"
	"strings"
)

// teller says what there is to say about heads, under what was settled.
type teller struct {
	kit *Kit
	now *state
}

// inShort is a head in one sentence.
func (t teller) inShort(c propose.Candidate) string {
	return fmt.Sprintf("It comes out %s, %s (± %.1f), at %.1f ± %.1f g and %s over everything.",
		c.Report.Grade, settled.Softness(c.Report.Softness), c.Report.SoftnessTol, c.Head.Mass.Grams(), c.Head.MassTol.Grams(), c.Head.Diameter)
}

// stackTable is a head from the inside out.
func (t teller) stackTable(title string, c propose.Candidate) page.Table {
	h := c.Head
	table := page.Table{
		Title: title,
		Head:  []string{"part", "cut", "stretch", "wall", "over it", "mass"},
		Right: []bool{false, true, true, true, true, true},
		Rows:  [][]string{{t.partName(h.Stack.Core.ID), "", "", "", h.Stack.Core.Diameter.Mm(), grams(h.CoreMass)}},
	}
	for _, l := range h.Layers {
		table.Rows = append(table.Rows, []string{t.partName(l.Slice.Tube.ID), l.Cut.String(), fmt.Sprintf("%.2f", l.Stretch), l.Wall.Mm(), l.Outer.Mm(), grams(l.Mass)})
	}
	if w := h.Stack.Wrap; w != nil {
		table.Rows = append(table.Rows, []string{t.partName(w.Yarn.ID), fmt.Sprintf("%d turns", h.Turns), "", h.YarnWall.Mm(), h.Diameter.Mm(), grams(h.YarnMass)})
	}
	if sh := h.Stack.Shaft; sh != nil {
		table.Rows = append(table.Rows, []string{t.partName(sh.ID), sh.Length.String(), "", "", sh.Diameter.Mm(), grams(sh.Mass)})
	}
	return table
}

func grams(m measure.Mass) string { return fmt.Sprintf("%.1f g", m.Grams()) }

// parts is a stack in words.
func (t teller) parts(st head.Stack) string {
	words := []string{t.partName(st.Core.ID)}
	for _, l := range st.Slices {
		words = append(words, t.partName(l.Tube.ID))
	}
	if st.Wrap != nil {
		words = append(words, fmt.Sprintf("%s, %d turns", t.partName(st.Wrap.Yarn.ID), st.Wrap.Turns))
	}
	return strings.Join(words, " + ")
}

// own names the parts of a stack that are the user's own, with where each
// stands.
func (t teller) own(st head.Stack) []string {
	var list []string
	add := func(id string, o knowledge.Origin) {
		if o.Own {
			list = append(list, fmt.Sprintf("%s (from %s)", t.partName(id), o))
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

// partName is a part in words.
func (t teller) partName(id string) string {
	cat := t.kit.Catalogue
	if c, ok := cat.Core(id); ok && c.Name != "" {
		return c.Name
	}
	if t, ok := cat.Tube(id); ok {
		name := t.Material
		if m, ok := cat.Material(t.Material); ok && m.Name != "" {
			name = m.Name
		}
		return fmt.Sprintf("%s tubing %s bore, %s wall", name, t.Bore.In(), t.Wall.In())
	}
	if y, ok := cat.Yarn(id); ok && y.Name != "" {
		return y.Name
	}
	if sh, ok := cat.Shaft(id); ok && sh.Name != "" {
		return sh.Name
	}
	return id
}

// sound says what the head does at the softest and the loudest stroke where
// it will be played.
func (t teller) sound(c propose.Candidate) string {
	name := t.now.Facts.Want.Register
	if name == "" || name == "whole" {
		name = "middle"
	}
	i := slices.IndexFunc(c.Report.Registers, func(g strike.Register) bool { return g.Name == name })
	if i < 0 {
		return ""
	}
	reg := c.Report.Registers[i]
	soft, loud := reg.Strokes[0], reg.Strokes[len(reg.Strokes)-1]
	names := layerNames(c.Head)
	where := map[string]string{"low": "low end", "middle": "middle", "high": "high end"}[name]
	text := fmt.Sprintf("In the %s (%s): at %s it stays on the bar for %.1f ms and %s; at %s for %.1f ms, and %s.",
		where, reg.Note, soft.Dynamic, 1000*soft.ContactS, working(soft, names), loud.Dynamic, 1000*loud.ContactS, working(loud, names))
	if len(soft.PartialsDB) > 1 && len(loud.PartialsDB) > 1 {
		text += fmt.Sprintf(" The second partial sounds %s the note at %s, %s at %s: it opens up by %.1f octaves.",
			decibels(soft.PartialsDB[1]), soft.Dynamic, decibels(loud.PartialsDB[1]), loud.Dynamic, c.Report.OpensUp)
	}
	if c.Report.High > c.Report.Low {
		text += fmt.Sprintf(" The head serves %s to %s.", c.Report.Low, c.Report.High)
	}
	return text
}

func decibels(db float64) string {
	if db < 0 {
		return fmt.Sprintf("%.0f dB under", -db)
	}
	return fmt.Sprintf("%.0f dB over", db)
}

// working says which layer takes most of the squeeze.
func working(st strike.Stroke, names []string) string {
	i := slices.Index(st.Share, slices.Max(append([]float64{0}, st.Share...)))
	if i < 0 || i >= len(names) {
		return "nothing gives"
	}
	name := names[i]
	if !strings.HasPrefix(name, "layer") {
		name = "the " + name
	}
	return fmt.Sprintf("%s gives most (%.0f %% of the squeeze)", name, 100*st.Share[i])
}

// layerNames names what a stroke's shares are of.
func layerNames(h head.Head) []string {
	names := []string{"core"}
	for i := range h.Layers {
		if len(h.Layers) == 1 {
			names = append(names, "rubber")
			continue
		}
		names = append(names, fmt.Sprintf("layer %d", i+1))
	}
	if h.Stack.Wrap != nil {
		names = append(names, "yarn")
	}
	return names
}

// notes are what the rules have to say about the head itself, the first few.
// What they say about the bench stands on the sheet.
func (t teller) notes(c propose.Candidate) []string {
	const most = 4
	var list []string
	for _, f := range c.Trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Note || f.Rule.On == "player" || len(list) == most {
			continue
		}
		bench := slices.ContainsFunc(t.kit.Book.Reads(f.Rule), func(path string) bool { return strings.HasPrefix(path, "bench.") })
		if text := reason(f); !bench && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// reason is a fired rule's reason, and what would change it.
func reason(f rules.Firing) string {
	text := capital(f.Reason)
	if f.About != "" && !strings.Contains(f.Reason, f.About) {
		text = capital(f.About) + ": " + f.Reason
	}
	if f.Change != "" {
		text += "; to change that: " + f.Change
	}
	return text + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// traded says how far the head is off what was asked for.
func (t teller) traded(c propose.Candidate) string {
	f, h := t.now.Facts, c.Facts.Head
	var off []string
	if d := h.Softness - f.Want.Softness; math.Abs(d) >= 0.3 {
		off = append(off, fmt.Sprintf("it is %s than asked", moved("notches", d)))
	}
	if w := f.Want.MassG; w > 0 && math.Abs(h.MassG-w) >= 1 {
		off = append(off, fmt.Sprintf("%s than asked", moved("g", h.MassG-w)))
	}
	if w := f.Want.DiameterMM; w > 0 && math.Abs(h.DiameterMM-w) >= 1 {
		off = append(off, fmt.Sprintf("%s than asked", moved("mm", h.DiameterMM-w)))
	}
	if w := f.Want.BudgetCents; w > 0 && 2*h.CostCents > w {
		off = append(off, fmt.Sprintf("a pair costs %s more than asked", measure.Money(math.Round(2*h.CostCents-w))))
	}
	for _, x := range c.Trace {
		if x.State == rules.Fired && x.Rule.Do == rules.Prefer && x.Rule.Weight <= -inquiry.Gain && len(off) < 3 {
			off = append(off, x.Reason)
		}
	}
	if len(off) == 0 {
		return ""
	}
	return "Traded off: " + strings.Join(off, "; ") + "."
}

// moved says a difference in softness, weight, size or opening up.
func moved(unit string, d float64) string {
	less, more := "smaller", "larger"
	switch unit {
	case "notches":
		less, more = "harder", "softer"
	case "g":
		less, more = "lighter", "heavier"
	case "octaves":
		less, more = "steadier", "opening up more"
	}
	word := more
	if d < 0 {
		word = less
	}
	return fmt.Sprintf("%.1f %s %s", math.Abs(d), unit, word)
}

// against says how b differs from a, in what a player notices.
func (t teller) against(a, b propose.Candidate) string {
	x, y := a.Facts.Head, b.Facts.Head
	var list []string
	if d := y.Softness - x.Softness; math.Abs(d) >= 0.2 {
		if strike.AboutSame(a.Report, b.Report) {
			list = append(list, "about as soft")
		} else {
			list = append(list, moved("notches", d))
		}
	}
	if d := y.MassG - x.MassG; math.Abs(d) >= 0.5 {
		list = append(list, moved("g", d))
	}
	if d := y.DiameterMM - x.DiameterMM; math.Abs(d) >= 0.5 {
		list = append(list, moved("mm", d))
	}
	if d := y.OpensUp - x.OpensUp; math.Abs(d) >= 0.1 {
		list = append(list, moved("octaves", d))
	}
	if d := 2 * (y.CostCents - x.CostCents); math.Abs(d) >= 50 {
		word := "dearer"
		if d < 0 {
			word = "cheaper"
		}
		list = append(list, fmt.Sprintf("%s %s a pair", measure.Money(math.Round(math.Abs(d))), word))
	}
	if len(list) == 0 {
		return "About the same head otherwise."
	}
	return capital(strings.Join(list, ", ")) + "."
}
