// Package gate settles what may hurt somebody: age, an adult alongside, latex,
// the chemicals of rubber, solvent and moving air. It knows what was stated and
// which careful answer stands for the rest; it never chooses a part or a word.
//
// Whoever looks for a head, or writes a sheet, needs a Pass, and a Pass comes
// from here alone. Its zero value is what holds while nobody has said anything:
// every careful answer. So a caller who forgets to ask can't be careless.
package gate

import (
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

// Pass says that what may hurt is settled. The zero value holds while nothing
// was stated.
type Pass struct {
	said Stated
}

// Settle returns the pass for what was stated.
func Settle(s Stated) Pass { return Pass{said: s} }

// Stated returns what the pass rests on.
func (p Pass) Stated() Stated { return p.said }

// Minor reports whether the plan is made for somebody under age: one was
// named, or nobody said that there is none.
func (p Pass) Minor() bool { return p.said.Minor != No }

// Alone reports whether somebody under age said that no adult is there. Only
// then do steps leave the plan; else they stay, for an adult's hands.
func (p Pass) Alone() bool { return p.said.Minor == Yes && p.said.Supervised == No }

// LatexOK reports whether a part may hold natural rubber latex.
func (p Pass) LatexOK() bool { return p.said.LatexOK == Yes && p.said.RubberOK != No }

// RubberOK reports whether a part may hold what gloves and cured rubber leave
// on the skin. Nobody is asked, since few react to it; who does says so.
func (p Pass) RubberOK() bool { return p.said.RubberOK != No }

// SolventOK reports whether a solvent-based glue may be used. Under age it may
// not, whoever is there and whatever was answered.
func (p Pass) SolventOK() bool {
	return p.said.SolventOK == Yes && p.said.Ventilated == Yes && p.said.Minor == No
}

// Apply puts the settled answers into the facts that rules see.
func (p Pass) Apply(f *facts.Facts) {
	f.Player.Minor = p.Minor()
	f.Player.LatexOK = p.LatexOK()
	f.Player.RubberOK = p.RubberOK()
	f.Player.SolventOK = p.SolventOK()
	f.Bench.Supervised = !p.Alone()
	f.Bench.Ventilated = p.said.Ventilated == Yes
}

// Assumed lists the facts that were not stated and for which the careful
// answer stands, in the order of Paths. It is what an answer says first. An
// adult alongside matters only where somebody is under age, and solvent and
// air only where nobody is.
func (p Pass) Assumed() []string {
	var list []string
	for _, path := range Paths() {
		if p.said.Said(path) || path == RubberOK {
			continue
		}
		switch path {
		case LatexOK:
			if p.said.RubberOK == No {
				continue
			}
		case Supervised:
			if p.said.Minor != Yes {
				continue
			}
		case SolventOK:
			if p.said.Minor == Yes {
				continue
			}
		case Ventilated:
			if p.said.SolventOK != Yes || p.said.Minor != No {
				continue
			}
		}
		list = append(list, path)
	}
	return list
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
