// Package onhand knows whether the tubing that somebody has gives the slices of some heads.
// It never chooses tubing, nor cuts it.
package onhand

import (
	"math"

	"mallow/knowledge/measure"
	"mallow/rules/stock/cutting"
)

// Gives reports whether lengths of one tubing, in metres, give slices for so many heads, each with all
// of those. A length may be infinite; each cut between two takes kerf.
func Gives(lengths []float64, slices []measure.Length, heads int, kerf measure.Length) bool {
	const slack = 1e-9
	var need, sum float64
	for _, cut := range slices {
		need += float64(cut)
	}
	for _, l := range lengths {
		sum += l
	}
	need = need*float64(heads) + float64(kerf)*float64(len(slices)*heads-1)
	switch {
	case need > sum+float64(kerf)*float64(len(lengths)-1)+slack:
		return false
	case len(lengths) == 1 || math.IsInf(sum, 1):
		return true
	}
	j := cutting.Job{Kerf: kerf}
	for _, cut := range slices {
		j.Want = append(j.Want, cutting.Piece{Length: cut, Count: heads})
	}
	for _, l := range lengths {
		j.Have = append(j.Have, cutting.Piece{Length: measure.Length(l), Count: 1})
	}
	_, err := j.Plan()
	return err == nil
}
