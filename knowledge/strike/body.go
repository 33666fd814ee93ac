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
	Mass   float64
	Radius float64 // outside the yarn
	Core   Core
	Rubber []Rubber // inside out
	Yarn   Yarn     // zero without a wrap
	Grip   float64  // of the slices on what lies below: 0 slides, 1 bonded
}

// Core is the ball.
type Core struct {
	Radius, Modulus, Poisson, Loss float64
}

// Rubber is one fitted slice; Wall is its stretched thickness.
type Rubber struct {
	Wall, Modulus, Loss float64
}

// Yarn is the wound yarn: its thickness and van Wyk's pressure K·E·φ³.
type Yarn struct {
	Wall, Pressure, Loss float64
}

// FromHead reduces a computed head to a Body.
func FromHead(h head.Head) (Body, error) {
	core := h.Stack.Material
	e := modulus(core, h.Stack.Core.DurometerA)
	b := Body{
		Mass:   float64(h.Mass),
		Radius: float64(h.Diameter) / 2,
		Core: Core{
			Radius:  float64(h.Stack.Core.Diameter) / 2,
			Modulus: e,
			Poisson: cmp.Or(core.Poisson.Value, 0.5),
			Loss:    core.LossFactor.Value,
		},
		Grip: grip,
	}
	for _, l := range h.Layers {
		m := l.Slice.Rubber
		b.Rubber = append(b.Rubber, Rubber{Wall: float64(l.Wall), Modulus: modulus(m, 0), Loss: m.LossFactor.Value})
	}
	if w := h.Stack.Wrap; w != nil && h.YarnWall > 0 {
		phi := w.Yarn.Wound.Value
		b.Yarn = Yarn{
			Wall:     float64(h.YarnWall),
			Pressure: w.Yarn.VanWyk.Value * modulus(w.Fibre, 0) * phi * phi * phi,
			Loss:     w.Fibre.LossFactor.Value,
		}
	}
	return b, b.check()
}

// modulus returns what a material puts against a blow: Young's modulus at
// rest, from its durometer (or the part's own, shoreA) where it is a rubber,
// times how much stiffer it is within a few milliseconds.
func modulus(m knowledge.Material, shoreA float64) float64 {
	e := m.ModulusPa.Value
	if a := cmp.Or(shoreA, m.DurometerA.Value); a > 0 {
		e = rubber.Modulus(a)
	}
	return e * cmp.Or(m.Impact.Value, 1)
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
	case b.Yarn.Wall > 0 && !ok(b.Yarn.Pressure):
		return bad("yarn pressure (Pa)", b.Yarn.Pressure)
	}
	for i, r := range b.Rubber {
		if !ok(r.Wall) || !ok(r.Modulus) {
			return bad(fmt.Sprintf("wall or modulus of layer %d", i+1), min(r.Wall, r.Modulus))
		}
	}
	return nil
}

// series is a Body made ready to be squeezed: layers from the outside in.
type series struct {
	radius float64
	grip   float64
	n      int
	layer  [maxLayers]solid
	core   float64 // 9/16 over the core's modulus, as if ν were ½
	yarn   float64 // wall; 0 without
	press  float64
}

// solid is one rubber layer: depth of its inner face below the outside of the
// rubber, wall, and 9/16 over its modulus.
type solid struct{ depth, wall, soft float64 }

const maxLayers = 12

func (b *Body) series() (s series) {
	s.radius = b.Radius
	s.grip = b.Grip
	nu := b.Core.Poisson
	s.core = 0.75 * (1 - nu*nu) / b.Core.Modulus
	s.yarn, s.press = b.Yarn.Wall, b.Yarn.Pressure
	depth := 0.0
	for _, r := range slices.Backward(b.Rubber) {
		depth += r.Wall
		s.layer[s.n] = solid{depth, r.Wall, 9.0 / 16 / r.Modulus}
		s.n++
	}
	return s
}

// squeeze solves the series over a patch of radius a: the force f, and the
// compression d. guess is a force to start from, or 0. It stops at a Newton
// step of tol times the force, which leaves an error of some tol².
//
// One patch of contact serves all layers, since it is the sum of the
// compressions that flattens the head against the bar:
//
//	a² = R·(2·yarn + rubber + core)
//
// (Yarn follows only the pressure on it, so its edge of contact is where the
// undeformed sphere would be cut; for an elastic solid half of that.) Over
// this patch
//
//	yarn    F = π·a²·k·q(ε)                      van Wyk, averaged over the patch
//	solids  F = (16/9)·a·d / Σ wᵢ/Eᵢ             Hertz, for E as if ν = ½
//
// where wᵢ is the share of the compression of a uniform solid that happens
// within layer i: Φ at its inner face less Φ at its outer face, with
// Φ(depth) = 1/stiffening(a/depth). This is the load spreading: a deep core sees a
// wide patch and so yields little, a layer on a core of its own rubber is
// simply a larger ball, and a layer on a rigid core is exactly the
// Dimitriadis layer. Weighting by depth is the form of King, International
// Journal of Solids and Structures 23 (1987) 1657 (from memory); taking the
// weight from the thin-layer factor is ours.
func (s *series) squeeze(a, guess, tol float64) (f, d float64) {
	var soft [maxLayers]float64
	phi := 0.0
	for i := range s.n {
		p := 1 / stiffening(a/s.layer[i].depth, s.grip)
		soft[i] = (p - phi) * s.layer[i].soft / a
		phi = p
	}
	core := (1 - phi) * s.core / a
	target := a * a / s.radius
	area := math.Pi * a * a * s.press
	f = guess
	if f <= 0 {
		f = s.start(a, core, &soft, target, area)
	}
	for range 30 {
		give, slope := core*f, core
		for i := range s.n {
			x, g := squeezed(soft[i]*f, s.layer[i].wall)
			give += x
			slope += g * soft[i]
		}
		yarn, soften := 0.0, 0.0
		if s.yarn > 0 {
			e, g := wykStrain(f / area)
			yarn, soften = s.yarn*e, s.yarn*g/area
		}
		step := (target - give - 2*yarn) / (slope + 2*soften)
		f = max(f+step, f/8)
		d = target - yarn - soften*step // a² = R·(d + yarn)
		if math.Abs(step) < tol*f {
			break
		}
	}
	return f, d
}

// start is the force if every law were as soft as at the first touch.
func (s *series) start(a, core float64, soft *[maxLayers]float64, target, area float64) float64 {
	sum := core
	for i := range s.n {
		sum += soft[i]
	}
	if s.yarn > 0 {
		sum += 2 * s.yarn / (1.5 * area)
	}
	return target / sum
}

// parts is a compression divided among the core, each slice from the inside
// out, and the yarn.
type parts [maxLayers + 2]float64

// divide returns the compressions under the force f over a patch of radius a.
func (s *series) divide(a, f float64) (p parts) {
	phi := 0.0
	for i := range s.n {
		next := 1 / stiffening(a/s.layer[i].depth, s.grip)
		p[s.n-i], _ = squeezed((next-phi)*s.layer[i].soft/a*f, s.layer[i].wall)
		phi = next
	}
	p[0] = (1 - phi) * s.core / a * f
	if s.yarn > 0 {
		e, _ := wykStrain(f / (math.Pi * a * a * s.press))
		p[s.n+1] = s.yarn * e
	}
	return p
}

// list returns the compressions of the parts that there are.
func (s *series) list(p parts) []float64 {
	n := s.n + 1
	if s.yarn > 0 {
		n++
	}
	return slices.Clone(p[:n])
}
