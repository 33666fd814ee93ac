package propose

import (
	"math"
	"sort"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
)

// Sound turns reduced strokes into facts: what a report says, but for the
// difference between a reduced stroke and a full one, and for what a report
// says of tolerances. The heads that a proposal shows are computed in full. It
// is for one goroutine.
type Sound struct {
	Ref    strike.Bar
	Scale  knowledge.Scale
	MF     []float64 // the speed of mf alone
	Speeds []float64
	p, f   int // index of p and f among the speeds, -1 when missing
	ff     int
	Notes  []float64 // of the instrument, Hz
	top    float64   // highest and lowest note served over the cut-off at mf, roughly
	bottom float64

	keys     *strike.Keyboard
	register strike.Bar // in the middle of the register asked for
	inst     string     // id of the instrument
	low      float64    // first and second partial of the bar in the middle of the register asked for, Hz
	second   float64
	shapes   float64 // dB that the second has over the first by where the head lands

	memory  *memory
	strokes []strike.Reduced // to strike with
}

// soundKey is what a Sound depends on.
type soundKey struct {
	instrument string
	low, high  measure.Note
	register   string
}

// Sound returns what turns strokes into facts for the settled facts.
func (f *Finder) Sound(at facts.Facts) Sound {
	set := f.setting(at)
	key := soundKey{set.Instrument.ID, set.Low, set.High, at.Want.Register}
	return f.memory.sounds.Of(key, func() Sound { return f.soundIn(set, at.Want.Register) })
}

func (f *Finder) soundIn(set strike.Setting, register string) Sound {
	s := Sound{Ref: strike.Reference(), Scale: f.cat.Scale.For(set.Instrument.Kind), p: -1, f: -1, ff: -1, memory: &f.memory}
	mid := (len(f.cat.Dynamics) - 1) / 2
	for i, d := range f.cat.Dynamics {
		s.Speeds = append(s.Speeds, d.SpeedMS.Value)
		switch d.ID {
		case "p":
			s.p = i
		case "mf":
			mid = i
		case "f":
			s.f = i
		case "ff":
			s.ff = i
		}
	}
	s.MF = s.Speeds[mid : mid+1]
	for n := set.Instrument.Low; n <= set.Instrument.High; n++ {
		s.Notes = append(s.Notes, n.Hz())
	}
	share := map[string]float64{"low": 1, "high": 5}[register]
	if share == 0 {
		share = 3
	}
	note := set.Low
	for float64(note-set.Low) < math.Round(float64(set.High-set.Low)*share/6) {
		note++
	}
	s.inst = set.Instrument.ID
	if keys, err := strike.NewKeyboard(set.Instrument, s.Scale); err == nil { // the catalogue has checked its bars
		s.keys = keys
	}
	if bar, err := strike.NewBar(set.Instrument, note); err == nil {
		s.register = bar
		a, b := bar.Modes[0], bar.Modes[1]
		s.low, s.second = a.Omega/(2*math.Pi), b.Omega/(2*math.Pi)
		s.shapes = 20 * math.Log10(math.Abs(b.Shape/a.Shape))
		// As package strike finds the span of notes, but with the cut-off on
		// the reference bar.
		s.top = math.Sqrt(s.Scale.ServeDB.Value / 10)
		for _, m := range bar.Modes[1:] {
			ratio := m.Omega / a.Omega
			db := s.Scale.FillDB.Value + 20*math.Log10(math.Abs(m.Shape/a.Shape))
			s.bottom = max(s.bottom, math.Sqrt(max(0, db/(10*(ratio*ratio-1)))))
		}
	}
	return s
}

// Notches is the softness of a cut-off at mf.
func (s *Sound) Notches(hz float64) float64 { return strike.Softness(hz, s.Scale) }

// Softness strikes a body at mf.
func (s *Sound) Softness(b *strike.Body) float64 {
	return s.Notches(strike.Quick(nil, b, &s.Ref, s.MF)[0].CutoffHz)
}

// Cutoff is the inverse of notches.
func (s *Sound) Cutoff(notches float64) float64 {
	unit := strike.Softness(s.Scale.MediumHz.Value/2, s.Scale) // notches in an octave
	return s.Scale.MediumHz.Value * math.Exp2(-notches/unit)
}

// FillMF puts a stroke at mf on the reference bar into a head's facts.
func (s *Sound) FillMF(x *facts.Head, r Stroke) {
	x.Softness = s.Notches(r.CutoffHz)
	x.CutoffMFHz = r.CutoffHz
	x.ContactMS = r.ContactS * 1000
}

// Fill puts the strokes at every dynamic on the reference bar into a head's facts;
// those at mf are there already.
func (s *Sound) Fill(x *facts.Head, r []Stroke) {
	x.OpensUp = math.Log2(r[len(r)-1].CutoffHz / r[0].CutoffHz)
	if s.p >= 0 {
		x.CutoffPHz, x.YarnShareP, x.CoreShareP = r[s.p].CutoffHz, r[s.p].Yarn, r[s.p].Core
	}
	if s.f >= 0 {
		x.CutoffFHz, x.PeakN = r[s.f].CutoffHz, r[s.f].PeakN
	}
	if s.ff >= 0 {
		x.CutoffFFHz, x.YarnShareF, x.CoreShareF = r[s.ff].CutoffHz, r[s.ff].Yarn, r[s.ff].Core
	}
}

// FillNotes puts the notes that a head serves into its facts.
func (s *Sound) FillNotes(x *facts.Head, b *strike.Body) {
	if s.keys == nil {
		x.LowHz, x.HighHz = s.Served(x.CutoffMFHz)
		return
	}
	at := s.memory.on(b, s.inst, 0, func() (v [2]float64) {
		if low, high := s.keys.Served(b, s.MF[0]); high > 0 {
			v = [2]float64{low.Hz(), high.Hz()}
		}
		return v
	})
	x.LowHz, x.HighHz = at[0], at[1]
}

// fillBright puts how bright a head is at f on the bar of the register into its
// facts.
func (s *Sound) fillBright(x *facts.Head, b *strike.Body) {
	if s.f < 0 {
		return
	}
	if s.register.Mass == 0 {
		x.BrightDB = s.Bright(x.CutoffFHz)
		return
	}
	at := s.memory.on(b, s.inst, s.register.Note, func() (v [2]float64) {
		v[0] = strike.Partials(b, &s.register, s.Speeds[s.f], s.Speeds[len(s.Speeds)-1])[1]
		return v
	})
	x.BrightDB = at[0]
}

// Bright returns roughly the level of the second partial against the first, in dB,
// for a pulse with the cut-off. The level of a pulse falls by 10 dB to the
// cut-off, nearly as the square of the frequency.
func (s *Sound) Bright(cutoff float64) float64 { return max(-60, s.Fades(cutoff)) }

// Fades is Bright where nothing is too faint to be told.
func (s *Sound) Fades(cutoff float64) float64 {
	return s.shapes - 10*(s.second*s.second-s.low*s.low)/(cutoff*cutoff)
}

// Served returns roughly the lowest and highest note that a head with a cut-off at
// mf serves, 0 and 0 when it serves none. Neither falls as the cut-off rises,
// unless to 0.
func (s *Sound) Served(cutoff float64) (low, high float64) {
	i := sort.SearchFloat64s(s.Notes, s.bottom*cutoff)
	j := sort.SearchFloat64s(s.Notes, s.top*cutoff)
	for j < len(s.Notes) && s.Notes[j] <= s.top*cutoff {
		j++
	}
	if i >= j {
		return 0, 0
	}
	return s.Notes[i], s.Notes[j-1]
}
