// Package rules loads, type-checks, fires and explains rules over one typed
// set of facts. It knows nothing about parts or physics: the facts are any
// struct F of structs whose leaves are float64, string and bool, described by
// the tags expr (name), unit, doc and oneof.
//
// A rule is YAML. What it says about the facts is written in the language of
// github.com/expr-lang/expr, which parses and type-checks it. The part of
// the language that rules may use has no loops, no functions that reach
// outside the facts, and nothing that allocates, so a rule always ends and
// costs no more than its size. Package rules walks the checked tree itself,
// because a rule has to say more than yes or no: on which values, and whether
// it can tell at all while some facts are not known yet.
package rules

import (
	"encoding/json"
	"fmt"
)

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
	Choose  Effect = "choose"  // sets a number of the search, named in Give, to Weight
)

// effects returns every effect.
func effects() []Effect {
	return []Effect{Refuse, Prefer, Note, Caution, Ask, Step, Choose}
}

// gives reports whether a rule of effect e names something in Give.
func (e Effect) gives() bool {
	return e == Caution || e == Ask || e == Step || e == Choose
}

// weighs reports whether a rule of effect e has a Weight.
func (e Effect) weighs() bool { return e == Prefer || e == Choose }

// Rule is one rule of the book. Its strings are as written in YAML.
type Rule struct {
	ID     string    `json:"id"`
	Title  string    `json:"title"` // the rule in a few words
	On     string    `json:"on"`    // what it is asked about: player, layer or head
	When   string    `json:"when"`  // expr over the facts, a bool
	Do     Effect    `json:"do"`
	Give   string    `json:"give,omitempty"`   // caution, step, question or weight
	Weight float64   `json:"weight,omitempty"` // in points of score; better is higher
	Reason string    `json:"reason"`           // text with {fact} or {expression:.1f}
	Change string    `json:"change,omitempty"` // what would change the outcome, same form
	Source string    `json:"source"`
	Fires  []Example `json:"fires"`            // facts on which it must fire
	Quiet  []Example `json:"quiet"`            // facts on which it must not
	Safety bool      `json:"safety,omitempty"` // no overlay may change or hide it
	File   string    `json:"file"`
	Line   int       `json:"line"`
	// Was is where the rule stood before an overlay changed it, as file:line.
	Was string `json:"was,omitempty"`
}

// Example is facts by dotted path, for example head.mass_g: 41. Facts that
// it leaves out are not known.
type Example struct {
	Facts Given `json:"facts"`
	Line  int   `json:"line"`
}

// Given is the facts of an example in the order of the file.
type Given []struct {
	Path  string
	Value any // float64, string or bool
}

// MarshalJSON writes the facts as fields.
func (g Given) MarshalJSON() ([]byte, error) {
	fields := make(map[string]any, len(g))
	for _, x := range g {
		fields[x.Path] = x.Value
	}
	return json.Marshal(fields)
}

// Reading is one fact or sub-expression that a rule met.
type Reading struct {
	Expr string `json:"expr"`
	// Value is a float64, string or bool, or nil when it is not known or not
	// a finite number.
	Value any    `json:"value"`
	Unit  string `json:"unit,omitempty"`
}

// Firing is a rule's answer to one set of facts.
type Firing struct {
	Rule   *Rule     `json:"-"`
	State  State     `json:"state"`
	About  string    `json:"about,omitempty"`  // "layer 2", or empty
	Values []Reading `json:"values"`           // what it read, and each comparison in it
	Reason string    `json:"reason,omitempty"` // filled in; empty unless fired
	Change string    `json:"change,omitempty"` // filled in; empty unless fired
}

// MarshalJSON writes the answer with what names the rule, but without the
// rule's own text and examples.
func (f Firing) MarshalJSON() ([]byte, error) {
	type answer Firing
	r := f.Rule
	return json.Marshal(struct {
		Rule   string  `json:"rule"`
		Title  string  `json:"title"`
		Do     Effect  `json:"do"`
		Give   string  `json:"give,omitempty"`
		Weight float64 `json:"weight,omitempty"`
		Source string  `json:"source"`
		At     string  `json:"at"`
		answer
	}{r.ID, r.Title, r.Do, r.Give, r.Weight, r.Source, r.Place(), answer(f)})
}

// Place returns where the rule stands, as file:line.
func (r *Rule) Place() string { return fmt.Sprintf("%s:%d", r.File, r.Line) }

// State is whether a rule fired.
type State string

// States.
const (
	Fired      State = "fired"
	Quiet      State = "quiet"
	CannotTell State = "cannot tell yet" // the outcome hangs on a fact that is not known
)

// Known is the set of fact paths, such as player.grip, that have been
// answered or computed. A nil Known knows everything.
type Known map[string]bool
