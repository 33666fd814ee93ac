package reply

import (
	"fmt"

	"mallow/assistant/page"
	"mallow/knowledge/correct"
)

// Built is what was learnt from built heads.
type Built struct {
	Heads  []BuiltHead `json:"heads"`
	Adjust []Adjusted  `json:"adjusted"`
	Path   string      `json:"kept_in"`
}

// BuiltHead is how a prediction moved. A figure not measured is 0.
type BuiltHead struct {
	Name               string         `json:"name"`
	MassWasG           float64        `json:"mass_was_g"`
	MassNowG           float64        `json:"mass_now_g"`
	MassMeasuredG      float64        `json:"mass_measured_g"`
	DiameterWasMM      float64        `json:"diameter_was_mm"`
	DiameterNowMM      float64        `json:"diameter_now_mm"`
	DiameterMeasuredMM float64        `json:"diameter_measured_mm"`
	SoftnessWas        float64        `json:"softness_was"`
	SoftnessNow        float64        `json:"softness_now"`
	Contradicts        []string       `json:"contradicts,omitempty"`
	Squeezes           []BuiltSqueeze `json:"squeezes,omitempty"`
	Odd                []string       `json:"odd,omitempty"` // measurements nothing was learnt from
}

// BuiltSqueeze is a reading of the squeeze test beside what was computed.
type BuiltSqueeze struct {
	NarrowerMM float64 `json:"narrower_mm"`
	MeasuredN  float64 `json:"measured_n"`
	WasN       float64 `json:"was_n"`
	NowN       float64 `json:"now_n"`
}

// oddly asks about a measurement that no such head can have.
func oddly(o correct.Odd) string {
	why := "check the reading, and that these are its parts"
	switch {
	case o.What == "mass" && o.Read > o.Computed:
		why = "was the shaft left on?"
	case o.What == "squeeze":
		why = "was it pressed between two flats, and read in kilograms?"
	}
	return fmt.Sprintf("a %s of %.3g %s where its parts come to %.3g: %s", o.What, o.Read, o.Unit, o.Computed, why)
}

// Adjusted is one figure as corrected, in the catalogue's unit.
type Adjusted struct {
	Of  string  `json:"of"`
	Was float64 `json:"was"`
	Tol float64 `json:"tol"`
	Now float64 `json:"now"`
}

// NewBuilt gathers what is shown of a log, which is kept in the file path.
func NewBuilt(l correct.Log, moved []correct.Moved, path string) Built {
	v := Built{Heads: []BuiltHead{}, Adjust: []Adjusted{}, Path: path}
	for _, m := range moved {
		v.Heads = append(v.Heads, BuiltHead{
			m.Name, Round(m.MassWas.Grams(), 2), Round(m.MassNow.Grams(), 2), Round(m.MassMeasured.Grams(), 2),
			Round(m.DiameterWas.MM(), 2), Round(m.DiameterNow.MM(), 2), Round(m.DiameterMeasured.MM(), 2),
			Round(m.SoftnessWas, 2), Round(m.SoftnessNow, 2), m.Contradicts, nil, nil,
		})
		h := &v.Heads[len(v.Heads)-1]
		for _, q := range m.Squeezes {
			h.Squeezes = append(h.Squeezes, BuiltSqueeze{Round(q.Narrower.MM(), 2), Round(float64(q.Scale)*standardGravity, 1), Round(q.WasN, 1), Round(q.NowN, 1)})
		}
		for _, o := range m.Odd {
			h.Odd = append(h.Odd, oddly(o))
		}
	}
	for _, a := range l.Adjust {
		v.Adjust = append(v.Adjust, Adjusted{a.ID + " " + a.Field, a.Was, a.Tol, a.Now})
	}
	return v
}

// Page is the log for people.
func (v Built) Page() page.Page {
	if len(v.Heads) == 0 {
		return page.Page{page.Para("No built head has been recorded yet. Weigh one and measure it over the yarn, then: mallow built 'STACK' --mass '22.4 g' --diameter '39 mm' --squeeze '2 mm at 3.1 kg'.")}
	}
	heads := page.Table{
		Title: "Built heads: predicted before, predicted now, measured",
		Head:  []string{"head", "mass g", "diameter mm", "notches"},
	}
	for _, h := range v.Heads {
		heads.Rows = append(heads.Rows, []string{
			h.Name, moves(h.MassWasG, h.MassNowG, h.MassMeasuredG, 1), moves(h.DiameterWasMM, h.DiameterNowMM, h.DiameterMeasuredMM, 1),
			fmt.Sprintf("%.1f, now %.1f", h.SoftnessWas, h.SoftnessNow),
		})
	}
	p := page.Page{heads}
	if len(v.Adjust) > 0 {
		t := page.Table{Title: "What that says of your parts", Head: []string{"figure", "catalogue", "tolerance", "yours"}, Right: []bool{false, true, true, true}}
		for _, a := range v.Adjust {
			t.Rows = append(t.Rows, []string{a.Of, fmt.Sprintf("%.4g", a.Was), fmt.Sprintf("± %.3g", a.Tol), fmt.Sprintf("%.4g", a.Now)})
		}
		p = append(p, t)
	}
	for _, h := range v.Heads {
		for _, q := range h.Squeezes {
			p = append(p, page.Para(fmt.Sprintf("%s, %g mm narrower: %.1f kg computed, now %.1f, read %.1f.", h.Name, q.NarrowerMM, q.WasN/standardGravity, q.NowN/standardGravity, q.MeasuredN/standardGravity)))
		}
		for _, o := range h.Odd {
			p = append(p, page.Para(fmt.Sprintf("%s has %s Nothing was learnt from that; enter it again under the same name, or take it out with `mallow built --forget '%s'`.", h.Name, o, h.Name)))
		}
		for _, c := range h.Contradicts {
			p = append(p, page.Para(fmt.Sprintf("%s: %s. Within the tolerances nothing explains what you heard; check both heads for a slack slice or a different part.", h.Name, c)))
		}
	}
	return append(p, page.Para("Every prediction from now on uses your figures. They are kept in "+v.Path+"; delete the file to go back to the catalogue's."))
}

func moves(was, now, measured float64, places int) string {
	s := fmt.Sprintf("%.*f, now %.*f", places, was, places, now)
	if measured > 0 {
		s += fmt.Sprintf(", measured %.*f", places, measured)
	}
	return s
}
