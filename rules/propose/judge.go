package propose

import (
	"fmt"
	"math"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// Weights of the search, set by the book's choose rules. A head's score is
//
//	Σ weights of the prefer rules that fire, on the head and on each layer
//	− softness · |softness − asked for|                        in notches
//	− word, where it is called by another word than the one asked for
//	− mass     · |mass − asked for|                            in grams
//	− diameter · |diameter − asked for|                        in millimetres
//	− colour   · |second partial at f − that of the colour|    over a medium head's
//	− attack   · |contact time at mf − that of the attack|     in milliseconds
//	− opening  · |opening from p to ff − that asked for|       in octaves
//	− usual    · what is outside the usual grams, millimetres and turns
//	− register · what is asked for and not served              in octaves
//	− hand     · hardest pull over what the hands manage
//	− cost     · cost of a pair, packs shared out              in units of currency
//	− pair-packs · price of a pack of each part to buy         in units of currency
//
// where mass and diameter count only when they are asked for, and the usual ones
// only when they are not. A softness asked for by a word is first of all to be
// called by it: see saidOff. What the words
// asked for come to is set by choose rules as well, as colour-at, attack-at and
// opening-at; softness-at and softness-lean are the softness to aim at when none was
// asked for. Four weights are not part of the score: spares is the share of
// extra pieces to buy for mistakes, packs what a unit of currency counts in a
// class's order, reach how many notches off a proposal may be
// before the softness counts as not met; buying is what a head has to gain by
// each part that is bought for it where others are on hand.
type Weights struct {
	Softness, Mass, Diameter, colour, attack, opening, register, hand, Cost, packs, spares, Reach, Buying, word float64
}

func weightNames() []string {
	return []string{"softness", "mass", "diameter", "colour", "attack", "opening", "register", "hand", "cost", "pair-packs", "spares", "packs", "reach", "buying", "colour-at", "attack-at", "opening-at", "softness-at", "softness-lean", "set-notch", "set-gram", "set-mm", "set-cost", "set-core", "set-end", "cover-octaves", "set-step", "set-even", "set-jump", "set-bare", "set-least-turns", "set-most-turns", "set-least-g", "set-most-g", "set-least-mm", "set-most-mm", "word",
		"usual-g", "usual-mm", "usual-turn", "small-g", "small-mm", "fewer-turns"}
}

func weightsFrom(m map[string]float64) Weights {
	return Weights{m["softness"], m["mass"], m["diameter"], m["colour"], m["attack"], m["opening"], m["register"], m["hand"], m["cost"], m["pair-packs"], m["spares"], m["reach"], m["buying"], m["word"]}
}

// usual is a stretch that a measure of a head usually lies in, and what a unit
// outside it costs.
type usual struct{ weight, from, to float64 }

// off is the least that a measure between lo and hi loses.
func (u *usual) off(lo, hi float64) float64 {
	if u.weight == 0 {
		return 0
	}
	return u.weight * max(0, u.from-hi, lo-u.to)
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
	// Bright has it worked out closely how bright a head is, though no colour was
	// asked for.
	Bright               bool
	said                 knowledge.Said // the softness asked for, where it was asked for by a word
	grams, across, turns usual

	last head.Head // the one computed last
}

// Judging returns what scores heads for the request.
func (f *Finder) Judging(q Request) *Judging {
	base := f.Settle(q)
	return f.judging(q, base, f.Told(base, q.Known))
}

// judging is Judging for a request whose facts have been settled, and what rules
// may read of them.
func (f *Finder) judging(q Request, base facts.Facts, known rules.Known) *Judging {
	chosen := f.book.Weights(base, known)
	at := func(name string) float64 {
		if x, ok := chosen[name]; ok {
			return x
		}
		return math.NaN()
	}
	j := &Judging{
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
	j.practise(chosen, q.Known[facts.PlayerMostG], q.Known[facts.PlayerMostMM])
	if q.Known[facts.WantSoftness] {
		if s, ok := f.cat.SoftnessSaid(base.Instrument.Kind, q.Facts.Want.Softness); ok {
			j.said = s
			j.Weights.Reach = max(j.Weights.Reach, min(s.At-s.From, s.To-s.At))
		}
	}
	return j
}

// limited is the share of a limit that a head may come to without being light or
// small for it.
const limited = 0.85

// ample is how many times a floor a head may come to without being heavy or large
// for it.
const ample = 1.15

// practise settles what heads usually come to for what was asked. What was asked
// for by figure is not held against it; who sets a limit, of grams or of
// millimetres, wants little, and who sets a floor wants much.
func (j *Judging) practise(chosen map[string]float64, fewG, fewMM bool) {
	in, want := &j.Base.Instrument, &j.Base.Want
	p, ok := j.f.cat.Practised(in.Kind, strike.Grade(want.Softness, j.f.cat.Scale.For(in.Kind)), want.Register)
	if !ok {
		return
	}
	fewer := chosen["fewer-turns"]
	j.turns = usual{chosen["usual-turn"], p.Turns[0] - fewer/2, p.Turns[1] - fewer}
	lessG, lessMM := chosen["small-g"], chosen["small-mm"] // the records are of grown hands
	if want.MassG == 0 {
		j.grams = usual{chosen["usual-g"], p.Grams[0] - lessG, p.Grams[1] - lessG}
		if fewG {
			j.grams.from = min(j.grams.from, limited*j.Base.Player.MostG)
		}
		j.grams.to = max(j.grams.to, ample*want.LeastG)
	}
	if want.DiameterMM == 0 {
		j.across = usual{chosen["usual-mm"], p.MM[0] - lessMM, p.MM[1] - lessMM}
		if fewMM {
			j.across.from = min(j.across.from, limited*j.Base.Player.MostMM)
		}
		j.across.to = max(j.across.to, ample*want.LeastMM)
	}
}

// Asked names the softness asked for in a few words: by the word it was asked for
// by, if any.
func (j *Judging) Asked() string {
	if j.said.Word != "" {
		return "the softness called " + strings.ReplaceAll(j.said.Word, "-", " ")
	}
	return fmt.Sprintf("a softness of %+.1f notches", j.Base.Want.Softness)
}

// half is how far the word's stretch reaches from its midst towards a softness;
// where it has no end, a head may be two notches off.
func (j *Judging) half(softness float64) float64 {
	half := j.said.To - j.said.At
	if softness < j.said.At {
		half = j.said.At - j.said.From
	}
	if math.IsInf(half, 0) {
		return 2
	}
	return half
}

// SoftnessOff is what a head of a softness loses for it.
func (j *Judging) SoftnessOff(softness float64) float64 {
	off := math.Abs(softness - j.Base.Want.Softness)
	if j.said.Word == "" {
		return j.Weights.Softness * off
	}
	return j.saidOff(softness)
}

// withinWord is what a head at the edge of its word's stretch is taken to be
// off, in notches: over a wide stretch, all heads go by the same word.
const withinWord = 0.5

// wordEdge is how many notches within its stretch a head begins to go by the next
// word as well: no head comes out closer than that to what was computed.
const wordEdge = 0.2

// saidOff is SoftnessOff where the softness was asked for by its word. Within the
// word's stretch it costs little to be off the midst; towards its edge and outside
// it costs to be called by another word, and from there on each notch in full.
func (j *Judging) saidOff(softness float64) float64 {
	s, half := &j.said, j.half(softness)
	off := math.Abs(softness - s.At)
	in := min(1, withinWord/max(half, 1e-9))
	sum := j.Weights.Softness * (in*min(off, half) + max(0, off-half))
	inside := min(softness-s.From, s.To-softness)
	return sum + j.Weights.word*min(1, max(0, 1-inside/wordEdge))
}

// FillBright puts how bright a head is at f into its facts, closely where that
// counts.
func (j *Judging) FillBright(x *facts.Head, b *strike.Body) {
	if c := j.Base.Want.Colour; !j.Bright && (c == "" || c == "even") {
		x.BrightDB = j.Sound.Bright(x.CutoffFHz)
		return
	}
	j.Sound.fillBright(x, b)
}

// Score scores a head with all its layers.
func (j *Judging) Score(at *facts.Facts, layers []facts.Layer) (float64, *rules.Rule) {
	sum, refused := j.Head.Score(at)
	if refused != nil {
		return math.Inf(-1), refused
	}
	likes, refused := j.Likes(at, layers)
	if refused != nil {
		return math.Inf(-1), refused
	}
	return sum + likes - j.off(&at.Head), nil
}

// Likes is what the rules on layers add to the score of a head, or the one that
// refuses a layer.
func (j *Judging) Likes(at *facts.Facts, layers []facts.Layer) (sum float64, refused *rules.Rule) {
	defer func() { at.Layer = facts.Layer{} }()
	for i := range layers {
		at.Layer = layers[i]
		x, refused := j.layer.Score(at)
		if refused != nil {
			return 0, refused
		}
		sum += x
	}
	return sum, nil
}

// Again scores a head that was computed for another request, by its facts as they
// are.
func (j *Judging) Again(c *Candidate) (float64, *rules.Rule) {
	at := j.Base
	at.Head = c.Facts.Head
	return j.Score(&at, c.Layers)
}

// off is what a head loses for being off what was asked for.
func (j *Judging) off(h *facts.Head) float64 { return j.LeastOff(h, h) }

// outside is how far a stretch lies from a value.
func outside(lo, hi, want float64) float64 { return max(0, lo-want, want-hi) }

// MeasuredOff is what LeastOff comes to of what a scale, a caliper and a count of
// turns tell of a head.
func (j *Judging) MeasuredOff(lo, hi *facts.Head) float64 {
	off, want := 0.0, &j.Base.Want
	if want.MassG > 0 {
		off += j.Weights.Mass * outside(lo.MassG, hi.MassG, want.MassG)
	}
	if want.DiameterMM > 0 {
		off += j.Weights.Diameter * outside(lo.DiameterMM, hi.DiameterMM, want.DiameterMM)
	}
	off += j.grams.off(lo.MassG, hi.MassG) + j.across.off(lo.DiameterMM, hi.DiameterMM)
	if lo.Turns > 0 {
		off += j.turns.off(lo.Turns, hi.Turns)
	}
	return off
}

// LeastOff is a lower bound of off over a box of heads, and off itself when
// the box is one head.
func (j *Judging) LeastOff(lo, hi *facts.Head) float64 {
	w, want := &j.Weights, &j.Base.Want
	// Nearest to what was asked for, a head loses least.
	off := j.MeasuredOff(lo, hi) + j.SoftnessOff(min(max(lo.Softness, want.Softness), hi.Softness))
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
	off += w.Cost*2*lo.CostCents/100 + w.packs*lo.PackCents/100
	return off
}
