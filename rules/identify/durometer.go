package identify

import (
	"cmp"
	"math"

	"mallow/knowledge/head"
	"mallow/knowledge/rubber"
)

// durometerSpread is what a reading strays by where the yarn lies thicker or
// thinner under the foot, in points of Shore A. An assumption.
const durometerSpread = 4

// tipRadius is that of the Shore A indenter's flat end, 0.79 mm across (ISO
// 868, from memory).
const tipRadius = 0.395e-3

// durometer returns what a durometer reads when it is pressed on the equator.
//
// The indenter is taken as a flat punch. Under the middle of one on a half
// space that keeps its volume, the push at depth z is that at the surface
// times (2/π)(arctan(1/x) + x/(1 + x²)) with x = z/a (Boussinesq's solution, from
// memory); a layer gives by what the push falls across it, over its modulus.
// Yarn is taken as pressed flat: it only spreads the load by its solid
// thickness. How far that holds nobody has measured here, which the error of a
// reading has to cover.
func durometer(h *head.Head) float64 {
	a := tipRadius
	if w := h.Stack.Wrap; w != nil {
		a += float64(h.YarnWall) * head.Packing(h.RestPa+h.PressPa/2, w.Yarn.CrushPa.Value)
	}
	push := func(z float64) float64 {
		if z == 0 {
			return 1
		}
		x := z / a
		return 2 / math.Pi * (math.Atan(1/x) + x/(1+x*x))
	}
	give, z := 0.0, 0.0
	for i := len(h.Layers) - 1; i >= 0; i-- {
		l := &h.Layers[i]
		give += (push(z) - push(z+float64(l.Wall))) / rubber.Modulus(l.Slice.Rubber.DurometerA.Value)
		z += float64(l.Wall)
	}
	m := &h.Stack.Material
	young := m.ModulusPa.Value
	if a := cmp.Or(h.Stack.Core.DurometerA, m.DurometerA.Value); a > 0 {
		young = rubber.Moulded(a)
	}
	give += push(z) / young
	// Gent's relation turned round, by halves: it rises with the reading.
	lo, hi := 0.0, 99.9
	for range 40 {
		if mid := (lo + hi) / 2; rubber.Modulus(mid)*give < 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
