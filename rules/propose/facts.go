package propose

import (
	"cmp"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// Settle completes the request's facts from its pass and from the catalogue:
// what may hurt, what a grip carries, what hands manage, the instrument's bars
// and range. What else the request gives itself stays.
func (f *Finder) Settle(q Request) facts.Facts {
	at := q.Facts
	at.Head, at.Layer = facts.Head{}, facts.Layer{}
	q.Pass.Apply(&at)
	p, in := &at.Player, &at.Instrument
	p.Grip = cmp.Or(p.Grip, "two")
	if g, ok := f.cat.Grip(p.Grip); ok {
		p.Mallets = cmp.Or(p.Mallets, float64(g.Mallets))
		p.EasyG = cmp.Or(p.EasyG, g.EasyMass.Grams())
		p.MostG = cmp.Or(p.MostG, g.MostMass.Grams())
		p.MostMM = cmp.Or(p.MostMM, g.MostSize.MM())
	}
	if p.HandN == 0 {
		p.HandN = f.cat.Limits.MostHandN.Value
		if p.Minor || p.Level == "first" {
			p.HandN = f.cat.Limits.EasyHandN.Value
		}
	}
	p.TensionN = cmp.Or(p.TensionN, f.cat.Limits.TensionN.Value)
	in.Kind = cmp.Or(in.Kind, f.cat.Instruments[0].Kind)
	inst := f.instrument(in)
	in.Bars = cmp.Or(in.Bars, inst.Bars)
	in.LowHz = cmp.Or(in.LowHz, inst.Low.Hz())
	in.HighHz = cmp.Or(in.HighHz, inst.High.Hz())
	w := &at.Want
	if w.Register == "" || w.Register == "whole" && !q.Known[facts.WantRegister] {
		w.Register = f.registerOf(in)
	}
	w.Colour = cmp.Or(w.Colour, "even")
	w.Attack = cmp.Or(w.Attack, "even")
	w.Opening = cmp.Or(w.Opening, "even")
	w.Loudest = cmp.Or(w.Loudest, "f")
	w.Ball = cmp.Or(w.Ball, "any")
	p.Level = cmp.Or(p.Level, "some")
	at.Bench.Units = cmp.Or(at.Bench.Units, f.oneWorld(q), Inch)
	sound := f.Sound(at)
	in.MediumDB = min(sound.Bright(sound.Cutoff(0)*mediumOpens), -1)
	if !q.Known[facts.WantSoftness] && w.Softness == 0 {
		w.Softness = f.usualSoftness(at, q.Known)
	} else if said, ok := f.cat.SoftnessSaid(in.Kind, w.Softness); ok && q.Known[facts.WantSoftness] {
		w.Softness = said.At
	}
	return at
}

// registerOf is the part of the instrument that the notes asked for lie in: low or
// high where their middle lies in the outer third of the widest of the kind.
func (f *Finder) registerOf(in *facts.Instrument) string {
	wide := f.instrument(&facts.Instrument{Kind: in.Kind})
	low, high := math.Log2(wide.Low.Hz()), math.Log2(wide.High.Hz())
	switch at := ((math.Log2(in.LowHz)+math.Log2(in.HighHz))/2 - low) / (high - low); {
	case at < 1.0/3:
		return "low"
	case at > 2.0/3:
		return "high"
	}
	return "whole"
}

// mediumOpens is the cut-off at f over that at mf of a medium head: the anchor
// of the softness scale opens up so by package strike.
const mediumOpens = 1.3

// Usual returns the request's wishes with those filled in that nobody has
// made, as they usually are for the instrument, the register and the sound.
func (f *Finder) Usual(q Request) facts.Want {
	return f.Settle(q).Want
}

// usualSoftness is the softness that most players take for the instrument and the
// part of it that they play: the book's choose rules give it as softness-at, and
// what the colour moves it by as softness-lean.
func (f *Finder) usualSoftness(at facts.Facts, answered rules.Known) float64 {
	chosen := f.book.Weights(at, f.Told(at, answered))
	return chosen["softness-at"] + chosen["softness-lean"]
}

// instrument returns the catalogue's instrument of the kind asked for whose
// range holds the notes asked for, with the least to spare; else the widest.
func (f *Finder) instrument(in *facts.Instrument) knowledge.Instrument {
	low, high := in.LowHz, in.HighHz
	best, least := -1, math.Inf(1)
	for i, x := range f.cat.Instruments {
		if x.Kind != in.Kind {
			continue
		}
		a, b := x.Low.Hz(), x.High.Hz()
		spare := math.Log2(b / a)
		if low == 0 && high == 0 {
			spare = -spare // no notes named: the widest
		}
		if low > 0 {
			spare += 100 * max(0, math.Log2(a/low)-0.01)
		}
		if high > 0 {
			spare += 100 * max(0, math.Log2(high/b)-0.01)
		}
		if spare < least {
			best, least = i, spare
		}
	}
	if best < 0 {
		best = 0
	}
	return f.cat.Instruments[best]
}

// setting is what heads are struck on for the settled facts.
func (f *Finder) setting(at facts.Facts) strike.Setting {
	in := &at.Instrument
	return strike.Setting{
		Instrument: f.instrument(in),
		Low:        nearestNote(in.LowHz),
		High:       nearestNote(in.HighHz),
		Dynamics:   f.cat.Dynamics,
		Scale:      f.cat.Scale,
	}
}

func nearestNote(hz float64) measure.Note {
	return measure.Note(math.Round(69 + 12*math.Log2(hz/440)))
}

// Told returns the facts that rules may read of a head that has been computed
// for the settled facts: answers and defaults alike, but not a wish that
// nobody has made.
func (f *Finder) Told(at facts.Facts, answered rules.Known) rules.Known {
	known := rules.Known{}
	for _, fact := range f.book.Facts() {
		known[fact.Path] = true
	}
	want := &at.Want
	for path, made := range map[string]bool{
		facts.WantMassG:       want.MassG != 0,
		facts.WantDiameterMM:  want.DiameterMM != 0,
		facts.WantBudgetCents: want.BudgetCents != 0,
	} {
		known[path] = made || answered[path]
	}
	return known
}

// Describe fills in the facts of a computed head that do not depend on a
// stroke.
func (f *Finder) Describe(c *Candidate, bin *stock.Bin) {
	h := &c.Head
	s := &h.Stack
	x := facts.Head{
		Core:       s.Material.Family,
		Material:   s.Material.ID,
		CoreMM:     s.Core.Diameter.MM(),
		Drilled:    s.Core.Bore > 0,
		BoreMM:     s.Core.Bore.MM(),
		Layers:     float64(len(h.Layers)),
		Latex:      s.Latex(),
		Chemicals:  s.Chemicals(),
		YarnMM:     h.YarnWall.MM(),
		Turns:      float64(h.Turns),
		MassG:      h.Mass.Grams(),
		MassTolG:   h.MassTol.Grams(),
		DiameterMM: h.Diameter.MM(),
		CostCents:  stock.Cost(h, bin, &f.cat.Limits),
		PackCents:  stock.Packs(s, bin),
		InertiaGM2: h.Swing.InertiaKgM2 * 1000,
	}
	if x.Core == "rubber" {
		x.CoreA = cmp.Or(s.Core.DurometerA, s.Material.DurometerA.Value)
	}
	if w := s.Wrap; w != nil {
		x.Fibre, x.TensionN = w.Yarn.Fibre, h.TensionN
	}
	if sh := s.Shaft; sh != nil {
		x.Shaft, x.ShaftMM, x.ShaftLong = sh.Material, sh.Diameter.MM(), sh.Length.MM()
		// Nobody under age who is alone drills across a ball.
		end, holds := f.cat.EndIn(s.Material, c.Facts.Bench.Drill && (c.Facts.Bench.Supervised || !c.Facts.Player.Minor))
		x.End, x.Keyed = end.ID, !holds || end.Hold != "glue"
	}
	c.Layers = nil
	for i := range h.Layers {
		l := f.LayerFacts(&h.Layers[i], i+1, x.Core)
		c.Layers = append(c.Layers, l)
		x.RubberMM += l.WallMM
		x.HandN = max(x.HandN, l.HandN)
		if i == 0 || l.GripKPa < x.LeastGrip {
			x.LeastGrip = l.GripKPa
		}
		if !slices.ContainsFunc(h.Layers[:i], func(l head.Layer) bool { return l.Slice.Tube.ID == h.Layers[i].Slice.Tube.ID }) {
			x.Tubings++
		}
		x.Glued = x.Glued || h.Layers[i].Verdict == head.Loose
	}
	x.Solvent = x.Glued && f.onlySolvent
	c.Facts.Head = x
}

// LayerFacts describes a fitted slice, the nth from the inside, over a core of
// a family.
func (f *Finder) LayerFacts(l *head.Layer, n int, core string) facts.Layer {
	on := "rubber"
	if n == 1 {
		on = core
	}
	return facts.Layer{
		Index:     float64(n),
		On:        on,
		Latex:     l.Slice.Rubber.Latex,
		Chemicals: l.Slice.Rubber.Chemicals,
		Rubber:    l.Slice.Rubber.ID,
		BoreMM:    l.Slice.Tube.Bore.MM(),
		WallMM:    l.Slice.Tube.Wall.MM(),
		FitWallMM: l.Wall.MM(),
		UnderMM:   l.Under.MM(),
		OuterMM:   l.Outer.MM(),
		Stretch:   l.Stretch,
		Usable:    head.Usable(l.Slice.Rubber, &f.cat.Limits),
		HandN:     l.HandN,
		GripKPa:   l.GripPa / 1000,
		CutMM:     l.Cut.MM(),
		CutMaxMM:  l.CutMax.MM(),
		SpanMM:    l.Span.MM(),
		Coverage:  l.Coverage,
		MassG:     l.Mass.Grams(),
		Verdict:   string(l.Verdict),
	}
}

// soundOf fills in the facts of a stroke from a report.
func (f *Finder) soundOf(x *facts.Head, r *strike.Report, register string) {
	x.Softness, x.SoftnessTol, x.OpensUp = r.Softness, r.SoftnessTol, r.OpensUp
	x.MoreSoftness, x.LessSoftness = r.More, r.Less
	x.SqueezeMM, x.SqueezeN, x.SqueezeTolN = r.Squeeze.NarrowerM*1000, r.Squeeze.ForceN, r.Squeeze.TolN
	for i, s := range r.Reference {
		switch f.cat.Dynamics[i].ID {
		case "p":
			x.CutoffPHz = s.CutoffHz
			x.CoreShareP = s.Share[0]
			if x.Turns > 0 {
				x.YarnShareP = s.Share[len(s.Share)-1]
			}
		case "mf":
			x.CutoffMFHz, x.ContactMS = s.CutoffHz, s.ContactS*1000
		case "f":
			x.CutoffFHz, x.PeakN = s.CutoffHz, s.PeakN
		case "ff":
			x.CutoffFFHz = s.CutoffHz
			x.CoreShareF = s.Share[0]
			if x.Turns > 0 {
				x.YarnShareF = s.Share[len(s.Share)-1]
			}
		}
	}
	if r.High > 0 {
		x.LowHz, x.HighHz = r.Low.Hz(), r.High.Hz()
	}
	if register == "whole" {
		register = "middle"
	}
	at := slices.IndexFunc(r.Registers, func(g strike.Register) bool { return g.Name == register })
	loud := slices.IndexFunc(f.cat.Dynamics, func(d knowledge.Dynamic) bool { return d.ID == "f" })
	if at >= 0 && loud >= 0 {
		if db := r.Registers[at].Strokes[loud].PartialsDB; len(db) > 1 {
			x.BrightDB = db[1]
		}
	}
}

// Grade returns the middle of a grade of softness on a kind of instrument; the ends of the scale reach
// a notch on.
func (f *Finder) Grade(kind, id string) (notches float64, ok bool) {
	s, ok := f.cat.Scale.For(kind).Said(id)
	return s.At, ok
}
