package propose

import (
	"cmp"

	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/memo"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
)

// memory is what a finder remembers of the parts of heads, whatever they were
// wanted for: how slices fit, how yarn winds, what strokes and full
// reports come to. One search takes some ten thousand, and the next one, for
// nearly the same, most of them again.
type memory struct {
	fits  *memo.Memo[fitKey, Fitted]
	winds *memo.Memo[windKey, head.Wound]
	even  *memo.Memo[strike.Key, Stroke]   // at mf
	all   *memo.Memo[strike.Key, []Stroke] // at every dynamic
	bars  *memo.Memo[barKey, [2]float64]   // on the instrument

	sounds  *memo.Memo[soundKey, Sound]
	reports *memo.Memo[string, strike.Report]
}

// Values in each lot of the memory; both lots of all together take some 50 MB at most.
const mostFits, mostWinds, mostEven, mostAll, mostBars, mostSounds, mostReports = 16_384, 32_768, 32_768, 8192, 16_384, 32, 1024

func newMemory() memory {
	return memory{
		fits:  memo.New[fitKey, Fitted](mostFits),
		winds: memo.New[windKey, head.Wound](mostWinds),
		even:  memo.New[strike.Key, Stroke](mostEven),
		all:   memo.New[strike.Key, []Stroke](mostAll),
		bars:  memo.New[barKey, [2]float64](mostBars),

		sounds:  memo.New[soundKey, Sound](mostSounds),
		reports: memo.New[string, strike.Report](mostReports),
	}
}

// Fitted is a slice on what it lies on, as a search needs it.
type Fitted struct {
	Bed           head.Bed // for the next
	Under         measure.Length
	Wall, Cut     measure.Length
	Mass, MassTol measure.Mass
	Verdict       head.Verdict
	Layer         facts.Layer // but for Index and On
}

type fitKey struct {
	on   head.Bed
	tube string
}

// Fit is head.Fit of a slice of the catalogue's tubing, the nth from the inside,
// over a core of a family.
func (f *Finder) Fit(on head.Bed, s head.Slice, n int, core string) Fitted {
	key := fitKey{on, s.Tube.ID}
	x := f.memory.fits.Of(key, func() Fitted {
		l := head.Fit(on, s, &f.cat.Limits)
		return Fitted{l.Bed(), l.Under, l.Wall, l.Cut, l.Mass, l.MassTol, l.Verdict, f.LayerFacts(&l, n, core)}
	})
	x.Layer.Index, x.Layer.On = float64(n), "rubber"
	if n == 1 {
		x.Layer.On = core
	}
	return x
}

type windKey struct {
	bare, core measure.Length
	yarn       string
	turns      int // below zero as a plain wrap
	tensionN   float64
}

// Wind is head.Wrap.Wind of a yarn of the catalogue, by its turns or else its plain
// wrap.
func (f *Finder) Wind(w *head.Wrap, bare, core measure.Length) head.Wound {
	key := windKey{bare, core, w.Yarn.ID, cmp.Or(w.Turns, -w.Yarn.Wraps.Plain), w.TensionN}
	return f.memory.winds.Of(key, func() head.Wound { return w.Wind(bare, core, &f.cat.Limits) })
}

// barKey is a head on a bar of an instrument, 0 for what it does over all of them.
type barKey struct {
	body       strike.Key
	instrument string
	note       measure.Note
}

// on returns what a head does on a bar of an instrument, as find finds it.
func (m *memory) on(b *strike.Body, instrument string, note measure.Note, find func() [2]float64) [2]float64 {
	body, ok := b.Key()
	if !ok {
		return find()
	}
	return m.bars.Of(barKey{body, instrument, note}, find)
}

// Stroke is what a search needs of a reduced stroke.
type Stroke struct {
	CutoffHz, ContactS, PeakN float64
	Core, Yarn                float64 // shares of the squeeze
}

func strokeOf(r *strike.Reduced) Stroke {
	return Stroke{r.CutoffHz, r.ContactS, r.PeakN, r.Core, r.Yarn}
}

// ofBody returns what is remembered of a body, or else what find finds; a body that
// no key holds is not remembered.
func ofBody[V any](m *memo.Memo[strike.Key, V], b *strike.Body, find func() V) V {
	key, ok := b.Key()
	if !ok {
		return find()
	}
	return m.Of(key, find)
}

// Even strikes a body at mf, on the reference bar.
func (s *Sound) Even(b *strike.Body) Stroke {
	return ofBody(s.memory.even, b, func() Stroke {
		s.strokes = strike.Quick(s.strokes[:0], b, &s.Ref, s.MF)
		return strokeOf(&s.strokes[0])
	})
}

// All strikes a body at every dynamic, on the reference bar. Nobody changes
// what it returns.
func (s *Sound) All(b *strike.Body) []Stroke {
	return ofBody(s.memory.all, b, func() []Stroke {
		s.strokes = strike.Quick(s.strokes[:0], b, &s.Ref, s.Speeds)
		x := make([]Stroke, len(s.strokes))
		for i := range x {
			x[i] = strokeOf(&s.strokes[i])
		}
		return x
	})
}
