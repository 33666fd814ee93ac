package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/rules/propose"
)

// Matches is what a finished head could be, as `mallow match --json` writes
// it.
type Matches struct {
	Likely []Likely             `json:"likely"`
	Rest   float64              `json:"rest"` // likelihood of all that is not listed
	Tried  int                  `json:"tried"`
	Next   *propose.NextMeasure `json:"next"`
}

// Likely is one stack that could be under the yarn.
type Likely struct {
	Stack      string  `json:"stack"`
	Share      float64 `json:"likelihood"`
	Softness   float64 `json:"softness"`
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
	// Also are ids of cores and yarns that it could be as well.
	Also []string `json:"also,omitempty"`
}

// NewMatches gathers the likeliest, at most most of them.
func NewMatches(m propose.Matches, most int) Matches {
	v := Matches{Likely: []Likely{}, Rest: m.Rest, Tried: m.Tried, Next: m.Next}
	shown := min(most, len(m.Likely))
	for _, l := range m.Likely[shown:] {
		v.Rest += l.Share
	}
	v.Rest = round(v.Rest, 4)
	for _, l := range m.Likely[:shown] {
		v.Likely = append(v.Likely, Likely{l.Stack.String(), round(l.Share, 4), round(l.Facts.Softness, 2), round(l.Facts.MassG, 1), round(l.Facts.DiameterMM, 1), l.Also})
	}
	return v
}

// Page is the matches for people.
func (v Matches) Page() page.Page {
	t := page.Table{
		Title: fmt.Sprintf("What it could be, likeliest first, of %d stacks looked at", v.Tried),
		Head:  []string{"stack", "likely %", "notches", "mass g", "size mm"},
		Right: []bool{false, true, true, true, true},
	}
	for _, l := range v.Likely {
		t.Rows = append(t.Rows, []string{l.Stack, fmt.Sprintf("%.1f", 100*l.Share), fmt.Sprintf("%+.1f", l.Softness), fmt.Sprintf("%.1f", l.MassG), fmt.Sprintf("%.1f", l.DiameterMM)})
	}
	p := page.Page{t}
	for _, l := range v.Likely[:min(3, len(v.Likely))] {
		if len(l.Also) > 0 {
			p = append(p, page.Para(fmt.Sprintf("%s: measuring can't tell it from one with %s.", l.Stack, strings.Join(FirstFew(l.Also), ", "))))
		}
	}
	if v.Rest >= 0.001 {
		p = append(p, page.Para(fmt.Sprintf("All others together: %.1f %%.", 100*v.Rest)))
	}
	if n := v.Next; n != nil {
		p = append(p, page.Para(fmt.Sprintf("Measure next: %s. It would settle about %.1f of the %.1f bits still open.", n.How, n.Bits, n.Of)))
	}
	return append(p, page.Para("Likelihoods hold among stacks of catalogue parts. A head made of anything else is not in the list."))
}
