package onhand

import (
	"math"
	"testing"

	"mallow/knowledge/measure"
)

func TestGives(t *testing.T) {
	const mm = 0.001
	for _, tt := range []struct {
		name    string
		lengths []float64
		slices  []measure.Length
		heads   int
		want    bool
	}{
		{"one piece, to the millimetre", []float64{83 * mm}, []measure.Length{20 * mm}, 4, true},
		{"a millimetre short by the cuts", []float64{82 * mm}, []measure.Length{20 * mm}, 4, false},
		{"enough in all, but no piece is long enough", []float64{30 * mm, 30 * mm}, []measure.Length{40 * mm}, 1, false},
		{"two pieces, one head of each", []float64{41 * mm, 41 * mm}, []measure.Length{20 * mm, 20 * mm}, 2, true},
		{"no end of it beside a rest", []float64{10 * mm, math.Inf(1)}, []measure.Length{40 * mm}, 40, true},
	} {
		if got := Gives(tt.lengths, tt.slices, tt.heads, 1*mm); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}
