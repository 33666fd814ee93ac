// Package rules loads, type-checks, fires and explains rules written in expr
// over one typed set of facts. It knows nothing about parts or physics.
package rules

// Effect is what a rule does when it fires.
type Effect string

// Effects.
const (
	Refuse  Effect = "refuse"  // the head is not offered
	Prefer  Effect = "prefer"  // adds Weight to the head's score
	Note    Effect = "note"    // says Reason
	Caution Effect = "caution" // puts caution Give on the sheet
	Ask     Effect = "ask"     // asks question Give
	Step    Effect = "step"    // puts step Give on the sheet
	Choose  Effect = "choose"  // sets a weight of the search, named in Give, to Weight
)

// Rule is one rule of the book. Its strings are as written in YAML.
type Rule struct {
	ID     string    `yaml:"id"`
	On     string    `yaml:"on"`   // what it is asked about: player, layer or head
	When   string    `yaml:"when"` // expr over the facts, a bool
	Do     Effect    `yaml:"do"`
	Give   string    `yaml:"give"`   // caution, step, question or weight
	Weight float64   `yaml:"weight"` // in points of score; better is higher
	Reason string    `yaml:"reason"` // text with {fact} or {expression:.1f}
	Change string    `yaml:"change"` // what would change the outcome, same form
	Source string    `yaml:"source"`
	Fires  []Example `yaml:"fires"` // facts on which it must fire
	Quiet  []Example `yaml:"quiet"` // facts on which it must not
	File   string    `yaml:"-"`
	Line   int       `yaml:"-"`
}

// Example is facts by dotted path, for example head.mass_g: 41.
type Example map[string]any

// Reading is one fact or sub-expression that a rule met.
type Reading struct {
	Expr  string `json:"expr"`
	Value any    `json:"value"`
}

// Firing is a rule's answer to one set of facts.
type Firing struct {
	Rule   *Rule
	State  State
	About  string    // "layer 2", or empty
	Values []Reading // what it read, and each comparison in it
	Reason string    // filled in; empty unless fired
	Change string
}

// State is whether a rule fired.
type State string

// States.
const (
	Fired      State = "fired"
	Quiet      State = "quiet"
	CannotTell State = "cannot tell yet" // it reads a fact that is not known
)

// Known is the set of fact paths, such as player.grip, that have been
// answered or computed. A rule that reads any other fact can't tell yet.
type Known map[string]bool
