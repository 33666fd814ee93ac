package reply

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// InShort is a head in one sentence.
func InShort(c propose.Candidate) string {
	return fmt.Sprintf("It comes out %s, %s (± %.1f), at %.1f ± %.1f g and %s over everything.",
		c.Report.Grade, Notches(c.Report.Softness), c.Report.SoftnessTol, c.Head.Mass.Grams(), c.Head.MassTol.Grams(), c.Head.Diameter)
}

// Sure says how far the figures of a head can be believed.
func Sure(c propose.Candidate) string {
	return fmt.Sprintf("How sure this is: order and differences between heads can be trusted; the softness is good to about ± %.1f notches "+
		"and the weight to ± %.1f g until you have weighed and measured a head you built.", c.Report.SoftnessTol, c.Head.MassTol.Grams())
}

// Sound says what a head does at the softest and the loudest stroke in the
// register where it will be played; nothing when the report lacks it.
func Sound(c propose.Candidate, register string) string {
	if register == "" || register == "whole" {
		register = "middle"
	}
	i := slices.IndexFunc(c.Report.Registers, func(g strike.Register) bool { return g.Name == register })
	if i < 0 {
		return ""
	}
	reg := c.Report.Registers[i]
	soft, loud := reg.Strokes[0], reg.Strokes[len(reg.Strokes)-1]
	names := LayerNames(c.Head)
	where := map[string]string{"low": "low end", "middle": "middle", "high": "high end"}[register]
	text := fmt.Sprintf("In the %s (%s): at %s it stays on the bar for %.1f ms and %s; at %s for %.1f ms, and %s.",
		where, reg.Note, soft.Dynamic, 1000*soft.ContactS, working(soft, names), loud.Dynamic, 1000*loud.ContactS, working(loud, names))
	if len(soft.PartialsDB) > 1 && len(loud.PartialsDB) > 1 {
		text += fmt.Sprintf(" The overtone next above the note is heard %s it at %s, %s it at %s: loud strokes are brighter, it opens up by %.1f octaves.",
			against0(soft.PartialsDB[1]), soft.Dynamic, against0(loud.PartialsDB[1]), loud.Dynamic, c.Report.OpensUp)
	}
	if c.Report.High > c.Report.Low {
		text += fmt.Sprintf(" The head serves %s to %s.", c.Report.Low, c.Report.High)
	}
	return text
}

// against0 says a level over or under another.
func against0(db float64) string {
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

// LayerNames names what a stroke's shares are of.
func LayerNames(h head.Head) []string {
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

// Moved says a difference in notches, g, mm or octaves.
func Moved(unit string, d float64) string {
	less, more := "smaller", "larger"
	switch unit {
	case "notches":
		less, more = "harder", "softer"
	case "g":
		less, more = "lighter", "heavier"
	case "octaves":
		less, more = "steadier from p to ff", "brighter when loud"
	}
	word := more
	if d < 0 {
		word = less
	}
	if unit == "octaves" {
		return fmt.Sprintf("%s (by %.1f octaves)", word, math.Abs(d))
	}
	return fmt.Sprintf("%.1f %s %s", math.Abs(d), unit, word)
}

// Against says how b differs from a, in what a player notices.
func Against(a, b propose.Candidate) string {
	x, y := a.Facts.Head, b.Facts.Head
	var list []string
	if d := y.Softness - x.Softness; math.Abs(d) >= 0.2 {
		if strike.AboutSame(a.Report, b.Report) {
			list = append(list, "about as soft")
		} else {
			list = append(list, Moved("notches", d))
		}
	}
	if d := y.MassG - x.MassG; math.Abs(d) >= 0.5 {
		list = append(list, Moved("g", d))
	}
	if d := y.DiameterMM - x.DiameterMM; math.Abs(d) >= 0.5 {
		list = append(list, Moved("mm", d))
	}
	if d := y.OpensUp - x.OpensUp; math.Abs(d) >= 0.1 {
		list = append(list, Moved("octaves", d))
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
	return Capital(strings.Join(list, ", ")) + "."
}

// Traded says how far a head is off what was wanted, and what speaks against
// it for at least weight points; nothing where nothing does.
func Traded(c propose.Candidate, want facts.Want, weight float64) string {
	h := c.Facts.Head
	var off []string
	if d := h.Softness - want.Softness; math.Abs(d) >= 0.3 {
		off = append(off, fmt.Sprintf("it is %s than asked", Moved("notches", d)))
	}
	if w := want.MassG; w > 0 && math.Abs(h.MassG-w) >= 1 {
		off = append(off, fmt.Sprintf("%s than asked", Moved("g", h.MassG-w)))
	}
	if w := want.DiameterMM; w > 0 && math.Abs(h.DiameterMM-w) >= 1 {
		off = append(off, fmt.Sprintf("%s than asked", Moved("mm", h.DiameterMM-w)))
	}
	if w := want.BudgetCents; w > 0 && 2*h.CostCents > w {
		off = append(off, fmt.Sprintf("a pair costs %s more than asked", measure.Money(math.Round(2*h.CostCents-w))))
	}
	off = append(off, objections(c.Trace, weight, 3-len(off))...)
	if len(off) == 0 {
		return ""
	}
	return "Traded off: " + strings.Join(off, "; ") + "."
}

// PairCost is what goes into two heads, packs shared out.
func PairCost(h facts.Head) measure.Money { return measure.Money(math.Round(2 * h.CostCents)) }

// SideBySide are the facts of two heads in rows of name, first, second.
func (w Words) SideBySide(a, b propose.Candidate) [][]string {
	x, y := a.Facts.Head, b.Facts.Head
	var rows [][]string
	row := func(name, now, then string) { rows = append(rows, []string{name, now, then}) }
	num := func(name, form string, now, then float64) {
		row(name, fmt.Sprintf(form, now+0), fmt.Sprintf(form, then+0))
	}
	row("core", w.Short(a.Stack.Core.ID), w.Short(b.Stack.Core.ID))
	for i := range max(len(a.Stack.Slices), len(b.Stack.Slices)) {
		row(fmt.Sprintf("layer %d", i+1), w.Layer(a.Stack, i), w.Layer(b.Stack, i))
	}
	row("yarn", w.Yarn(a.Stack), w.Yarn(b.Stack))
	row("grade", a.Report.Grade, b.Report.Grade)
	num("softness, notches", "%+.1f", x.Softness, y.Softness)
	num("mass, g", "%.1f", x.MassG, y.MassG)
	num("size, mm", "%.1f", x.DiameterMM, y.DiameterMM)
	num("brighter when loud, octaves", "%.1f", x.OpensUp, y.OpensUp)
	num("hardest pull, N", "%.0f", x.HandN, y.HandN)
	row("cost of a pair", PairCost(x).String(), PairCost(y).String())
	return rows
}

// Fits says what a verdict on a slice means.
func Fits(v head.Verdict) string {
	switch v {
	case head.Slack:
		return "slack, it would slap"
	case head.Loose:
		return "loose, it needs glue"
	case head.Good:
		return "a good fit"
	case head.Hard:
		return "hard to pull on by hand"
	case head.Over:
		return "past what rubber or hands stand"
	}
	return string(v)
}

// OfLayer says what the nth layer does, 1 on the core.
func (w Words) OfLayer(l head.Layer, n int) string {
	return fmt.Sprintf("Layer %d, %s, is stretched %.2f times over %s. It presses with %.0f kPa, takes about %.0f N to open, and covers %.0f %% of the zone that meets the bar: %s.",
		n, w.Part(l.Slice.Tube.ID), l.Stretch, l.Under, l.GripPa/1000, l.HandN, 100*l.Coverage, Fits(l.Verdict))
}
