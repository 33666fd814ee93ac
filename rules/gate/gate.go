// Package gate settles what may hurt somebody: age, an adult alongside, latex,
// the chemicals of rubber, solvent and moving air. It knows what was stated and
// which careful answer stands for the rest; it never chooses a part or a word.
//
// Whoever looks for a head, or writes a sheet, needs a Pass, and a Pass comes
// from here alone. Its zero value is what holds while nobody has said anything:
// every careful answer. So a caller who forgets to ask can't be careless.
package gate

import (
	"slices"

	"mallow/rules"
	"mallow/rules/facts"
)

// Answer is what was said to a question of safety.
type Answer int8

// Answers.
const (
	Unsaid Answer = iota
	Yes
	No
)

// Say returns the answer that v stands for.
func Say(v bool) Answer {
	if v {
		return Yes
	}
	return No
}

// The facts that the gate settles.
const (
	Minor      = facts.PlayerMinor
	LatexOK    = facts.PlayerLatexOK
	RubberOK   = facts.PlayerRubberOK
	SolventOK  = facts.PlayerSolventOK
	Supervised = facts.BenchSupervised
	Ventilated = facts.BenchVentilated
)

// Paths lists the facts that the gate settles, in the order in which they are
// asked and said.
func Paths() []string {
	return []string{LatexOK, RubberOK, Minor, Supervised, SolventOK, Ventilated}
}

// Stated is what people said about everybody who makes, holds or stores the
// mallets.
type Stated struct {
	Minor      Answer // somebody is under age
	LatexOK    Answer // nobody has to avoid natural rubber latex
	RubberOK   Answer // nobody reacts to the chemicals of rubber or gloves
	SolventOK  Answer // a solvent-based glue may be used
	Supervised Answer // a responsible adult works alongside
	Ventilated Answer // outside air moves through the place
}

// at returns the answer to a fact, nil for one that is not the gate's.
func (s *Stated) at(path string) *Answer {
	switch path {
	case Minor:
		return &s.Minor
	case LatexOK:
		return &s.LatexOK
	case RubberOK:
		return &s.RubberOK
	case SolventOK:
		return &s.SolventOK
	case Supervised:
		return &s.Supervised
	case Ventilated:
		return &s.Ventilated
	}
	return nil
}

// Tell puts the answer to a fact, and reports whether the fact is the gate's.
func (s *Stated) Tell(path string, v bool) bool {
	a := s.at(path)
	if a == nil {
		return false
	}
	*a = Say(v)
	return true
}

// Said reports whether a fact of the gate's was stated.
func (s Stated) Said(path string) bool {
	a := s.at(path)
	return a != nil && *a != Unsaid
}

// Of returns what is stated by those facts of f that were answered.
func Of(f facts.Facts, answered rules.Known) Stated {
	var s Stated
	for path, v := range map[string]bool{
		Minor: f.Player.Minor, LatexOK: f.Player.LatexOK, RubberOK: f.Player.RubberOK, SolventOK: f.Player.SolventOK,
		Supervised: f.Bench.Supervised, Ventilated: f.Bench.Ventilated,
	} {
		if answered[path] {
			s.Tell(path, v)
		}
	}
	return s
}

// With joins what two people said about one group: the careful answer of
// either counts for both.
func (s Stated) With(o Stated) Stated {
	careful := func(a, b, c Answer) Answer { // c is the careful one
		switch {
		case a == c || b == c:
			return c
		case a == Unsaid:
			return b
		}
		return a
	}
	return Stated{
		Minor:      careful(s.Minor, o.Minor, Yes),
		LatexOK:    careful(s.LatexOK, o.LatexOK, No),
		RubberOK:   careful(s.RubberOK, o.RubberOK, No),
		SolventOK:  careful(s.SolventOK, o.SolventOK, No),
		Supervised: careful(s.Supervised, o.Supervised, No),
		Ventilated: careful(s.Ventilated, o.Ventilated, No),
	}
}

// Careful returns what of s is careful; the rest is left unsaid.
func (s Stated) Careful() Stated {
	for path, c := range map[string]Answer{Minor: Yes, LatexOK: No, RubberOK: No, SolventOK: No, Supervised: No, Ventilated: No} {
		if a := s.at(path); *a != c {
			*a = Unsaid
		}
	}
	return s
}

// Or returns s with what it leaves unsaid as o has it.
func (s Stated) Or(o Stated) Stated {
	for _, path := range Paths() {
		if a := s.at(path); *a == Unsaid {
			*a = *o.at(path)
		}
	}
	return s
}

// Pass says that what may hurt is settled. The zero value holds while nothing
// was stated.
type Pass struct {
	said  Stated
	given bool
}

// Settle returns the pass for what was stated.
func Settle(s Stated) Pass { return Pass{said: s} }

// Given returns the pass for a stack that people name themselves: what was
// stated stands in its way as ever, what was merely not asked doesn't. The
// latter is in Assumed, so that it is said.
func (p Pass) Given() Pass {
	p.given = true
	return p
}

// IsGiven reports whether the pass is for a stack that people name themselves.
func (p Pass) IsGiven() bool { return p.given }

// But returns the pass that would hold if a fact had been answered otherwise.
func (p Pass) But(path string, v bool) Pass {
	p.said.Tell(path, v)
	return p
}

// Stated returns what the pass rests on.
func (p Pass) Stated() Stated { return p.said }

// allows reports whether an answer lets something be that is harmless only
// after a yes.
func (p Pass) allows(a Answer) bool { return a == Yes || p.given && a == Unsaid }

// Minor reports whether the plan is made for somebody under age: one was
// named, or nobody said that there is none.
func (p Pass) Minor() bool { return p.said.Minor == Yes || p.said.Minor == Unsaid && !p.given }

// OfAge reports whether it was said that everybody who makes them is of age.
// Else every hazard has its caution for the young.
func (p Pass) OfAge() bool { return p.said.Minor == No }

// Alone reports whether somebody under age said that no adult is there. Only
// then do steps leave the plan; else they stay, for an adult's hands.
func (p Pass) Alone() bool { return p.said.Minor == Yes && p.said.Supervised == No }

// LatexOK reports whether a part may hold natural rubber latex.
func (p Pass) LatexOK() bool { return p.allows(p.said.LatexOK) && p.said.RubberOK != No }

// RubberOK reports whether a part may hold what gloves and cured rubber leave
// on the skin. Nobody is asked, since few react to it; who does says so.
func (p Pass) RubberOK() bool { return p.said.RubberOK != No }

// SolventOK reports whether a solvent-based glue may be used. Under age it may
// not, whoever is there and whatever was answered.
func (p Pass) SolventOK() bool {
	return p.allows(p.said.SolventOK) && p.Ventilated() && !p.Minor()
}

// Ventilated reports whether outside air moves through the place.
func (p Pass) Ventilated() bool { return p.allows(p.said.Ventilated) }

// Apply puts the settled answers into the facts that rules see.
func (p Pass) Apply(f *facts.Facts) {
	f.Player.Minor, f.Player.OfAge = p.Minor(), p.OfAge()
	f.Player.LatexOK = p.LatexOK()
	f.Player.RubberOK = p.RubberOK()
	f.Player.SolventOK = p.SolventOK()
	f.Bench.Supervised = !p.Alone()
	f.Bench.Ventilated = p.Ventilated()
}

// Assumed lists the facts that were not stated and that matter to the heads,
// in the order of Paths: what an answer says first. For those the careful
// answer stands, or for a given stack nobody's. An adult alongside matters only
// where somebody is under age, and solvent and air only where nobody is; what a
// given stack doesn't hold was no question.
func (p Pass) Assumed(heads ...facts.Head) []string {
	var list []string
	for _, path := range Paths() {
		if !p.said.Said(path) && p.matters(path, heads) {
			list = append(list, path)
		}
	}
	return list
}

func (p Pass) matters(path string, heads []facts.Head) bool {
	holds := func(has func(facts.Head) bool) bool { return !p.given || slices.ContainsFunc(heads, has) }
	switch path {
	case LatexOK:
		return p.said.RubberOK != No && holds(func(h facts.Head) bool { return h.Latex })
	case Minor:
		return true
	case Supervised:
		return p.said.Minor == Yes
	case SolventOK:
		return p.said.Minor != Yes && holds(func(h facts.Head) bool { return h.Solvent })
	case Ventilated:
		return p.said.Minor != Yes && p.said.SolventOK == Yes && holds(func(h facts.Head) bool { return h.Solvent })
	}
	return false // few react to the chemicals of rubber: nobody is asked, and who does says so
}

// Against lists the harm that was stated, by fact: what a stack given by hand
// is refused for, where what was merely not asked only stands first.
func (p Pass) Against() []string {
	var list []string
	for _, path := range Paths() {
		a := *p.said.at(path)
		if path == Minor && a == Yes || path != Minor && path != Supervised && path != Ventilated && a == No || path == Supervised && p.Alone() {
			list = append(list, path)
		}
	}
	return list
}
