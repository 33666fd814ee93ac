package propose

import (
	"math"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// Weights of the search, set by the book's choose rules. A head's score is
//
//	Σ weights of the prefer rules that fire, on the head and on each layer
//	− softness · |softness − asked for|                        in notches
//	− mass     · |mass − asked for|                            in grams
//	− diameter · |diameter − asked for|                        in millimetres
//	− colour   · |second partial at f − that of the colour|    over a medium head's
//	− attack   · |contact time at mf − that of the attack|     in milliseconds
//	− opening  · |opening from p to ff − that asked for|       in octaves
//	− register · what is asked for and not served              in octaves
//	− hand     · hardest pull over what the hands manage
//	− cost     · cost of a pair                                in units of currency
//
// where mass and diameter count only when they are asked for. What the words
// asked for come to is set by choose rules as well, as colour-at, attack-at and
// opening-at; softness-at and softness-lean are the softness to aim at when none was
// asked for. Four weights are not part of the score: spares is the share of
// extra pieces to buy for mistakes, packs what a unit of currency counts in a
// class's order, reach how many notches off a proposal may be
// before the softness counts as not met; buying is what a head has to gain by
// each part that is bought for it where others are on hand.
type Weights struct {
	Softness, Mass, Diameter, colour, attack, opening, register, hand, Cost, spares, Reach, Buying float64
}

func weightNames() []string {
	return []string{"softness", "mass", "diameter", "colour", "attack", "opening", "register", "hand", "cost", "spares", "packs", "reach", "buying", "colour-at", "attack-at", "opening-at", "softness-at", "softness-lean", "set-notch", "set-gram", "set-mm", "set-cost", "set-core"}
}

func weightsFrom(m map[string]float64) Weights {
	return Weights{m["softness"], m["mass"], m["diameter"], m["colour"], m["attack"], m["opening"], m["register"], m["hand"], m["cost"], m["spares"], m["reach"], m["buying"]}
}

// Judging scores many heads for one request. It is for one goroutine.
type Judging struct {
	f       *Finder
	bin     *stock.Bin
	Base    facts.Facts // all but head and layer
	Sound   Sound
	Weights Weights
	Head    *rules.Scorer[facts.Facts]
	layer   *rules.Scorer[facts.Facts]
	// What the words asked for come to, NaN where any will do.
	colour, attack, opening float64
}

// Judging returns what scores heads for the request.
func (f *Finder) Judging(q Request) *Judging {
	base := f.Settle(q)
	known := f.Told(base, q.Known)
	chosen := f.book.Weights(base, known)
	at := func(name string) float64 {
		if x, ok := chosen[name]; ok {
			return x
		}
		return math.NaN()
	}
	return &Judging{
		f:       f,
		bin:     q.Bin,
		Base:    base,
		Sound:   f.Sound(base),
		Weights: weightsFrom(chosen),
		Head:    f.book.Scorer("head", known),
		layer:   f.book.Scorer("layer", known),

		colour:  at("colour-at") * base.Instrument.MediumDB,
		attack:  at("attack-at"),
		opening: at("opening-at"),
	}
}

// Score scores a head with all its layers.
func (j *Judging) Score(at *facts.Facts, layers []facts.Layer) (float64, *rules.Rule) {
	sum, refused := j.Head.Score(at)
	if refused != nil {
		return math.Inf(-1), refused
	}
	for i := range layers {
		at.Layer = layers[i]
		x, refused := j.layer.Score(at)
		if refused != nil {
			at.Layer = facts.Layer{}
			return math.Inf(-1), refused
		}
		sum += x
	}
	at.Layer = facts.Layer{}
	return sum - j.off(&at.Head), nil
}

// off is what a head loses for being off what was asked for.
func (j *Judging) off(h *facts.Head) float64 { return j.LeastOff(h, h) }

// LeastOff is a lower bound of off over a box of heads, and off itself when
// the box is one head.
func (j *Judging) LeastOff(lo, hi *facts.Head) float64 {
	w, want := &j.Weights, &j.Base.Want
	outside := func(lo, hi, want float64) float64 { return max(0, lo-want, want-hi) }
	off := w.Softness * outside(lo.Softness, hi.Softness, want.Softness)
	if want.MassG > 0 {
		off += w.Mass * outside(lo.MassG, hi.MassG, want.MassG)
	}
	if want.DiameterMM > 0 {
		off += w.Diameter * outside(lo.DiameterMM, hi.DiameterMM, want.DiameterMM)
	}
	if j.colour == j.colour { // not NaN: a colour was asked for
		off += w.colour * outside(lo.BrightDB, hi.BrightDB, j.colour) / -j.Base.Instrument.MediumDB
	}
	if j.attack == j.attack {
		off += w.attack * outside(lo.ContactMS, hi.ContactMS, j.attack)
	}
	if j.opening == j.opening {
		off += w.opening * outside(lo.OpensUp, hi.OpensUp, j.opening)
	}
	in := &j.Base.Instrument
	if hi.HighHz > 0 && hi.HighHz < in.HighHz {
		off += w.register * math.Log2(in.HighHz/hi.HighHz)
	}
	if lo.LowHz > in.LowHz {
		off += w.register * math.Log2(lo.LowHz/in.LowHz)
	}
	off += w.hand * lo.HandN / j.Base.Player.HandN
	off += w.Cost * 2 * lo.CostCents / 100
	return off
}
