package search

import (
	"math"

	"mallow/rules/facts"
)

// ranges bounds what a stroke tells besides the cut-off at mf: how far the contact,
// the cut-off at f, and the opening from p to ff stray for heads of a make. The
// tests measure them, over the shipped parts and over tubing that nobody sells.
type ranges struct {
	leastPulse, mostPulse float64 // the product of cut-off and contact time at mf
	leastRise, mostRise   float64 // the cut-off at f over that at mf
	leastOpens, mostOpens float64 // octaves
}

// coveredHz is a cut-off as of a very soft head: the harder a head under rubber or
// yarn from there on, the further it may stray.
const coveredHz = 336

// bareRanges holds for a ball without rubber and yarn, whatever it is made of.
func bareRanges() ranges { return ranges{1.15, 1.21, 1.1, 1.145, 0.43, 0.53} }

// coveredRanges holds for a ball under rubber or yarn, of a cut-off between two at mf.
func coveredRanges(core string, least, most float64) ranges {
	octaves := max(-1, math.Log2(most/coveredHz))
	if core == "rubber" {
		return ranges{
			1.13, min(1.4+0.17*octaves, 1.9),
			1.09, min(1.35+0.15*octaves, 1.75),
			0.41, min(1.1+0.4*octaves, 1.8),
		}
	}
	opens := 0.68
	switch {
	case least > 1.7*coveredHz:
		opens = 0.855
	case least > 1.2*coveredHz:
		opens = 0.76
	}
	return ranges{
		1.19, min(1.44+0.34*octaves, 3),
		1.16, min(1.4+0.3*octaves, 2.5),
		opens, min(1.27+0.66*octaves, 2.9),
	}
}

// cover is what lies over the balls of a box of heads.
type cover int8

const (
	mayCover  cover = iota // something may
	uncovered              // neither rubber nor yarn
	covered                // some of it
)

func coverOf(lo, hi *facts.Head) cover {
	switch {
	case hi.Layers == 0 && hi.Turns == 0:
		return uncovered
	case lo.Layers > 0 || lo.Turns > 0:
		return covered
	}
	return mayCover
}

// rangesOf returns what bounds heads on a family of cores with a cut-off between
// least and most at mf.
func rangesOf(core string, over cover, least, most float64) ranges {
	if over == uncovered {
		return bareRanges()
	}
	b := coveredRanges(core, least, most)
	if over == covered {
		return b
	}
	a := bareRanges()
	return ranges{
		min(a.leastPulse, b.leastPulse), max(a.mostPulse, b.mostPulse),
		min(a.leastRise, b.leastRise), max(a.mostRise, b.mostRise),
		min(a.leastOpens, b.leastOpens), max(a.mostOpens, b.mostOpens),
	}
}

// brightRange bounds the level of a bar's second partial by what Sound.Bright takes
// it to be, all in dB: that level falls ever further, where a push has nulls and
// lobes. Both ends rise with it. Under a hard head the bar gives, and the level may
// be anything that is still heard. The tests measure them.
func brightRange(about float64, hard bool) (least, most float64) {
	const (
		silent = -60
		lobes  = -22
		deep   = -30
	)
	most = 2 + 0.6*about
	if about < lobes {
		most = 2 + 0.6*lobes + 0.15*(about-lobes)
	}
	switch {
	case about < -54:
		return silent, math.Inf(1) // both partials are all but silent
	case hard && about < -34:
		return silent, most
	case hard:
		return -37, most
	case about < deep:
		return deep - 10 + 0.4*(about-deep), most
	}
	return about - 10, most
}

// A head serves the notes of one with least to most of its cut-off on the reference
// bar, which does not give under a hard head as the instrument's do. The tests
// measure them.
type notesRange struct{ least, mostLow, mostHigh float64 }

// Up to softHz a head serves about what the cut-off says; from hardHz and hardestHz
// on, ever lower notes.
const softHz, hardHz, hardestHz = 1900, 3400, 18_000

// leastHard is the least share of its cut-off that a hard head serves the notes of.
const leastHard = 0.48

func notesOf(least, most float64) notesRange {
	switch {
	case least > hardestHz:
		return notesRange{0.15, 1.55, 1.03}
	case least > hardHz:
		return notesRange{leastHard, 1.55, 1.03}
	case most < softHz:
		return notesRange{0.84, 1.14, 1.03}
	}
	return notesRange{0.77, 1.55, 1.03}
}
