package reply

import (
	"fmt"
	"math"

	"mallow/assistant/page"
	"mallow/rules/propose"
)

// Advice is what can be made of parts on hand, as `mallow advise --json`
// writes it.
type Advice struct {
	Best *Pick      `json:"best"` // nil when nothing can be built from the bin
	Why  string     `json:"why,omitempty"`
	Buy  []Purchase `json:"buy"` // the one that helps most first
}

// Pick is one head on offer.
type Pick struct {
	Stack      string  `json:"stack"`
	Grade      string  `json:"grade"`
	Softness   float64 `json:"softness"`
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
	Score      float64 `json:"score"`
}

// Purchase is one pack to buy and what it would do.
type Purchase struct {
	Part   string          `json:"part"`
	Cost   string          `json:"cost"`
	Gain   *float64        `json:"gain"` // points; null when nothing could be built before
	Makes  Pick            `json:"makes"`
	Trades []propose.Trade `json:"trades,omitempty"`
}

// NewPick gathers what is shown of a head on offer.
func NewPick(c propose.Candidate) Pick {
	h := c.Facts.Head
	return Pick{c.Stack.String(), c.Report.Grade, round(c.Report.Softness, 2), round(h.MassG, 1), round(h.DiameterMM, 1), round(c.Score, 2)}
}

func (p Pick) String() string {
	return fmt.Sprintf("%s (%s, %+.1f notches, %.1f g, %s)", p.Stack, p.Grade, p.Softness, p.MassG, both(p.DiameterMM))
}

// NewAdvice gathers what is shown of an advice.
func NewAdvice(a propose.Advice) Advice {
	v := Advice{Buy: []Purchase{}}
	if a.Best != nil {
		best := NewPick(*a.Best)
		v.Best = &best
	}
	if a.Why != nil {
		v.Why = Sentence(a.Why)
	}
	for _, b := range a.Buy {
		buy := Purchase{Part: b.Part, Cost: b.Price.String(), Makes: NewPick(b.Best), Trades: b.Trades}
		if !math.IsInf(b.Gain, 0) {
			gain := round(b.Gain, 2)
			buy.Gain = &gain
		}
		v.Buy = append(v.Buy, buy)
	}
	return v
}

// Page is the advice for people; notes are what was assumed of the parts.
func (v Advice) Page(notes []string) page.Page {
	var p page.Page
	for _, n := range notes {
		p = append(p, page.Para(n))
	}
	if v.Best != nil {
		p = append(p, page.Para("From what you have: "+v.Best.String()+"."))
	} else {
		p = append(p, page.Para("Nothing can be built from what you have: "+v.Why+"."))
	}
	if len(v.Buy) == 0 {
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
		p = append(p, page.Para(fmt.Sprintf("%s: %s, %s a pack (an invented price), %s. It makes %s.", lead, b.Part, b.Cost, gain, b.Makes)))
		if i == 0 && len(b.Trades) > 0 {
			p = append(p, Trades("What it changes", b.Trades))
		}
	}
	return p
}
