package bounds

import (
	"math"

	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/stray"
)

// Sound bounds what strokes would tell of the heads in a box. It is for one goroutine.
type Sound struct {
	j     *propose.Judging
	bands [mostBands]kept
}

// New bounds what a request judges.
func New(j *propose.Judging) *Sound { return &Sound{j: j} }

// BeforeStroke opens a box to all that is not known before a stroke.
func (s *Sound) BeforeStroke(lo, hi *facts.Head) {
	inf := math.Inf(1)
	lo.InertiaGM2, hi.InertiaGM2 = 0, inf
	lo.SoftnessTol, hi.SoftnessTol = 0, inf
	lo.SqueezeMM, lo.SqueezeN, lo.SqueezeTolN = 0, 0, 0
	hi.SqueezeMM, hi.SqueezeN, hi.SqueezeTolN = inf, inf, inf
	lo.MoreSoftness, hi.MoreSoftness, lo.LessSoftness, hi.LessSoftness = -inf, inf, -inf, inf
	s.BeforeNotes(lo, hi)
}

// BeforeNotes opens a box to all that is not known from a stroke at mf on the
// reference bar.
func (s *Sound) BeforeNotes(lo, hi *facts.Head) {
	s.BeforeLoud(lo, hi)
	s.Span(lo, hi)
}

// BeforeLoud opens a box to all that is not known from strokes at mf.
func (s *Sound) BeforeLoud(lo, hi *facts.Head) {
	inf := math.Inf(1)
	lo.CutoffPHz, lo.CutoffFHz, lo.CutoffFFHz, lo.PeakN = 0, 0, 0, 0
	hi.CutoffPHz, hi.CutoffFHz, hi.CutoffFFHz, hi.PeakN = inf, inf, inf, inf
	lo.YarnShareP, lo.YarnShareF, lo.CoreShareP, lo.CoreShareF = 0, 0, 0, 0
	hi.YarnShareP, hi.YarnShareF, hi.CoreShareP, hi.CoreShareF = 1, 1, 1, 1
	r := stray.Of(lo.Core, Cover(lo, hi), Coat(lo, hi), lo.CutoffMFHz, hi.CutoffMFHz)
	s.loud(lo, hi, &r)
}

// loud bounds how a head opens up and how bright it is by its cut-off at mf.
func (s *Sound) loud(lo, hi *facts.Head, r *stray.Range) {
	lo.OpensUp, hi.OpensUp = r.LeastOpens, r.MostOpens
	s.Bright(lo, hi, lo.CutoffMFHz*r.LeastRise, hi.CutoffMFHz*r.MostRise)
}

// BeforeBright opens a box to what is not known from strokes on the reference bar.
func (s *Sound) BeforeBright(lo, hi *facts.Head) { s.Bright(lo, hi, lo.CutoffFHz, hi.CutoffFHz) }

// FromSoftness narrows a box by what follows from its softness. The same bands come
// up time and again, so that the last of them are kept.
func (s *Sound) FromSoftness(lo, hi *facts.Head) {
	of := band{lo.Softness, hi.Softness, lo.Core, Cover(lo, hi), Coat(lo, hi)}
	x := &s.bands[of.place()]
	if x.known = x.known && x.band == of; !x.known {
		lo.CutoffMFHz, hi.CutoffMFHz = s.j.Sound.Cutoff(hi.Softness), s.j.Sound.Cutoff(lo.Softness)
		r := stray.Of(of.core, of.cover, of.coat, lo.CutoffMFHz, hi.CutoffMFHz)
		lo.ContactMS, hi.ContactMS = 1000*r.LeastPulse/hi.CutoffMFHz, 1000*r.MostPulse/lo.CutoffMFHz
		s.loud(lo, hi, &r)
		s.Span(lo, hi)
		x.band, x.known, x.lo, x.hi = of, true, told(lo), told(hi)
		return
	}
	x.lo.tell(lo)
	x.hi.tell(hi)
}

// Cover returns what lies over the balls of a box.
func Cover(lo, hi *facts.Head) stray.Cover {
	switch {
	case hi.Layers == 0 && hi.Turns == 0:
		return stray.Bare
	case lo.Layers > 0 || lo.Turns > 0:
		return stray.Under
	}
	return stray.Any
}

// Coat returns how much of it at least and at most, in whole mm, so that the same bands come up
// again.
func Coat(lo, hi *facts.Head) stray.Coat {
	return stray.Coat{MostRubber: math.Ceil(hi.RubberMM), LeastYarn: math.Floor(max(0, lo.YarnMM))}
}

// band is a stretch of softness, of heads of a make.
type band struct {
	least, most float64
	core        string
	cover       stray.Cover
	coat        stray.Coat
}

// mostBands is how many bands are kept.
const mostBands = 256

// place is where a band is kept.
func (x *band) place() int {
	sum := math.Float64bits(x.least)*0x9e3779b97f4a7c15 ^ math.Float64bits(x.most)*0xc2b2ae3d27d4eb4f
	of := uint64(x.cover) + 5*uint64(x.coat.LeastYarn) + 37*uint64(min(x.coat.MostRubber, 99))
	return int((sum>>40 ^ of) % mostBands)
}

// kept is what follows from a band.
type kept struct {
	band
	known  bool
	lo, hi stroke
}

// stroke is what follows from the softness of a head, at one corner of a box.
type stroke struct{ cutoff, contact, opens, bright, low, high float64 }

func told(h *facts.Head) stroke {
	return stroke{h.CutoffMFHz, h.ContactMS, h.OpensUp, h.BrightDB, h.LowHz, h.HighHz}
}

func (x *stroke) tell(h *facts.Head) {
	h.CutoffMFHz, h.ContactMS, h.OpensUp, h.BrightDB, h.LowHz, h.HighHz = x.cutoff, x.contact, x.opens, x.bright, x.low, x.high
}

// Bright bounds how bright a head with a cut-off at f between two is on the bar of
// the register.
func (s *Sound) Bright(lo, hi *facts.Head, least, most float64) {
	lo.BrightDB, hi.BrightDB = s.j.Sound.Bright(least), s.j.Sound.Bright(most)
	if c := s.j.Base.Want.Colour; s.j.Bright || c != "" && c != "even" {
		var faint float64
		lo.BrightDB, faint = stray.Bright(s.j.Sound.Fades(least), Cover(lo, hi) != stray.Under || hi.CutoffMFHz > stray.HardHz/1.5)
		_, hi.BrightDB = stray.Bright(s.j.Sound.Fades(most), false)
		hi.BrightDB = max(hi.BrightDB, faint)
	}
}

// Span bounds the notes served by those of the two ends of the softness. At
// some cut-offs no note is served, which counts as 0.
func (s *Sound) Span(lo, hi *facts.Head) {
	r := stray.Served(lo.CutoffMFHz, hi.CutoffMFHz)
	if hi.CutoffMFHz > stray.HardHz { // the end of the box that is harder may yet serve lower ones
		lo.LowHz, lo.HighHz = s.j.Sound.Served(min(lo.CutoffMFHz*r.Least, stray.HardHz*stray.LeastHard))
	} else {
		lo.LowHz, lo.HighHz = s.j.Sound.Served(lo.CutoffMFHz * r.Least)
	}
	hi.LowHz, _ = s.j.Sound.Served(hi.CutoffMFHz * r.MostLow)
	_, hi.HighHz = s.j.Sound.Served(hi.CutoffMFHz * r.MostHigh)
	if last := s.j.Sound.Notes[len(s.j.Sound.Notes)-1]; hi.LowHz == 0 || hi.HighHz == 0 {
		lo.LowHz, lo.HighHz, hi.LowHz, hi.HighHz = 0, 0, last, last
	}
}
