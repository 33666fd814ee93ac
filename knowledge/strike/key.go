package strike

import "math"

// Key is a body as a value, to remember its strokes by.
type Key [14 + 3*keyLayers]uint64

// keyLayers is how many slices a key has room for.
const keyLayers = 4

// Key returns the body's key, and false for a body of more slices than a key
// has room for.
func (b *Body) Key() (k Key, ok bool) {
	if len(b.Rubber) > keyLayers {
		return k, false
	}
	c, y := &b.Core, &b.Yarn
	for i, x := range [14]float64{
		b.Mass, b.Radius, b.Hold,
		c.Radius, c.Modulus, c.Poisson, c.Loss, c.Rod.KgM, c.Rod.Nm2,
		y.Wall, y.Rest, y.Press, y.Loss, float64(len(b.Rubber)),
	} {
		k[i] = math.Float64bits(x)
	}
	for i, r := range b.Rubber {
		at := k[14+3*i:]
		at[0], at[1], at[2] = math.Float64bits(r.Wall), math.Float64bits(r.Modulus), math.Float64bits(r.Loss)
	}
	return k, true
}
