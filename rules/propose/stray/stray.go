// Package stray knows how far what a stroke tells may stray from what the cut-off at
// mf says of it, as measured. It never strikes a head, nor judges one.
package stray

import "math"

// Range bounds what a stroke tells besides the cut-off at mf: how far the contact,
// the cut-off at f, and the opening from p to ff stray for heads of a make. The
// tests measure them, over the shipped parts and over tubing that nobody sells.
type Range struct {
	LeastPulse, MostPulse float64 // the product of cut-off and contact time at mf
	LeastRise, MostRise   float64 // the cut-off at f over that at mf
	LeastOpens, MostOpens float64 // octaves
}

// coveredHz is a cut-off as of a very soft head: the harder a head under rubber or
// yarn from there on, the further it may stray.
const coveredHz = 336

// bareRanges holds for a ball without rubber and yarn, whatever it is made of.
func bareRanges() Range { return Range{1.15, 1.21, 1.1, 1.145, 0.43, 0.53} }

// Coat is how much lies over a ball at least and at most, in mm.
type Coat struct{ MostRubber, LeastYarn float64 }

// coveredRanges holds for a ball under rubber or yarn, of a cut-off between two at mf. Of two heads
// of one cut-off the one under more rubber is squeezed more like a ball all of rubber,
// whose stiffness grows least with the squeeze; under more yarn a head opens up less.
func coveredRanges(core string, c Coat, least, most float64) Range {
	const softest, hardest = -0.3, 8 // octaves between which what is most is counted
	from, to := min(hardest, math.Log2(least/coveredHz)), min(hardest, max(softest, math.Log2(most/coveredHz)))
	if core == "rubber" {
		return Range{
			1.13, min(1.35+0.14*max(0, to), 1.9),
			1.09, min(1.29+0.13*to, 1.75),
			0.41, min(0.95+0.38*to, 1.8),
		}
	}
	r := Range{
		3, min(1.35+0.33*max(0, to), 3),
		2.5, min(1.29+0.27*to, 2.5),
		2.9, min(1.1+0.58*to-max(0, 0.01+0.035*to)*min(8, c.LeastYarn), 2.9),
	}
	for _, x := range [...]struct{ from, to, pulse, rise, opens, thin float64 }{
		{math.Inf(-1), 0, 1.19, 1.14, 0.66, 4},
		{0, 0.5, 1.28, 1.16, 0.79, 4},
		{0.5, 1, 1.33, 1.19, 0.9, 4},
		{1, 3, 1.34, 1.22, 0.84, 1},
		{3, math.Inf(1), 1.15, 1.1, 0.43, 0}, // next to bare
	} {
		if to < x.from || from >= x.to {
			continue
		}
		more := 0.02 * max(0, c.MostRubber-x.thin) // of rubber than what hardly tells, in mm
		r.LeastPulse = min(r.LeastPulse, max(x.pulse-more, min(x.pulse, 1.17)))
		r.LeastRise = min(r.LeastRise, x.rise)
		r.LeastOpens = min(r.LeastOpens, max(x.opens-more, min(x.opens, 0.66)))
	}
	if to > 3 {
		r.MostPulse = 3
	}
	return r
}

// Cover is what lies over balls.
type Cover int8

// The covers.
const (
	Any   Cover = iota // something or nothing
	Bare               // neither rubber nor yarn
	Under              // some of it
)

// Of returns what bounds heads on a family of cores, under a cover and so much of it, with
// a cut-off between least and most at mf, in Hz.
func Of(core string, over Cover, c Coat, least, most float64) Range {
	if over == Bare {
		return bareRanges()
	}
	b := coveredRanges(core, c, least, most)
	if over == Under {
		return b
	}
	a := bareRanges()
	return Range{
		min(a.LeastPulse, b.LeastPulse), max(a.MostPulse, b.MostPulse),
		min(a.LeastRise, b.LeastRise), max(a.MostRise, b.MostRise),
		min(a.LeastOpens, b.LeastOpens), max(a.MostOpens, b.MostOpens),
	}
}

// Bright bounds the level of a bar's second partial by what the cut-off at f
// says, all in dB: that level falls ever further, where a push has nulls and
// lobes. Both ends rise with it, until the first partial is all but silent too. Under a hard head the bar gives, and the level may
// be anything that is still heard. The tests measure them.
func Bright(about float64, hard bool) (least, most float64) {
	const (
		silent = -60
		lobes  = -22
		deep   = -30
		faint  = -180 // past which the first partial is all but silent as well
	)
	most = 2 + 0.6*about
	if about < lobes {
		most = max(-15, 2+0.6*lobes+0.2*(about-lobes))
	}
	switch {
	case about < faint:
		return -80, math.Inf(1)
	case about < -54:
		return silent, most
	case hard && about < -34:
		return silent, most
	case hard:
		return -37, most
	case about < deep:
		return deep - 10 + 0.4*(about-deep), most
	}
	return about - 10, most
}

// Notes bounds the notes that a head serves: those of one with Least to Most of its cut-off on the reference
// bar, which does not give under a hard head as the instrument's do. The tests
// measure them.
type Notes struct{ Least, MostLow, MostHigh float64 }

// Up to softHz a head serves about what the cut-off says; from HardHz and hardestHz
// on, ever lower notes.
const softHz, HardHz, hardestHz = 1900, 3400, 18_000

// LeastHard is the least share of its cut-off that a hard head serves the notes of.
const LeastHard = 0.48

// Served returns what bounds the notes served by heads with a cut-off between least
// and most, in Hz.
func Served(least, most float64) Notes {
	switch {
	case least > hardestHz:
		return Notes{0.15, 1.55, 1.03}
	case least > HardHz:
		return Notes{LeastHard, 1.55, 1.03}
	case most < softHz:
		return Notes{0.84, 1.14, 1.03}
	}
	return Notes{0.77, 1.55, 1.03}
}
