package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/rules/gate"
	"mallow/rules/identify"
)

// Matches is what a finished head could be.
type Matches struct {
	Assumptions
	Stack  string       `json:"stack,omitempty"` // the likeliest
	Head   *Head        `json:"head,omitempty"`
	Likely []Likely     `json:"likely"`
	Rest   float64      `json:"rest"`  // likelihood of all that is not listed, 0 to 1
	Tried  int          `json:"tried"` // stacks looked at
	Next   *NextMeasure `json:"next"`
}

// Likely is one stack that could be under the yarn.
type Likely struct {
	Pick
	Share float64 `json:"likelihood"` // 0 to 1
	// Also are ids of cores and yarns that it could be as well.
	Also []string `json:"also,omitempty"`
}

// NextMeasure is a measurement still to be made.
type NextMeasure struct {
	What string  `json:"what"`
	How  string  `json:"how"`
	Bits float64 `json:"settles_bits"` // expected
	Of   float64 `json:"open_bits"`
}

// NewMatches gathers the likeliest, at most most of them.
func NewMatches(w Writer, m identify.Matches, most int) (Matches, error) {
	v := Matches{Likely: []Likely{}, Rest: m.Rest, Tried: m.Tried}
	if n := m.Next; n != nil {
		v.Next = &NextMeasure{n.What, n.How, Round(n.Bits, 2), Round(n.Of, 2)}
	}
	var stacks []head.Stack
	for _, l := range m.Likely {
		stacks = append(stacks, l.Stack)
	}
	v.Assumptions = w.Assuming(gate.Pass{}.Given(), stacks...)
	shown := min(most, len(m.Likely))
	for _, l := range m.Likely[shown:] {
		v.Rest += l.Share
	}
	v.Rest = Round(v.Rest, 4)
	for i, l := range m.Likely[:shown] {
		made, err := w.Write(l.Stack)
		if err != nil {
			return Matches{}, err
		}
		h := made.Head
		if i == 0 {
			v.Stack, v.Head = made.Stack, &h
		}
		v.Likely = append(v.Likely, Likely{Pick{made.Stack, made.Plain, h.Instrument, h.Grade, h.Softness, h.MassG, h.DiameterMM}, Round(l.Share, 4), l.Also})
	}
	return v, nil
}

// Page is the matches for people.
func (v Matches) Page() page.Page {
	t := page.Table{
		Title: fmt.Sprintf("What it could be, likeliest first, of %d stacks looked at", v.Tried),
		Head:  []string{"made of", "likely %", "notches", "mass g", "size mm"},
		Right: []bool{false, true, true, true, true},
	}
	for _, l := range v.Likely {
		t.Rows = append(t.Rows, []string{l.Plain, fmt.Sprintf("%.1f", 100*l.Share), fmt.Sprintf("%+.1f", l.Softness), fmt.Sprintf("%.1f", l.MassG), fmt.Sprintf("%.1f", l.DiameterMM)})
	}
	p := append(v.Assumptions.Page(), t)
	for _, l := range v.Likely[:min(3, len(v.Likely))] {
		if len(l.Also) > 0 {
			p = append(p, page.Para(fmt.Sprintf("%s: measuring can't tell it from one with %s.", l.Plain, strings.Join(FirstFew(l.Also), ", "))))
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
