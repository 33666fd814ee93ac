// Package learnt is what is said of heads that a maker has built and measured:
// what became of one that was entered, and what all of them say of the catalogue's
// figures. It never decides what is learnt.
package learnt

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/correct"
	"mallow/knowledge/measure"
)

// Built is what was learnt from built heads.
type Built struct {
	Noted  *Noted      `json:"noted,omitempty"` // what became of the one that was entered
	On     string      `json:"instrument"`      // whose medium softness counts from
	Heads  []BuiltHead `json:"heads"`
	Adjust []Adjusted  `json:"adjusted"` // none while nothing was learnt
	Path   string      `json:"kept_in"`
}

// Noted is what became of a head that was entered.
type Noted struct {
	Name     string   `json:"name"`
	Beside   []string `json:"beside,omitempty"`   // other heads of the same stack
	Replaced []string `json:"replaced,omitempty"` // figures that gave way to new ones
	Kept     []string `json:"kept,omitempty"`     // new figures that no such head can have: the old ones stay
}

// BuiltHead is how a prediction moved. A figure not measured is 0.
type BuiltHead struct {
	Name               string         `json:"name"`
	Stack              string         `json:"stack"`
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

// NewNoted says what became of a head that was entered.
func NewNoted(e correct.Entry) *Noted {
	n := &Noted{Name: e.Name, Beside: e.Beside, Replaced: e.Replaced}
	for _, o := range e.Kept {
		n.Kept = append(n.Kept, oddly(o))
	}
	return n
}

// New gathers what is shown of a log, which is kept in the file path.
func New(l correct.Log, moved []correct.Moved, path string) Built {
	v := Built{Heads: []BuiltHead{}, Adjust: []Adjusted{}, On: reply.DefaultInstrument, Path: path}
	for i, m := range moved {
		v.Heads = append(v.Heads, BuiltHead{
			m.Name, l.Heads[i].Stack, reply.Round(m.MassWas.Grams(), 2), reply.Round(m.MassNow.Grams(), 2), reply.Round(m.MassMeasured.Grams(), 2),
			reply.Round(m.DiameterWas.MM(), 2), reply.Round(m.DiameterNow.MM(), 2), reply.Round(m.DiameterMeasured.MM(), 2),
			reply.Round(m.SoftnessWas, 2), reply.Round(m.SoftnessNow, 2), m.Contradicts, nil, nil,
		})
		h := &v.Heads[len(v.Heads)-1]
		for _, q := range m.Squeezes {
			h.Squeezes = append(h.Squeezes, BuiltSqueeze{reply.Round(q.Narrower.MM(), 2), reply.Round(q.Scale.Newtons(), 1), reply.Round(q.WasN, 1), reply.Round(q.NowN, 1)})
		}
		for _, o := range m.Odd {
			h.Odd = append(h.Odd, oddly(o))
		}
	}
	for _, a := range l.Learnt() {
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
		name := h.Name
		if name != h.Stack {
			name += ": " + h.Stack
		}
		heads.Rows = append(heads.Rows, []string{
			name, moves(h.MassWasG, h.MassNowG, h.MassMeasuredG, 1), moves(h.DiameterWasMM, h.DiameterNowMM, h.DiameterMeasuredMM, 1),
			fmt.Sprintf("%.1f, now %.1f", reply.Round(h.SoftnessWas, 1), reply.Round(h.SoftnessNow, 1)),
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
	if v.Noted != nil {
		p = append(p, page.Para(v.Noted.says()))
	}
	for _, h := range v.Heads {
		for _, q := range h.Squeezes {
			p = append(p, page.Para(fmt.Sprintf("%s, %g mm narrower: %.1f kg computed, now %.1f, read %.1f.", h.Name, q.NarrowerMM, q.WasN/measure.Gravity, q.NowN/measure.Gravity, q.MeasuredN/measure.Gravity)))
		}
		for _, o := range h.Odd {
			p = append(p, page.Para(fmt.Sprintf("%s has %s Nothing was learnt from that; measure it again with --name '%s', or take it out with `mallow built --forget '%s'`.", h.Name, o, h.Name, h.Name)))
		}
		for _, c := range h.Contradicts {
			p = append(p, page.Para(fmt.Sprintf("%s was heard as softer than %s, and its parts don't come to that within their tolerances: check both heads for a slack slice or a different part, or take one out with --forget.", h.Name, c)))
		}
	}
	if len(v.Adjust) == 0 {
		return append(p, page.Para("Nothing was learnt yet: predictions use the catalogue's figures. The heads are kept in "+v.Path+"."))
	}
	return append(p, page.Para("Every prediction from now on uses your figures. They are kept in "+v.Path+"; delete the file to go back to the catalogue's."))
}

// says is what became of the head, in a sentence or more.
func (n Noted) says() string {
	text := "Noted as " + n.Name + "."
	switch {
	case len(n.Replaced) > 0:
		text = fmt.Sprintf("Noted in place of what %s had: %s.", n.Name, strings.Join(n.Replaced, ", "))
	case len(n.Kept) > 0:
		text = n.Name + " keeps what it had."
	}
	for _, o := range n.Kept {
		text += fmt.Sprintf(" Not taken: %s If it is right all the same, take the head out with --forget and enter it anew.", o)
	}
	if len(n.Beside) > 0 {
		text += fmt.Sprintf(" It stands beside %s, of the same parts; a name that is given again corrects that head.", strings.Join(n.Beside, ", "))
	}
	return text
}

func moves(was, now, measured float64, places int) string {
	s := fmt.Sprintf("%.*f, now %.*f", places, was, places, now)
	if measured > 0 {
		s += fmt.Sprintf(", measured %.*f", places, measured)
	}
	return s
}
