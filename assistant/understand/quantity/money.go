package quantity

import "mallow/assistant/understand/lexis"

// cents reads what is said of a sum beside whole pounds, from token i on: seven pounds
// fifty.
func (s Words) cents(i int) (v float64, n int) {
	q, n, loose := s.numberAt(i)
	if n == 0 || loose || !q.Whole || q.Value < 5 || q.Value > 99 {
		return 0, 0
	}
	after := s.At(i + n)
	if x, _ := s.SlotAt(i+n, "share"); x != nil && !after.Is("pair") && !after.Is("pr") || after.Is("and") || after.Is("but") || after.Is("for") || after.Is("max") || after.Is("is") || after.Is("or") || after.Kind != lexis.Word && after.Kind != lexis.Number && after.Kind != lexis.Fraction {
		return q.Value, n
	}
	return 0, 0
}

// note reads a note of money that is named by its worth, at token i: a fiver; fiver max.
func (s Words) note(i int) (Quantity, int) {
	x, n := s.SlotAt(i, "unit")
	if x == nil || x.Value != "tenner" && x.Value != "fiver" {
		return Quantity{}, 0
	}
	size := unitSizes[x.Value]
	return Quantity{Dim: size.dim, Value: size.size, Unit: 100, Whole: true, Spelt: true}, n
}
