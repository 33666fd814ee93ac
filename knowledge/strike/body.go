package strike

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/rubber"
)

// Body is a head reduced to what a stroke needs, in SI units.
type Body struct {
	Mass   float64 // with the part of the shaft that is in the ball
	Radius float64 // outside the yarn
	Core   Core
	Rubber []Rubber // inside out
	Yarn   Yarn     // zero without a wrap
	Hold   float64  // of the slices by what lies below: 0 slides, 1 bonded
}

// Core is the ball on its rod.
type Core struct {
	Radius, Modulus, Poisson, Loss float64
	Rod                            Rod
}

// Rod is the part of the shaft outside the ball: mass of a metre, and
// resistance to bending in N·m². The zero Rod has no mass.
type Rod struct{ KgM, Nm2 float64 }

// Rubber is one fitted slice; Wall is its stretched thickness.
type Rubber struct {
	Wall, Modulus, Loss float64
}

// Yarn is the wound yarn: its thickness, and the pressure in Pa that squeezing
// it works against, Rest at the outside and Rest + Press next to the rubber.
type Yarn struct {
	Wall, Rest, Press, Loss float64
}

// FromHead reduces a computed head to a Body for a stroke.
func FromHead(h head.Head) (Body, error) { return bodyOf(h, true) }

// Slow reduces a computed head to a Body that is squeezed by hand: fibres and
// rubber have the time to give way.
func Slow(h head.Head) (Body, error) { return bodyOf(h, false) }

func bodyOf(h head.Head, blow bool) (Body, error) {
	core := h.Stack.Material
	impact := func(m knowledge.Material) float64 {
		if !blow {
			return 1
		}
		return cmp.Or(m.Impact.Value, 1)
	}
	b := Body{
		Mass:   float64(h.Mass) + h.Rod.KgM*float64(h.Rod.Depth),
		Radius: float64(h.Diameter) / 2,
		Core: Core{
			Radius:  float64(h.Stack.Core.Diameter) / 2,
			Modulus: CoreModulus(core, h.Stack.Core) * impact(core),
			Poisson: cmp.Or(core.Poisson.Value, 0.5),
			Loss:    core.LossFactor.Value,
			Rod:     Rod{h.Rod.KgM, h.Rod.Nm2},
		},
		Hold: h.SliceHold,
	}
	if core.Family == "rubber" {
		b.Core.Modulus *= shaftStiffens(float64(h.Rod.Diameter / h.Stack.Core.Diameter))
	}
	for _, l := range h.Layers {
		m := l.Slice.Rubber
		b.Rubber = append(b.Rubber, Rubber{Wall: float64(l.Wall), Modulus: rubber.Modulus(m.DurometerA.Value) * impact(m), Loss: m.LossFactor.Value})
	}
	if w := h.Stack.Wrap; w != nil && h.YarnWall > 0 {
		b.Yarn = YarnOf(w.Fibre, float64(h.YarnWall), h.RestPa, h.PressPa)
		if !blow {
			b.Yarn.Rest, b.Yarn.Press = h.RestPa, h.PressPa
		}
	}
	return b, b.check()
}

// YarnOf returns wound yarn as a stroke meets it, of the fibre and with the
// wall and pressures of head.Wound.
func YarnOf(fibre knowledge.Material, wall, rest, press float64) Yarn {
	fast := cmp.Or(fibre.Impact.Value, 1)
	return Yarn{Wall: wall, Rest: rest * fast, Press: press * fast, Loss: fibre.LossFactor.Value}
}

// CoreModulus returns Young's modulus in Pa of a ball at rest, with no shaft in it:
// that of its material, or what its hardness says where it is a rubber.
func CoreModulus(m knowledge.Material, c knowledge.Core) float64 {
	switch {
	case c.DurometerD > 0:
		return rubber.HardD(c.DurometerD)
	case m.Family == "rubber":
		return rubber.Moulded(cmp.Or(c.DurometerA, m.DurometerA.Value))
	}
	return m.ModulusPa.Value
}

// check reports the first quantity that no head can have.
func (b *Body) check() error {
	bad := func(what string, v float64) error {
		return fault.Errorf("%s is %g; it has to be above zero", what, v)
	}
	ok := func(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
	switch {
	case len(b.Rubber) > maxLayers:
		return fault.Errorf("%d rubber layers; at most %d are computed", len(b.Rubber), maxLayers)
	case !ok(b.Mass):
		return bad("head mass (kg)", b.Mass)
	case !ok(b.Radius):
		return bad("head radius (m)", b.Radius)
	case !ok(b.Core.Modulus):
		return bad("core modulus (Pa)", b.Core.Modulus)
	case b.Yarn.Wall > 0 && !ok(b.Yarn.Rest):
		return bad("yarn pressure (Pa)", b.Yarn.Rest)
	}
	for i, r := range b.Rubber {
		if !ok(r.Wall) || !ok(r.Modulus) {
			return bad(fmt.Sprintf("wall or modulus of layer %d", i+1), min(r.Wall, r.Modulus))
		}
	}
	return nil
}

// moving returns the mass that moves in a stroke of t seconds.
func (b *Body) moving(t float64) float64 {
	return b.Mass + b.Core.Rod.Moving(0.4*b.Mass*b.Radius*b.Radius, t)
}

// series is a Body and the surface it is pressed on, made ready to be squeezed:
// layers from the outside in.
type series struct {
	radius float64
	hold   float64
	n      int
	layer  [maxLayers]solid
	core   float64 // 9/16 over the core's modulus, as if ν were ½
	slip   float64 // of the core under the innermost layer
	flat   float64 // the same of the bar's own surface
	yarn   wound
}

// solid is one rubber layer: depth of its inner face below the outside of the
// rubber, wall, 9/16 over its modulus, and the reach of its slip (see Slip).
type solid struct{ depth, wall, soft, slip float64 }

const maxLayers = 12

// series makes the body ready to be squeezed against a surface of compliance
// flat, (1−ν²)/E in 1/Pa.
func (b *Body) series(flat float64) (s series) {
	s.radius = b.Radius
	s.hold = b.Hold
	nu := b.Core.Poisson
	s.core = 0.75 * (1 - nu*nu) / b.Core.Modulus
	s.flat = 0.75 * flat
	s.yarn = b.Yarn.wound()
	depth, above := 0.0, 0.0
	for _, r := range slices.Backward(b.Rubber) {
		depth += r.Wall
		l := solid{depth: depth, wall: r.Wall, soft: 9.0 / 16 / r.Modulus}
		if above > 0 {
			l.slip = (1 - b.Hold) * slipReach(r.Wall/above)
		}
		s.layer[s.n] = l
		s.n++
		above = r.Wall
	}
	if s.n > 0 {
		s.slip = (1 - b.Hold) * slipReach(math.Inf(1))
	}
	return s
}

// soften fills in the compliance of each layer over a patch of radius a, and
// returns that of the core and the bar.
func (s *series) soften(a float64, soft *[maxLayers]float64) (core float64) {
	phi, more := 0.0, 1.0
	for i := range s.n {
		l := &s.layer[i]
		x := a / l.depth
		p := 1 / stiffening(x, s.hold)
		soft[i] = (p - phi) * more * l.soft / a
		phi = p
		reach := s.slip
		if i+1 < s.n {
			reach = s.layer[i+1].slip
		}
		more = 1 + slip(x, reach)
	}
	return ((1-phi)*more*s.core + s.flat) / a
}

// squeeze solves the series over a patch of radius a: the force f, the
// compression d, what the yarn gives of that, and the pressure q in the middle
// of the yarn. guess is a force to start from, or a pressure where there is
// yarn, or 0. It stops at a Newton step of tol times the unknown, which
// leaves an error of some tol².
//
// One patch of contact serves all layers, since it is the sum of the
// compressions that flattens the head against the bar:
//
//	a² = R·(2·yarn + rubber + core + bar)
//
// (Yarn follows only the pressure on it, so its edge of contact is where the
// undeformed sphere would be cut; for an elastic solid half of that.) Over
// this patch
//
//	yarn    F = π·a²·mean pressure               see Yarn.Give
//	solids  F = (16/9)·a·d / Σ wᵢ/Eᵢ             Hertz, for E as if ν = ½
//
// where wᵢ is the share of the compression of a uniform solid that happens
// within layer i: Φ at its inner face less Φ at its outer face, with
// Φ(depth) = 1/stiffening(a/depth), times 1 + Slip for what slides under
// another. This is the load spreading: a deep core sees a
// wide patch and so yields little, and a layer on a rigid core is exactly the
// layer on a half-space. Weighting by depth is the form of King, International
// Journal of Solids and Structures 23 (1987) 1657 (from memory); taking the
// weight from the layer factors is ours, and is held to exact solutions by the
// tests.
func (s *series) squeeze(a, guess, tol float64) (f, d, y, q float64) {
	var soft [maxLayers]float64
	core := s.soften(a, &soft)
	target := a * a / s.radius
	if s.yarn.wall == 0 {
		f, d = s.solids(core, &soft, target, guess, tol)
		return f, d, 0, 0
	}
	area := math.Pi * a * a
	if q = guess; q <= 0 {
		sum := core
		for i := range s.n {
			sum += soft[i]
		}
		_, slope := s.yarn.give(0)
		q = target / (sum*area/2 + 2*slope)
	}
	for range 40 {
		g, slope, mean, meanSlope := s.yarn.patch(q)
		f = area * mean
		give, per := core*f, core
		for i := range s.n {
			x, k := squeezed(soft[i]*f, s.layer[i].wall)
			give += x
			per += k * soft[i]
		}
		step := (target - give - 2*g) / (per*area*meanSlope + 2*slope)
		step = max(step, -0.875*q)
		q += step
		y = g + slope*step
		f += area * meanSlope * step
		d = target - y
		if math.Abs(step) < tol*q {
			break
		}
	}
	return f, d, y, q
}

// solids is squeeze without yarn.
func (s *series) solids(core float64, soft *[maxLayers]float64, target, guess, tol float64) (f, d float64) {
	if f = guess; f <= 0 {
		sum := core
		for i := range s.n {
			sum += soft[i]
		}
		f = target / sum
	}
	if s.n == 0 {
		return target / core, target
	}
	for range 40 {
		give, per := core*f, core
		for i := range s.n {
			x, k := squeezed(soft[i]*f, s.layer[i].wall)
			give += x
			per += k * soft[i]
		}
		step := (target - give) / per
		f = max(f+step, f/8)
		if math.Abs(step) < tol*f {
			break
		}
	}
	return f, target
}

// parts is a compression divided among the core, each slice from the inside
// out, and the yarn.
type parts [maxLayers + 2]float64

// divide returns the compressions under the force f over a patch of radius a,
// when the yarn gives y. The bar's own is left out.
func (s *series) divide(a, f, y float64) (p parts) {
	var soft [maxLayers]float64
	core := s.soften(a, &soft)
	for i := range s.n {
		p[s.n-i], _ = squeezed(soft[i]*f, s.layer[i].wall)
	}
	p[0] = (core - s.flat/a) * f
	p[s.n+1] = y
	return p
}

// list returns the compressions of the parts that there are.
func (s *series) list(p parts) []float64 {
	n := s.n + 1
	if s.yarn.wall > 0 {
		n++
	}
	return slices.Clone(p[:n])
}
