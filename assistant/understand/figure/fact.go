// Package figure knows what a figure can be of: the facts it fits, in which unit,
// where answers lie; and what stands beside it in its clause: the limit behind it,
// whom a sum is for. It never takes an answer.
package figure

import (
	"math"

	"mallow/assistant/understand/quantity"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Likely reports whether a bare figure lies where answers to a fact lie.
func Likely(path string, q *quantity.Quantity) bool {
	v, _ := In(path, q)
	if q.Dim == quantity.Length && path == "want.diameter_mm" {
		v = measure.Length(q.Value).MM()
	}
	lo, hi := 0.0, math.Inf(1)
	switch path {
	case "want.mass_g":
		lo, hi = 4, 100
	case "want.diameter_mm":
		lo, hi = 15, 65
	case "want.softness":
		lo, hi = -12, 12
	case "want.budget", "want.total_budget":
		lo, hi = 100, 100000
	case "want.pairs":
		lo, hi = 1, 500
	case "class.size":
		lo, hi = 1, 400
	case "player.mallets":
		lo, hi = 1, 6
	case "player.tension_n":
		lo, hi = 0.5, 20
	case "instrument.low_hz", "instrument.high_hz":
		lo, hi = 25, 8000
	}
	return v >= lo && v <= hi
}

// Fits reports whether a fact can be settled by a quantity.
func Fits(path string, q *quantity.Quantity) bool {
	switch path {
	case "want.mass_g":
		return q.Dim == quantity.Mass || q.Dim == quantity.Plain
	case "want.diameter_mm":
		return q.Dim == quantity.Length || q.Dim == quantity.Plain
	case "want.budget", "want.total_budget":
		return q.Dim == quantity.Money || q.Dim == quantity.Plain || q.Dim == quantity.Pieces && q.Form == "pair" // 15 a pair
	case "want.softness":
		return q.Dim == quantity.Notches || q.Dim == quantity.Plain
	case "player.level", "player.mallets", "player.hand_n", "want.pairs", "class.size":
		return (q.Dim == quantity.Plain || q.Dim == quantity.Pieces) && q.Whole
	case "player.tension_n":
		return q.Dim == quantity.Newtons || q.Dim == quantity.Plain
	case "instrument.low_hz", "instrument.high_hz":
		return q.Dim == quantity.Plain && q.Value > 20
	case "player.grip":
		return q.Dim == quantity.Plain && q.Value == 2
	}
	return false
}

// In returns a quantity in the fact's unit, and whether that was a guess;
// NaN when it can't be meant.
func In(path string, q *quantity.Quantity) (v float64, guess bool) {
	v = q.Value
	switch path {
	case "want.mass_g":
		if q.Dim == quantity.Mass {
			v = measure.Mass(v).Grams()
		}
		v = math.Round(v*1e6) / 1e6
	case "want.diameter_mm":
		unit := 1.0
		if q.Dim == quantity.Plain {
			unit, guess = quantity.GuessUnit(*q), true
		}
		v = math.Round(measure.Length(v*unit).MM()*1e6) / 1e6
	case "want.budget", "want.total_budget":
		if q.Dim != quantity.Money {
			v *= 100
		}
		v = math.Round(v)
	}
	if v < 0 || v > 1e6 {
		return math.NaN(), false
	}
	return v, guess
}

// Moves reports whether a quantity says by how much a fact is moved.
func Moves(path string, q *quantity.Quantity) bool {
	if q.Dim == quantity.Notches {
		return true
	}
	switch path {
	case "want.mass_g":
		return q.Dim == quantity.Mass
	case "want.diameter_mm":
		return q.Dim == quantity.Length
	case "want.budget":
		return q.Dim == quantity.Money
	}
	return false
}

// Amount returns a quantity in the fact's own unit.
func Amount(path string, q *quantity.Quantity) float64 {
	switch path {
	case "want.mass_g":
		return measure.Mass(q.Value).Grams()
	case "want.diameter_mm":
		return measure.Length(q.Value).MM()
	}
	return q.Value
}

// Of returns the fact that a quantity moves where none is named, or "".
func Of(dim quantity.Dim) string {
	switch dim {
	case quantity.Mass:
		return facts.WantMassG
	case quantity.Length:
		return facts.WantDiameterMM
	case quantity.Money:
		return facts.WantBudgetCents
	}
	return ""
}

// Unit returns the unit that a move by such a quantity is in, or "".
func Unit(dim quantity.Dim) string {
	switch dim {
	case quantity.Mass:
		return "g"
	case quantity.Length:
		return "mm"
	case quantity.Notches:
		return "notches"
	case quantity.Money:
		return "cents"
	}
	return ""
}
