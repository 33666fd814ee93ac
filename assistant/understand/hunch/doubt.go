package hunch

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

//go:embed doubt.yaml
var doubts string

// bounds say when an opinion counts, as doubt.yaml tells.
type bounds struct {
	Right  map[string]doubt `yaml:"right"` // by what an answer is of
	Unsaid unsaid           `yaml:"unsaid"`
}

// unsaid says from which likelihood what a line says beside what was taken counts.
type unsaid struct {
	Asked float64 `yaml:"asked"` // that it speaks of the fact
	Held  float64 `yaml:"held"`  // that it says so
	Sure  float64 `yaml:"sure"`
	Kept  float64 `yaml:"kept"`  // that it keeps it
	Order float64 `yaml:"order"` // that a line of which nothing was taken asks or orders something
}

// doubt says below which likelihood an answer is asked back, not taken meanwhile either,
// and not even asked back.
type doubt struct {
	Asked float64 `yaml:"asked"`
	Left  float64 `yaml:"left"`
	Gone  float64 `yaml:"gone"`
}

func newBounds() (bounds, error) {
	var b bounds
	d := yaml.NewDecoder(strings.NewReader(doubts))
	d.KnownFields(true)
	if err := d.Decode(&b); err != nil {
		return b, fmt.Errorf("doubt.yaml: %w", err)
	}
	shares := []float64{b.Unsaid.Asked, b.Unsaid.Held, b.Unsaid.Sure, b.Unsaid.Kept, b.Unsaid.Order}
	for _, of := range []string{Take, Move, Part, Harm, Safe, Act, Order} {
		d, ok := b.Right[of]
		if !ok {
			return b, fmt.Errorf("doubt.yaml: right says nothing of %s", of)
		}
		if d.Left > d.Asked {
			return b, fmt.Errorf("doubt.yaml: right: %s: what is left is asked, so left is at most asked, %g, not %g", of, d.Asked, d.Left)
		}
		if d.Gone < 0 || d.Gone > d.Left {
			return b, fmt.Errorf("doubt.yaml: right: %s: what is gone is left, so gone is at most left, %g, and not below 0, not %g", of, d.Left, d.Gone)
		}
		shares = append(shares, d.Asked, d.Left)
	}
	for _, v := range shares {
		if v <= 0 || v >= 1 {
			return b, fmt.Errorf("doubt.yaml: asked, left, held, sure, kept and order are shares between 0 and 1, not %g", v)
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

// Gone reports whether it is not asked back either: it was said of something else.
func (n *Net) Gone(of string, likely float64) bool {
	return n != nil && likely < n.bounds.Right[of].Gone
}

// Leaves reports whether it is not taken meanwhile either.
func (n *Net) Leaves(of string, likely float64) bool {
	return n != nil && likely < n.bounds.Right[of].Left
}

// Holds reports whether what a line likely says beside what was taken is taken meanwhile.
func (n *Net) Holds(g Guess) bool {
	if n == nil {
		return false
	}
	least := n.bounds.Unsaid.Held
	if g.Of == Keep {
		least = n.bounds.Unsaid.Kept
	}
	return (g.Value != nil || g.Of != Take) && g.Likely >= least
}

// Sure reports whether it is not asked back either.
func (n *Net) Sure(g Guess) bool { return n.Holds(g) && g.Likely >= n.bounds.Unsaid.Sure }

// Orders returns what a line that tells nothing likely asks or orders.
func (n *Net) Orders(o Opinion) (act reading.Act, ok bool) {
	if n == nil || o.net == nil {
		return "", false
	}
	least := n.bounds.Unsaid.Order
	for _, a := range []reading.Act{reading.Ask, reading.Undo, reading.Back, reading.Restart, reading.Save, reading.Leave, reading.Lesson} {
		label := string(a)
		switch a {
		case reading.Ask:
			label = "question"
		case reading.Undo: // many a line is taken for an order to undo that is none
			label = Withdraw
		}
		if i, taught := n.label[label]; taught && float64(o.free[i]) >= least {
			act, ok, least = a, true, float64(o.free[i])
		}
	}
	return act, ok
}

// Drops reports whether it is this fact that a line which takes back is likely about.
func (n *Net) Drops(g Guess) bool {
	const even = 0.5
	return n != nil && (g.Of == Withdraw && g.Likely > even || g.Of == Take && g.Speaks > even)
}

// Wonders reports whether a fact is asked for that a line likely speaks of.
func (n *Net) Wonders(g Guess) bool { return n != nil && g.Speaks >= n.bounds.Unsaid.Asked }
