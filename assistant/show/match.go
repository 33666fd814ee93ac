package show

import (
	"fmt"

	"mallow/assistant/page"
	"mallow/rules/propose"
)

// Matches is what a finished head could be, as `mallow match --json` writes
// it.
type Matches struct {
	Likely []Likely             `json:"likely"`
	Tried  int                  `json:"tried"`
	Next   *propose.NextMeasure `json:"next"`
}

// Likely is one stack that could be under the yarn.
type Likely struct {
	Stack      string  `json:"stack"`
	Share      float64 `json:"likelihood"`
	Steps      float64 `json:"steps"`
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
}

// NewMatches gathers the likeliest, at most most of them.
func NewMatches(m propose.Matches, most int) Matches {
	v := Matches{Likely: []Likely{}, Tried: m.Tried, Next: m.Next}
	for _, l := range m.Likely[:min(most, len(m.Likely))] {
		v.Likely = append(v.Likely, Likely{l.Stack.String(), round(l.Share, 4), round(l.Facts.Steps, 2), round(l.Facts.MassG, 1), round(l.Facts.DiameterMM, 1)})
	}
	return v
}

// Page is the matches for people.
func (v Matches) Page() page.Page {
	t := page.Table{
		Title: fmt.Sprintf("What it could be, likeliest first, of %d stacks looked at", v.Tried),
		Head:  []string{"stack", "likely %", "steps", "mass g", "size mm"},
		Right: []bool{false, true, true, true, true},
	}
	for _, l := range v.Likely {
		t.Rows = append(t.Rows, []string{l.Stack, fmt.Sprintf("%.1f", 100*l.Share), fmt.Sprintf("%+.1f", l.Steps), fmt.Sprintf("%.1f", l.MassG), fmt.Sprintf("%.1f", l.DiameterMM)})
	}
	p := page.Page{t}
	if n := v.Next; n != nil {
		p = append(p, page.Para(fmt.Sprintf("Measure next: %s. %s. It would settle about %.1f of the %.1f bits still open.", n.What, n.How, n.Bits, n.Of)))
	}
	return append(p, page.Para("Likelihoods hold among stacks of catalogue parts. A head made of anything else is not in the list."))
}
