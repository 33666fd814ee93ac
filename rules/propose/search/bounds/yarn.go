package bounds

import "mallow/rules/facts"

// Yarn is what a wrap comes to on a head.
type Yarn struct {
	Fibre                      string
	MM, Turns, TensionN, Grams float64
	Cents, PackCents           float64 // of what is used, and of the packs that it has to be bought in
	Latex, Chemicals           bool
}

// Add adds the yarn to the facts of a head without.
func (y *Yarn) Add(x *facts.Head) {
	x.Fibre, x.YarnMM, x.Turns, x.TensionN = y.Fibre, y.MM, y.Turns, y.TensionN
	x.Latex, x.Chemicals = x.Latex || y.Latex, x.Chemicals || y.Chemicals
	x.MassG += y.Grams
	x.DiameterMM += 2 * y.MM
	x.CostCents += y.Cents
	x.PackCents += y.PackCents
}

// Yarns bounds what some wraps come to.
type Yarns struct {
	Lo, Hi Yarn
	some   bool
}

// Hold makes the bounds hold a wrap as well.
func (s *Yarns) Hold(y *Yarn) {
	if !s.some {
		s.Lo, s.Hi, s.some = *y, *y, true
		return
	}
	l, h := &s.Lo, &s.Hi
	if y.Fibre != l.Fibre {
		h.Fibre = AnyText
	}
	l.MM, h.MM = min(l.MM, y.MM), max(h.MM, y.MM)
	l.Turns, h.Turns = min(l.Turns, y.Turns), max(h.Turns, y.Turns)
	l.TensionN, h.TensionN = min(l.TensionN, y.TensionN), max(h.TensionN, y.TensionN)
	l.Grams, h.Grams = min(l.Grams, y.Grams), max(h.Grams, y.Grams)
	l.Cents, h.Cents = min(l.Cents, y.Cents), max(h.Cents, y.Cents)
	l.PackCents, h.PackCents = min(l.PackCents, y.PackCents), max(h.PackCents, y.PackCents)
	l.Latex, h.Latex = l.Latex && y.Latex, h.Latex || y.Latex
	l.Chemicals, h.Chemicals = l.Chemicals && y.Chemicals, h.Chemicals || y.Chemicals
}
