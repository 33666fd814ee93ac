// Package propose holds what is asked of a head and judges how well a head
// answers it. It knows requests, candidates and scores; it never looks for a
// head: the rooms beside and below it do (search, graded, identify, change).
package propose

import (
	"cmp"
	"fmt"
	"math"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/stock"
)

// Candidate is one head with everything known about it.
type Candidate struct {
	Stack  head.Stack
	Head   head.Head
	Report strike.Report
	Facts  facts.Facts   // Layer is zero here
	Layers []facts.Layer // inside out
	Score  float64       // higher is better
	Trace  []rules.Firing
	Pass   gate.Pass // under which it was worked out
}

// Refused reports the first rule that stops the candidate, or nil.
func (c Candidate) Refused() *rules.Firing {
	for i := range c.Trace {
		if f := &c.Trace[i]; f.State == rules.Fired && f.Rule.Do == rules.Refuse {
			return f
		}
	}
	return nil
}

// Request is what a head is wanted for.
type Request struct {
	Facts facts.Facts // player, want, instrument and bench; the rest is ignored
	// Pass settles what may hurt, whatever Facts say of it. The zero value is
	// every careful answer.
	Pass  gate.Pass
	Known rules.Known // which of those were answered; the rest are defaults
	Bin   *stock.Bin  // parts on hand; nil is the whole catalogue
	Pin   Pin         // what the head must or must not be made of
	// Most is how many heads to look at before settling for the best so far,
	// the likeliest first; zero looks on until the best is proven. A count
	// and not a time, so that the same request gets the same answer anywhere. Where
	// parts are many it bounds as many boxes of heads as it may for that, and stops too.
	Most int
	// Progress, when not nil, is told now and then how many heads have been
	// looked at.
	Progress func(tried int)
	Heads    int // alike, to be built at once; zero is a pair
}

// Count returns how many heads are wanted.
func (q *Request) Count() int { return cmp.Or(q.Heads, 2) }

// Key returns what the heads that answer a request hang on: requests with one key
// get the same, but for the pass that they are worked out under.
func (f *Finder) Key(q Request) string {
	at := f.Settle(q)
	told := f.Told(at, q.Known)
	key := fmt.Sprint(at, q.Facts.Want.Softness, q.Known[facts.WantSoftness], q.Known[facts.PlayerMostG], q.Known[facts.PlayerMostMM],
		told[facts.WantMassG], told[facts.WantDiameterMM], told[facts.WantBudgetCents], q.Pin, q.Pin.Tubing == nil, q.Count(), q.Most)
	if q.Bin != nil {
		key += fmt.Sprint(*q.Bin)
	}
	return key
}

// Pin narrows a search to heads with, or without, certain parts. Ids are the
// catalogue's; an empty field pins nothing.
type Pin struct {
	Core, Yarn, Shaft string
	Tubing            []string // exactly these layers, inside out; nil pins nothing, an empty list pins none
	Without           []string // part or material ids
}

// Proposal is the answer to a Request.
type Proposal struct {
	Best         Candidate
	Alternatives []Alternative // that differ from the best in kind
	// Pool is the best hundred or so, each on another rubber and core, that
	// the search looked at closely, best first by the reduced stroke; the
	// first few are exact; and besides, a few of every softness and core
	// family, to show where other answers would lead. They have no Head,
	// Report or Trace; Consider gives these.
	Pool      []Candidate
	Tried     int  // heads looked at one by one
	Buildable int  // of those, how many no rule refuses and none surpasses in sight
	Partial   bool // the search was cut short
}

// Alternative is a candidate and how it differs from the best.
type Alternative struct {
	Candidate
	Kind   string  // softer, harder, lighter, smaller, cheaper, other core, fewer layers, no latex
	Trades []Trade // what it gives and takes against the best
}

// Trade is a fact in which two heads differ.
type Trade struct {
	Fact string  `json:"fact"` // dotted path
	Unit string  `json:"unit,omitempty"`
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// Trades lists what an alternative gives and takes.
func Trades(from, to *facts.Head) []Trade {
	var list []Trade
	add := func(fact, unit string, a, b, least float64) {
		if math.Abs(b-a) >= least {
			list = append(list, Trade{fact, unit, a, b})
		}
	}
	add(facts.HeadSoftness, "notches", from.Softness, to.Softness, 0.25)
	add(facts.HeadMassG, "g", from.MassG, to.MassG, 0.5)
	add(facts.HeadDiameterMM, "mm", from.DiameterMM, to.DiameterMM, 0.3)
	add(facts.HeadCostCents, "cents", from.CostCents, to.CostCents, 5)
	add(facts.HeadLayers, "", from.Layers, to.Layers, 1)
	add(facts.HeadOpensUp, "octaves", from.OpensUp, to.OpensUp, 0.05)
	add(facts.HeadHandN, "N", from.HandN, to.HandN, 2)
	add(facts.HeadInertiaGM2, "g m2", from.InertiaGM2, to.InertiaGM2, 0.05)
	return list
}

// mostLayers is how many slices a head may have.
const MostLayers = 4
