package identify

import (
	"math"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
)

// mallet is what a head is expected to measure, with what is open of it once
// the measurements are known.
type mallet struct {
	turns                    float64
	diameter, mass           float64
	dVar, gVar, both         float64 // of the parts, without the measuring
	yarnWall, yarnMass, tail float64
}

// wound is what a yarn comes to over rubber of some diameter.
type wound struct {
	plain, spread float64 // turns that are usual, and how far they stray
	wall, mass    float64 // under the plain turns
	thicker       float64 // what a spread more turns add to the diameter
	heavier       float64 // and to the mass
}

// wind winds every yarn over rubber of a diameter on a ball.
func (t *matcher) wind(outer, ball float64) []wound {
	list := make([]wound, len(t.yarns))
	for i := range t.yarns {
		y := &t.yarns[i]
		bare := measure.Length(outer)
		plain := float64(head.PlainTurns(y.Yarn, bare))
		spread := plain * float64(y.Yarn.Wraps.Full-y.Yarn.Wraps.Light) / (4 * float64(y.Yarn.Wraps.Plain))
		wind := func(turns float64) (wall, mass float64) {
			w := head.Wrap{Yarn: y.Yarn, Fibre: y.Fibre, TensionN: t.lim.TensionN.Value, Turns: max(1, int(turns+0.5))}
			o := w.Wind(bare, measure.Length(ball), t.lim)
			return float64(o.Wall), float64(o.Mass)
		}
		wall, mass := wind(plain)
		more, heavy := wind(plain + spread)
		list[i] = wound{plain, spread, wall, mass, 2 * (more - wall), heavy - mass}
	}
	return list
}

// windings looks up what the yarns come to over a state, at the nearest diameter
// of the grid: the balls of a root are of one diameter, and half a step of the
// grid changes a wall by less than a hundredth of a millimetre.
func (w *walker) windings(outer, ball float64) []wound {
	at := int(outer*1000/cellMM + 0.5)
	for at >= len(w.wound) {
		w.wound = append(w.wound, nil)
	}
	if w.wound[at] == nil {
		w.wound[at] = w.wind(float64(at)*cellMM/1000, ball)
	}
	return w.wound[at]
}

// wraps weighs the wraps that could be over some rubber on a core: each yarn,
// from a light wrap to a full one, the plain one likeliest; and no yarn. It is
// given what each yarn comes to there, and calls each with the yarn's index, -1 for
// none.
func (t *matcher) wraps(p *cell, c coreWeight, over []wound, each func(yarn int, log float64, h mallet)) {
	heavy := 3 * c.mass / c.diameter * c.dSigma // a large ball is heavy, too
	base := mallet{
		diameter: p.outer, mass: c.mass + p.mass,
		dVar: p.dVar + c.dSigma*c.dSigma,
		gVar: p.gVar + heavy*heavy + c.dense*c.dense,
		both: p.both + c.dSigma*heavy,
	}
	if t.m.Fibre == "" {
		if l := t.likelihood(&base); l > -200 {
			each(-1, l+math.Log(barePrior), base)
		}
	}
	prior := math.Log((1 - barePrior) / float64(len(t.f.Catalogue().Yarns)))
	for i := range t.yarns {
		y, o := &t.yarns[i].Yarn, &over[i]
		if t.d > 0 && math.Abs(p.outer+2*o.wall-t.d) > 12*o.wall*o.spread/o.plain+0.003 {
			continue // however it was wound
		}
		h := base
		h.turns, h.tail = o.plain, o.spread
		h.yarnWall, h.yarnMass = o.wall, o.mass
		h.diameter += 2 * o.wall
		h.mass += o.mass
		tex := y.Tex.Tol / y.Tex.Value * bandToSigma
		packed := 0.5 * y.Loose.Tol / y.Loose.Value * bandToSigma
		h.dVar += o.thicker*o.thicker + 4*o.wall*o.wall*(tex*tex+packed*packed)
		h.gVar += o.heavier*o.heavier + o.mass*o.mass*tex*tex
		h.both += o.thicker*o.heavier + 2*o.wall*o.mass*tex*tex
		if l := t.likelihood(&h); l > -200 {
			each(i, l+prior, h)
		}
	}
}
