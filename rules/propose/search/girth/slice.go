package girth

import (
	"math"

	"mallow/knowledge/head"
	"mallow/rules/facts"
)

// MostGrams is the most that a slice weighs over a bed as large as under x at least and as under y at most, where
// x and y are that slice: what its walls hold of the longest cut. That grows with the bed, and is no longer
// than what still grips over all its length, nor than reaches reach radians from the equator; only a slice that
// hardly grips anywhere is cut to cover zone radians.
func MostGrams(s head.Slice, x, y *facts.Layer, reach, zone float64) float64 {
	const gridMM = 1.6
	bore, wall := y.BoreMM, y.WallMM
	longer := 1.0 // is the cut than the slice once it is fitted
	if y.Stretch > 1 {
		longer = (y.OuterMM*y.OuterMM - y.UnderMM*y.UnderMM) / (4 * wall * (bore + wall))
	}
	cut := y.UnderMM * longer * reach
	if y.Stretch > 1 {
		cut = min(cut, y.CutMaxMM)
	}
	if x.Stretch <= 1 || x.CutMaxMM < gridMM {
		cut = max(cut, x.CutMM, y.CutMM, y.UnderMM*longer*zone+gridMM)
	}
	return math.Pi * wall * (bore + wall) * cut * s.Rubber.DensityKgM3.Value * 1e-6
}
