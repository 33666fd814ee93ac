package change

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Aim is which way a head is to be changed, and what of it is to stay.
type Aim struct {
	Way string  // one of Ways
	By  float64 // notches, grams, millimetres, cents or dB; zero is a little
	// Times is how many times a little, where By is zero: a touch is half of it,
	// much is twice. Zero is once.
	Times float64
	// Keep are facts, by path, and kinds of part (core, tube, yarn, shaft) that
	// are to stay as they are: limits, not wishes.
	Keep []string
	Only []string // kinds of part that may change; empty is any
	// Limits are what the head may come to at most, or at least.
	Limits []Limit
}

// Limit is a bound on a fact of the head.
type Limit struct {
	Fact  string // path of the wish or of the fact
	Most  bool   // else least
	Value float64
}

// Weighed is an aim at a head that weighs other grams than its parts come to as they
// are computed: what it may weigh is moved by the difference, since what comes of it is
// taken to be off as far, and a little lighter is little of what it weighs.
func Weighed(aim Aim, q propose.Request, computed, grams float64) (Aim, propose.Request) {
	more := grams - computed
	if aim.Fact() == facts.WantMassG && aim.By == 0 {
		aim.By = tenth * grams * cmp.Or(aim.Times, 1)
	}
	aim.Limits = slices.Clone(aim.Limits)
	for i := range aim.Limits {
		if l := &aim.Limits[i]; l.Fact == facts.WantMassG || l.Fact == facts.HeadMassG {
			l.Value = max(0, l.Value-more)
		}
	}
	for _, g := range []*float64{&q.Facts.Want.MassG, &q.Facts.Want.LeastG, &q.Facts.Player.MostG, &q.Facts.Player.EasyG} {
		if *g > 0 {
			*g = max(1, *g-more)
		}
	}
	return aim, q
}

// floors are what a wish wants of a head at least, as limits: what falls short of
// one is then told by its name, where a rule would only refuse it.
func floors(w *facts.Want) (list []Limit) {
	if w.LeastG > 0 {
		list = append(list, Limit{Fact: facts.WantMassG, Value: w.LeastG})
	}
	if w.LeastMM > 0 {
		list = append(list, Limit{Fact: facts.WantDiameterMM, Value: w.LeastMM})
	}
	return list
}

// Within returns the aim that brings a head within the grams and millimetres that a
// request bounds it by, the one it is furthest from; false where it lies within all.
func Within(was *facts.Head, q *propose.Request) (Aim, bool) {
	w, p := &q.Facts.Want, &q.Facts.Player
	const hair = 1e-6
	most, way := hair, Aim{}
	off := func(is bool, name string, by, of float64) {
		if is && by/of > most {
			most, way = by/of, Aim{Way: name, By: by}
		}
	}
	off(w.LeastG > 0, "heavier", w.LeastG-was.MassG, was.MassG)
	off(w.LeastMM > 0, "larger", w.LeastMM-was.DiameterMM, was.DiameterMM)
	off(q.Known[facts.PlayerMostG], "lighter", was.MassG-p.MostG, was.MassG)
	off(q.Known[facts.PlayerMostMM], "smaller", was.DiameterMM-p.MostMM, was.DiameterMM)
	return way, way.Way != ""
}

// How far a change may move what nobody asked to move: a notch, which is what
// people hear; three for another colour or attack, which softness makes most of; and of
// what was to be kept a gram, a millimetre or a tenth, and half a notch. Common practice, no source.
const (
	unasked       = 1.0
	withColour    = 3.0
	keptG, keptMM = 1.0, 1.0
	keptNotches   = 0.5
	sameMM        = 0.6 // of a ball: 1 1/8 in and 28 mm are one size
	tenth         = 0.1
	quarter       = 0.25 // of bare balls, which lie far apart
)

// How far a wish goes that nobody put a number to: a step of softness that is
// heard for sure, a tenth of the mass, the cost or the time on the bar, 2 mm, a
// seventh of what a medium head's second partial lies under the note, 0.6 notches
// between soft and loud strokes. Common practice, no source.
const (
	plainNotches          = 1.5
	leastPlain, mostPlain = 0.6, 1.47 // times that
	met                   = 0.35      // notches that a wish with a number may be off
	metBare               = 2.5       // the same of bare balls, which lie far apart
	plainMM               = 2.0
	plainDB               = 1.0 / 7
	plainOctaves          = 0.1
	plainTurns            = 0.25 // of the turns
)

// way is one of the ways of an Aim.
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
	return []way{
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
		{name: "no latex"},
		{name: "without"},
	}
}

// way returns the way of the aim, one that is no measure where there is none.
func (a Aim) way() way {
	list := ways()
	if i := slices.IndexFunc(list, func(w way) bool { return w.name == a.Way }); i >= 0 {
		return list[i]
	}
	return way{name: a.Way}
}

// Ways are what an Aim may be.
func Ways() (names []string) {
	for _, w := range ways() {
		names = append(names, w.name)
	}
	return names
}

// goal is an aim at a head that exists.
type goal struct {
	Aim
	way way
	was propose.Candidate
	by  float64
	pin propose.Pin
	at  float64 // softness that the head is to have where no move of it is asked for
}

func (a Aim) of(was propose.Candidate, q *propose.Request) goal {
	g := goal{Aim: a, way: a.way(), was: was, by: a.By, pin: q.Pin, at: was.Facts.Head.Softness}
	if said := q.Facts.Want.Softness; q.Known[facts.WantSoftness] && math.Abs(said-g.at) > unasked && !g.keepsSoftness() && !a.sound() {
		g.at = said // lighter, and hard: it need not stay what it is
	}
	if g.by == 0 && g.way.little != nil {
		g.by = g.way.little(&was.Facts) * cmp.Or(a.Times, 1)
	}
	return g
}

// Fact is the path of the wish that the aim moves, empty where it is no measure.
func (a Aim) Fact() string { return a.way().fact }

// Moved reports whether a head is at least half as far on the way of the aim as
// another as was wished for.
func (a Aim) Moved(was, is propose.Candidate) bool {
	g := a.of(was, &propose.Request{})
	return g.way.of != nil && g.moved(&is) >= g.by/2
}

// Reach moves the figures of a head that was another before to what the aim wants; it
// leaves what the aim does not move.
func (a Aim) Reach(h *facts.Head, was *facts.Facts) {
	g := a.of(propose.Candidate{Facts: *was}, &propose.Request{})
	by := g.way.sign * g.by
	switch g.way.fact {
	case facts.WantSoftness:
		h.Softness += by
	case facts.WantMassG:
		h.MassG = max(1, h.MassG+by)
	case facts.WantDiameterMM:
		h.DiameterMM = max(1, h.DiameterMM+by)
	case facts.WantBudgetCents:
		h.CostCents = max(1, h.CostCents+by)
	}
}

// sound reports whether the aim is at the softness itself.
func (a Aim) sound() bool { return a.Way == "softer" || a.Way == "harder" }

// character reports whether the aim is at how a head sounds other than how soft it is.
func (a Aim) character() bool {
	return slices.Contains([]string{facts.WantColour, facts.WantAttack, facts.WantOpening}, a.Fact())
}

// sketched reports whether a sketch tells how bright a head is to be; it tells all
// else but how far it opens up.
func (g *goal) sketched() bool { return g.Fact() != facts.WantColour }

// falls reports whether a head falls short of the aim, or of what was to stay, as
// far as its parts tell without a stroke.
func (g *goal) falls(is *propose.Candidate) bool {
	switch g.Way {
	case "lighter", "heavier", "smaller", "larger", "cheaper", "quicker to wind", "fuller wound":
		return !g.reached(is)
	case "softer", "harder":
		bounded := func(l Limit) bool { return l.Fact == facts.WantSoftness || l.Fact == facts.HeadSoftness }
		return !slices.ContainsFunc(g.Limits, bounded) && len(g.breaks(is)) > 0
	}
	return false
}

// likely reports whether a head may be what the aim wants, by what a sketch of it
// holds: a darker head is hardly a harder one.
func (g *goal) likely(is *propose.Candidate) bool {
	const hair = 0.2 // notches
	softer := is.Facts.Head.Softness - g.was.Facts.Head.Softness
	switch {
	case g.Way == "darker":
		return softer > -hair
	case g.Way == "brighter":
		return softer < hair
	case g.Fact() == facts.WantOpening:
		return true // which takes strokes at other dynamics
	}
	return g.reached(is)
}

// moved is how far a head has gone the way of the aim, in its unit.
func (g *goal) moved(is *propose.Candidate) float64 {
	if g.way.of == nil {
		return 0
	}
	return g.way.sign * (g.way.of(&is.Facts.Head) - g.way.of(&g.was.Facts.Head))
}

// reached reports whether a head is what the aim wants.
func (g *goal) reached(is *propose.Candidate) bool {
	move := g.moved(is)
	switch {
	case g.Way == "no latex":
		return !is.Facts.Head.Latex
	case g.Way == "without":
		return has(is.Stack, g.pin.Without) == ""
	case g.sound() && g.By == 0 && g.was.Facts.Head.Turns == 0:
		return move >= leastPlain*g.by // bare balls lie far apart
	case g.sound() && g.By == 0:
		return move >= leastPlain*g.by && move <= mostPlain*g.by
	case g.sound():
		return math.Abs(move-g.by) <= g.met()
	}
	return move >= g.by-1e-9
}

// met is how many notches off a head may be whose move has a number; it is no less than
// half way there.
func (g *goal) met() float64 {
	if g.was.Facts.Head.Turns > 0 {
		return met
	}
	return max(met, min(metBare, g.by/2))
}

// without reports whether something is to be left out of the head, and no more.
func (g *goal) without() bool { return g.Way == "no latex" || g.Way == "without" }

// keepsSoftness reports whether the softness is to stay.
func (g *goal) keepsSoftness() bool {
	return slices.Contains(g.Keep, facts.WantSoftness) || slices.Contains(g.Keep, facts.HeadSoftness)
}

// strays is how many notches off a head may be whose softness nobody asked to move.
func (g *goal) strays() float64 {
	switch {
	case g.keepsSoftness():
		return keptNotches
	case g.character() && g.was.Facts.Head.Turns == 0:
		return math.Inf(1) // bare balls lie far apart, and the nearest is the cheapest
	case g.character():
		return withColour
	}
	return unasked
}

// window is between what softnesses lies all that the aim is reached by, and what
// nobody asked to move kept to.
func (g *goal) window() (least, most float64) {
	switch {
	case g.sound() && g.By == 0 && g.was.Facts.Head.Turns == 0:
		least, most = leastPlain*g.by, math.Inf(1)
	case g.sound() && g.By == 0:
		least, most = leastPlain*g.by, mostPlain*g.by
	case g.sound():
		least, most = g.by-g.met(), g.by+g.met()
	default:
		least, most = -g.strays(), g.strays()
	}
	if g.way.sign < 0 {
		least, most = -most, -least
	}
	const hair = 1e-9
	return g.at + least - hair, g.at + most + hair
}

// breaks lists what a head does not keep to, in words.
func (g *goal) breaks(is *propose.Candidate) (list []string) {
	was, h := &g.was.Facts.Head, &is.Facts.Head
	if was.Turns > 0 && h.Turns == 0 {
		list = append(list, "a wound head stays wound")
	}
	switch off := math.Abs(h.Softness - g.at); {
	case g.sound() || off <= g.strays():
	case g.keepsSoftness():
		list = append(list, "the same softness")
	case g.character():
		list = append(list, fmt.Sprintf("no more than %g notches off the softness", withColour))
	default:
		list = append(list, "no more than a notch off the softness, which nobody asked to move")
	}
	share := tenth
	if was.Turns == 0 {
		share = quarter
	}
	within := func(x, was, kept float64) bool { return x <= was+0.05 && x >= was-max(kept, was*share) }
	between := func(x, was, kept float64) bool { return math.Abs(x-was) <= max(kept, was*tenth) }
	for _, path := range g.Keep {
		switch path {
		case facts.WantMassG, facts.HeadMassG:
			switch up := g.Way == "larger" || g.Way == "heavier"; {
			case g.Way == "smaller": // as light as its size makes it, but no heavier
				least := was.MassG*math.Pow(h.DiameterMM/was.DiameterMM, 3) - keptG
				if h.MassG > was.MassG+0.05 || h.MassG < min(least, was.MassG*(1-tenth)) {
					list = append(list, fmt.Sprintf("no heavier than %.1f g, and no lighter than its size makes it", was.MassG))
				}
			case up:
				if !between(h.MassG, was.MassG, keptG) {
					list = append(list, fmt.Sprintf("the same weight, %.1f g", was.MassG))
				}
			case !within(h.MassG, was.MassG, keptG):
				list = append(list, fmt.Sprintf("no heavier than %.1f g, and hardly lighter", was.MassG))
			}
		case facts.WantDiameterMM, facts.HeadDiameterMM:
			if !within(h.DiameterMM, was.DiameterMM, keptMM) {
				list = append(list, fmt.Sprintf("no larger than %.1f mm, and hardly smaller", was.DiameterMM))
			}
		case facts.HeadCoreMM:
			if math.Abs(h.CoreMM-was.CoreMM) > sameMM {
				list = append(list, fmt.Sprintf("the same size of ball, %.1f mm", was.CoreMM))
			}
		case facts.WantColour, facts.HeadBrightDB:
			if math.Abs(h.BrightDB-was.BrightDB) > -g.was.Facts.Instrument.MediumDB*plainDB {
				list = append(list, "the same colour")
			}
		case facts.WantBudgetCents, facts.HeadCostCents:
			if h.CostCents > was.CostCents+0.5 {
				list = append(list, "no dearer")
			}
		}
	}
	for _, kind := range kinds() {
		kept := slices.Contains(g.Keep, kind) || len(g.Only) > 0 && !slices.Contains(g.Only, kind)
		if kept && !same(kind, g.was.Stack, is.Stack) {
			list = append(list, "the same "+map[string]string{"core": "ball", "tube": "slices", "yarn": "yarn", "shaft": "shaft"}[kind])
		}
	}
	for _, l := range g.Limits {
		x, form, per := 0.0, "", 1.0
		switch l.Fact {
		case facts.WantMassG, facts.HeadMassG:
			x, form = h.MassG, "%.4g g"
		case facts.WantDiameterMM, facts.HeadDiameterMM:
			x, form = h.DiameterMM, "%.4g mm"
		case facts.WantSoftness, facts.HeadSoftness:
			x, form = h.Softness, "%.4g notches"
		case facts.HeadTurns:
			x, form = h.Turns, "%.4g turns"
		case facts.WantBudgetCents:
			x, form, per = 2*h.CostCents, "%.2f a pair", 100
		default:
			continue
		}
		if l.Most && x > l.Value+1e-6 || !l.Most && x < l.Value-1e-6 {
			list = append(list, fmt.Sprintf("%s "+form, map[bool]string{true: "at most", false: "at least"}[l.Most], l.Value/per))
		}
	}
	if part := has(is.Stack, g.pin.Without); part != "" {
		list = append(list, "a head without "+part)
	}
	return list
}

// kinds are the kinds of part that a head is made of.
func kinds() []string { return []string{"core", "tube", "yarn", "shaft"} }

// same reports whether two stacks have the same part of a kind. The same yarn
// may be wound with other turns.
func same(kind string, a, b head.Stack) bool {
	switch kind {
	case "core":
		return a.Core.ID == b.Core.ID
	case "tube":
		return slices.EqualFunc(a.Slices, b.Slices, func(x, y head.Slice) bool { return x.Tube.ID == y.Tube.ID })
	case "yarn":
		return (a.Wrap == nil) == (b.Wrap == nil) && (a.Wrap == nil || a.Wrap.Yarn.ID == b.Wrap.Yarn.ID)
	}
	return (a.Shaft == nil) == (b.Shaft == nil) && (a.Shaft == nil || a.Shaft.ID == b.Shaft.ID)
}

// has names the first part of a stack that is among some parts and materials, or
// nothing.
func has(st head.Stack, ids []string) string {
	out := func(id, of string) bool { return slices.Contains(ids, id) || slices.Contains(ids, of) }
	if out(st.Core.ID, st.Core.Material) {
		return st.Core.Name
	}
	for _, s := range st.Slices {
		if out(s.Tube.ID, s.Tube.Material) {
			return s.Rubber.Name + " tubing"
		}
	}
	if st.Wrap != nil && out(st.Wrap.Yarn.ID, st.Wrap.Yarn.Fibre) {
		return st.Wrap.Yarn.Name
	}
	return ""
}

// astray is what a head has moved that nobody asked to move, in cents.
func (g *goal) astray(is *propose.Candidate) float64 {
	was, h := &g.was.Facts.Head, &is.Facts.Head
	over := func(way, other string, by, move float64) float64 {
		if g.Way == way || g.Way == other {
			return math.Abs(math.Abs(move) - by)
		}
		return math.Abs(move)
	}
	stray := over("softer", "harder", g.by, h.Softness-g.at)
	if g.follows(h.Softness) {
		stray = 0
	}
	if was.Turns == 0 {
		stray *= bareStray
	}
	sum := strayCents * stray
	if off := math.Abs(h.Softness - g.at); !g.sound() && off > unasked && !g.follows(h.Softness) {
		sum += farCents + strayCents*(off-unasked)*2 // another colour may take it, where nothing nearer does
	}
	sum += gramCents * over("lighter", "heavier", g.by, h.MassG-was.MassG)
	sum += mmCents * over("smaller", "larger", g.by, h.DiameterMM-was.DiameterMM)
	if g.Fact() != facts.HeadTurns && was.Turns > 0 {
		sum += turnCents*math.Abs(h.Turns-was.Turns) + moreCents*max(0, h.Turns-was.Turns)
	}
	if !same("core", g.was.Stack, is.Stack) {
		sum += g.coreCents()
	}
	if !same("yarn", g.was.Stack, is.Stack) {
		sum += yarnCents
		if was.Fibre != h.Fibre {
			sum += fibreCents
		}
	}
	switch {
	case g.without() && otherSize(g.was.Stack, is.Stack):
		sum += sizeCents
	case !g.without() && otherRubber(g.was.Stack, is.Stack):
		sum += rubberCents
	}
	return sum
}

// otherSize reports whether a stack has slices of a bore or a wall that another has none of.
func otherSize(was, is head.Stack) bool {
	return slices.ContainsFunc(is.Slices, func(s head.Slice) bool {
		return !slices.ContainsFunc(was.Slices, func(w head.Slice) bool { return w.Tube.Bore == s.Tube.Bore && w.Tube.Wall == s.Tube.Wall })
	})
}

// follows reports whether a softness has moved, by no more than a change of character
// may, the way that the attack moves with: clearer is harder. Colour has ways of its own.
func (g *goal) follows(softness float64) bool {
	off := softness - g.at
	switch g.Way {
	case "clearer":
		off = -off
	case "more blended":
	default:
		return false
	}
	return !g.keepsSoftness() && off > 0 && off <= withColour
}

// coreCents is what another ball costs by itself. It is where the weight of a head lies,
// and much of its size, so that who wants another of these expects another ball.
func (g *goal) coreCents() float64 {
	if g.Fact() == facts.WantMassG || g.Fact() == facts.WantDiameterMM {
		return ballCents
	}
	return coreCents
}

// otherRubber reports whether a stack has slices of a rubber that another has none of,
// which has some.
func otherRubber(was, is head.Stack) bool {
	return len(was.Slices) > 0 && slices.ContainsFunc(is.Slices, func(s head.Slice) bool {
		return !slices.ContainsFunc(was.Slices, func(w head.Slice) bool { return w.Rubber.ID == s.Rubber.ID })
	})
}

func (a Aim) String() string {
	unit := a.way().unit
	switch {
	case a.Way == "without":
		return "without what is to be left out"
	case a.Way == "no latex":
		return "without latex"
	case a.By == 0 || unit == "":
		return a.Way
	}
	if unit == "cents" {
		return fmt.Sprintf("%.2f %s", a.By/100, a.Way)
	}
	return fmt.Sprintf("%.3g %s %s", a.By, unit, a.Way)
}

// less orders by how far heads have gone the way of the aim, the farthest
// first.
func (g *goal) less(a, b float64) int {
	share := func(moved float64) float64 {
		if g.by == 0 {
			return 0
		}
		return min(1, moved/g.by)
	}
	return cmp.Compare(share(b), share(a))
}
