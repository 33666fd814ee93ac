// Package reply holds everything that is said about heads, changes, sets,
// matches, advice, orders and classes: values with a Page for people and a
// JSON form for programs, and the sentences that go into both.
//
// It decides nothing and asks nothing: what to say comes from rules, when to
// say it from the conversation or the command.
//
// In JSON every number stands in a field whose name carries its unit (mass_g,
// cut_mm, hand_force_n, price_cents), and one thing has one shape wherever it
// stands. Softness is counted in notches, higher being softer; money in
// hundredths of the catalogue's currency.
package reply

import (
	"fmt"

	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Answer is what a command has to say.
type Answer interface {
	Page() page.Page
}

// Made is one head, as text that head.Parse reads, in plain words and in full.
type Made struct {
	Stack string `json:"stack"`
	Plain string `json:"plain"`
	Head  Head   `json:"head"`
}

// Writer writes heads of one catalogue as `mallow head` does.
type Writer struct {
	cat     *knowledge.Catalogue
	setting strike.Setting
}

// DefaultInstrument is the id of the instrument that heads are shown on when
// no other is asked for.
const DefaultInstrument = "marimba-5"

// NewWriter returns a Writer that shows heads on the instrument.
func NewWriter(cat *knowledge.Catalogue, inst knowledge.Instrument) Writer {
	return Writer{cat, strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}}
}

// Default is the Writer of `mallow head` without flags.
func Default(cat *knowledge.Catalogue) Writer {
	inst, ok := cat.Instrument(DefaultInstrument)
	if !ok && len(cat.Instruments) > 0 {
		inst = cat.Instruments[0]
	}
	return NewWriter(cat, inst)
}

// On is the Writer that shows heads on the instrument that a candidate was
// worked out for.
func (w Writer) On(c propose.Candidate) Writer {
	if inst, ok := w.cat.Instrument(c.Report.Instrument); ok {
		return NewWriter(w.cat, inst)
	}
	return w
}

// Words says parts as the Writer's catalogue names them.
func (w Writer) Words() Words { return In(w.cat) }

// Write works out a stack as `mallow head` would, whatever else it was worked
// out for.
func (w Writer) Write(s head.Stack) (Made, error) {
	h := head.New(s, w.cat.Limits)
	r, err := strike.Of(h, w.setting)
	if err != nil {
		return Made{}, err
	}
	v := NewHead(h, r)
	return Made{v.Stack, w.Words().Brief(h.Stack), v}, nil
}

// Given is a head that somebody named, with what was not asked about it.
type Given struct {
	Assumptions
	Head
}

// Given works out a stack that somebody names, of whom the pass knows what was
// stated.
func (w Writer) Given(s head.Stack, p gate.Pass) (Given, error) {
	made, err := w.Write(s)
	if err != nil {
		return Given{}, err
	}
	return Given{w.Assuming(p.Given(), s), made.Head}, nil
}

// Page is the head for people, what was not asked first.
func (v Given) Page() page.Page { return append(v.Assumptions.Page(), v.Head.Page()...) }

// Assuming returns what was not stated and matters to the stacks.
func (w Writer) Assuming(p gate.Pass, stacks ...head.Stack) Assumptions {
	var heads []facts.Head
	for _, s := range stacks {
		heads = append(heads, facts.Head{Latex: s.Latex()})
	}
	return Assuming(w.cat, p, heads...)
}

// Text is a head as head.Parse reads it, with the turns of its yarn also where
// they are the plain wrap's.
func Text(h head.Head) string {
	s := h.Stack
	if s.Wrap != nil {
		w := *s.Wrap
		w.Turns = h.Turns
		s.Wrap = &w
	}
	return s.String()
}

// Pick is one head at a glance, among others.
type Pick struct {
	Stack      string  `json:"stack"`
	Plain      string  `json:"plain"`      // in words, for people
	Instrument string  `json:"instrument"` // whose medium softness and grade count from
	Grade      string  `json:"grade"`
	Softness   float64 `json:"softness"`
	MassG      float64 `json:"mass_g"`
	DiameterMM float64 `json:"diameter_mm"`
}

func (p Pick) String() string {
	return fmt.Sprintf("%s (%s, %s, %.1f g, %s)", p.Plain, p.Grade, Notches(p.Softness), p.MassG, both(p.DiameterMM))
}

// Notches is a place on the scale of softness in words.
func Notches(v float64) string {
	v = Round(v, 1) + 0 // no minus before nothing
	if v == 1 || v == -1 {
		return fmt.Sprintf("%+.0f notch", v)
	}
	return fmt.Sprintf("%+.1f notches", v)
}
