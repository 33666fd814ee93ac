package change

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/rules/facts"
)

// Move is one way that a head is to be changed.
type Move struct {
	Way string  // one of Ways
	By  float64 // notches, grams, millimetres, cents or dB; zero is a little
	// Times is how many times a little, where By is zero: a touch is half of it,
	// much is twice. Zero is once.
	Times float64
	Share float64 // of what the head has, where By is zero: a tenth lighter
}

// Wound is the way of a move to so many turns, whatever there are.
const Wound = "wound to a count"

// NoLatex and Without are the ways that are no measure: all latex is to go, and all that
// the request leaves out.
const NoLatex, Without = "no latex", "without"

// How far a wish goes that nobody put a number to: a step of softness that is
// heard for sure, a tenth of the mass and a gram, the cost or the time on the bar, 2 mm, a
// seventh of what a medium head's second partial lies under the note, 0.6 notches
// between soft and loud strokes. Common practice, no source.
const (
	plainNotches          = 1.5
	leastPlain, mostPlain = 0.6, 1.47 // times that
	met                   = 0.35      // notches that a wish with a number may be off
	metBare               = 2.5       // the same of bare balls, which lie far apart
	plainMM               = 2.0
	plainG, halfOf        = 1.0, 0.5 // at least so many grams, which a hand feels, where the head has twice that
	plainDB               = 1.0 / 7
	plainOctaves          = 0.1
	plainTurns            = 0.25      // of the turns
	plainWallMM, thinner  = 1.0, 0.45 // of tubing, or nearly half of what there is
	plainBallMM           = 1.5       // half an eighth
	plainShore            = 5.0
	leastWound            = 40.0 // turns of a bare head that is to be wound
)

// way is one of the ways of a Move.
type way struct {
	name, unit string
	fact       string                      // the wish that it moves
	of         func(h *facts.Head) float64 // what it moves; nil where it is no measure
	sign       float64                     // 1 where more of that is further, -1 where less
	little     func(was *facts.Facts) float64
}

func ways() []way {
	softness := func(h *facts.Head) float64 { return h.Softness }
	mass := func(h *facts.Head) float64 { return h.MassG }
	size := func(h *facts.Head) float64 { return h.DiameterMM }
	bright := func(h *facts.Head) float64 { return h.BrightDB }
	contact := func(h *facts.Head) float64 { return h.ContactMS }
	opens := func(h *facts.Head) float64 { return h.OpensUp }
	cost := func(h *facts.Head) float64 { return h.CostCents }
	notches := func(*facts.Facts) float64 { return plainNotches }
	grams := func(was *facts.Facts) float64 { return was.Head.MassG * tenth }
	mm := func(*facts.Facts) float64 { return plainMM }
	db := func(was *facts.Facts) float64 { return -was.Instrument.MediumDB * plainDB }
	ms := func(was *facts.Facts) float64 { return was.Head.ContactMS * tenth }
	octaves := func(*facts.Facts) float64 { return plainOctaves }
	turns := func(h *facts.Head) float64 { return h.Turns }
	wound := func(was *facts.Facts) float64 { return was.Head.Turns * plainTurns }
	cents := func(was *facts.Facts) float64 { return was.Head.CostCents * tenth }
	list := []way{
		{"softer", "notches", facts.WantSoftness, softness, 1, notches},
		{"harder", "notches", facts.WantSoftness, softness, -1, notches},
		{"lighter", "g", facts.WantMassG, mass, -1, grams},
		{"heavier", "g", facts.WantMassG, mass, 1, grams},
		{"smaller", "mm", facts.WantDiameterMM, size, -1, mm},
		{"larger", "mm", facts.WantDiameterMM, size, 1, mm},
		{"darker", "dB", facts.WantColour, bright, -1, db},
		{"brighter", "dB", facts.WantColour, bright, 1, db},
		{"clearer", "ms", facts.WantAttack, contact, -1, ms},
		{"more blended", "ms", facts.WantAttack, contact, 1, ms},
		{"steadier", "octaves", facts.WantOpening, opens, -1, octaves},
		{"more open when loud", "octaves", facts.WantOpening, opens, 1, octaves},
		{"cheaper", "cents", facts.WantBudgetCents, cost, -1, cents},
		{"quicker to wind", "turns", facts.HeadTurns, turns, -1, wound},
		{"fuller wound", "turns", facts.HeadTurns, turns, 1, wound},
		{name: NoLatex},
		{name: Without},
	}
	return append(list, parts()...)
}

// kind returns the way of a move, one that is no measure where there is none.
func (m Move) kind() way {
	list := ways()
	if i := slices.IndexFunc(list, func(w way) bool { return w.name == m.Way }); i >= 0 {
		return list[i]
	}
	return way{name: m.Way}
}

// Ways are what a Move may be.
func Ways() (names []string) {
	for _, w := range ways() {
		names = append(names, w.name)
	}
	return names
}

// Fact is the path of the wish that a move moves, empty where it is no measure.
func (m Move) Fact() string { return m.kind().fact }

// going is a move of a head that exists.
type going struct {
	Move
	way
	by    float64
	extra float64 // notches of by that only bring the head to where heads usually are
}

func (m Move) from(was *facts.Facts) going {
	g := going{Move: m, way: m.kind(), by: m.By}
	switch {
	case m.Way == Wound:
		if g.by -= was.Head.Turns; g.by < 0 {
			g.by, g.sign = -g.by, -1
		}
	case g.by == 0 && m.Share > 0 && g.of != nil:
		g.by = m.Share * math.Abs(g.of(&was.Head))
	}
	if g.fact == facts.HeadLayers && g.sign < 0 {
		g.by = min(cmp.Or(g.by, 1), was.Head.Layers)
		return g
	}
	if g.by == 0 && m.Way != Wound && g.little != nil {
		g.by = g.little(was) * cmp.Or(m.Times, 1)
		if g.by == 0 && g.fact == facts.HeadTurns {
			g.by = leastWound
		}
		if g.fact == facts.WantMassG {
			g.by = max(g.by, min(plainG, halfOf*was.Head.MassG))
		}
	}
	return g
}

// moved is how far a head has gone the way of the move, in its unit.
func (g *going) moved(was, is *facts.Head) float64 {
	if g.of == nil {
		return 0
	}
	return g.sign * (g.of(is) - g.of(was))
}

func (m Move) String() string {
	unit := m.kind().unit
	switch {
	case m.Way == Wound:
		return fmt.Sprintf("wound with %.0f turns", m.By)
	case m.Share > 0 && m.By == 0:
		return fmt.Sprintf("%.0f %% %s", 100*m.Share, m.Way)
	case m.Way == Without:
		return "without what is to be left out"
	case m.Way == NoLatex:
		return "without latex"
	case m.By == 0 || unit == "":
		return m.Way
	case m.part() == "tube" || m.part() == "core":
		return m.Way
	case unit == "cents":
		return fmt.Sprintf("%.2f %s", m.By/100, m.Way)
	}
	return fmt.Sprintf("%.3g %s %s", m.By, unit, m.Way)
}

// least and most are how far a plain move of the softness has to go, and may.
func (g *going) least() float64 { return g.extra + leastPlain*(g.by-g.extra) }
func (g *going) most() float64  { return g.extra + mostPlain*(g.by-g.extra) }

// usual lets a plain wish for a softer head begin where the hardest heads are that are usually
// wound, for one that is harder yet: it is to play as others do. Common practice, no source.
func (g *goal) usual() {
	w := g.sound()
	if w == nil || w.sign < 0 || w.By > 0 || g.bare() {
		return
	}
	const step, far = 0.1, 30.0 // notches
	was := g.was.Facts.Head.Softness
	for at := was; at < was+far; at += step {
		if word := g.word(at); word != "very hard" && word != "hard" {
			w.extra = at - was
			w.by += w.extra
			return
		}
	}
}
