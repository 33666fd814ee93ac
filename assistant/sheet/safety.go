package sheet

import (
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// adhesive returns what joins a slice to what lies below it: the order's glue
// where it is of the kind that the rules' steps for the layer ask for, else
// the catalogue's first of that kind without latex where that has to be
// avoided; nil when there is none.
func (p *plan) adhesive(layer int) *knowledge.Adhesive {
	joint, base := "rubber-rubber", "water"
	if layer == 1 {
		joint = "rubber-core"
	}
	for _, t := range p.Maker.steps {
		if t.reads["build.glue"] && p.forAdults(t.Cautions) && given(p.candidate.Trace, t.ID, layer) {
			base = "solvent"
		}
	}
	if a := p.ordered(p.order, joint); a != nil && a.Base == base {
		return a
	}
	return p.glue(joint, base, p.candidate.Facts.Player)
}

// forAdults reports whether one of the cautions is not for a minor.
func (m *Maker) forAdults(ids []string) bool {
	return slices.ContainsFunc(ids, func(id string) bool {
		c, _ := m.cat.Caution(id)
		return c.Adult
	})
}

// shaftGlue returns what joins shaft and core, as an order has it; nil where no
// glue holds on the core.
func (p *plan) shaftGlue() *knowledge.Adhesive {
	if a, ok := stock.Glue(p.cat, "core-shaft", p.candidate.Head.Stack.Material, p.candidate.Facts.Player); ok {
		return &p.cat.Adhesives[slices.IndexFunc(p.cat.Adhesives, func(x knowledge.Adhesive) bool { return x.ID == a.ID })]
	}
	return nil
}

// glue returns the first adhesive for a joint that a player may have.
func (m *Maker) glue(joint, base string, player facts.Player) *knowledge.Adhesive {
	i := slices.IndexFunc(m.cat.Adhesives, func(a knowledge.Adhesive) bool {
		return slices.Contains(a.Joins, joint) && a.Base == base && (player.LatexOK || !a.Latex) && (player.RubberOK || !a.Chemicals)
	})
	if i < 0 {
		return nil
	}
	return &m.cat.Adhesives[i]
}

// safety gathers the cautions of the steps, and the figures of the solvents
// in the glues that the steps name.
func (p *plan) safety() Safety {
	s := Safety{Latex: p.candidate.Facts.Head.Latex, Rule: lastWord}
	for _, step := range p.steps {
		for _, x := range step.Cautions {
			if !slices.ContainsFunc(s.Cautions, func(y Caution) bool { return y.ID == x.ID }) {
				s.Cautions = append(s.Cautions, x)
			}
		}
	}
	for _, g := range p.glues {
		for _, id := range g.Solvents {
			if v, ok := p.cat.Solvent(id); ok && !slices.ContainsFunc(s.Solvents, func(x Solvent) bool { return x.Name == v.Name }) {
				s.Solvents = append(s.Solvents, p.solvent(v))
			}
		}
	}
	return s
}

// solvent puts the figures of v in words, each with where it comes from.
func (m *Maker) solvent(v knowledge.Solvent) Solvent {
	row := Solvent{Name: v.Name, Note: v.Note}
	figure := func(q *knowledge.Quantity) *float64 {
		if q == nil {
			return nil
		}
		if s, ok := m.cat.Source(q.Source); ok {
			if cite := fmt.Sprintf("%s (%s)", s.Cite, s.Mark); !slices.Contains(row.Sources, cite) {
				row.Sources = append(row.Sources, cite)
			}
		}
		return &q.Value
	}
	row.FlashC, row.LELPct = figure(v.FlashC), figure(v.LELPct)
	row.LegalPPM, row.AdvisedPPM = figure(v.PELPpm), figure(v.RELPpm)
	return row
}

// Flash is the flash point in words.
func (v Solvent) Flash() string {
	return figureOr(v.FlashC, func(c float64) string { return fmt.Sprintf("%.0f °C (%.0f °F)", c, c*9/5+32) })
}

// LEL is the lower explosive limit in words.
func (v Solvent) LEL() string {
	return figureOr(v.LELPct, func(x float64) string { return fmt.Sprintf("%g %%", x) })
}

// Legal is the limit over 8 h in words.
func (v Solvent) Legal() string { return figureOr(v.LegalPPM, ppm) }

// Advised is the limit over 10 h in words.
func (v Solvent) Advised() string { return figureOr(v.AdvisedPPM, ppm) }

func ppm(x float64) string { return fmt.Sprintf("%g ppm", x) }

// figureOr says a figure, or that there is none.
func figureOr(x *float64, say func(float64) string) string {
	if x == nil {
		return "not given here"
	}
	return say(*x)
}

// sqrt is the root of a squared mass.
func sqrt(square measure.Mass) measure.Mass { return measure.Mass(math.Sqrt(float64(square))) }
