// Package propose finds heads: it enumerates what parts can make, drops what
// the rules refuse, and ranks the rest by what the rules prefer.
package propose

import (
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
)

// Candidate is one head with everything known about it.
type Candidate struct {
	Stack  head.Stack
	Head   head.Head
	Report strike.Report
	Facts  facts.Facts
	Score  float64        // higher is better
	Trace  []rules.Firing // every rule that was asked
}
