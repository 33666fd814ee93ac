package hunch

import (
	"cmp"
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/rules/facts"
)

//go:embed doubt.yaml
var doubts string

// bounds say when an opinion counts, as doubt.yaml tells.
type bounds struct {
	Doubted  float64            `yaml:"doubted"`
	Of       map[string]float64 `yaml:"of"` // doubted, for some facts
	Unharmed float64            `yaml:"unharmed"`
	Strange  float64            `yaml:"strange"`
	Missed   float64            `yaml:"missed"`
	Asking   asking             `yaml:"asking"`
}

func newBounds() (bounds, error) {
	var b bounds
	d := yaml.NewDecoder(strings.NewReader(doubts))
	d.KnownFields(true)
	if err := d.Decode(&b); err != nil {
		return b, fmt.Errorf("doubt.yaml: %w", err)
	}
	for _, v := range slices.AppendSeq([]float64{b.Doubted, b.Unharmed, b.Strange, b.Missed, b.Asking.Below}, maps.Values(b.Of)) {
		if v <= 0 || v >= 1 {
			return b, fmt.Errorf("doubt.yaml: doubted, what stands under of, unharmed, strange, missed and below are shares between 0 and 1, not %g", v)
		}
	}
	return b, nil
}

// together are facts of which one says another: a grip how many mallets are held, a
// range the notes at its ends. What speaks of one may speak of all.
var together = [][]string{
	{facts.InstrumentKind, "instrument.id"},
	{facts.PlayerGrip, facts.PlayerMallets},
	{facts.InstrumentLowHz, facts.InstrumentHighHz, "instrument.octaves", facts.InstrumentKind},
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

// below reports whether the likeliest of labels is less likely than bound. What was not
// taught never is.
func (o Opinion) below(bound float64, labels ...string) bool {
	most, taught := 0.0, false
	for _, l := range labels {
		if p, ok := o.Of(l); ok {
			most, taught = max(most, p), true
		}
	}
	return taught && most < bound
}

// Fact reports whether an answer to a fact is in doubt; a nil value is any answer.
func (o Opinion) Fact(path string, value any) bool {
	return o.net != nil && (o.below(cmp.Or(o.net.bounds.Of[path], o.net.Doubted), Near(path)...) || value != nil && o.below(o.net.Strange, label(path, value)))
}

// label names a fact with a value.
func label(path string, value any) string { return fmt.Sprintf("%s=%v", path, value) }

// Harm reports whether what is said of a fact of harm is in doubt, where the value counts
// as much as the fact.
func (o Opinion) Harm(path string, value bool) bool {
	return o.net != nil && (o.below(o.net.Unharmed, Near(path)...) || o.below(o.net.Unharmed, label(path, value)))
}

// Move reports whether a wish for more or, where by is negative, less of what a fact
// measures is in doubt.
func (o Opinion) Move(path string, by float64) bool {
	path = strings.Replace(path, "head.", "want.", 1)
	sign := "+"
	if by < 0 {
		sign = "-"
	}
	return o.net != nil && (o.below(o.net.Doubted, path) || o.below(o.net.Strange, path+sign))
}

// Part reports whether it is in doubt that a part of a kind is on hand.
func (o Opinion) Part(kind string) bool {
	return o.net != nil && o.below(o.net.Doubted, "part."+kind)
}

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
