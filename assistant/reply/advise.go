package reply

import (
	"fmt"
	"math"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/measure"
	"mallow/rules/advise"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Advice is what can be made of parts on hand, and what to buy.
type Advice struct {
	Assumptions
	Stack string  `json:"stack,omitempty"` // the best head from the bin; empty when nothing can be built
	Plain string  `json:"plain,omitempty"` // in words
	Head  *Head   `json:"head,omitempty"`
	Score float64 `json:"score_points"`
	Why   string  `json:"why,omitempty"` // why nothing can be built
	// With is the best head once what Need lists is bought; nil when there is
	// nothing of the kind.
	With *Pick      `json:"with"`
	Need []Priced   `json:"need"`
	Buy  []Purchase `json:"buy"` // single purchases, the one that helps most first
	// Range is which of the notes asked for the head does not serve, and Beside
	// what serves them beside it.
	Range  string    `json:"range,omitempty"`
	Beside string    `json:"beside,omitempty"`
	Notes  []string  `json:"notes"` // what was assumed of the parts
	Binds  []Binding `json:"binds"` // what nobody said, and what would be better otherwise
}

// Priced is one pack of one part.
type Priced struct {
	Part      string `json:"part"`
	Name      string `json:"name"`
	CostCents int64  `json:"cost_cents"`
}

// Binding is something that nobody said, and the head that it keeps one
// from.
type Binding struct {
	Fact string `json:"fact"`
	Text string `json:"text"`
	Else Pick   `json:"else"`
}

// Purchase is one pack to buy and what it would do.
type Purchase struct {
	Part      string   `json:"part"`
	Name      string   `json:"name"`
	CostCents int64    `json:"cost_cents"`
	Gain      *float64 `json:"gain_points"` // null when nothing could be built before
	Makes     Pick     `json:"makes"`
	Trades    []Trade  `json:"trades"`
}

// NewPick gathers what is shown of a head on offer.
func (w Words) NewPick(c propose.Candidate) Pick {
	h := c.Facts.Head
	return Pick{Text(c.Head), w.Brief(c.Head.Stack), c.Report.Instrument, c.Report.Grade, Round(c.Report.Softness, 2), Round(h.MassG, 2), Round(h.DiameterMM, 2)}
}

// Binding says what nobody said and what would be there otherwise.
func (w Words) Binding(x advise.Assumption) string {
	return fmt.Sprintf("Nobody said otherwise, so this holds: %s. Without it there would be %s.", x.Text, w.NewPick(x.Else))
}

// NewAdvice gathers what is shown of an advice; notes are what was assumed of
// the parts, the pass what was settled of those who build.
func NewAdvice(w Writer, a advise.Advice, pass gate.Pass, notes []string) (Advice, error) {
	v := Advice{Assumptions: Assuming(w.cat, pass), Need: []Priced{}, Buy: []Purchase{}, Notes: append([]string{}, notes...), Binds: []Binding{}}
	if a.Best != nil {
		made, err := w.On(*a.Best).Write(a.Best.Stack)
		if err != nil {
			return Advice{}, err
		}
		v.Stack, v.Plain, v.Head, v.Score = made.Stack, made.Plain, &made.Head, Round(a.Best.Score, 2)
	}
	if a.Why != nil {
		v.Why = Sentence(a.Why)
	}
	if a.With != nil {
		with := w.Words().NewPick(*a.With)
		v.With = &with
		for _, n := range a.Need {
			v.Need = append(v.Need, Priced{n.Part, w.Words().Part(n.Part), int64(n.Price)})
		}
	}
	for _, x := range a.Assumed {
		v.Binds = append(v.Binds, Binding{x.Fact, x.Text, w.Words().NewPick(x.Else)})
	}
	for _, b := range a.Buy {
		buy := Purchase{Part: b.Part, Name: w.Words().Part(b.Part), CostCents: int64(b.Price), Makes: w.Words().NewPick(b.Best), Trades: newTrades(b.Trades)}
		if !math.IsInf(b.Gain, 0) {
			gain := Round(b.Gain, 2)
			buy.Gain = &gain
		}
		v.Buy = append(v.Buy, buy)
	}
	return v, nil
}

// Page is the advice for people.
func (v Advice) Page() page.Page {
	p := v.Assumptions.Page()
	for _, n := range v.Notes {
		p = append(p, page.Para(n))
	}
	if v.Range != "" {
		p = append(p, page.Para(v.Range))
	}
	if h := v.Head; h != nil {
		best := Pick{v.Stack, v.Plain, h.Instrument, h.Grade, h.Softness, h.MassG, h.DiameterMM}
		p = append(p, page.Para("From what you have: "+best.String()+"."))
	} else {
		p = append(p, page.Para("Nothing can be built from what you have alone: "+v.Why+"."))
	}
	if v.Beside != "" {
		p = append(p, page.Para(v.Beside))
	}
	for _, x := range v.Binds {
		p = append(p, page.Para(fmt.Sprintf("Nobody said otherwise, so this holds: %s. Without it, what you have makes %s.", x.Text, x.Else)))
	}
	if v.With != nil {
		var need []string
		for _, n := range v.Need {
			need = append(need, fmt.Sprintf("%s, %s a pack", n.Name, measure.Money(n.CostCents)))
		}
		p = append(p, page.Para(fmt.Sprintf("What you have, with this bought besides (prices are invented): %s. It makes %s.", strings.Join(need, "; "), v.With)))
	}
	switch {
	case len(v.Buy) == 0 && v.With != nil:
		return append(p, page.Para("No other single purchase would help."))
	case len(v.Buy) == 0:
		return append(p, page.Para("No single purchase would help."))
	}
	for i, b := range v.Buy {
		lead := "The one purchase that would help most"
		if i > 0 {
			lead = "Or"
		}
		gain := "which makes a head possible at all"
		if b.Gain != nil {
			gain = fmt.Sprintf("worth %.1f points", *b.Gain)
		}
		p = append(p, page.Para(fmt.Sprintf("%s: %s, %s a pack (an invented price), %s. It makes %s.", lead, b.Name, measure.Money(b.CostCents), gain, b.Makes)))
		if i == 0 && len(b.Trades) > 0 {
			p = append(p, tradeTable("What it changes", b.Trades))
		}
	}
	return p
}
