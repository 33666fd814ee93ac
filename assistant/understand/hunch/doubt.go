package hunch

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/rules/facts"
)

//go:embed doubt.yaml
var doubts string

// bounds say when an opinion counts, as doubt.yaml tells.
type bounds struct {
	Doubted float64 `yaml:"doubted"`
	Dropped float64 `yaml:"dropped"`
	Strange float64 `yaml:"strange"`
	Missed  float64 `yaml:"missed"`
}

func newBounds() (bounds, error) {
	var b bounds
	d := yaml.NewDecoder(strings.NewReader(doubts))
	d.KnownFields(true)
	if err := d.Decode(&b); err != nil {
		return b, fmt.Errorf("doubt.yaml: %w", err)
	}
	if !(0 <= b.Strange && b.Strange <= b.Dropped && b.Dropped <= b.Doubted && b.Doubted < b.Missed && b.Missed <= 1) {
		return b, fmt.Errorf("doubt.yaml: strange, dropped, doubted and missed have to rise from 0 to 1, not %g, %g, %g, %g", b.Strange, b.Dropped, b.Doubted, b.Missed)
	}
	return b, nil
}

// Verdict is what is to be done with something that was taken of a line.
type Verdict byte

// Verdicts.
const (
	Fine    Verdict = iota
	Doubted         // it is asked back
	Dropped         // it is asked, and not taken meanwhile
)

// together are facts of which one says another: a grip how many mallets are held, a
// range the notes at its ends. What speaks of one may speak of all.
var together = [][]string{
	{facts.InstrumentKind, "instrument.id"},
	{facts.PlayerGrip, facts.PlayerMallets},
	{facts.InstrumentLowHz, facts.InstrumentHighHz, "instrument.octaves"},
	{facts.PlayerLatexOK, facts.PlayerRubberOK},
}

// Near lists a fact and those that it may be said by.
func Near(path string) []string {
	for _, g := range together {
		if slices.Contains(g, path) {
			return g
		}
	}
	return []string{path}
}

// of returns the verdict on what was taken as one of labels, by the likeliest. There
// is none on what was not taught.
func (o Opinion) of(labels ...string) Verdict {
	most, taught := 0.0, false
	for _, l := range labels {
		if p, ok := o.Of(l); ok {
			most, taught = max(most, p), true
		}
	}
	switch {
	case !taught || most >= o.net.Doubted:
		return Fine
	case most >= o.net.Dropped:
		return Doubted
	}
	return Dropped
}

// strange reports whether a value is, of a fact that is spoken of.
func (o Opinion) strange(label string) bool {
	p, ok := o.Of(label)
	return ok && p < o.net.Strange
}

// Fact returns the verdict on an answer to a fact; a nil value is any answer.
func (o Opinion) Fact(path string, value any) Verdict {
	v := o.of(Near(path)...)
	if v == Fine && value != nil && o.strange(fmt.Sprintf("%s=%v", path, value)) {
		v = Doubted
	}
	return v
}

// Harm returns the verdict on what is said of a fact of harm, where the value counts
// as much as the fact.
func (o Opinion) Harm(path string, value bool) Verdict {
	return max(o.of(Near(path)...), o.of(fmt.Sprintf("%s=%v", path, value)))
}

// Move returns the verdict on a wish for more or, where by is negative, less of what
// a fact measures.
func (o Opinion) Move(path string, by float64) Verdict {
	path = strings.Replace(path, "head.", "want.", 1)
	sign := "+"
	if by < 0 {
		sign = "-"
	}
	v := o.of(path)
	if v == Fine && o.strange(path+sign) {
		v = Doubted
	}
	return v
}

// Part returns the verdict on a part of a kind that is on hand.
func (o Opinion) Part(kind string) Verdict { return min(o.of("part."+kind), Doubted) }

// Missed lists the facts that the line likely speaks of.
func (o Opinion) Missed() []string {
	if o.net == nil {
		return nil
	}
	var out []string
	for i, label := range o.net.Labels {
		group, rest, ok := strings.Cut(label, ".")
		if ok && group != "part" && !strings.ContainsAny(rest, "=+-!") && float64(o.likely[i]) > o.net.bounds.Missed {
			out = append(out, label)
		}
	}
	return out
}
