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
	Right  map[string]doubt `yaml:"right"` // by what an answer is of
	Missed float64          `yaml:"missed"`
}

// doubt says below which likelihood an answer is asked back, and not taken meanwhile either.
type doubt struct {
	Asked float64 `yaml:"asked"`
	Left  float64 `yaml:"left"`
}

func newBounds() (bounds, error) {
	var b bounds
	d := yaml.NewDecoder(strings.NewReader(doubts))
	d.KnownFields(true)
	if err := d.Decode(&b); err != nil {
		return b, fmt.Errorf("doubt.yaml: %w", err)
	}
	shares := []float64{b.Missed}
	for _, of := range []string{Take, Move, Part, Harm, Safe, Act} {
		d, ok := b.Right[of]
		if !ok {
			return b, fmt.Errorf("doubt.yaml: right says nothing of %s", of)
		}
		if d.Left > d.Asked {
			return b, fmt.Errorf("doubt.yaml: right: %s: what is left is asked, so left is at most asked, %g, not %g", of, d.Asked, d.Left)
		}
		shares = append(shares, d.Asked, d.Left)
	}
	for _, v := range shares {
		if v <= 0 || v >= 1 {
			return b, fmt.Errorf("doubt.yaml: asked, left and missed are shares between 0 and 1, not %g", v)
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

// Asks reports whether an answer that is this likely right is asked back.
func (n *Net) Asks(of string, likely float64) bool {
	return n != nil && likely < n.bounds.Right[of].Asked
}

// Leaves reports whether it is not taken meanwhile either.
func (n *Net) Leaves(of string, likely float64) bool {
	return n != nil && likely < n.bounds.Right[of].Left
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
